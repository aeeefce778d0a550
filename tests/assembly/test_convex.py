"""Clashes, contacts and ways out, against closed forms and against the library manifold3d."""

from __future__ import annotations

import math
from functools import cache

import manifold3d
import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from patternpress.assembly.contacts import (
    AXES,
    Contact,
    contact_area,
    slide_out,
    touching_area,
)
from patternpress.assembly.convex import Bulk, bulk, clashes, penetration, placed
from patternpress.assembly.solid import UNTURNED, Matrix, Vec, box, moved
from tests.assembly.solid_samples import bulk_named, solid_named

MITRED = 5 * 2**0.5 * 3
LEFT, RIGHT = (-1.0, 0.0, 0.0), (1.0, 0.0, 0.0)
FRONT, BACK = (0.0, -1.0, 0.0), (0.0, 1.0, 0.0)
DOWN, UP = (0.0, 0.0, -1.0), (0.0, 0.0, 1.0)
# A quarter turn about z, x to y; about x, y to z; about y, z to x; and a mirror left to right.
QUARTER_Z: Matrix = ((0.0, -1.0, 0.0), (1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
QUARTER_X: Matrix = ((1.0, 0.0, 0.0), (0.0, 0.0, -1.0), (0.0, 1.0, 0.0))
QUARTER_Y: Matrix = ((0.0, 0.0, 1.0), (0.0, 1.0, 0.0), (-1.0, 0.0, 0.0))
# Mirrored in the plane of the batten's left end, x + y = 5, with the offset (5, 5, 0).
MITRE: Matrix = ((0.0, -1.0, 0.0), (-1.0, 0.0, 0.0), (0.0, 0.0, 1.0))
MIRROR: Matrix = ((-1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))


def about_z(degrees: float) -> Matrix:
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return ((c, -s, 0.0), (s, c, 0.0), (0.0, 0.0, 1.0))


def block(size: Vec, at: Vec = (0, 0, 0), turn: Matrix = UNTURNED) -> Bulk:
    return placed(bulk(box(*size)), turn, at)


def at(name: str, offset: Vec = (0, 0, 0), turn: Matrix = UNTURNED) -> Bulk:
    return placed(bulk_named(name), turn, offset)


def as_manifold(thing: Bulk) -> manifold3d.Manifold:
    """The hulls of a thing as one solid of the library."""
    return manifold3d.Manifold.batch_boolean(
        [manifold3d.Manifold.hull_points(each.points) for each in thing.hulls],
        manifold3d.OpType.Add,
    )


@cache
def manifold_named(name: str) -> manifold3d.Manifold:
    return as_manifold(bulk_named(name))


def library_at(name: str, offset: Vec, turn: Matrix) -> manifold3d.Manifold:
    return manifold_named(name).transform(np.column_stack([np.array(turn), offset]))


# ------------------------------------------------------------------ boxes

length = st.integers(1, 400).map(lambda n: n / 8)
place = st.integers(-400, 400).map(lambda n: n / 8)
sizes = st.tuples(length, length, length)
places = st.tuples(place, place, place)


@given(sizes, places, sizes, places)
def test_boxes_share_exactly_what_their_intervals_share(
    size_a: Vec, at_a: Vec, size_b: Vec, at_b: Vec
) -> None:
    shared = [
        min(p + s, q + t) - max(p, q) for p, s, q, t in zip(at_a, size_a, at_b, size_b, strict=True)
    ]
    found = penetration(block(size_a, at_a), block(size_b, at_b))
    if min(shared) <= 0:
        assert found is None
        return
    assert found is not None
    assert found.depth == min(shared)
    assert all(
        max(p, q) < w < min(p + s, q + t)
        for p, s, q, t, w in zip(at_a, size_a, at_b, size_b, found.where, strict=True)
    )


@given(sizes, st.integers(0, 2), st.sampled_from((-1, 1)), st.integers(1, 30))
def test_the_way_out_leads_out(size: Vec, axis: int, sign: int, share: int) -> None:
    """Pushed into an equal block along one axis, it comes out the way it went in."""
    shift = [0.0, 0.0, 0.0]
    deep = min(size) * share / 64
    shift[axis] = sign * (size[axis] - deep)
    one, two = block(size, (shift[0], shift[1], shift[2])), block(size)
    found = penetration(one, two)
    assert found is not None
    assert found.depth == pytest.approx(deep, rel=1e-9)
    way = tuple(float(sign * (i == axis)) for i in range(3))
    assert found.direction == way
    out = placed(one, UNTURNED, tuple(d * found.depth for d in found.direction))  # type: ignore[arg-type]
    assert penetration(out, two) is None


def turn_of(quaternion: tuple[float, ...]) -> Matrix:
    w, x, y, z = quaternion
    n = w * w + x * x + y * y + z * z
    s = 2 / n
    return (
        (1 - s * (y * y + z * z), s * (x * y - z * w), s * (x * z + y * w)),
        (s * (x * y + z * w), 1 - s * (x * x + z * z), s * (y * z - x * w)),
        (s * (x * z - y * w), s * (y * z + x * w), 1 - s * (x * x + y * y)),
    )


quarter = st.floats(-1, 1)
turns = st.tuples(quarter, quarter, quarter, quarter).filter(lambda q: sum(v * v for v in q) > 0.1)
small = st.tuples(*(st.floats(1, 20) for _ in range(3)))
near = st.tuples(*(st.floats(-15, 15) for _ in range(3)))


@settings(max_examples=150)
@given(small, turns, small, turns, near)
def test_turned_boxes_agree_with_a_solid_library(
    size_a: Vec, turn_a: tuple[float, ...], size_b: Vec, turn_b: tuple[float, ...], offset: Vec
) -> None:
    one = block(size_a, (0, 0, 0), turn_of(turn_a))
    two = block(size_b, offset, turn_of(turn_b))
    shared = (as_manifold(one) ^ as_manifold(two)).volume()
    found = penetration(one, two)
    assume(found is None or found.depth > 1e-4)
    if found is None:
        assert shared < 1e-4
    else:
        assert shared > 0
        # What is shared is no thinner anywhere than its width along the separating axis allows.
        assert shared <= found.depth * 35 * 35


def test_edge_against_edge() -> None:
    """Two square bars, each on edge and crossing the other: only edge × edge tells the gap."""
    half = 2**0.5 / 2
    low: Matrix = ((1, 0, 0), (0, half, -half), (0, half, half))
    high: Matrix = ((0, -half, half), (1, 0, 0), (0, half, half))
    one = block((20, 4, 4), (-10, 0, 0), low)
    top = 4 * 2**0.5
    for gap, clash in ((1e-3, False), (1e-7, False), (-1e-3, True), (-0.5, True)):
        found = penetration(one, block((20, 4, 4), (0, -10, top + gap), high))
        assert (found is not None) is clash
        if found is not None:
            assert found.depth == pytest.approx(-gap, abs=1e-9)
            assert abs(found.direction[2]) == pytest.approx(1)


def test_all_pairs() -> None:
    things = [block((10, 10, 10), (9.5 * n, 0, 0)) for n in range(4)] + [block((1, 1, 1))]
    found = [(i, j, round(each.depth, 9)) for i, j, each in clashes(things)]
    assert found == [(0, 1, 0.5), (0, 4, 1.0), (1, 2, 0.5), (2, 3, 0.5)]
    assert clashes(things[:1]) == ()


def test_a_hollow_solid_needs_its_blocks() -> None:
    with pytest.raises(ValueError, match="not convex"):
        bulk(solid_named("notched"))
    with pytest.raises(ValueError, match="not convex"):
        bulk(solid_named("pierced"))


# ------------------------------------------------------------------ pairs of parts

# Name, where, turn, name, whether they share wood.  The second stands at the origin, unturned.
PAIRS: list[tuple[str, Vec, Matrix, str, bool]] = [
    # A 3 mm peg through the 3 mm eye at (8, 17) of a 2 mm board: an exact fit.
    ("peg", (6.5, -5, 15.5), UNTURNED, "drilled", False),
    ("peg", (6.55, -5, 15.5), UNTURNED, "drilled", True),
    ("peg", (6.5, -5, 15.4), UNTURNED, "drilled", True),
    ("peg", (6.5, 2, 15.5), UNTURNED, "drilled", False),
    # In the 4 mm sink at (20, 13), 0.75 mm deep: down to its floor, and beyond.
    ("peg", (18.5, -11.25, 11.5), UNTURNED, "drilled", False),
    ("peg", (18.5, -11.2, 11.5), UNTURNED, "drilled", True),
    # The sink from the back, 0.5 mm deep.
    ("peg", (28.5, 1.5, 11.5), UNTURNED, "drilled", False),
    ("peg", (28.5, 1.4, 11.5), UNTURNED, "drilled", True),
    # A 2 mm board in the 2 mm groove of a 6 mm side, from 10 mm up, 1.5 mm deep.
    ("plain flat", (4.5, 0, 10), UNTURNED, "grooved", False),
    ("plain flat", (4.4, 0, 10), UNTURNED, "grooved", True),
    ("plain flat", (4.5, 0, 10.1), UNTURNED, "grooved", True),
    # In the stopped groove, 1 mm deep from 4 mm behind the front.
    ("plain flat", (5, 4, 30), UNTURNED, "grooved", False),
    ("plain flat", (5, 3.9, 30), UNTURNED, "grooved", True),
    # A board's tongue in the front groove of another: 2.5 mm deep, 2 mm to 4 mm from the top.
    ("plain flat", (0, -17.5, 2), UNTURNED, "tongued", False),
    ("plain flat", (0, -17.4, 2), UNTURNED, "tongued", True),
    # A disc of 20 mm through a window of 12 × 8; a batten of 5 × 3 upright in the window.
    ("disc", (10, 5, 0), UNTURNED, "pierced", True),
    ("batten", (15, 13, 40), QUARTER_Y, "pierced", False),
    ("batten", (14, 13, 40), QUARTER_Y, "pierced", True),
    ("batten", (13.5, 13, 40), QUARTER_Y, "pierced", True),
    # A disc of radius 10 rolled up to a block, and a hair too far; beside a rounded corner.
    ("disc", (-20, 0, 0), UNTURNED, "plain flat", False),
    ("disc", (-19.99, 0, 0), UNTURNED, "plain flat", True),
    # A peg of radius 1.5 in the hollow of radius 6 whose centre is the corner (40, 25).
    ("peg", (35.5, -5, 23.5), UNTURNED, "scooped", False),
    ("peg", (34.2, -5, 23.5), UNTURNED, "scooped", False),
    ("peg", (33.5, -5, 23.5), UNTURNED, "scooped", True),
    # In the notch of 5 × 3 at the top front; the corner of a square post fits exactly.
    ("post", (0, 1, 22), UNTURNED, "notched", False),
    ("post", (0, 1.1, 22), UNTURNED, "notched", True),
    # Two mitred battens make a corner, longest sides outside.
    ("mitred batten", (5, 0, 0), QUARTER_Z, "mitred batten", True),
    ("mitred batten", (5, 5, 0), MITRE, "mitred batten", False),
    ("mitred batten", (5.01, 5, 0), MITRE, "mitred batten", True),
    # A board under an arch's flank, over it, and a mirrored one.
    ("plain", (0, 0, 25), UNTURNED, "arched", False),
    ("plain", (0, 0, 24.9), UNTURNED, "arched", True),
    ("rounded", (80, 0, 0), MIRROR, "rounded", False),
    ("rounded", (79.9, 0, 0), MIRROR, "rounded", True),
    # A bevel lies on its like, turned half round, then in it.
    ("bevelled", (80, 6, 0), ((-1, 0, 0), (0, -1, 0), (0, 0, 1)), "bevelled", False),
    ("bevelled", (74, 6, 0), ((-1, 0, 0), (0, -1, 0), (0, 0, 1)), "bevelled", False),
    ("bevelled", (73.99, 6, 0), ((-1, 0, 0), (0, -1, 0), (0, 0, 1)), "bevelled", True),
]


@pytest.mark.parametrize(("name", "offset", "turn", "other", "clash"), PAIRS)
def test_pairs_of_parts(name: str, offset: Vec, turn: Matrix, other: str, clash: bool) -> None:
    one, two = at(name, offset, turn), at(other)
    found = penetration(one, two)
    shared = (library_at(name, offset, turn) ^ manifold_named(other)).volume()
    assert (found is not None) is clash
    assert (shared > 1e-5) is clash
    if found is not None:
        back = penetration(two, one)
        assert back is not None
        assert back.depth == pytest.approx(found.depth, rel=1e-9)


@settings(max_examples=25)
@given(
    st.sampled_from(["drilled", "grooved", "pierced", "wavy", "hip", "raking post", "tongued"]),
    st.sampled_from(["peg", "hollowed", "notched", "mitred batten", "scooped"]),
    turns,
    st.tuples(st.floats(-20, 40), st.floats(-20, 20), st.floats(-20, 40)),
)
def test_turned_parts_agree_with_a_solid_library(
    name: str, other: str, turn: tuple[float, ...], offset: Vec
) -> None:
    matrix = turn_of(turn)
    shared = (library_at(other, offset, matrix) ^ manifold_named(name)).volume()
    found = penetration(at(other, offset, matrix), bulk_named(name))
    assume(found is None or found.depth > 1e-4)
    assert (shared > 0) if found is not None else (shared < 1e-4)


def test_a_place_inside_the_shared_wood() -> None:
    found = penetration(at("peg", (6.6, -5, 15.5)), at("drilled"))
    assert found is not None
    x, y, z = found.where
    # Outside the eye about (8, 17), inside the peg's circle about (8.1, 17) and the board.
    assert math.hypot(x - 8, z - 17) > 1.5 > math.hypot(x - 8.1, z - 17)
    assert 0 < y < 2
    assert found.depth <= 0.1


# ------------------------------------------------------------------ contact


@pytest.mark.parametrize(
    ("a", "side_a", "b", "side_b", "area", "gap"),
    [
        # Board on board, shifted by 10 and 5 mm.
        (at("plain"), "back", at("plain", (10, 2, 5)), "front", 30 * 20, 0),
        (at("plain"), "back", at("plain", (0, 2.5, 0)), "front", 40 * 25, 0.5),
        (at("plain"), "back", at("plain", (0, 1.5, 0)), "front", 40 * 25, -0.5),
        (at("plain"), "right", at("plain", (40, 0, 0)), "left", 2 * 25, 0),
        # The notch leaves 35 mm of the top.
        (at("notched"), "top", at("plain side", (0, 0, 25)), "bottom", 2 * 25, 0),
        # Two mitred ends, glued: 5·√2 × 3 mm.
        (at("mitred batten"), "left", at("mitred batten", (5, 5, 0), MITRE), "left", MITRED, 0),
        # A peg on a board: it touches along a line.
        (at("peg"), "bottom", at("plain flat", (0, 0, -2)), "top", 0, 0),
    ],
)  # fmt: skip
def test_contact_of_flat_sides(
    a: Bulk, side_a: str, b: Bulk, side_b: str, area: float, gap: float
) -> None:
    found = contact_area(a.solid, side_a, b.solid, side_b)
    assert found == Contact(pytest.approx(area), pytest.approx(gap, abs=1e-12))


def test_sides_that_do_not_face_each_other() -> None:
    assert contact_area(solid_named("plain"), "back", solid_named("plain"), "back") is None
    assert contact_area(solid_named("plain"), "back", solid_named("plain"), "left") is None


def test_all_the_area_that_touches() -> None:
    # In its groove a board touches the floor and both walls: 20 × 2 + 2 · 20 × 1.5 mm².
    assert touching_area(at("plain flat", (4.5, 0, 10)), at("grooved")) == pytest.approx(100)
    assert touching_area(at("plain flat", (4.6, 0, 10)), at("grooved")) == pytest.approx(56)
    assert touching_area(at("plain flat", (90, 0, 10)), at("grooved")) == 0
    # The hole is left out of what touches: 3 mm across, cut outside of its circle.
    flat = touching_area(at("plain", (0, -2, 0)), at("drilled"))
    hole, sink = math.pi * 1.5**2, math.pi * 2**2
    assert 1000 - hole - sink - 0.5 < flat < 1000 - hole - sink


# ------------------------------------------------------------------ sliding

CASE = [
    block((50, 30, 2)),
    block((50, 30, 2), (0, 0, 22)),
    block((2, 30, 20), (0, 0, 2)),
    block((2, 30, 20), (48, 0, 2)),
    block((46, 2, 20), (2, 28, 2)),
]


@pytest.mark.parametrize(
    ("moving", "others", "ways"),
    [
        # A drawer that fits its case exactly comes out to the front alone.
        (block((46, 28, 20), (2, 0, 2)), CASE, {FRONT}),
        # Without the back it also goes out there; a stop in front then holds it.
        (block((46, 28, 20), (2, 0, 2)), CASE[:4], {FRONT, BACK}),
        (block((46, 28, 20), (2, 0, 2)), [*CASE, block((4, 1, 4), (23, -1, 2))], set()),
        # A far-off obstacle on the way counts as well.
        (block((46, 28, 20), (2, 0, 2)), [*CASE, block((1, 1, 1), (20, -500, 5))], set()),
        # A peg in an eye: through; in a sink from the back: backwards.
        (at("peg", (6.5, -5, 15.5)), [at("drilled")], {FRONT, BACK}),
        (at("peg", (28.5, 1.5, 11.5)), [at("drilled")], {BACK}),
        # A shelf in a groove: out, or along it; stopped in front, only out and to the back.
        (at("plain flat", (4.5, 0, 10)), [at("grooved")], {RIGHT, FRONT, BACK}),
        (at("plain flat", (5, 4, 30)), [at("grooved")], {RIGHT, BACK}),
        # What clashes already does not come out.
        (block((4, 4, 4)), [block((4, 4, 4), (0, 0, 0))], set()),
        (block((4, 4, 4)), [], set(AXES)),
    ],
)
def test_ways_out(moving: Bulk, others: list[Bulk], ways: set[Vec]) -> None:
    assert set(slide_out(moving, others)) == ways


def test_a_way_of_ones_own() -> None:
    """A key between two blocks set at 30°: it comes out along them and not along an axis."""
    turn = about_z(30)
    along = tuple(row[0] for row in turn)
    back = tuple(-each for each in along)
    key = placed(block((10, 4, 4)), turn, (0, 0, 0))
    rails = [
        placed(block((30, 4, 4), (-10, -4, 0)), turn, (0, 0, 0)),
        placed(block((30, 4, 4), (-10, 4, 0)), turn, (0, 0, 0)),
        block((60, 60, 1), (-30, -30, -1)),
    ]
    found = slide_out(key, rails, (along, back))  # type: ignore[arg-type]
    assert found == (UP, along, back)


def test_a_whole_stack_moves_with_its_mirror() -> None:
    """Mirroring everything mirrors the ways out."""
    one = slide_out(at("plain flat", (5, 4, 30)), [at("grooved")])
    two = slide_out(
        placed(at("plain flat", (5, 4, 30)), MIRROR, (0, 0, 0)), [at("grooved", (0, 0, 0), MIRROR)]
    )
    assert set(two) == {(-x, y, z) for x, y, z in one}


def test_a_moved_solid_stays_one_with_its_hulls() -> None:
    thing = at("notched", (3, 4, 5), about_z(37))
    assert thing.solid == moved(solid_named("notched"), about_z(37), (3, 4, 5))
    corners = {tuple(np.round(point, 9)) for hull in thing.hulls for point in hull.points}
    assert {tuple(np.round(point, 9)) for point in thing.solid.points} <= corners
