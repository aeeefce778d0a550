"""Chains: the same ink, with fewer ends."""

import math
from itertools import pairwise

import pytest

from patternpress.assembly.solid import box
from patternpress.drawing.chains import chained
from patternpress.drawing.hidden import Stroke2d, all_lines, visible_lines
from patternpress.drawing.projection import FACES
from tests.drawing.solid_scenes import ISO, SCENES, prism, round_outline


def ink(strokes) -> dict[tuple[object, ...], float]:
    total: dict[tuple[object, ...], float] = {}
    for stroke in strokes:
        look = (stroke.keys, stroke.kind, stroke.hidden)
        length = sum(math.dist(a, b) for a, b in pairwise(stroke.points))
        total[look] = total.get(look, 0.0) + length
    return total


def test_a_box_is_an_outline_and_three_lines_within() -> None:
    found = chained(visible_lines([("a", box(3, 4, 5))], ISO))
    outline, *inner = sorted(found, key=lambda stroke: stroke.kind)
    assert len(outline.points) == 7
    assert outline.points[0] == outline.points[-1]
    assert [len(stroke.points) for stroke in inner] == [2, 2, 2]


def test_a_rim_is_one_closed_chain() -> None:
    disc = prism(round_outline(6, 24), 20, curved=True)
    (rim,) = chained(visible_lines([("disc", disc)], FACES["top"]))
    assert len(rim.points) == 25
    assert rim.points[0] == rim.points[-1]


def test_strokes_turned_either_way_are_followed() -> None:
    places = [(0.0, 0.0), (1.0, 0.0), (1.0, 1.0), (3.0, 1.0)]
    lines = [(places[1], places[0]), (places[2], places[3]), (places[2], places[1])]
    found = chained([Stroke2d(("a",), "crease", line) for line in lines])
    assert [stroke.points for stroke in found] in ([tuple(places)], [tuple(places[::-1])])


def test_three_lines_that_meet_all_end_and_looks_are_kept_apart() -> None:
    star = [((0.0, 0.0), end) for end in ((1.0, 0.0), (0.0, 1.0), (-1.0, 0.0))]
    assert len(chained([Stroke2d(("a",), "crease", line) for line in star])) == 3
    two = [Stroke2d((key,), "crease", line) for key, line in zip("ab", star[:2], strict=True)]
    assert chained(two) == tuple(two)


@pytest.mark.parametrize("name", SCENES)
def test_no_ink_is_lost(name: str) -> None:
    strokes = all_lines(*SCENES[name])
    found = chained(strokes)
    assert ink(found) == pytest.approx(ink(strokes))
    assert len(found) <= len(strokes)
    assert sum(len(stroke.points) - 1 for stroke in found) == len(strokes)
