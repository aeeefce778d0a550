"""Where the sheets of a tiled template meet: away from grooves, holes and marks if they can be.

In: a shape, a direction, the stretch to divide and the room of a sheet, mm.  Out: the stretch that
each sheet shows.  Equal stretches are the usual ones; a seam is moved off them only for what would
lie in it, and only as far as no sheet grows larger than its room.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from patternpress.assembly.outlines import bounding_box, legs
from patternpress.assembly.shape import Axis, Line, MarkPoint, Point, Shape

OVERLAP = 10.0  # mm that two neighbours share
_CLEAR = OVERLAP / 2 + 1.0  # mm from a seam to what it keeps off
_MOST = 60  # mm that a seam is moved
_PER_MM = 0.01  # what a millimetre of that weighs, beside a millimetre too near to something
_LEAST = 3 * OVERLAP  # mm: a narrower sheet is not worth its paper
_STRAIGHT = 1e-6
Stretch = tuple[float, float]


def stretches(
    low: float, high: float, count: int, room: float, busy: Sequence[Stretch]
) -> list[Stretch]:
    """Return overlapping stretches from low to high, their seams clear of what is `busy`."""
    step = (high - low - OVERLAP) / count
    usual = [low + OVERLAP / 2 + step * number for number in range(1, count)]
    seams = usual
    if any(_near(at, busy) for at in usual):
        seams = _moved(usual, (low, high), room, busy)
    ends = [low + OVERLAP / 2, *seams, high - OVERLAP / 2]
    half = OVERLAP / 2
    return [(one - half, two + half) for one, two in pairwise(ends)]


def _near(at: float, busy: Sequence[Stretch]) -> float:
    """Return how much too near a seam is to all that it should keep off, mm: in the middle of a
    hole it is worse than at its edge.
    """
    return sum(max(0.0, _CLEAR - max(low - at, at - high)) for low, high in busy)


def _moved(
    usual: Sequence[float], span: Stretch, room: float, busy: Sequence[Stretch]
) -> list[float]:
    """Return the seams moved as little as keeps them clear, or as nearly so as there is room."""
    low, high = span
    half = OVERLAP / 2
    # For each place of the seam before: what all seams so far cost, and where they lie.
    ways: list[tuple[float, list[float]]] = [(0.0, [low + half])]
    shifts = sorted(range(-_MOST, _MOST + 1), key=lambda by: (abs(by), by))
    for number, at in enumerate(usual, 1):
        found: list[tuple[float, list[float]]] = []
        for place in (at + by for by in shifts):
            before = [each for each in ways if _fits(each[1][-1], place, room)]
            if before:
                cost, way = min(before, key=lambda each: each[0])
                own = _near(place, busy) + _PER_MM * abs(place - at)
                found.append((round(cost + own, 6), [*way, place]))
        ways = found
        if number == len(usual):
            ways = [each for each in found if _fits(each[1][-1], high - half, room)]
    return min(ways, key=lambda each: each[0])[1][1:] if ways else list(usual)


def _fits(one: float, two: float, room: float) -> bool:
    """Whether a sheet between two seams is neither too large nor too small."""
    return _LEAST <= two - one + OVERLAP <= room + _STRAIGHT


def busy_along(shape: Shape, axis: Axis) -> list[Stretch]:
    """Return what a seam across a direction would lie in: what runs along the seam, or is a spot.

    What it crosses comes together again by itself.
    """
    return [*_spots(shape, axis), *_runs(shape, axis)]


def _spots(shape: Shape, axis: Axis) -> Iterator[Stretch]:
    for hole in shape.holes:
        box = bounding_box(hole.outline)
        ends = (box.left, box.right) if axis is Axis.X else (box.bottom, box.top)
        yield float(ends[0]), float(ends[1])
    for mark in shape.marks:
        if isinstance(mark, MarkPoint):
            yield _at(mark.at, axis), _at(mark.at, axis)


def _runs(shape: Shape, axis: Axis) -> Iterator[Stretch]:
    for groove in shape.grooves:
        if groove.along is not axis:
            yield _at(groove.low, axis), _at(groove.high, axis)
    lines = [(m.start, m.to) for m in shape.marks if not isinstance(m, MarkPoint)]
    lines += [(start, leg.to) for start, leg in legs(shape.outline) if isinstance(leg, Line)]
    for one, two in lines:
        if abs(_at(one, axis) - _at(two, axis)) < _STRAIGHT:
            yield _at(one, axis), _at(two, axis)


def _at(point: Point, axis: Axis) -> float:
    return float(point.x if axis is Axis.X else point.y)
