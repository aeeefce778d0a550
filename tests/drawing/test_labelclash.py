"""The first free place of a label is the one that asking pair by pair would find."""

from __future__ import annotations

import numpy as np
import shapely
from hypothesis import given
from hypothesis import strategies as st

from patternpress.assembly.convex import Array
from patternpress.drawing.labelclash import first_free

CLEAR = 1.2
WORD = 1.5  # heights of a letter that labels side by side keep apart

_places = st.integers(0, 60).map(lambda n: n / 2)
_rows = st.tuples(_places, _places, _places, _places, st.integers(2, 9), st.just(3)).map(
    lambda r: (r[0], r[1], r[2], r[3], r[2] + r[4], r[3] + r[5], r[2] + r[4] / 2, r[3])
)


def table(rows: list[tuple[float, ...]]) -> Array:
    return np.array(rows, dtype=float).reshape(-1, 8)


def clash(one: Array, other: Array) -> bool:
    """Whether words or leaders of two rows are in each other's way, by shapes alone."""
    wide, broad = (shapely.box(*(r[2:6] + CLEAR * np.array([-1, -1, 1, 1]))) for r in (one, other))
    lines = [shapely.LineString([row[6:8], row[:2]]) for row in (one, other)]
    level = min(one[5], other[5]) > max(one[3], other[3])
    apart = max(one[2], other[2]) - min(one[4], other[4])
    near = level and apart < WORD * 3
    half = [shapely.box(*(r[2:6] + CLEAR / 2 * np.array([-1, -1, 1, 1]))) for r in (one, other)]
    return bool(
        near
        or half[0].intersection(half[1]).area > 1e-9
        or lines[0].distance(lines[1]) < CLEAR / 2
        or wide.intersects(lines[1])
        or broad.intersects(lines[0])
    )


@given(st.lists(_rows, max_size=12), st.lists(_rows, max_size=6))
def test_it_is_the_first_that_is_in_nobodys_way(
    rows: list[tuple[float, ...]], there: list[tuple[float, ...]]
) -> None:
    mine, others = table(rows), list(table(there))
    free = [n for n, row in enumerate(mine) if not any(clash(row, each) for each in others)]
    assert first_free(mine, others, CLEAR) == (free[0] if free else None)


def test_words_side_by_side_keep_one_and_a_half_letters_apart() -> None:
    here = np.array([30.0, 20, 0, 0, 5, 3, 5, 3])
    near, far = (here + np.array([40.0, 0, x, 0, x, 0, x + 8, 0]) for x in (9.4, 9.6))
    assert first_free(table([near, far]), [here], CLEAR) == 1
    assert first_free(table([near]), [here], CLEAR) is None
    assert first_free(table([near]), [], CLEAR) == 0
