"""A mate for tests that is no process."""

from __future__ import annotations

import pickle
from collections.abc import Callable
from typing import Any

from patternpress.desk.preview.mate import Mate


class Helper(Mate):
    """Does each job at once, or none where he is `idle`; keeps a list of them."""

    def __init__(self, *, idle: bool = False) -> None:
        super().__init__(1)
        self.idle, self.jobs, self._found = idle, list[str](), None

    def begin(self, work: Callable[..., Any], *given: Any) -> bool:
        self.jobs.append(work.__name__)
        work, given = pickle.loads(pickle.dumps((work, given)))  # as to another process
        found = None if self.idle else work(*given)
        self.busy, self._found = True, pickle.loads(pickle.dumps(found))
        return True

    def answer(self) -> Any:
        self.busy = False
        return self._found
