"""Layouts: where every piece of a stock lies, and in which order it is cut free.

In: a `Job`.  Out: a `Layout`: boards at the least cost that was found, each with its cuts; the
bound behind it; what fits nowhere.  Among equally cheap layouts the
one that rips no short stock wins, then the one with the largest single offcut, then with the
fewest settings of the fence, then with the fewest cuts.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, MutableMapping, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import zip_longest
from typing import Any

import numpy as np

from patternpress.assembly.model import Model
from patternpress.cutting.byshape import all_by_shape, by_shape, cost_of, least_of_shapes, shaped
from patternpress.cutting.jobs import SHORT, ZERO, Item, Job, Sheet, jobs
from patternpress.cutting.laid import Boards, LaidBoard, Layout, alike, wishes
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
from patternpress.cutting.panels import Panel, panels_of, prices_of, scale_of
from patternpress.cutting.parting import cut_beside, gone_from, needed, parted, usable
from patternpress.cutting.slicing import ACROSS, ALONG, Area, Cut, Spot, slice_up
from patternpress.drawing.kept import once

MOST_WORK = 6_000_000  # moves weighed for one stock: a fraction of a second
TIDY_WIDTH, TIDY_ALIKE, TIDY_POWERS = 32, 16, (1.1, 1.0)
TIDY_ENDS = 16
# What a least size is rounded up to, and what none is below, mm: our judgement, no source.
WHOLE = {"mm": Fraction(10), "in": Fraction("12.7")}
LEAST = {"mm": (Fraction(100), Fraction(50)), "in": (Fraction("101.6"), Fraction("50.8"))}
MANY = 150  # pieces of one stock; beyond that a proved layout is not tried another way round
MOST_TIDIED = 60  # pieces on a board; beyond that no other arrangement is looked for


def layouts(model: Model, kept: MutableMapping[str, Any] | None = None) -> tuple[Layout, ...]:
    """The layout of every stock of a design that is cut; `kept` holds those of jobs alike."""
    system = model.edition.stock
    return tuple(_enough(layout_of(job, kept), system, kept) for job in jobs(model))


def _enough(found: Layout, system: str, kept: MutableMapping[str, Any] | None) -> Layout:
    """The layout on the least that serves, where the shops of an edition sell no known size.

    All that is known then is what shops of the other system sell, and most of it would be waste.
    Rounded up to a step of the shops’ `system`; several boards, or one that would become several,
    stay as they are.  A length has an end to hold it by when the last piece is cut.
    """
    if [board.copies for board in found.boards] != [1] or found.misfits or found.apart:
        return found
    (board,) = found.boards
    if not board.sheet.about or gone_from(board.sheet):
        return found
    step, held = WHOLE[system], ZERO if found.job.flat else SHORT
    along, across = (
        min(whole, max(least, math.ceil((far + found.job.trim) / step) * step))
        for whole, least, far in (
            (board.sheet.along, LEAST[system][0], max(e.x + e.along for e in board.spots) + held),
            (board.sheet.across, LEAST[system][1], max(e.y + e.across for e in board.spots)),
        )
    )
    least = replace(board.sheet, along=along, across=across)
    tried = layout_of(replace(found.job, sheets=(least,)), kept)
    whole = [each.copies for each in tried.boards] == [1] and not (tried.misfits or tried.apart)
    return tried if whole else found


def layout_of(job: Job, kept: MutableMapping[str, Any] | None) -> Layout:
    """The layout of a job, made or kept.

    It follows from sizes alone; letters and names are those of the job at hand.
    """
    sizes = [(i.along, i.across, i.count, i.turns, i.board, i.contour) for i in job.items]
    said = job.flat, job.tool, job.kerf, job.trim, job.keeps, job.sheets
    found = once(kept, "layout", (said, sizes), lambda: lay_out(job))
    places = [found.job.items.index(item) for item in found.misfits]
    return replace(found, job=job, misfits=tuple(job.items[n] for n in places))


def lay_out(job: Job) -> Layout:
    """Lay out a job.  What fits on no board is left out and told in `misfits`."""
    scale = scale_of(job)
    kinds = [_kind(item, job, scale) for item in job.items]
    bad = misfits(job)
    around = all_by_shape(job) if bad and shaped(job) else None
    if around is not None:
        held = [item.count for item in job.items]
        proved = cost_of(job, around) <= least_of_shapes(job, held)
        return Layout(job, alike(around), proved, ())
    kept = [
        replace(kind, count=0 if item in bad else kind.count)
        for item, kind in zip(job.items, kinds, strict=True)
    ]
    if len(bad) == len(kinds):
        return Layout(job, (), True, bad)
    found = _best(job, kept, scale)
    apart = found is None and any(kind.group != NO_GROUP for kind in kept)
    if apart:
        found = _best(job, [replace(kind, group=NO_GROUP) for kind in kept], scale)
    if found is None:
        return Layout(job, (), True, job.items)
    boards, proved, bound = found
    held = [kind.count for kind in kept]
    if shaped(job):
        nested = by_shape(job, held, boards)
        boards, apart = (nested, False) if nested else (boards, apart)
    if shaped(job) or any(map(gone_from, job.sheets)):
        # Bounds of rectangles on panels do not hold for outlines, or for panels cut otherwise.
        bound = least_of_shapes(job, held)
        proved = cost_of(job, boards) <= bound
    bought = [n for n, sheet in enumerate(job.sheets) if sheet.count is None]
    price = max(prices_of(job)[bought[0]], 1) if len(bought) == 1 else 0
    least = -(-bound // price) if price else 0
    return Layout(job, alike(boards), proved, bad, apart, least)


def misfits(job: Job) -> tuple[Item, ...]:
    """What fits on no board of a job, not even alone."""
    scale = scale_of(job)
    panels = [panel for split in _splits(job) for panel in panels_of(job, scale, split)]
    return tuple(
        item
        for item in job.items
        if not any(fits(_kind(item, job, scale), panel.board) for panel in panels)
    )


def _splits(job: Job) -> tuple[str, ...]:
    """The ways to part what is left of used sheets."""
    return (ALONG, ACROSS) if job.flat and any(map(gone_from, job.sheets)) else (ALONG,)


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


def _best(job: Job, kinds: Sequence[Kind], scale: int) -> tuple[Boards, bool, int] | None:
    """The cheapest boards, over the ways to begin cutting and to split used sheets."""
    best: tuple[tuple[object, ...], Boards, bool, int] | None = None
    for split in _splits(job):
        panels = panels_of(job, scale, split)
        for way in _ways(job):
            packing = _packed(job, panels, kinds, way)
            if packing is None:
                continue
            laid = [
                (panels[each.board], _laid(job, panels[each.board], each, kinds, (scale, *way)))
                for each in packing.filled
            ]
            boards = _whole_sheets(job, panels, laid, split)
            rated = (packing.cost, *wishes(boards, job))
            if best is None or rated < best[0]:
                best = rated, boards, packing.proved, packing.bound
            many = sum(kind.count for kind in kinds) > MANY
            if packing.proved and (many or not job.flat):
                break
    return None if best is None else best[1:]


def _whole_sheets(
    job: Job, panels: Sequence[Panel], laid: Sequence[tuple[Panel, LaidBoard]], split: str
) -> Boards:
    """The boards, where the panels of a sheet that was parted become one board again."""
    boards = [board for panel, board in laid if not gone_from(job.sheets[panel.sheet])]
    for number, sheet in enumerate(job.sheets):
        if not gone_from(sheet):
            continue
        mine = [panel for panel in panels if panel.sheet == number]
        filled = [[b for panel, b in laid if panel is each] for each in mine]
        cuts = parted(sheet, job, split)[1]
        for laid_here in zip_longest(*filled):
            held = [panel.area for panel, b in zip(mine, laid_here, strict=True) if b]
            first = needed(cuts, held, usable(sheet, job), job.kerf)
            boards.append(_rejoined(sheet, mine, laid_here, (first, job.kerf)))
    return boards


def _rejoined(
    sheet: Sheet,
    panels: Sequence[Panel],
    laid: Sequence[LaidBoard | None],
    first: tuple[Sequence[Cut], Fraction],
) -> LaidBoard:
    """Panels as one board; the cuts that part them come first."""
    spots: list[Spot] = []
    offcuts: list[Area] = []
    cuts = [*first[0]]
    later: list[Cut] = []
    for panel, board in zip(panels, laid, strict=True):
        if board is None:
            offcuts.append(panel.area)
            continue
        spots += board.spots
        offcuts += board.offcuts
        later += board.cuts
        number = cut_beside(panel.area, first[0], first[1])
        if not board.cuts and number is not None:
            frees = (*cuts[number].frees, *(spot.item for spot in board.spots))
            cuts[number] = replace(cuts[number], frees=tuple(sorted(frees)))
    return LaidBoard(sheet, tuple(spots), (*cuts, *later), tuple(offcuts))


def _ways(job: Job) -> tuple[tuple[str, str], ...]:
    """Tools and first cuts to try: strips along the grain come first, a knife may do as a saw."""
    if not job.flat:
        return ((SAW, ACROSS),)
    edges = ((SAW, ALONG), (SAW, ACROSS))
    return edges if job.tool == SAW else (*edges, (KNIFE, ALONG))


def _packed(
    job: Job, panels: Sequence[Panel], kinds: Sequence[Kind], way: tuple[str, str]
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
    job: Job, panel: Panel, filled: Filled, kinds: Sequence[Kind], how: tuple[int, str, str]
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
        rated = (*wishes([laid], job), begun != ALONG)
        if best is None or rated < best[0]:
            best = rated, laid
    assert best is not None
    return best[1]


def _arrangements(
    job: Job, panel: Panel, filled: Filled, kinds: Sequence[Kind], way: tuple[str, str]
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
            found = staged.fill(board, options, held, TIDY_WIDTH, 1, alike=TIDY_ALIKE)
            for end in [end for end in found.ends if not end.missing][:TIDY_ENDS]:
                yield Filled(filled.board, sheets_of(found, end)[0]), begun


def _spot(
    job: Job, placed: Placed, panel: Panel, kinds: Sequence[Kind], how: tuple[int, str]
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


__all__ = ["LaidBoard", "Layout", "lay_out", "layout_of", "layouts", "misfits"]
