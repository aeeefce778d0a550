"""Enough stock: never too few, and the layout behind the number is replayed piece by piece."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import box

from patternpress.assembly.cutparts import CutPart
from patternpress.cutting.enough import (
    Spot,
    length_spots,
    lengths_enough,
    sheet_spots,
    sheets_enough,
)
from patternpress.measure.quantity import Kind, Quantity
from tests.whole.small import model

MM = st.fractions(min_value=1, max_value=120, max_denominator=64)
KERF = st.sampled_from([Fraction(0), Fraction(3, 10), Fraction(2)])
ALLOWANCE = st.sampled_from([Fraction(0), Fraction(1, 5), Fraction(3)])
SOLD = (Fraction(100), Fraction(300))
BASE = next(part for part in model().worked.parts if part.name == "base")


def part(
    letter: str, along: Fraction, across: Fraction, quantity: int, grain: bool = True
) -> CutPart:
    """A part of the small design, with other figures."""
    extents = {
        "wide": Quantity(along, Kind.LENGTH),
        "deep": Quantity(across, Kind.LENGTH),
        "high": Quantity(Fraction(2), Kind.LENGTH),
    }
    return replace(BASE, letter=letter, quantity=quantity, extents=extents, grain=grain)


@st.composite
def some_parts(draw: st.DrawFn) -> list[CutPart]:
    count = draw(st.integers(1, 6))
    return [
        part(chr(65 + n), draw(MM), min(draw(MM), SOLD[0]), draw(st.integers(1, 7)))
        for n in range(count)
    ]


def rectangles(spots: tuple[Spot, ...], kerf: Fraction) -> dict[int, list[tuple[Fraction, ...]]]:
    """Left, low, right and high edge of each piece by sheet, the kerf added to two edges."""
    found: dict[int, list[tuple[Fraction, ...]]] = {}
    for spot in spots:
        edges = (
            spot.side,
            spot.start,
            spot.side + spot.across + kerf,
            spot.start + spot.along + kerf,
        )
        found.setdefault(spot.number, []).append(edges)
    return found


def overlap(one: tuple[Fraction, ...], other: tuple[Fraction, ...]) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


@settings(deadline=None)
@given(some_parts(), KERF, ALLOWANCE)
def test_sheets_replayed(parts: list[CutPart], kerf: Fraction, allowance: Fraction) -> None:
    spots = sheet_spots(parts, SOLD, kerf, allowance)
    assert Counter(spot.letter for spot in spots) == {p.letter: p.quantity for p in parts}
    sizes = {p.letter: (p.extents["wide"].value, p.extents["deep"].value) for p in parts}
    for spot in spots:
        assert (spot.along, spot.across) >= sizes[spot.letter]
        assert spot.start >= 0 <= spot.side
        assert spot.start + spot.along <= SOLD[1]
        assert spot.side + spot.across <= SOLD[0]
    for sheet in rectangles(spots, kerf).values():
        for number, one in enumerate(sheet):
            assert not any(overlap(one, other) for other in sheet[:number])
    assert sheets_enough(parts, SOLD, kerf, allowance) == len({spot.number for spot in spots})


@settings(deadline=None)
@given(some_parts(), KERF, ALLOWANCE)
def test_never_fewer_sheets_than_their_area(
    parts: list[CutPart], kerf: Fraction, allowance: Fraction
) -> None:
    areas = (p.quantity * p.extents["wide"].value * p.extents["deep"].value for p in parts)
    least = math.ceil(sum(areas) / (SOLD[0] * SOLD[1]))
    assert sheets_enough(parts, SOLD, kerf, allowance) >= least


@settings(deadline=None)
@given(some_parts(), KERF, ALLOWANCE)
def test_lengths_replayed(parts: list[CutPart], kerf: Fraction, allowance: Fraction) -> None:
    spots = length_spots(parts, SOLD[1], kerf, allowance)
    assert Counter(spot.letter for spot in spots) == {p.letter: p.quantity for p in parts}
    for number in {spot.number for spot in spots}:
        end = Fraction(0)
        for spot in sorted((s for s in spots if s.number == number), key=lambda s: s.start):
            assert spot.start >= end
            end = spot.start + spot.along + kerf
        assert end - kerf <= SOLD[1]
    # Martello & Toth's first lower bound, with a kerf after each piece: Knapsack Problems, 8.3.
    total = sum(p.quantity * (p.extents["wide"].value + kerf) for p in parts)
    count = lengths_enough(parts, SOLD[1], kerf, allowance)
    assert count >= math.ceil(total / (SOLD[1] + kerf))


def test_the_layout_agrees_with_a_geometry_library() -> None:
    """Shapely's areas: the pieces of each sheet together cover as much as all of them alone."""
    parts = [part("A", Fraction(120), Fraction(30), 5), part("B", Fraction(65), Fraction(45), 6)]
    spots = sheet_spots(parts, SOLD, Fraction(0))
    for number in {spot.number for spot in spots}:
        boxes = [
            box(float(s.side), float(s.start), float(s.side + s.across), float(s.start + s.along))
            for s in spots
            if s.number == number
        ]
        union = boxes[0]
        for each in boxes[1:]:
            union = union.union(each)
        assert union.area == pytest.approx(sum(each.area for each in boxes))
        assert box(0, 0, 100, 300).covers(union)


# Kerf: n pieces take n - 1 cuts where the end is used up (5 × 195 + 4 × 2 = 983 ≤ 1000).
KERFS = [(5, "195", "2", "1000", 1), (5, "195", "7", "1000", 2), (4, "25", "0", "100", 1)]


@pytest.mark.parametrize(("count", "along", "kerf", "sold", "lengths"), KERFS)
def test_kerf_between_pieces_only(
    count: int, along: str, kerf: str, sold: str, lengths: int
) -> None:
    parts = [part("A", Fraction(along), Fraction(4), count)]
    assert lengths_enough(parts, Fraction(sold), Fraction(kerf)) == lengths


def test_what_cannot_fit_gives_no_number() -> None:
    assert sheets_enough([part("A", Fraction(301), Fraction(5), 1)], SOLD, Fraction(0)) == 0
    assert sheets_enough([part("A", Fraction(90), Fraction(101), 1)], SOLD, Fraction(0)) == 0
    assert lengths_enough([part("A", Fraction(301), Fraction(5), 1)], SOLD[1], Fraction(0)) == 0


def test_without_grain_a_piece_is_turned_where_only_that_fits() -> None:
    across = part("A", Fraction(90), Fraction(250), 1, grain=False)
    (spot,) = sheet_spots([across], SOLD, Fraction(0))
    assert (spot.along, spot.across) == (250, 90)
    assert sheets_enough([replace(across, grain=True)], SOLD, Fraction(0)) == 0


def test_an_allowance_takes_room_but_never_refuses_a_full_sheet() -> None:
    full = [part("A", SOLD[1], SOLD[0], 1)]
    assert sheets_enough(full, SOLD, Fraction(0), Fraction(1, 5)) == 1
    halves = [part("A", SOLD[1], Fraction(50), 2)]
    assert sheets_enough(halves, SOLD, Fraction(0)) == 1
    assert sheets_enough(halves, SOLD, Fraction(0), Fraction(1, 5)) == 2
