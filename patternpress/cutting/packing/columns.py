"""Column generation and diving: patterns made to measure, then chosen one after the other.

In: a plan, and the patterns known so far.  Out: filled boards that cost less than what was known,
if such are found.  The linear programme (Gilmore & Gomory 1963) says what each piece is worth; a
beam on a single board looks for a pattern worth more than its board; a dive fixes the most used
patterns and begins again with what is left.  The beam may miss patterns, so the programme's cost
proves nothing.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from patternpress.cutting.packing import beam
from patternpress.cutting.packing.choices import Floats, Ints, choices
from patternpress.cutting.packing.master import Master, Pattern, Priced
from patternpress.cutting.packing.plan import Fill, Meter, Plan
from patternpress.cutting.packing.records import Filled, Placed

SMALL = 1e-6
NODES = 200  # of branch and bound
# The price of closed area, as a share of what a whole board is worth.
GUIDES, MORE_GUIDES = (0.8, 0.6, 1.0), (0.8, 0.6, 1.0, 0.3, 0.0)
NEW_PATTERNS = 40  # from one beam
SAME_PIECE = 3  # patterns from one beam in which a piece may be the one not often seen
NARROW = 128
ROUNDS = 60
MOST_TRIED = 3  # patterns at each step of a dive
LP_WORK = 60_000  # what solving the programme once stands for, in moves weighed
TAIL = 24  # pieces left over for which whole patterns are chosen by branch and bound
TAIL_WORK = 300_000
FEW = 40  # pieces left over that a beam may finish


@dataclass(frozen=True, slots=True)
class Rest:
    """What is still wanted, and which boards are left, after some patterns were fixed."""

    wanted: Ints
    boards: tuple[int | None, ...]


def generate(
    master: Master, plan: Plan, rest: Rest, meter: Meter, width: int, enough: float
) -> Priced:
    """Add patterns while they pay, or until the cost is `enough`; the programme's last solution."""
    guides = MORE_GUIDES if width >= beam.WIDE else GUIDES
    ways = [(fill, guide) for guide in guides for fill in plan.fills]
    way = misses = 0
    for _ in range(ROUNDS):
        priced = master.priced()
        meter.spent += LP_WORK
        if (
            misses == len(ways)
            or meter.left < 0
            or math.isinf(priced.cost)
            or priced.cost <= enough
        ):
            return priced
        fill, guide = ways[way]
        if master.add(_paying(plan, rest, priced, (fill, guide, width), meter)):
            misses = 0
        else:
            misses, way = misses + 1, (way + 1) % len(ways)
    return master.priced()


def _paying(
    plan: Plan, rest: Rest, priced: Priced, how: tuple[Fill, float, int], meter: Meter
) -> list[Pattern]:
    """Patterns that are worth more than their boards cost."""
    fill, guide, width = how
    wanted = np.where(priced.worth > SMALL * max(1.0, priced.worth.max()), rest.wanted, 0)
    found: list[Pattern] = []
    for number, board in enumerate(plan.boards):
        if rest.boards[number] == 0 or not wanted.any():
            continue
        least = board.price + priced.surcharge[number]
        options = choices(plan.kinds, board, priced.worth, wanted)
        if not len(options.kind):
            continue
        slope = guide * max(least, plan.step) / board.area
        reached = meter.run(fill(board, options, wanted, width, 1, slope))
        found += _varied(number, reached, wanted, least * (1 + 1e-4) + SMALL)
    return found


def _varied(board: int, found: beam.Found, wanted: Ints, least: float) -> list[Pattern]:
    """The best patterns, as long as each brings pieces that the better ones did not use often."""
    seen = np.zeros(len(wanted), np.int64)
    kept: list[Pattern] = []
    for end in found.ends:
        if end.value < least or len(kept) == NEW_PATTERNS:
            break
        counts = wanted - end.left
        held = counts > 0
        if seen[held].min() < SAME_PIECE:
            seen[held] += 1
            placed = beam.sheets_of(found, end)[0]
            kept.append(Pattern(board, tuple(counts.tolist()), placed))
    return kept


