"""A handful of pieces: every way to fill a board, and the cheapest set of boards.

In: a plan of few pieces, and what they cost so far.  Out: filled boards that cost less, if there
are any.  A beam so wide that it drops nothing tries everything; only where so few pieces have
more ways than that, boards being roomy then, may something be missed.
"""

from __future__ import annotations

from patternpress.cutting.packing import beam
from patternpress.cutting.packing.choices import choices
from patternpress.cutting.packing.columns import Rest, fix_all
from patternpress.cutting.packing.master import Master, pattern
from patternpress.cutting.packing.plan import Meter, Plan
from patternpress.cutting.packing.records import Filled

MOST_PIECES = 10
EVERY = 20_000  # states; seven pieces on a board that holds five have some hundreds
NODES = 2_000  # of branch and bound

Best = tuple[Filled, ...]


def any_boards(plan: Plan, master: Master, meter: Meter, limit: int) -> Best | None:
    """The cheapest boards that hold all pieces, if they cost less than `limit`."""
    for number, board in enumerate(plan.boards):
        options = choices(plan.kinds, board, plan.areas, plan.wanted)
        for fill in plan.fills if len(options.kind) else ():
            found = meter.run(fill(board, options, plan.wanted, EVERY, 1, alike=EVERY))
            differing = {end.left.tobytes(): end for end in reversed(found.ends)}
            master.add(
                pattern(number, beam.sheets_of(found, end)[0], len(plan.kinds))
                for end in differing.values()
            )
    rest = Rest(plan.wanted, tuple(board.count for board in plan.boards))
    master.want(rest.wanted, rest.boards)
    filled, left = fix_all(master.whole(NODES, limit - plan.step), rest)
    return None if left.wanted.any() else filled


def together(plan: Plan, meter: Meter, limit: int) -> Best | None:
    """The same for pieces that stay together on boards of one sort, all laid down at once."""
    board = plan.boards[0]
    if len(plan.boards) > 1 or board.count is not None or not board.price:
        return None
    for fill in plan.fills:
        options = choices(plan.kinds, board, plan.areas, plan.wanted)
        sheets = min((limit - 1) // board.price, int(plan.wanted.sum()))
        found = meter.run(fill(board, options, plan.wanted, EVERY, sheets, alike=EVERY))
        whole = next((end for end in found.ends if not end.missing), None)
        if whole is not None:
            return tuple(Filled(0, sheet) for sheet in beam.sheets_of(found, whole))
    return None
