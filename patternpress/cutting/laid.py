"""What a layout is: boards with their pieces, cuts and offcuts, and how good they are.

In: nothing but a job.  Out: records, and the wishes that equally cheap layouts are rated by.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from patternpress.cutting.jobs import Item, Job, Sheet
from patternpress.cutting.packing.records import SAW
from patternpress.cutting.slicing import ALONG, Area, Cut, Spot

# Shorter stock is crosscut, not ripped, at a saw: common practice, no source.
SHORT_RIP = 100
OFFCUT_STEP = 10  # offcuts count as equal within a tenth of their board


@dataclass(frozen=True, slots=True)
class LaidBoard:
    """One board: what it is, where its pieces lie, the cuts in order, the largest offcuts.

    A board of the kind `anywhere` may have no order of cuts.  `by_shape`: outlines lie between
    each other, and boxes may overlap.
    """

    sheet: Sheet
    spots: tuple[Spot, ...]
    cuts: tuple[Cut, ...]
    offcuts: tuple[Area, ...]
    copies: int = 1
    by_shape: bool = False


Boards = list[LaidBoard]


@dataclass(frozen=True, slots=True)
class Layout:
    """All boards of a job.  If `proved`, no layout costs less.

    `apart`: pieces that should come from one board do not fit on one.  `least`: how many boards
    no layout does without, where all that can be bought is of one size.
    """

    job: Job
    boards: tuple[LaidBoard, ...]
    proved: bool
    misfits: tuple[Item, ...]
    apart: bool = False
    least: int = 0

    @property
    def to_buy(self) -> tuple[tuple[Sheet, int], ...]:
        """Which boards are to be bought, and how many of each: all that one is glued up from."""
        counted: dict[Sheet, int] = {}
        for board in self.boards:
            if board.sheet.count is None:
                more = board.copies * self.job.stock.glued
                counted[board.sheet] = counted.get(board.sheet, 0) + more
        return tuple(counted.items())


def wishes(boards: Sequence[LaidBoard], job: Job) -> tuple[object, ...]:
    """How good boards of one cost are, less being better.

    First no ripping of short stock at a saw, then the largest offcut, settings, cuts.
    """
    largest = math.floor(largest_share(boards, job) * OFFCUT_STEP)
    cuts = [cut for board in boards for cut in board.cuts]
    rips = [line.to_x - line.x for cut in cuts if cut.runs == ALONG for line in cut.lines]
    short = sum(length < SHORT_RIP for length in rips) if job.tool == SAW else 0
    unordered = sum(not board.cuts and len(board.spots) > 1 for board in boards)
    return unordered, short, -largest, len(cuts), sum(len(cut.lines) for cut in cuts)


def largest_share(boards: Sequence[LaidBoard], job: Job) -> Fraction:
    """The largest offcut that is worth keeping, as a share of its board."""
    shares = (
        extent_of(each) / extent_of(board.sheet)
        for board in boards
        for each in worth_keeping(board, job)
    )
    return max(shares, default=Fraction(0))


def worth_keeping(board: LaidBoard, job: Job) -> tuple[Area, ...]:
    """The offcuts of a board that are not too small to be kept."""
    along, across = job.keeps
    return tuple(e for e in board.offcuts if e.along >= along and e.across >= across)


def extent_of(each: Area | Sheet) -> Fraction:
    """How much there is of a rectangle, in mm²; of a length, which has no width, in mm."""
    return each.along * (each.across or 1)


def alike(boards: Sequence[LaidBoard]) -> tuple[LaidBoard, ...]:
    """Boards that are cut alike told once, with how many there are."""
    counted: dict[LaidBoard, int] = {}
    for board in boards:
        counted[board] = counted.get(board, 0) + 1
    return tuple(replace(board, copies=count) for board, count in counted.items())
