"""Weight, standing, room to slide, and room to swell: the figures behind the warnings."""

from __future__ import annotations

import math
from fractions import Fraction
from pathlib import Path

import numpy as np
import pytest
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st

from patternpress.assembly.bulks import bulks_of
from patternpress.assembly.checks.standing import mass, weight_of
from patternpress.assembly.convex import Bulk, bulk, penetration, placed
from patternpress.assembly.model import check
from patternpress.assembly.placing import assemble
from patternpress.assembly.solid import box
from patternpress.assembly.travel import room_ahead
from patternpress.assembly.woods import wood_of
from patternpress.assembly.worked import Worked, work
from patternpress.design.read import read_design, read_text
from tests.assembly.test_solids import mesh

DESIGNS = Path(__file__).parents[2] / "designs"
FAULTS = Path(__file__).parent / "faults"


def fault(name: str) -> str:
    """A wrong example."""
    return (FAULTS / f"{name}.yaml").read_text("utf-8")


def told(text: str) -> list[str]:
    return [each.code for each in check(read_text(text, "design.yaml", FAULTS))]


# ------------------------------------------------------------------ weight


@pytest.mark.parametrize("demo", ["keepers-desk", "signal-shelf"])
def test_a_whole_piece_weighs_what_a_mesh_library_says(demo: str) -> None:
    """trimesh gets each part's facets once, and moves, weighs and adds them up by itself."""
    reading = read_design(DESIGNS / f"{demo}.yaml")
    assert reading.book is not None
    worked = work(reading.book, reading.names)
    assembly = assemble(worked)
    bulks = bulks_of(worked, assembly)
    sized = [each for each in assembly.placed if bulks.part(each.part) is not None]
    total, sums = 0.0, np.zeros(3)
    for each in sized:
        part = bulks.part(each.part)
        assert part is not None
        whole = mesh(part.solid)
        pose = np.eye(4)
        pose[:3, :3] = [[float(x) for x in row] for row in each.pose.matrix]
        pose[:3, 3] = [float(x) for x in each.pose.offset]
        whole.apply_transform(pose)
        assert isinstance(whole, trimesh.Trimesh)
        weight = abs(whole.volume) * weight_of(worked, each.part)
        total += weight
        sums += weight * whole.center_mass
    found = [bulks.of(each) for each in sized]
    ours = mass([b for b in found if b], [weight_of(worked, each.part) for each in sized])
    assert ours[0] == pytest.approx(total, rel=1e-6)
    assert ours[1] == pytest.approx(tuple(sums / total), abs=1e-5)


def stock(wood: str) -> Worked:
    reading = read_text(
        f"design: D\nstock:\n  s: {{sheet: 2 mm, wood: {wood}}}\nparts:\n"
        "  p: {stock: s, wide: 9 mm, deep: 9 mm}\nsteps:\n  - step: S\n    start: p\n",
        "d.yaml",
        FAULTS,
    )
    assert reading.book is not None
    return work(reading.book, reading.names)


@pytest.mark.parametrize(
    ("wood", "swells"),
    [
        # Wood Handbook (FPL-GTR-190), table 13-5, tangential.
        ("basswood", "0.00330"),
        ("lime (basswood)", "0.00330"),
        ("Limewood", "0.00330"),
        ("black cherry", "0.00248"),
        ("walnut", "0.00274"),
        ("sugar maple", "0.00353"),
        ("birch", "0.00338"),
        ("red oak", "0.00369"),
        ("beech", "0.00431"),
        ("white ash", "0.00274"),
        ("alder", "0.00256"),
        ("aspen", "0.00234"),
        ("white fir", "0.00245"),
        ("birch plywood", "0"),
        ("oak ply", "0"),
        ("washed teak", None),
        ("firm card", None),
    ],
)
def test_woods_swell_as_the_handbook_says(wood: str, swells: str | None) -> None:
    found = wood_of(stock(wood).book.stock[0])
    assert (found.swells if found else None) == (Fraction(swells) if swells else None)


def test_the_handbooks_worked_example() -> None:
    """White fir, 232 mm wide, from 8 to 11 %: it grows by 1.7 mm (Wood Handbook, page 13-17)."""
    found = wood_of(stock("white fir").book.stock[0])
    assert found is not None
    assert round(float(232 * found.swells * 3), 1) == 1.7


# ------------------------------------------------------------------ standing


def test_what_hangs_on_a_wall_need_not_stand() -> None:
    text = fault("falls-over")
    assert told(text) == ["falls-over"]
    assert told(text + "hangs: yes\n") == []
    assert told(text + "hangs: no\n") == ["falls-over"]


def test_a_heavier_foot_holds_it() -> None:
    """Of oak, the foot is nearly twice as heavy as a picture of lime; then less will do."""
    lean = fault("falls-over").replace("35 deg", "28 deg")
    assert told(lean.replace("28 deg", "24 deg")) == []
    assert told(lean) == ["falls-over"]
    heavy = lean.replace("board: {sheet: 2 mm}", "board: {sheet: 2 mm, wood: basswood}")
    heavy = heavy.replace("parts:", "  oak board: {sheet: 2 mm, wood: oak}\nparts:")
    assert told(heavy.replace("foot: {stock: board", "foot: {stock: oak board")) == []


# ------------------------------------------------------------------ room to slide


