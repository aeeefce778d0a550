"""Packing rectangles: the order in which the methods are tried.

In: boards, kinds, a tool, and how much work is allowed.  Out: a `Packing`.  First a few narrow
beams over all boards at once; where they leave a gap to the bound and boards hold many pieces,
wider beams on one board fewer; where boards hold few, column generation and dives.  A handful
of pieces is tried in every way.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from patternpress.cutting.packing import beam, columns, tryout
from patternpress.cutting.packing.bounds import least_cost
from patternpress.cutting.packing.choices import Ints, choices
from patternpress.cutting.packing.master import Master, Pattern, pattern
from patternpress.cutting.packing.plan import Fill, Meter, Plan
from patternpress.cutting.packing.records import (
    KNIFE,
    NO_GROUP,
    SAW,
    Board,
    Filled,
    Kind,
    Packing,
    Placed,
)

USUAL = 20_000_000  # moves weighed: somewhat less than a second
POWERS = (1.1, 1.3, 1.0)  # a piece counts by its area to this power: large ones go first
FIRST_WIDTH = 64
FIRST_WORK = 3_000_000  # for one of the first beams, which is narrower when there are many pieces
GROUPED_WIDTH = 400  # where pieces that belong together found no place with fewer
KEPT = 20  # ends of the first beams whose boards become patterns
CROWDED = 12  # pieces a board from which patterns no longer help and wider beams do
# The beams that squeeze everything onto one board fewer: width, power, alike ones kept.
SQUEEZES = {
    SAW: ((256, 1.06, 2), (384, 1.0, 2), (384, 1.03, 2), (512, 1.1, 2)),
    KNIFE: ((256, 1.1, 1), (512, 1.02, 1), (512, 1.06, 1)),
}
# Column generation: how wide the beam is, how many dives follow, and by how much of a board the
# programme should undercut what is wanted before they begin.
EFFORTS = ((256, 2, 0.15), (1024, 8, 0.08), (1024, 40, 0.2))
HOPE = 0.25  # boards by which it may miss what is wanted, for the wider beam to be worth a try
FAR = 10**18

Best = tuple[Filled, ...]


def pack(
    boards: Sequence[Board], kinds: Sequence[Kind], tool: str, most_work: int = USUAL
) -> Packing:
    """Lay all pieces on boards as cheaply as can be found within the work allowed.

    Raises ValueError where a piece fits no board, or where limited boards do not suffice.
    """
    for number, kind in enumerate(kinds):
        if kind.count and not any(fits(kind, board) for board in boards):
            raise ValueError(f"kind {number} fits on no board")
    plan = Plan(tuple(boards), tuple(kinds), tool, least_cost(boards, kinds))
    meter = Meter(most_work)
    if not plan.wanted.any():
        return Packing((), 0, 0, 0)
    master = Master(plan.boards, plan.kinds)
    master.add(_singles(plan))
    master.keep()
    best = _first(plan, master, meter)
    if best is None or plan.cost(best) > plan.bound:
        best = _better(plan, master, meter, best)
    if len(plan.boards) > 1 and (best is None or plan.cost(best) > plan.bound):
        best = _on_one_sort(plan, meter, best)
    if best is None:
        raise ValueError("the boards do not suffice")
    return Packing(best, plan.cost(best), plan.bound, meter.spent)


def _on_one_sort(plan: Plan, meter: Meter, best: Best | None) -> Best | None:
    """The best so far, or all pieces on one sort of board where that is cheaper.

    A search over several sorts may miss what a search over one of them finds.
    """
    wanted = [kind for kind in plan.kinds if kind.count]
    for number, board in enumerate(plan.boards):
        if board.count is not None or not all(fits(kind, board) for kind in wanted):
            continue
        alone = pack((board,), plan.kinds, plan.tool, meter.most)
        meter.spent += alone.work
        if best is None or alone.cost < plan.cost(best):
            best = tuple(Filled(number, each.placed) for each in alone.filled)
    return best


def fits(kind: Kind, board: Board) -> bool:
    """Whether a piece fits on an empty board."""
    upright = kind.wide <= board.wide and kind.high <= board.high
    return upright or (kind.turns and kind.high <= board.wide and kind.wide <= board.high)


def _singles(plan: Plan) -> Iterator[Pattern]:
    """A board for each kind with one piece on it, so that the programme can always be solved."""
    for number, kind in enumerate(plan.kinds):
        for place, board in enumerate(plan.boards):
            if fits(kind, board):
                turned = kind.wide > board.wide or kind.high > board.high
                wide, high = (kind.high, kind.wide) if turned else (kind.wide, kind.high)
                placed = (Placed(number, 0, 0, wide, high),)
                yield pattern(place, placed, len(plan.kinds))


def _first(plan: Plan, master: Master, meter: Meter, most_wide: int = FIRST_WIDTH) -> Best | None:
    """The best of a few narrow beams; the boards of many of their ends become patterns."""
    best: Best | None = None
    for power in POWERS:
        for fill in plan.fills:
            for packed in _whole_packings(plan, fill, (power, most_wide), meter):
                master.add(pattern(f.board, f.placed, len(plan.kinds)) for f in packed)
                if best is None or plan.cost(packed) < plan.cost(best):
                    best = packed
            if best is not None and plan.cost(best) <= plan.bound:
                return best
    return best


def _whole_packings(plan: Plan, fill: Fill, how: tuple[float, int], meter: Meter) -> Iterator[Best]:
    """Complete packings: owned boards filled first, the rest on boards of one sort."""
    power, most_wide = how
    limited = [n for n, board in enumerate(plan.boards) if board.count is not None]
    wanted, begun = _limited_first(plan, fill, how, meter, limited)
    for number, board in enumerate(plan.boards):
        if board.count is not None or not all(
            fits(kind, board) for kind, left in zip(plan.kinds, wanted, strict=True) if left
        ):
            continue
        if not wanted.any():
            break
        options = choices(plan.kinds, board, plan.areas**power, wanted)
        found = meter.run(
            fill(board, options, wanted, _width(wanted, len(options.kind), most_wide))
        )
        whole = [end for end in found.ends if not end.missing]
        for end in whole[:KEPT]:
            sheets = beam.sheets_of(found, end)
            yield (*begun, *(Filled(number, sheet) for sheet in sheets))
    if not wanted.any():
        yield begun


def _limited_first(
    plan: Plan, fill: Fill, how: tuple[float, int], meter: Meter, limited: list[int]
) -> tuple[Ints, Best]:
    """Fill the boards that are at hand, cheapest area first; what is left, and the boards."""
    power, most_wide = how
    wanted, begun = plan.wanted, []
    for number in sorted(limited, key=lambda n: (plan.boards[n].price, -plan.boards[n].area)):
        board = plan.boards[number]
        for _ in range(board.count or 0):
            options = choices(plan.kinds, board, plan.areas**power, wanted)
            if not len(options.kind):
                break
            width = _width(wanted, len(options.kind), most_wide)
            found = meter.run(fill(board, options, wanted, width, 1))
            if not found.ends or not found.ends[0].level:
                break
            filled = Filled(number, beam.sheets_of(found, found.ends[0])[0])
            begun.append(filled)
            wanted = wanted - np.bincount(
                [each.kind for each in filled.placed], minlength=len(plan.kinds)
            )
    return wanted, tuple(begun)


def _width(wanted: Ints, options: int, most: int) -> int:
    """How many states a first beam may have."""
    moves = max(1, int(wanted.sum()) * options)
    return max(8, min(most, FIRST_WORK // moves))


def _better(plan: Plan, master: Master, meter: Meter, best: Best | None) -> Best | None:
    pieces = int(plan.wanted.sum())
    grouped = any(kind.group != NO_GROUP and kind.count for kind in plan.kinds)
    if pieces <= tryout.MOST_PIECES:
        limit = plan.cost(best) if best is not None else FAR
        if grouped:
            tried = tryout.together(plan, meter, limit)
        else:
            tried = tryout.any_boards(plan, master, meter, limit)
        best = tried if tried is not None else best
        if best is not None and plan.cost(best) == plan.bound:
            return best
    if best is not None and len(plan.boards) == 1 and (grouped or pieces / len(best) > CROWDED):
        return _squeeze(plan, meter, best)
    if grouped:  # patterns know nothing of groups
        return best or _first(plan, master, meter, GROUPED_WIDTH)
    return _by_patterns(plan, master, meter, best)


def _by_patterns(plan: Plan, master: Master, meter: Meter, best: Best | None) -> Best | None:
    """Save one board after the other: generate patterns, dive, and again with a wider beam."""
    whole = columns.Rest(plan.wanted, tuple(board.count for board in plan.boards))
    turn = effort = 0
    while effort < len(EFFORTS) and (best is None or plan.cost(best) > plan.bound):
        width, dives, well = EFFORTS[effort]
        limit = plan.cost(best) if best is not None else FAR
        master.want(whole.wanted, whole.boards)
        wish = limit - plan.step * (1 + well)
        priced = columns.generate(master, plan, whole, meter, width, wish)
        known = tuple(master.patterns)
        better, near = None, limit - plan.step + columns.SMALL
        while dives and meter.left > 0 and better is None and priced.cost <= near:
            better = columns.dive(master, plan, meter, known, turn, limit)
            turn, dives = turn + 1, dives - 1
            master.add(known)
        best = better if better is not None else best
        hopeless = priced.cost > limit - plan.step * (1 - HOPE)
        if meter.left <= 0 or (better is None and hopeless):
            break
        effort += better is None
    return best


def _squeeze(plan: Plan, meter: Meter, best: Best) -> Best:
    """Try one board fewer, again and again, with wider beams."""
    board, fill = plan.boards[0], plan.fills[0]
    for width, power, alike in SQUEEZES[plan.tool]:
        if plan.cost(best) <= plan.bound or meter.left < 0:
            break
        options = choices(plan.kinds, board, plan.areas**power, plan.wanted)
        sheets = len(best) - 1
        found = meter.run(fill(board, options, plan.wanted, width, sheets, alike=alike))
        whole = next((end for end in found.ends if not end.missing), None)
        if whole is not None:
            best = tuple(Filled(0, sheet) for sheet in beam.sheets_of(found, whole))
    return best
