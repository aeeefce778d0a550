"""Roots and angles: exact where the result is rational, otherwise inside the stated error."""

from fractions import Fraction
from math import acos, asin, atan, cos, degrees, isqrt, radians, sin, sqrt, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from patternpress.measure import functions
from patternpress.measure.errors import MeasureError
from patternpress.measure.values import Kind, Quantity, mul, number, sub

positive = st.fractions(min_value=0, max_value=10**6, max_denominator=10**4)
angles = st.fractions(min_value=-720, max_value=720, max_denominator=64)
BOUND = Fraction(1, 10**39)


def angle(value: Fraction | int | str) -> Quantity:
    return Quantity(Fraction(value), Kind.ANGLE)


@given(positive)
def test_a_root_squared_is_the_number(value: Fraction) -> None:
    assert functions.sqrt(number(value * value)) == number(value)
    root = functions.sqrt(number(value))
    assert root.low**2 <= value <= root.high**2
    assert root.error <= BOUND


@given(positive)
def test_a_root_agrees_with_whole_number_arithmetic(value: Fraction) -> None:
    digits = 45
    floor = Fraction(isqrt(value.numerator * 10 ** (2 * digits) // value.denominator), 10**digits)
    root = functions.sqrt(number(value))
    assert floor - root.error <= root.value <= floor + Fraction(1, 10**digits) + root.error


# Standard values of the unit circle; by Niven's theorem there are no other rational ones.
@pytest.mark.parametrize(
    ("work", "given_value", "exact"),
    [
        ("sin", "0", "0"),
        ("sin", "30", "1/2"),
        ("sin", "90", "1"),
        ("sin", "-150", "-1/2"),
        ("sin", "270", "-1"),
        ("cos", "0", "1"),
        ("cos", "60", "1/2"),
        ("cos", "90", "0"),
        ("cos", "120", "-1/2"),
        ("cos", "-180", "-1"),
        ("tan", "0", "0"),
        ("tan", "45", "1"),
        ("tan", "-45", "-1"),
        ("tan", "135", "-1"),
        ("tan", "225", "1"),
        ("tan", "180", "0"),
    ],
)
def test_standard_angles_are_exact(work: str, given_value: str, exact: str) -> None:
    assert getattr(functions, work)(angle(given_value)) == number(Fraction(exact))


@pytest.mark.parametrize(
    ("work", "given_value", "exact"),
    [
        ("asin", "1/2", 30),
        ("asin", "-1", -90),
        ("acos", "1/2", 60),
        ("acos", "-1", 180),
        ("acos", "0", 90),
        ("atan", "1", 45),
        ("atan", "-1", -45),
        ("atan", "0", 0),
    ],
)
def test_standard_arcs_are_exact(work: str, given_value: str, exact: int) -> None:
    assert getattr(functions, work)(number(Fraction(given_value))) == angle(exact)


@given(angles)
def test_sine_and_cosine_keep_pythagoras_and_agree_with_the_machine(turn: Fraction) -> None:
    s, c = functions.sin(angle(turn)), functions.cos(angle(turn))
    squares = mul(s, s).value + mul(c, c).value
    assert abs(squares - 1) <= mul(s, s).error + mul(c, c).error
    assert float(s.value) == pytest.approx(sin(radians(turn)), abs=1e-12)
    assert float(c.value) == pytest.approx(cos(radians(turn)), abs=1e-12)


@given(st.fractions(min_value=-89, max_value=89, max_denominator=64))
def test_tangent_is_sine_over_cosine_and_turns_back(turn: Fraction) -> None:
    t = functions.tan(angle(turn))
    assert float(t.value) == pytest.approx(tan(radians(turn)), rel=1e-12)
    back = functions.atan(t)
    assert abs(back.value - turn) <= back.error
    assert functions.tan(angle(turn + 180)) == t


@given(st.fractions(min_value=-1, max_value=1, max_denominator=1000))
def test_arcs_turn_back(value: Fraction) -> None:
    for arc, there, machine in (
        (functions.asin, functions.sin, asin),
        (functions.acos, functions.cos, acos),
    ):
        turned = arc(number(value))
        assert float(turned.value) == pytest.approx(degrees(machine(value)), abs=1e-9)
        assert abs(there(turned).value - value) <= there(turned).error
    assert float(functions.atan(number(value)).value) == pytest.approx(degrees(atan(value)))


# OEIS A002193: the root of 2, to 40 decimals, from memory.
def test_known_digits() -> None:
    root = functions.sqrt(number(2))
    assert abs(root.value - Fraction("1.4142135623730950488016887242096980785697")) < BOUND
    assert float(functions.sqrt(number(3)).value) == sqrt(3)


# The isometric angles, as on a drawing board: atan(1/sqrt 2) is 35.264 degrees.
def test_an_angle_of_the_bench() -> None:
    angle_found = functions.atan(functions.sqrt(number(Fraction(1, 2))))
    assert round(angle_found.value, 3) == Fraction("35.264")
    assert 0 < angle_found.error < Fraction(1, 10**37)


def test_a_root_of_an_area_is_a_length() -> None:
    square = Quantity(Fraction(144), Kind.AREA)
    assert functions.sqrt(square) == Quantity(Fraction(12), Kind.LENGTH)


def test_an_uncertain_whole_number_is_refused() -> None:
    root = functions.sqrt(number(2))
    two = mul(root, root)
    assert not two.exact
    for work in (functions.round_up, functions.round_down):
        with pytest.raises(MeasureError, match="uncertain-rounding"):
            work(two)
    assert functions.round_number(two) == number(2)
    half = mul(two, number(Fraction(1, 4)))
    with pytest.raises(MeasureError, match="uncertain-rounding"):
        functions.round_number(half)


def test_whole_numbers() -> None:
    for value, nearest, up, down in (("2.5", 2, 3, 2), ("3.5", 4, 4, 3), ("-2.5", -2, -2, -3)):
        given_value = number(Fraction(value))
        assert functions.round_number(given_value) == number(nearest)
        assert functions.round_up(given_value) == number(up)
        assert functions.round_down(given_value) == number(down)


@pytest.mark.parametrize(
    ("work", "given_value", "code"),
    [
        ("sqrt", number(-1), "negative-root"),
        ("sqrt", angle(4), "mixed-kinds"),
        ("tan", angle(90), "no-tangent"),
        ("tan", angle(-270), "no-tangent"),
        ("asin", number(Fraction(101, 100)), "out-of-range"),
        ("acos", number(-2), "out-of-range"),
        ("sin", number(30), "mixed-kinds"),
        ("atan", angle(1), "mixed-kinds"),
        ("round_up", angle(1), "mixed-kinds"),
    ],
)
def test_what_has_no_answer_is_refused(work: str, given_value: Quantity, code: str) -> None:
    with pytest.raises(MeasureError) as caught:
        getattr(functions, work)(given_value)
    assert caught.value.code == code


def test_a_sine_that_pokes_past_one_by_its_error_still_turns_back() -> None:
    root = functions.sqrt(number(Fraction(1, 2)))
    one = mul(mul(root, root), number(2))
    nearly = sub(one, number(Fraction(1, 10**44)))
    assert not nearly.exact
    arc = functions.asin(nearly)
    assert abs(arc.value - 90) <= arc.error


@given(angles, st.fractions(min_value=0, max_value=1, max_denominator=100))
def test_an_angle_known_roughly_has_a_sine_known_roughly(turn: Fraction, error: Fraction) -> None:
    rough = functions.sin(Quantity(turn, Kind.ANGLE, error))
    for end in (turn - error, turn + error):
        assert abs(functions.sin(angle(end)).value - rough.value) <= rough.error + BOUND
