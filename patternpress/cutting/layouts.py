"""Layouts: where every piece of a stock lies, and in which order it is cut free.

In: a `Job`.  Out: a `Layout`: boards at the least cost that was found, each with its cuts; the
bound behind it; what fits nowhere.  Among equally cheap layouts the one with the largest single
offcut wins, then the one with the fewest settings of the fence, then the fewest cuts.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

import numpy as np

from patternpress.assembly.model import Model
from patternpress.cutting.jobs import ZERO, Item, Job, Sheet, jobs
from patternpress.cutting.packing import staged
from patternpress.cutting.packing.beam import sheets_of
from patternpress.cutting.packing.choices import choices
from patternpress.cutting.packing.lengths import cut_lengths
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
from patternpress.cutting.packing.search import fits, pack
from patternpress.cutting.slicing import ACROSS, ALONG, Area, Cut, Spot, slice_up

FINE = 320  # parts of a mm that every figure of a metric or inch design lies on
MOST_WORK = 6_000_000  # moves weighed for one stock: a fraction of a second
TIDY_WIDTH, TIDY_POWERS = 24, (1.1, 1.0)
TIDY_ENDS = 6
MOST_TIDIED = 60  # pieces on a board; beyond that no other arrangement is looked for
OFFCUT_STEP = 10  # offcuts count as equal within a tenth of their board


@dataclass(frozen=True, slots=True)
class LaidBoard:
    """One board: what it is, where its pieces lie, the cuts in order, the largest offcuts.

    A board of the kind `anywhere` may have no order of cuts.
    """

    sheet: Sheet
    spots: tuple[Spot, ...]
    cuts: tuple[Cut, ...]
    offcuts: tuple[Area, ...]
    copies: int = 1


@dataclass(frozen=True, slots=True)
class Layout:
    """All boards of a job.  If `proved`, no layout costs less."""

    job: Job
    boards: tuple[LaidBoard, ...]
    proved: bool
    misfits: tuple[Item, ...]

    @property
    def to_buy(self) -> tuple[tuple[Sheet, int], ...]:
        """Which boards are to be bought, and how many of each."""
        counted: dict[Sheet, int] = {}
        for board in self.boards:
            if board.sheet.count is None:
                counted[board.sheet] = counted.get(board.sheet, 0) + board.copies
        return tuple(counted.items())


@dataclass(frozen=True, slots=True)
class _Panel:
    """A rectangle of a sheet that pieces may lie on: of which sheet, and where in it."""

    sheet: int
    area: Area
    board: Board


def layouts(model: Model) -> tuple[Layout, ...]:
    """The layout of every stock of a design that is cut."""
    return tuple(lay_out(job) for job in jobs(model))


def lay_out(job: Job) -> Layout:
    """Lay out a job.  What fits on no board is left out and told in `misfits`."""
    scale = _scale(job)
    panels = _panels(job, scale, ALONG)
    kinds = [_kind(item, job, scale) for item in job.items]
    good = [n for n, kind in enumerate(kinds) if any(fits(kind, p.board) for p in panels)]
    misfits = tuple(job.items[n] for n in range(len(kinds)) if n not in good)
    kept = [replace(k, count=k.count if n in good else 0) for n, k in enumerate(kinds)]
    if not good:
        return Layout(job, (), True, misfits)
    found = _best(job, kept, scale)
    if found is None:
        return Layout(job, (), True, job.items)
    boards, proved = found
    return Layout(job, _alike(boards), proved, misfits)


def _scale(job: Job) -> int:
    """Whole parts of a mm in which boards and kerfs are exact; pieces are rounded up to them."""
    figures = [job.kerf, job.trim]
    figures += [f for s in job.sheets for f in (s.along, s.across, *(s.used or ()))]
    return math.lcm(FINE, *(figure.denominator for figure in figures))


def _kind(item: Item, job: Job, scale: int) -> Kind:
    groups = sorted({each.board for each in job.items if each.board})
    group = groups.index(item.board) if item.board else NO_GROUP
    kerf = int(job.kerf * scale)
    if not job.flat:
        return Kind(1, _whole(item.along, scale) + kerf, item.count)
    wide, high = _whole(item.along, scale) + kerf, _whole(item.across, scale) + kerf
    return Kind(wide, high, item.count, item.turns, group)


def _whole(size: Fraction, scale: int) -> int:
    return math.ceil(size * scale)


# ------------------------------------------------------------------ what pieces may lie on


def _panels(job: Job, scale: int, split: str) -> list[_Panel]:
    """The usable rectangles of every sheet; one with a corner gone is split `split` the grain."""
    prices = _prices(job)
    found = []
    for number, sheet in enumerate(job.sheets):
        for area in _areas(sheet, job, split):
            along, across = (int(each * scale) for each in (area.along, area.across))
            kerf = int(job.kerf * scale)
            board = (
                Board(along + kerf, across + kerf, prices[number], sheet.count)
                if job.flat
                else Board(1, along + kerf, prices[number], sheet.count)
            )
            found.append(_Panel(number, area, board))
    return found


def _areas(sheet: Sheet, job: Job, split: str) -> Iterator[Area]:
    trim = job.trim
    along, across = sheet.along - 2 * trim, sheet.across - 2 * trim
    if not job.flat:
        if along > 0:
            yield Area(trim, ZERO, along, ZERO)
        return
    if along <= 0 or across <= 0:
        return
    if sheet.used is None:
        yield Area(trim, trim, along, across)
        return
    # The corner that is gone is the one farthest along and across.
    gone_along = max(ZERO, sheet.used[0] + job.kerf - trim)
    gone_across = max(ZERO, sheet.used[1] + job.kerf - trim)
    if split == ALONG:
        pieces = (
            Area(trim, trim, along, across - gone_across),
            Area(trim, trim + across - gone_across + job.kerf, along - gone_along,
                 gone_across - job.kerf),
        )  # fmt: skip
    else:
        pieces = (
            Area(trim, trim, along - gone_along, across),
            Area(trim + along - gone_along + job.kerf, trim, gone_along - job.kerf,
                 across - gone_across),
        )  # fmt: skip
    yield from (area for area in pieces if area.along > 0 and area.across > 0)


def _prices(job: Job) -> list[int]:
    """What each sheet counts: nothing at hand; else its price, or its area where none is given."""
    bought = [s for s in job.sheets if s.count is None or s.price]
    currencies = {s.price[1] for s in bought if s.price}
    priced = all(s.price for s in bought) and len(currencies) == 1
    alike = len({(s.along, s.across) for s in bought}) == 1
    found = []
    for sheet in job.sheets:
        if sheet.count is not None and not sheet.price:
            found.append(0)
        elif priced and sheet.price is not None:
            found.append(int(sheet.price[0] * 100))
        elif alike:
            found.append(1)
        else:
            found.append(math.ceil(sheet.along * (sheet.across or 1)))
    return found


# ------------------------------------------------------------------ the best layout


Boards = list[LaidBoard]


def _best(job: Job, kinds: Sequence[Kind], scale: int) -> tuple[Boards, bool] | None:
    """The cheapest boards, over the ways to begin cutting and to split used sheets."""
    best: tuple[tuple[object, ...], Boards, bool] | None = None
    for split in (ALONG, ACROSS) if any(s.used for s in job.sheets) else (ALONG,):
        panels = _panels(job, scale, split)
        for tool, first in _ways(job):
            packing = _packed(job, panels, kinds, (tool, first))
            if packing is None:
                continue
            boards = [
                _laid(job, panels[each.board], each, kinds, (scale, tool, first))
                for each in packing.filled
            ]
            rated = (packing.cost, *_wishes(boards))
            if best is None or rated < best[0]:
                best = rated, boards, packing.proved
            if packing.proved and not job.flat:
                break
    return None if best is None else (best[1], best[2])


def _ways(job: Job) -> tuple[tuple[str, str], ...]:
    """Tools and first cuts to try: strips along the grain come first, a knife may do as a saw."""
    if not job.flat:
        return ((SAW, ACROSS),)
    edges = ((SAW, ALONG), (SAW, ACROSS))
    return edges if job.tool == SAW else (*edges, (KNIFE, ALONG))


def _packed(
    job: Job, panels: Sequence[_Panel], kinds: Sequence[Kind], way: tuple[str, str]
) -> Packing | None:
    tool, first = way
    boards = [panel.board for panel in panels]
    try:
        if not job.flat:
            return cut_lengths(boards, kinds)
        if first == ACROSS:
            boards = [_turned_board(board) for board in boards]
            kinds = [_turned_kind(kind) for kind in kinds]
        packing = pack(boards, kinds, tool, MOST_WORK)
    except ValueError:
        return None
    return packing


def _turned_board(board: Board) -> Board:
    return replace(board, wide=board.high, high=board.wide)


def _turned_kind(kind: Kind) -> Kind:
    return replace(kind, wide=kind.high, high=kind.wide)


def _laid(
    job: Job, panel: _Panel, filled: Filled, kinds: Sequence[Kind], how: tuple[int, str, str]
) -> LaidBoard:
    """A board of a packing with its cuts: the best of several arrangements of its pieces."""
    scale, tool, first = how
    sheet = job.sheets[panel.sheet]
    best: tuple[tuple[object, ...], LaidBoard] | None = None
    for each, begun in _arrangements(job, panel, filled, kinds, (tool, first)):
        spots = [_spot(job, placed, panel, kinds, (scale, begun)) for placed in each.placed]
        sliced = slice_up(spots, panel.area, job.kerf, begun)
        if sliced is None:
            laid = LaidBoard(sheet, tuple(spots), (), ())
        else:
            laid = LaidBoard(sheet, sliced.spots, sliced.cuts, sliced.offcuts)
        rated = (*_wishes([laid]), begun != ALONG)
        if best is None or rated < best[0]:
            best = rated, laid
    assert best is not None
    return best[1]


def _arrangements(
    job: Job, panel: _Panel, filled: Filled, kinds: Sequence[Kind], way: tuple[str, str]
) -> Iterator[tuple[Filled, str]]:
    """The arrangement found, and others of the same pieces on the same board."""
    _, first = way
    yield filled, first
    if not job.flat or len(filled.placed) > MOST_TIDIED:
        return
    held = np.bincount([placed.kind for placed in filled.placed], minlength=len(kinds))
    areas = np.array([float(kind.area) for kind in kinds])
    for begun in (ALONG, ACROSS):
        board = panel.board if begun == ALONG else _turned_board(panel.board)
        turned = kinds if begun == ALONG else [_turned_kind(kind) for kind in kinds]
        for power in TIDY_POWERS:
            options = choices(turned, board, areas**power, held)
            found = staged.fill(board, options, held, TIDY_WIDTH, 1)
            for end in [end for end in found.ends if not end.missing][:TIDY_ENDS]:
                yield Filled(filled.board, sheets_of(found, end)[0]), begun


def _spot(
    job: Job, placed: Placed, panel: _Panel, kinds: Sequence[Kind], how: tuple[int, str]
) -> Spot:
    """A placed piece in mm on its sheet, without the kerf, in its exact size."""
    scale, first = how
    number, x, y, wide = placed.kind, placed.x, placed.y, placed.wide
    item, kind = job.items[number], kinds[number]
    if not job.flat:
        return Spot(number, panel.area.x + Fraction(y, scale), ZERO, item.along, ZERO)
    if first == ACROSS:
        x, y = y, x
        turned = wide != kind.high
    else:
        turned = wide != kind.wide
    along, across = (item.across, item.along) if turned else (item.along, item.across)
    corner = panel.area.x + Fraction(x, scale), panel.area.y + Fraction(y, scale)
    return Spot(number, *corner, along, across)


def _wishes(boards: Sequence[LaidBoard]) -> tuple[object, ...]:
    """How good boards of one cost are, less being better: offcut, settings, cuts."""
    largest = 0
    for board in boards:
        whole = board.sheet.along * (board.sheet.across or 1)
        for each in board.offcuts:
            share = each.along * (each.across or 1) / whole
            largest = max(largest, math.floor(share * OFFCUT_STEP))
    settings = sum(len(board.cuts) for board in boards)
    lines = sum(len(cut.lines) for board in boards for cut in board.cuts)
    unordered = sum(not board.cuts and len(board.spots) > 1 for board in boards)
    return unordered, -largest, settings, lines


def _alike(boards: Sequence[LaidBoard]) -> tuple[LaidBoard, ...]:
    """Boards that are cut alike told once, with how many there are."""
    counted: dict[LaidBoard, int] = {}
    for board in boards:
        counted[board] = counted.get(board, 0) + 1
    return tuple(replace(board, copies=count) for board, count in counted.items())
