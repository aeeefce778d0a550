"""Where the words for something may stand, and what each place costs.

In: what is to be named and its visible region on the paper, and everything that is in the way,
mm.  Out: rows of numbers, those of `labelspots.rows_round` with what each costs, the best first.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely

from patternpress.assembly.convex import Array
from patternpress.drawing.ink import Place
from patternpress.drawing.labelspots import anchors_in, length_within, rows_round
from patternpress.drawing.lettering import Lettering, figure_width, reach
from patternpress.drawing.lettering import words as as_figure
from patternpress.measure.pieces import Figure

COST, OWN = 8, 9  # columns of a row: what it costs, and what of that is not for others
SHORT = 9.0  # mm of a leader to words on another piece, at most
ON_FACE = 5.0  # what standing on another piece costs, as mm of leader
FOREIGN = 6.0  # a mm over another piece counts as so many
_MOST = 400  # places for words that are kept
_PORTION = 600  # and that are asked at once
_FREE = 0.6  # air round words on another piece
_OWN_LINE = 0.12  # so far from a piece its own outline is
_ASIDE = 0.7  # a mm from the middle of its piece to a dot counts as so many

Sides = tuple[float, float]


@dataclass(frozen=True, eq=False)
class Naming:
    """Words for something whose visible part on the paper is `region`.

    `spots`: where a dot may lie; if there are none, wherever the region has room.  `alike`: the
    regions of like things that the words hold for too, should there be more room beside them.
    """

    text: str | Figure
    lettering: Lettering
    region: Any
    spots: tuple[Place, ...] = ()
    alike: tuple[Any, ...] = ()

    @property
    def figure(self) -> Figure:
        """The words as they are set."""
        return as_figure(self.text) if isinstance(self.text, str) else self.text


def outside_rows(naming: Naming, whole: Any, outside: Any, busy: Any, sides: Sides) -> Array:
    """Return where words may stand outside, the shortest leaders over the least of others first.

    Rows as those of `rows_round`, with the cost and the part of it that is not for others.
    """
    rows, first = _tried(naming, sides)
    if not len(rows):
        return np.empty((0, 10))
    own = _own_cost(naming, rows, first)
    others = shapely.difference(whole, shapely.buffer(naming.region, 0.15))
    shapely.prepare(others)
    # A row costs at least its own, so those that cost most by themselves need not be asked once
    # there are enough for less.
    order = np.argsort(own, kind="stable")
    found, cost = order[:0], np.zeros(0)
    for start in range(0, len(order), _PORTION):
        enough = np.round(cost, 2) < round(float(own[order[start]]), 2)
        if enough.sum() >= _MOST:
            break
        some = order[start : start + _PORTION]
        some = some[_stands_outside(rows[some], outside, busy)]
        found = np.concatenate((found, some))
        cost = np.concatenate((cost, own[some] + _over_others(rows[some], others)))
    places = np.argsort(found)
    found, cost = found[places], cost[places]
    return _by_cost(rows[found], cost, own[found])


def _stands_outside(rows: Array, outside: Any, busy: Any) -> Any:
    """Return the numbers of the rows whose words lie outside and on nothing that is taken."""
    numbers = np.arange(len(rows))
    # Most boxes that lie over the silhouette have a corner in it, which is told much sooner.
    for x, y in ((2, 3), (4, 5), (2, 5), (4, 3)):
        within = shapely.intersects_xy(outside, rows[numbers, x], rows[numbers, y])
        numbers = numbers[~np.asarray(within)]
    numbers = numbers[~np.asarray(shapely.intersects(outside, _boxes(rows[numbers])))]
    return numbers[_clear_of(rows[numbers], busy)]


def face_rows(naming: Naming, whole: Any, busy: Any, sides: Sides, drawn: Any) -> Array:
    """Return where words may stand on a plain part of another piece, rows as `outside_rows`."""
    rows, first = _tried(naming, sides)
    rows = rows[_long(rows) < SHORT]
    middle = (rows[:, 2] + rows[:, 4]) / 2, (rows[:, 3] + rows[:, 5]) / 2
    rows = rows[np.asarray(shapely.intersects_xy(whole, *middle))]
    rows = rows[_clear_of(rows, busy)]
    rows = rows[_untouched(drawn, _boxes(rows, _FREE))] if len(rows) else rows
    if not len(rows):
        return np.empty((0, 10))
    # The leader comes out over the outline of its own piece, and over no other line.
    mine = shapely.buffer(naming.region, _OWN_LINE)
    rows = rows[_untouched(drawn, shapely.difference(_leaders(rows), mine))]
    if not len(rows):
        return np.empty((0, 10))
    own = _own_cost(naming, rows, first)
    return _by_cost(rows, own + ON_FACE, own)


def _untouched(tree: Any, shapes: Any) -> Any:
    touched = np.zeros(len(shapes), dtype=bool)
    touched[tree.query(shapes, predicate="intersects")[0]] = True
    return ~touched


def _tried(naming: Naming, sides: Sides) -> tuple[Array, Place]:
    """Return every row within the width, and the best place for a dot."""
    anchors = list(naming.spots) or anchors_in(naming.region)
    if not anchors:
        return np.empty((0, 8)), (0.0, 0.0)
    figure = naming.figure
    high = naming.lettering.height + sum(reach(figure, naming.lettering))
    size = (figure_width(figure, naming.lettering), high)
    rows = rows_round(anchors, size)
    return rows[(rows[:, 2] >= sides[0]) & (rows[:, 4] <= sides[1])], anchors[0]


def _boxes(rows: Array, by: float = 0.0) -> Any:
    return shapely.box(rows[:, 2] - by, rows[:, 3] - by, rows[:, 4] + by, rows[:, 5] + by)


def _leaders(rows: Array) -> Any:
    return shapely.linestrings(np.stack((rows[:, :2], rows[:, 6:8]), axis=1))


def _clear_of(rows: Array, busy: Any) -> Any:
    """Return the numbers of the rows of which neither words nor leader lie on what is taken."""
    numbers = np.arange(len(rows))
    for shapes in (_boxes, _leaders):
        numbers = numbers[_untouched(busy, shapes(rows[numbers]))]
    return numbers


def _own_cost(naming: Naming, rows: Array, first: Place) -> Array:
    """Return what each leader costs for its length, and for a dot off the middle of its piece."""
    aside = np.hypot(*(rows[:, :2] - np.array(first)).T) * (not naming.spots)
    return np.asarray(_long(rows) + _ASIDE * aside)


def _long(rows: Array) -> Array:
    """Return how long each leader is, mm."""
    return np.asarray(np.hypot(*(rows[:, :2] - rows[:, 6:8]).T))


def _by_cost(rows: Array, cost: Array, own: Array) -> Array:
    order = np.lexsort((np.arange(len(rows)), np.round(cost, 2)))[:_MOST]
    return np.column_stack((rows, cost, own))[order]


def _over_others(rows: Array, others: Any) -> Array:
    """Return what each leader costs for the way that it goes over other pieces."""
    cost = np.zeros(len(rows))
    over = np.asarray(shapely.intersects(others, _leaders(rows)))
    if over.any():
        cost[over] = FOREIGN * length_within(rows[over][:, [0, 1, 6, 7]], others)
    return cost
