"""Sums of stretches along edges: what stretches leave open, and what two sets share.

In: stretches as rows (edge, from, to) in mm.  Out: rows of the same form.
"""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from patternpress.drawing.flatscene import Floats, Whole


@dataclass(frozen=True, slots=True, eq=False)
class Along:
    """Stretches along edges: the edge's row, and from and to in mm from the edge's start."""

    edge: Whole
    start: Floats
    end: Floats

    def __len__(self) -> int:
        return len(self.edge)


def left_open(taken: Along, length: Floats, near: float) -> Along:
    """Return what stretches leave open of edges 0, 1, 2 ... of these lengths.

    Rows come out sorted by edge, then by start.  Openings no longer than `near` are closed.
    """
    count = len(length)
    # A stretch of no length at each end of every edge, so that every opening lies between two.
    ends = np.concatenate((np.zeros(count), length))
    edge = np.concatenate((taken.edge, np.tile(np.arange(count), 2)))
    start, end = np.concatenate((taken.start, ends)), np.concatenate((taken.end, ends))
    order = np.lexsort((end, start, edge))
    edge, start, end = edge[order], start[order], end[order]
    reach = _reach(edge, end, length)
    opens = (edge[1:] == edge[:-1]) & (start[1:] - reach[:-1] > near)
    return Along(edge[1:][opens], reach[:-1][opens], start[1:][opens])


def _reach(edge: Whole, end: Floats, length: Floats) -> Floats:
    """Return the furthest end so far on the same edge, row by row."""
    # Edges are laid end to end, so that one running maximum serves all of them.
    offset = np.concatenate(([0.0], np.cumsum(length + 1.0)))[edge]
    furthest = np.maximum.accumulate(offset + end)
    # Which row reached it: adding the offset has rounded `furthest` itself.
    fresh = np.diff(furthest, prepend=-np.inf) > 0
    rows = np.maximum.accumulate(np.where(fresh, np.arange(len(end)), 0))
    return end[rows]


def shared(ones: Along, others: Along, near: float) -> Along:
    """Return the stretches that lie in both sets, longer than `near`, in the order of `ones`.

    The second set is sorted by edge.
    """
    one, other = same_edge(ones.edge, others.edge)
    start = np.maximum(ones.start[one], others.start[other])
    end = np.minimum(ones.end[one], others.end[other])
    real = end - start > near
    return Along(ones.edge[one][real], start[real], end[real])


def same_edge(ones: Whole, others: Whole) -> tuple[Whole, Whole]:
    """Return every pair of rows of two columns of edges that name the same edge.

    The second column is sorted; pairs come in the order of the first.
    """
    first = np.searchsorted(others, ones, side="left")
    counts = np.searchsorted(others, ones, side="right") - first
    one = np.repeat(np.arange(len(ones)), counts)
    other = np.repeat(first - (np.cumsum(counts) - counts), counts) + np.arange(len(one))
    return one, other


def all_of(parts: Sequence[Along]) -> Along:
    """Return the rows of several sets one after another."""
    return Along(
        np.concatenate([part.edge for part in parts]),
        np.concatenate([part.start for part in parts]),
        np.concatenate([part.end for part in parts]),
    )
