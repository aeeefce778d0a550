"""Integer programmes.

In: columns, rows and a cost, all plain numbers.  Out: the columns' values at the least cost, by
HiGHS with one thread and a fixed seed; or nothing where no values do.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import highspy
import numpy as np

INFINITE = float("inf")
NEAR = 1e-7


@dataclass
class Programme:
    """Columns (low, high, whole numbers or not), rows (low, sum of columns, high), and costs."""

    columns: list[tuple[float, float, bool]] = field(default_factory=list)
    rows: list[tuple[float, Mapping[int, float], float]] = field(default_factory=list)
    cost: dict[int, float] = field(default_factory=dict)

    def column(self, low: float, high: float, *, whole: bool = False) -> int:
        """A new column; its number."""
        self.columns.append((low, high, whole))
        return len(self.columns) - 1

    def row(self, low: float, shares: Mapping[int, float], high: float) -> None:
        """A new row: low <= sum <= high."""
        self.rows.append((low, shares, high))

    def copy(self) -> Programme:
        """The same programme, to be changed."""
        return Programme(list(self.columns), list(self.rows), dict(self.cost))


class Quiet(highspy.Highs):
    """HiGHS without callbacks: turning them on prints a banner before it can be told not to."""

    def enableCallbacks(self) -> None:  # noqa: N802
        """Leave them off."""


def solved(programme: Programme) -> tuple[float, ...] | None:
    """The columns at the least cost; None where the rows cannot all hold."""
    highs = Quiet()  # type: ignore[no-untyped-call]
    for name, value in (
        ("output_flag", False), ("threads", 1), ("random_seed", 0), ("parallel", "off"),
        ("mip_rel_gap", 0.0), ("mip_abs_gap", 1e-9), ("mip_feasibility_tolerance", NEAR),
    ):  # fmt: skip
        highs.setOptionValue(name, value)
    highs.passModel(_model(programme))
    highs.run()
    if highs.getModelStatus() != highspy.HighsModelStatus.kOptimal:
        return None
    return tuple(float(each) for each in highs.getSolution().col_value)


def _model(programme: Programme) -> highspy.HighsLp:
    model = highspy.HighsLp()
    model.num_col_, model.num_row_ = len(programme.columns), len(programme.rows)
    model.col_cost_ = np.array(
        [programme.cost.get(n, 0.0) for n in range(len(programme.columns))], dtype=float
    )
    model.col_lower_ = np.array([low for low, _, _ in programme.columns], dtype=float)
    model.col_upper_ = np.array([high for _, high, _ in programme.columns], dtype=float)
    model.row_lower_ = np.array([low for low, _, _ in programme.rows], dtype=float)
    model.row_upper_ = np.array([high for _, _, high in programme.rows], dtype=float)
    starts, index, value = [0], [], []
    for _, shares, _ in programme.rows:
        index += list(shares)
        value += list(shares.values())
        starts.append(len(index))
    matrix = model.a_matrix_
    matrix.format_ = highspy.MatrixFormat.kRowwise
    matrix.start_ = np.array(starts, dtype=np.int32)
    matrix.index_ = np.array(index, dtype=np.int32)
    matrix.value_ = np.array(value, dtype=float)
    kinds = highspy.HighsVarType
    model.integrality_ = [
        kinds.kInteger if whole else kinds.kContinuous for _, _, whole in programme.columns
    ]
    return model
