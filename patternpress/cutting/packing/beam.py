"""Beam search: many half-filled boards at once, a piece laid on each in turn, the best kept.

In: a front of states, one row each, and two functions: `look` says which pieces may come next
and how good that is, `step` lays the chosen ones down.  Out: `Found`, with every end that was
reached and the way there.  The beam keeps a fixed number of states, so work is bounded; it is
the plain numpy form of the tree searches for staged cutting (Fontan & Libralesso 2020).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from patternpress.cutting.packing.choices import Choices, Codes, Flags, Floats, Ints, Singles
from patternpress.cutting.packing.records import NO_GROUP, Placed

Front = TypeVar("Front")
# No more than this many children of one state are kept before every other state had its turn.
MOST_CHILDREN = 4
# States with the same pieces that are kept where prices guide the beam: in a wide one, and else.
ALIKE_WIDE, ALIKE = 6, 3
WIDE = 512


@dataclass(frozen=True, slots=True)
class Taken:
    """What each state has laid down; a row a state.

    `left` pieces by kind; `value` and `code`, summed; `sheet`, from 0; `owed`, the group that
    was begun on this sheet and must be finished on it, with `owing` pieces to come.
    """

    left: NDArray[np.int32]
    value: Floats
    code: Codes
    sheet: Ints
    owed: Ints
    owing: Ints


@dataclass(frozen=True, slots=True)
class Looked:
    """Possible moves: of which state, which choice, in which way, and the score of each.

    `ended` are the states that have none; `work` is how many moves were weighed.
    """

    row: Ints
    option: Ints
    way: Ints
    score: Singles
    code: Codes
    ended: Ints
    work: int


@dataclass(frozen=True, slots=True)
class Level:
    """One piece laid on each state: from which state before, which choice, and where."""

    row: Ints
    option: Ints
    sheet: Ints
    x: Floats
    y: Floats


@dataclass(frozen=True, slots=True)
class End:
    """A state with no move left: how deep it lies, its row, the value laid down.

    `left` are the pieces of each kind that it did not lay down, `missing` how many in all.
    """

    level: int
    row: int
    value: float
    missing: int
    left: NDArray[np.int32]


@dataclass(frozen=True, slots=True)
class Found:
    """All that a beam found: its levels, and its ends with the most valuable first."""

    choices: Choices
    levels: tuple[Level, ...]
    ends: tuple[End, ...]
    work: int


def nothing_taken(wanted: Ints) -> Taken:
    """A single state that has laid nothing down."""
    zero = np.zeros(1, np.int64)
    left = wanted.astype(np.int32)[None, :]
    none = np.full(1, NO_GROUP, np.int64)
    return Taken(left, np.zeros(1), np.zeros(1, np.uint64), zero, none, zero)


def open_to(taken: Taken, choices: Choices) -> Flags:
    """Which choices each state still has pieces for; a begun group comes before all else."""
    free: Flags = taken.left[:, choices.kind] > 0
    if len(choices.size_of) and (choices.group >= 0).any():
        free &= (taken.owed == NO_GROUP)[:, None] | (choices.group == taken.owed[:, None])
    return free


def take(taken: Taken, choices: Choices, row: Ints, option: Ints, new_sheet: Flags) -> Taken:
    """The states after each row took its choice."""
    left = taken.left[row]
    left[np.arange(len(row)), choices.kind[option]] -= 1
    group = choices.group[option]
    size = choices.size_of[np.maximum(group, 0)]
    owing = np.where(taken.owed[row] == NO_GROUP, size, taken.owing[row]) - 1
    owed = np.where((group != NO_GROUP) & (owing > 0), group, NO_GROUP)
    return Taken(
        left,
        taken.value[row] + choices.value[option],
        taken.code[row] + choices.code[option],
        taken.sheet[row] + new_sheet,
        owed,
        np.where(owed == NO_GROUP, 0, owing),
    )


def chosen(looked: Looked, width: int, guided: bool = False) -> Ints:
    """The moves to keep: best first, each set of pieces once, parents taking turns."""
    score = looked.score
    best = np.arange(len(score))
    if len(score) > 6 * width:
        # A sample finds the score above which about four times as many lie as are kept.
        step = max(1, len(score) // (16 * width)) if len(score) > 64 * width else 1
        sample, wanted = score[::step], 4 * width // step
        cut = np.partition(sample, len(sample) - wanted)[len(sample) - wanted]
        best = np.flatnonzero(score >= cut)
    best = best[np.argsort(-score[best], kind="stable")]
    if guided:
        alike = ALIKE_WIDE if width >= WIDE else ALIKE
        return best[_turn(looked.code[best]) < alike][:width]
    _, first = np.unique(looked.code[best], return_index=True)
    best = best[np.sort(first)]
    early = _turn(looked.row[best]) < MOST_CHILDREN
    return np.concatenate((best[early], best[~early]))[:width]


def _turn(row: Ints | Codes) -> Ints:
    """For each entry, how many of the same row come before it."""
    order = np.argsort(row, kind="stable")
    ordered = row[order]
    starts = np.flatnonzero(np.concatenate(([True], ordered[1:] != ordered[:-1])))
    lengths = np.diff(np.concatenate((starts, [len(row)])))
    turn = np.empty(len(row), np.int64)
    turn[order] = np.arange(len(row)) - np.repeat(starts, lengths)
    return turn


def run(
    front: Front,
    taken_of: Callable[[Front], Taken],
    look: Callable[[Front], Looked],
    step: Callable[[Front, Ints, Ints, Ints], tuple[Front, Level]],
    choices: Choices,
    width: int,
    guided: bool,
) -> Found:
    """Lay pieces down until no state has a move left.

    Ends that broke off a group are dropped; the rest come most valuable first.
    """
    levels: list[Level] = []
    ends: list[End] = []
    work = 0
    while True:
        looked = look(front)
        work += looked.work
        ends += _ends(taken_of(front), looked.ended, len(levels))
        if not len(looked.row):
            break
        kept = chosen(looked, width, guided)
        front, level = step(front, looked.row[kept], looked.option[kept], looked.way[kept])
        levels.append(level)
    ends.sort(key=lambda end: (-end.value, end.level, end.row))
    return Found(choices, tuple(levels), tuple(ends), work)


def _ends(taken: Taken, rows: Ints, level: int) -> list[End]:
    sound = rows[taken.owed[rows] == NO_GROUP]
    missing = taken.left[sound].sum(axis=1)
    values = taken.value[sound]
    return [
        End(level, int(row), float(value), int(short), taken.left[row])
        for row, value, short in zip(sound, values, missing, strict=True)
    ]


def sheets_of(found: Found, end: End) -> tuple[tuple[Placed, ...], ...]:
    """Where everything lies at an end, sheet by sheet, in the order of laying down."""
    options = found.choices
    sheets: dict[int, list[Placed]] = {}
    row = end.row
    for level in reversed(found.levels[: end.level]):
        option = int(level.option[row])
        placed = Placed(
            int(options.kind[option]),
            int(level.x[row]),
            int(level.y[row]),
            int(options.wide[option]),
            int(options.high[option]),
        )
        sheets.setdefault(int(level.sheet[row]), []).append(placed)
        row = int(level.row[row])
    return tuple(tuple(reversed(sheets[number])) for number in sorted(sheets))
