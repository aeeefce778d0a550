"""Edge-to-edge packing in three stages: strips, columns in a strip, boxes in a column.

In: a board, choices, pieces wanted.  Out: what the beam found.  The first column of a strip sets
its height, the first box of a column its width; what is narrower is trimmed by one last cut.
Every packing of this sort can be built in that order, tallest column and widest box first.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from patternpress.cutting.packing import beam
from patternpress.cutting.packing.beam import Level, Looked, Moves, Taken
from patternpress.cutting.packing.choices import (
    Choices,
    Flags,
    Floats,
    Ints,
    Singles,
    low_enough,
    narrow_enough,
)
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
    alike: int | None = None,
) -> beam.Found:
    """Run the beam over at most that many sheets, or as many as it takes.

    A state is good by its value for the area that it has closed; with a `guide`, by its value
    less that much for each unit of closed area.  `alike`: how many states with the same pieces
    are kept.
    """
    nought = np.zeros(1)
    start = Front(beam.nothing_taken(wanted), nought, nought, nought, nought, nought)
    most = int(wanted.sum()) if sheets is None else sheets
    return beam.run(
        start,
        lambda front: front.taken,
        lambda front: _look(front, choices, board, most, guide),
        lambda front, moves: _step(front, choices, moves),
        choices,
        beam.keep(width, guide, alike),
    )


def _look(front: Front, choices: Choices, board: Board, most: int, guide: float | None) -> Looked:
    ways = _ways(front, choices, board, most)
    score = np.empty((len(ways), *ways[0].shape), np.float32)
    for way, (may, closed) in enumerate(zip(ways, _closed(front, choices, board), strict=False)):
        score[way] = beam.scored(front.taken.value, choices, closed, guide)
        score[way][~may] = -np.inf
    alive = np.logical_or.reduce([may.any(axis=1) for may in ways])
    possible = sum(int(np.count_nonzero(may)) for may in ways)
    return Looked(score, possible, np.flatnonzero(~alive))


def _ways(front: Front, choices: Choices, board: Board, most: int) -> tuple[Flags, ...]:
    """Where each choice may lie: on top, beside, in a new strip, and on a new sheet if allowed."""
    free = beam.open_to(front.taken, choices)
    above = np.where(front.left == 0, board.high - front.low, front.tall) - front.filled
    on_top = narrow_enough(choices, front.wide) & low_enough(choices, above)
    next_to = narrow_enough(choices, board.wide - front.left - front.wide)
    next_to &= low_enough(choices, front.tall)
    fits_above = low_enough(choices, board.high - front.low - front.tall)
    on_top &= free
    next_to &= free
    in_strip = free & fits_above
    if most == 1:
        return on_top, next_to, in_strip
    more = (front.taken.sheet < most - 1) & (front.taken.owed == NO_GROUP)
    return on_top, next_to, in_strip, free & ~fits_above & more[:, None]


def _closed(front: Front, choices: Choices, board: Board) -> Iterator[Singles]:
    """The area that is used up after each way, waste beside finished columns included."""
    sheet = front.taken.sheet * float(board.area)
    before = sheet + front.low * board.wide
    area, high = choices.area.astype(np.float32), choices.high.astype(np.float32)
    column = before + front.left * front.tall + front.wide * front.filled
    yield _single(column) + _single(front.wide) * high
    yield _single(before + (front.left + front.wide) * front.tall) + area
    yield _single(before + front.tall * board.wide) + area
    yield _single(sheet + board.area) + area


def _single(each: NDArray[np.floating[Any]]) -> Singles:
    """A column of single precision: enough for scores."""
    found: Singles = each.astype(np.float32)[:, None]
    return found


def _step(front: Front, choices: Choices, moves: Moves) -> tuple[Front, Level]:
    row, option, way = moves.row, moves.option, moves.way
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
