"""Editions made by several hands at a time, each hand a process of its own.

In: an order, and the names of editions.  Out: an outcome for each, in the order of the names.

A hand keeps what the editions have in common, so neighbours in the list go to one hand: the list
is divided into as many runs as there are hands, and a hand that has done its run takes the last
of the longest that is left.  What is made does not depend on who made it.
"""

from __future__ import annotations

import contextlib
import itertools
import multiprocessing
import os
import signal
import sys
from collections import deque
from collections.abc import Callable, Iterator, Sequence
from multiprocessing.connection import Connection, wait
from multiprocessing.process import BaseProcess
from typing import Any, TypeAlias

from patternpress.desk.making import Order, Outcome, make

MOST = 4  # each holds some 300 MB while it makes a large booklet (measured)
Started = Callable[[str], None]
Line: TypeAlias = "Connection[Any, Any]"


def hands_for(editions: int, wished: int | None) -> int:
    """How many hands to employ: as many as wished, or as there are processors that we may use.

    Each begins by loading the PDF engine; only two editions or more are worth that.
    """
    if wished is not None:
        return min(editions, wished)
    return max(1, min(processors(), MOST, editions // 2))


def processors() -> int:
    """How many processors this program may use."""
    found = len(os.sched_getaffinity(0)) if sys.platform == "linux" else os.cpu_count()
    return found or 1


def make_all(
    order: Order, editions: Sequence[str], hands: int, started: Started
) -> Iterator[Outcome]:
    """Make the editions; `started` is told each of them as it is begun."""
    if hands == 1:
        return _alone(order, editions, started)
    return _shared(order, editions, hands, started)


def _alone(order: Order, editions: Sequence[str], started: Started) -> Iterator[Outcome]:
    cache: dict[str, Any] = {}
    for edition in editions:
        started(edition)
        yield make(order, edition, cache)


def _shared(
    order: Order, editions: Sequence[str], hands: int, started: Started
) -> Iterator[Outcome]:
    runs = divided(editions, hands)
    done: dict[str, Outcome] = {}
    left = deque(editions)
    with contextlib.ExitStack() as team:
        at_work = [team.enter_context(Hand(order, run)) for run in runs]
        for hand in at_work:
            hand.begin(runs, started)
        while left:
            busy = {hand.line: hand for hand in at_work if hand.edition}
            for line in wait(list(busy)):
                hand = busy[line]  # type: ignore[index]
                outcome = hand.outcome()
                done[outcome.edition] = outcome
                hand.begin(runs, started)
            while left and left[0] in done:
                yield done[left.popleft()]


def divided(editions: Sequence[str], hands: int) -> list[deque[str]]:
    """The list in as many runs of neighbours as there are hands, as equal as can be."""
    ends = [len(editions) * each // hands for each in range(hands + 1)]
    return [deque(editions[a:b]) for a, b in itertools.pairwise(ends)]


def taken(own: deque[str], runs: Sequence[deque[str]]) -> str:
    """What a hand makes next: the first of its own run, else the last of the longest; or ""."""
    if own:
        return own.popleft()
    longest = max(runs, key=len)
    return longest.pop() if longest else ""


def employed(work: Callable[[Line], None]) -> tuple[Line, BaseProcess]:
    """Begin a process that does `work` with its end of a line; returns our end, and the process.

    `work` is a function of a module; it calls `on_its_own` before all else.
    """
    # Begun afresh rather than forked: libraries of the system do not all survive a fork.
    context = multiprocessing.get_context("spawn")
    line, far = context.Pipe()
    process = context.Process(target=work, args=(far,), daemon=True)
    process.start()
    far.close()
    return line, process


def on_its_own() -> None:
    """What a process that was employed heeds: who types Ctrl-C stops the program, and that stops
    those it employs; each tidies up as it ends.
    """
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(1))


class Hand:
    """A process that makes one edition after the other."""

    edition: str  # what it is making, or ""

    def __init__(self, order: Order, run: deque[str]) -> None:
        self.order, self.run, self.edition = order, run, ""
        self.line, self.process = employed(_work)
        self._tell(order)

    def __enter__(self) -> Hand:
        return self

    def __exit__(self, *_: object) -> None:
        self.line.close()
        if self.edition:
            self.process.terminate()
        self.process.join()

    def begin(self, runs: Sequence[deque[str]], started: Started) -> None:
        """Hand out the next edition, where there is one."""
        self.edition = taken(self.run, runs)
        if self.edition:
            started(self.edition)
            self._tell(self.edition)

    def outcome(self) -> Outcome:
        """What came of the edition.

        A hand that is gone leaves none: the system stopped it (it does when memory runs out), or
        something went wrong.  Then the edition is made here, where there is room for one and
        whatever is wrong is told as all else is.
        """
        try:
            found: Outcome = self.line.recv()
        except (EOFError, OSError):
            found = make(self.order, self.edition, {})
        return found

    def _tell(self, what: object) -> None:
        with contextlib.suppress(OSError):  # the process is gone: `outcome` sees to that
            self.line.send(what)


def _work(line: Line) -> None:
    """What a hand does until nobody talks to it any more."""
    on_its_own()
    cache: dict[str, Any] = {}
    with contextlib.suppress(Exception):  # `outcome` sees to it that nothing is lost
        order = line.recv()
        while True:
            line.send(make(order, line.recv(), cache))
