"""Find room for words on a part.

In: a surface (an outline's polygon and what already lies on it) and the size of what is to
be placed.  Out: the free place nearest to the one preferred, or None.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise

from patternpress.assembly.polygons import Edge, Place, Polygon, contains
from patternpress.drawing.ink import Extent

_TRIES = 24  # places tried each way
_FINEST = 0.5  # mm between places tried


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
    places = [(x, y) for x in across for y in up]
    places.sort(
        key=lambda p: math.hypot(p[0] + width / 2 - prefer[0], p[1] + height / 2 - prefer[1])
    )
    for x, y in places:
        spot = Extent(x, y, x + width, y + height)
        if is_free(surface, spot.grown(margin * 0.98)):
            return spot
    return None


def _steps(low: float, high: float, prefer: float) -> list[float]:
    if high < low:
        return []
    count = min(_TRIES, int((high - low) / _FINEST))
    found = {low + (high - low) * i / count for i in range(count + 1)} if count else {low}
    return sorted({*found, min(high, max(low, prefer))})


def is_free(surface: Surface, spot: Extent) -> bool:
    """Say whether a rectangle lies inside the outline and touches nothing on it."""
    if any(spot.meets(other) for other in surface.blocked):
        return False
    if not contains(surface.ring, (spot.left, spot.bottom)):
        return False
    edges = (*pairwise((*surface.ring, surface.ring[0])), *surface.lines)
    return not any(passes_through(edge, spot) for edge in edges)


def passes_through(edge: Edge, spot: Extent) -> bool:
    """Say whether a straight line enters a rectangle (clipping by its four sides in turn)."""
    (x1, y1), (x2, y2) = edge
    first, last = 0.0, 1.0
    for step, low, high in (
        (x2 - x1, spot.left - x1, spot.right - x1),
        (y2 - y1, spot.bottom - y1, spot.top - y1),
    ):
        if step == 0:
            if low >= 0 or high <= 0:
                return False
            continue
        one, two = sorted((low / step, high / step))
        first, last = max(first, one), min(last, two)
    return first < last
