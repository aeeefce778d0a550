"""The sizes that parts come to at an opening that is measured first.

In: cut parts, a solver; later a display.  Out: the same parts, knowing what is planned for their
opening, and the `Sums` of the measure card: opening less what is taken off.  The cutting list and
the card give the same figure, for both have it from here.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.sizes import AXES, Solver, shared
from patternpress.design.span import Said
from patternpress.measure.digits import Display, System, beside
from patternpress.measure.formula import Formula, names
from patternpress.measure.inches import MM_PER_INCH
from patternpress.measure.nodes import Property
from patternpress.measure.quantity import Kind, Quantity
from patternpress.measure.rounding import round_half_even, step_down, step_up

WORDS = {"wide": "width", "deep": "depth", "high": "height"}


@dataclass(frozen=True, slots=True)
class Sums:
    """What is taken off an opening, and what is left for each of those that share it, mm."""

    off: tuple[Fraction, Fraction]
    left: tuple[Fraction, Fraction]


def with_openings(parts: Sequence[CutPart], solver: Solver) -> tuple[CutPart, ...]:
    """The parts, each with the planned sizes of the opening that its own follow from."""
    by_name = {each.name: each for each in parts}
    return tuple(
        planned_for(each, [*each.waits, *_follow(each, by_name)], solver) if each.opening else each
        for each in parts
    )


def planned_for(part: CutPart, axes: Collection[str], solver: Solver) -> CutPart:
    """The part with what is planned for its opening along those axes."""
    found = {}
    for opening in solver.book.openings if part.opening else ():
        if opening.name.value == part.opening:
            sizes = {a: solver.opening(opening, a) for a in axes if getattr(opening, a) is not None}
            found = {axis: each.value for axis, each in sizes.items() if each is not None}
    return replace(part, planned=found)


def _follow(part: CutPart, parts: Mapping[str, CutPart]) -> list[str]:
    """The axes of sizes without a range that are worked out from the measured opening."""
    return [
        axis for axis in AXES if axis in part.extents and _follows(part, axis, part.opening, parts)
    ]


def _follows(part: CutPart, axis: str, opening: str, parts: Mapping[str, CutPart]) -> bool:
    """Whether a size without a range is worked out from the measured opening."""
    wanted = Property(WORDS[axis], opening)
    seen: set[tuple[str, str]] = set()
    left = [(part.name, axis)]
    while left:
        name, along = left.pop()
        if (name, along) in seen or name not in parts:
            continue
        seen.add((name, along))
        said: Said[Formula] | None = getattr(parts[name].part, along)
        asked = names(said.value) if said else frozenset()
        if wanted in asked:
            return True
        back = {word: key for key, word in WORDS.items()}
        left += [
            (each.of, back[each.what])
            for each in asked
            if isinstance(each, Property) and each.what in back
        ]
    return False


def step_of(display: Display, system: System) -> Fraction:
    """The step in mm that figures of a system are printed to."""
    return display.mm_step if system == "mm" else MM_PER_INCH / display.inch_denominator


def sums(part: CutPart, axis: str, system: System, display: Display) -> Sums:
    """What is taken off and what is left along an axis that is planned, in one system.

    The opening is rounded to what the edition shows, the clearance inwards, and what is left is
    the difference of the two, so that the printed sum adds up.
    """
    step, count = step_of(display, system), shared(part.part, axis)
    least, most = part.smallest[axis].value, part.extents[axis].value
    planned = part.planned[axis]
    if system == display.second:
        least, most = dict(display.ranges).get((least, most), (least, most))
        planned = beside(Quantity(planned, Kind.LENGTH), system, display).value
    whole = round_half_even(planned, step)
    if count > 1:
        # The shares lie on steps, and so does what they leave of the opening.
        short, long = _inwards(least, most, step)
        return Sums((whole - count * long, whole - count * short), (short, long))
    low, high = _inwards(planned - most, planned - least, step)
    return Sums((low, high), (whole - high, whole - low))


def taken_off(part: CutPart, axis: str) -> tuple[Fraction, Fraction]:
    """The least and the most that is taken off a planned opening, for all that share it, in mm."""
    planned, count = part.planned[axis], shared(part.part, axis)
    ends = part.extents[axis].value, part.smallest[axis].value
    return planned - count * ends[0], planned - count * ends[1]


def _inwards(least: Fraction, most: Fraction, step: Fraction) -> tuple[Fraction, Fraction]:
    """A range rounded inwards to steps; to the nearest step where none lies between."""
    low, high = step_up(least, step), step_down(most, step)
    if low <= high:
        return low, high
    nearest = round_half_even((least + most) / 2, step)
    return nearest, nearest
