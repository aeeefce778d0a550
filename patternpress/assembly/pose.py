"""Turning and moving, exactly.

In: angles and distances.  Out: a `Pose`, a 3 × 3 matrix and an offset, all Fractions.  Square
turns and mirrorings are exact; other angles use sine and cosine cut at 1e-18, so that a point
one metre away is off by less than 1e-14 mm, and all arithmetic after that is exact.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import isqrt

from patternpress.measure.functions import cos, sin, tan
from patternpress.measure.quantity import Kind, Quantity

Vector = tuple[Fraction, Fraction, Fraction]
Matrix = tuple[Vector, Vector, Vector]
ZERO, ONE, MINUS = Fraction(0), Fraction(1), Fraction(-1)
ORIGIN: Vector = (ZERO, ZERO, ZERO)
SAME: Matrix = ((ONE, ZERO, ZERO), (ZERO, ONE, ZERO), (ZERO, ZERO, ONE))
GRID = Fraction(1, 10**18)

# Unit directions of the six sides: x to the right, y to the back, z up.
DIRECTION: dict[str, Vector] = {
    "left": (MINUS, ZERO, ZERO),
    "right": (ONE, ZERO, ZERO),
    "front": (ZERO, MINUS, ZERO),
    "back": (ZERO, ONE, ZERO),
    "bottom": (ZERO, ZERO, MINUS),
    "top": (ZERO, ZERO, ONE),
}
UNIT = (DIRECTION["right"], DIRECTION["back"], DIRECTION["top"])  # along wide, deep and high


@dataclass(frozen=True, slots=True)
class Pose:
    """Where a thing is: each point p of it lies at matrix · p + offset."""

    matrix: Matrix = SAME
    offset: Vector = ORIGIN

    def point(self, point: Vector) -> Vector:
        """Where a point of the thing lies."""
        return plus(self.turn(point), self.offset)

    def turn(self, vector: Vector) -> Vector:
        """Where a direction of the thing looks."""
        if self.matrix is SAME:  # most pieces stand as they are drawn
            return vector
        return (
            dot(self.matrix[0], vector),
            dot(self.matrix[1], vector),
            dot(self.matrix[2], vector),
        )

    def after(self, inner: Pose) -> Pose:
        """This pose applied to a thing that already has a pose."""
        return Pose(times(self.matrix, inner.matrix), self.point(inner.offset))


def dot(a: Vector, b: Vector) -> Fraction:
    """The scalar product; most poses are square, and nothing is gained by multiplying with 0 or 1.

    Those are mostly the very ones of this module, which is quicker seen than asked.
    """
    found = ZERO
    for x, y in zip(a, b, strict=True):
        if x is ZERO or y is ZERO or not (x and y):
            continue
        product = x if y is ONE else -x if y is MINUS else y if x is ONE else x * y
        found = found + product if found else product
    return found


def cross(a: Vector, b: Vector) -> Vector:
    """The vector product."""
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]


def plus(a: Vector, b: Vector, by: Fraction | int = 1) -> Vector:
    """A + by · b."""
    return (a[0] + by * b[0], a[1] + by * b[1], a[2] + by * b[2])


def times(a: Matrix, b: Matrix) -> Matrix:
    """The matrix product."""
    if a is SAME or b is SAME:
        return b if a is SAME else a
    columns = tuple(zip(*b, strict=True))
    first, second, third = (
        (dot(row, columns[0]), dot(row, columns[1]), dot(row, columns[2])) for row in a
    )
    return first, second, third


def mirror(axis: int) -> Matrix:
    """The matrix that mirrors one axis."""
    rows = [list(row) for row in SAME]
    rows[axis][axis] = -ONE
    return tuple(tuple(row) for row in rows)  # type: ignore[return-value]


def about(axis: int, degrees: Fraction) -> Matrix:
    """A turn about an axis, anticlockwise seen from its positive end."""
    angle = Quantity(degrees, Kind.ANGLE)
    c, s = _cut(cos(angle).value), _cut(sin(angle).value)
    first, second = [(1, 2), (2, 0), (0, 1)][axis]
    rows = [list(row) for row in SAME]
    rows[first][first], rows[first][second] = c, -s
    rows[second][first], rows[second][second] = s, c
    return tuple(tuple(row) for row in rows)  # type: ignore[return-value]


def tangent(degrees: Fraction) -> Fraction:
    """The tangent of an angle, cut at 1e-18."""
    return _cut(tan(Quantity(degrees, Kind.ANGLE)).value)


def upright_to(x: Fraction, y: Fraction) -> Matrix:
    """The shortest turn that brings the upright into the direction (x, y, 1).

    The rotation that takes unit vector u to unit vector v, by Rodrigues' formula:
    R = I + K + K² / (1 + u·v), where K is the cross-product matrix of u × v.
    """
    if not x and not y:
        return SAME
    long = root(x * x + y * y + 1)
    vx, vy, vz = x / long, y / long, ONE / long
    # K for u × v with u = (0, 0, 1): (-vy, vx, 0).
    share = 1 / (1 + vz)
    return (
        (_cut(1 - share * vx * vx), _cut(-share * vx * vy), _cut(vx)),
        (_cut(-share * vx * vy), _cut(1 - share * vy * vy), _cut(vy)),
        (_cut(-vx), _cut(-vy), _cut(vz)),
    )


def root(value: Fraction) -> Fraction:
    """A square root, cut at 1e-18."""
    scaled = value * 10**36
    whole = scaled.numerator // scaled.denominator
    return Fraction(isqrt(whole), 10**18)


def _cut(value: Fraction) -> Fraction:
    return round(value / GRID) * GRID
