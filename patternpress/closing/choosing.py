"""Choose the figures.

In: lengths with a grid, the figures printed from them, and demands.  Out: a `Choice`: a value
for each length, the soft demands that were given up, and how far figures had to move; or None
where the demands cannot all be met.

Wished for, in this order: as many shares as can be kept while no figure moves too far; the least
worst move, each measured by the tolerance of its figure; few fine fractions; the least moves in
all.  What is still open is settled by taking the smaller figures, earlier ones first.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from patternpress.closing.demands import Demand
from patternpress.closing.draft import SLACK, Aim, Draft, Task
from patternpress.closing.lengths import Length
from patternpress.closing.programme import solved
from patternpress.closing.traced import worth

# How far a figure may move for the sake of a share, in steps, where the author does not say.
USUAL = Fraction(3, 2)
# How far it may move for the sake of a coarser fraction, in steps, and from what size on.
PRETTY = Fraction(3, 4)
LARGE = 16
HALF = Fraction(1, 2)


@dataclass(frozen=True)
class Choice:
    """The lengths in mm by number, soft demands given up, and the worst move by tolerance."""

    values: dict[int, Fraction]
    given_up: tuple[Demand, ...]
    worst: Fraction


def choose(task: Task) -> Choice | None:
    """The best values for all lengths; None where the demands cannot all be met."""
    soft = [each for each in task.demands if each.soft]
    first = _least_worst(task, soft, Fraction(1))
    if first is None:
        given_up, most = _given_up(task, soft)
        if given_up is None:
            return None
        soft = [each for each in soft if each not in given_up]
        first = _least_worst(task, soft, most)
    else:
        given_up = ()
    if first is None:
        return None
    # What could not be exact is to be as near as it can.
    near = tuple(
        Aim(each.form, Fraction(0), USUAL * task.grid.unit) for each in given_up if not each.whole
    )
    values = _refined(replace(task, aims=(*task.aims, *near)), soft, first)
    return Choice(values, given_up, worst_of(task, values))


def worst_of(task: Task, values: Mapping[int, Fraction]) -> Fraction:
    """The worst move of a figure, as a share of its tolerance."""
    return max(_moves(task, values), default=Fraction(0))


def moves_of(task: Task, values: Mapping[int, Fraction]) -> Fraction:
    """All moves together, each as a share of the tolerance of its figure."""
    return sum(_moves(task, values), Fraction(0))


def _moves(task: Task, values: Mapping[int, Fraction]) -> Iterator[Fraction]:
    for aim in task.aims:
        yield abs(worth(aim.form, values) - aim.mm) / aim.tolerance


def feasible(task: Task, demands: Sequence[Demand]) -> bool:
    """Whether some values meet these demands together."""
    draft = Draft(task)
    for each in demands:
        draft.hold(each)
    return solved(draft.programme) is not None


def _draft(
    task: Task, soft: Sequence[Demand], most: Fraction | None
) -> tuple[Draft, int, list[int]]:
    """A draft that holds the hard demands and some soft ones: its worst move, and all moves."""
    draft = Draft(task)
    for each in (*(d for d in task.demands if not d.soft), *soft):
        draft.hold(each)
    worst = draft.programme.column(0, float("inf") if most is None else float(most) + SLACK)
    return draft, worst, [_move(draft, aim, worst) for aim in task.aims]


def _move(draft: Draft, aim: Aim, worst: int) -> int:
    """The column of how far a figure moves, by its tolerance."""
    shares, still = draft.sum(aim.form)
    unit = draft.task.grid.unit
    weight = aim.tolerance / unit
    column = draft.programme.column(0, float("inf"))
    off = float((aim.mm / unit - still) / weight)
    row = {each: float(share / weight) for each, share in shares.items()}
    draft.programme.row(-float("inf"), {**row, column: -1.0}, off)
    draft.programme.row(off, {**row, column: 1.0}, float("inf"))
    draft.programme.row(0.0, {worst: 1.0, column: -1.0}, float("inf"))
    return column


def _least_worst(
    task: Task, soft: Sequence[Demand], most: Fraction | None
) -> dict[int, Fraction] | None:
    draft, worst, _ = _draft(task, soft, most)
    draft.programme.cost = {worst: 1.0}
    found = solved(draft.programme)
    return draft.chosen(found) if found else None


def _given_up(task: Task, soft: Sequence[Demand]) -> tuple[tuple[Demand, ...] | None, Fraction]:
    """The fewest soft demands that must be given up, and how far figures may move meanwhile."""
    base = _least_worst(task, (), None)
    if base is None:
        return None, Fraction(1)
    most = max(Fraction(1), worst_of(task, base))
    draft, _, _ = _draft(task, (), most)
    kept = [draft.maybe(each) for each in soft]
    # Of equally many, the earlier ones are kept.
    draft.programme.cost = {each: -1 - 1e-4 * (len(kept) - n) for n, each in enumerate(kept)}
    found = solved(draft.programme)
    if found is None:
        return tuple(soft), most
    return tuple(d for d, each in zip(soft, kept, strict=True) if found[each] < 0.5), most


def _refined(
    task: Task, soft: Sequence[Demand], values: dict[int, Fraction]
) -> dict[int, Fraction]:
    """The same worst move, and then what is wished for besides.

    A figure is moved for the sake of a coarser fraction by three quarters of a step at most:
    without that, one figure that has to move far would let all others loose.
    """
    worst = worst_of(task, values)
    draft, _, moves = _draft(task, soft, worst)
    all_moves = dict.fromkeys(moves, 1.0)
    values = _next(draft, all_moves, values, keep=False)
    for aim, column in zip(task.aims, moves, strict=True):
        near = max(abs(worth(aim.form, values) - aim.mm) / aim.tolerance, _pretty(task, aim))
        draft.programme.row(0.0, {column: 1.0}, float(near) + SLACK)
    fine = [_fine(draft, task.lengths[n]) for n in draft.columns if n not in task.loose]
    few = {column: 1.0 for column in fine if column is not None}
    small = {column: 1.0 + 1e-3 * n for n, column in enumerate(draft.columns.values())}
    for cost in (few, all_moves, small):
        values = _next(draft, cost, values)
    return values


def _pretty(task: Task, aim: Aim) -> Fraction:
    """How far a figure may move for a coarser fraction; small ones stay at the nearest step."""
    return (PRETTY if aim.mm >= LARGE * task.grid.unit else HALF) / USUAL


def _next(
    draft: Draft, cost: dict[int, float], values: dict[int, Fraction], *, keep: bool = True
) -> dict[int, Fraction]:
    """The values at the least cost; with `keep`, no later ones may cost more."""
    draft.programme.cost = cost
    found = solved(draft.programme) if cost else None
    if found is None:
        return values  # what was found already holds as well
    if keep:
        best = sum(found[column] * share for column, share in cost.items())
        draft.programme.row(-float("inf"), cost, best + SLACK)
    return draft.chosen(found)


def _fine(draft: Draft, length: Length) -> int | None:
    """A column that is 1 where a length needs the finest fraction: odd 64ths, odd tenths."""
    grid = draft.task.grid
    every = 2 if grid.system == "in" else 5
    if length.sort == "limit" or grid.units(length.mm) % every == 0:
        return None
    programme = draft.programme
    whole = programme.column(-1e6, 1e6, whole=True)
    rest = programme.column(0, every - 1, whole=True)
    column = programme.column(0, 1, whole=True)
    at = draft.columns[length.number]
    programme.row(0, {at: float(grid.units(length.mm)), whole: -float(every), rest: -1.0}, 0)
    programme.row(-float("inf"), {rest: 1.0, column: -float(every - 1)}, 0)
    return column
