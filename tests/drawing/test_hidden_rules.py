"""Rules that hold for every picture: lengths, turning, what stands behind or before."""

import math
import random

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from patternpress.assembly.solid import Matrix, Vec, box, dot, moved
from patternpress.drawing.flatscene import flatten
from patternpress.drawing.hidden import Stroke2d, all_lines, split, visible_lines
from patternpress.drawing.projection import View, from_direction, project
from tests.drawing.segment_sums import differences, joined
from tests.drawing.solid_scenes import (
    ARCH,
    BOARD_WITH_HOLE,
    COMB,
    ISO,
    L_SHAPE,
    RING,
    SCENES,
    TWO,
    Scene,
    at,
    carcass,
    prism,
    scattered,
    turn,
)

FEW = settings(max_examples=25)
SHAPES = (prism(L_SHAPE, 8), BOARD_WITH_HOLE, RING, prism(COMB, 6), prism(ARCH, 5))
NAMED = st.sampled_from(list(SCENES.values())).map(lambda case: case[0])


def packed(seed: int) -> Scene:
    """Boxes that fill cells of a block: many faces in contact and many in one plane."""
    source = random.Random(seed)
    taken: set[tuple[int, ...]] = set()
    scene: Scene = []
    for number in range(12):
        low = [source.randrange(3) for _ in range(3)]
        high = [min(3, value + source.choice([1, 1, 2, 3])) for value in low]
        cells = {
            (x, y, z)
            for x in range(low[0], high[0])
            for y in range(low[1], high[1])
            for z in range(low[2], high[2])
        }
        if not cells & taken:
            taken |= cells
            size = [10.0 * (b - a) for a, b in zip(low, high, strict=True)]
            scene.append((f"box {number}", at(box(*size), *(10.0 * value for value in low))))
    return scene


SEEDS = st.integers(0, 10**6)
CHOSEN = st.one_of(NAMED, SEEDS.map(packed), SEEDS.map(lambda seed: scattered(9, seed)))


@st.composite
def views(draw: st.DrawFn) -> View:
    """Any direction that shows a box's face edge-on or clearly: nobody draws in between."""
    x, y, z = (draw(st.integers(-40, 40)) for _ in range(3))
    assume((x, y) != (0, 0))
    return from_direction((float(x), float(y), float(z)))


def of(strokes: tuple[Stroke2d, ...], **wanted: object) -> list[tuple[float, ...]]:
    """Joined segments of strokes that have these attributes."""
    chosen = [s for s in strokes if all(getattr(s, name) == v for name, v in wanted.items())]
    return joined((*s.points[0], *s.points[1]) for s in chosen)


def assert_same_picture(ones: tuple[Stroke2d, ...], twos: tuple[Stroke2d, ...]) -> None:
    for kind in ("contour", "crease"):
        for keys in sorted({s.keys for s in (*ones, *twos)}):
            first, second = of(ones, kind=kind, keys=keys), of(twos, kind=kind, keys=keys)
            assert differences(first, second) == []


@FEW
@given(CHOSEN, views())
def test_seen_and_unseen_make_up_every_edge(scene: Scene, view: View) -> None:
    flat = flatten(scene, view)
    parts = split(flat)
    for halves in ((parts.seen, parts.unseen), (parts.contour, parts.crease)):
        total = np.zeros(len(flat.edges.length))
        for stretches in halves:
            np.add.at(total, stretches.edge, stretches.end - stretches.start)
        assert np.abs(total - flat.edges.length).max() <= 4 * flat.near


@FEW
@given(CHOSEN, st.sampled_from("xyz"), st.floats(-180, 180), views())
def test_turning_scene_and_view_together_changes_nothing(
    scene: Scene, axis: str, degrees: float, view: View
) -> None:
    matrix: Matrix = turn(axis, degrees)

    def turned(vec: Vec) -> Vec:
        return dot(matrix[0], vec), dot(matrix[1], vec), dot(matrix[2], vec)

    there = [(key, moved(solid, matrix, (0.0, 0.0, 0.0))) for key, solid in scene]
    other = View(turned(view.right), turned(view.up), turned(view.toward))
    assert_same_picture(visible_lines(scene, view), visible_lines(there, other))


@FEW
@given(CHOSEN, views())
def test_the_order_of_the_scene_does_not_matter(scene: Scene, view: View) -> None:
    ones = visible_lines(scene, view)
    twos = visible_lines(scene[::-1], view)
    back = tuple(Stroke2d(s.keys[::-1], s.kind, s.points, s.hidden) for s in twos)
    assert_same_picture(ones, back)


def beyond(scene: Scene, view: View, gap: float) -> tuple[str, object]:
    """A large box square to the view, behind the scene (a gap over 0) or before it."""
    points = [point for _, solid in scene for point in solid.points]
    depths = [dot(view.toward, point) for point in points]
    # Just large enough: the engine's tolerance is a share of the scene's extent, and a wall that
    # multiplies the extent would be a scene drawn with another tolerance.
    spans = [[dot(way, point) for point in points] for way in (view.right, view.up)]
    size = 2.2 * max(max(abs(min(span)), abs(max(span))) for span in spans)
    away = min(depths) - gap - size if gap > 0 else max(depths) - gap
    rows = tuple(zip(view.right, view.up, view.toward, strict=True))
    matrix: Matrix = (rows[0], rows[1], rows[2])
    corner = (-size / 2, -size / 2, away)
    offset = (dot(matrix[0], corner), dot(matrix[1], corner), dot(matrix[2], corner))
    return "wall", moved(box(size, size, size), matrix, offset)


