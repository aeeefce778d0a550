"""Holes in edges that are not whole: how deep they go, and where what sits in them ends."""

from __future__ import annotations

import math
from fractions import Fraction
from pathlib import Path

import pytest

from patternpress.assembly.bulks import bulks_of
from patternpress.assembly.model import Model, check, work_out
from patternpress.assembly.pose import ZERO, Vector
from patternpress.assembly.realedge import corner_is_cut, set_back
from patternpress.assembly.solid import volume
from patternpress.design.read import Reading, read_text

LID = """design: Lid
stock:
  board: {sheet: 4 mm}
  rod: {rod: 2 mm}
parts:
  lid:
    stock: board
    wide: 40 mm
    deep: 30 mm
    SHAPE
    holes: {pin hole: {round: 2 mm, on: back, at: PLACE, deep: 4 mm}}
  pin: {stock: rod, deep: 10 mm}
tools:
  hand drill:
steps:
  - step: Set the pin
    start: lid
    treat: {drill: pin hole of lid, with: hand drill}
    join:
      pin: {front: in pin hole of lid}
    wait: 1 h
"""


def reading_of(shape: str, place: str = "5 mm from left") -> Reading:
    text = LID.replace("SHAPE", shape).replace("PLACE", place)
    return read_text(text, "lid.yaml", Path())


def made(shape: str, place: str = "5 mm from left") -> Model:
    reading = reading_of(shape, place)
    assert [each.what for each in check(reading)] == []
    return work_out(reading, "metric")


def pin_from(model: Model) -> Fraction:
    """Where the front end of the pin is, from the front of the lid."""
    return next(each for each in model.assembly.placed if each.key == "pin").pose.offset[1]


@pytest.mark.parametrize(
    ("shape", "place", "behind"),
    [
        ("corners: {back right: notch 8 x 6 mm}", "5 mm from left", Fraction(0)),
        ("corners: {back left: notch 8 x 6 mm}", "5 mm from left", Fraction(6)),
        # A corner cut off by 8 mm across and 6 mm up: at 4 mm across, half of it is left to cut.
        ("corners: {back left: cut off 8 x 6 mm}", "4 mm from left", Fraction(3)),
        ("edges: {back: hollowed 3 mm}", "centre", Fraction(3)),
    ],
)
def test_a_hole_begins_where_the_wood_does(shape: str, place: str, behind: Fraction) -> None:
    """The lid is 30 mm deep, and the hole 4 mm: so far in from the real edge the pin ends."""
    assert pin_from(made(shape, place)) == pytest.approx(30 - behind - 4, abs=1e-3)


def test_as_much_wood_is_drilled_out_as_the_hole_says() -> None:
    for shape, rest in (
        ("grain: left to right", 1200),
        ("corners: {back left: notch 8 x 6 mm}", 1152),
    ):
        model = made(shape)
        solid = bulks_of(model.worked, model.assembly).of(model.assembly.placed[0])
        assert solid is not None
        # A drill of 2 mm takes out a cylinder; its flattened circle lies outside by up to 0.02 mm.
        drilled = 4 * rest - volume(solid.solid)
        assert drilled == pytest.approx(math.pi * 4, rel=0.05)


def test_it_breaks_out_by_what_is_really_there() -> None:
    """A notch 28 mm deep leaves 2 mm of the 30, and the hole wants 4."""
    (problem,) = check(reading_of("corners: {back left: notch 8 x 28 mm}"))
    assert problem.code == "hole-breaks-out"
    assert problem.facts["by"].startswith(", by 2 mm")


def test_all_holes_of_a_row_go_in_from_their_side() -> None:
    row = "5 mm from left, row: {toward: right, every: 10 mm, quantity: 3}"
    model = made("grain: left to right", row)
    solid = bulks_of(model.worked, model.assembly).of(model.assembly.placed[0])
    assert solid is not None
    floors = [y for _, y, _ in solid.solid.points if 1 < y < 29]
    assert floors
    assert {round(y, 6) for y in floors} == {26.0}


def test_the_side_of_a_broad_face_is_never_behind() -> None:
    model = made("corners: {back left: notch 8 x 6 mm}")
    lid = next(each for each in model.worked.parts if each.name == "lid")
    shape = model.worked.shapes["lid"]
    place: Vector = (Fraction(2), Fraction(29), ZERO)
    assert [set_back(lid, shape, side, place) for side in ("top", "left", "back")] == [0, 8, 6]
    assert corner_is_cut(lid, shape, "back", "left")
    assert corner_is_cut(lid, shape, "left", "back")
    assert not corner_is_cut(lid, shape, "back", "right")
    assert not corner_is_cut(lid, None, "back", "left")


@pytest.mark.parametrize(
    ("at", "told"),
    [
        ("1 mm from left", "breaks out at its side: no wood is left there"),
        ("0.5 mm from left", "breaks out at its side, by 0.5 mm (0.020 in)"),
    ],
)
def test_a_hole_that_leaves_no_wood_is_told_in_words(at: str, told: str) -> None:
    """The hole is 2 mm across: 1 mm from the end its edge lies on the end."""
    (problem,) = check(reading_of("grain: left to right", at))
    assert problem.what == f"the hole “pin hole” in “lid” {told}"


def test_a_depth_that_is_a_sum_is_told_with_what_it_comes_to() -> None:
    text = LID.replace("SHAPE", "grain: left to right").replace("on: back, at: PLACE", "at: centre")
    text = text.replace("deep: 4 mm}}", "deep: depth of pin / 2}}")
    problems = check(read_text(text, "lid.yaml", Path()))
    assert problems[0].what == (
        "a hole in “lid” is 5 mm (depth of pin / 2) deep, and the part is only 4 mm thick there"
    )
