"""Print sizes.

In: exact quantities and the display of one edition. Out: figures, rounded once, that plain text,
markup and drawings all draw alike. A size that is not nothing is never printed as 0, and the two
ends of a range never alike: there the next finer step is taken.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from fractions import Fraction

from patternpress.measure.digits import (
    FINER,
    MIL,
    Display,
    Ends,
    System,
    decimal,
    in_system,
    inches,
    stacked,
)
from patternpress.measure.inches import MM_PER_INCH
from patternpress.measure.nodes import Manner, Measure
from patternpress.measure.pieces import (
    NO_BREAK,
    Figure,
    Piece,
    Stack,
    Text,
    joined,
    markup,
    plain,
)
from patternpress.measure.rounding import (
    certain_round,
    round_half_even,
    step_down,
    step_up,
)
from patternpress.measure.unitwords import behind
from patternpress.measure.values import Kind, Quantity, mixed

__all__ = [
    "WORDS",
    "Display",
    "Figure",
    "Piece",
    "Stack",
    "System",
    "Text",
    "markup",
    "plain",
    "show_angle",
    "show_length",
    "show_measure",
    "show_size",
]

WORDS: Mapping[str, str] = {
    "about": "about {}",
    "at most": "at most {}",
    "at least": "at least {}",
    "range": "{} to {}",
}
"""English, by the values of Manner; other languages hand in their own."""

_TENTH = Fraction(1, 10)
_SIGNS = {
    Kind.ANGLE: "°",
    Kind.NUMBER: "",
    Kind.TIME: f"{NO_BREAK}min",
    Kind.MASS: f"{NO_BREAK}g",
    Kind.VOLUME: f"{NO_BREAK}ml",
    Kind.AREA: f"{NO_BREAK}mm²",
}


def show_length(quantity: Quantity, display: Display) -> Figure:
    """One length: `14 mm`, `35/64 in`, or both, the second in brackets.

    Raises MixedKinds for other kinds, and MeasureError `uncertain-rounding`.
    """
    return show_size((quantity,), display)


def show_size(sizes: Iterable[Quantity], display: Display, first: Display | None = None) -> Figure:
    """Lengths that belong together, the unit once: `80 × 42 × 2 mm`. Raises as show_length.

    `first`: how the first of them is shown, where that is not as the others are.
    """
    lengths = tuple(sizes)
    ways = (first or display, *(display for _ in lengths[1:]))

    def one(system: System) -> Figure:
        shown = [in_system(each, system, way) for each, way in zip(lengths, ways, strict=True)]
        return _with_unit(_listed(shown, " × "), system, display)

    return _both(one, display)


def show_angle(quantity: Quantity, display: Display, step: Fraction = _TENTH) -> Figure:
    """An angle in degrees: `26.6°`. Raises MixedKinds for other kinds."""
    if quantity.kind is not Kind.ANGLE:
        raise mixed("angle", quantity.kind, Kind.ANGLE)
    return joined(decimal(quantity, step, display, round_half_even), _SIGNS[Kind.ANGLE])


def show_measure(measure: Measure, display: Display, words: Mapping[str, str] = WORDS) -> Figure:
    """A measure of any kind with its words: `about 14 mm`, `0.25 to 0.5 mm`.

    Limits are rounded inwards (see rounding.step_up), the ends of a range to a tenth of the
    usual step. `words` is keyed by the values of Manner, a pair of braces for each figure.
    """
    low, high, manner = measure.low, measure.high, measure.manner
    if manner is Manner.RANGE and high is not None:
        if low.value != high.value:
            return _range(low, high, display, words["range"])
        manner = Manner.EXACT
    rounder = {Manner.AT_MOST: step_down, Manner.AT_LEAST: step_up}.get(manner, round_half_even)
    if low.kind is Kind.LENGTH:
        shown = _both(
            lambda system: _with_unit(in_system(low, system, display, rounder), system, display),
            display,
        )
    else:
        shown = joined(decimal(low, _TENTH, display, rounder), _SIGNS[low.kind])
    return shown if manner is Manner.EXACT else _filled(words[manner.value], shown)


def _both(one: Callable[[System], Figure], display: Display) -> Figure:
    """The leading system, and the second one in brackets."""
    if display.second is None or display.second == display.first:
        return one(display.first)
    return joined(one(display.first), " (", one(display.second), ")")


def _listed(figures: list[Figure], between: str) -> Figure:
    parts: list[Figure | str] = [figures[0]]
    for figure in figures[1:]:
        parts += [between, figure]
    return joined(*parts)


def _with_unit(figure: Figure, system: System, display: Display) -> Figure:
    """A figure with its unit as the edition's language calls it: `3/4 in`, in French `3/4 po`."""
    return joined(figure, behind(system, display.locale))


