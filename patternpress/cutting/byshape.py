"""Boards of stock that is cut anywhere, with pieces laid by their outlines instead of their boxes.

In: a job, how many pieces of each item are laid, and the boards that boxes take.  Out: boards
that cost less, or as much with a much larger offcut; nothing where boxes do as well.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import combinations, islice

from patternpress.cutting.jobs import Job
from patternpress.cutting.laid import Boards, LaidBoard, largest_share
from patternpress.cutting.packing.nesting import Nested, nest, orders
from patternpress.cutting.packing.records import KNIFE
from patternpress.cutting.panels import prices_of
from patternpress.cutting.parting import gone_from
from patternpress.cutting.shapecells import Cells, board_of, cells_of, field_of

MOST_TRIES = 8  # sets of boards that are tried at a time
WORTH = Fraction(1, 10)  # of a board, that the offcut must gain to be worth cutting round pieces


def shaped(job: Job) -> bool:
    """Whether outlines count: the tool cuts anywhere, and some piece or board is no rectangle."""
    if not job.flat or job.tool != KNIFE:
        return False
    return any(item.contour for item in job.items) or any(map(gone_from, job.sheets))


def cost_of(job: Job, boards: Sequence[LaidBoard]) -> int:
    """What boards cost, counted as packing does."""
    prices = prices_of(job)
    return sum(prices[job.sheets.index(board.sheet)] * board.copies for board in boards)


def least_of_shapes(job: Job, held: Sequence[int]) -> int:
    """What no layout costs less than: by area, what is at hand for nothing being used first."""
    need = sum(_area(job, n) * count for n, count in enumerate(held))
    bought = []
    for sheet, price in zip(job.sheets, prices_of(job), strict=True):
        area = float(sheet.along * sheet.across)
        if price:
            bought.append((price, area))
        else:
            need -= area * (sheet.count or 0)
    if need <= 0 or not bought:
        return 0
    by_area = need * min(price / area for price, area in bought)
    return max(min(price for price, _ in bought), math.ceil(by_area - 1e-6))


def _area(job: Job, number: int) -> float:
    """Of one piece; flattened outlines may be a little larger than the true ones."""
    item = job.items[number]
    return item.contour.polygon.area * 0.999 if item.contour else float(item.along * item.across)


def by_shape(job: Job, held: Sequence[int], boards: Boards) -> Boards | None:
    """Boards with pieces between each other, where that is worth it."""
    start = tuple(sorted(job.sheets.index(board.sheet) for board in boards))
    cells = cells_of(job, held)
    if cells is None:
        return None
    best: Boards | None = None
    while fewer := _first_that_does(cells, start):
        start, best = fewer
    if best is not None:
        return best
    if not _may_gain(job, held, boards):
        return None
    same = _laid(cells, start)
    if same is None or largest_share(same, job) < largest_share(boards, job) + WORTH:
        return None
    return same


def all_by_shape(job: Job) -> Boards | None:
    """Boards for every piece, where the box of one fits on none but its outline may.

    What is at hand is used first, then one sheet more of each size at a time.
    """
    held = [item.count for item in job.items]
    cells = cells_of(job, held)
    if cells is None:
        return None
    free = [n for n, sheet in enumerate(job.sheets) for _ in range(sheet.count or 0)]
    bought = [n for n, sheet in enumerate(job.sheets) if sheet.count is None]
    for more in range(MOST_TRIES if bought else 1):
        for number in bought or [0]:
            boards = _laid(cells, [*free, *[number] * more])
            if boards is not None:
                return by_shape(job, held, boards) or boards
    return None


def _may_gain(job: Job, held: Sequence[int], boards: Boards) -> bool:
    """Whether the largest offcut could grow enough, were nothing wasted on the fullest board."""
    need = sum(_area(job, n) * count for n, count in enumerate(held))
    areas = sorted(float(board.sheet.along * board.sheet.across) for board in boards)
    least = max(0.0, need - sum(areas[:-1])) / areas[-1] if len(areas) == 1 else 0.0
    return 1 - least >= largest_share(boards, job) + WORTH


def _first_that_does(cells: Cells, start: tuple[int, ...]) -> tuple[tuple[int, ...], Boards] | None:
    """The cheapest other boards, of those tried, that hold all pieces."""
    for sheets in islice(_cheaper(cells, start), MOST_TRIES):
        laid = _laid(cells, sheets)
        if laid is not None:
            return sheets, laid
    return None


def _cheaper(cells: Cells, start: tuple[int, ...]) -> Iterator[tuple[int, ...]]:
    """Boards with one or two taken away and at most one added, cheapest first; large enough."""
    job = cells.job
    prices = prices_of(job)

    def rated(sheets: tuple[int, ...]) -> tuple[int, int]:
        return sum(prices[n] for n in sheets), len(sheets)

    found: dict[tuple[int, ...], None] = {}
    for gone in (1, 2):
        for kept in combinations(start, max(0, len(start) - gone)):
            for added in ((), *((n,) for n in range(len(job.sheets)))):
                found[tuple(sorted((*kept, *added)))] = None
    need = sum(int(s.masks[0].sum()) * s.count for s in cells.nest.sorts)
    for sheets in sorted(found, key=lambda each: (rated(each), each)):
        counted = Counter(sheets)
        at_hand = all((job.sheets[n].count or k) >= k for n, k in counted.items())
        fields = [field_of(job.sheets[n], cells) for n in sheets]
        room = sum(f.wide * f.high - sum(w * h for _, _, w, h in f.gone) for f in fields)
        if rated(sheets) < rated(start) and at_hand and room >= need:
            yield sheets


def _laid(cells: Cells, sheets: Sequence[int]) -> Boards | None:
    """All pieces on these boards, with the largest single offcut over all orders."""
    job, prices = cells.job, prices_of(cells.job)
    order = sorted(sheets, key=lambda n: (prices[n], -job.sheets[n].along * job.sheets[n].across))
    fields = [field_of(job.sheets[n], cells) for n in order]
    best: tuple[Fraction, Boards] | None = None
    for ranks in orders(cells.nest.sorts):
        for sideways in (False, True):
            nested = nest(fields, cells.nest, ranks, sideways=sideways)
            if nested is None or _parted(cells, nested):
                continue
            boards = [
                board_of(job.sheets[n], lying, cells)
                for n, lying in zip(order, nested, strict=True)
                if lying
            ]
            share = largest_share(boards, job)
            if best is None or share > best[0]:
                best = share, boards
    return best[1] if best else None


def _parted(cells: Cells, nested: Nested) -> bool:
    """Whether pieces that belong together lie on several boards."""
    boards: dict[str, set[int]] = {}
    for number, lying in enumerate(nested):
        for each in lying:
            boards.setdefault(cells.groups[each.sort], set()).add(number)
    return any(group and len(on) > 1 for group, on in boards.items())
