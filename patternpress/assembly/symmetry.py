"""Are the two halves of a template alike?

In: a Shape.  Out: whether it is its own mirror image, left to right on the page, with all that
lies on it; whether an outline is a rectangle, plain or with shaped corners.
"""

from __future__ import annotations

from fractions import Fraction

import shapely

from patternpress.assembly.flattening import flattened
from patternpress.assembly.outlines import bounding_box, legs
from patternpress.assembly.shape import Line, Outline, Shape
from patternpress.assembly.turning import mirrored_shape

_CORNER = Fraction(1, 4)  # of a side: what is cut off over more is no corner but a shape
_ALIKE = 0.01  # mm² of difference for each mm of outline


def is_symmetrical(shape: Shape) -> bool:
    """Say whether half of a template, turned over, is the other half."""
    return not unlike(shape)


def unlike(shape: Shape) -> str:
    """Return what lies otherwise in the other half: a name, or "outline"; nothing if none does.

    A mark has a name, and a name only one side: one that is not on the middle differs.
    """
    other = mirrored_shape(shape)
    if not _same_line(shape.outline, other.outline):
        return "outline"
    holes = [(hole.centre, hole.depth, _sizes(hole.outline)) for hole in other.holes]
    for hole in shape.holes:
        if (hole.centre, hole.depth, _sizes(hole.outline)) not in holes:
            return hole.name
    bands = [(each.low, each.high, each.depth, each.far) for each in other.grooves]
    for groove in shape.grooves:
        if (groove.low, groove.high, groove.depth, groove.far) not in bands:
            return groove.name
    return next((mark.name for mark in shape.marks), "")


def is_rectangle(outline: Outline) -> bool:
    """Say whether an outline is a plain rectangle."""
    box = bounding_box(outline)
    area = float((box.right - box.left) * (box.top - box.bottom))
    return bool(area - shapely.Polygon(flattened(outline)).area <= _ALIKE)


def is_cornered(outline: Outline) -> bool:
    """Say whether an outline is a rectangle but for its corners: cut off, rounded, notched, each
    over less than a quarter of a side.
    """
    box = bounding_box(outline)
    wide, high = box.right - box.left, box.top - box.bottom
    for start, leg in legs(outline):
        if isinstance(leg, Line) and (
            start.x == leg.to.x in (box.left, box.right)
            or start.y == leg.to.y in (box.bottom, box.top)
        ):
            continue
        for point in (start, leg.to):
            off = (
                min(point.x - box.left, box.right - point.x) / wide,
                min(point.y - box.bottom, box.top - point.y) / high,
            )
            if max(off) >= _CORNER:
                return False
        if abs(leg.to.x - start.x) >= wide * _CORNER or abs(leg.to.y - start.y) >= high * _CORNER:
            return False
    return True


def _same_line(one: Outline, two: Outline) -> bool:
    first, second = (shapely.Polygon(flattened(each)) for each in (one, two))
    return bool(first.symmetric_difference(second).area <= _ALIKE * first.length)


def _sizes(outline: Outline) -> tuple[Fraction, Fraction]:
    box = bounding_box(outline)
    return box.right - box.left, box.top - box.bottom
