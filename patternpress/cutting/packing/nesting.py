"""Laying shapes on boards one after the other, each as far to one end as it goes.

In: fields (boards as cells, with what cannot be used), sorts (shapes as masks, by turn), and an
order.  Out: where each piece lies, or nothing if they do not all fit.  Where a shape clashes with
another is worked out once; laying one down marks for every shape still to come where it cannot lie.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from patternpress.cutting.packing.masks import Mask, clashes


@dataclass(frozen=True, slots=True)
class Sort:
    """Pieces of one shape: its mask in each turn it may have, and how many there are."""

    masks: tuple[Mask, ...]
    count: int


@dataclass(frozen=True, slots=True)
class Field:
    """A board as cells; `gone` are rectangles that cannot be used: x, y, width, height."""

    wide: int
    high: int
    gone: tuple[tuple[int, int, int, int], ...] = ()


@dataclass(frozen=True, slots=True)
class Lying:
    """One piece: its sort, which of its masks, and the cell of its lower left corner."""

    sort: int
    mask: int
    x: int
    y: int


Key = tuple[int, int]  # a sort and one of its masks
Nested = tuple[tuple[Lying, ...], ...]


class Nest:
    """The sorts of a job, and every clash that was asked for so far."""

    def __init__(self, sorts: Sequence[Sort]) -> None:
        """Remember the sorts; clashes are worked out when two shapes first meet."""
        self.sorts = tuple(sorts)
        self.keys = [(s, m) for s, sort in enumerate(sorts) for m in range(len(sort.masks))]
        self._clashes: dict[tuple[Key, Key], Mask] = {}
        self._gone: dict[tuple[int, int, Key], Mask] = {}

    def mask(self, key: Key) -> Mask:
        """The mask of a sort in one turn."""
        return self.sorts[key[0]].masks[key[1]]

    def clash(self, lies: Key, comes: Key) -> Mask:
        """Where one shape may not come because of another."""
        if (lies, comes) not in self._clashes:
            if (comes, lies) in self._clashes:
                self._clashes[lies, comes] = self._clashes[comes, lies][::-1, ::-1]
            else:
                self._clashes[lies, comes] = clashes(self.mask(lies), self.mask(comes))
        return self._clashes[lies, comes]

    def closed(self, wide: int, high: int, comes: Key) -> Mask:
        """Where a shape may not come because of a rectangle that is gone."""
        if (wide, high, comes) not in self._gone:
            gone = np.ones((wide, high), dtype=np.bool_)
            self._gone[wide, high, comes] = clashes(gone, self.mask(comes))
        return self._gone[wide, high, comes]


def orders(sorts: Sequence[Sort]) -> tuple[tuple[int, ...], ...]:
    """The orders to lay sorts in, largest first: by area, box, length, width, height."""
    areas = [int(sort.masks[0].sum()) for sort in sorts]
    boxes = [sort.masks[0].shape for sort in sorts]
    ranks = (
        lambda n: (-areas[n], n),
        lambda n: (-boxes[n][0] * boxes[n][1], n),
        lambda n: (-max(boxes[n]), -areas[n], n),
        lambda n: (-boxes[n][1], -areas[n], n),
        lambda n: (-boxes[n][0], -areas[n], n),
    )
    found = (tuple(sorted(range(len(sorts)), key=rank)) for rank in ranks)
    return tuple(dict.fromkeys(found))


def nest(
    fields: Sequence[Field], of: Nest, order: Sequence[int], *, sideways: bool = False
) -> Nested | None:
    """Lay all pieces on the fields, one field after the other; nothing if some are left over.

    Pieces go as far to the left as they can, then down; `sideways`: down, then to the left.
    """
    left = [sort.count for sort in of.sorts]
    laid = [_fill(field, of, order, left, sideways=sideways) for field in fields]
    return None if any(left) else tuple(laid)


def _fill(
    field: Field, of: Nest, order: Sequence[int], left: list[int], *, sideways: bool
) -> tuple[Lying, ...]:
    """Lay what fits on one field; `left`, how many of each sort are to come, goes down."""
    closed: dict[Key, Mask] = {}
    for key in of.keys:
        wide, high = of.mask(key).shape
        if left[key[0]] and wide <= field.wide and high <= field.high:
            closed[key] = _empty(field, of, key, sideways=sideways)
    laid: list[Lying] = []
    for sort in order:
        while left[sort]:
            found = _place(sort, of, closed, sideways=sideways)
            if found is None:
                break
            laid.append(found)
            left[sort] -= 1
            for key, mask in closed.items():
                if left[key[0]]:
                    clash = of.clash((sort, found.mask), key)
                    _close(mask, clash, (found.x, found.y), of.mask(key), sideways=sideways)
    return tuple(laid)


def _empty(field: Field, of: Nest, key: Key, *, sideways: bool) -> Mask:
    """Where a shape may not lie on an empty field: x first, or y first if `sideways`."""
    wide, high = of.mask(key).shape
    size = field.wide - wide + 1, field.high - high + 1
    closed = np.zeros(size[::-1] if sideways else size, dtype=np.bool_)
    for x, y, gone_wide, gone_high in field.gone:
        clash = of.closed(gone_wide, gone_high, key)
        _close(closed, clash, (x, y), of.mask(key), sideways=sideways)
    return closed


def _place(sort: int, of: Nest, closed: dict[Key, Mask], *, sideways: bool) -> Lying | None:
    """The turn and the place that end soonest."""
    best: tuple[tuple[int, ...], Lying] | None = None
    for number, mask in enumerate(of.sorts[sort].masks):
        shut = closed.get((sort, number))
        if shut is None:
            continue
        at = int(shut.argmin())
        first, second = divmod(at, shut.shape[1])
        if shut[first, second]:
            continue
        x, y = (second, first) if sideways else (first, second)
        ends = (first + mask.shape[1 if sideways else 0], second + mask.shape[0 if sideways else 1])
        if best is None or (*ends, first) < best[0]:
            best = (*ends, first), Lying(sort, number, x, y)
    return best[1] if best else None


def _close(closed: Mask, clash: Mask, at: tuple[int, int], comes: Mask, *, sideways: bool) -> None:
    """Mark where a shape cannot come any more, once another lies `at` a place."""
    x, y = at[0] - comes.shape[0] + 1, at[1] - comes.shape[1] + 1
    if sideways:
        clash, x, y = clash.T, y, x
    left, low = max(x, 0), max(y, 0)
    right, top = min(x + clash.shape[0], closed.shape[0]), min(y + clash.shape[1], closed.shape[1])
    if left < right and low < top:
        closed[left:right, low:top] |= clash[left - x : right - x, low - y : top - y]
