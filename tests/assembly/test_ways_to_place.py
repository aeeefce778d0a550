"""Every way to say where a thing goes, with the exact place that it comes to.

The places are worked out by hand from the drawing below: a base of 40 by 30 by 2 mm with its left
front bottom corner at nought, a wall of 2 mm along its left edge, a fence of 2 mm along its back,
both 20 mm high; and a block of 10 by 6 by 2 mm, or a peg of 3 mm, that is joined to them.
"""

from __future__ import annotations

from fractions import Fraction
from math import cos, radians, sin
from pathlib import Path

import pytest

from patternpress.assembly.placing import Assembly, assemble
from patternpress.assembly.pose import DIRECTION
from patternpress.assembly.worked import work
from patternpress.design.phrases import PLACING
from patternpress.design.read import read_text

BENCH = """design: Bench
stock:
  board: {sheet: 2 mm}
  dowel: {rod: 3 mm}
parts:
  base:
    stock: board
    wide: 40 mm
    deep: 30 mm
    holes: {peg hole: {round: 3 mm, at: 12 mm from left and 8 mm from front}}
    grooves: {slot: {on: top, along: left, wide: 2 mm, deep: 1 mm, at: 20 mm from left}}
  wall: {stock: board, deep: 30 mm, high: 20 mm}
  fence: {stock: board, wide: 38 mm, high: 20 mm}
  block: {stock: board, wide: 10 mm, deep: 6 mm}
  panel: {stock: board, deep: 6 mm, high: 5 mm}
  peg: {stock: dowel, high: 9 mm}
marks:
  cross line: {on: top of base, line: 8 mm from left}
  long line: {on: top of base, line: 'centre, left to right'}
  spot: {on: top of base, point: 25 mm from left and 10 mm from front}
  shelf line: {on: right of wall, line: 11 mm from bottom}
steps:
  - step: Set up
    start: base
    join:
      wall: {bottom: against base, left: flush with base, front: flush with base}
      fence: {bottom: against base, left: against wall, back: flush with base}
  - step: Try
    join:
      THING: {PLACES}
"""


def assembled(thing: str, places: str) -> Assembly:
    text = BENCH.replace("THING", thing).replace("PLACES", places)
    reading = read_text(text, "bench.yaml", Path())
    assert [each.what for each in reading.problems] == []
    assert reading.book is not None
    return assemble(work(reading.book, reading.names))


def corner(thing: str, places: str) -> tuple[Fraction, ...]:
    """The least x, y and z of what was joined."""
    assembly = assembled(thing, places)
    assert [each.what for each in assembly.problems] == []
    placed = next(each for each in assembly.placed if each.piece == thing)
    body = assembly.bodies[placed.part]
    return tuple(-body.reach(placed.pose, DIRECTION[side]) for side in ("left", "front", "bottom"))


# What holds a block in the directions that a row does not speak of, at x = 3, y = 5 or z = 2.
X, Y, Z = "left: 3 mm inside base", "front: 5 mm inside base", "bottom: against base"