def blocks(*places: tuple[float, float, float]) -> list[Bulk]:
    return [placed(bulk(box(4, 4, 4)), UPRIGHT, place) for place in places]


UPRIGHT = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))


def test_room_to_the_nearest() -> None:
    (moving,) = blocks((0, 0, 0))
    others = blocks((10, 0, 0), (7, 4, 0), (6.5, 3.9, 0), (-9, 0, 0))
    assert room_ahead([moving], others, (1, 0, 0)) == pytest.approx(2.5)
    assert room_ahead([moving], others, (-1, 0, 0)) == pytest.approx(5)
    assert room_ahead([moving], others, (0, 0, 1)) is None
    # It touches on the left: no room there, and nothing in its way to the right.
    assert room_ahead([moving], blocks((-4, 0, 0)), (-1, 0, 0)) == 0
    assert room_ahead([moving], blocks((-4, 0, 0)), (1, 0, 0)) is None


turns = st.tuples(*(st.floats(-3, 3) for _ in range(3)))


def turned(angles: tuple[float, float, float]) -> tuple[tuple[float, float, float], ...]:
    c, s = [math.cos(a) for a in angles], [math.sin(a) for a in angles]
    x = np.array([[1, 0, 0], [0, c[0], -s[0]], [0, s[0], c[0]]])
    y = np.array([[c[1], 0, s[1]], [0, 1, 0], [-s[1], 0, c[1]]])
    z = np.array([[c[2], -s[2], 0], [s[2], c[2], 0], [0, 0, 1]])
    return tuple((float(a), float(b), float(d)) for a, b, d in x @ y @ z)


@settings(max_examples=60)
@given(turns, turns, st.floats(-4, 4), st.floats(-4, 4))
def test_room_is_where_the_clash_test_first_finds_wood(
    one: tuple[float, float, float], two: tuple[float, float, float], y: float, z: float
) -> None:
    """The clash test is the independent way: just before there is no clash, just after there is."""
    moving = placed(bulk(box(4, 3, 2)), turned(one), (0, 0, 0))  # type: ignore[arg-type]
    other = placed(bulk(box(5, 3, 4)), turned(two), (20, y, z))  # type: ignore[arg-type]
    room = room_ahead([moving], [other], (1, 0, 0))
    if room is None:
        steps = np.arange(0, 40, 0.5)
        assert not any(penetration(at(moving, float(far)), other, 0.2) for far in steps)
        return
    assert penetration(at(moving, room - 1e-3), other) is None
    assert penetration(at(moving, room + 1e-3), other, 1e-9) is not None


def at(moving: Bulk, far: float) -> Bulk:
    return placed(moving, UPRIGHT, (far, 0, 0))


@pytest.mark.parametrize(
    ("wide", "scale", "codes"),
    [
        ("29 mm", "1:12", []),
        ("28.9 mm", "1:12", ["moving-piece-slack"]),
        ("28.9 mm", "1:6", ["moving-piece-slack"]),
        ("28.9 mm", "1:5", []),
        ("27 mm", "1:1", []),
        ("26.9 mm", "1:1", ["moving-piece-slack"]),
    ],
)
def test_how_much_room_a_drawer_may_have(wide: str, scale: str, codes: list[str]) -> None:
    text = fault("moving-piece-slack").replace("wide: 28 mm", f"wide: {wide}")
    text = text.replace("scale: 1:12", f"scale: {scale}")
    text = text.replace("deep: 30 mm, high: 10 mm", "deep: 30 mm, high: 6.5 mm")
    assert told(text) == codes


# ------------------------------------------------------------------ room to swell


@pytest.mark.parametrize(
    ("old", "new", "codes"),
    [
        ("", "", ["wood-moves"]),
        ("deep: 60 mm", "deep: 56 mm", []),  # 56 x 0.0033 x 4 = 0.739 mm
        ("deep: 60 mm", "deep: 57 mm", ["wood-moves"]),  # 0.752 mm
        ("scale: 1:12", "scale: 1:1", []),  # full size bears 1 mm
        ("lime (basswood)", "teak", []),
        ("lime (basswood)", "birch plywood", []),
        ("wide: 80 mm, deep: 60 mm}", "wide: 80 mm, deep: 60 mm, grain: front to back}", []),
        ("wide: 80 mm, deep: 60 mm}", "wide: 80 mm, deep: 60 mm, grain: any}", []),
        ("top: against table top", "top: loose against table top", []),
    ],
)
def test_when_crosswise_grain_is_told(old: str, new: str, codes: list[str]) -> None:
    text = fault("wood-moves").replace(old, new) if old else fault("wood-moves")
    assert told(text) == codes


def test_a_side_and_a_floor_swell_together() -> None:
    """The grain of a cupboard runs round the corner: no joint is wider than the board's edge."""
    text = """design: D
stock: {b: {sheet: 12 mm, wood: oak}}
parts:
  side: {stock: b, deep: 300 mm, high: 600 mm, grain: up and down}
  floor: {stock: b, wide: 400 mm, deep: 300 mm, grain: left to right}
steps:
  - step: S
    start: floor
    join:
      side: {right: against floor, bottom: flush with floor, front: flush with floor}
"""
    assert told(text) == []
    assert told(text.replace("grain: left to right", "grain: front to back")) == ["wood-moves"]
