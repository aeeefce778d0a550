"""Drills against the US tables and BS 328."""

from fractions import Fraction
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from patternpress.measure.drills import advise, drills, nearest_drill
from patternpress.measure.errors import MeasureError
from patternpress.measure.inches import MM_PER_INCH
from patternpress.measure.quantity import length
from patternpress.measure.rounding import round_half_even
from tests.measure.data_drills import LETTERS, METRIC, NUMBERS

ALL = ("number", "letter", "fractional", "metric", "tenths")
MM_TO_FOUR = Fraction(1, 10**4)


def test_the_number_table_is_complete() -> None:
    ours = {drill.name: drill.diameter_mm for drill in drills("number")}
    assert ours == {
        f"No. {number}": Fraction(inches) * MM_PER_INCH for number, (inches, _) in NUMBERS.items()
    }
    for number, (_, mm) in NUMBERS.items():
        assert abs(ours[f"No. {number}"] - Fraction(mm)) <= MM_TO_FOUR / 2


def test_the_letter_table_is_complete() -> None:
    ours = {drill.name: drill.diameter_mm for drill in drills("letter")}
    assert ours == {
        f"letter {letter}": Fraction(inches) * MM_PER_INCH
        for letter, (inches, _) in LETTERS.items()
    }
    for letter, (_, mm) in LETTERS.items():
        assert abs(ours[f"letter {letter}"] - Fraction(mm)) <= MM_TO_FOUR / 2


def test_the_metric_series_has_the_rhythm_of_bs_328() -> None:
    ours = [drill.diameter_mm for drill in drills("metric")]
    assert [size for size in ours if size <= Fraction("6.5")] == [Fraction(mm) for mm in METRIC]
    for mm, inches in METRIC.items():
        assert round_half_even(Fraction(mm) / MM_PER_INCH, Fraction(1, 10**5)) == Fraction(inches)
    assert ours[-1] == 13
    assert {b - a for a, b in pairwise(ours) if a >= 3} == {Fraction(1, 10)}


def test_the_fractional_series_is_every_64th_to_a_half() -> None:
    series = drills("fractional")
    assert [d.diameter_mm for d in series] == [length(f"{n}/64 in") for n in range(1, 33)]
    assert [d.name for d in series][:4] == ["1/64 in", "1/32 in", "3/64 in", "1/16 in"]


@pytest.mark.parametrize("series", ALL)
def test_every_series_rises_without_doubles(series) -> None:
    sizes = [drill.diameter_mm for drill in drills(series)]
    assert all(a < b for a, b in pairwise(sizes))
    assert len({drill.name for drill in drills(series)}) == len(sizes)


# Bounds between the series, US drill tables (unitplanet.com).
def test_the_series_meet_where_the_tables_say() -> None:
    by_name = {drill.name: drill.diameter_mm for series in ALL for drill in drills(series)}
    assert by_name["No. 1"] < by_name["letter A"]
    assert by_name["letter Z"] < by_name["27/64 in"]
    assert by_name["letter E"] == by_name["1/4 in"]
    assert by_name["3/32 in"] < by_name["2.5 mm"] < by_name["No. 41"] + length("0.0025 in")
    assert by_name["2.5 mm"] > by_name["No. 40"] > by_name["3/32 in"]
    assert nearest_drill(by_name["No. 7"], "metric").name == "5.1 mm"
    assert nearest_drill(length("3/8 in"), "metric").name == "9.5 mm"


@given(st.fractions(min_value=Fraction("0.4"), max_value=Fraction("5.7"), max_denominator=1000))
def test_the_nearest_is_never_farther_than_half_the_local_step(diameter: Fraction) -> None:
    for series in ("number", "fractional", "metric", "tenths"):
        found = nearest_drill(diameter, series)
        assert found.error == found.diameter_mm - diameter
        assert all(
            abs(other.diameter_mm - diameter) >= abs(found.error) for other in drills(series)
        )


def test_of_two_equally_near_the_thinner_is_taken() -> None:
    found = nearest_drill(Fraction("1.35"), "tenths")
    assert (found.name, found.error) == ("1.3 mm", Fraction("-0.05"))
    assert nearest_drill(length("3/128 in"), "fractional").name == "1/64 in"


# Common practice, no source: a 1.5 mm bit is sold as 1/16 in.
def test_a_bit_of_one_and_a_half_is_sold_as_a_sixteenth() -> None:
    first, beside = advise(Fraction("1.5"), "in")
    assert first.name == "1/16 in"
    assert first.error == Fraction("0.0875")
    # Nearer, for a maker who owns the set: 0.0595 in.
    assert (beside.name, beside.error) == ("No. 53", Fraction("0.0113"))
    assert [drill.name for drill in advise(Fraction("1.5"), "mm")] == ["1.5 mm"]


def test_a_number_drill_is_named_only_where_it_is_nearer() -> None:
    assert [drill.name for drill in advise(length("1/16 in"), "in")] == ["1/16 in"]
    # Half way between 5/64 in (0.078125) and No. 47 (0.0785): equally near, so the fraction alone.
    tie = length("0.0783125 in")
    assert [drill.name for drill in advise(tie, "in")] == ["5/64 in"]
    names = [drill.name for drill in advise(tie + Fraction(1, 10**6), "in")]
    assert names == ["5/64 in", "No. 47"]


def test_where_nothing_is_sold_nothing_is_advised() -> None:
    assert advise(Fraction(14), "mm") == ()
    assert advise(Fraction(14), "in") == ()
    assert [drill.name for drill in advise(Fraction("6.35"), "in")] == ["1/4 in"]
    with pytest.raises(MeasureError) as caught:
        nearest_drill(Fraction(14), "fractional")
    assert caught.value.code == "no-drill"
    assert caught.value.facts == {"thinnest": "1/64 in", "thickest": "1/2 in"}
