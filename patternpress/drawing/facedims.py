"""Distances on a face: which are given, and their dimension lines (ISO 129-1 habits).

In: a `Workpiece`, exact, and the scale that its outline is drawn at.  Out: `Measure`s, and ink
below the outline and to its left, the shortest distance nearest to it.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import pairwise

from patternpress.assembly.openings import round_ends
from patternpress.assembly.shape import EDGES, Hole, MarkLine, MarkPoint, View
from patternpress.drawing.dimensions import across, upwards
from patternpress.drawing.ink import Extent, Ink, Stroke, Tone, Words, extent
from patternpress.drawing.leaders import shape_of
from patternpress.drawing.picturestyle import PictureStyle
from patternpress.drawing.rendering import tracks_of
from patternpress.drawing.workpieces import Workpiece
from patternpress.measure.pieces import Figure

_OUT, _NEXT = 7.0, 6.0  # from the outline to the first dimension line, and on to the next
_APART = 1.0  # between dimensions that stand over each other at one distance
_CLEAR = 3.0  # from words to the next dimension line
_OPPOSITE = {View.FRONT: "back", View.ABOVE: "bottom"}
Show = Callable[[Fraction], Figure]


@dataclass(frozen=True, slots=True)
class Measure:
    """A distance to be given: along x (0) or y (1), between two places, mm at full size."""

    axis: int
    low: Fraction
    high: Fraction


def sides_of(piece: Workpiece) -> tuple[str, str, str, str]:
    """Return the sides at the left, the right, the foot and the head of the view."""
    low_x, high_x, low_y, high_y = (each.value for each in EDGES[piece.shape.view])
    if piece.face == _OPPOSITE.get(piece.shape.view):
        low_x, high_x = high_x, low_x
    return low_x, high_x, low_y, high_y


def measures_of(piece: Workpiece) -> Iterator[Measure]:
    """Yield the distances of what the step makes, from the sides that the author named."""
    shape = piece.shape
    said = dict(piece.said)
    for hole in shape.holes:
        if hole.name in said:
            yield from _from_sides(piece, said[hole.name], (hole.centre.x, hole.centre.y))
        if hole.name in piece.strong:
            yield from _between_ends(hole)
    for groove in shape.grooves:
        for side in said.get(groove.name, ()):
            near = {0: groove.low, 1: groove.low, 2: groove.low, 3: groove.high}
            at = near[sides_of(piece).index(side)] if side in sides_of(piece) else groove.low
            at = groove.high if side == sides_of(piece)[1] else at
            yield from _from_sides(piece, (side,), (at.x, at.y))
    for mark in shape.marks:
        at = mark.at if isinstance(mark, MarkPoint) else mark.start
        level = isinstance(mark, MarkLine) and abs(mark.start.y - mark.to.y) < abs(
            mark.start.x - mark.to.x
        )
        sides = said.get(mark.name, ())
        if not sides and isinstance(mark, MarkLine):
            sides = (sides_of(piece)[2 if level else 0],)
        yield from _from_sides(piece, sides, (at.x, at.y))


def _between_ends(hole: Hole) -> Iterator[Measure]:
    """Yield how far apart the centres of a slot's round ends are, where each is bored."""
    for low, high in pairwise(round_ends(hole)):
        axis = 0 if low.y == high.y else 1
        first, last = ((low.x, high.x), (low.y, high.y))[axis]
        yield Measure(axis, first, last)


def _from_sides(
    piece: Workpiece, sides: Sequence[str], at: tuple[Fraction, Fraction]
) -> Iterator[Measure]:
    for side in sides:
        if side not in sides_of(piece):
            continue
        number = sides_of(piece).index(side)
        axis = number // 2
        size = (piece.shape.width, piece.shape.height)[axis]
        off = dict(piece.edges_at).get(side, Fraction(0))
        low, high = (off, at[axis]) if number % 2 == 0 else (at[axis], size - off)
        if high > low:
            yield Measure(axis, low, high)


def each_once(measures: Iterator[Measure]) -> tuple[Measure, ...]:
    """Return the distances, each once; of equal ones across the first, for mirror images too."""
    found: dict[tuple[int, Fraction, Fraction], Measure] = {}
    for each in measures:
        # A hole at the head is not thought of as the mirror image of one at the foot.
        place = each.low if each.axis else Fraction(0)
        found.setdefault((each.axis, each.high - each.low, place), each)
    return tuple(found.values())


def dimension_ink(
    measures: Sequence[Measure],
    bounds: tuple[float, float, float, float],
    scale: Fraction,
    show: Show,
    style: PictureStyle,
) -> Iterator[Ink]:
    """Yield dimension lines below and to the left, each as near to the outline as others leave it
    room, the shortest first.
    """
    for axis in (0, 1):
        placed: list[tuple[float, Extent]] = []
        mine = [each for each in measures if each.axis == axis]
        for each in sorted(mine, key=lambda m: (m.high - m.low, m.low)):
            span = (float(each.low * scale), float(each.high * scale))
            figure, away = show(each.high - each.low), _OUT
            while True:
                if axis == 0:
                    inks = across(span, bounds[1], figure, style.drawing, away)
                else:
                    inks = upwards(span, bounds[0], figure, style.drawing, away)
                line = _without_extensions(inks, axis)
                met = [other for other in placed if other[1].meets(line)]
                if not met:
                    break
                away = max(away + 1, *(_beyond(other, bounds, axis) for other in met))
            placed.append((away, extent(inks)))
            yield from inks


def _without_extensions(inks: Sequence[Ink], axis: int) -> Extent:
    """Return what a dimension takes at its own distance: its line, its arrows and its words."""
    box, near = extent(inks), extent([each for each in inks if not isinstance(each, Stroke)])
    if axis == 0:
        return Extent(box.left - _APART, box.bottom, box.right + _APART, near.top)
    return Extent(box.left, box.bottom - _APART, near.right, box.top + _APART)


def _beyond(
    placed: tuple[float, Extent], bounds: tuple[float, float, float, float], axis: int
) -> float:
    """Return how far off the outline a dimension line clears one that is nearer to it."""
    away, box = placed
    # Words that lie level beside their line take more room than those along it.
    reach = bounds[axis == 0] - (box.bottom, box.left)[axis]
    return max(away + _NEXT, reach + _CLEAR)


def broken_for_words(inks: Sequence[Ink]) -> Iterator[Ink]:
    """Yield dimensions whose lines are broken where words stand (ISO 129-1)."""
    said = [each for each in inks if isinstance(each, Words)]
    yield from (each for each in inks if not isinstance(each, Words))
    for each in said:
        yield Tone(tuple(tracks_of(shape_of(extent([each])))), 1.0)
    yield from said
