"""One tie rule for everything, and refusal where the error leaves a doubt."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from patternpress.measure.errors import MeasureError
from patternpress.measure.rounding import certain_round, round_half_even, step_down, step_up
from patternpress.measure.values import Kind, Quantity, number

values = st.fractions(min_value=-1000, max_value=1000, max_denominator=1280)
steps = st.sampled_from([Fraction(1, n) for n in (1, 2, 5, 10, 16, 32, 64, 100)])


@pytest.mark.parametrize(
    ("value", "step", "rounded"),
    [
        ("1.655000", "0.01", "1.66"),  # NIST SP 811 B.7.1 by way of ASTM E29 digests
        ("1.625000", "0.01", "1.62"),  # same
        ("1.347", "0.1", "1.3"),  # Ontario LS-100: once, not by way of 1.35
        ("10.9728", "0.1", "11.0"),  # NIST SP 811 B.7.2: 36 ft in metres
        ("91.44", "1", "91"),  # NIST LC 1137: 36 in in centimetres
        ("101.854", "0.1", "101.9"),  # NIST LC 1137: 40.1 in in centimetres
        ("-1.625", "0.01", "-1.62"),
        ("0.35", "0.1", "0.4"),
        ("0.25", "0.1", "0.2"),
    ],
)
def test_published_examples(value: str, step: str, rounded: str) -> None:
    assert round_half_even(Fraction(value), Fraction(step)) == Fraction(rounded)


@given(values, steps)
def test_the_nearest_multiple_and_the_even_one_of_two(value: Fraction, step: Fraction) -> None:
    rounded = round_half_even(value, step)
    assert (rounded / step).denominator == 1
    assert abs(rounded - value) <= step / 2
    if abs(rounded - value) == step / 2:
        assert (rounded / step) % 2 == 0
    assert round_half_even(-value, step) == -rounded
    assert round_half_even(rounded, step) == rounded


@given(values, steps)
def test_limits_go_inwards(value: Fraction, step: Fraction) -> None:
    assert step_down(value, step) <= value <= step_up(value, step)
    assert step_up(value, step) - step_down(value, step) in {0, step}


def test_a_doubtful_rounding_is_refused() -> None:
    tie, error = Fraction("0.25"), Fraction(1, 10**40)
    step = Fraction(1, 10)
    assert certain_round(number(tie), step) == Fraction("0.2")
    assert certain_round(Quantity(tie + 2 * error, Kind.LENGTH, error), step) == Fraction("0.3")
    for doubtful in (tie, tie + error / 2, tie - error / 2):
        with pytest.raises(MeasureError, match="uncertain-rounding"):
            certain_round(Quantity(doubtful, Kind.LENGTH, error), step)


def test_a_step_must_be_above_nothing() -> None:
    for rounder in (round_half_even, step_up, step_down):
        for step in (0, -1):
            with pytest.raises(MeasureError, match="bad-step"):
                rounder(Fraction(1), Fraction(step))
