"""The choice among patterns: a linear programme over filled boards, kept warm in HiGHS.

In: patterns (a board and how many of each kind it holds).  Out: what each kind is worth to a
pattern not yet known (its dual value), and how often each pattern is used, in parts or whole.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import highspy
import numpy as np

from patternpress.closing.programme import Quiet
from patternpress.cutting.packing.choices import Floats, Ints
from patternpress.cutting.packing.records import Board, Filled, Kind, Placed

INFINITE = highspy.kHighsInf
MOST_PATTERNS = 6  # for each row; those that pay least are forgotten when there are more


@dataclass(frozen=True, slots=True)
class Pattern:
    """A filled board: of which kind, how many of each kind it holds, and where."""

    board: int
    counts: tuple[int, ...]
    placed: tuple[Placed, ...]

    @property
    def filled(self) -> Filled:
        """As a board of a packing."""
        return Filled(self.board, self.placed)


def pattern(board: int, placed: Sequence[Placed], kinds: int) -> Pattern:
    """The pattern of what lies on a board."""
    counts = np.bincount([each.kind for each in placed], minlength=kinds)
    return Pattern(board, tuple(counts.tolist()), tuple(placed))


@dataclass(frozen=True, slots=True)
class Priced:
    """The cost in parts, each kind's worth, each board's surcharge, and the use of patterns."""

    cost: float
    worth: Floats
    surcharge: Floats
    used: Floats


class Master:
    """Patterns and the programme over them.  Rows: a kind each, then a board each."""

    def __init__(self, boards: Sequence[Board], kinds: Sequence[Kind]) -> None:
        self.patterns: list[Pattern] = []
        self.boards, self.kinds = boards, kinds
        self.decided = True  # whether `whole` last ended by itself
        self._kept = 0
        self._known: set[tuple[int, tuple[int, ...]]] = set()
        self._lp = quiet()
        self._lp.setOptionValue("presolve", "off")
        rows = len(kinds) + len(boards)
        counts = [float(kind.count) for kind in kinds]
        limits = [INFINITE if b.count is None else float(b.count) for b in boards]
        low = np.array(counts + [-INFINITE] * len(boards))
        high = np.array([INFINITE] * len(kinds) + limits)
        none = np.zeros(rows, np.int32)
        self._lp.addRows(rows, low, high, 0, none, np.array([], np.int32), np.array([]))

    def add(self, patterns: Iterable[Pattern]) -> int:
        """Take in the patterns that are new; how many there were."""
        fresh = []
        for each in patterns:
            key = (each.board, each.counts)
            if key not in self._known and any(each.counts):
                self._known.add(key)
                fresh.append(each)
        if fresh:
            self.patterns += fresh
            self._add_columns(fresh)
        return len(fresh)

    def keep(self) -> None:
        """Never forget the patterns known by now."""
        self._kept = len(self.patterns)

    def _add_columns(self, fresh: Sequence[Pattern]) -> None:
        index: list[int] = []
        value: list[float] = []
        start: list[int] = []
        for each in fresh:
            start.append(len(index))
            rows = [row for row, count in enumerate(each.counts) if count]
            index += [*rows, len(self.kinds) + each.board]
            value += [*(float(each.counts[row]) for row in rows), 1.0]
        count = len(fresh)
        costs = np.array([float(self.boards[each.board].price) for each in fresh])
        self._lp.addCols(
            count, costs, np.zeros(count), np.full(count, INFINITE), len(index),
            np.array(start, np.int32), np.array(index, np.int32), np.array(value),
        )  # fmt: skip

    def want(self, wanted: Ints, boards_left: Sequence[int | None]) -> None:
        """Ask for other numbers of pieces, and allow other numbers of boards."""
        for row, many in enumerate(wanted):
            self._lp.changeRowBounds(row, float(many), INFINITE)
        for row, left in enumerate(boards_left, len(wanted)):
            self._lp.changeRowBounds(row, -INFINITE, INFINITE if left is None else float(left))

    def priced(self) -> Priced:
        """Solve in parts.  The cost is infinite where the boards do not suffice."""
        self._lp.run()
        if self._lp.getModelStatus() != highspy.HighsModelStatus.kOptimal:
            none = np.zeros(len(self.kinds))
            return Priced(INFINITE, none, np.zeros(len(self.boards)), np.zeros(len(self.patterns)))
        solution = self._lp.getSolution()
        duals = np.array(solution.row_dual)
        count = len(self.kinds)
        cost = float(self._lp.getInfo().objective_function_value)
        used = np.array(solution.col_value)
        if len(used) > MOST_PATTERNS * len(duals):
            used = self._forget(used, np.array(solution.col_dual))
        return Priced(cost, duals[:count], -duals[count:], used)

    def _forget(self, used: Floats, reduced: Floats) -> Floats:
        """Drop the half of the patterns that pay least; the use of those that stay."""
        order = np.argsort(reduced, kind="stable")
        gone = np.sort(order[len(order) // 2 :])
        gone = gone[(used[gone] == 0) & (gone >= self._kept)]
        self._lp.deleteCols(len(gone), gone.astype(np.int32))
        stay = np.delete(np.arange(len(used)), gone)
        for column in gone:
            self._known.discard((self.patterns[column].board, self.patterns[column].counts))
        self.patterns = [self.patterns[column] for column in stay]
        kept: Floats = used[stay]
        return kept

    def whole(self, nodes: int, below: float) -> list[Pattern]:
        """Whole numbers of patterns that cost at most `below`, or nothing; by branch and bound.

        Stops after that many nodes.
        """
        lp = quiet()
        lp.passModel(self._lp.getModel())
        count = len(self.patterns)
        columns = np.arange(count, dtype=np.int32)
        kinds = np.array([highspy.HighsVarType.kInteger] * count)
        lp.changeColsIntegrality(count, columns, kinds)
        lp.setOptionValue("mip_max_nodes", nodes)
        costs = np.array(lp.getLp().col_cost_)
        lp.addRow(-INFINITE, below, count, columns, costs)
        lp.run()
        done = (highspy.HighsModelStatus.kOptimal, highspy.HighsModelStatus.kInfeasible)
        self.decided = lp.getModelStatus() in done
        if lp.getInfo().primal_solution_status != highspy.SolutionStatus.kSolutionStatusFeasible:
            return []
        used = np.rint(np.array(lp.getSolution().col_value)).astype(int)
        return [each for each, n in zip(self.patterns, used, strict=True) for _ in range(n)]


def quiet() -> highspy.Highs:
    """A solver that says nothing and works the same way each time."""
    lp = Quiet()  # type: ignore[no-untyped-call]
    lp.setOptionValue("output_flag", False)
    lp.setOptionValue("threads", 1)
    lp.setOptionValue("random_seed", 1)
    return lp
