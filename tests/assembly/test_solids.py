"""Solids of parts: closed, the size of their blanks, and as heavy as the closed forms say.

Closed forms are worked out beside each row; the mesh library trimesh and the solid library
manifold3d are the outside view.
"""

from __future__ import annotations

import math
from fractions import Fraction
from itertools import product

import manifold3d
import numpy as np
import pytest
import shapely
import trimesh
from hypothesis import given, settings
from hypothesis import strategies as st

from patternpress.assembly.blocks import across, dot
from patternpress.assembly.body import lean_matrix
from patternpress.assembly.contacts import face_plane
from patternpress.assembly.cuts import Cut
from patternpress.assembly.hugging import Chord
from patternpress.assembly.joining import joined
from patternpress.assembly.layers import Slab, layered
from patternpress.assembly.outlines import area, bounding_box, polygon
from patternpress.assembly.shape import Point, ShapeError, View
from patternpress.assembly.solid import Solid, bounds, check_closed, edges, volume
from patternpress.assembly.solid import centre as centre_of
from patternpress.assembly.solids import blocks_of, solid_of
from patternpress.assembly.telling import feature_facets, feature_planes
from tests.assembly.solid_samples import bulk_named, names, sample, solid_named, worked

TAN = {degrees: math.tan(math.radians(degrees)) for degrees in (5, 10, 12, 20, 30, 45)}


def triangles(solid: Solid) -> list[np.ndarray]:
    """Every facet as triangles, cut by shapely."""
    found = []
    for facet in solid.facets:
        axes = across(facet.normal)
        rings = [
            [(dot(axes[0], solid.points[n]), dot(axes[1], solid.points[n])) for n in loop]
            for loop in facet.loops
        ]
        level = dot(facet.normal, solid.points[facet.loops[0][0]])
        flat = shapely.constrained_delaunay_triangles(shapely.Polygon(rings[0], rings[1:]))
        for each in flat.geoms:
            corners = np.array(each.exterior.coords[:3])
            if not each.exterior.is_ccw:
                corners = corners[::-1]
            space = corners[:, :1] * np.array(axes[0]) + corners[:, 1:] * np.array(axes[1])
            found.append(space + level * np.array(facet.normal))
    return found


def mesh(solid: Solid) -> trimesh.Trimesh:
    loose = np.round(np.concatenate(triangles(solid)), 6)
    found = trimesh.Trimesh(loose, np.arange(len(loose)).reshape(-1, 3), process=False)
    found.merge_vertices(digits_vertex=5)
    return found


def crescent(radius: float) -> float:
    """Area between a square corner and the quarter circle that rounds it."""
    return (1 - math.pi / 4) * radius**2


def segment(chord: float, rise: float) -> float:
    """Area of a circular segment: r²/2·(θ − sin θ)."""
    radius = (chord**2 / 4 + rise**2) / (2 * rise)
    angle = 2 * math.asin(chord / 2 / radius)
    return radius**2 / 2 * (angle - math.sin(angle))


def hip_volume() -> float:
    # A prism whose four edges along x end at x0(y, z) = tan 20°·z + tan 30°·(6 − y): longest at
    # the bottom and at the back.  Its mean length is that of the middle of the section.
    return (40 - TAN[20] * 10 - TAN[30] * 3) * 6 * 20


# Each row: name, true volume, area of its curved walls (each may stray by the error allowed).
CLOSED_FORMS = [
    ("plain", 40 * 25 * 2, 0),
    ("plain flat", 30 * 20 * 2, 0),
    ("plain side", 30 * 50 * 2, 0),
    ("batten", 60 * 5 * 3, 0),
    ("post", 4 * 4 * 40, 0),
    ("peg", math.pi * 1.5**2 * 12, math.pi * 3 * 12),
    ("disc", math.pi * 100 * 2, math.pi * 20 * 2),
    ("rounded", (40 * 25 - crescent(6)) * 2, math.pi * 3 * 2),
    ("scooped", (40 * 25 - math.pi * 9) * 2, math.pi * 3 * 2),
    ("notched", (40 * 25 - 15) * 2, 0),
    ("clipped", (40 * 25 - 24) * 2, 0),
    ("arched", (40 * 20 + segment(40, 5)) * 2, 45 * 2),
    ("hollowed", (40 * 25 - segment(40, 4)) * 2, 45 * 2),
    (
        "drilled",
        40 * 25 * 2 - math.pi * (1.5**2 * 2 + 4 * 0.75 + 4 * 0.5),
        math.pi * (3 * 2 + 4 * 0.75 + 4 * 0.5),
    ),
    (
        "pierced",
        (40 * 30 - (96 - 4 * crescent(2)) - (8 * 2 + math.pi)) * 2,
        (4 * math.pi + 2 * math.pi) * 2,
    ),
    ("grooved", 6 * 30 * 50 - 30 * 2 * 1.5 - 26 * 2 * 1 - 3 * 2 * 50, 0),
    ("tongued", 50 * 30 * 6 - 50 * 2 * 2.5 - math.pi * 8, 2 * math.pi * 8),
    ("slanted", (40 * 20 - 20 * 20 * TAN[30] / 2) * 2, 0),
    ("bevelled", (40 * 6 - 6 * 6 / 2) * 20, 0),
    ("hip", hip_volume(), 0),
    ("mitred batten", (60 * 5 - 5 * 5) * 3, 0),
    # Cut level through the middle of each end, so what one half loses the other gains.
    ("raking post", 4 * 4 * 40, 0),
    ("raking rod", math.pi * 1.5**2 * 30, math.pi * 3 * 30.4),
    ("desk lid", 40 * 30 * 6, 0),
]


