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