def _filled(pattern: str, *figures: Figure) -> Figure:
    """The figures in the places of the pattern's braces."""
    texts = pattern.split("{}")
    parts: list[Figure | str] = [texts[0]]
    for figure, text in zip(figures, texts[1:], strict=True):
        parts += [figure, text]
    return joined(*parts)


def _range(low: Quantity, high: Quantity, display: Display, pattern: str) -> Figure:
    """Both ends, the unit once."""
    if low.kind is not Kind.LENGTH:
        ends = _ends(low, high, _TENTH, display)
        return joined(_filled(pattern, *ends), _SIGNS[low.kind])

    def one(system: System) -> Figure:
        least, most = _ends_beside(low, high, system, display)
        if least.value == most.value:  # one figure is all that lies between them in this system
            alone = replace(display, beside=())
            return _with_unit(in_system(least, system, alone), system, display)
        return _with_unit(
            _filled(pattern, *_length_ends(least, most, system, display)), system, display
        )

    if _is_other(low, high, display):
        return one(display.first)
    return _both(one, display)


def _ends_beside(
    low: Quantity, high: Quantity, system: System, display: Display
) -> tuple[Quantity, Quantity]:
    """Both ends in the second system, where they were worked out together; else as they are.

    What was worked out for a single length of an end's value says nothing of it: a board that is
    sold as 1/8 in is no reason to let a range that ends at 3 mm go on to 1/8 in.
    """
    known = _known(low, high, display)
    if known is None or system != display.second:
        return low, high
    return Quantity(known[0], low.kind), Quantity(known[1], high.kind)


def _is_other(low: Quantity, high: Quantity, display: Display) -> bool:
    """Whether what was worked out beside a range reaches beyond it: it is that of another then."""
    known, close = _known(low, high, display), _closeness(display)
    return known is not None and (known[0] <= low.value - close or known[1] >= high.value + close)


def _known(low: Quantity, high: Quantity, display: Display) -> Ends | None:
    return dict(display.ranges).get((low.value, high.value)) if display.ranges else None


def _closeness(display: Display) -> Fraction:
    """How far a figure of the second system may be from its like, mm: closing moves none so far."""
    inch = MM_PER_INCH / display.inch_denominator
    return (inch if display.second == "in" else display.mm_step) * 3 / 2


def _length_ends(
    low: Quantity, high: Quantity, system: System, display: Display
) -> tuple[Figure, Figure]:
    if system == "mm":
        return _ends(low, high, display.mm_step / 10, display)
    low, high = inches(low), inches(high)
    step = Fraction(1, display.inch_denominator)
    least, most = certain_round(low, step, step_up), certain_round(high, step, step_down)
    lost = (low.value and not least) or (high.value and not most)
    if least < most and not lost:
        return stacked(least), stacked(most)
    return _ends(low, high, MIL, display)


def _ends(low: Quantity, high: Quantity, step: Fraction, display: Display) -> tuple[Figure, Figure]:
    """Both ends as decimals, inwards, the step made finer until they stand apart;

    to the nearest where they never do.
    """
    for _ in range(FINER):
        if certain_round(low, step, step_up) < certain_round(high, step, step_down):
            break
        step /= 10
    else:
        nearest = [decimal(end, step, display, round_half_even) for end in (low, high)]
        return nearest[0], nearest[1]
    return decimal(low, step, display, step_up), decimal(high, step, display, step_down)
