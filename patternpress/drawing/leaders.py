"""Letters beside a picture, on leaders that cross nothing.

In: what is to be named and its visible region on the paper, and everything that is in the way,
mm.  Out: words outside the silhouette, each with a straight leader that ends in a dot on its
piece.  Leaders cross no other leader, no label and no arrow, and foreign pieces only where
there is no way round them.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
import shapely

from patternpress.assembly.convex import Array
from patternpress.drawing.ink import Anchor, Extent, Place, Words
from patternpress.drawing.labelclash import first_free
from patternpress.drawing.labelplaces import (
    COST,
    FOREIGN,
    ON_FACE,
    OWN,
    SHORT,
    Naming,
    face_rows,
    outside_rows,
)
from patternpress.drawing.lettering import reach

_COARSE = 0.05
_AGAIN = 4  # times that labels are placed anew, in another order


@dataclass(frozen=True, eq=False)
class Label:
    """Words in their place, and the leader from them to the dot."""

    words: Words
    box: Extent
    start: Place
    dot: Place

    @property
    def line(self) -> Any:
        """The leader as a shape."""
        return shapely.LineString([self.start, self.dot])


def place_labels(
    namings: Sequence[Naming],
    whole: Any,
    taken: Sequence[Any],
    clear: float,
    wide: float,
    drawn: Sequence[Any] = (),
) -> tuple[Label, ...]:
    """Return labels in the order of the namings; what finds no room gets none.

    `whole` is the silhouette of everything, `taken` what words and leaders must keep off, `wide`
    the width that all of it may take.  Where a leader from outside would run across other pieces
    a label may stand on one, clear of all lines that are `drawn`.
    """
    low, _, high, _ = whole.bounds
    sides = ((low + high - wide) / 2 + 0.7, (low + high + wide) / 2 - 0.7)
    whole = shapely.simplify(whole, _COARSE)
    outside = shapely.buffer(whole, clear)
    shapely.prepare(outside)
    busy = shapely.STRtree(shapely.buffer(list(taken), clear * 0.6))
    options = [_beside(naming, whole, outside, busy, sides) for naming in namings]
    found: dict[int, Array] = {}
    if drawn:
        # Also on other pieces, where the best place outside is poor, or those that are not are
        # taken by others.
        tree = shapely.STRtree(list(drawn))
        poor = [number for number, rows in enumerate(options) if _poor(rows)]
        for _ in range(2):
            for number in poor:
                alike = _each(namings[number])
                more = [face_rows(each, whole, busy, sides, tree) for each in alike]
                options[number] = _best_first([options[number], *more])
            found = _placed(options, clear)
            others = set(range(len(options))).difference(poor)
            poor = [n for n in sorted(others) if n not in found or _poor(found[n][None])]
    else:
        found = _placed(options, clear)
    return tuple(_label(namings[number], found[number]) for number in sorted(found))


def _beside(naming: Naming, *ground: Any) -> Array:
    """Return where words may stand outside; beside like things too, where that is poor."""
    rows = outside_rows(naming, *ground)
    if not naming.alike or not _poor(rows):
        return rows
    return _best_first([rows, *(outside_rows(each, *ground) for each in _each(naming)[1:])])


def _each(naming: Naming) -> list[Naming]:
    """Return the words for the thing that they are meant for, then for each like it."""
    return [naming, *(replace(naming, region=each) for each in naming.alike)]


def _best_first(parts: Sequence[Array]) -> Array:
    rows: Array = np.vstack(parts)
    return rows[np.argsort(np.round(rows[:, COST], 2), kind="stable")]


def _poor(rows: Array) -> bool:
    """Say whether the first place has a long leader, or one across other pieces, or is none."""
    if not len(rows):
        return True
    cost, own = rows[0, COST], rows[0, OWN]
    return bool(cost > own + FOREIGN or cost > SHORT + ON_FACE)


def _placed(options: Sequence[Array], clear: float) -> dict[int, Array]:
    """Return the row of each naming that finds a place."""
    # The one with the least choice first; then again with those in front that found no place.
    order = sorted(range(len(options)), key=lambda n: (len(options[n]), n))
    best: dict[int, Array] = {}
    for _ in range(_AGAIN):
        found = _in_turn(order, options, clear)
        best = found if len(found) > len(best) else best
        missing = [n for n in order if n not in found and len(options[n])]
        if not missing:
            break
        order = [*missing, *(n for n in order if n not in missing)]
    return best


def _in_turn(order: Sequence[int], options: Sequence[Array], clear: float) -> dict[int, Array]:
    """Give each naming the best place that those before it leave."""
    found: dict[int, Array] = {}
    for number in order:
        free = first_free(options[number], list(found.values()), clear)
        if free is not None:
            found[number] = options[number][free]
    return found


def _label(naming: Naming, row: Array) -> Label:
    x, y, left, bottom, right, top, end_x, end_y = row[:8].tolist()
    below, _ = reach(naming.figure, naming.lettering)
    at = ((left + right) / 2, bottom + below)
    words = Words(naming.figure, at, naming.lettering, Anchor.MIDDLE)
    return Label(words, Extent(left, bottom, right, top), (end_x, end_y), (x, y))


def _shape(box: Extent) -> Any:
    return shapely.box(box.left, box.bottom, box.right, box.top)


def shape_of(box: Extent) -> Any:
    """Return a rectangle as a shape."""
    return _shape(box)