@pytest.mark.parametrize("name", names())
def test_every_solid_is_closed(name: str) -> None:
    solid = solid_named(name)
    assert check_closed(solid) == ()
    assert volume(solid) > 0
    assert all(each.kind != "boundary" for each in edges(solid))


@pytest.mark.parametrize(("name", "true", "curved"), CLOSED_FORMS)
def test_volumes_against_closed_forms(name: str, true: float, curved: float) -> None:
    """Wood is never more than it should be, and less by no more than the error on curves."""
    for error in (0.02, 0.002):
        found = volume(solid_named(name, error))
        assert true - error * curved - 1e-6 <= found <= true + 1e-6


def test_the_true_drilled_rod() -> None:
    """Two crossing cylinders: ∫ 2√(R² − x²)·2√(r² − x²) dx, by trapezium in the angle."""
    angles = np.linspace(0, 2 * math.pi, 2000, endpoint=False)
    x = 0.5 * np.cos(angles)
    pin = float(np.mean(4 * np.sqrt(1.5**2 - x**2) * (0.5 * np.sin(angles)) ** 2) * math.pi)
    true = math.pi * 1.5**2 * 30 - pin
    assert volume(solid_named("drilled rod", 0.0005)) == pytest.approx(true, abs=0.2)
    assert volume(solid_named("drilled rod", 0.0005)) < true


@pytest.mark.parametrize("name", names())
def test_against_a_mesh_library(name: str) -> None:
    solid = solid_named(name)
    found = mesh(solid)
    assert found.is_watertight
    assert found.is_winding_consistent
    assert found.volume == pytest.approx(volume(solid), abs=2e-3)
    assert found.center_mass == pytest.approx(centre_of(solid), abs=1e-4)


@pytest.mark.parametrize("name", names())
def test_blocks_fill_the_solid(name: str) -> None:
    """The volumes of the convex hulls add up: nothing is left out and nothing counted twice."""
    thing = bulk_named(name)
    hulls = [manifold3d.Manifold.hull_points(each.points).volume() for each in thing.hulls]
    assert sum(hulls) == pytest.approx(volume(thing.solid), rel=1e-6)


@pytest.mark.parametrize(
    "name",
    [n for n in names() if n not in ("wavy", "raking post", "raking rod", "desk lid")],
)
def test_solids_fill_their_blank(name: str) -> None:
    part, _ = sample(name)
    low, high = bounds(solid_named(name))
    sizes = [float(part.extents[axis].value) for axis in ("wide", "deep", "high")]
    assert low == pytest.approx((0, 0, 0), abs=1e-12)
    assert high == pytest.approx(sizes, abs=1e-9)


def test_a_free_curve_keeps_its_area_and_extent() -> None:
    _, shape = sample("wavy")
    assert shape is not None
    solid = solid_named("wavy")
    true = 2 * float(area(shape.outline))
    assert true - 0.02 * 2 * 60 < volume(solid) < true
    box = bounding_box(shape.outline)
    low, high = bounds(solid)
    assert (low[0], high[0]) == pytest.approx((float(box.left), float(box.right)), abs=0.02)
    assert high[2] == pytest.approx(float(box.top), abs=0.02)


# ------------------------------------------------------------------ sides and features


