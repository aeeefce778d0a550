"""Inch fractions.

In: a length in mm. Out: the nearest fraction of an inch, in lowest terms, and how far off it is.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from patternpress.measure.rounding import round_half_even

MM_PER_INCH = Fraction(254, 10)
"""Exact. International yard and pound agreement, 1959."""


@dataclass(frozen=True, slots=True)
class InchFraction:
    """A whole number of inches and a fraction below one, in lowest terms.

    Below zero the whole number carries the minus; where it is 0, the numerator does.
    `error_mm` is this fraction less the true length: above 0 means it is shown too long.
    """

    whole: int
    numerator: int
    denominator: int
    error_mm: Fraction

    @property
    def inches(self) -> Fraction:
        """The value in inches."""
        part = Fraction(abs(self.numerator), self.denominator)
        return self.whole - part if self.negative else self.whole + part

    @property
    def negative(self) -> bool:
        """True below zero."""
        return self.whole < 0 or self.numerator < 0


def nearest_fraction(value_mm: Fraction, denominator: int) -> InchFraction:
    """The nearest multiple of 1/denominator in, never farther off than half of one.

    An exact tie goes to the even multiple, as everywhere. Raises MeasureError `bad-step`.
    """
    step = Fraction(1, denominator) if denominator > 0 else Fraction(0)
    inches = round_half_even(value_mm / MM_PER_INCH, step)
    return split_inches(inches, inches * MM_PER_INCH - value_mm)


def split_inches(inches: Fraction, error_mm: Fraction = Fraction(0)) -> InchFraction:
    """A value in inches as whole number and fraction."""
    whole, rest = divmod(abs(inches.numerator), inches.denominator)
    if inches < 0:
        whole, rest = -whole, (rest if whole else -rest)
    return InchFraction(whole, rest, inches.denominator, error_mm)
