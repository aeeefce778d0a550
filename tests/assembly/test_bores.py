"""Holes that lean, as solids: the mouth on the face, the walls along the drill, the floor square to
it.  Held against the rod that goes in, not against the code that cuts."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest

from patternpress.assembly.model import Model, work_out
from patternpress.assembly.solid import Solid, edges
from patternpress.design.read import read_text
from patternpress.drawing.things import bulks_of, items_of

RAIL = """design: Rail
hangs: yes
stock:
  board: {sheet: 6 mm}
  rod: {rod: 3 mm}
parts:
  rail:
    stock: board
    wide: 60 mm
    high: 24 mm
    holes: {peg hole: {HOLE}}
  peg: {stock: rod, PEG}
steps:
  - step: Drill it
    start: rail
    treat:
      - drill: rail
  - step: Glue the peg in
    join:
      peg: {JOIN}
"""
FRONT = ("deep: 20 mm, leans: front raised by 20 deg", "back: in peg hole of rail")
BACK = ("deep: 20 mm, leans: back raised by 20 deg", "front: in peg hole of rail")
TOP = ("high: 20 mm, leans: top 8 deg to the right", "bottom: in peg hole of rail")
RADIUS = 1.5
# A chord of the mouth may lie so far outside the rod, mm.
STRAY = 0.06


def model(hole: str, peg: tuple[str, str]) -> Model:
    text = RAIL.replace("HOLE", hole).replace("PEG", peg[0]).replace("JOIN", peg[1])
    reading = read_text(text, "rail.yaml", Path())
    assert [each.what for each in reading.problems] == []
    return work_out(reading, "metric")


def placed(hole: str, peg: tuple[str, str]) -> tuple[Solid, Solid]:
    """The rail and the peg where they sit."""
    made = model(hole, peg)
    items = items_of(made, bulks_of(made.worked), made.assembly.placed)
    found = {each.part: each.solid for each in items}
    return found["rail"], found["peg"]


def axis_of(peg: Solid) -> tuple[np.ndarray, np.ndarray]:
    """A place on the middle line of a rod, and its way: between the middles of its ends."""
    one, two = sorted(
        (np.mean([peg.points[n] for n in each.loops[0]], axis=0) for each in peg.facets
         if len(each.loops[0]) > 4),
        key=tuple,
    )  # fmt: skip
    return one, (two - one) / np.linalg.norm(two - one)


def off_axis(solid: Solid, peg: Solid) -> dict[tuple[float, float, float], float]:
    """How far the corners of holes are from the middle line of the rod: those near it."""
    at, way = axis_of(peg)
    found = {}
    for point in solid.points:
        far = float(np.linalg.norm(np.cross(np.array(point) - at, way)))
        if far < 2 * RADIUS:
            found[point] = far
    return found


@pytest.mark.parametrize("peg", [FRONT, BACK], ids=["from the front", "from the back"])
def test_a_bore_right_through_holds_its_rod_on_both_faces(peg: tuple[str, str]) -> None:
    """It was upright behind its mouth: a rod came out beside its hole."""
    rail, rod = placed("round: 3 mm, at: centre", peg)
    rims = off_axis(rail, rod)
    fronts = sorted({round(point[1], 6) for point in rims})
    assert len(fronts) == 2
    for level in fronts:
        rim = [far for point, far in rims.items() if abs(point[1] - level) < 1e-6]
        assert len(rim) >= 8
        assert min(rim) >= RADIUS - 1e-6
        assert max(rim) <= RADIUS + STRAY
    middles = [np.mean([p for p in rims if abs(p[1] - y) < 1e-6], axis=0) for y in fronts]
    shifted = abs(middles[0][2] - middles[1][2])
    assert shifted == pytest.approx(6 * math.tan(math.radians(20)), abs=0.02)


def test_a_bore_that_ends_in_the_wood_is_as_deep_along_itself_and_square_there() -> None:
    rail, rod = placed("round: 3 mm, at: centre, deep: 3 mm", FRONT)
    _, way = axis_of(rod)
    (floor,) = (each for each in rail.facets if abs(abs(np.dot(each.normal, way)) - 1) < 1e-6)
    assert floor.side == ""
    base = np.array(rail.points[floor.loops[0][0]])
    middle = np.array([30.0, min(p[1] for p in rail.points), 12.0])
    assert abs(np.dot(base - middle, way)) == pytest.approx(3, abs=1e-6)
    assert min(off_axis(rail, rod).values()) >= RADIUS - 1e-6


def test_a_bore_into_an_edge_leans_as_well() -> None:
    rail, rod = placed("round: 3 mm, on: top, at: centre, deep: 6 mm", TOP)
    rims = off_axis(rail, rod)
    rim = {point: far for point, far in rims.items() if abs(point[2] - 24) < 1e-6}
    assert len(rim) >= 8
    assert min(rims.values()) >= RADIUS - 1e-6
    assert max(rims.values()) <= RADIUS + STRAY
    across = max(p[0] for p in rim) - min(p[0] for p in rim)
    assert across == pytest.approx(3 / math.cos(math.radians(8)), abs=2 * STRAY)


@pytest.mark.parametrize(
    ("hole", "peg"),
    [
        ("round: 3 mm, at: centre", FRONT),
        ("round: 3 mm, at: centre, deep: 3 mm", BACK),
        ("round: 3 mm, on: top, at: centre, deep: 6 mm", TOP),
        ("round: 3 mm, at: 8 mm from left and centred, row: {toward: right, every: 9 mm, "
         "quantity: 4}", FRONT),
    ],
    ids=["through", "blind", "edge", "row"],
)  # fmt: skip
def test_the_wood_round_bores_is_closed(hole: str, peg: tuple[str, str]) -> None:
    rail, _ = placed(hole, peg)
    assert all(each.left is not None and each.right is not None for each in edges(rail))
