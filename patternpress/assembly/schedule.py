"""Put the work of one maker in order of time.

In: `Task`s, each with what it needs, in the author's order.  Out: when each starts and ends, and
the sittings that it falls into.  One pair of hands; waits run beside each other.  All times are
exact minutes from the first touch.

List scheduling: whenever the hands are free, they take the first task in the author's order
whose needs are met.  So a later task is pulled forward only while earlier ones dry.  Two makers
are tried, one who always finds something to do and one who starts only what is done before the
glue is ready; the one who finishes first is kept, the second where both do.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

DAY = Fraction(24 * 60)
# A sitting may hold short waits, but it lasts no longer than this by the clock; so a wait of
# four hours always ends one.
LONGEST = Fraction(4 * 60)


@dataclass(frozen=True, slots=True)
class Task:
    """Work of `hands` minutes, then a wait.  `needs` are indices of tasks before it.

    Each need says whether the earlier task has to be dry as well.
    """

    hands: Fraction
    wait: Fraction
    needs: tuple[tuple[int, bool], ...] = ()


@dataclass(frozen=True, slots=True)
class Slot:
    """When a task starts, when the hands are done, when it is dry; in which sitting, from 1."""

    starts: Fraction
    ends: Fraction
    dry: Fraction
    sitting: int


def schedule(tasks: Sequence[Task], evening: Fraction | None) -> tuple[Slot, ...]:
    """A slot for each task; one sitting a day with at most `evening` minutes for the hands.

    Without an evening nothing but drying holds the maker up.  A task that is longer than an
    evening gets a sitting to itself.  Raises ValueError where a need does not come before.
    """
    for index, task in enumerate(tasks):
        if any(need >= index for need, _ in task.needs):
            raise ValueError(f"task {index} needs one that does not come before it")
    careful = _Bench(tasks, evening, careful=True).work()
    eager = _Bench(tasks, evening, careful=False).work()
    return min((careful, eager), key=_finish)


def _finish(slots: tuple[Slot, ...]) -> Fraction:
    return max((each.dry for each in slots), default=Fraction(0))


class _Bench:
    """One maker at work: the clock, and what is done so far."""

    def __init__(self, tasks: Sequence[Task], evening: Fraction | None, *, careful: bool) -> None:
        self.tasks, self.evening, self.careful = tasks, evening, careful
        self.done: dict[int, Slot] = {}
        self.clock = self.began = self.busy = Fraction(0)
        self.sitting = 1

    def work(self) -> tuple[Slot, ...]:
        while len(self.done) < len(self.tasks):
            index, start = self._next()
            if not self._fits(index, start):
                self._another_day()
                continue
            task = self.tasks[index]
            if not self.busy:
                self.began = start
            self.clock = start + task.hands
            self.busy += task.hands
            self.done[index] = Slot(start, self.clock, self.clock + task.wait, self.sitting)
        return tuple(self.done[index] for index in range(len(self.tasks)))

    def _next(self) -> tuple[int, Fraction]:
        """The task to take up now, and when; the earliest, and of those the author's first."""
        found = [(i, self._ready(i)) for i in range(len(self.tasks)) if self._open(i)]
        best: tuple[int, Fraction] | None = None
        for index, ready in found:
            start = max(ready, self.clock)
            if best is None or (start < best[1] and not self._holds_up(index, start, best[1])):
                best = (index, start)
        assert best is not None, "tasks need only earlier ones, so one is always open"
        return best

    def _holds_up(self, index: int, start: Fraction, earlier: Fraction) -> bool:
        return self.careful and start + self.tasks[index].hands > earlier

    def _open(self, index: int) -> bool:
        needs = self.tasks[index].needs
        return index not in self.done and all(need in self.done for need, _ in needs)

    def _ready(self, index: int) -> Fraction:
        needs = self.tasks[index].needs
        times = (self.done[n].dry if dry else self.done[n].ends for n, dry in needs)
        return max(times, default=Fraction(0))

    def _fits(self, index: int, start: Fraction) -> bool:
        if self.evening is None or not self.busy:
            return True
        hands = self.tasks[index].hands
        in_time = start + hands - self.began <= LONGEST
        return in_time and self.busy + hands <= self.evening

    def _another_day(self) -> None:
        self.sitting += 1
        self.clock = self.began = self.began + DAY
        self.busy = Fraction(0)
