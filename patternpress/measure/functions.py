"""Roots, angles and whole numbers.

In: quantities. Out: quantities; exact wherever the result is rational, otherwise worked out
by mpmath and carried as a fraction within 1e-40 of the true value.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from fractions import Fraction
from typing import Any

import mpmath

from patternpress.measure.errors import MeasureError
from patternpress.measure.rounding import certain_round
from patternpress.measure.values import GRID, Kind, Quantity, between, mixed, number, settle

PROMISE = Fraction(1, 10**40)
"""The stated error of one function's result."""

# 60 digits are wanted; the rest is guard where a slope is steep (tan near 90 degrees).
# A context of our own, so that nobody else's precision is touched.
_MP: Any = mpmath.MPContext()
_MP.dps = 120
_DEGREE = _MP.pi / 180


def _real(value: Fraction) -> Any:
    return _MP.mpf(value.numerator) / value.denominator


def _fraction(real: Any) -> Fraction:
    mantissa, exponent = real.man_exp
    size = abs(int(mantissa)) * Fraction(2) ** int(exponent)
    # Whether the mantissa carries the sign depends on mpmath's version.
    return round((-size if real < 0 else size) / GRID) * GRID


def _worked(work: Callable[[Fraction], Fraction], of: Quantity, kind: Kind) -> Quantity:
    """A rising function over the interval of `of`, PROMISE added at either end."""
    return between(work(of.low) - PROMISE, work(of.high) + PROMISE, kind)


def _wants(doing: str, quantity: Quantity, kind: Kind) -> None:
    if quantity.kind is not kind:
        raise mixed(doing, quantity.kind, kind)


def sqrt(of: Quantity) -> Quantity:
    """The square root: of a number a number, of an area a length.

    Raises MixedKinds, or MeasureError `negative-root`.
    """
    kinds = {Kind.NUMBER: Kind.NUMBER, Kind.AREA: Kind.LENGTH}
    if of.kind not in kinds:
        raise mixed("sqrt", of.kind, Kind.AREA)
    if of.value < 0:
        raise MeasureError("negative-root")
    over, under = math.isqrt(of.value.numerator), math.isqrt(of.value.denominator)
    if of.exact and Fraction(over * over, under * under) == of.value:
        return settle(Fraction(over, under), kinds[of.kind])

    def root(value: Fraction) -> Fraction:
        return _fraction(_MP.sqrt(_real(max(value, Fraction(0)))))

    return _worked(root, of, kinds[of.kind])


# Niven's theorem: at rational degrees the sine is rational only at these.
_SINES = {0: 0, 30: 1, 90: 2, 150: 1, 180: 0, 210: -1, 270: -2, 330: -1}


def sin(of: Quantity) -> Quantity:
    """The sine of an angle. Raises MixedKinds."""
    _wants("sin", of, Kind.ANGLE)
    turned = of.value % 360
    if of.exact and turned in _SINES:
        return number(Fraction(_SINES[int(turned)], 2))
    # The sine changes by less than 1/57 for each degree.
    return settle(_fraction(_MP.sin(_real(turned) * _DEGREE)), Kind.NUMBER, PROMISE + of.error / 57)


def cos(of: Quantity) -> Quantity:
    """The cosine of an angle: the sine of that angle and 90 degrees. Raises MixedKinds."""
    _wants("cos", of, Kind.ANGLE)
    return sin(Quantity(of.value + 90, Kind.ANGLE, of.error))


def tan(of: Quantity) -> Quantity:
    """The tangent of an angle. Raises MixedKinds, or `no-tangent` at 90 degrees and its like."""
    _wants("tan", of, Kind.ANGLE)
    # Shifted so that one branch of the tangent runs from 0 to 180.
    turned = Quantity((of.value + 90) % 180, Kind.ANGLE, of.error)
    if turned.low <= 0 or turned.high >= 180:
        raise MeasureError("no-tangent")
    if turned.exact and turned.value in {45, 90, 135}:
        return number((turned.value - 90) / 45)

    def tangent(value: Fraction) -> Fraction:
        return _fraction(_MP.tan(_real(value - 90) * _DEGREE))

    return _worked(tangent, turned, Kind.NUMBER)


def _arc(
    doing: str, of: Quantity, work: Callable[[Any], Any], known: dict[Fraction, int]
) -> Quantity:
    """An inverse function: its exact angles are `known`, others are worked out."""
    if of.exact and of.value in known:
        return Quantity(Fraction(known[of.value]), Kind.ANGLE)

    def arc(value: Fraction) -> Fraction:
        return _fraction(work(_real(value)) / _DEGREE)

    return _worked(arc, of, Kind.ANGLE)


def asin(of: Quantity) -> Quantity:
    """The angle, -90 to 90 degrees, of a sine. Raises MixedKinds, or `out-of-range` past 1."""
    _wants("asin", of, Kind.NUMBER)
    if abs(of.value) > 1:
        raise MeasureError("out-of-range", {"function": "asin"})
    # The interval of a worked-out sine may poke past 1 where the true value cannot.
    inside = between(max(of.low, Fraction(-1)), min(of.high, Fraction(1)), of.kind)
    half = Fraction(1, 2)
    known = {Fraction(-1): -90, -half: -30, Fraction(0): 0, half: 30, Fraction(1): 90}
    return _arc("asin", of if of.exact else inside, _clamped_asin, known)


def _clamped_asin(value: Any) -> Any:
    return _MP.asin(max(_MP.mpf(-1), min(_MP.mpf(1), value)))


def acos(of: Quantity) -> Quantity:
    """The angle, 0 to 180 degrees, of a cosine. Raises MixedKinds, or `out-of-range` past 1."""
    _wants("acos", of, Kind.NUMBER)
    if abs(of.value) > 1:
        raise MeasureError("out-of-range", {"function": "acos"})
    arc = asin(of)
    return settle(90 - arc.value, Kind.ANGLE, arc.error)


def atan(of: Quantity) -> Quantity:
    """The angle, between -90 and 90 degrees, of a tangent. Raises MixedKinds."""
    _wants("atan", of, Kind.NUMBER)
    return _arc("atan", of, _MP.atan, {Fraction(-1): -45, Fraction(0): 0, Fraction(1): 45})


def _whole(doing: str, of: Quantity, work: Callable[[Fraction], int]) -> Quantity:
    _wants(doing, of, Kind.NUMBER)
    if work(of.low) != work(of.high):
        raise MeasureError("uncertain-rounding", {"doing": doing})
    return number(work(of.low))


def round_number(of: Quantity) -> Quantity:
    """The nearest whole number, a tie to the even one. Raises MixedKinds, `uncertain-rounding`."""
    _wants("round", of, Kind.NUMBER)
    return number(certain_round(of, Fraction(1)))


def round_up(of: Quantity) -> Quantity:
    """The whole number at or above. Raises MixedKinds, or `uncertain-rounding`."""
    return _whole("round up", of, math.ceil)


def round_down(of: Quantity) -> Quantity:
    """The whole number at or below. Raises MixedKinds, or `uncertain-rounding`."""
    return _whole("round down", of, math.floor)