@pytest.mark.parametrize(
    ("name", "side", "normal", "offset"),
    [
        ("plain", "front", (0, -1, 0), 0),
        ("plain", "back", (0, 1, 0), 2),
        ("plain side", "right", (1, 0, 0), 2),
        ("slanted", "right", (math.cos(math.pi / 6), 0, 0.5), 40 * math.cos(math.pi / 6)),
        ("bevelled", "right", (0.5**0.5, 0.5**0.5, 0), 40 * 0.5**0.5),
        ("mitred batten", "left", (-(0.5**0.5), -(0.5**0.5), 0), -5 * 0.5**0.5),
        ("grooved", "right", (1, 0, 0), 6),
        ("grooved", "left", (-1, 0, 0), 0),
        ("disc", "left", (-1, 0, 0), 0),
        ("peg", "top", (0, 0, 1), 3),
        ("peg", "front", (0, -1, 0), 0),
        ("arched", "top", (0, 0, 1), 25),
        ("rounded", "left", (-1, 0, 0), 0),
        ("rounded", "top", (0, 0, 1), 25),
        ("notched", "top", (0, 0, 1), 25),
        ("drilled", "back", (0, 1, 0), 2),
    ],
)
def test_planes_of_sides(name: str, side: str, normal: tuple[float, ...], offset: float) -> None:
    found, at = face_plane(solid_named(name), side)
    assert found == pytest.approx(normal, abs=1e-12)
    assert at == pytest.approx(offset, abs=1e-9)


def test_a_side_that_is_not_there() -> None:
    with pytest.raises(KeyError):
        face_plane(solid_named("plain"), "underneath")


@pytest.mark.parametrize(
    ("name", "side", "wanted"),
    [
        ("raking post", "bottom", (0, 0, -1)),
        ("raking post", "top", (0, 0, 1)),
        ("raking rod", "bottom", (0, 0, -1)),
        ("desk lid", "front", (0, -1, 0)),
    ],
)
def test_level_and_upright_ends(name: str, side: str, wanted: tuple[float, ...]) -> None:
    """Once the piece leans, the cut is level or upright."""
    part, _ = sample(name)
    turn = np.array(lean_matrix(part.part.leans, worked().solver), dtype=float)
    normal, _ = face_plane(solid_named(name), side)
    assert turn @ np.array(normal) == pytest.approx(wanted, abs=1e-12)


def test_a_compound_end_has_both_angles() -> None:
    normal, offset = face_plane(solid_named("hip"), "left")
    # Longest at bottom and back: the plane passes through the corner there, (0, 6, 0).
    assert dot(normal, (0, 6, 0)) == pytest.approx(offset, abs=1e-12)
    assert -normal[2] / normal[0] == pytest.approx(TAN[20], abs=1e-12)
    assert normal[1] / normal[0] == pytest.approx(TAN[30], abs=1e-12)


def test_holes_and_grooves_have_no_side() -> None:
    solid = solid_named("drilled")
    floors = {
        (round(solid.points[each.loops[0][0]][1], 9), round(each.normal[1]))
        for each in solid.facets
        if not each.side and abs(each.normal[1]) > 0.5
    }
    # A sink 0.75 mm deep from the front, and one 0.5 mm deep from the back of 2 mm.
    assert floors == {(0.75, -1), (1.5, 1)}


def test_curves_are_smooth_and_corners_are_not() -> None:
    solid = solid_named("rounded")
    kinds = [each.kind for each in edges(solid)]
    upright = [
        each
        for each in edges(solid)
        if abs(solid.points[each.start][1] - solid.points[each.end][1]) > 1
    ]
    # Three square corners; the fillet runs into both its neighbours without a line.
    assert sum(each.kind == "crease" for each in upright) == 3
    assert "smooth" in kinds


@pytest.mark.parametrize(
    ("name", "feature", "sides"),
    [
        ("slanted", "angled", {"right"}),
        ("bevelled", "angled", {"right"}),
        ("mitred batten", "mitred", {"left", "right"}),
        ("slanted", "longer", {"bottom"}),
        ("slanted", "shorter", {"top"}),
        ("plain", "long", {"top", "bottom"}),
        ("plain", "short", {"left", "right"}),
        ("plain", "shorter", {"left", "right"}),
        ("plain", "all", {"left", "right", "top", "bottom"}),
        ("arched", "curved", {"top"}),
        ("hollowed", "curved", {"front"}),
        ("hollowed", "straight", {"left", "right", "back"}),
        ("rounded", "curved", {"left", "top"}),
        ("grooved", "grooved", {"right"}),
        ("grooved", "rebated", {"back"}),
        ("tongued", "grooved", {"front"}),
        ("tongued", "drilled", {"left"}),
        ("drilled", "drilled", {"front", "back"}),
        ("notched", "notched", {"front", "top"}),
        ("plain", "inside", set()),
        ("plain", "angled", set()),
    ],
)
def test_edges_told_by_a_feature(name: str, feature: str, sides: set[str]) -> None:
    part, shape = sample(name)
    solid = solid_named(name)
    found = feature_facets(part, shape, solid, feature)
    assert {solid.facets[number].side for number in found} == sides


