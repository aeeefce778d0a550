"""Solids in space: flat facets that close around some wood.

In: corners in mm and the facets between them.  Out: moved copies, edges with the facets on
both sides, volume, centre and extent.  Axes: x to the right, y away to the back, z up, which
makes a right-handed set.  Floats: nothing here is printed as a figure.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise
from typing import Literal

Vec = tuple[float, float, float]
Matrix = tuple[Vec, Vec, Vec]
EdgeKind = Literal["crease", "smooth", "boundary"]

UNTURNED: Matrix = ((1.0, 0.0, 0.0), (0.0, 1.0, 0.0), (0.0, 0.0, 1.0))
# Two facets whose normals differ by less lie in one plane (sine of the angle).
_FLAT = 1e-7


@dataclass(frozen=True, slots=True)
class Facet:
    """A flat face: loops of numbers of points, the outer one first, then holes.

    Seen from outside the outer loop runs anticlockwise and holes run clockwise.  `normal` has
    length 1 and points out of the wood.  `side` is the name of a side, or ''.  Facets that
    run into each other without a crease share a number `smooth` over 0; 0 is a flat face.
    """

    loops: tuple[tuple[int, ...], ...]
    normal: Vec
    side: str = ""
    smooth: int = 0


@dataclass(frozen=True, slots=True)
class Solid:
    """Corners in mm, and the facets that close around the wood."""

    points: tuple[Vec, ...]
    facets: tuple[Facet, ...]


@dataclass(frozen=True, slots=True)
class SolidEdge:
    """An edge from one point's number to another's, as the facet `left` walks along it.

    `right` is the facet on the other side, None at a boundary.  `kind`: "crease" is always a
    line of the form; "smooth" is a line only where it is a silhouette (facets of one curved
    surface, or in one plane); "boundary" has no single neighbour, so the solid is not closed.
    """

    start: int
    end: int
    left: int
    right: int | None
    kind: EdgeKind


def facet(
    points: Sequence[Vec], loops: Sequence[Sequence[int]], side: str = "", smooth: int = 0
) -> Facet:
    """Return a facet with its normal worked out from the outer loop (Newell's method).

    Raises ValueError if the outer loop has no area.
    """
    normal = _twice_area(points, loops[0])
    length = math.hypot(*normal)
    if length == 0.0:
        raise ValueError("a facet has no area")
    unit = (normal[0] / length, normal[1] / length, normal[2] / length)
    return Facet(tuple(tuple(loop) for loop in loops), unit, side, smooth)


def box(wide: float, deep: float, high: float) -> Solid:
    """Return a box from the origin: `wide` along x, `deep` along y, `high` along z, mm.

    Sides: left, right (x), front, back (y, the front at 0), bottom, top (z).
    """
    low_high = ((0.0, wide), (0.0, deep), (0.0, high))
    points = tuple((x, y, z) for z in low_high[2] for y in low_high[1] for x in low_high[0])
    loops = {
        "left": (0, 4, 6, 2),
        "right": (1, 3, 7, 5),
        "front": (0, 1, 5, 4),
        "back": (2, 6, 7, 3),
        "bottom": (0, 2, 3, 1),
        "top": (4, 5, 7, 6),
    }
    return Solid(points, tuple(facet(points, (loop,), side) for side, loop in loops.items()))


def moved(solid: Solid, matrix: Matrix, offset: Vec) -> Solid:
    """Return a solid turned (or mirrored) by the matrix's rows, then shifted by `offset` mm.

    Mirroring turns the loops round, so that they stay anticlockwise from outside.  Raises
    ValueError if the matrix does more than turn and mirror.
    """
    if matrix == UNTURNED:
        return Solid(tuple(_sum(point, offset) for point in solid.points), solid.facets)
    handed = handedness(matrix)
    points = tuple(_sum(_times(matrix, point), offset) for point in solid.points)
    facets = tuple(
        Facet(
            each.loops if handed > 0 else tuple(loop[::-1] for loop in each.loops),
            _times(matrix, each.normal),
            each.side,
            each.smooth,
        )
        for each in solid.facets
    )
    return Solid(points, facets)


def edges(solid: Solid) -> tuple[SolidEdge, ...]:
    """Return every edge once, in the order of the facets' loops, with its two facets.

    Where more or fewer than two facets meet, or two run the same way, each facet gets a
    "boundary" edge of its own.
    """
    return _edges_of(solid.facets)


@lru_cache(maxsize=1024)
def _edges_of(facets: tuple[Facet, ...]) -> tuple[SolidEdge, ...]:
    """Return the edges between facets: pictures ask for those of the same pieces many times."""
    walked = _walks(facets)
    found: list[SolidEdge] = []
    for (start, end), walkers in walked.items():
        others = walked.get((end, start), [])
        if len(walkers) == len(others) == 1:
            if start < end:
                kind = _kind(facets[walkers[0]], facets[others[0]])
                found.append(SolidEdge(start, end, walkers[0], others[0], kind))
        else:
            found += [SolidEdge(start, end, each, None, "boundary") for each in walkers]
    return tuple(found)


def check_closed(solid: Solid) -> tuple[tuple[int, int], ...]:
    """Return the edges (pairs of point numbers) that break the closed surface; () if sound.

    Sound: every edge lies in exactly two facets, which walk it in opposite directions.
    """
    return tuple((each.start, each.end) for each in edges(solid) if each.kind == "boundary")


def volume(solid: Solid) -> float:
    """Return the volume in mm³ (divergence theorem; negative if the facets face inwards)."""
    return math.fsum(dot(area, point) for area, point in _areas(solid)) / 6


def centre(solid: Solid) -> Vec:
    """Return the centre of mass in mm: tetrahedra from the first point, weighed by volume.

    Raises ValueError for a solid without volume.
    """
    base = solid.points[0]
    weights: list[float] = []
    sums: list[Vec] = []
    for each in solid.facets:
        for loop in each.loops:
            a = _minus(solid.points[loop[0]], base)
            for second, third in pairwise(loop[1:]):
                b, c = _minus(solid.points[second], base), _minus(solid.points[third], base)
                weight = dot(a, cross(b, c))
                weights.append(weight)
                sums.append(_scaled(_sum(_sum(a, b), c), weight / 4))
    total = math.fsum(weights)
    if total == 0.0:
        raise ValueError("a solid has no volume")
    x, y, z = (math.fsum(each[axis] for each in sums) / total for axis in range(3))
    return _sum(base, (x, y, z))


def bounds(solid: Solid) -> tuple[Vec, Vec]:
    """Return the lowest and the highest x, y and z, mm."""
    low_x, low_y, low_z = (min(point[axis] for point in solid.points) for axis in range(3))
    high_x, high_y, high_z = (max(point[axis] for point in solid.points) for axis in range(3))
    return (low_x, low_y, low_z), (high_x, high_y, high_z)


def dot(one: Vec, two: Vec) -> float:
    """Return the scalar product."""
    return one[0] * two[0] + one[1] * two[1] + one[2] * two[2]


def cross(one: Vec, two: Vec) -> Vec:
    """Return the vector product."""
    (a, b, c), (d, e, f) = one, two
    return b * f - c * e, c * d - a * f, a * e - b * d


def _walks(facets: Sequence[Facet]) -> dict[tuple[int, int], list[int]]:
    """Return the facets that walk from one point to another, in the order of the loops."""
    walked: dict[tuple[int, int], list[int]] = {}
    for number, each in enumerate(facets):
        for loop in each.loops:
            for step in pairwise((*loop, loop[0])):
                walked.setdefault(step, []).append(number)
    return walked


def _kind(one: Facet, two: Facet) -> EdgeKind:
    if one.smooth == two.smooth and one.smooth > 0:
        return "smooth"
    same_plane = dot(one.normal, two.normal) > 0 and (
        math.hypot(*cross(one.normal, two.normal)) < _FLAT
    )
    return "smooth" if same_plane else "crease"


def _areas(solid: Solid) -> list[tuple[Vec, Vec]]:
    """Return each facet's twofold area as a vector, holes taken off, and one of its points."""
    return [
        (_twice_area(solid.points, loop), solid.points[each.loops[0][0]])
        for each in solid.facets
        for loop in each.loops
    ]


def _twice_area(points: Sequence[Vec], loop: Sequence[int]) -> Vec:
    base = points[loop[0]]
    total = (0.0, 0.0, 0.0)
    for one, two in pairwise(loop[1:]):
        total = _sum(total, cross(_minus(points[one], base), _minus(points[two], base)))
    return total


def handedness(matrix: Matrix) -> float:
    """Return 1 for a matrix that turns, -1 for one that mirrors.

    Raises ValueError if it does more than that.
    """
    for row, line in enumerate(matrix):
        for column, other in enumerate(matrix):
            if abs(dot(line, other) - (row == column)) > 1e-9:
                raise ValueError("the matrix does more than turn and mirror")
    return dot(matrix[0], cross(matrix[1], matrix[2]))


def _times(matrix: Matrix, vec: Vec) -> Vec:
    return dot(matrix[0], vec), dot(matrix[1], vec), dot(matrix[2], vec)


def _sum(one: Vec, two: Vec) -> Vec:
    return one[0] + two[0], one[1] + two[1], one[2] + two[2]


def _minus(one: Vec, two: Vec) -> Vec:
    return one[0] - two[0], one[1] - two[1], one[2] - two[2]


def _scaled(vec: Vec, factor: float) -> Vec:
    return vec[0] * factor, vec[1] * factor, vec[2] * factor
