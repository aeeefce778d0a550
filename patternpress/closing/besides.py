"""The figures that stand in brackets.

In: a both-units edition's figures, closed in each system.  Out: what stands in the second system
for each length, for both ends of each range, and for how wide each hole is, of the first; and
which figure, if any, comes too far from its like to stand beside it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from fractions import Fraction

from patternpress.closing.grid import Grid
from patternpress.closing.quoting import Key, Quoted
from patternpress.measure.digits import Display, Ends
from patternpress.measure.figures import plain, show_length
from patternpress.measure.quantity import Kind, Quantity

After = Mapping[Key, Quoted]


def besides(first: After, second: After) -> tuple[tuple[Fraction, Fraction], ...]:
    """Each length of the first system with the one of the second, in mm.

    Of equal figures that came to differ, the first in the book speaks for all; the ends of
    ranges, which have to give way to their limits, come last.
    """
    ends = {key for pair in _ranges(first) for key in pair}
    pairs: dict[Fraction, Fraction] = {}
    for key in sorted(first, key=lambda each: each in ends):
        if key in second:
            pairs.setdefault(first[key].mm, second[key].mm)
    return tuple(pairs.items())


def farthest(first: After, second: After, grid: Grid) -> tuple[Quoted, Quoted] | None:
    """The figure that comes farthest from its like, where that is more than a step away.

    A template is drawn by the first system; one that is a step and more larger or smaller than
    the figure in brackets would be that of another piece.  What is taken off an opening is a
    play, of which each system may have its own, and a hole is as wide as what goes in it there.
    """
    ends = {key for pair in _ranges(first) for key in pair}
    pairs = [
        (first[key], second[key])
        for key in first
        if key in second and key not in ends and key[0] != "off" and "holes" not in key
    ]

    def steps(pair: tuple[Quoted, Quoted]) -> Fraction:
        return abs(pair[1].mm - pair[0].mm) / (grid.unit * grid.units(pair[0].mm))

    worst = max(pairs, key=steps, default=None)
    return worst if worst is not None and steps(worst) > 1 else None


def apart_words(one: Quoted, two: Quoted, display: Display) -> str:
    """A figure that comes to another one in the second system, for its author."""
    systems = (display.first, display.second or display.first)
    shown = [
        plain(show_length(Quantity(each.mm, Kind.LENGTH), replace(display, first=of, second=None)))
        for each, of in zip((one, two), systems, strict=True)
    ]
    return f"{one.words} is {shown[0]}, but adds up to {shown[1]}, more than a step away"


def bores_beside(first: After, second: After) -> tuple[tuple[Fraction, Fraction], ...]:
    """How wide each hole is in the first system with the same in the second, in mm."""
    pairs: dict[Fraction, Fraction] = {}
    for key in first:
        if "holes" in key and "round" in key and key in second:
            # Of equal holes that came to differ, what goes in the wider one must go in.
            mm = first[key].mm
            pairs[mm] = max(second[key].mm, pairs.get(mm, second[key].mm))
    return tuple(pairs.items())


def ranges_beside(first: After, second: After) -> tuple[tuple[Ends, Ends], ...]:
    """Both ends of each range of the first system with those of the second, in mm."""
    return tuple(
        {
            (first[low].mm, first[high].mm): (second[low].mm, second[high].mm)
            for low, high in _ranges(first)
            if low in second and high in second
        }.items()
    )


def _ranges(figures: After) -> Iterator[tuple[Key, Key]]:
    """The keys of figures that are the two ends of one range."""
    upper: dict[str | int, str | int] = {"least": "most", 0: 1}
    for key in figures:
        other = (*key[:-1], upper.get(key[-1], ""))
        if other in figures:
            yield key, other
