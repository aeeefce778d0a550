"""Free packing: pieces laid into the lowest gap of a skyline.

In: a board, choices, pieces wanted.  Out: what the beam found.  Each state keeps the upper edge
of what lies on its open sheet as steps from left to right.  A piece goes into the lowest gap,
against the higher of its two walls; a gap that nothing fits is filled up with waste.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from patternpress.cutting.packing import beam
from patternpress.cutting.packing.beam import Level, Looked, Moves, Taken
from patternpress.cutting.packing.choices import (
    Choices,
    Flags,
    Floats,
    Ints,
    low_enough,
    narrow_enough,
)
from patternpress.cutting.packing.records import NO_GROUP, Board


@dataclass(frozen=True, slots=True)
class Front:
    """The skyline of each state: steps that begin at `x` and lie at height `y`.

    `x` and `y` have a column for each step; behind the last one x is the board's width and y
    infinite.  `under` is the area below the skyline, `count` the number of steps.
    """

    taken: Taken
    x: Floats
    y: Floats
    count: Ints
    under: Floats


@dataclass(frozen=True, slots=True)
class Gap:
    """The gap of each state where the next piece goes: its step, width and height."""

    step: Ints
    wide: Floats
    high: Floats
    fits: Flags
    dead: Flags


def fill(
    board: Board,
    choices: Choices,
    wanted: Ints,
    width: int,
    sheets: int | None = None,
    guide: float | None = None,
    alike: int | None = None,
) -> beam.Found:
    """Run the beam over at most that many sheets, or as many as it takes.

    A state is good by its value for the area under its skyline, full sheets counted; with a
    `guide`, by its value less that much for each unit of that area.  `alike`: how many states with
    the same pieces are kept.
    """
    most = int(wanted.sum()) if sheets is None else sheets
    x = np.array([[0.0, board.wide]])
    y = np.array([[0.0, np.inf]])
    start = Front(beam.nothing_taken(wanted), x, y, np.ones(1, np.int64), np.zeros(1))
    gaps: list[tuple[Front, Gap]] = []

    def look(front: Front) -> Looked:
        gaps[:] = [_lowest(front, choices, board, most)]
        return _look(*gaps[0], choices, board, guide)

    def step(_: Front, moves: Moves) -> tuple[Front, Level]:
        return _step(*gaps[0], choices, board, moves)

    kept = beam.keep(width, guide, alike)
    return beam.run(start, lambda front: front.taken, look, step, choices, kept)


def _look(front: Front, gap: Gap, choices: Choices, board: Board, guide: float | None) -> Looked:
    closed = (front.taken.sheet * float(board.area) + front.under).astype(np.float32)
    filled = closed[:, None] + choices.area.astype(np.float32)
    score = beam.scored(front.taken.value, choices, filled, guide)
    score[~gap.fits] = -np.inf
    return Looked(score[None], int(np.count_nonzero(gap.fits)), np.flatnonzero(gap.dead))


def _lowest(front: Front, choices: Choices, board: Board, most: int) -> tuple[Front, Gap]:
    """The skylines with hopeless gaps filled up, and the lowest gap that something fits."""
    states, options = len(front.count), len(choices.kind)
    free = beam.open_to(front.taken, choices)
    x, y, count = front.x.copy(), front.y.copy(), front.count.copy()
    under, sheet = front.under.copy(), front.taken.sheet.copy()
    step, dead = np.zeros(states, np.int64), np.zeros(states, np.bool_)
    fits = np.zeros((states, options), np.bool_)
    rows = np.arange(states)
    while len(rows):
        lowest = np.argmin(y[rows], axis=1)
        wide = x[rows, lowest + 1] - x[rows, lowest]
        high = board.high - y[rows, lowest]
        may = free[rows] & narrow_enough(choices, wide) & low_enough(choices, high)
        some = may.any(axis=1)
        step[rows[some]], fits[rows[some]] = lowest[some], may[some]
        rows, lowest, wide = rows[~some], lowest[~some], wide[~some]
        flat = count[rows] == 1
        ends = rows[flat]
        goes_on = (sheet[ends] < most - 1) & (front.taken.owed[ends] == NO_GROUP)
        goes_on &= free[ends].any(axis=1)
        dead[ends[~goes_on]] = True
        fresh = ends[goes_on]
        sheet[fresh] += 1
        y[fresh, 0] = under[fresh] = 0
        rows, lowest, wide = rows[~flat], lowest[~flat], wide[~flat]
        under[rows] += wide * _raise(x, y, count, rows, lowest, board)
        rows = np.sort(np.concatenate((rows, fresh)))
    every = np.arange(states)
    gap = Gap(step, x[every, step + 1] - x[every, step], y[every, step], fits, dead)
    taken = front.taken
    moved = Taken(taken.left, taken.value, taken.code, sheet, taken.owed, taken.owing)
    return Front(moved, x, y, count, under), gap


def _raise(x: Floats, y: Floats, count: Ints, rows: Ints, step: Ints, board: Board) -> Floats:
    """Fill gaps up to their lower walls, in place; how far each was raised."""
    before = np.where(step > 0, y[rows, np.maximum(step - 1, 0)], np.inf)
    behind = y[rows, step + 1]
    level = np.minimum(before, behind)
    raised: Floats = level - y[rows, step]
    y[rows, step] = level
    gone = np.zeros((len(rows), x.shape[1]), np.bool_)
    at = np.arange(len(rows))
    gone[at, step] = before == level
    gone[at, step + 1] = behind == level
    x[rows], y[rows] = _without(x[rows], y[rows], gone, board)
    count[rows] -= gone.sum(axis=1)
    return raised


def _without(x: Floats, y: Floats, gone: Flags, board: Board) -> tuple[Floats, Floats]:
    """Skylines without the steps that are gone; the others move up."""
    order = np.argsort(gone, axis=1, kind="stable")
    x = np.take_along_axis(np.where(gone, float(board.wide), x), order, axis=1)
    y = np.take_along_axis(np.where(gone, np.inf, y), order, axis=1)
    return x, y


def _step(
    front: Front, gap: Gap, choices: Choices, board: Board, moves: Moves
) -> tuple[Front, Level]:
    """Lay each piece into the gap, against the higher wall (the left one where they are equal)."""
    row, option = moves.row, moves.option
    every = np.arange(len(row))
    step, low = gap.step[row], gap.high[row]
    x, y, count = front.x[row], front.y[row], front.count[row]
    wide, high = choices.wide[option], choices.high[option]
    rest = gap.wide[row] - wide
    before = np.where(step > 0, y[every, np.maximum(step - 1, 0)], board.high)
    at_left = before >= np.minimum(y[every, step + 1], board.high)
    start = x[every, step] + np.where(at_left, 0.0, rest)
    # The gap is split in two where the piece does not fill it: a step more.
    split = rest > 0
    x, y = _with_room(x, y, step, split, board)
    own = np.where(split & ~at_left, step + 1, step)
    other = np.where(at_left, step + 1, step)[split]
    x[every, own], y[every, own] = start, low + high
    halves = every[split]
    x[halves, other] = np.where(at_left, start + wide, start - rest)[split]
    y[halves, other] = low[split]
    level = np.zeros(x.shape, np.bool_)
    level[:, 1:] = (y[:, 1:] == y[:, :-1]) & np.isfinite(y[:, 1:])
    count = count + split - level.sum(axis=1)
    if level.any():
        x, y = _without(x, y, level, board)
    most = int(count.max(initial=1)) + 1  # one column behind the last step
    taken = beam.take(front.taken, choices, row, option, np.zeros(len(row), np.bool_))
    after = Front(taken, x[:, :most], y[:, :most], count, front.under[row] + choices.area[option])
    return after, Level(row, option, taken.sheet, start, low)


def _with_room(
    x: Floats, y: Floats, step: Ints, split: Flags, board: Board
) -> tuple[Floats, Floats]:
    """Skylines with one column more, where the steps behind a split gap moved on by one."""
    column = np.arange(x.shape[1] + 1)[None, :]
    moved = split[:, None] & (column > step[:, None])
    place = np.minimum(column - moved, x.shape[1] - 1)
    wide = np.concatenate((x, np.full((len(x), 1), float(board.wide))), axis=1)
    high = np.concatenate((y, np.full((len(y), 1), np.inf)), axis=1)
    place = np.where(column - moved > place, x.shape[1], place)
    return np.take_along_axis(wide, place, axis=1), np.take_along_axis(high, place, axis=1)
