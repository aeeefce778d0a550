"""Which stretches of an edge facets cover.

In: a FlatScene and pairs of an edge and a facet that faces the eye.  Out: stretches in mm
along the edges.  Worked out by cutting lines with the facets' sides; there is no raster.

An edge may run exactly along a facet's side on the paper.  So a stretch is asked for a hair
to the left or a hair to the right of the edge: there a facet either covers or it does not.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from numpy.typing import NDArray

from patternpress.drawing.flatscene import NONE, FlatScene, Floats, Whole
from patternpress.drawing.stretches import Along, left_open

# So many facets are tried on an edge before all the others.
_FEW = 4


@dataclass(frozen=True, slots=True, eq=False)
class Pairs:
    """Pairs of an edge's row and a facet's row.

    `ahead` has two columns: how far the facet's plane lies before the edge's start and end,
    mm towards the eye, 0 if nearly so.
    """

    edge: Whole
    facet: Whole
    ahead: Floats

    def only(self, wanted: NDArray[np.bool_] | Whole) -> "Pairs":
        """Return some of the pairs, by yes or no for each, or by row."""
        return Pairs(self.edge[wanted], self.facet[wanted], self.ahead[wanted])


@dataclass(frozen=True, slots=True, eq=False)
class Stretches:
    """Stretches of edges: the row of the pair that made each, and from and to, mm."""

    pair: Whole
    start: Floats
    end: Floats


@dataclass(frozen=True, slots=True, eq=False)
class _Sides:
    """Sides of the facets of pairs: the row of the pair, and where the side starts and ends.

    `off`, how far to the left of the edge's line; `along`, how far along it; mm.
    """

    pair: Whole
    off_start: Floats
    along_start: Floats
    off_end: Floats
    along_end: Floats


def meeting_pairs(flat: FlatScene) -> Pairs:
    """Return every edge with every facet whose box it meets on the paper, but its own two.

    Edges without a facet towards the eye are left out: they are hidden anyway.
    """
    edges, facets = flat.edges, flat.facets
    asked = np.flatnonzero((edges.left != NONE) | (edges.right != NONE))
    ends = np.stack((flat.spots[edges.start[asked]], flat.spots[edges.end[asked]]))
    low, high = ends.min(axis=0) - flat.near, ends.max(axis=0) + flat.near
    tree = shapely.STRtree(shapely.box(*facets.box.T))
    found = tree.query(shapely.box(*low.T, *high.T))
    edge, facet = asked[found[0]], np.asarray(found[1], dtype=np.intp)
    order = np.lexsort((facet, edge))
    edge, facet = edge[order], facet[order]
    foreign = (edges.left[edge] != facet) & (edges.right[edge] != facet)
    edge, facet = edge[foreign], facet[foreign]
    return Pairs(edge, facet, _ahead(flat, edge, facet))


def _ahead(flat: FlatScene, edge: Whole, facet: Whole) -> Floats:
    columns = []
    plane = flat.facets.plane[facet]
    for end in (flat.edges.start, flat.edges.end):
        spot = flat.spots[end[edge]]
        level = plane[:, 0] * spot[:, 0] + plane[:, 1] * spot[:, 1] + plane[:, 2]
        ahead = level - flat.depths[end[edge]]
        columns.append(np.where(np.abs(ahead) <= flat.near, 0.0, ahead))
    return np.column_stack(columns)


def before(flat: FlatScene, pairs: Pairs) -> Stretches:
    """Return the stretches of edges that facets before them cover on either side or both.

    A facet whose side runs just along the edge hides it too: the side is itself drawn there.
    """
    edges = flat.edges
    lowest = np.minimum(flat.depths[edges.start], flat.depths[edges.end])
    reaches = flat.facets.high[pairs.facet] > lowest[pairs.edge] + flat.near
    rows = np.flatnonzero(reaches & (pairs.ahead > 0).any(axis=1))
    # The largest facets first: most edges deep in a scene are then hidden, and done with.
    large = _among_largest(flat, pairs.edge[rows], pairs.facet[rows])
    first = _hiding(flat, pairs, rows[large])
    taken = Along(pairs.edge[first.pair], first.start, first.end)
    seen = np.zeros(len(edges.length), dtype=bool)
    seen[left_open(taken, edges.length, flat.near).edge] = True
    then = _hiding(flat, pairs, rows[~large & seen[pairs.edge[rows]]])
    return _together((first, then))


def _among_largest(flat: FlatScene, edge: Whole, facet: Whole) -> NDArray[np.bool_]:
    """Say of each pair whether its facet is one of the few with the largest boxes of its edge."""
    low_x, low_y, high_x, high_y = flat.facets.box[facet].T
    order = np.lexsort((facet, -(high_x - low_x) * (high_y - low_y), edge))
    ranked = edge[order]
    rank = np.arange(len(ranked)) - np.searchsorted(ranked, ranked, side="left")
    found = np.empty(len(edge), dtype=bool)
    found[order] = rank < _FEW
    return found


def _hiding(flat: FlatScene, pairs: Pairs, rows: Whole) -> Stretches:
    """Return what the facets of some pairs hide; rows of all pairs."""
    some = pairs.only(rows)
    sides = _sides(flat, some)
    both = _together([_between(flat, some, sides, left) for left in (True, False)])
    from_, to = _where_ahead(some.ahead, flat.edges.length[some.edge])
    start, end = np.maximum(both.start, from_[both.pair]), np.minimum(both.end, to[both.pair])
    real = end - start > flat.near
    return Stretches(rows[both.pair[real]], start[real], end[real])


def _together(parts: Sequence[Stretches]) -> Stretches:
    return Stretches(
        np.concatenate([part.pair for part in parts]),
        np.concatenate([part.start for part in parts]),
        np.concatenate([part.end for part in parts]),
    )


def _where_ahead(ahead: Floats, length: Floats) -> tuple[Floats, Floats]:
    """Return from where to where along an edge the facet's plane lies before it."""
    first, last = ahead.T
    fall = first - last
    turn = length * np.divide(first, fall, out=np.zeros_like(fall), where=fall != 0)
    start = np.where(first >= 0, 0.0, turn)
    end = np.where(last >= 0, length, turn)
    return start, end


