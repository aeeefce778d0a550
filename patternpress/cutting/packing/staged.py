"""Edge-to-edge packing in three stages: strips, columns in a strip, boxes in a column.

In: a board, choices, pieces wanted.  Out: what the beam found.  The first column of a strip sets
its height, the first box of a column its width; what is narrower is trimmed by one last cut.
Every packing of this sort can be built in that order, tallest column and widest box first.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from patternpress.cutting.packing import beam
from patternpress.cutting.packing.beam import Level, Looked, Taken
from patternpress.cutting.packing.choices import Choices, Flags, Floats, Ints
from patternpress.cutting.packing.records import NO_GROUP, Board

ON_TOP, BESIDE, NEW_STRIP, NEW_SHEET = range(4)


@dataclass(frozen=True, slots=True)
class Front:
    """The open strip and column of each state, a row a state.

    The strip begins at `low` and is `tall`; its open column begins at `left`, is `wide` and
    filled up to `filled` above the strip's lower edge.
    """

    taken: Taken
    low: Floats
    tall: Floats
    left: Floats
    wide: Floats
    filled: Floats


def fill(
    board: Board,
    choices: Choices,
    wanted: Ints,
    width: int,
    sheets: int | None = None,
    guide: float | None = None,
) -> beam.Found:
    """Run the beam over at most that many sheets, or as many as it takes.

    A state is good by its value for the area that it has closed; with a `guide`, by its value
    less that much for each unit of closed area.
    """
    nought = np.zeros(1)
    start = Front(beam.nothing_taken(wanted), nought, nought, nought, nought, nought)
    most = int(wanted.sum()) if sheets is None else sheets
    return beam.run(
        start,
        lambda front: front.taken,
        lambda front: _look(front, choices, board, most, guide),
        lambda front, row, option, way: _step(front, choices, row, option, way),
        choices,
        width,
        guide is not None,
    )


def _look(front: Front, choices: Choices, board: Board, most: int, guide: float | None) -> Looked:
    ways = _ways(front, choices, board, most)
    found = [np.divmod(np.flatnonzero(may), may.shape[1]) for may in ways]
    row = np.concatenate([each[0] for each in found])
    option = np.concatenate([each[1] for each in found])
    closed = np.concatenate(
        [
            _closed(front, choices, board, way, *each)
            for way, each in enumerate(found)
            if len(each[0])
        ]
        or [np.zeros(0)]
    )
    value = front.taken.value[row] + choices.value[option]
    score = value / closed if guide is None else value - guide * closed
    alive = np.zeros(len(front.low), np.bool_)
    alive[row] = True
    way = np.repeat(np.arange(len(ways)), [len(each[0]) for each in found])
    return Looked(
        row, option, way, score.astype(np.float32),
        front.taken.code[row] + choices.code[option], np.flatnonzero(~alive), ways[0].size,
    )  # fmt: skip


def _ways(front: Front, choices: Choices, board: Board, most: int) -> tuple[Flags, ...]:
    """Where each choice may lie: on top, beside, in a new strip, and on a new sheet if allowed."""
    free = beam.open_to(front.taken, choices)
    wide, high = choices.wide, choices.high
    above = np.where(front.left == 0, board.high - front.low, front.tall) - front.filled
    beside = board.wide - front.left - front.wide
    on_top = (wide <= front.wide[:, None]) & (high <= above[:, None])
    on_top &= free
    next_to = (wide <= beside[:, None]) & (high <= front.tall[:, None])
    next_to &= free
    fits_above = high <= (board.high - front.low - front.tall)[:, None]
    in_strip = free & fits_above
    if most == 1:
        return on_top, next_to, in_strip
    more = (front.taken.sheet < most - 1) & (front.taken.owed == NO_GROUP)
    return on_top, next_to, in_strip, free & ~fits_above & more[:, None]


def _closed(
    front: Front, choices: Choices, board: Board, way: int, row: Ints, option: Ints
) -> Floats:
    """The area that is used up after moves of one way, waste beside finished columns included."""
    sheet = front.taken.sheet * float(board.area)
    before = sheet + front.low * board.wide
    if way == ON_TOP:
        column = before + front.left * front.tall + front.wide * front.filled
        on_top: Floats = column[row] + front.wide[row] * choices.high[option]
        return on_top
    closed = (
        before + (front.left + front.wide) * front.tall,
        before + front.tall * board.wide,
        sheet + board.area,
    )[way - BESIDE]
    after: Floats = closed[row] + choices.area[option]
    return after


def _step(
    front: Front, choices: Choices, row: Ints, option: Ints, way: Ints
) -> tuple[Front, Level]:
    on_top, beside = way == ON_TOP, way == BESIDE
    low, tall, left, wide, filled = (
        each[row] for each in (front.low, front.tall, front.left, front.wide, front.filled)
    )
    high = choices.high[option]
    same = on_top | beside
    new_low = np.where(same, low, np.where(way == NEW_STRIP, low + tall, 0.0))
    new_left = np.where(on_top, left, np.where(beside, left + wide, 0.0))
    reach = np.where(on_top, filled, 0.0)
    keeps = beside | (on_top & (left > 0))
    after = Front(
        beam.take(front.taken, choices, row, option, way == NEW_SHEET),
        new_low,
        np.where(keeps, tall, reach + high),
        new_left,
        np.where(on_top, wide, choices.wide[option]),
        reach + high,
    )
    return after, Level(row, option, after.taken.sheet, new_left, new_low + reach)
