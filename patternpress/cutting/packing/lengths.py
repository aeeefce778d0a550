"""Cutting lengths: strips, rods and mouldings, as cheaply as can be.

In: lengths on sale or at hand (boards one unit wide) and pieces (kinds one unit wide), a saw's
width added to each.  Out: a `Packing` whose bound nearly always equals its cost: an exact
optimum.  Column generation with exact knapsacks gives a true bound (Gilmore & Gomory 1961); where
whole patterns from it do not reach that bound, every pattern that could help is listed and HiGHS
decides.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy as np

from patternpress.cutting.packing.choices import Floats, Ints
from patternpress.cutting.packing.master import Master, Pattern, Priced, pattern
from patternpress.cutting.packing.records import Board, Filled, Kind, Packing, Placed

SMALL = 1e-7
ROUNDS = 2000
BEST_KEPT = 8  # patterns from one knapsack
NODES = 3000  # of branch and bound
MOST_LISTED = 4000  # patterns listed for the last decision


def cut_lengths(boards: Sequence[Board], kinds: Sequence[Kind]) -> Packing:
    """Lay pieces along lengths at the least cost.

    Boards and kinds are one unit wide; `high` is the length.  Raises ValueError where a piece
    fits no board, or where limited boards do not suffice.
    """
    for number, kind in enumerate(kinds):
        if kind.count and all(kind.high > board.high for board in boards):
            raise ValueError(f"kind {number} fits on no board")
    if not any(kind.count for kind in kinds):
        return Packing((), 0, 0, 0)
    master = Master(boards, kinds)
    best = _first_fit(boards, kinds)
    master.add(_singles(boards, kinds))
    if best is not None:
        master.add(pattern(each.board, each.placed, len(kinds)) for each in best)
    master.keep()
    priced, rounds = _generate(master)
    step = math.gcd(*(board.price for board in boards)) or 1
    if math.isinf(priced.cost):
        raise ValueError("the boards do not suffice")
    bound = math.ceil(priced.cost / step - 1e-6) * step
    best, bound = _whole(master, priced, best, (bound, step))
    if best is None:
        raise ValueError("the boards do not suffice")
    return Packing(_offcut_together(best, boards), _cost(best, boards), bound, rounds)


def _cost(filled: Sequence[Filled], boards: Sequence[Board]) -> int:
    return sum(boards[each.board].price for each in filled)


def _singles(boards: Sequence[Board], kinds: Sequence[Kind]) -> Iterator[Pattern]:
    for number, kind in enumerate(kinds):
        for place, board in enumerate(boards):
            if kind.high <= board.high:
                yield _pattern(place, [(number, 1)], kinds)


def _pattern(board: int, held: Sequence[tuple[int, int]], kinds: Sequence[Kind]) -> Pattern:
    """A board with so many pieces of each kind, longest first."""
    order = sorted((kinds[number].high, number, many) for number, many in held)
    placed: list[Placed] = []
    start = 0
    for high, number, many in reversed(order):
        for _ in range(many):
            placed.append(Placed(number, 0, start, 1, high))
            start += high
    return pattern(board, placed, len(kinds))


def _first_fit(boards: Sequence[Board], kinds: Sequence[Kind]) -> tuple[Filled, ...] | None:
    """Longest first, each into the first board with room; boards at hand before others."""
    order = sorted(range(len(boards)), key=lambda n: (boards[n].price, -boards[n].high))
    best: tuple[Filled, ...] | None = None
    unlimited: list[int | None] = [n for n in order if boards[n].count is None]
    for preferred in unlimited or [None]:
        fresh = [n for n in order for _ in range(boards[n].count or 0)]
        held: list[tuple[int, list[int]]] = []
        pieces = sorted((-k.high, n) for n, k in enumerate(kinds) for _ in range(k.count))
        if all(_put(held, fresh, (number, preferred), boards, kinds) for _, number in pieces):
            filled = tuple(
                _pattern(b, [(n, p.count(n)) for n in dict.fromkeys(p)], kinds).filled
                for b, p in held
            )
            if best is None or _cost(filled, boards) < _cost(best, boards):
                best = filled
    return best


def _put(
    held: list[tuple[int, list[int]]],
    fresh: list[int],
    piece: tuple[int, int | None],
    boards: Sequence[Board],
    kinds: Sequence[Kind],
) -> bool:
    """Put a piece on the first board with room, or on a new one; whether that was possible."""
    number, preferred = piece
    high = kinds[number].high
    for board, pieces in held:
        if sum(kinds[n].high for n in pieces) + high <= boards[board].high:
            pieces.append(number)
            return True
    for place, board in enumerate(fresh):
        if high <= boards[board].high:
            held.append((board, [number]))
            del fresh[place]
            return True
    if preferred is None or high > boards[preferred].high:
        return False
    held.append((preferred, [number]))
    return True


def _generate(master: Master) -> tuple[Priced, int]:
    """Add the patterns that pay until none does; the programme's solution, and the rounds."""
    for round_ in range(ROUNDS):
        priced = master.priced()
        if math.isinf(priced.cost) or not master.add(_paying(master, priced)):
            return priced, round_ + 1
    return priced, ROUNDS


