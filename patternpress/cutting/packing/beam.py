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
STATE_WORK = 40  # what moving a state costs beside weighing its moves, in moves
# States with the same pieces that are kept where prices guide the beam: in a wide one, and else.
ALIKE_WIDE, ALIKE = 6, 3
WIDE = 512


@dataclass(frozen=True, slots=True)
class Keep:
    """What a beam keeps: how many states, how many of them with the same pieces.

    `children`: so many of one state come before other states' had their turn; nothing: no matter.
    """

    width: int
    alike: int
    children: int | None


def keep(width: int, guide: float | None, alike: int | None) -> Keep:
    """What is usual with a guide and without; `alike` if it is to be another number."""
    if guide is None:
        return Keep(width, alike or 1, MOST_CHILDREN)
    return Keep(width, alike or (ALIKE_WIDE if width >= WIDE else ALIKE), None)


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
    """The score of every move: an axis for the ways, the states, the choices.

    Moves that cannot be made score minus infinity; `possible` is how many can, `ended` the states
    that have none.
    """

    score: Singles
    possible: int
    ended: Ints


@dataclass(frozen=True, slots=True)
class Moves:
    """The moves that are made: of which state, which choice, in which way."""

    row: Ints
    option: Ints
    way: Ints


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
    free: Flags = (taken.left > 0)[:, choices.kind]
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


def scored(value: Floats, choices: Choices, closed: Singles, guide: float | None) -> Singles:
    """How good moves are: value for the area closed, or value less a price for that area."""
    total = value.astype(np.float32)[:, None] + choices.value.astype(np.float32)
    if guide is not None:
        found: Singles = total - np.float32(guide) * closed
        return found
    with np.errstate(divide="ignore"):  # nothing closed: only where no move is possible
        return total / closed


def chosen(looked: Looked, taken: Taken, choices: Choices, kept: Keep) -> Moves:
    """The moves to make: best first, each set of pieces once, parents taking turns."""
    score = looked.score.reshape(-1)
    least, width = -np.inf, kept.width
    if looked.possible > 6 * width:
        # A sample finds the score above which about four times as many lie as are kept.
        step = max(1, score.size // (32 * width))
        sample, wanted = score[::step], max(1, 4 * width // step)
        least = np.partition(sample, len(sample) - wanted)[len(sample) - wanted]
    best = np.flatnonzero(score >= least if least > -np.inf else score > least)
    best = best[np.argsort(-score[best], kind="stable")]
    place, option = np.divmod(best, looked.score.shape[2])
    way, row = np.divmod(place, looked.score.shape[1])
    stay = _kept(row, taken.code[row] + choices.code[option], kept)
    return Moves(row[stay], option[stay], way[stay])


def _kept(row: Ints, code: Codes, kept: Keep) -> Ints:
    first = np.flatnonzero(_turn(code) < kept.alike)
    if kept.children is not None:
        early = _turn(row[first]) < kept.children
        first = np.concatenate((first[early], first[~early]))
    return first[: kept.width]


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
    step: Callable[[Front, Moves], tuple[Front, Level]],
    choices: Choices,
    kept: Keep,
) -> Found:
    """Lay pieces down until no state has a move left.

    Ends that broke off a group are dropped; the rest come most valuable first.
    """
    levels: list[Level] = []
    ends: list[End] = []
    work = 0
    while True:
        looked = look(front)
        taken = taken_of(front)
        work += looked.score[0].size + STATE_WORK * looked.score.shape[1]
        ends += _ends(taken, looked.ended, len(levels))
        if not looked.possible:
            break
        front, level = step(front, chosen(looked, taken, choices, kept))
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
