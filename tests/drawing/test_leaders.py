"""How much of a leader lies over other pieces, against a polygon library's overlay."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from patternpress.drawing import labelplaces
from patternpress.drawing.labelplaces import Naming
from patternpress.drawing.labelspots import length_within
from patternpress.drawing.leaders import place_labels
from patternpress.drawing.picturestyle import PictureStyle

RING = shapely.box(0, 0, 10, 10).difference(shapely.box(3, 3, 7, 7))
places = st.tuples(*[st.floats(-5, 35, width=32)] * 2)
circles = st.tuples(places, st.floats(1, 9, width=32), st.integers(1, 5))


def within(line: tuple[float, float, float, float], shape: object) -> float:
    return float(length_within(np.array([line]), shape)[0])


def test_a_line_across_a_ring_is_within_it_twice() -> None:
    assert within((-1, 5, 11, 5), RING) == pytest.approx(6)
    assert within((11, 5, -1, 5), RING) == pytest.approx(6)
    assert within((5, 5, 5, 9), RING) == pytest.approx(2)
    assert within((4, 4, 6, 6), RING) == 0
    assert within((1, 1, 2, 2), RING) == pytest.approx(math.sqrt(2))
    assert within((20, 0, 30, 9), RING) == 0


@given(st.lists(circles, min_size=1, max_size=4), circles, places, places)
def test_it_is_the_length_that_an_overlay_leaves(
    add: list[tuple[tuple[float, float], float, int]],
    off: tuple[tuple[float, float], float, int],
    start: tuple[float, float],
    end: tuple[float, float],
) -> None:
    # Shapely 2.1: length(intersection(line, shape)).
    discs = [shapely.Point(at).buffer(size, quad_segs=turns) for at, size, turns in (*add, off)]
    shape = shapely.difference(shapely.union_all(discs[:-1]), discs[-1])
    if math.dist(start, end) < 0.01:
        end = (start[0] + 1, end[1])
    overlay = shapely.length(shapely.intersection(shapely.LineString([start, end]), shape))
    # A line along a side may count as in or as out.
    along = shapely.length(shapely.intersection(shapely.LineString([start, end]), shape.boundary))
    assert abs(within((*start, *end), shape) - overlay) <= along + 1e-6


def test_words_for_several_alike_stand_beside_the_one_that_has_room() -> None:
    """Two pegs, one deep in a board and one at its rim; the words are meant for the first."""
    style = PictureStyle()
    whole = shapely.box(0, 0, 90, 60)
    deep, rim = shapely.box(43, 28, 47, 32), shapely.box(80, 54, 84, 59.9)
    one, both = (
        place_labels([Naming("A", style.set_in(3.5), deep, alike=alike)], whole, (), 1.2, 110.0)
        for alike in ((), (rim,))
    )
    assert one[0].line.length > 25
    assert both[0].line.length < 10 and rim.contains(shapely.Point(both[0].dot))


@pytest.mark.parametrize("middle", [shapely.Point(20, 20).buffer(18), shapely.box(4, 16, 40, 22)])
def test_labels_asked_in_portions_stand_where_all_asked_at_once_would(
    middle: shapely.Polygon, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A piece at the rim, with free leaders; one that others hem in, where each crosses them."""
    style = PictureStyle()
    whole = shapely.union_all([middle, shapely.box(0, 0, 50, 40)])
    names = [
        Naming(text, style.set_in(style.letter), region)
        for text, region in (("A", middle), ("B", shapely.box(0, 0, 9, 7)))
    ]
    taken = [shapely.box(-20, 30, -2, 60), shapely.LineString([(55, -9), (55, 30)])]
    found = []
    for portion in (40, 600, 10**6):
        monkeypatch.setattr(labelplaces, "_PORTION", portion)
        found.append(place_labels(names, whole, taken, 1.2, 90.0))
    assert len(found[0]) == 2
    assert [(each.start, each.dot, each.box) for each in found[0]] == [
        (each.start, each.dot, each.box) for each in found[2]
    ]
    assert [each.dot for each in found[1]] == [each.dot for each in found[2]]