BLOCKS = [
    # touching
    ("against", f"{X}, {Y}, bottom: against base", (3, 5, 2)),
    ("against", f"{X}, {Y}, top: against bottom of base", (3, 5, -2)),
    ("against", f"left: against wall, {Y}, {Z}", (2, 5, 2)),
    ("against", f"right: against left of wall, {Y}, {Z}", (-10, 5, 2)),
    ("against", f"{X}, back: against fence, {Z}", (3, 22, 2)),
    ("loose against", f"{X}, {Y}, bottom: loose against base", (3, 5, 2)),
    ("loose against", f"{X}, {Y}, bottom: laid on base", (3, 5, 2)),
    # into a corner
    ("against", "left: against wall, back: against fence, bottom: against base", (2, 22, 2)),
    # flush
    ("flush", f"left: flush with base, front: flush with base, {Z}", (0, 0, 2)),
    ("flush", f"right: flush with base, back: flush with base, {Z}", (30, 24, 2)),
    ("flush", f"{X}, {Y}, top: flush with wall", (3, 5, 20)),
    ("flush", f"left: flush with right of wall, {Y}, {Z}", (2, 5, 2)),
    ("flush", f"left and front: flush with base, {Z}", (0, 0, 2)),
    # inset
    ("inside", f"left: 3 mm inside base, front: 5 mm inside base, {Z}", (3, 5, 2)),
    ("inside", f"right: 3 mm inside base, back: 5 mm inside base, {Z}", (27, 19, 2)),
    ("inside", f"{X}, {Y}, top: 4 mm inside wall", (3, 5, 16)),
    ("inside", f"left: inset 1.5 mm from base, {Y}, {Z}", (Fraction(3, 2), 5, 2)),
    # overhanging
    ("beyond", f"left: 3 mm beyond base, front: 5 mm beyond base, {Z}", (-3, -5, 2)),
    ("beyond", f"right: 3 mm beyond base, back: 1/3 mm beyond base, {Z}", (33, "73/3", 2)),
    ("beyond", f"right: overhanging base by 3 mm, {Y}, {Z}", (33, 5, 2)),
    # centred
    ("centred", f"left and right: centred on base, {Y}, {Z}", (15, 5, 2)),
    ("centred", f"left and right: centred on base, front and back: centred on base, {Z}",
     (15, 12, 2)),
    ("centred", f"{X}, front and back: centred on peg hole of base, {Z}", (3, 5, 2)),
    ("centred", f"left and right: centred on spot, front and back: centred on spot, {Z}",
     (20, 7, 2)),
    ("centred", f"{X}, front and back: centred on long line, {Z}", (3, 12, 2)),
    # at a distance
    ("from", f"left: 12 mm from left of base, {Y}, {Z}", (12, 5, 2)),
    ("from", f"right: 12 mm from right of base, {Y}, {Z}", (18, 5, 2)),
    ("from", f"left: 12 mm from right of wall, {Y}, {Z}", (14, 5, 2)),
    ("from", f"right: 1 mm from left of base, {Y}, {Z}", (-11, 5, 2)),
    ("from", f"{X}, {Y}, bottom: 7 mm from top of base", (3, 5, 9)),
    # on a mark
    ("on mark", f"left: on cross line, {Y}, {Z}", (8, 5, 2)),
    ("on mark", f"right: on cross line, {Y}, {Z}", (-2, 5, 2)),
    ("at mark", f"left: at cross line, {Y}, {Z}", (8, 5, 2)),
    ("on mark", f"{X}, {Y}, bottom: on shelf line", (3, 5, 13)),
    ("over mark", f"{X}, {Y}, bottom: over shelf line", (3, 5, 13)),
    ("under mark", f"{X}, {Y}, top: under shelf line", (3, 5, 11)),
    # square and at an angle
    ("turned", f"turned: 90 deg, {X}, {Y}, {Z}", (3, 5, 2)),
    ("turned", f"turned: 90 deg, right: flush with base, back: flush with base, {Z}", (34, 20, 2)),
    ("turned", f"turned: 180 deg, left: against wall, {Y}, {Z}", (2, 5, 2)),
]  # fmt: skip

OTHERS = [
    # in a hole: its middle is 12 mm from the left and 8 mm from the front; the peg is 3 mm thick
    ("in hole", "peg", "bottom: 'in peg hole of base, 1 mm deep'", ("21/2", "13/2", 1)),
    ("in hole", "peg", "bottom: in peg hole of base", ("21/2", "13/2", 0)),
    ("in hole", "peg", "top: 'in peg hole of base, 2 mm deep'", ("21/2", "13/2", -7)),
    ("loose in hole", "peg", "bottom: 'loose in peg hole of base, 1 mm deep'",
     ("21/2", "13/2", 1)),
    ("through hole", "peg", "bottom: through peg hole of base, top: 4 mm beyond base",
     ("21/2", "13/2", -3)),
    ("loose through hole", "peg", "bottom: loose through peg hole of base, top: 4 mm beyond base",
     ("21/2", "13/2", -3)),
    # in a groove: 2 mm wide from 20 mm on, 1 mm deep
    ("in hole", "panel", f"bottom: in slot of base, {Y}", (20, 5, 1)),
    ("loose in hole", "panel", f"bottom: loose in slot of base, {Y}", (20, 5, 1)),
]  # fmt: skip


def exact(place: tuple[object, ...]) -> tuple[Fraction, ...]:
    return tuple(Fraction(str(each)) for each in place)


@pytest.mark.parametrize(("how", "places", "place"), BLOCKS)
def test_a_block_comes_to_its_exact_place(how: str, places: str, place: tuple[object, ...]) -> None:
    assert corner("block", places) == exact(place), how


@pytest.mark.parametrize(("how", "thing", "places", "place"), OTHERS)
def test_a_peg_in_its_hole_and_a_panel_in_its_groove(
    how: str, thing: str, places: str, place: tuple[object, ...]
) -> None:
    assert corner(thing, places) == exact(place), how


def test_of_a_sub_assembly_the_piece_at_that_end_sits_in_the_middle_of_the_groove() -> None:
    """A panel with a block on its right side: the block is no part of what the groove holds."""
    built = """  - step: Build it
    builds: rib
    start: panel
    join:
      block: {left: against panel, front: flush with panel, top: flush with panel}
  - step: Try
"""
    text = BENCH.replace("  - step: Try\n", built)
    text = text.replace("marks:", "sub-assemblies: {rib: }\nmarks:", 1)
    text = text.replace("THING", "rib").replace("PLACES", f"bottom: in slot of base, {Y}")
    reading = read_text(text, "bench.yaml", Path())
    assert reading.book is not None
    assembly = assemble(work(reading.book, reading.names))
    assert [each.what for each in assembly.problems] == []
    panel = next(each for each in assembly.placed if each.piece == "panel")
    body = assembly.bodies["panel"]
    low = tuple(-body.reach(panel.pose, DIRECTION[side]) for side in ("left", "front", "bottom"))
    assert low == (20, 5, 1)


