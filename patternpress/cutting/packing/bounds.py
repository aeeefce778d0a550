"""Lower bounds: what no packing can do better than.

In: boards and kinds.  Out: the fewest sheets, or the least cost, that any packing needs.  Each
size is run through dual feasible functions, which turn sizes into shares of a board's side so
that what fits side by side still does; the areas of the shares then bound the sheets (Fekete &
Schepers 2004; Carlier, Clautiaux & Moukrim 2007).  The pairs of threshold functions give
Martello & Vigo's (1998) bounds.  A piece that may be turned counts the smaller way (Dell'Amico,
Martello & Vigo 2002).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction

import numpy as np

from patternpress.cutting.packing.choices import Flags, Floats, Ints
from patternpress.cutting.packing.records import Board, Kind

MOST_THRESHOLDS = 90  # for each side: more cost time and were never seen to help
SMALL = 1e-9


def fewest(board: Board, kinds: Sequence[Kind]) -> int:
    """No packing of all pieces takes fewer boards of this size."""
    if not any(kind.count for kind in kinds):
        return 0
    wide, high, count, turns = _columns(kinds)
    sides = np.concatenate((wide[turns], high[turns]))
    across = _shares(board.wide, np.concatenate((wide, sides)), np.stack((wide, high)))
    along = _shares(board.high, np.concatenate((high, sides)), np.stack((high, wide)))
    upright, turned = (wide <= board.wide) & (high <= board.high), turns.copy()
    turned &= (high <= board.wide) & (wide <= board.high)
    most = 0.0
    for row in range(across.shape[1]):
        standing = across[0, row] * along[0]
        lying = across[1, row] * along[1]
        least = np.where(turned & upright, np.minimum(standing, lying), standing)
        least = np.where(turned & ~upright, lying, least)
        most = max(most, float((least @ count).max()))
    return max(math.ceil(most - SMALL * max(1.0, most)), _by_area(board, kinds))


def least_cost(boards: Sequence[Board], kinds: Sequence[Kind]) -> int:
    """No packing of all pieces costs less.

    With one size of board, its price times the fewest; with several, what the pieces' area
    costs where it is cheapest, boards taken in parts.
    """
    if len(boards) == 1:
        return boards[0].price * fewest(boards[0], kinds)
    area = sum(kind.area * kind.count for kind in kinds)
    cost = Fraction(0)
    for board in sorted(boards, key=lambda each: Fraction(each.price, each.area)):
        held = area if board.count is None else min(area, board.count * board.area)
        cost += Fraction(board.price * held, board.area)
        area -= held
    step = math.gcd(*(board.price for board in boards)) or 1
    return math.ceil(cost / step) * step


def _by_area(board: Board, kinds: Sequence[Kind]) -> int:
    return -(-sum(kind.area * kind.count for kind in kinds) // board.area)


def _columns(kinds: Sequence[Kind]) -> tuple[Ints, Ints, Ints, Flags]:
    return (
        np.array([kind.wide for kind in kinds], np.int64),
        np.array([kind.high for kind in kinds], np.int64),
        np.array([kind.count for kind in kinds], np.int64),
        np.array([kind.turns for kind in kinds], np.bool_),
    )


def _shares(side: int, sizes: Ints, asked: Ints) -> Floats:
    """Each function's share of the side: an axis for the two ways round, functions, kinds."""
    thresholds = _thresholds(side, sizes)
    ways = []
    for way in asked:
        sized = np.minimum(way, side)
        rows = [sized / side]
        rows += [_threshold(side, sized, k) for k in thresholds]
        rows += [_steps(side, sized, k) for k in thresholds]
        ways.append(np.stack(rows))
    return np.stack(ways)


def _thresholds(side: int, sizes: Ints) -> list[int]:
    """Where the functions may jump: at sizes, at what sizes leave over, at simple shares."""
    raw = {int(k) for size in set(sizes.tolist()) for k in (size, side - size, size + 1)}
    raw |= {side // part + more for part in range(2, 13) for more in (0, 1)}
    sound = sorted(k for k in raw if 0 < 2 * k <= side)
    if len(sound) <= MOST_THRESHOLDS:
        return sound
    step = len(sound) / MOST_THRESHOLDS
    return [sound[int(number * step)] for number in range(MOST_THRESHOLDS)]


def _threshold(side: int, sizes: Ints, k: int) -> Floats:
    """Less than k counts nothing, more than side - k everything."""
    return np.where(sizes > side - k, 1.0, np.where(sizes < k, 0.0, sizes / side))


def _steps(side: int, sizes: Ints, k: int) -> Floats:
    """How many k go into a size, rounded so that two halves make a whole."""
    whole = side // k
    above = 2 * (whole - (side - sizes) // k)
    share = np.where(2 * sizes > side, above, 2 * (sizes // k))
    share = np.where(2 * sizes == side, whole, share)
    return share / (2 * whole)