def _paying(master: Master, priced: Priced) -> list[Pattern]:
    kinds = master.kinds
    found = []
    longest = max(board.high for board in master.boards)
    lengths, values, merges = _knapsacks(kinds, priced.worth, longest)
    for number, board in enumerate(master.boards):
        within = np.flatnonzero(lengths <= board.high)
        least = (board.price + priced.surcharge[number]) * (1 + SMALL) + SMALL
        paying = within[values[within] > least]
        rows = [int(row) for row in paying[::-1][:BEST_KEPT]]
        found += [_pattern(number, _held(row, merges), kinds) for row in rows]
    return found


Merge = tuple[int, int, Ints, Ints]


def _knapsacks(
    kinds: Sequence[Kind], worth: Floats, longest: int
) -> tuple[Ints, Floats, list[Merge]]:
    """The best value for every total length that is worth reaching (Nemhauser & Ullmann 1969).

    Lengths rise, values too.  The merges tell, backwards, what was put in: a kind, how many, from
    which row, and whether they were put in at all.
    """
    lengths, values = np.zeros(1, np.int64), np.zeros(1)
    merges: list[Merge] = []
    for number, kind in enumerate(kinds):
        if worth[number] <= SMALL:
            continue
        left, many = min(kind.count, longest // kind.high), 1
        while left:
            many = min(many, left)
            with_it = np.flatnonzero(lengths + many * kind.high <= longest)
            both = np.concatenate((lengths, lengths[with_it] + many * kind.high))
            worths = np.concatenate((values, values[with_it] + many * worth[number]))
            origin = np.concatenate((np.arange(len(lengths)), with_it))
            order = np.lexsort((-worths, both))
            best = np.maximum.accumulate(worths[order])
            better = np.concatenate(([True], best[1:] > best[:-1] + 1e-12))
            kept = order[better]
            merges.append((number, many, origin[kept], (kept >= len(lengths)).astype(np.int64)))
            lengths, values = both[kept], worths[kept]
            left, many = left - many, 2 * many
    return lengths, values, merges


def _held(row: int, merges: Sequence[Merge]) -> list[tuple[int, int]]:
    """How many of each kind a row of the knapsacks holds."""
    held: dict[int, int] = {}
    for number, many, origin, put_in in reversed(merges):
        if put_in[row]:
            held[number] = held.get(number, 0) + many
        row = int(origin[row])
    return list(held.items())


def _whole(
    master: Master, priced: Priced, best: tuple[Filled, ...] | None, known: tuple[int, int]
) -> tuple[tuple[Filled, ...] | None, int]:
    """Whole patterns: from those known, else from all that could help; and the proved bound."""
    bound, step = known
    limit = math.inf if best is None else _cost(best, master.boards)
    if limit <= bound:
        return best, bound
    for goal in (bound, limit - step):
        chosen = master.whole(NODES, goal)
        if chosen:
            best = _trimmed(chosen, master)
            limit = _cost(best, master.boards)
            break
    while limit > bound:
        listed = list(_helpful(master, priced, limit - step - priced.cost))
        master.add(listed)
        chosen = master.whole(NODES, limit - step)
        if not chosen:
            # All that could help was there: nothing is cheaper, if the search ended by itself.
            return best, bound if len(listed) >= MOST_LISTED or not master.decided else int(limit)
        best = _trimmed(chosen, master)
        limit = _cost(best, master.boards)
    return best, bound


def _trimmed(chosen: Sequence[Pattern], master: Master) -> tuple[Filled, ...]:
    """Boards without the pieces that are cut more often than wanted."""
    left = [kind.count for kind in master.kinds]
    filled = []
    for each in chosen:
        held = []
        for number, many in enumerate(each.counts):
            used = min(many, left[number])
            left[number] -= used
            if used:
                held.append((number, used))
        if held:
            filled.append(_pattern(each.board, held, master.kinds).filled)
    return tuple(filled)


def _helpful(master: Master, priced: Priced, gap: float) -> Iterator[Pattern]:
    """Every fullest pattern that a solution cheaper by a step could hold, up to a limit.

    One that loses more than the gap between the programme's cost and that solution's cannot be
    in it.
    """
    kinds = master.kinds
    ratio = [-priced.worth[n] / kinds[n].high for n in range(len(kinds))]
    order = sorted(range(len(kinds)), key=lambda n: (ratio[n], n))
    listed = 0
    for number, board in enumerate(master.boards):
        least = board.price + priced.surcharge[number] - max(gap, 0.0) - SMALL
        for held in _deal(order, kinds, priced.worth, board.high, least):
            yield _pattern(number, held, kinds)
            listed += 1
            if listed >= MOST_LISTED:
                return


def _deal(
    order: Sequence[int], kinds: Sequence[Kind], worth: Floats, room: int, least: float
) -> Iterator[list[tuple[int, int]]]:
    """Ways to fill a length that are worth at least so much, by depth-first search."""
    shortest = min(kind.high for kind in kinds)
    stack: list[tuple[int, int, float, list[tuple[int, int]]]] = [(0, room, 0.0, [])]
    while stack:
        place, left, value, held = stack.pop()
        if place == len(order) or left < shortest:
            if value >= least and held:
                yield held
            continue
        number = order[place]
        if value + left * worth[number] / kinds[number].high < least:
            continue
        most = min(kinds[number].count, left // kinds[number].high)
        for many in range(most + 1):
            more = [*held, (number, many)] if many else held
            used = many * kinds[number].high
            stack.append((place + 1, left - used, value + many * worth[number], more))


def _offcut_together(filled: tuple[Filled, ...], boards: Sequence[Board]) -> tuple[Filled, ...]:
    """The same boards with pieces moved so that one offcut is as long as possible.

    Pieces of the emptiest board go wherever there is room, longest first.
    """
    held = [[(p.high, p.kind) for p in each.placed] for each in filled]
    room = [boards[each.board].high - sum(p.high for p in each.placed) for each in filled]
    last = max(range(len(filled)), key=lambda n: (room[n], n))
    for piece in sorted(held[last], reverse=True):
        others = [n for n in range(len(filled)) if n != last and room[n] >= piece[0]]
        if others and len(held[last]) > 1:
            tight = min(others, key=lambda n: (room[n], n))
            held[tight].append(piece)
            held[last].remove(piece)
            room[tight] -= piece[0]
            room[last] += piece[0]
    order = sorted(range(len(filled)), key=lambda n: (filled[n].board, room[n], n))
    return tuple(_in_order(filled[n].board, held[n]) for n in order)


def _in_order(board: int, pieces: Sequence[tuple[int, int]]) -> Filled:
    start = 0
    placed = []
    for high, kind in sorted(pieces, key=lambda piece: (-piece[0], piece[1])):
        placed.append(Placed(kind, 0, start, 1, high))
        start += high
    return Filled(board, tuple(placed))
