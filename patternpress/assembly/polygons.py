"""Questions about polygons in floats: crossings, containment, gaps, clipped lines.

In: rings of corners, not closed.  Out: yes or no, places, or distances in mm.  For checks and
for placing words only; nothing here is printed as a figure.
"""

import math
from itertools import pairwise

from shapely import LinearRing
from shapely import Point as ShapelyPoint
from shapely.geometry.base import BaseGeometry

Place = tuple[float, float]
Polygon = tuple[Place, ...]
Edge = tuple[Place, Place]
_NEAR = 1e-7


def contains(ring: Polygon, place: Place) -> bool:
    """Say whether a place lies inside (even-odd rule; on the line may go either way)."""
    x, y = place
    inside = False
    for (x1, y1), (x2, y2) in pairwise((*ring, ring[0])):
        if (y1 > y) != (y2 > y) and x < x1 + (y - y1) / (y2 - y1) * (x2 - x1):
            inside = not inside
    return inside


def crossings(ring: Polygon) -> list[Place]:
    """Return places where a ring meets itself, or doubles back on itself at a corner."""
    count = len(ring)
    edges = sorted(
        (min(one[0], two[0]), index, (one, two))
        for index, (one, two) in enumerate(pairwise((*ring, ring[0])))
    )
    found = []
    for position, (_, index, edge) in enumerate(edges):
        reach = max(edge[0][0], edge[1][0]) + _NEAR
        for low, other, candidate in edges[position + 1 :]:
            if low > reach:
                break
            if (index + 1) % count == other:
                place = _doubles_back(edge, candidate)
            elif (other + 1) % count == index:
                place = _doubles_back(candidate, edge)
            else:
                place = meeting(edge, candidate)
            if place is not None:
                found.append(place)
    return found


def _doubles_back(edge: Edge, following: Edge) -> Place | None:
    """Return the corner between two edges if the second lies back along the first."""
    (ax, ay), (bx, by) = edge
    cx, cy = following[1]
    ux, uy, vx, vy = bx - ax, by - ay, cx - bx, cy - by
    lengths = math.hypot(ux, uy) * math.hypot(vx, vy)
    back = abs(ux * vy - uy * vx) <= 1e-9 * lengths and ux * vx + uy * vy < 0
    return edge[1] if back else None


def meeting(one: Edge, two: Edge) -> Place | None:
    """Return where two edges cross or touch within 1e-7 mm, or None."""
    if max(one[0][1], one[1][1]) + _NEAR < min(two[0][1], two[1][1]):
        return None
    if max(two[0][1], two[1][1]) + _NEAR < min(one[0][1], one[1][1]):
        return None
    if _crosses(one, two):
        return _where(one, two)
    for place, edge in ((one[0], two), (one[1], two), (two[0], one), (two[1], one)):
        if distance_to(place, edge) < _NEAR:
            return place
    return None


def _crosses(one: Edge, two: Edge) -> bool:
    a, b = _side(one, two[0]), _side(one, two[1])
    c, d = _side(two, one[0]), _side(two, one[1])
    return a * b < 0 and c * d < 0


def _side(edge: Edge, place: Place) -> float:
    (x1, y1), (x2, y2) = edge
    return (x2 - x1) * (place[1] - y1) - (y2 - y1) * (place[0] - x1)


def _where(one: Edge, two: Edge) -> Place:
    a, b = _side(two, one[0]), _side(two, one[1])
    share = a / (a - b)
    (x1, y1), (x2, y2) = one
    return x1 + share * (x2 - x1), y1 + share * (y2 - y1)


def distance_to(place: Place, edge: Edge) -> float:
    """Return the distance from a place to an edge, mm."""
    (x1, y1), (x2, y2) = edge
    along, up = x2 - x1, y2 - y1
    square = along * along + up * up
    share = ((place[0] - x1) * along + (place[1] - y1) * up) / square if square else 0.0
    share = min(1.0, max(0.0, share))
    return math.hypot(place[0] - x1 - share * along, place[1] - y1 - share * up)


def gap(ring: Polygon, other: Polygon) -> float:
    """Return the least distance between two rings' lines, 0 where they cross, mm.

    One of them may be a single place.
    """
    return float(_line(ring).distance(_line(other)))


def _line(ring: Polygon) -> BaseGeometry:
    return ShapelyPoint(ring[0]) if len(ring) == 1 else LinearRing(ring)


def clipped(ring: Polygon, start: Place, to: Place) -> list[Edge]:
    """Return the stretches of a straight line that lie inside a ring."""
    shares = {0.0, 1.0}
    a, b = (start, to), (to[0] - start[0], to[1] - start[1])
    for edge in pairwise((*ring, ring[0])):
        one, two = _side(a, edge[0]), _side(a, edge[1])
        if (one > 0) != (two > 0):
            share = one / (one - two)
            x = edge[0][0] + share * (edge[1][0] - edge[0][0]) - start[0]
            y = edge[0][1] + share * (edge[1][1] - edge[0][1]) - start[1]
            shares.add((x * b[0] + y * b[1]) / (b[0] ** 2 + b[1] ** 2))
    ordered = sorted(share for share in shares if 0 <= share <= 1)
    kept = []
    for one, two in pairwise(ordered):
        middle = (one + two) / 2
        if contains(ring, (start[0] + middle * b[0], start[1] + middle * b[1])):
            kept.append(
                (
                    (start[0] + one * b[0], start[1] + one * b[1]),
                    (start[0] + two * b[0], start[1] + two * b[1]),
                )
            )
    return kept


def outside(ring: Polygon, start: Place, to: Place) -> list[Edge]:
    """Return the stretches of a straight line that lie outside a ring."""
    ends = [start, *(place for edge in clipped(ring, start, to) for place in edge), to]
    return [(one, two) for one, two in zip(ends[::2], ends[1::2], strict=True) if one != two]
