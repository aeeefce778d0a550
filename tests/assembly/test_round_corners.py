"""Pieces that a hand brings round a corner: under a lid that is there, then into a hole."""

from __future__ import annotations

from pathlib import Path

import pytest

from patternpress.design.read import read_design
from patternpress.desk.rooms import check

UNDER = """
design: Peg under a lid
stock:
  board: {sheet: 4 mm, sold: 100 x 600 mm, cut with: razor saw}
  wire: {rod: 1.5 mm, sold: 300 mm, cut with: razor saw}
parts:
  floor:
    stock: board
    wide: 40 mm
    deep: 20 mm
    holes: {peg hole: {round: 1.5 mm, at: centre, deep: 2.5 mm, on: top}}
  side: {stock: board, deep: 20 mm, high: ROOM, pieces: [left side, right side]}
  lid: {stock: board, wide: 40 mm, deep: 20 mm}
WALL_PARTS  peg: {stock: wire, high: 5 mm}
tools: razor saw, pin vice
materials:
  wood glue: {kind: glue, workable: 5 to 10 min, handle: 30 min, hard: 24 h}
steps:
  - step: Glue it
    treat: {drill: peg hole of floor, with: pin vice}
    start: floor
    join:
      left side: {bottom: against floor, left: flush with floor, front: flush with floor}
      right side: {bottom: against floor, right: flush with floor, front: flush with floor}
      lid: {bottom: against left side, left: flush with left side, front: flush with left side}
      WALLS
    wait: {for: wood glue, until: handle}
  - step: Put the peg in
    join:
      peg: {bottom: in peg hole of floor}
    wait: {for: wood glue, until: handle}
"""
FRONT = "front wall: {bottom: against floor, left: against left side, front: flush with floor}"
BACK = "back wall: {bottom: against floor, left: against left side, back: flush with floor}"
FLAP = (
    "front wall: {bottom: loose against floor, left: 4 mm from left of floor, front: flush with "
    "floor, opens: DEGREES deg to the front about bottom front edge of front wall}"
)


@pytest.mark.parametrize(
    ("room", "walls", "shut"),
    [
        ("50 mm", (), False),  # from the front or the back, then down
        ("50 mm", (FRONT,), False),
        ("50 mm", (FRONT, BACK), True),  # a closed box
        ("50 mm", (FLAP.replace("DEGREES", "90"), BACK), False),  # through the open flap
        ("50 mm", (FLAP.replace("DEGREES", "5"), BACK), True),
        ("5 mm", (), False),  # 2.5 mm of it stand out of the hole, and it is lifted by as much
        ("4.9 mm", (), True),
    ],
)
def test_a_peg_is_put_in_round_a_corner(
    tmp_path: Path, room: str, walls: tuple[str, ...], shut: bool
) -> None:
    design = tmp_path / "peg.yaml"
    parts = "".join(
        f"  {each.partition(':')[0]}: {{stock: board, wide: 32 mm, high: ROOM - 1 mm}}\n"
        for each in walls
    )
    text = UNDER.replace("WALL_PARTS", parts).replace("WALLS", "\n      ".join(walls))
    design.write_text(text.replace("ROOM", room))
    found = [each for each in check(read_design(design)) if each.is_error]
    assert [(each.code, each.facts["piece"]) for each in found] == [("cannot-go-in", "peg")] * shut