def test_the_curve_alone_is_curved() -> None:
    part, shape = sample("rounded")
    planes = feature_planes(part, shape, solid_named("rounded"), "curved")
    assert all(max(map(abs, normal)) < 1 - 1e-6 for normal, _ in planes)
    (plane,) = feature_planes(*sample("slanted"), solid_named("slanted"), "angled")
    assert plane == face_plane(solid_named("slanted"), "right")


def test_what_has_no_solid() -> None:
    part, shape = sample("plain")
    bare = {axis: size for axis, size in part.extents.items() if axis != "deep"}
    short = type(part)(**{**vars(part), "extents": bare})
    with pytest.raises(ShapeError, match="solid-without-size"):
        solid_of(short, shape, worked().solver)


def test_the_same_part_twice_is_the_same() -> None:
    part, shape = sample("drilled")
    one = blocks_of(part, shape, worked().solver)
    assert one == blocks_of(part, shape, worked().solver)


# ------------------------------------------------------------------ random cuts, counted

SIZE = (12, 8, 5)
window = st.tuples(
    st.integers(1, 10), st.integers(1, 6), st.integers(1, 5), st.integers(1, 4),
    st.integers(0, 4), st.integers(1, 5),
)  # fmt: skip


def rectangle(x: int, y: int, wide: int, high: int) -> tuple[Point, ...]:
    corners = ((x, y), (x + wide, y), (x + wide, y + high), (x, y + high))
    return tuple(Point(*map(Fraction, each)) for each in corners)


@settings(max_examples=40)
@given(st.lists(window, max_size=5))
def test_random_cuts_leave_the_millimetres_that_they_should(
    cuts: list[tuple[int, int, int, int, int, int]],
) -> None:
    """Whole millimetres, so that the wood left can be counted cube by cube."""
    wide, high, thick = SIZE
    left = np.ones(SIZE, dtype=bool)
    made = []
    for x, y, w, h, start, deep in cuts:
        left[x : x + w, y : y + h, start : start + deep] = False
        outline = polygon(*rectangle(x, y, w, h))
        made.append(Cut(View.FRONT, outline, start, min(start + deep, thick)))  # type: ignore[arg-type]
    corners = [(0.0, 0.0), (float(wide), 0.0), (float(wide), float(high)), (0.0, float(high))]
    ring = tuple(
        (Chord(corners[i - 1], corners[i], i, False, 0), ("side", 0)) for i in (1, 2, 3, 0)
    )
    slab = Slab(View.FRONT, (wide, thick, high), ring, 0.0, float(thick), ("front", "back"))
    blocks = layered(slab, made, 0.02)
    solid = joined(blocks)
    assert volume(solid) == pytest.approx(int(left.sum()), abs=1e-6)
    if not _pinched(left):
        assert check_closed(solid) == ()


def _pinched(left: np.ndarray) -> bool:
    """Whether two cubes meet along an edge alone, where four facets of any solid meet."""
    for axes in ((0, 1), (0, 2), (1, 2)):
        rolled = [
            left[tuple(slice(o, s - 1 + o) if n in axes else slice(None) for n, (s, o) in sides)]
            for sides in (list(enumerate(zip(SIZE, o, strict=True))) for o in _corners(axes))
        ]
        a, b, c, d = rolled
        if (a & d & ~b & ~c).any() or (b & c & ~a & ~d).any():
            return True
    return False


def _corners(axes: tuple[int, int]) -> list[tuple[int, ...]]:
    found = []
    for one, two in product((0, 1), (0, 1)):
        offset = [0, 0, 0]
        offset[axes[0]], offset[axes[1]] = one, two
        found.append(tuple(offset))
    return found


def manifold(solid: Solid) -> manifold3d.Manifold:
    found = mesh(solid)
    return manifold3d.Manifold(
        manifold3d.Mesh64(
            np.asarray(found.vertices, dtype=np.float64), np.asarray(found.faces, dtype=np.uint64)
        )
    )


def test_a_grooved_board_against_a_solid_library() -> None:
    """The same cuts made by a library for solids, from plain blocks."""
    cube = manifold3d.Manifold.cube
    wood = cube((6, 30, 50))
    wood -= cube((1.5, 30, 2)).translate((4.5, 0, 10))
    wood -= cube((1, 26, 2)).translate((5, 4, 30))
    wood -= cube((2, 3, 50)).translate((0, 27, 0))
    ours = manifold(solid_named("grooved"))
    assert (wood - ours).volume() == pytest.approx(0, abs=1e-4)
    assert (ours - wood).volume() == pytest.approx(0, abs=1e-4)
