"""Formulas that work out: what a maker writes, and what it comes to."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from patternpress.measure.formula import (
    Manner,
    Measure,
    Name,
    Property,
    check_name,
    evaluate,
    names,
    parse,
)
from patternpress.measure.values import Kind, Quantity, millimetres, number

SIZES: dict[Name, Quantity] = {
    "shelf depth": millimetres(80),
    "post 2 width": millimetres(6),
    "post 2a": millimetres(7),
    "half-lap": millimetres(2),
    "maker's mark": millimetres(5),
    "étagère": millimetres(9),
    "count": number(3),
    "foot": millimetres(11),
    Property("width", "post"): millimetres(4),
    Property("height", "shelf 1"): millimetres(40),
}


def value(text: str) -> Measure:
    return evaluate(parse(text), SIZES.__getitem__)


@pytest.mark.parametrize(
    ("text", "comes_to"),
    [
        # numbers
        ("14 mm", "14"),
        ("14mm", "14"),
        ("14.5 mm", "14.5"),
        (".375 in", "9.525"),
        ("3/8 in", "9.525"),
        ("35/64 in", "13.890625"),
        ("1 3/8 in", "34.925"),
        ('1 3/8"', "34.925"),
        ("1½ in", "38.1"),
        ("1 ½ in", "38.1"),
        ("¾″", "19.05"),
        ("⅛ in", "3.175"),
        ("1\u202f3\u20448\u00a0in", "34.925"),  # as copied from a printed page
        ("2 ft", "609.6"),
        ("10 thou", "0.254"),
        ("12/4 mm", "3"),
        ("shelf depth / 1 1/4", "64"),
        ("shelf depth / (5/4)", "64"),
        # signs and their order
        ("1 mm + 2 mm * 3", "7"),
        ("(1 mm + 2 mm) * 3", "9"),
        ("10 mm - 2 mm - 3 mm", "5"),
        ("24 mm / 2 / 3", "4"),
        ("2 × 3 mm − 1 mm", "5"),
        ("9 mm ÷ 2", "4.5"),
        ("-3 mm + 5 mm", "2"),
        ("5 mm - -3 mm", "8"),
        ("6 mm * 4 mm / (3 mm)", "8"),
        # names
        ("shelf depth", "80"),
        ("shelf  depth", "80"),
        ("2 * post 2 width", "12"),
        ("post 2a - half-lap", "5"),
        ("maker's mark", "5"),
        ("maker’s mark", "5"),
        ("étagère", "9"),
        ("2 * foot", "22"),
        ("2 foot", "609.6"),
        ("width of post", "4"),
        ("Width of post", "4"),
        ("shelf depth - 2 * width of post", "72"),
        ("height of shelf 1 / 2", "20"),
        ("shelf depth/2", "40"),
        # words
        ("half shelf depth", "40"),
        ("half(shelf depth)", "40"),
        ("half of shelf depth", "40"),
        ("a half of shelf depth", "40"),
        ("half of width of post", "2"),
        ("a third of 1 ft", "101.6"),
        ("a quarter of (shelf depth + 4 mm)", "21"),
        ("half shelf depth + 1 mm", "41"),
        ("min(3 mm, shelf depth, 2 mm)", "2"),
        ("max(3 mm, half of shelf depth)", "40"),
        ("sqrt(9 mm * 4 mm)", "6"),
        ("10 mm * tan(45 deg)", "10"),
        ("10 mm * round up(7/3)", "30"),
        ("10 mm * round down(7/3)", "20"),
        ("10 mm * round(2.5)", "20"),
    ],
)
def test_a_length_comes_to(text: str, comes_to: str) -> None:
    assert value(text) == Measure(millimetres(Fraction(comes_to)), None, Manner.EXACT)


@pytest.mark.parametrize(
    ("text", "kind", "comes_to"),
    [
        ("3 1/2", Kind.NUMBER, "3.5"),
        ("1/2", Kind.NUMBER, "0.5"),
        ("count + 1", Kind.NUMBER, "4"),
        ("shelf depth / (4 mm)", Kind.NUMBER, "20"),
        ("min(5, 3)", Kind.NUMBER, "3"),
        ("26.565°", Kind.ANGLE, "26.565"),
        ("atan(1)", Kind.ANGLE, "45"),
        ("90 deg - 1/2 deg", Kind.ANGLE, "89.5"),
        ("1 h + 30 min", Kind.TIME, "90"),
        ("5 min", Kind.TIME, "5"),
        ("2 days", Kind.TIME, "2880"),
        ("250 g * 2", Kind.MASS, "500"),
        ("1/2 l", Kind.VOLUME, "500"),
    ],
)
def test_other_kinds_come_to(text: str, kind: Kind, comes_to: str) -> None:
    assert value(text).low == Quantity(Fraction(comes_to), kind)


@pytest.mark.parametrize(
    ("text", "low", "high", "manner"),
    [
        ("about 14 mm", "14", None, Manner.ABOUT),
        ("About 14 mm", "14", None, Manner.ABOUT),
        ("at most half of shelf depth", "40", None, Manner.AT_MOST),
        ("at least 1/4 in", "6.35", None, Manner.AT_LEAST),
        ("0.25 to 0.5 mm", "0.25", "0.5", Manner.RANGE),
        ("-0.5 to 0.5 mm", "-0.5", "0.5", Manner.RANGE),
        ("-2 to -0.5 mm", "-2", "-0.5", Manner.RANGE),
        ("1/64 to 1/32 in", "0.396875", "0.79375", Manner.RANGE),
        ("1 mm to 1/8 in", "1", "3.175", Manner.RANGE),
        ("width of post to shelf depth / 2", "4", "40", Manner.RANGE),
    ],
)
def test_words_of_meaning_are_kept(text: str, low: str, high: str | None, manner: Manner) -> None:
    upper = None if high is None else millimetres(Fraction(high))
    assert value(text) == Measure(millimetres(Fraction(low)), upper, manner)


def test_names_are_found_wherever_they_stand() -> None:
    formula = parse("max(half shelf depth, -(width of post)) + foot to 3 * post 2 width")
    found = {"shelf depth", Property("width", "post"), "foot", "post 2 width"}
    assert names(formula) == found
    assert names(parse("3 mm")) == frozenset()


def test_nodes_know_their_place() -> None:
    text = "(shelf depth - 3 mm) * 2"
    formula = parse(text)
    assert text[formula.low.start : formula.low.end] == text
    first = formula.low.items[0][1]
    assert text[first.start : first.end] == "(shelf depth - 3 mm)"


def test_a_lookup_that_fails_with_a_place_of_its_own_is_left_alone() -> None:
    elsewhere = parse("1/(1 - 1)")

    def lookup(name: Name) -> Quantity:
        return evaluate(elsewhere, lookup).low

    with pytest.raises(Exception, match="divided-by-zero at 0-9"):
        evaluate(parse("twelve characters + shelf"), lookup)


@pytest.mark.parametrize(
    "name",
    ["shelf depth", "post 2 width", "post 2a", "half-lap", "maker's mark", "foot", "a", "É2"],
)
def test_good_names_pass_and_read_back(name: str) -> None:
    assert check_name(name) == name
    assert names(parse(f"2 * {name} - {name}/2")) == {name}


plain_words = st.from_regex(r"[a-z][a-z0-9]{0,5}(-[a-z0-9]{1,3})?", fullmatch=True)
later_words = st.one_of(plain_words, st.from_regex(r"[0-9]{1,3}[a-z]?", fullmatch=True))


@given(plain_words, st.lists(later_words, max_size=3))
def test_a_name_that_passes_can_always_be_used(first: str, rest: list[str]) -> None:
    name = " ".join([first, *rest])
    try:
        check_name(name)
    except Exception:  # a reserved word or a unit; its refusal is tested elsewhere
        return
    assert names(parse(f"{name} + 2 * ({name})")) == {name}
    assert names(parse(f"half of width of {name}")) == {Property("width", name)}


lengths = st.fractions(min_value=0, max_value=3000, max_denominator=64)


@given(lengths)
def test_any_mixed_number_of_inches_reads_exactly(inches: Fraction) -> None:
    whole, rest = divmod(inches, 1)
    text = f"{whole} {rest} in" if rest else f"{whole} in"
    assert value(text).low.value == inches * Fraction("25.4")


@given(lengths, lengths, st.integers(1, 9))
def test_sums_agree_with_fractions(a: Fraction, b: Fraction, n: int) -> None:
    text = f"({a} mm + {b} in) * {n} - {a} mm / {n}"
    assert value(text).low.value == (a + b * Fraction("25.4")) * n - a / n


@given(st.decimals(min_value=0, max_value=10**6, places=4))
def test_decimals_are_never_floats(number_text: object) -> None:
    assert value(f"{number_text:f} mm").low.value == Fraction(str(number_text))
