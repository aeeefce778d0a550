"""How much of a leader lies over other pieces, against a polygon library's overlay."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from patternpress.drawing.leaders import length_within

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
