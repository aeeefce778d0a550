"""What may be laid down next, as arrays.

In: kinds of pieces, and what each is worth.  Out: `Choices`: one row for each kind each way
round, which a beam of many states reads all at once.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from patternpress.cutting.packing.records import NO_GROUP, Board, Kind

Floats = NDArray[np.float64]
Singles = NDArray[np.float32]
Ints = NDArray[np.int64]
Flags = NDArray[np.bool_]
Codes = NDArray[np.uint64]
Ranks = NDArray[np.uint16]


@dataclass(frozen=True, slots=True)
class Choices:
    """A row for each kind each way round that it fits on the board.

    `wide`, `high`, `area` are whole numbers kept as floats, exact below 2**53.  `code` is a
    random-looking number by kind: sums of codes tell sets of pieces apart.  `size_of` is the
    number of pieces in each group.  `wides` and `highs` are the different sizes in order, and the
    ranks say which of them each row has: small whole numbers are compared much faster.
    """

    kind: Ints
    wide: Floats
    high: Floats
    area: Floats
    value: Floats
    code: Codes
    group: Ints
    size_of: Ints
    wides: Floats
    highs: Floats
    wide_rank: Ranks
    high_rank: Ranks


def choices(kinds: Sequence[Kind], board: Board, values: Floats, wanted: Ints) -> Choices:
    """What fits on an empty board, of the kinds still wanted; `values` is by kind."""
    rows = [
        (number, wide, high)
        for number, kind in enumerate(kinds)
        if wanted[number]
        for wide, high in _ways(kind)
        if wide <= board.wide and high <= board.high
    ]
    number = np.array([row[0] for row in rows], np.int64)
    wide = np.array([row[1] for row in rows], np.float64)
    high = np.array([row[2] for row in rows], np.float64)
    groups = np.array([kind.group for kind in kinds], np.int64)
    sizes = np.zeros(max(groups.max(initial=NO_GROUP) + 1, 1), np.int64)
    for kind, many in zip(kinds, wanted, strict=True):
        if kind.group != NO_GROUP:
            sizes[kind.group] += many
    wides, wide_rank = np.unique(wide, return_inverse=True)
    highs, high_rank = np.unique(high, return_inverse=True)
    return Choices(
        number, wide, high, wide * high, values[number], _codes(len(kinds))[number],
        groups[number], sizes, wides, highs,
        wide_rank.astype(np.uint16), high_rank.astype(np.uint16),
    )  # fmt: skip


def narrow_enough(options: Choices, limit: Floats) -> Flags:
    """Which choices are at most so wide: a row for each limit."""
    below = np.searchsorted(options.wides, limit, side="right").astype(np.uint16)
    found: Flags = options.wide_rank < below[:, None]
    return found


def low_enough(options: Choices, limit: Floats) -> Flags:
    """Which choices are at most so high: a row for each limit."""
    below = np.searchsorted(options.highs, limit, side="right").astype(np.uint16)
    found: Flags = options.high_rank < below[:, None]
    return found


def _ways(kind: Kind) -> list[tuple[int, int]]:
    ways = [(kind.wide, kind.high)]
    if kind.turns and kind.wide != kind.high:
        ways.append((kind.high, kind.wide))
    return ways


def _codes(count: int) -> Codes:
    """A fixed random-looking number for each kind: the mixing steps of splitmix64."""
    with np.errstate(over="ignore"):
        code = (np.arange(1, count + 1, dtype=np.uint64)) * np.uint64(0x9E3779B97F4A7C15)
        code = (code ^ (code >> np.uint64(30))) * np.uint64(0xBF58476D1CE4E5B9)
        code = (code ^ (code >> np.uint64(27))) * np.uint64(0x94D049BB133111EB)
    return code ^ (code >> np.uint64(31))
