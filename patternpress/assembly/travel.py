"""How far a thing slides before it touches another.

In: placed bulks and a direction of length 1.  Out: the distance in mm, or None where nothing
stands in the way.  Floats.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from patternpress.assembly.convex import TOUCH, Bulk, Hull, separating_axes
from patternpress.assembly.solid import Vec

_STILL = 1e-12


def room_ahead(
    moving: Sequence[Bulk], others: Sequence[Bulk], way: Vec, touch: float = TOUCH
) -> float | None:
    """The distance that things held together slide along a way until they touch another.

    Others that they share wood with from the start, within `touch`, count as touched.
    """
    near = [
        (least, one.hulls[i], other.hulls[j])
        for one in moving
        for other in _in_line(one, others, way, touch)
        for least, i, j in _hulls_in_line(one, other, way, touch)
    ]
    near.sort(key=lambda each: each[0])
    found: float | None = None
    for least, mine, theirs in near:
        if found is not None and least >= found:
            break
        far = _until(mine, theirs, way, touch)
        if far is not None:
            found = far if found is None else min(found, far)
    return found


def _in_line(one: Bulk, others: Sequence[Bulk], way: Vec, touch: float) -> list[Bulk]:
    """Return the others whose boxes meet that of the first when it is drawn along the way."""
    if not others:
        return []
    along = np.array(way)
    low = np.where(along < -_STILL, -np.inf, one.least)
    high = np.where(along > _STILL, np.inf, one.most)
    least, most = np.array([e.least for e in others]), np.array([e.most for e in others])
    shared = np.minimum(high, most) - np.maximum(low, least)
    meets = (shared > touch).all(axis=1)
    return [each for each, met in zip(others, meets, strict=True) if met]


def _hulls_in_line(
    one: Bulk, other: Bulk, way: Vec, touch: float
) -> Iterator[tuple[float, int, int]]:
    """Yield the pairs of hulls whose boxes meet when the first is drawn along the way, each with
    how far it goes at least until they do.
    """
    along = np.array(way)
    low = np.where(along < -_STILL, -np.inf, one.low)
    high = np.where(along > _STILL, np.inf, one.high)
    shared = np.minimum(high[:, None], other.high[None]) - np.maximum(low[:, None], other.low[None])
    ahead = np.abs(along) > _STILL
    gaps = np.where(
        along > 0, other.low[None] - one.high[:, None], one.low[:, None] - other.high[None]
    )
    least = (gaps[:, :, ahead] / np.abs(along[ahead])).max(axis=2)
    for i, j in np.argwhere((shared > touch).all(axis=2)):
        yield float(least[i, j]), int(i), int(j)


def _until(one: Hull, two: Hull, way: Vec, touch: float) -> float | None:
    """Return how far a hull goes until it touches another; None if it passes by.

    Moved by t along the way, the hulls overlap while their shadows do on every separating axis:
    on each that is a stretch of t, and the hulls first meet where all stretches begin.
    """
    axes = separating_axes(one, two)
    mine, theirs = axes @ one.points.T, axes @ two.points.T
    ahead = axes @ np.array(way)
    # In the direction that it moves, `gap` is still free and `past` is where it has left again.
    gap = np.where(
        ahead > 0, theirs.min(axis=1) - mine.max(axis=1), mine.min(axis=1) - theirs.max(axis=1)
    )
    past = np.where(
        ahead > 0, theirs.max(axis=1) - mine.min(axis=1), mine.max(axis=1) - theirs.min(axis=1)
    )
    still = np.abs(ahead) <= _STILL
    if np.minimum(-gap, past)[still].min(initial=np.inf) <= touch:
        return None
    speed = np.abs(ahead[~still])
    start = float((gap[~still] / speed).max(initial=-np.inf))
    end = float((past[~still] / speed).min(initial=np.inf))
    if end - start <= touch or end <= touch:
        return None
    return max(0.0, start)
