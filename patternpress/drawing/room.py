"""Find room for words on a part.

In: a surface (an outline's polygon and what already lies on it) and the size of what is to
be placed.  Out: the free place nearest to the one preferred, or None.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from patternpress.assembly.convex import Array
from patternpress.assembly.polygons import Edge, Place, Polygon, contains
from patternpress.drawing.ink import Extent

_TRIES = 24  # places tried each way
_FINEST = 0.5  # mm between places tried
_NEARLY = 0.98  # of the margin is asked for, lest rounding spoil an exact fit
_AT_ONCE = 48  # places tried together


@dataclass(frozen=True, slots=True)
class Surface:
    """A part's face: its outline and the rectangles and lines that words must not touch."""

    ring: Polygon
    blocked: tuple[Extent, ...] = ()
    lines: tuple[Edge, ...] = ()

    @property
    def extent(self) -> Extent:
        """The rectangle round the outline."""
        across, up = [x for x, _ in self.ring], [y for _, y in self.ring]
        return Extent(min(across), min(up), max(across), max(up))

    def without(self, *taken: Extent) -> Surface:
        """Return the surface with more of it taken."""
        return replace(self, blocked=(*self.blocked, *taken))


def find_room(
    surface: Surface, size: tuple[float, float], prefer: Place, margin: float = 1.2
) -> Extent | None:
    """Return a free rectangle of `size` mm whose middle is nearest to `prefer`.

    It keeps `margin` mm from the outline and from everything that lies on the surface.
    """
    width, height = size
    whole = surface.extent
    across = _steps(whole.left + margin, whole.right - margin - width, prefer[0] - width / 2)
    up = _steps(whole.bottom + margin, whole.top - margin - height, prefer[1] - height / 2)
    open_ = _unblocked(surface, np.array(across), np.array(up), size, margin * _NEARLY)
    places = [(across[i], up[j]) for i, j in np.argwhere(open_).tolist()]
    places.sort(
        key=lambda p: math.hypot(p[0] + width / 2 - prefer[0], p[1] + height / 2 - prefer[1])
    )
    edges = np.array(_edges(surface)).reshape(-1, 4)
    for start in range(0, len(places), _AT_ONCE):
        spots = [Extent(x, y, x + width, y + height) for x, y in places[start : start + _AT_ONCE]]
        grown = [spot.grown(margin * _NEARLY) for spot in spots]
        touched = np.any(_entered(edges, grown), axis=0)
        for place in np.flatnonzero(~touched).tolist():
            spot, around = spots[place], grown[place]
            if contains(surface.ring, (around.left, around.bottom)):
                return spot
    return None


def _unblocked(
    surface: Surface, across: Array, up: Array, size: tuple[float, float], margin: float
) -> NDArray[np.bool_]:
    """Say at which of the places across and up a rectangle meets no blocked one."""
    left, right = across - margin, across + size[0] + margin
    bottom, top = up - margin, up + size[1] + margin
    free = np.ones((len(across), len(up)), dtype=bool)
    for box in surface.blocked:
        beside = (left < box.right) & (box.left < right)
        free &= ~(beside[:, None] & (bottom < box.top) & (box.bottom < top))
    return free


def _steps(low: float, high: float, prefer: float) -> list[float]:
    if high < low:
        return []
    count = min(_TRIES, int((high - low) / _FINEST))
    found = {low + (high - low) * i / count for i in range(count + 1)} if count else {low}
    return sorted({*found, min(high, max(low, prefer))})


def passes_through(edge: Edge, spot: Extent) -> bool:
    """Say whether a straight line enters a rectangle."""
    return bool(_entered(np.array([[*edge[0], *edge[1]]]), [spot])[0, 0])


def _edges(surface: Surface) -> list[Edge]:
    return [*pairwise((*surface.ring, surface.ring[0])), *surface.lines]


def _entered(edges: Array, spots: Sequence[Extent]) -> NDArray[np.bool_]:
    """Say of each line (x, y, to x, to y) and each rectangle whether it enters it.

    By clipping the line by the rectangle's four sides in turn.
    """
    boxes = np.array([(each.left, each.bottom, each.right, each.top) for each in spots])
    first: Array = np.zeros((len(edges), len(boxes)))
    last: Array = np.ones_like(first)
    for axis in (0, 1):
        start, step = edges[:, axis, None], (edges[:, axis + 2] - edges[:, axis])[:, None]
        low, high = boxes[:, axis] - start, boxes[:, axis + 2] - start
        level, way = step == 0, np.where(step == 0, 1.0, step)
        one, two = low / way, high / way
        # A line that runs level is within all the time, or never.
        inside = (low < 0) & (high > 0)
        first = np.maximum(first, np.where(level, np.where(inside, 0, 2), np.minimum(one, two)))
        last = np.minimum(last, np.where(level, 1.0, np.maximum(one, two)))
    return np.asarray(first < last)
