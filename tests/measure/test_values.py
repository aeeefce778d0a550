"""Arithmetic of quantities: exact, one kind with its like, never growing without end."""

import pickle
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from patternpress.measure.errors import MeasureError, MixedKinds
from patternpress.measure.quantity import (
    Kind,
    Quantity,
    add,
    div,
    least,
    length,
    millimetres,
    most,
    mul,
    neg,
    number,
    sub,
)
from patternpress.measure.values import CAP

sizes = st.fractions(min_value=-5000, max_value=5000, max_denominator=6400)
widths = st.fractions(min_value=0, max_value=1, max_denominator=64)
placed = st.fractions(min_value=-1, max_value=1, max_denominator=8)
DEGREES = Quantity(Fraction(30), Kind.ANGLE)


@given(sizes, sizes)
def test_exact_lengths_add_and_part_exactly(a: Fraction, b: Fraction) -> None:
    total = add(millimetres(a), millimetres(b))
    assert total == millimetres(a + b)
    assert total.exact
    assert sub(total, millimetres(b)) == millimetres(a)
    assert add(total, neg(total)).value == 0


@given(sizes, sizes.filter(bool))
def test_kinds_multiply_and_divide_as_at_the_bench(a: Fraction, b: Fraction) -> None:
    area = mul(millimetres(a), millimetres(b))
    assert area == Quantity(a * b, Kind.AREA)
    assert div(area, millimetres(b)) == millimetres(a)
    assert div(millimetres(a), millimetres(b)) == number(a / b)
    assert mul(number(a), DEGREES) == Quantity(30 * a, Kind.ANGLE)


@given(sizes, widths, placed, sizes, widths, placed)
def test_the_stated_error_always_holds_the_true_value(
    a: Fraction, da: Fraction, ta: Fraction, b: Fraction, db: Fraction, tb: Fraction
) -> None:
    left, right = Quantity(a, Kind.NUMBER, da), Quantity(b, Kind.NUMBER, db)
    true_left, true_right = a + ta * da, b + tb * db
    for work, true in (
        (add, true_left + true_right),
        (sub, true_left - true_right),
        (mul, true_left * true_right),
    ):
        assert abs(work(left, right).value - true) <= work(left, right).error
    if not right.low <= 0 <= right.high:
        ratio = div(left, right)
        assert abs(ratio.value - true_left / true_right) <= ratio.error


@pytest.mark.parametrize(
    ("work", "left", "right"),
    [
        (add, millimetres(1), number(1)),
        (sub, millimetres(1), DEGREES),
        (mul, millimetres(1), DEGREES),
        (mul, DEGREES, DEGREES),
        (div, number(1), millimetres(1)),
        (div, millimetres(1), DEGREES),
        (lambda a, b: least([a, b]), number(1), millimetres(1)),
        (lambda a, b: most([a, b]), number(1), millimetres(1)),
    ],
)
def test_kinds_that_do_not_go_together_are_refused(work, left, right) -> None:
    with pytest.raises(MixedKinds) as caught:
        work(left, right)
    assert caught.value.code == "mixed-kinds"
    assert caught.value.facts["left"] == left.kind.value
    assert caught.value.facts["right"] == right.kind.value


def test_a_divisor_that_may_be_nothing_is_refused() -> None:
    for divisor in (number(0), Quantity(Fraction(1, 2), Kind.NUMBER, Fraction(1, 2))):
        with pytest.raises(MeasureError, match="divided-by-zero"):
            div(number(1), divisor)


def test_least_and_most_of_intervals_that_overlap_are_intervals() -> None:
    wide = Quantity(Fraction(2), Kind.LENGTH, Fraction(1))
    small, large = least([wide, millimetres(2)]), most([wide, millimetres(2)])
    assert small.low <= 1
    assert small.high >= 2
    assert large.low <= 2
    assert large.high >= 3
    assert least([millimetres(3), millimetres(2)]) == millimetres(2)


def test_nothing_grows_past_the_cap() -> None:
    big = number(CAP)
    assert mul(big, number(1)) == big
    for grown in (lambda: mul(big, number(2)), lambda: div(number(1), mul(big, number(10)))):
        with pytest.raises(MeasureError, match="too-large"):
            grown()


def test_length_reads_plain_lengths_only() -> None:
    assert length("1/64 in") == Fraction(127, 320)
    assert length("2 * (1 3/8 in)") == Fraction("69.85")
    for text, code in (
        ("14", "mixed-kinds"),
        ("about 14 mm", "not-exact"),
        ("1 to 2 mm", "not-exact"),
        ("sqrt(2) * 1 mm", "not-exact"),
        ("shelf depth", "unknown-name"),
    ):
        with pytest.raises(MeasureError) as caught:
            length(text)
        assert caught.value.code == code
        assert caught.value.end == len(text)


def test_errors_travel_between_processes_whole() -> None:
    error = MixedKinds("mixed-kinds", {"left": "length"}, 3, 9)
    again = pickle.loads(pickle.dumps(error))
    assert type(again) is MixedKinds
    assert (again.code, again.facts, again.start, again.end) == (
        "mixed-kinds",
        {"left": "length"},
        3,
        9,
    )
    assert str(again) == "mixed-kinds at 3-9 (left=length)"
