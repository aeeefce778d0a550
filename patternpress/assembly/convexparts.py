"""Divide polygons into convex ones.

In: a shapely polygon, or several, with holes.  Out: convex rings, anticlockwise.  Triangles
that share a side are joined again as long as the whole stays convex, which leaves at most four
times the least possible number (Hertel and Mehlhorn 1983, from memory).
"""

from collections.abc import Iterator
from itertools import pairwise

import shapely
from shapely.geometry.base import BaseGeometry
from shapely.geometry.polygon import orient

from patternpress.assembly.polygons import Place, Polygon

# How much a corner may turn the wrong way, as the sine of its angle, and still be called straight.
_STRAIGHT = 1e-9
# Slivers below this area, mm², are the dust of rounding.
_DUST = 1e-10


def convex_parts(wood: BaseGeometry) -> list[Polygon]:
    """Return convex rings that fill `wood` and touch only along their sides."""
    found: list[Polygon] = []
    for polygon in _polygons(wood):
        ring = tuple((x, y) for x, y in orient(polygon).exterior.coords[:-1])
        if not polygon.interiors and _is_convex(ring):
            found.append(ring)
        else:
            found += _joined_again(list(_triangles(polygon)))
    return found


def _polygons(wood: BaseGeometry) -> Iterator[shapely.Polygon]:
    for each in getattr(wood, "geoms", [wood]):
        if isinstance(each, shapely.Polygon) and each.area > _DUST:
            yield each


def _triangles(polygon: shapely.Polygon) -> Iterator[Polygon]:
    for each in shapely.constrained_delaunay_triangles(polygon).geoms:
        if each.area > _DUST:
            yield tuple((x, y) for x, y in orient(each).exterior.coords[:-1])


def _is_convex(ring: Polygon) -> bool:
    corners = zip((ring[-1], *ring[:-1]), ring, (*ring[1:], ring[0]), strict=True)
    return all(_turns_left(*corner) for corner in corners)


def _turns_left(one: Place, two: Place, three: Place) -> bool:
    ax, ay, bx, by = two[0] - one[0], two[1] - one[1], three[0] - two[0], three[1] - two[1]
    turn = (ax * by - ay * bx) / ((ax * ax + ay * ay) * (bx * bx + by * by)) ** 0.5
    return turn > _STRAIGHT or (turn >= -_STRAIGHT and ax * bx + ay * by > 0)


def _joined_again(parts: list[Polygon]) -> list[Polygon]:
    """Join rings over shared sides, longest side first, while the whole stays convex."""
    rings: dict[int, Polygon] = dict(enumerate(parts))
    owner = {side: n for n, ring in rings.items() for side in pairwise((*ring, ring[0]))}
    shared = [side for side in owner if side < (side[1], side[0]) and side[::-1] in owner]
    for side in sorted(shared, key=_by_length):
        one, two = owner[side], owner[side[1], side[0]]
        whole = _over(rings[one], rings[two], side) if one != two else None
        if whole is not None and _is_convex(whole):
            rings[one] = whole
            del rings[two]
            owner |= dict.fromkeys(pairwise((*whole, whole[0])), one)
    return list(rings.values())


def _by_length(side: tuple[Place, Place]) -> tuple[float, tuple[Place, Place]]:
    (x1, y1), (x2, y2) = side
    return -((x2 - x1) ** 2 + (y2 - y1) ** 2), side


def _over(one: Polygon, two: Polygon, side: tuple[Place, Place]) -> Polygon | None:
    """Return two rings as one, without the side from `side[0]` to `side[1]` of the first."""
    start, to = side
    if start not in one or to not in one:
        return None
    first = one.index(to)
    second = two.index(start)
    around = (*one[first:], *one[:first])
    other = (*two[second:], *two[:second])
    # The first runs to … start, the second start … to.
    return (*around, *other[1:-1]) if around[-1] == start and other[-1] == to else None
