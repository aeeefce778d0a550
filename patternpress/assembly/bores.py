"""Holes that lean, as their drill leaves them: a mouth on the face, and a bore behind it.

In: a hole on a page and the way out of it in its part's frame.  Out: its mouth; how far it is off
square.  Nothing here knows of joins.
"""

from __future__ import annotations

import math
from fractions import Fraction
from itertools import pairwise

from patternpress.assembly.shape import Curve, Hole, Outline, Point, View
from patternpress.assembly.sizes import AXES
from patternpress.assembly.solid import Vec
from patternpress.assembly.specs import PAGE_AXES

# Of a part: the names of its holes that lean, and the ways out of them, of length 1.
Bores = tuple[tuple[str, Vec], ...]
# Handles of the four cubics that a circle of radius 1 is drawn by: (4/3)·tan(π/8).
_HANDLE = 4 / 3 * math.tan(math.pi / 8)
_DIGITS = 9


def off_square(axis: int, out: Vec) -> float:
    """Return how far a bore is off square to a face that looks along an axis, in degrees."""
    aside = math.hypot(*(each for index, each in enumerate(out) if index != axis))
    return math.degrees(math.atan2(aside, abs(out[axis])))


def mouth(hole: Hole, view: View, out: Vec) -> Outline:
    """Return how a round hole shows on its face: an ellipse, longer the way that it leans.

    A hole of diameter d whose axis is a off square is d across and d / cos a long there.
    """
    if hole.diameter is None:
        return hole.outline
    page = [out[AXES.index(axis)] for axis in PAGE_AXES[view]]
    if view is View.LEFT:
        page[0] = -page[0]
    aside = math.hypot(*page)
    way = (page[0] / aside, page[1] / aside)
    return _ellipse(hole, hole.diameter / 2, way, 1 / math.sqrt(1 - aside * aside))


def _ellipse(hole: Hole, radius: Fraction, way: tuple[float, float], longer: float) -> Outline:
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