def test_no_way_of_placing_is_left_out() -> None:
    tried = {how for how, *_ in BLOCKS} | {how for how, *_ in OTHERS}
    assert {how for how, _ in PLACING} <= tried


@pytest.mark.parametrize("degrees", [30, 45, 12.5])
def test_what_is_turned_at_an_angle_is_placed_by_its_outermost_points(degrees: float) -> None:
    """Turned to the left, 10 by 6 mm: its box is 10 c + 6 s wide and 10 s + 6 c deep."""
    c, s = cos(radians(degrees)), sin(radians(degrees))
    sides = f"right: flush with base, back: flush with base, {Z}"
    found = corner("block", f"turned: {degrees} deg, {sides}")
    wanted = (40 - (10 * c + 6 * s), 30 - (10 * s + 6 * c), 2)
    assert [float(each) for each in found] == pytest.approx(wanted, abs=1e-6)


@pytest.mark.parametrize("degrees", [5, 30, 60])
def test_what_leans_is_placed_by_its_lowest_and_outermost_points(degrees: float) -> None:
    """Its back raised, 6 mm deep and 2 mm thick: it is 6 s + 2 c high and 6 c + 2 s deep."""
    c, s = cos(radians(degrees)), sin(radians(degrees))
    places = f"leans: back raised by {degrees} deg, {X}, {Y}, bottom: 7 mm from top of base"
    assembly = assembled("block", places)
    placed = next(each for each in assembly.placed if each.piece == "block")
    body = assembly.bodies["block"]
    far = {side: float(body.reach(placed.pose, way)) for side, way in DIRECTION.items()}
    wanted = {"left": -3, "front": -5, "bottom": -9, "right": 13}
    wanted |= {"back": 5 + 6 * c + 2 * s, "top": 9 + 6 * s + 2 * c}
    assert far == pytest.approx(wanted, abs=1e-6)


@pytest.mark.parametrize("degrees", [5, 15, 40])
@pytest.mark.parametrize("place", ["in peg hole of base, 1 mm deep", "through peg hole of base"])
@pytest.mark.parametrize(("toward", "way"), [("right", (1, 0)), ("front", (0, -1))])
def test_a_leaning_peg_runs_through_the_mouth_of_its_hole(
    degrees: float, place: str, toward: str, way: tuple[int, int]
) -> None:
    """The mouth is at (12, 8, 2); the peg is 9 mm long.  Depth is measured along the peg."""
    c, s = cos(radians(degrees)), sin(radians(degrees))
    through = place.startswith("through")
    # What goes through is held at its top: its highest point is the far rim of its end.
    above = ", top: 7 mm beyond base" if through else ""
    places = f"leans: top {degrees} deg to the {toward}, bottom: '{place}'{above}"
    assembly = assembled("peg", places)
    assert [each.what for each in assembly.problems] == []
    pose = next(each for each in assembly.placed if each.piece == "peg").pose
    end = [float(each) for each in pose.point((Fraction(3, 2), Fraction(3, 2), Fraction(0)))]
    deep = 9 - (7 - 1.5 * s) / c if through else 1
    wanted = (12 - way[0] * deep * s, 8 - way[1] * deep * s, 2 - deep * c)
    assert end == pytest.approx(wanted, abs=1e-6)


LEANING = """
sub-assemblies:
  easel:
steps:
  - step: Make the easel
    builds: easel
    start: block
    join:
      panel: {bottom: against block, left: flush with block, front: flush with block}
  - step: Lean it
    start: base
    join:
      easel:
        leans: back raised by DEGREES deg
        left: flush with base
        front: flush with base
        bottom: 1 mm from top of base
"""


@pytest.mark.parametrize("degrees", [20, 40])
def test_a_sub_assembly_leans_as_one(degrees: float) -> None:
    """A block 6 mm deep and 2 mm thick with a panel of 5 mm on it, along its left side."""
    text = BENCH[: BENCH.index("marks:")] + LEANING.replace("DEGREES", str(degrees))
    reading = read_text(text, "bench.yaml", Path())
    assert reading.book is not None
    assembly = assemble(work(reading.book, reading.names))
    assert [each.what for each in assembly.problems] == []
    c, s = cos(radians(degrees)), sin(radians(degrees))
    there = {each.piece: each for each in assembly.placed}

    def far(piece: str, side: str) -> float:
        placed = there[piece]
        return float(assembly.bodies[placed.part].reach(placed.pose, DIRECTION[side]))

    # The lowest point is the block's front bottom edge, 3 mm up; the foremost is the top front
    # edge of the panel, which is 7 mm above that and so leans 7 s out before it.
    assert far("block", "bottom") == pytest.approx(-3, abs=1e-6)
    assert far("panel", "front") == pytest.approx(0, abs=1e-6)
    assert far("block", "back") == pytest.approx(7 * s + 6 * c, abs=1e-6)
    assert far("panel", "top") == pytest.approx(3 + 7 * c + 6 * s, abs=1e-6)
    # The one still stands square on the other.
    assert there["block"].pose.matrix == there["panel"].pose.matrix