def covered(flat: FlatScene, pairs: Pairs, left: bool) -> Stretches:
    """Return the stretches a hair to the left (or right) of edges that facets cover.

    Before or behind, it does not matter.  Even-odd rule, so holes stay open.
    """
    return _between(flat, pairs, _sides(flat, pairs), left)


def _sides(flat: FlatScene, pairs: Pairs) -> _Sides:
    facets = flat.facets
    counts = facets.first[pairs.facet + 1] - facets.first[pairs.facet]
    pair = np.repeat(np.arange(len(counts)), counts)
    side = np.arange(len(pair)) + np.repeat(
        facets.first[pairs.facet] - (np.cumsum(counts) - counts), counts
    )
    off, along = _from_edges(flat, pairs.edge, counts, facets.start[side])
    end = np.arange(len(side)) + facets.after[side] - side
    return _Sides(pair, off, along, off[end], along[end])


def _between(flat: FlatScene, pairs: Pairs, sides: _Sides, left: bool) -> Stretches:
    """Return the stretches from where sides cross a line beside the edge to the next crossing."""
    a, b = sides.off_start, sides.off_end
    crosses = np.flatnonzero((a > 0) != (b > 0) if left else (a < 0) != (b < 0))
    pair, a, b = sides.pair[crosses], a[crosses], b[crosses]
    start = sides.along_start[crosses]
    place = start + (sides.along_end[crosses] - start) * (a / (a - b))
    order = np.lexsort((place, pair))
    pair, place = pair[order], place[order]
    length = flat.edges.length[pairs.edge[pair[::2]]]
    from_, to = np.maximum(place[::2], 0.0), np.minimum(place[1::2], length)
    real = to - from_ > flat.near
    return Stretches(pair[::2][real], from_[real], to[real])


def _from_edges(flat: FlatScene, edge: Whole, counts: Whole, point: Whole) -> tuple[Floats, Floats]:
    """Return how far points lie to the left of edges' lines, and how far along them, mm.

    `counts`: how many of the points are asked of each edge.
    """
    start_x, start_y = (np.repeat(each, counts) for each in flat.spots[flat.edges.start[edge]].T)
    along_x, along_y = (np.repeat(each, counts) for each in flat.edges.along[edge].T)
    away_x, away_y = flat.spots[point, 0] - start_x, flat.spots[point, 1] - start_y
    off = along_x * away_y - along_y * away_x
    # Both sides that meet in a corner must agree on which side of the line it lies.
    off[np.abs(off) <= flat.near] = 0.0
    return off, along_x * away_x + along_y * away_y
