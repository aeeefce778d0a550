"""A scene laid flat: what a view does to solids, as arrays.

In: named solids in mm and a View.  Out: `FlatScene`: every point on the paper with its depth,
the facets that face the eye, and the edges that may be lines of the picture.
"""

from collections.abc import Hashable, Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from patternpress.assembly.solid import Solid, SolidEdge, edges
from patternpress.drawing.projection import View

Floats = NDArray[np.float64]
Whole = NDArray[np.intp]
Scene = Sequence[tuple[Hashable, Solid]]

# Lengths below this share of the scene's extent count as nothing.
TOLERANCE = 1e-7
# Facets this close to the line of sight (sine of the angle) are seen edge-on.
_EDGE_ON = 1e-7
NONE = -1


@dataclass(frozen=True, slots=True, eq=False)
class FlatFacets:
    """The facets that face the eye.

    Row by row: `owner`, the solid's place in the scene; `number`, the facet's in its solid;
    `plane` (a, b, c), so that depth = a·x + b·y + c; `box`, low x, low y, high x, high y;
    `high`, the greatest depth.  The sides of facet f are the rows first[f] to first[f + 1] of
    `start` (the number of a point), `after` (the row of the side that begins where this one ends)
    and `ring` (counted through the scene): the outer loop anticlockwise, then holes clockwise.
    """

    owner: Whole
    number: Whole
    plane: Floats
    box: Floats
    high: Floats
    first: Whole
    start: Whole
    after: Whole
    ring: Whole


@dataclass(frozen=True, slots=True, eq=False)
class FlatEdges:
    """The edges that may be drawn, longer on the paper than nothing.

    `start` and `end` are numbers of points; `left` and `right`, walking from start to end,
    are rows of the facets that face the eye, or NONE; `smooth` edges are lines only as
    silhouettes.  `length` on the paper in mm; `along`, the direction there (length 1).
    """

    owner: Whole
    start: Whole
    end: Whole
    left: Whole
    right: Whole
    smooth: NDArray[np.bool_]
    length: Floats
    along: Floats


@dataclass(frozen=True, slots=True, eq=False)
class FlatScene:
    """All of a view: keys of the solids, places on the paper, depths; `near` is nothing, mm."""

    keys: tuple[Hashable, ...]
    near: float
    spots: Floats
    depths: Floats
    facets: FlatFacets
    edges: FlatEdges


def flatten(scene: Scene, view: View, edged: bool = True) -> FlatScene:
    """Lay a scene flat; without its edges, which areas do not need, if not `edged`.

    Raises ValueError if two solids have the same key.
    """
    flat = _bare(scene, view)
    return with_edges(scene, flat) if edged else flat


def with_edges(scene: Scene, flat: FlatScene) -> FlatScene:
    """Return a scene that was laid flat without its edges with them."""
    rows = [[NONE] * len(solid.facets) for _, solid in scene]
    owners, numbers = flat.facets.owner.tolist(), flat.facets.number.tolist()
    for row, (place, number) in enumerate(zip(owners, numbers, strict=True)):
        rows[place][number] = row
    edges = _edges(scene, _bases(scene), rows, flat.spots, flat.near)
    return replace(flat, edges=edges)


def _bases(scene: Scene) -> Whole:
    return np.cumsum([0, *(len(solid.points) for _, solid in scene)])


def _bare(scene: Scene, view: View) -> FlatScene:
    keys = tuple(key for key, _ in scene)
    if len(set(keys)) != len(keys):
        raise ValueError("two solids of a scene have the same key")
    points = np.array([p for _, solid in scene for p in solid.points], dtype=float).reshape(-1, 3)
    onto = np.array([view.right, view.up, view.toward], dtype=float)
    turned = points @ onto.T
    spots, depths = np.ascontiguousarray(turned[:, :2]), np.ascontiguousarray(turned[:, 2])
    extent = float(np.ptp(points, axis=0).max()) if len(points) else 0.0
    near = TOLERANCE * extent
    bases = _bases(scene)
    facets = _facets(scene, bases, onto, turned)
    return FlatScene(keys, near, spots, depths, facets, _edges((), bases, [], spots, near))


def _facets(scene: Scene, bases: Whole, onto: Floats, turned: Floats) -> FlatFacets:
    """Return the facets facing the eye."""
    every = [
        (place, number, facet)
        for place, (_, solid) in enumerate(scene)
        for number, facet in enumerate(solid.facets)
    ]
    normals = np.array([each.normal for _, _, each in every], dtype=float).reshape(-1, 3) @ onto.T
    kept = np.flatnonzero(normals[:, 2] > _EDGE_ON)
    seen = [every[each] for each in kept.tolist()]
    start: list[int] = []
    after: list[int] = []
    sizes: list[int] = []
    first = [0]
    for place, _, facet in seen:
        base = int(bases[place])
        for loop in facet.loops:
            row = len(start)
            after += (*range(row + 1, row + len(loop)), row)
            start += [base + point for point in loop]
            sizes.append(len(loop))
        first.append(len(start))
    owner, number = _whole([each[0] for each in seen]), _whole([each[1] for each in seen])
    starts, firsts = _whole(start), _whole(first)
    box, high = _extents(turned, starts, firsts)
    plane = _planes(normals[kept], turned[starts[firsts[:-1]]])
    ring = np.repeat(np.arange(len(sizes)), _whole(sizes))
    return FlatFacets(owner, number, plane, box, high, firsts, starts, _whole(after), ring)


def _extents(turned: Floats, starts: Whole, firsts: Whole) -> tuple[Floats, Floats]:
    if not len(starts):
        return np.empty((0, 4)), np.empty(0)
    corners = turned[starts]
    low = np.minimum.reduceat(corners, firsts[:-1], axis=0)
    high = np.maximum.reduceat(corners, firsts[:-1], axis=0)
    return np.hstack((low[:, :2], high[:, :2])), high[:, 2]


def _planes(normals: Floats, through: Floats) -> Floats:
    """Return depth = a·x + b·y + c for planes with normals (x, y, depth) through points."""
    slopes = -normals[:, :2] / normals[:, 2:]
    levels = through[:, 2] - (slopes * through[:, :2]).sum(axis=1)
    return np.column_stack((slopes, levels))


def _edges(
    scene: Scene, bases: Whole, rows: list[list[int]], spots: Floats, near: float
) -> FlatEdges:
    table = [
        (place, base + edge.start, base + edge.end, left, right, edge.kind == "smooth")
        for place, (_, solid) in enumerate(scene)
        for base in (int(bases[place]),)
        for edge in edges(solid)
        for left, right in (_beside(edge, rows[place]),)
        if edge.kind != "smooth" or (left == NONE) != (right == NONE)
    ]
    columns = np.array(table, dtype=np.intp).reshape(-1, 6)
    steps = spots[columns[:, 2]] - spots[columns[:, 1]]
    length = np.hypot(steps[:, 0], steps[:, 1])
    seen = length > near
    columns, length = columns[seen], length[seen]
    owner, start, end, left, right, smooth = columns.T
    along = steps[seen] / length[:, None]
    return FlatEdges(owner, start, end, left, right, smooth.astype(bool), length, along)


def _beside(edge: SolidEdge, rows: list[int]) -> tuple[int, int]:
    return rows[edge.left], NONE if edge.right is None else rows[edge.right]


def _whole(values: Sequence[int]) -> Whole:
    return np.array(values, dtype=np.intp)
