"""Unit words: every one exact, whatever floats Pint keeps elsewhere."""

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from patternpress.measure.errors import MeasureError
from patternpress.measure.units import SIGNS, UNIT_WORDS, convert, is_unit
from patternpress.measure.values import Kind

# International yard and pound agreement, 1959: yard 0.9144 m, pound 0.45359237 kg, both exact.
# The rest is the SI Brochure: minute, hour, day, litre.
EXACT = [
    ("mm", Kind.LENGTH, "1"),
    ("cm", Kind.LENGTH, "10"),
    ("m", Kind.LENGTH, "1000"),
    ("in", Kind.LENGTH, "25.4"),
    ("inch", Kind.LENGTH, "25.4"),
    ("inches", Kind.LENGTH, "25.4"),
    ("″", Kind.LENGTH, "25.4"),
    ('"', Kind.LENGTH, "25.4"),
    ("ft", Kind.LENGTH, "304.8"),
    ("′", Kind.LENGTH, "304.8"),
    ("thou", Kind.LENGTH, "0.0254"),
    ("deg", Kind.ANGLE, "1"),
    ("degrees", Kind.ANGLE, "1"),
    ("°", Kind.ANGLE, "1"),
    ("min", Kind.TIME, "1"),
    ("minutes", Kind.TIME, "1"),
    ("h", Kind.TIME, "60"),
    ("hours", Kind.TIME, "60"),
    ("days", Kind.TIME, "1440"),
    ("g", Kind.MASS, "1"),
    ("kg", Kind.MASS, "1000"),
    ("oz", Kind.MASS, "28.349523125"),
    ("ml", Kind.VOLUME, "1"),
    ("l", Kind.VOLUME, "1000"),
]


@pytest.mark.parametrize(("word", "kind", "size"), EXACT)
def test_a_unit_has_its_exact_size(word: str, kind: Kind, size: str) -> None:
    one = convert(Fraction(1), word)
    assert (one.kind, one.value, one.exact) == (kind, Fraction(size), True)
    assert isinstance(one.value, Fraction)


@given(st.sampled_from(sorted(UNIT_WORDS | set(SIGNS))), st.fractions(max_denominator=10**6))
def test_every_word_converts_straight_and_without_floats(word: str, times: Fraction) -> None:
    one, many = convert(Fraction(1), word), convert(times, word)
    assert many.value == times * one.value
    assert type(many.value) is Fraction
    # A float that crept in would leave a power of two of fifty digits below the line.
    assert one.value.denominator <= 10**9


def test_capitals_do_not_matter() -> None:
    assert convert(Fraction(3), "MM") == convert(Fraction(3), "mm")
    assert is_unit("Inches")
    assert not is_unit("post")


@pytest.mark.parametrize(
    ("word", "near"), [("mn", "mm"), ("inchs", "inches"), ("degres", "degrees")]
)
def test_an_unknown_unit_names_the_near_ones(word: str, near: str) -> None:
    with pytest.raises(MeasureError) as caught:
        convert(Fraction(1), word)
    assert caught.value.code == "unknown-unit"
    assert near in caught.value.facts["near"].split(", ")


def test_nothing_pint_knows_beyond_our_table_is_taken() -> None:
    for word in ("furlong", "parsec", "mil", "pt", "kilothou"):
        with pytest.raises(MeasureError, match="unknown-unit"):
            convert(Fraction(1), word)
