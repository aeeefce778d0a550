"""Paper against ISO 216 and the US sizes."""

from fractions import Fraction

import pytest

from patternpress.measure.errors import MeasureError
from patternpress.measure.papers import PAPERS, common_area, paper

# ISO 216:2007; US sizes from ASME Y14.1 and its public tables, mm exact from the inch.
SIZES = [
    ("A3", "297", "420"),
    ("A4", "210", "297"),
    ("A5", "148", "210"),
    ("Letter", "215.9", "279.4"),
    ("Legal", "215.9", "355.6"),
    ("Tabloid", "279.4", "431.8"),
]

# The same table's points, 1/72 in.
POINTS = [("Letter", 612, 792), ("Legal", 612, 1008), ("Tabloid", 792, 1224)]


@pytest.mark.parametrize(("name", "width", "height"), SIZES)
def test_sizes(name: str, width: str, height: str) -> None:
    sheet = paper(name)
    assert (sheet.width, sheet.height) == (Fraction(width), Fraction(height))
    assert sheet.source
    assert len(PAPERS) == len(SIZES)


@pytest.mark.parametrize(("name", "width", "height"), POINTS)
def test_us_sizes_in_points(name: str, width: int, height: int) -> None:
    sheet = paper(name)
    assert (sheet.width * 72 / Fraction("25.4"), sheet.height * 72 / Fraction("25.4")) == (
        width,
        height,
    )


# ISO 216: the next size's long side is this one's short side, its short side half the long one.
def test_each_iso_size_is_half_the_one_before() -> None:
    for larger, smaller in (("A3", "A4"), ("A4", "A5")):
        assert paper(smaller).height == paper(larger).width
        assert paper(smaller).width == paper(larger).height // 2


def test_the_area_common_to_a4_and_letter() -> None:
    # A quarter-inch margin is a common unprintable edge: 197.3 × 266.7 mm.
    assert common_area(Fraction("6.35")) == (Fraction("197.3"), Fraction("266.7"))
    assert common_area(Fraction(0)) == (Fraction(210), Fraction("279.4"))
    for margin in (Fraction(-1), Fraction(105)):
        with pytest.raises(MeasureError, match="bad-margin"):
            common_area(margin)


def test_names_without_capitals_and_unknown_ones() -> None:
    assert paper("letter") is PAPERS["Letter"]
    with pytest.raises(MeasureError) as caught:
        paper("A2")
    assert caught.value.code == "unknown-paper"
    assert "A4" in caught.value.facts["known"]
