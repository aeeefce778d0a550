"""What closing costs, and whether thousands of carcasses add up.

python -m tests.bench_closing            rows
python -m tests.bench_closing 5000       so many carcasses as well (some minutes)
"""

from __future__ import annotations

import os
import sys
from concurrent.futures import ProcessPoolExecutor
from fractions import Fraction
from multiprocessing import get_context
from pathlib import Path

from patternpress.booklet.build import make_edition
from patternpress.closing.close import close
from patternpress.design.read import Reading, read_text
from tests.assembly.carcass import plan
from tests.bench_rows import Row, best, show
from tests.closing.test_carcasses import STEP, facts_of, reading, wrong
from tests.closing.walker import chains

# Goals: this project's own.
GOAL = 0.10
CARCASSES = 5000
GROWTH = 1.5  # 1,000 figures may take as many times longer a figure than 60


def stack(boxes: int) -> Reading:
    """A stack of boxes, each with sizes of its own: about ten figures a box."""
    sizes, parts, steps = [], [], []
    for n in range(boxes):
        wide, deep = 30 + n * 7 % 60, 20 + n * 11 % 40
        sizes.append(f"  width {n}: {wide}.{n % 10}3 mm\n  depth {n}: {deep}.{n % 7}1 mm\n")
        parts.append(
            f"  floor {n}: {{stock: board, wide: width {n} - 2 * thick, deep: depth {n}}}\n"
            f"  side {n}:\n    stock: board\n    deep: depth {n}\n    high: 12 mm\n"
            f"    pieces: [left {n}, right {n}]\n"
        )
        steps.append(
            f"  - step: Box {n}\n"
            + (f"    start: floor {n}\n    join:\n" if n == 0 else "    join:\n")
            + (
                f"      floor {n}: {{bottom: against left {n - 1}, left: flush with floor {n - 1},"
                f" front: flush with floor {n - 1}}}\n"
                if n
                else ""
            )
            + f"      left {n}: {{right: against floor {n}, bottom: flush with floor {n},"
            f" front: flush with floor {n}}}\n"
            f"      right {n}: {{left: against floor {n}, bottom: flush with floor {n},"
            f" front: flush with floor {n}}}\n"
        )
    text = (
        "design: Stack\nscale: 1:12\nsizes:\n  thick: thickness of board\n"
        + "".join(sizes)
        + "stock:\n  board: {sheet: 2 mm}\nparts:\n"
        + "".join(parts)
        + "materials:\n  glue: {kind: glue, handle: 30 min}\nsteps:\n"
        + "".join(steps)
    )
    return read_text(text, "stack.yaml", Path())


def closing(of: Reading) -> int:
    """Close an edition anew; how many figures it has."""
    of.kept.clear()
    return len(close(of, "inch").figures.after)


def rows() -> list[Row]:
    """Closing against a build, and how it grows."""
    small, large = stack(7), stack(125)

    def build() -> None:
        small.kept.clear()
        make_edition(small, "inch")

    few, many = closing(small), closing(large)
    time = best(
        {
            "few": lambda: closing(small),
            "build": build,
            "many": lambda: closing(large),
        },
        rounds=2,
    )
    return [
        Row(f"closing {few} figures, to a build", time["few"] / time["build"], goal=GOAL),
        Row(f"closing {few} figures", time["few"], "s"),
        Row(f"closing {many} figures", time["many"], "s"),
        Row(
            f"a figure of {many}, to one of {few}",
            (time["many"] / many) / (time["few"] / few),
            goal=GROWTH,
        ),
    ]


class Carcasses:
    """Thousands of carcasses, closed and judged in processes of their own.

    Nothing of it is timed, so it runs beside what is, on the other cores and with low priority.
    """

    def __init__(self, count: int) -> None:
        self.count = count
        others = max(1, (os.cpu_count() or 1) - 1)
        self._pool = ProcessPoolExecutor(others, get_context("spawn"), os.nice, (10,))
        self._found = self._pool.map(_judged, range(count), chunksize=50)

    def rows(self) -> list[Row]:
        """Wait for them: how many do not add up or lose a chain, and the farthest move."""
        with self._pool:
            missed, lost, moves = zip(*self._found, strict=True)
        return [
            Row(f"carcasses of {self.count} that do not add up", sum(missed), "", goal=0),
            Row(f"carcasses of {self.count} that lost a chain", sum(lost), "", goal=0),
            Row("the farthest move, in sixty-fourths", max(moves), "", goal=1.5),
        ]


def _judged(number: int) -> tuple[bool, bool, float]:
    """Whether a carcass does not add up, whether it lost a chain; its farthest move in steps."""
    closed = close(reading(number), "inch")
    told = facts_of(closed.model)
    found = chains(told)
    of = plan(number)
    figures = closed.figures
    moves = (abs(figures.after[key].mm - each.mm) for key, each in figures.before.items())
    lost = len(found) != 4 + 2 * of.shelves + 3 * of.drawer
    return bool(wrong(closed, found, told)), lost, float(Fraction(max(moves)) / STEP)


def main() -> None:
    """Print the rows; ends with 1 where a goal is missed."""
    found = rows() + (Carcasses(int(sys.argv[1])).rows() if len(sys.argv) > 1 else [])
    for row in found:
        show(row)
    raise SystemExit(not all(row.met for row in found))


if __name__ == "__main__":
    main()