def dive(
    master: Master, plan: Plan, meter: Meter, known: Sequence[Pattern], turn: int, limit: int
) -> tuple[Filled, ...] | None:
    """Fix patterns one after the other; filled boards that cost less than `limit`, or nothing.

    `turn` numbers the dives: each but the first shakes the order of the patterns, always alike.
    A pattern after which the rest would cost too much is taken back, and the next one tried.
    """
    shake = np.random.Generator(np.random.PCG64(turn))
    rest = Rest(plan.wanted, tuple(board.count for board in plan.boards))
    fixed: tuple[Filled, ...] = ()
    master.want(rest.wanted, rest.boards)
    master.add(known)
    priced = master.priced()
    while rest.wanted.any():
        noise = shake.random(len(priced.used)) * min(0.15 * turn, 0.6)
        for chosen in _most_used(master, plan, rest, priced, noise):
            more, left = fix_all(chosen, rest)
            spent = plan.cost(fixed) + plan.cost(more)
            if not left.wanted.any():
                return (*fixed, *more) if spent < limit else None
            enough = limit - plan.step - spent
            end = _finish(plan, left, meter, enough) if left.wanted.sum() <= FEW else None
            if end is not None:
                return (*fixed, *more, *end)
            master.want(left.wanted, left.boards)
            width = NARROW << min(turn // 3, 2)
            after = generate(master, plan, left, meter, width, enough)
            if after.cost <= enough + SMALL:
                tail = _tail(master, left, meter, enough) if left.wanted.sum() <= TAIL else None
                if tail is not None:
                    return (*fixed, *more, *tail)
                break
            if meter.left < 0:
                return None
        else:
            return None
        fixed, rest, priced = (*fixed, *more), left, after
    return None


def _tail(master: Master, rest: Rest, meter: Meter, most: float) -> tuple[Filled, ...] | None:
    """The best of whole patterns for the last few pieces, if that costs at most so much."""
    meter.spent += TAIL_WORK
    filled, left = fix_all(master.whole(NODES, most), rest)
    return None if left.wanted.any() else filled


def _most_used(
    master: Master, plan: Plan, rest: Rest, priced: Priced, noise: Floats
) -> list[list[Pattern]]:
    """What to try next: all patterns used whole at once, or else the most used ones in turn."""
    whole = np.flatnonzero(priced.used > 1 - SMALL)
    tried: list[list[Pattern]] = []
    if len(whole):
        times = np.floor(priced.used[whole] + SMALL).astype(int)
        tried = [[master.patterns[j] for j, n in zip(whole, times, strict=True) for _ in range(n)]]
    rated = []
    for column in np.flatnonzero(priced.used > SMALL):
        made = master.patterns[column]
        live = float(np.minimum(made.counts, rest.wanted) @ plan.areas)
        full = live / plan.boards[made.board].area
        if live:
            rated.append((-priced.used[column] - 0.05 * full - noise[column], int(column)))
    return tried + [[master.patterns[column]] for _, column in sorted(rated)[:MOST_TRIED]]


def fix_all(chosen: list[Pattern], rest: Rest) -> tuple[tuple[Filled, ...], Rest]:
    """Use patterns once each; those that hold nothing wanted are left out."""
    fixed = []
    for each in chosen:
        filled, rest = _fix(each, rest)
        if filled is not None:
            fixed.append(filled)
    return tuple(fixed), rest


def _fix(chosen: Pattern, rest: Rest) -> tuple[Filled | None, Rest]:
    """Use a pattern once, without pieces that are no longer wanted; nothing if none are left."""
    wanted = rest.wanted.copy()
    kept: list[Placed] = []
    for placed in chosen.placed:
        if wanted[placed.kind] > 0:
            wanted[placed.kind] -= 1
            kept.append(placed)
    if not kept:
        return None, rest
    boards = list(rest.boards)
    left = boards[chosen.board]
    if left is not None:
        boards[chosen.board] = left - 1
    return Filled(chosen.board, tuple(kept)), Rest(wanted, tuple(boards))


def _finish(plan: Plan, rest: Rest, meter: Meter, most: float) -> tuple[Filled, ...] | None:
    """Fill boards of one unlimited sort with all that is left, if that costs at most so much."""
    for number, board in enumerate(plan.boards):
        if rest.boards[number] is not None or not board.price:
            continue
        options = choices(plan.kinds, board, plan.areas**1.2, rest.wanted)
        for fill in plan.fills:
            sheets = max(1, int(most // board.price))
            found = meter.run(fill(board, options, rest.wanted, NARROW // 2, sheets))
            whole = next((end for end in found.ends if not end.missing), None)
            if whole is not None and most >= board.price:
                return tuple(Filled(number, sheet) for sheet in beam.sheets_of(found, whole))
    return None
