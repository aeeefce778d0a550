"""Find what a saw or a drill could not do.

In: a Shape.  Out: a ShapeError for every fault, with how much it is out.  Judged on polygons
within 0.001 mm of the true lines, so a fault is never found by rounding alone: what touches
within twice that is called touching.
"""

from collections.abc import Iterator
from fractions import Fraction
from itertools import combinations

from patternpress.assembly.flattening import flattened
from patternpress.assembly.onwood import beside_wood
from patternpress.assembly.outlines import bounding_box
from patternpress.assembly.polygons import Polygon, contains, crossings, gap
from patternpress.assembly.roots import settle
from patternpress.assembly.shape import Groove, MarkLine, Shape, ShapeError
from patternpress.assembly.stepped import goes_on

_TOUCHING = 0.002
# An arc whose ends and radius are each rounded leaves its blank by a hair: no saw follows that.
_BY_HAND = Fraction(1, 100)


def faults_of(shape: Shape, beyond: bool = False) -> tuple[ShapeError, ...]:
    """Return the faults of a shape, in the order outline, holes, grooves, marks.

    `beyond`: its ends may reach beyond the blank.

    Codes: "outside-blank", "crosses-itself", "hole-outside", "hole-breaks-edge",
    "holes-meet", "groove-outside", "groove-without-size", "mark-outside",
    "mark-cut-away".
    """
    outline = flattened(shape.outline)
    crossed = tuple(_crossings(outline))
    return (
        *(() if beyond else _outside_blank(shape)),
        *crossed,
        # Of an outline that crosses itself nobody knows what lies inside it.
        *(() if crossed else _hole_faults(shape, outline)),
        *_groove_faults(shape),
        *_mark_faults(shape),
    )


def wood_left(shape: Shape) -> dict[str, Fraction]:
    """Return for each hole the least wood between it and the edge, mm, to 0.01."""
    outline = flattened(shape.outline)
    return {
        hole.name: round(Fraction(gap(flattened(hole.outline), outline)), 2) for hole in shape.holes
    }


def _outside_blank(shape: Shape) -> Iterator[ShapeError]:
    box = bounding_box(shape.outline)
    left, right = -box.left, box.right - shape.width
    below, above = -box.bottom, box.top - shape.height
    over = max(left, right, below, above)
    if over > _BY_HAND:
        yield ShapeError("outside-blank", over=settle(over))


def _crossings(outline: Polygon) -> Iterator[ShapeError]:
    for x, y in crossings(outline)[:1]:
        yield ShapeError("crosses-itself", x=_rough(x), y=_rough(y))


def _hole_faults(shape: Shape, outline: Polygon) -> Iterator[ShapeError]:
    rings = [flattened(hole.outline) for hole in shape.holes]
    for hole, ring in zip(shape.holes, rings, strict=True):
        name = hole.name
        if not any(contains(outline, corner) for corner in ring):
            yield ShapeError("hole-outside", hole=name)
        elif (left := gap(ring, outline)) < _TOUCHING:
            yield ShapeError("hole-breaks-edge", hole=name, over=_beyond(ring, outline, left))
    for (one, ring), (two, other) in combinations(zip(shape.holes, rings, strict=True), 2):
        meets = contains(ring, other[0]) or contains(other, ring[0])
        stepped = goes_on(one, two) or goes_on(two, one)
        if gap(ring, other) < _TOUCHING or (meets and not stepped):
            yield ShapeError("holes-meet", hole=one.name, other=two.name)


def _beyond(ring: Polygon, outline: Polygon, left: float) -> Fraction:
    """Return how far a hole reaches outside the outline, mm to 0.01."""
    outside = [corner for corner in ring if not contains(outline, corner)]
    return _rough(max((gap((corner,), outline) for corner in outside), default=left))


def _groove_faults(shape: Shape) -> Iterator[ShapeError]:
    for groove in shape.grooves:
        if groove.high.x <= groove.low.x or groove.high.y <= groove.low.y or groove.depth <= 0:
            yield ShapeError("groove-without-size", groove=groove.name)
        elif (over := _groove_over(shape, groove)) > 0:
            yield ShapeError("groove-outside", groove=groove.name, over=over)


def _groove_over(shape: Shape, groove: Groove) -> Fraction:
    low, high = groove.low, groove.high
    along = max(-low.x, high.x - shape.width)
    up = max(-low.y, high.y - shape.height)
    return max(along, up)


def _mark_faults(shape: Shape) -> Iterator[ShapeError]:
    for mark in shape.marks:
        points = (mark.start, mark.to) if isinstance(mark, MarkLine) else (mark.at,)
        over = max(max(-p.x, p.x - shape.width, -p.y, p.y - shape.height) for p in points)
        if over > 0:
            yield ShapeError("mark-outside", mark=mark.name, over=over)
        elif beside_wood(shape, mark):
            yield ShapeError("mark-cut-away", mark=mark.name)


def _rough(value: float) -> Fraction:
    return round(Fraction(value), 2)
