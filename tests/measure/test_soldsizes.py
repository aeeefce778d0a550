"""Thicknesses in the shops, and their nearest in the other system."""

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from patternpress.measure.soldsizes import nearest_sold, sold_sizes

# Nearest equals of plywood, msd.com.ua "plywood dimensions".
PLY = [
    ("0.8", "1/32 in"),
    ("1.2", "1/16 in"),
    ("1.5", "1/16 in"),
    ("2", "3/32 in"),
    ("3", "1/8 in"),
    ("4", "5/32 in"),
    ("5", "3/16 in"),
    ("6", "1/4 in"),
    ("8", "5/16 in"),
    ("9", "3/8 in"),
    ("12", "1/2 in"),
    ("12.5", "1/2 in"),
]

# How far the pairs differ, worked out from 25.4 mm: they are not interchangeable.
DIFFERS = [
    ("3", "1/8 in", "0.175"),
    ("1.5", "1/16 in", "0.0875"),
    ("6", "1/4 in", "0.35"),
    ("2.5", "3/32 in", "-0.11875"),
    ("5", "3/16 in", "-0.2375"),
]


@pytest.mark.parametrize(("mm", "name"), PLY)
def test_plywood_equals(mm: str, name: str) -> None:
    assert nearest_sold(Fraction(mm), "in", "ply").name == name


@pytest.mark.parametrize(("mm", "name", "differs"), DIFFERS)
def test_sheet_and_strip_equals_and_their_difference(mm: str, name: str, differs: str) -> None:
    found = nearest_sold(Fraction(mm), "in")
    assert (found.name, found.differs_mm) == (name, Fraction(differs))
    assert found.mm == Fraction(mm) + Fraction(differs)


@pytest.mark.parametrize("system", ["mm", "in"])
@pytest.mark.parametrize("stuff", ["sheet", "ply", "timber"])
def test_every_row_rises_and_finds_itself(system, stuff) -> None:
    row = sold_sizes(system, stuff)
    assert all(a.mm < b.mm for a, b in pairwise(row))
    assert [nearest_sold(size.mm, system, stuff) for size in row] == list(row)


@given(st.fractions(min_value=0, max_value=12, max_denominator=100))
def test_nothing_in_the_row_is_nearer(thickness: Fraction) -> None:
    found = nearest_sold(thickness, "mm")
    assert all(abs(found.differs_mm) <= abs(size.mm - thickness) for size in sold_sizes("mm"))


def test_timber_is_named_as_yards_write_it() -> None:
    """Common practice, no source."""
    names = [each.name for each in sold_sizes("in", "timber")]
    assert names[2:8] == ["3/4 in", "7/8 in", "1 in", "1 1/4 in", "1 1/2 in", "1 3/4 in"]
    assert nearest_sold(Fraction(19), "in", "timber").name == "3/4 in"


def test_of_two_equally_near_the_thinner_is_taken() -> None:
    assert nearest_sold(Fraction("4.5"), "mm").name == "4 mm"
