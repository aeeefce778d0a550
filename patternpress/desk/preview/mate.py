"""The mate: a second process that does a part of a round while the first does the rest.

In: jobs, each a function of a module and what it is given.  Out: what they return, in time.

A mate is quicker help than a thread, for the work is Python's own.  It holds one job at a time and
may vanish, or never come (one processor, no memory, a system that does not let processes begin
others): so whatever is asked of it, whoever asks must be ready to do by himself.
"""

from __future__ import annotations

import contextlib
import importlib
from collections.abc import Callable
from multiprocessing.process import BaseProcess
from typing import Any

from patternpress.desk.hands import Line, employed, on_its_own

LOADED = ("patternpress.desk.preview.aside", "patternpress.desk.preview.twohands")
PATIENCE = 3  # seconds that a mate has to finish its job when it is sent home


class Mate:
    """One helping process.  Not to be shared between threads.

    `processors`: how many there are; with one there is nothing to share, and no mate comes.
    """

    def __init__(self, processors: int) -> None:
        self.busy = False
        self._line: Line | None = None
        self._process: BaseProcess | None = None
        self._gone = processors < 2

    def begin(self, work: Callable[..., Any], *given: Any) -> bool:
        """Have a job begun; False where the mate has one already, or will do none.

        `work` is a function of a module, and what it is given and returns can be pickled.  The
        first job is refused too: it calls the mate, who has then seconds of loading before him.
        """
        if self.busy and self.ready:
            self.answer()  # of a job that nobody waits for any more
        if self.busy or self._gone:
            return False
        called = self._line is not None
        try:
            self._called().send((work, given) if called else (_load, ()))
        except Exception:  # gone, or nothing that can be sent: no loss, for he is not needed
            self.close()
            return False
        self.busy = True
        return called

    @property
    def ready(self) -> bool:
        """Whether `answer` has not to wait."""
        return self._line is None or not self.busy or self._line.poll()

    def answer(self) -> Any:
        """What came of the job that was begun, waited for; None where nothing came of it."""
        if not self.busy or self._line is None:
            return None
        self.busy = False
        try:
            return self._line.recv()
        except Exception:  # he is gone, or what he sent came only in part
            self.close()
            return None

    def close(self) -> None:
        """End the mate, whatever it is doing; it does not come back."""
        self._gone, self.busy = True, False
        if self._line is not None:
            self._line.close()
            self._line = None
        if self._process is not None:
            self._process.join(PATIENCE)  # nobody talks to it any more: it tidies up and ends
            self._process.terminate()
            self._process.join()
            self._process = None

    def _called(self) -> Line:
        """The line to the process, which is begun where it was not yet."""
        if self._line is None:
            self._line, self._process = employed(_help)
        return self._line


def _load() -> None:
    for room in LOADED:
        importlib.import_module(room)


def _help(line: Line) -> None:
    """What a mate does until nobody talks to it any more."""
    on_its_own()
    with contextlib.suppress(Exception):  # whoever asked sees that nothing comes
        while True:
            work, given = line.recv()
            try:
                line.send(work(*given))
            except Exception:  # then he does it himself, and tells what is wrong
                line.send(None)
