"""Rounding, with one rule for ties everywhere.

In: exact values and a step. Out: the nearest multiple of the step; an exact half goes to the
even multiple (NIST SP 811 B.7.1, ASTM E29). Values are rounded once, never in two goes.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from fractions import Fraction

from patternpress.measure.errors import MeasureError
from patternpress.measure.values import Quantity

Rounder = Callable[[Fraction, Fraction], Fraction]


def round_half_even(value: Fraction, step: Fraction) -> Fraction:
    """The multiple of `step` nearest to `value`, both in one unit; a tie to the even multiple.

    Raises MeasureError `bad-step` for a step of 0 or less.
    """
    return round(value / _positive(step)) * step


def step_up(value: Fraction, step: Fraction) -> Fraction:
    """The multiple of `step` at or above: for the lower limit of a fit. Raises `bad-step`.

    Limits are rounded inwards (ASME A112.18.1 Annex A.2 e), so that none is ever overstepped.
    """
    return math.ceil(value / _positive(step)) * step


def step_down(value: Fraction, step: Fraction) -> Fraction:
    """The multiple of `step` at or below: for the upper limit of a fit. Raises `bad-step`."""
    return math.floor(value / _positive(step)) * step


def certain_round(
    quantity: Quantity, step: Fraction, rounder: Rounder = round_half_even
) -> Fraction:
    """The rounded value of a quantity, in its base unit, where its error leaves no doubt.

    Raises MeasureError `uncertain-rounding` where the interval straddles a tie, or `bad-step`.
    """
    low, high = rounder(quantity.low, step), rounder(quantity.high, step)
    if low != high:
        raise MeasureError("uncertain-rounding", {"low": str(low), "high": str(high)})
    return low


def _positive(step: Fraction) -> Fraction:
    if step <= 0:
        raise MeasureError("bad-step", {"step": str(step)})
    return step
