"""What a benchmark is made of: rows with goals, and how times are taken."""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping
from dataclasses import dataclass

ROUNDS = 3


@dataclass(frozen=True)
class Row:
    """One figure; `goal` is the most it should be, or nothing where it is only told."""

    name: str
    value: float
    unit: str = "ratio"
    goal: float | None = None

    @property
    def met(self) -> bool:
        """Whether the goal is kept; a row without one always is."""
        return self.goal is None or self.value <= self.goal


def seconds(work: Callable[[], object], clock: Callable[[], float]) -> float:
    """How long something takes, once."""
    start = clock()
    work()
    return clock() - start


def best(
    works: Mapping[str, Callable[[], object]],
    clock: Callable[[], float] = time.process_time,
    rounds: int = ROUNDS,
) -> dict[str, float]:
    """The best time of each, taken in turn; a round to warm up is not counted.

    The clock is that of this process alone, so that other programs matter less.
    """
    for work in works.values():
        work()
    timed = [{name: seconds(work, clock) for name, work in works.items()} for _ in range(rounds)]
    return {name: min(each[name] for each in timed) for name in works}


def clocked(work: Callable[[], object]) -> float:
    """How long something takes this process, once: for what is long enough to be told by that."""
    return seconds(work, time.process_time)


def show(row: Row) -> None:
    """Print a row at once, with its goal and whether it is missed."""
    goal = f"at most {row.goal:g}" if row.goal is not None else ""
    note = "" if row.met else "NOT MET"
    print(f"{row.name:<60} {row.value:8.3f} {row.unit:<6} {goal:<13} {note}".rstrip(), flush=True)
