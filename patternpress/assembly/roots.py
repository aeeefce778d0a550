"""Numbers that are not ratios, rounded once to 1e-12 mm.

In: exact rationals.  Out: rationals.  Roots and tangents are exact where they are ratios and
otherwise good to 1e-30, so that lengths worked out from them can be settled once, at the
end, to the nearest 1e-12.  Everything that leaves the rationals does it here.
"""

import math
from fractions import Fraction
from math import isqrt

from mpmath import mp, mpf, workdps

GRAIN = 10**12
_FINE = 10**30


def settle(value: Fraction | float) -> Fraction:
    """Return `value` if it is a ratio with a small denominator, else the nearest 1e-12."""
    exact = value if isinstance(value, Fraction) else Fraction(value)
    if exact.denominator <= GRAIN:
        return exact
    return Fraction(round(exact * GRAIN), GRAIN)


def root(value: Fraction) -> Fraction:
    """Return the square root: exact for a ratio of squares, else to 1e-30.

    Raises ValueError below zero.
    """
    if value < 0:
        raise ValueError("no root of a negative number")
    above, below = isqrt(value.numerator), isqrt(value.denominator)
    if above * above == value.numerator and below * below == value.denominator:
        return Fraction(above, below)
    return Fraction(isqrt(value.numerator * _FINE * _FINE // value.denominator), _FINE)


def tangent(degrees: Fraction) -> Fraction:
    """Return the tangent of an angle below 90 degrees: exact at 0 and 45, else to 1e-30."""
    if degrees in (0, 45, -45):
        return Fraction(degrees, 45)
    with workdps(50):
        angle = mpf(degrees.numerator) / degrees.denominator
        fine = mp.nint(mp.tan(mp.radians(angle)) * _FINE)
        return Fraction(int(fine), _FINE)


def heading(degrees: Fraction) -> tuple[float, float]:
    """Return the unit vector of a direction, degrees anticlockwise from the right."""
    quarter, rest = divmod(degrees % 360, 90)
    if rest == 0:
        return ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0), (0.0, -1.0))[int(quarter)]
    angle = math.radians(float(degrees))
    return math.cos(angle), math.sin(angle)
