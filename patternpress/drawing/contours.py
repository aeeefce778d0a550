"""Tell the outline of a piece from the lines within it.

In: a FlatScene and its pairs of edges and facets.  Out: the stretches of edges that have
their own solid on both sides; along the rest, one sees something else beside the edge.
"""

from dataclasses import dataclass

import numpy as np

from patternpress.drawing.flatscene import NONE, FlatScene, Floats, Whole
from patternpress.drawing.occlusion import Pairs, covered
from patternpress.drawing.stretches import Along, all_of, left_open, same_edge


@dataclass(frozen=True, slots=True, eq=False)
class _Beside:
    """Stretches beside edges that a facet covers at or behind the edge.

    `ahead`: as in Pairs.  Rows are sorted by edge.
    """

    edge: Whole
    start: Floats
    end: Floats
    ahead: Floats


def creases(flat: FlatScene, pairs: Pairs) -> Along:
    """Return the stretches with the same solid to be seen on both sides.

    Those are all edges between two facets that face the eye, and silhouettes before another
    part of their own solid.  Silhouettes of curved surfaces are left out.
    """
    edges = flat.edges
    single = (edges.left == NONE) != (edges.right == NONE)
    inner = np.flatnonzero(~single)
    found = [Along(inner, np.zeros(len(inner)), edges.length[inner])]
    own = edges.owner[pairs.edge] == flat.facets.owner[pairs.facet]
    for left, empty in ((True, edges.left == NONE), (False, edges.right == NONE)):
        asked = (single & ~edges.smooth & empty)[pairs.edge]
        backing = _beside(flat, pairs.only(own & asked), left)
        if len(backing.edge):
            foreign = ~own & np.isin(pairs.edge, backing.edge)
            found.append(_bare(flat, backing, _beside(flat, pairs.only(foreign), left)))
    return all_of(found)


def _beside(flat: FlatScene, pairs: Pairs, left: bool) -> _Beside:
    stretches = covered(flat, pairs, left)
    edge, ahead = pairs.edge[stretches.pair], pairs.ahead[stretches.pair]
    middle = _ahead_in_the_middle(flat, edge, ahead, stretches.start + stretches.end)
    behind = middle <= flat.near
    return _Beside(edge[behind], stretches.start[behind], stretches.end[behind], ahead[behind])


def _ahead_in_the_middle(flat: FlatScene, edge: Whole, ahead: Floats, ends: Floats) -> Floats:
    """Return how far facets lie before edges, midway between two places whose sum is `ends`."""
    share = ends / (2 * flat.edges.length[edge])
    return ahead[:, 0] + (ahead[:, 1] - ahead[:, 0]) * share


def _bare(flat: FlatScene, backing: _Beside, others: _Beside) -> Along:
    """Return where the own solid is the backing and no other solid comes between.

    Solids do not run through each other, so one place tells which of two facets is nearer.
    """
    one, other = same_edge(backing.edge, others.edge)
    start = np.maximum(backing.start[one], others.start[other])
    end = np.minimum(backing.end[one], others.end[other])
    edge = backing.edge[one]
    nearer = _ahead_in_the_middle(flat, edge, others.ahead[other], start + end)
    nearer -= _ahead_in_the_middle(flat, edge, backing.ahead[one], start + end)
    between = (end > start) & (nearer > flat.near)
    rows = np.arange(len(backing.edge))
    length = flat.edges.length[backing.edge]
    taken = (
        Along(rows, np.zeros(len(rows)), backing.start),
        Along(rows, backing.end, length),
        Along(one[between], start[between], end[between]),
    )
    bare = left_open(all_of(taken), length, flat.near)
    return Along(backing.edge[bare.edge], bare.start, bare.end)
