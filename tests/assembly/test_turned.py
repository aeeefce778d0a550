"""Sub-assemblies that are turned as they are joined."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from patternpress.assembly.model import check, work_out
from patternpress.design.read import read_text

STAND = """design: Stand
scale: 1:12
stock:
  board: {sheet: 2 mm}
parts:
  base: {stock: board, wide: 40 mm, deep: 40 mm}
  wall: {stock: board, wide: 20 mm, high: 16 mm}
  wing: {stock: board, deep: 8 mm, high: 16 mm}
sub-assemblies:
  screen: {copies: [first screen, second screen]}
steps:
  - step: Build the screens
    builds: screen
    start: wall
    join:
      wing: {front: against wall, left: flush with wall, bottom: flush with wall}
    wait: 1 h
  - step: Set them up
    start: base
    join:
      first screen: {bottom: against base, left: flush with base, front: flush with base}
      second screen:
        turned: TURN
        bottom: against base
        right: flush with base
        front: flush with base
    wait: 1 h
"""


def corners(turn: str) -> dict[str, tuple[Fraction, ...]]:
    """The low corner of the box of each piece, and what the checks say of the design: nothing."""
    reading = read_text(STAND.replace("TURN", turn), "stand.yaml", Path())
    assert [each.what for each in check(reading)] == []
    assembly = work_out(reading, "metric").assembly
    ways = ((-1, 0, 0), (0, -1, 0), (0, 0, -1))
    return {
        each.key: tuple(
            -assembly.bodies[each.part].reach(each.pose, tuple(map(Fraction, way)))  # type: ignore[arg-type]
            for way in ways
        )
        for each in assembly.placed
    }


@pytest.mark.parametrize(
    ("turn", "wall", "wing"),
    [
        # The wall is 20 wide and 2 deep, the wing 2 wide and 8 deep behind its left end.
        ("0 deg", (20, 0, 2), (20, 2, 2)),
        # To the left: the wall runs to the back, the wing off to the left from its front end.
        ("90 deg", (38, 0, 2), (30, 0, 2)),
        ("180 deg", (20, 8, 2), (38, 0, 2)),
        ("-90 deg", (30, 0, 2), (32, 18, 2)),
    ],
)
def test_a_turned_sub_assembly_is_placed_by_the_sides_it_then_has(
    turn: str, wall: tuple[int, ...], wing: tuple[int, ...]
) -> None:
    found = corners(turn)
    assert found["second screen/wall"] == wall
    assert found["second screen/wing"] == wing
    assert found["first screen/wall"] == (0, 0, 2)


def test_what_is_no_angle_is_told() -> None:
    reading = read_text(STAND.replace("TURN", "9 mm"), "stand.yaml", Path())
    assert [each.code for each in check(reading)] == ["wrong-kind"]
