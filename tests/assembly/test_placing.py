"""Placing: four unlike pieces, each with exactly one place; what too little and too much say."""

# ruff: noqa: E501 - joins read best one to a line

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from patternpress.assembly.placing import Assembly, assemble
from patternpress.assembly.worked import work
from patternpress.design.read import read_text

HERE = Path(__file__).parent


def placed(text: str) -> Assembly:
    reading = read_text(text, "piece.yaml", HERE)
    assert [p.what for p in reading.problems if p.is_error] == []
    assert reading.book is not None
    return assemble(work(reading.book, reading.names))


def offsets(assembly: Assembly) -> dict[str, tuple[float, ...]]:
    return {p.key: tuple(round(float(x), 6) for x in p.pose.offset) for p in assembly.placed}


STOCK = """
scale: 1:12
stock:
  board: {sheet: 2 mm}
  thick board: {sheet: 3 mm}
  strip: {strip: 3 x 3 mm}
  rod: {rod: 2 mm}
"""

CUPBOARD = (
    "design: Lamp-oil cupboard"
    + STOCK
    + """
sizes:
  height: 72 mm
  width: 56 mm
  depth: 26 mm
  inside width: width - 2 * thickness of board
parts:
  side: {stock: board, high: height, deep: depth, pieces: {left side: , right side: mirrored left to right}}
  bottom board: {stock: board, wide: inside width, deep: depth}
  shelf: {stock: board, wide: inside width, deep: depth - thickness of board}
  back: {stock: board, wide: inside width, high: height}
steps:
  - step: Case
    start: bottom board
    join:
      left side: {right: against bottom board, front: flush with bottom board, bottom: 4 mm beyond bottom board}
      right side: {left: against bottom board, front: flush with left side, bottom: flush with left side}
      back: {left: against left side, right: against right side, back: flush with left side, top: flush with left side}
      shelf: {left: against left side, right: against right side, back: against back, bottom: 20 mm from top of bottom board}
"""
)


def test_a_carcass_has_one_place_for_every_piece() -> None:
    assembly = placed(CUPBOARD)
    assert assembly.problems == ()
    assert offsets(assembly) == {
        "bottom board": (0, 0, 0),
        "left side": (-2, 0, -4),
        # Mirrored left to right: its own left end lies at x = 52, so its frame starts at 54.
        "right side": (54, 0, -4),
        "back": (0, 24, -4),
        "shelf": (0, 0, 22),
    }


STOOL = (
    "design: Net mender's stool"
    + STOCK
    + """
parts:
  seat: {stock: thick board, wide: 30 mm, deep: 26 mm}
  leg:
    stock: strip
    high: 34 mm
    leans: foot 8 deg to the left and 6 deg to the front
    ends: {top: level, bottom: level}
    pieces:
      front left leg: as drawn
      front right leg: mirrored left to right
      back left leg: mirrored front to back
      back right leg: mirrored both ways
marks:
  front left point: {on: bottom of seat, point: 5 mm from left and 5 mm from front}
  front right point: {on: bottom of seat, point: 5 mm from right and 5 mm from front}
  back left point: {on: bottom of seat, point: 5 mm from left and 5 mm from back}
  back right point: {on: bottom of seat, point: 5 mm from right and 5 mm from back}
steps:
  - step: Legs
    start: seat
    mark: front left point, front right point, back left point, back right point
    join:
      front left leg: {top: against seat, left and right: centred on front left point, front and back: centred on front left point}
      front right leg: {top: against seat, left and right: centred on front right point, front and back: centred on front right point}
      back left leg: {top: against seat, left and right: centred on back left point, front and back: centred on back left point}
      back right leg: {top: against seat, left and right: centred on back right point, front and back: centred on back right point}
"""
)


def test_splayed_legs_have_one_place_and_stand_level() -> None:
    assembly = placed(STOOL)
    assert assembly.problems == ()
    feet = [
        min(p.pose.point(corner)[2] for corner in assembly.bodies["leg"].corners)
        for p in assembly.placed
        if p.part == "leg"
    ]
    assert len(feet) == 4
    assert max(feet) - min(feet) < Fraction(1, 10**12)


def test_splayed_legs_are_mirror_images() -> None:
    by_name = {p.piece: p for p in placed(STOOL).placed}
    left, right = by_name["front left leg"], by_name["front right leg"]
    assert float(left.pose.offset[0] + right.pose.offset[0]) == pytest.approx(30, abs=1e-9)
    assert left.pose.offset[1:] == right.pose.offset[1:]


def test_a_splayed_leg_is_centred_where_it_meets_the_seat() -> None:
    """A maker marks where the top goes; the foot lands where the angle takes it."""
    assembly = placed(STOOL)
    leg = next(p for p in assembly.placed if p.piece == "front left leg")
    corners = [leg.pose.point(corner) for corner in assembly.bodies["leg"].corners]
    highest = max(z for _, _, z in corners)
    top = [corner for corner in corners if corner[2] > highest - Fraction(1, 10**9)]
    assert len(top) == 4
    for axis in (0, 1):
        assert (min(c[axis] for c in top) + max(c[axis] for c in top)) / 2 == 5
    assert min(x for x, _, _ in corners) < 0


@pytest.mark.parametrize(
    ("cut", "ways"),
    [
        ("front: flush with left side, ", "front to back"),
        (", bottom: flush with left side", "up and down"),
    ],
)
def test_too_little_said_tells_the_way_that_is_free(cut: str, ways: str) -> None:
    problems = placed(CUPBOARD.replace(cut, "", 1)).problems
    told = next((p.code, p.facts["piece"], p.facts["ways"]) for p in problems)
    assert told == ("too-little-said", "right side", ways)


def test_a_wrong_size_is_told_with_the_difference_in_both_units() -> None:
    wrong = CUPBOARD.replace(
        "wide: inside width, high: height", "wide: inside width - 1 mm, high: height"
    )
    (problem,) = placed(wrong).problems
    assert problem.code == "said-two-ways"
    assert problem.facts["piece"] == "back"
    assert problem.facts["by"] == "1 mm (0.039 in)"


def test_a_square_end_does_not_lie_flat_under_a_seat() -> None:
    problems = placed(STOOL.replace("    ends: {top: level, bottom: level}\n", "")).problems
    assert {p.code for p in problems} == {"faces-not-flat"}
    # tan² of the angle is the sum of both tan²: 0.019751 + 0.011047, whose root is tan 9.95°.
    assert problems[0].facts["angle"] == "10.0 degrees"
