"""What goes wrong while measuring.

In: a code, facts, and (when known) a span of the text that was read.
Out: exceptions that carry facts only; the words for a maker are made elsewhere.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Self


class MeasureError(Exception):
    """A text or a sum that cannot be measured.

    `code` is a kebab-case word, `facts` what was found; `start` and `end` span the text.
    An error raised below the parser has no place yet: both are 0 until `at` gives one.
    """

    def __init__(
        self, code: str, facts: Mapping[str, str] | None = None, start: int = 0, end: int = 0
    ) -> None:
        """Keep the facts; `super` gets all of them so that the error can be pickled."""
        self.code = code
        self.facts: Mapping[str, str] = dict(facts or {})
        self.start = start
        self.end = end
        super().__init__(code, self.facts, start, end)

    def at(self, start: int, end: int) -> Self:
        """The same error with a place in the text, in characters from 0."""
        return type(self)(self.code, self.facts, start, end)

    def __str__(self) -> str:
        """A line for developers; makers never see it."""
        told = ", ".join(f"{name}={fact}" for name, fact in sorted(self.facts.items()))
        return f"{self.code} at {self.start}-{self.end} ({told})"


class MixedKinds(MeasureError):  # noqa: N818 - a maker's word, not a programmer's
    """Two kinds that do not go together, such as a length added to an angle."""
