"""The mouths of holes that are drilled at an angle: on the face they are longer than wide.

In: a `Worked` design, its `Assembly` and the shapes of its parts.  Out: the shapes with each such
hole as it shows on the face.  Pictures take the walls behind it for upright.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise

from patternpress.assembly.leaning import SQUARE, leaning_holes
from patternpress.assembly.placing import Assembly
from patternpress.assembly.shape import Curve, Hole, Outline, Point, Shape, View
from patternpress.assembly.sizes import AXES
from patternpress.assembly.specs import PAGE_AXES
from patternpress.assembly.worked import Worked

_STEEPEST = 80.0  # degrees; a drill does not start any flatter, and checks tell from 45 on
# Handles of the four cubics that a circle of radius 1 is drawn by: (4/3)·tan(π/8).
_HANDLE = 4 / 3 * math.tan(math.pi / 8)
_DIGITS = 9


def with_mouths(
    worked: Worked, assembly: Assembly, shapes: Mapping[str, Shape]
) -> dict[str, Shape]:
    """Return the shapes, the round holes that leaning pieces go into with their real mouths.

    A hole of diameter d whose axis is a off square meets the face in an ellipse: d across, and
    d / cos a the way that it leans.
    """
    found = dict(shapes)
    for each in leaning_holes(worked, assembly):
        part, shape = worked.part(each.part), found.get(each.part)
        if part is None or shape is None or AXES[each.axis] != part.thin:
            continue  # into an edge: no template shows it
        page = [float(each.out[AXES.index(axis)]) for axis in PAGE_AXES[shape.view]]
        if shape.view is View.LEFT:
            page[0] = -page[0]
        off = math.atan2(math.hypot(*page), abs(float(each.out[each.axis])))
        if SQUARE < math.degrees(off) < _STEEPEST:
            way = (page[0] / math.hypot(*page), page[1] / math.hypot(*page))
            found[each.part] = _opened(shape, each.hole.names, way, 1 / math.cos(off))
    return found


def _opened(shape: Shape, names: tuple[str, ...], way: tuple[float, float], longer: float) -> Shape:
    """The shape with some holes drawn out along a way on the page."""
    return replace(
        shape,
        holes=tuple(
            replace(hole, outline=_mouth(hole, hole.diameter / 2, way, longer))
            if hole.name in names and hole.diameter is not None
            else hole
            for hole in shape.holes
        ),
    )


def _mouth(hole: Hole, radius: Fraction, way: tuple[float, float], longer: float) -> Outline:
    """An ellipse anticlockwise from its end along `way`: four cubics, 3 in 10,000 off at most."""
    (x, y), half = way, float(radius)

    def at(along: float, across: float) -> Point:
        u, v = along * half * longer, across * half
        dx, dy = u * x - v * y, u * y + v * x
        return Point(
            hole.centre.x + round(Fraction(dx), _DIGITS),
            hole.centre.y + round(Fraction(dy), _DIGITS),
        )

    corners = ((1, 0), (0, 1), (-1, 0), (0, -1), (1, 0))
    curves = tuple(
        Curve(
            at(c, d),
            at(a + _HANDLE * c, b + _HANDLE * d),
            at(c + _HANDLE * a, d + _HANDLE * b),
        )
        for (a, b), (c, d) in pairwise(corners)
    )
    return Outline(at(1, 0), curves)


__all__ = ["with_mouths"]
