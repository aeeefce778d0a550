"""Visible areas and polygons: by hand, against unions of outlines, and against each other."""

import math

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from patternpress.assembly.solid import box, dot
from patternpress.drawing.hidden import visible_lines
from patternpress.drawing.projection import FACES, project
from patternpress.drawing.rendering import render
from patternpress.drawing.visibility import facet_visibility, visible_facets, visible_shares
from tests.drawing.solid_scenes import BOARD_WITH_HOLE, ISO, SCENES, Scene, at, scattered

FRONT, TOP = FACES["front"], FACES["top"]


def outlines(scene: Scene, view) -> list[shapely.Polygon]:
    """The facets that face the eye, on the paper."""
    found = []
    for _, solid in scene:
        for facet in solid.facets:
            if dot(facet.normal, view.toward) > 1e-7:
                rings = [[project(view, solid.points[n]) for n in loop] for loop in facet.loops]
                found.append(shapely.Polygon(rings[0], rings[1:]))
    return found


def ring_area(ring) -> float:
    return sum(
        (x1 * y2 - x2 * y1) / 2
        for (x1, y1), (x2, y2) in zip(ring, [*ring[1:], ring[0]], strict=True)
    )


def test_a_box_alone_shows_three_whole_facets() -> None:
    found = facet_visibility([("a", box(3, 4, 5))], ISO)
    # Isometric: every face of a box shrinks to 1/√3 of its area.
    whole = {1: 20, 2: 15, 5: 12}
    assert {name: seen.whole for name, seen in found.items()} == pytest.approx(
        {("a", number): area / math.sqrt(3) for number, area in whole.items()}
    )
    assert all(seen.visible == pytest.approx(seen.whole) for seen in found.values())


def test_a_box_half_behind_another() -> None:
    scene = [("near", box(10, 5, 8)), ("far", at(box(10, 5, 8), 6, 20, 0))]
    found = facet_visibility(scene, FRONT)
    assert found[("near", 2)].visible == pytest.approx(80)
    assert found[("far", 2)].visible == pytest.approx(6 * 8)
    assert found[("far", 2)].whole == pytest.approx(80)
    assert visible_shares(scene, FRONT) == pytest.approx({"near": 1, "far": 0.6})


def test_only_asked_solids_are_told_of_but_all_stand_in_the_way() -> None:
    scene = [("near", box(10, 5, 8)), ("far", at(box(10, 5, 8), 6, 20, 0))]
    assert visible_shares(scene, FRONT, only=["far"]) == pytest.approx({"far": 0.6})
    assert set(facet_visibility(scene, FRONT, only=["far"])) == {("far", 2)}


def test_a_solid_standing_on_a_facet_takes_its_place() -> None:
    scene = [("a", box(40, 30, 8)), ("b", at(box(10, 10, 4), 15, 10, 8))]
    (top,) = (f for f in visible_facets(scene, TOP) if f.key == "a")
    ((outer, hole),) = top.polygons
    assert ring_area(outer) == pytest.approx(1200)
    assert ring_area(hole) == pytest.approx(-100)
    assert top.side == "top"


def test_a_hole_stays_open() -> None:
    scene = [("board", BOARD_WITH_HOLE), ("under", at(box(40, 30, 2), 0, 0, -9))]
    found = facet_visibility(scene, TOP)
    hole = 24 * math.sin(math.pi / 12) / 2 * 64
    assert found[("board", 1)].visible == pytest.approx(1200 - hole)
    assert found[("under", 5)].visible == pytest.approx(hole)


def test_a_solid_that_hides_itself_counts_as_seen() -> None:
    """A share asks what the others hide: the board's own hole wall behind its rim does not."""
    assert visible_shares([("board", BOARD_WITH_HOLE)], ISO) == {"board": 1.0}


def test_wholly_hidden() -> None:
    scene, view = SCENES["one wholly hidden"]
    assert visible_shares(scene, view) == {"a": 1.0, "b": 0.0}
    assert {facet.key for facet in visible_facets(scene, view)} == {"a"}


@pytest.mark.parametrize("name", SCENES)
def test_solids_asked_one_by_one_show_what_all_asked_at_once_show(name: str) -> None:
    scene, view = SCENES[name]
    drawn, whole = render(scene, view), render(scene, view)
    singly = {key: drawn.seen_of(key) for key, _ in scene[::-1]}
    parts = zip(whole.facets, whole.shapes, strict=True)
    assert sum(map(len, singly.values())) == len(whole.facets) > 0
    assert all(singly[facet.key][facet.number].equals_exact(shape) for facet, shape in parts)
    assert [facet.key for facet in drawn.facets] == [facet.key for facet in whole.facets]
    assert drawn.seen_of("not there") == {}


@pytest.mark.parametrize("name", SCENES)
def test_what_is_seen_covers_the_scene_once(name: str) -> None:
    scene, view = SCENES[name]
    union = shapely.union_all(outlines(scene, view)).area
    seen = facet_visibility(scene, view)
    assert sum(each.visible for each in seen.values()) == pytest.approx(union, rel=1e-8)
    found = visible_facets(scene, view)
    drawn = {
        (facet.key, facet.number): sum(ring_area(r) for p in facet.polygons for r in p)
        for facet in found
    }
    assert all(area == pytest.approx(seen[which].visible) for which, area in drawn.items())
    assert sum(drawn.values()) == pytest.approx(union, rel=1e-8)
    assert all(
        ring_area(p[0]) > 0 > max(map(ring_area, p[1:]), default=-1)
        for f in found
        for p in f.polygons
    )


@pytest.mark.parametrize("name", SCENES)
def test_every_visible_line_lies_on_the_bounds_of_tones(name: str) -> None:
    scene, view = SCENES[name]
    rings = [
        shapely.LinearRing(r) for f in visible_facets(scene, view) for p in f.polygons for r in p
    ]
    bounds = shapely.buffer(shapely.multilinestrings(rings), 1e-5)
    for stroke in visible_lines(scene, view):
        assert shapely.LineString(stroke.points).difference(bounds).length < 1e-4


@settings(max_examples=10)
@given(st.integers(0, 10**6), st.randoms())
def test_the_nearest_box_under_a_point_is_the_one_seen(seed: int, source) -> None:
    scene = scattered(12, seed)
    found = [
        (facet, shapely.Polygon(p[0], p[1:]))
        for facet in visible_facets(scene, ISO)
        for p in facet.polygons
    ]
    for _ in range(40):
        spot = (source.uniform(-10, 20), source.uniform(-20, 25))
        shown = {facet.key for facet, polygon in found if polygon.contains(shapely.Point(spot))}
        line = shapely.Point(spot)
        if any(polygon.exterior.distance(line) < 1e-4 for _, polygon in found):
            continue
        assert shown == nearest(scene, spot)


def nearest(scene: Scene, spot: tuple[float, float]) -> set[str]:
    """The box that a sight line through a spot of the paper meets first, by slabs."""
    start = [spot[0] * r + spot[1] * u for r, u in zip(ISO.right, ISO.up, strict=True)]
    best, key = -math.inf, set()
    for name, solid in scene:
        low, high = solid.points[0], solid.points[-1]
        pairs = [
            sorted(((low[a] - start[a]) / ISO.toward[a], (high[a] - start[a]) / ISO.toward[a]))
            for a in range(3)
        ]
        enters, leaves = max(p[0] for p in pairs), min(p[1] for p in pairs)
        if leaves > enters and leaves > best:
            best, key = leaves, {name}
    return key
