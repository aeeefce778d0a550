"""Visible lines: against another engine on whole scenes, and on small ones by hand."""

import json
import math
from pathlib import Path

import pytest

from patternpress.assembly.solid import Solid, box, check_closed, volume
from patternpress.drawing.hidden import Stroke2d, all_lines, visible_lines
from patternpress.drawing.projection import FACES, from_direction, isometric, project
from tests.drawing.segment_sums import Segment, differences, joined
from tests.drawing.solid_scenes import (
    ISO,
    ODD,
    SCENES,
    UPRIGHT,
    at,
    outline,
    prism,
    round_outline,
    turn,
)

FRONT, TOP = FACES["front"], FACES["top"]
# HLRBRep_Algo of Open CASCADE; see make_hlr_scenes.py.
OTHERS = json.loads(Path(__file__).with_name("hlr_scenes.json").read_text(encoding="utf-8"))


def segments(strokes: tuple[Stroke2d, ...]) -> list[Segment]:
    return [(*stroke.points[0], *stroke.points[1]) for stroke in strokes]


def kinds(strokes: tuple[Stroke2d, ...], key: str) -> dict[str, int]:
    own = [stroke.kind for stroke in strokes if key in stroke.keys]
    return {kind: own.count(kind) for kind in sorted(set(own))}


@pytest.mark.parametrize("name", SCENES)
def test_another_engine_sees_the_same_lines(name: str) -> None:
    scene, view = SCENES[name]
    mine = joined(segments(visible_lines(scene, view)))
    assert differences(mine, joined(map(tuple, OTHERS[name]))) == []
    assert mine


@pytest.mark.parametrize("name", SCENES)
def test_the_scenes_are_sound(name: str) -> None:
    for _, solid in SCENES[name][0]:
        assert check_closed(solid) == ()
        assert volume(solid) > 0


def test_the_comparison_finds_a_line_too_few_and_a_line_too_short() -> None:
    lines = [tuple(row) for row in OTHERS["box"]]
    assert len(differences(joined(lines[1:]), joined(lines))) == 1
    x1, y1, x2, y2 = lines[0]
    shorter = (x1, y1, x2, y2 - 1e-4)
    assert len(differences(joined([shorter, *lines[1:]]), joined(lines))) == 2
    assert differences(joined([*lines, lines[3]]), joined(lines)) == []


def test_a_cube_from_its_corner() -> None:
    # Nine edges to be seen and three hidden, each √(2/3).
    found = all_lines([("cube", box(1, 1, 1))], from_direction((1, 1, 1)))
    assert [stroke.hidden for stroke in found] == [False] * 9 + [True] * 3
    assert [math.dist(*stroke.points) for stroke in found] == pytest.approx([0.816497] * 12)
    assert kinds(found[:9], "cube") == {"contour": 6, "crease": 3}


def test_every_stroke_runs_to_the_right_or_upwards() -> None:
    for (x1, y1), (x2, y2) in (s.points for s in all_lines(*SCENES["carcass from the front"])):
        assert x2 - x1 > 1e-9 or y2 > y1


def test_the_line_between_touching_boxes_is_one_line_of_both() -> None:
    found = visible_lines([("a", box(20, 20, 9)), ("b", at(box(20, 20, 9), 0, 0, 9))], ISO)
    both = [stroke for stroke in found if stroke.keys == ("a", "b")]
    assert [stroke.kind for stroke in both] == ["contour", "contour"]
    assert len(found) == 14


def test_a_box_on_a_top_is_outlined_against_it() -> None:
    found = visible_lines([("a", box(40, 30, 8)), ("b", at(box(10, 10, 4), 15, 10, 8))], ISO)
    assert kinds(found, "b") == {"contour": 6, "crease": 3}
    assert kinds(found, "a") == {"contour": 6, "crease": 3}


def test_lines_that_fall_together_by_chance_belong_to_the_nearer_box() -> None:
    found = visible_lines([("far", box(30, 5, 20)), ("near", at(box(20, 5, 20), 0, -20, 0))], FRONT)
    assert [(s.keys, s.points) for s in found if s.keys == ("far",)] == [
        (("far",), ((20.0, 0.0), (30.0, 0.0))),
        (("far",), ((20.0, 20.0), (30.0, 20.0))),
        (("far",), ((30.0, 0.0), (30.0, 20.0))),
    ]
    assert len(found) == 7


