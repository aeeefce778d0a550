"""Stepped holes: a wide one that does not go through, and a narrow one from its floor on."""

from __future__ import annotations

from math import pi
from pathlib import Path

import pytest

from patternpress.assembly.model import check, work_out
from patternpress.assembly.solid import volume
from patternpress.assembly.solids import solid_of
from patternpress.design.read import Reading, read_text

RAIL = """design: Rail
hangs: yes
stock:
  board: {sheet: 18 mm, sold: 200 x 1000 mm, cut with: saw}
parts:
  rail:
    stock: board
    wide: 200 mm
    high: 60 mm
    holes:
      recess: {WIDE}
      screw hole: {NARROW}
tools: saw, drill
steps:
  - step: Drill it
    start: rail
    treat: {drill: rail, with: drill}
"""
WIDE = "round: 10 mm, at: 30 mm from left, deep: 5 mm"
NARROW = "round: 4 mm, at: 30 mm from left"
PLATE = "window: 20 x 40 mm, on: back, at: 30 mm from left, deep: 2 mm"
ROW = ", row: {toward: right, every: 60 mm, quantity: 3}"


def read(wide: str, narrow: str) -> Reading:
    text = RAIL.replace("WIDE", wide).replace("NARROW", narrow)
    return read_text(text, "rail.yaml", Path())


@pytest.mark.parametrize(
    ("wide", "narrow", "sound"),
    [
        (WIDE, NARROW, True),
        (WIDE + ROW, NARROW + ROW, True),
        (WIDE, NARROW + ", deep: 12 mm", True),
        (PLATE, "round: 2 mm, on: back, at: 30 mm from left and 15 mm from top, deep: 10 mm", True),
        (WIDE, NARROW + ", deep: 5 mm", False),  # nothing is left of it
        (WIDE, NARROW + ", on: back, deep: 14 mm", False),  # drilled from the other face
        (WIDE.replace(", deep: 5 mm", ""), NARROW, False),
        (WIDE, NARROW.replace("30", "34"), False),  # it cuts the rim
    ],
)
def test_a_narrow_hole_goes_on_from_the_floor_of_a_wide_one(
    wide: str, narrow: str, sound: bool
) -> None:
    found = check(read(wide, narrow))
    assert [each.code for each in found] == ([] if sound else ["shape-fault"])
    assert all("“recess” and “screw hole” run into each other" in each.what for each in found)


def test_the_solid_of_a_stepped_hole_has_a_step() -> None:
    """18 mm through: 5 mm of 10 mm across, then 13 mm of 4 mm across."""
    made = work_out(read(WIDE, NARROW), "metric")
    part = made.worked.parts[0]
    solid = solid_of(part, made.worked.shapes[part.name], made.worked.solver)
    gone = 5 * pi * 5**2 + 13 * pi * 2**2
    assert volume(solid) == pytest.approx(200 * 60 * 18 - gone, abs=6)
