"""What must be dimensioned on a part, so that it can be drawn on the wood from the figures alone.

In: a Shape, and a way to print a length.  Out: `Levels`: every corner, hole, groove and mark by
its distance from the left edge and from the bottom edge of what is drawn.
"""

from __future__ import annotations

import cmath
from collections.abc import Callable, Iterator
from fractions import Fraction

from patternpress.assembly.outlines import Box, bounding_box
from patternpress.assembly.shape import Arc, Axis, Curve, MarkLine, Point, Segment, Shape
from patternpress.drawing.part import Level, Levels
from patternpress.measure.pieces import Figure

_SAME = Fraction(1, 1000)  # mm: nearer places are one
_NEAR = Fraction(1, 4)  # of a part's other size
_NARROW = Fraction(10)  # mm: over so much of a part an extension line is short anyway
_SMOOTH = 0.02  # radians, about a degree

Show = Callable[[Fraction], Figure]
# A place along one direction, where its extension line begins in the other, whether a corner.
_Found = tuple[Fraction, Fraction, bool]


def levels_of(shape: Shape, show: Show, *, handed: bool = False) -> Levels:
    """Return the places to dimension, the far edge last; none at the edges measured from.

    `handed`: what is near in either of a shape and its mirror image is near in both.
    """
    box = bounding_box(shape.outline)
    across, up = (box.left, box.right), (box.bottom, box.top)
    return Levels(
        _levels(list(_places(shape, box, Axis.X)), across, up, show),
        _levels(list(_places(shape, box, Axis.Y)), up, across, show, from_both=handed),
    )


def _levels(
    found: list[_Found],
    span: tuple[Fraction, Fraction],
    other: tuple[Fraction, Fraction],
    show: Show,
    *,
    from_both: bool = False,
) -> tuple[Level, ...]:
    low, high = span
    quarter = max((other[1] - other[0]) * _NEAR, _NARROW)
    near, far = other[0] + quarter, other[1] - quarter
    kept: list[_Found] = [(high, other[0], True)]
    # Corners first, then what begins nearest to the dimension line: one line serves for both.
    for place in sorted(found, key=lambda each: (not each[2], each[1])):
        known = (low, *(each[0] for each in kept))
        if all(abs(place[0] - other) > _SAME for other in known):
            kept.append(place)
    ordered = sorted(kept)
    return tuple(
        Level(
            at - low, begin, show(at - low), corner, begin <= near or (from_both and begin >= far)
        )
        for at, begin, corner in ordered
    )


def _places(shape: Shape, box: Box, axis: Axis) -> Iterator[_Found]:
    """Yield the places along an axis that something of a shape has, and where each begins."""
    across = axis is Axis.X

    def told(point: Point, corner: bool = False) -> _Found:
        return (point.x, point.y, corner) if across else (point.y, point.x, corner)

    for point in _corners(shape):
        yield told(point, True)
    for hole in shape.holes:
        yield told(hole.centre)
    for groove in shape.grooves:
        runs = groove.along is axis
        low, begins, _ = told(groove.low)
        if not runs or not groove.open_low:
            yield low, begins, False
        if runs and not groove.open_high:
            yield told(groove.high)[0], begins, False
    edges = (box.left, box.right, box.bottom) if across else (box.bottom, box.top, box.left)
    for point in _marks(shape):
        at, begins, _ = told(point)
        if edges[0] < at < edges[1]:
            yield at, max(begins, edges[2]), False


def _corners(shape: Shape) -> Iterator[Point]:
    """Yield where the outline turns; where it runs on smoothly, a radius or a curve tells more."""
    segments = shape.outline.segments
    starts = (segments[-1].to, *(segment.to for segment in segments[:-1]))
    for index, segment in enumerate(segments):
        after = segments[(index + 1) % len(segments)]
        arriving = _direction(starts[index], segment, at_end=True)
        leaving = _direction(segment.to, after, at_end=False)
        # Both ends of a curve, so that a shape and its mirror image have the same corners.
        curved = isinstance(segment, Curve) or isinstance(after, Curve)
        if abs(cmath.phase(leaving / arriving)) > _SMOOTH or curved:
            yield segment.to


def _direction(start: Point, segment: Segment, at_end: bool) -> complex:
    """Return the direction of a segment at one of its ends, as a complex number of some length."""
    if isinstance(segment, Arc):
        at = segment.to if at_end else start
        spoke = complex(at.x - segment.centre.x, at.y - segment.centre.y)
        return spoke * (1j if segment.anticlockwise else -1j)
    if isinstance(segment, Curve):
        ends = (segment.control2, segment.to) if at_end else (start, segment.control1)
    else:
        ends = (start, segment.to)
    run = complex(ends[1].x - ends[0].x, ends[1].y - ends[0].y)
    return run or complex(segment.to.x - start.x, segment.to.y - start.y)


def _marks(shape: Shape) -> Iterator[Point]:
    for mark in shape.marks:
        if isinstance(mark, MarkLine):
            yield mark.start
            yield mark.to
        else:
            yield mark.at