@FEW
@given(CHOSEN, views(), st.sampled_from([0.001, 5.0]))
def test_a_wall_behind_everything_changes_no_line(scene: Scene, view: View, gap: float) -> None:
    ones = visible_lines(scene, view)
    twos = visible_lines([*scene, beyond(scene, view, gap)], view)
    assert {s.keys for s in twos} - {s.keys for s in ones} == {("wall",)}
    assert_same_picture(ones, tuple(s for s in twos if s.keys != ("wall",)))


@FEW
@given(CHOSEN, views(), st.sampled_from([-0.001, -5.0]))
def test_a_wall_before_everything_hides_it(scene: Scene, view: View, gap: float) -> None:
    found = visible_lines([*scene, beyond(scene, view, gap)], view)
    assert {s.keys for s in found} == {("wall",)}
    assert len(found) == 4


def is_hidden(point: Vec, view: View, boxes: list[tuple[Vec, Vec]]) -> bool | None:
    """Cast a ray to the eye and clip it by each box's slabs; None where it only grazes."""
    longest = 0.0
    for low, high in boxes:
        enters, leaves = 0.0, math.inf
        for axis in range(3):
            one = (low[axis] - point[axis]) / view.toward[axis]
            two = (high[axis] - point[axis]) / view.toward[axis]
            enters, leaves = max(enters, min(one, two)), min(leaves, max(one, two))
        longest = max(longest, leaves - enters)
    if 1e-9 < longest < 1e-4:
        return None
    return longest > 0.5e-4


@FEW
@given(st.one_of(SEEDS.map(packed), SEEDS.map(lambda s: scattered(14, s))), views(), st.randoms())
def test_rays_from_the_edges_of_boxes_agree(scene: Scene, view: View, source) -> None:
    assume(min(abs(share) for share in view.toward) > 1e-3)
    boxes = [(solid.points[0], solid.points[-1]) for _, solid in scene]
    points = [point for _, solid in scene for point in solid.points]
    lines = [s.points for s in visible_lines(scene, view)]
    flat = flatten(scene, view)
    seen = split(flat).seen
    for row, (a, b) in enumerate(zip(flat.edges.start, flat.edges.end, strict=True)):
        share = source.uniform(0.01, 0.99)
        point = tuple(p + share * (q - p) for p, q in zip(points[a], points[b], strict=True))
        hidden = is_hidden(point, view, boxes)
        place = share * flat.edges.length[row]
        own = seen.edge == row
        found = bool(((seen.start[own] < place) & (place < seen.end[own])).any())
        assert not (hidden is True and found)
        if hidden is False and not found:
            # Another line falls together with it by chance, and is nearer.
            assert any(on_line(project(view, point), *ends) for ends in lines)


def on_line(place, start, end) -> bool:
    length = math.dist(start, end)
    return abs(math.dist(place, start) + math.dist(place, end) - length) < 1e-9 * (1 + length)


@FEW
@given(CHOSEN, views())
def test_the_same_scene_gives_the_same_strokes_and_no_line_twice(scene, view) -> None:
    found = all_lines(scene, view)
    assert found == all_lines(scene, view)
    seen = [s for s in found if not s.hidden]
    whole = joined((*s.points[0], *s.points[1]) for s in seen)
    inked = sum(math.dist(*s.points) for s in seen)
    assert inked == pytest.approx(sum(math.dist(w[:2], w[2:]) for w in whole))


@FEW
@given(CHOSEN, st.floats(0.01, 100), views())
def test_a_larger_scene_gives_the_same_picture_larger(scene, factor, view) -> None:
    def times(vec):
        return tuple(factor * value for value in vec)

    larger = [
        (key, type(solid)(tuple(times(p) for p in solid.points), solid.facets))
        for key, solid in scene
    ]
    ones = visible_lines(scene, view)
    grown = tuple(Stroke2d(s.keys, s.kind, tuple(map(times, s.points))) for s in ones)
    for keys in sorted({s.keys for s in grown}):
        found = of(visible_lines(larger, view), keys=keys)
        assert differences(of(grown, keys=keys), found, near=1e-6 * max(1, factor)) == []


@pytest.mark.parametrize("view", [ISO, TWO])
@pytest.mark.parametrize("shift", [1e-11, -1e-11])
def test_rounding_in_the_last_figures_changes_no_picture(view: View, shift: float) -> None:
    source = random.Random(5)
    shaken = [
        (
            key,
            type(solid)(
                tuple(tuple(v + shift * source.random() for v in p) for p in solid.points),
                solid.facets,
            ),
        )
        for key, solid in carcass()
    ]
    assert_same_picture(visible_lines(carcass(), view), visible_lines(shaken, view))
