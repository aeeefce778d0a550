"""Inch fractions against the handbook."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from patternpress.measure.errors import MeasureError
from patternpress.measure.inches import MM_PER_INCH, InchFraction, nearest_fraction
from patternpress.measure.quantity import length
from patternpress.measure.rounding import round_half_even
from tests.measure.data_inches import SIXTY_FOURTHS, THIRTY_SECONDS

MM_TO_FOUR = Fraction(1, 10**4)


@pytest.mark.parametrize(("part", "lowest", "inches", "mm", "inches4", "mm4"), SIXTY_FOURTHS)
def test_decimal_equivalents(
    part: int, lowest: str, inches: str, mm: str, inches4: str, mm4: str
) -> None:
    exact = length(f"{part}/64 in")
    assert exact == Fraction(mm) == Fraction(inches) * MM_PER_INCH
    found = nearest_fraction(exact, 64)
    assert found.inches == Fraction(lowest)
    assert found.error_mm == 0
    shown = f"{found.numerator}/{found.denominator}" if found.numerator else str(found.whole)
    assert shown == lowest
    assert round_half_even(exact, MM_TO_FOUR) == Fraction(mm4)
    assert round_half_even(exact / MM_PER_INCH, MM_TO_FOUR) == Fraction(inches4)


@pytest.mark.parametrize(("mm", "fraction", "error"), THIRTY_SECONDS)
def test_the_published_table_of_32nds(mm: str, fraction: str, error: str) -> None:
    found = nearest_fraction(Fraction(mm), 32)
    assert found.inches == Fraction(fraction)
    # The table's errors come from values to four decimals.
    assert abs(abs(found.error_mm / MM_PER_INCH) - Fraction(error)) <= MM_TO_FOUR


@pytest.mark.parametrize(
    ("mm", "denominator", "inches"),
    [
        ("3.1242", 64, "1/8"),  # machinecalcs.com worked example: 0.123 in
        ("14", 64, "35/64"),  # common practice, no source
        ("3.96875", 16, "1/8"),  # an exact tie, 2.5 sixteenths: to the even one
        ("5.55625", 16, "1/4"),  # an exact tie, 3.5 sixteenths: to the even one
        ("25.4", 64, "1"),
        ("0", 64, "0"),
        ("-34.925", 64, "-11/8"),
        ("-9.525", 64, "-3/8"),
    ],
)
def test_worked_examples(mm: str, denominator: int, inches: str) -> None:
    assert nearest_fraction(Fraction(mm), denominator).inches == Fraction(inches)


def test_signs_and_lowest_terms() -> None:
    assert nearest_fraction(length("-1 3/8 in"), 64) == InchFraction(-1, 3, 8, Fraction(0))
    assert nearest_fraction(length("-3/8 in"), 64) == InchFraction(0, -3, 8, Fraction(0))
    assert nearest_fraction(length("-2 in"), 64) == InchFraction(-2, 0, 1, Fraction(0))
    assert nearest_fraction(Fraction(25), 2) == InchFraction(1, 0, 1, Fraction("0.4"))


@given(
    st.fractions(min_value=-5000, max_value=5000, max_denominator=1000),
    st.sampled_from([1, 2, 4, 8, 16, 32, 64]),
)
def test_never_farther_than_half_a_step(mm: Fraction, denominator: int) -> None:
    found = nearest_fraction(mm, denominator)
    assert abs(found.error_mm) <= MM_PER_INCH / denominator / 2
    assert found.inches * MM_PER_INCH - mm == found.error_mm
    assert denominator % found.denominator == 0
    assert abs(found.numerator) < found.denominator
    mirrored = nearest_fraction(-mm, denominator)
    assert mirrored.inches == -found.inches


def test_a_denominator_must_be_above_nothing() -> None:
    for denominator in (0, -8):
        with pytest.raises(MeasureError, match="bad-step"):
            nearest_fraction(Fraction(1), denominator)