def test_an_edge_behind_a_joint_of_two_facets_is_hidden() -> None:
    """Two facets in one plane have no line between them, so nothing may shine through."""
    halves = [("l", box(10, 2, 20)), ("r", at(box(10, 2, 20), 10, 0, 0))]
    behind = at(box(10, 5, 20), 10, 9, 0)
    with_it = visible_lines([*halves, ("behind", behind)], FRONT)
    assert with_it == visible_lines(halves, FRONT)


CHANNEL = at(prism(outline("0 0, 30 0, 30 20, 22 20, 22 3, 8 3, 8 20, 0 20"), 60), 0, 0, 0, UPRIGHT)


def channel(strokes: tuple[Stroke2d, ...]) -> list[tuple[tuple[str, ...], str, float, float]]:
    """What lies along the upper edge at x = 22, z = 20 of the channel: y from and to."""
    (x1, y1), (x2, y2) = (project(ISO, (22, y, 20)) for y in (-60, 0))
    found = []
    for stroke in strokes:
        shares = [(x - x1) / (x2 - x1) for x, _ in stroke.points]
        offs = [
            abs(y - y1 - (y2 - y1) * s) for (_, y), s in zip(stroke.points, shares, strict=True)
        ]
        if max(offs) < 1e-9:
            low, high = (60 * share - 60 for share in shares)
            found.append((stroke.keys, stroke.kind, round(low, 9), round(high, 9)))
    return sorted(found, key=lambda row: row[2])


def test_a_silhouette_against_its_own_solid_is_a_crease() -> None:
    """A sight line runs as far back as it runs left and down, and the channel is 14 wide.

    Just beside the edge one sees the channel's own far wall, 14 mm further back than the
    edge; over the last 14 mm there is no wall left.
    """
    assert channel(visible_lines([("u", CHANNEL)], ISO)) == [
        (("u",), "crease", -60, -14),
        (("u",), "contour", -14, 0),
    ]


def test_a_silhouette_against_its_own_solid_with_another_between_is_an_outline() -> None:
    block = at(box(14, 20, 17), 8, -40, 3)  # fills the channel from -40 to -20
    assert channel(visible_lines([("u", CHANNEL), ("block", block)], ISO)) == [
        (("u",), "crease", -60, -54),
        (("u",), "contour", -54, -40),
        (("u", "block"), "contour", -40, -20),
        (("u",), "crease", -20, -14),
        (("u",), "contour", -14, 0),
    ]


def rod(count: int = 48) -> Solid:
    return prism(round_outline(6, count), 20, curved=True)


def test_a_rod_from_the_front_is_a_rectangle() -> None:
    found = visible_lines([("rod", rod())], FRONT)
    sides = [(-6, 0, -6, 20), (-6, 0, 6, 0), (-6, 20, 6, 20), (6, 0, 6, 20)]
    assert differences(segments(found), sides) == []
    assert {s.kind for s in found} == {"contour"}


def test_a_rod_from_above_is_its_rim() -> None:
    assert len(visible_lines([("rod", rod(24))], TOP)) == 24


@pytest.mark.parametrize("degrees", [0, 17, 60, 133])
def test_a_rod_has_two_silhouettes_a_diameter_apart(degrees: float) -> None:
    view = isometric()
    solid = at(rod(96), 1, 2, 3, turn("z", degrees))
    sides = [s for s in visible_lines([("rod", solid)], view) if math.dist(*s.points) > 10]
    assert len(sides) == 2
    assert {s.kind for s in sides} == {"contour"}
    left, right = (s.points[0][0] for s in sides)
    # Chords of 96 lie inside the circle by at most r (1 - cos(π/96)), about 0.0032 mm.
    assert 12 - 2 * 0.0033 < abs(right - left) < 12 + 1e-9
    assert math.dist(*sides[0].points) == pytest.approx(20 * math.sqrt(2 / 3))


def test_curved_walls_show_no_facets_but_flat_walls_do() -> None:
    smooth = visible_lines([("rod", rod(24))], ODD)
    sharp = visible_lines([("rod", prism(round_outline(6, 24), 20))], ODD)
    assert len(sharp) - len(smooth) == 11
    assert {s.points for s in smooth} < {s.points for s in sharp}


def test_two_solids_of_one_key_are_refused() -> None:
    with pytest.raises(ValueError, match="same key"):
        visible_lines([("a", box(1, 1, 1)), ("a", at(box(1, 1, 1), 5, 0, 0))], ISO)


def test_an_empty_scene_has_no_lines() -> None:
    assert visible_lines([], ISO) == ()
    assert all_lines([], ISO) == ()
