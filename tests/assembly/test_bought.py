"""Things bought ready made: with sizes they are blocks like others, without they are signs."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from patternpress.assembly.extent import overall
from patternpress.assembly.model import Model, check, work_out
from patternpress.design.read import read_text
from patternpress.drawing.finished import finished_items
from patternpress.drawing.things import bulks_of

DOOR = """
design: Door
scale: 1:12
overall: 30 x DEEP mm x 40 mm
stock:
  board: {sheet: 2 mm, sold: 100 x 600 mm}
  brass knob: {bought: a small brass knob with a flat back, pack: 6}
parts:
  door:
    stock: board
    wide: 30 mm
    high: 40 mm
    holes:
      knob hole: {round: 1 mm, at: centre, deep: 1 mm, for: the knob}
  knob: {stock: brass knobSIZES}
tools: saw, pin vice
materials:
  glue: {kind: glue, workable: 5 min, handle: 30 min, hard: 24 h}
steps:
  - step: Glue the knob on
    treat: {drill: knob hole of door, with: pin vice}
    start: door
    join:
      knob: {back: WHERE}
    wait: {for: glue, until: hard}
editions:
  metric: {units: mm, paper: A4}
"""
FACE = "against door, left and right: centred on door, top and bottom: centred on door"


def door(deep: str, sizes: str, where: str) -> Model:
    text = DOOR.replace("DEEP", deep).replace("SIZES", sizes).replace("WHERE", where)
    reading = read_text(text, "door.yaml", Path())
    assert [each.kind.code for each in check(reading) if each.kind.level.value == "error"] == []
    return work_out(reading, "metric")


@pytest.mark.parametrize(
    ("deep", "sizes", "where", "drawn"),
    [
        ("6", ", wide: 3 mm, deep: 4 mm, high: 3 mm", FACE, {"door", "knob"}),
        ("2", "", "in knob hole of door", {"door"}),
    ],
)
def test_a_bought_thing_counts_in_the_finished_size_where_its_part_says_its_own(
    deep: str, sizes: str, where: str, drawn: set[str]
) -> None:
    made = door(deep, sizes, where)
    assert overall(made.assembly) == (30, Fraction(deep), 40)
    assert {each.piece for each in finished_items(made, bulks_of(made.worked))} == drawn


PLATE = """design: Hanger
hangs: yes
stock:
  board: {sheet: 18 mm, sold: 200 x 1000 mm, cut with: saw}
  brass screw: {bought: "brass screw, 3 x 12 mm", pack: 10}
  keyhole plate: {bought: a keyhole plate to be screwed on}
parts:
  back board:
    stock: board
    wide: 100 mm
    high: 300 mm
    holes:
      upper hole: {round: 2 mm, on: back, at: centred and 20 mm from top, deep: 10 mm}
      lower hole: {round: 2 mm, on: back, at: centred and 50 mm from top, deep: 10 mm}
  fixing: {stock: brass screw, pieces: [upper screw, lower screw]}
  hanger: {stock: keyhole plate, wide: 20 mm, deep: 2 mm, high: 40 mm}
tools: saw, drill, screwdriver
materials:
  glue: {kind: glue, workable: 5 min, handle: 30 min, hard: 24 h}
  oil: {kind: finish, handle: 12 h, hard: 24 h}
steps:
  - step: Oil it
    treat:
      - {drill: 'upper hole of back board, lower hole of back board', with: drill}
      - {oil: back board, with: oil}
    wait: {for: oil, until: hard}
  - step: Put the hanger on
    start: back board
    work lies: on its front
    uses: screwdriver
    join:
JOINS
"""
HANGER = (
    "hanger: {front: against back board, top: 15 mm inside back board, "
    "left and right: centred on back board}"
)
SCREWS = [f"{each} screw: {{front: 'in {each} hole of back board'}}" for each in ("upper", "lower")]


@pytest.mark.parametrize(
    ("joins", "then", "told"),
    [
        ([HANGER, *SCREWS], "", []),
        ([*SCREWS, HANGER], "", []),
        ([HANGER, *SCREWS], "wait: {for: glue, until: hard}", ["dyed-where-glued"]),
    ],
)
def test_a_plate_comes_before_the_screws_that_hold_it_and_takes_no_glue(
    joins: list[str], then: str, told: list[str]
) -> None:
    """Its screws were told to find no hole behind it, and it to be glued on oil."""
    lines = "\n".join(f"      {each}" for each in joins) + (f"\n    {then}" if then else "")
    found = check(read_text(PLATE.replace("JOINS", lines), "hanger.yaml", Path()))
    assert [each.code for each in found if each.code != "material-unused"] == told
