"""A choice of lengths as a programme of whole numbers.

In: a `Task`: lengths, the figures they should come to, what has to hold between them.  Out: a
`Draft`: its columns and rows, and the lengths in mm that a solution of it stands for.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from math import ceil, floor, lcm

from patternpress.closing.demands import Demand
from patternpress.closing.grid import Grid
from patternpress.closing.lengths import Length
from patternpress.closing.programme import Programme
from patternpress.closing.traced import Form, worth

WINDOW = 4
SLACK = 1e-6
MANY = 1000.0  # more units than any sum within the window can be off


@dataclass(frozen=True)
class Aim:
    """A printed figure as a sum of lengths: what it should be, and its tolerance, in mm."""

    form: Form
    mm: Fraction
    tolerance: Fraction


@dataclass(frozen=True)
class Task:
    """All that a choice is made from.

    `loose`: lengths that need not fall on a step; `still`: lengths that stay as they are;
    `window`: how many of its steps a length is looked for on either side.
    """

    lengths: Sequence[Length]
    aims: Sequence[Aim]
    demands: Sequence[Demand]
    grid: Grid
    loose: frozenset[int] = frozenset()
    still: frozenset[int] = frozenset()
    window: int = WINDOW

    def moves(self, length: Length) -> bool:
        """Whether a length may move at all."""
        if length.number in self.still or length.sort in ("stock", "drawn"):
            return False
        return not self.grid.fine(length.mm)

    def stands(self, number: int) -> bool:
        """Whether a length that the author typed stands for a thickness that is off the step."""
        length = self.lengths[number]
        return number in self.still and length.sort == "given" and not self.grid.on(length.mm)


class Draft:
    """A programme for a task, with the columns of its lengths."""

    def __init__(self, task: Task) -> None:
        self.task = task
        self.programme = Programme()
        self.columns: dict[int, int] = {}
        self.fixed: dict[int, Fraction] = {}
        for length in task.lengths:
            if not task.moves(length):
                self.fixed[length.number] = length.mm
                continue
            size = self.size(length)
            at = length.mm / size
            low, high = max(1, ceil(at) - task.window), floor(at) + task.window
            whole = length.number not in task.loose
            self.columns[length.number] = self.programme.column(low, high, whole=whole)

    def size(self, length: Length) -> Fraction:
        """The step of a length in mm."""
        return self.task.grid.unit * self.task.grid.units(length.mm)

    def sum(self, form: Form) -> tuple[dict[int, Fraction], Fraction]:
        """A form as shares of columns, and what is fixed of it; in units."""
        shares: dict[int, Fraction] = {}
        still = Fraction(0)
        unit = self.task.grid.unit
        for number, share in form.items():
            if number in self.columns:
                size = self.size(self.task.lengths[number])
                shares[self.columns[number]] = share * size / unit
            else:
                still += share * self.fixed[number] / unit
        return shares, still

    def hold(self, demand: Demand) -> None:
        """Add a demand that must be met."""
        shares, still = self.sum(demand.form)
        unit = self.task.grid.unit
        if demand.whole:
            column = self.programme.column(-1e6, 1e6, whole=True)
            shares[column] = Fraction(-demand.units)
        scaled, scale = _scaled(shares)
        low = -float("inf") if demand.low is None else float((demand.low / unit - still) * scale)
        high = float("inf") if demand.high is None else float((demand.high / unit - still) * scale)
        if not scaled and (low > SLACK or high < -SLACK):
            # Nothing in it can move: a row that never holds.
            scaled = {self.programme.column(0, 0): 1.0}
        self.programme.row(low, scaled, high)

    def maybe(self, demand: Demand) -> int:
        """Add a demand that is met where a new column is 1; the number of that column."""
        kept = self.programme.column(0, 1, whole=True)
        shares, still = self.sum(demand.form)
        unit = self.task.grid.unit
        if demand.whole:
            shares[self.programme.column(-1e6, 1e6, whole=True)] = Fraction(-demand.units)
        for sign, end in ((1, demand.high), (-1, demand.low)):
            if end is None:
                continue
            row = {column: float(sign * share) for column, share in shares.items()}
            row[kept] = MANY
            self.programme.row(-float("inf"), row, MANY + float(sign * (end / unit - still)))
        return kept

    def chosen(self, columns: Sequence[float]) -> dict[int, Fraction]:
        """The lengths in mm that the columns stand for."""
        found = dict(self.fixed)
        for number, column in self.columns.items():
            if number in self.task.loose:
                found[number] = self.task.lengths[number].mm
            else:
                found[number] = round(columns[column]) * self.size(self.task.lengths[number])
        return _fitted(found, self.task)


def _fitted(values: dict[int, Fraction], task: Task) -> dict[int, Fraction]:
    """The lengths that need not fall on a step, at what is left for them."""
    for number in sorted(task.loose):
        for demand in task.demands:
            share = demand.form.get(number)
            if share and demand.low == demand.high == 0 and not demand.soft:
                rest = {n: each for n, each in demand.form.items() if n != number}
                values[number] = -worth(rest, values) / share
                break
    return values


def _scaled(shares: Mapping[int, Fraction]) -> tuple[dict[int, float], int]:
    """Shares as whole numbers, and by how much they were multiplied."""
    scale = lcm(*(share.denominator for share in shares.values())) if shares else 1
    return {column: float(share * scale) for column, share in shares.items()}, scale
