"""The first place of a label that is clear of the labels that stand already.

In: rows as those of `labelspots.rows_round`, the best first.  Out: the number of the first row
whose words and leader clash with no other's.  Boxes are compared all at once, and shapes only
made of the few rows whose boxes are clear: one by one they took most of a long booklet's time.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np
import shapely

from patternpress.assembly.convex import Array

_WORD = 1.5  # heights of a letter between labels that stand side by side
_FIRST = 2  # rows whose shapes are asked together to begin with, then twice as many


def first_free(rows: Array, others: Sequence[Array], clear: float) -> int | None:
    """Return the number of the first row that clashes with none of the rows `others`, or None.

    `clear`: how far words keep from foreign leaders, and half of it words from words, mm.
    """
    if not len(rows) or not others:
        return 0 if len(rows) else None
    there = np.array(others)
    left = np.flatnonzero(~_boxes_clash(rows, there, clear).any(axis=1))
    lines, boxes = _lines(there), _boxes(there, clear)
    for numbers in _portions(left):
        mine = rows[numbers]
        ours, grown = _lines(mine)[:, None], _boxes(mine, clear)[:, None]
        clash = shapely.distance(ours, lines) < clear / 2
        clash |= shapely.intersects(grown, lines) | shapely.intersects(boxes, ours)
        free = numbers[~clash.any(axis=1)]
        if len(free):
            return int(free[0])
    return None


def _portions(numbers: Any) -> Iterator[Any]:
    start, count = 0, _FIRST
    while start < len(numbers):
        yield numbers[start : start + count]
        start, count = start + count, 2 * count


def _boxes_clash(rows: Array, there: Array, clear: float) -> Any:
    """Say of each row and each other whether their words lie too near, row by row."""
    low_x, low_y, high_x, high_y = (rows[:, column, None] for column in (2, 3, 4, 5))
    left, bottom, right, top = (there[:, column] for column in (2, 3, 4, 5))
    level = np.minimum(high_y, top) - np.maximum(low_y, bottom) > 0
    # Side by side they must be far enough apart not to be read as one word.
    apart = np.maximum(low_x, left) - np.minimum(high_x, right)
    joined = level & (apart < _WORD * np.minimum(high_y - low_y, top - bottom))
    by = clear / 2
    return joined | (
        (low_x - by < right + by)
        & (left - by < high_x + by)
        & (low_y - by < top + by)
        & (bottom - by < high_y + by)
    )


def _lines(rows: Array) -> Any:
    return shapely.linestrings(np.stack((rows[:, 6:8], rows[:, :2]), axis=1))


def _boxes(rows: Array, by: float) -> Any:
    return shapely.box(rows[:, 2] - by, rows[:, 3] - by, rows[:, 4] + by, rows[:, 5] + by)
