"""Problems, as a maker wants them.

In: the facts of something that is wrong, and where it stands.
Out: a `Problem` record.  The words are made late from the facts, so that every reader of
the record (terminal, JSON, page) shows the same ones.

A kind of problem is a class: its docstring is the page that ``patternpress explain CODE``
prints, with a paragraph *At the bench* (why it matters) and a paragraph *To mend*.
"""

from __future__ import annotations

import difflib
import inspect
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from enum import Enum
from itertools import takewhile
from typing import ClassVar

from patternpress.design.span import NOWHERE, Span

# Comparing names letter by letter is slow; a file of thousands must not take minutes.
MOST_NAMES = 1000
MOST_COMPARED = 40


class Level(Enum):
    """How bad it is: an error stops the booklet, a warning does not."""

    ERROR = "error"
    WARNING = "warning"


class Kind:
    """The parent of every kind of problem; `what` and `mend` are filled from the facts."""

    level: ClassVar[Level] = Level.ERROR
    what: ClassVar[str] = ""
    mend: ClassVar[str] = ""

    @classmethod
    def code(cls) -> str:
        """The name by which users know this kind: ``NotACount`` is ``not-a-count``."""
        return re.sub(r"(?<!^)(?=[A-Z])", "-", cls.__name__).lower()

    @classmethod
    def page(cls) -> str:
        """The explanation page: the class's own docstring."""
        return inspect.cleandoc(cls.__doc__ or "")

    @classmethod
    def paragraph(cls, opening: str) -> str:
        """The paragraph of the page that begins with `opening`, without it, on one line."""
        for block in cls.page().split("\n\n"):
            if block.startswith(opening):
                return " ".join(block[len(opening) :].split())
        return ""


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that is wrong: its kind, its place and the facts that the words need.

    `at`: where in the finished piece it is, mm, for a picture of it; in the part by itself where
    no piece is placed yet; None where it is not known.
    """

    kind: type[Kind]
    span: Span = NOWHERE
    facts: Mapping[str, str] = field(default_factory=dict)
    at: tuple[float, float, float] | None = None

    @property
    def code(self) -> str:
        """The kind's code, such as ``unknown-name``."""
        return self.kind.code()

    @property
    def is_error(self) -> bool:
        """True when the booklet must not be made."""
        return self.kind.level is Level.ERROR

    @property
    def what(self) -> str:
        """What is wrong, in one sentence."""
        return self.kind.what.format_map(_Facts(self.facts))

    @property
    def why(self) -> str:
        """Why it matters at the bench."""
        return self.kind.paragraph("At the bench:")

    @property
    def mend(self) -> str:
        """How to mend it, with the near name where there is one."""
        words = self.kind.mend or self.kind.paragraph("To mend:")
        words = words.format_map(_Facts(self.facts))
        near = [f"“{each}”" for each in self.facts.get("near", "").split(", ") if each]
        *others, last = near or [""]
        listed = f"{', '.join(others)} or {last}" if others else last
        return f"{words} Did you mean {listed}?".strip() if near else words


class _Facts(dict[str, str]):
    """Facts for a sentence; a missing one shows as a dash, never as a traceback."""

    def __missing__(self, key: str) -> str:
        return "–"


def near_name(name: str, names: Iterable[str]) -> str:
    """The known name that is nearest to a mistyped one, or an empty string.

    Among more than MOST_NAMES nothing is searched: no maker's design has so many.
    """
    known = {each.lower(): each for each in sorted(names, reverse=True)}
    if len(known) > MOST_NAMES:
        return ""
    wanted = name.lower()
    likely = sorted(sorted(known), key=lambda each: -_ends_shared(wanted, each))[:MOST_COMPARED]
    found = difflib.get_close_matches(wanted, sorted(likely), n=1, cutoff=0.6)
    return known[found[0]] if found else ""


def _ends_shared(one: str, other: str) -> int:
    """How many letters two names share at their beginnings and ends."""
    pairs = (zip(one, other, strict=False), zip(one[::-1], other[::-1], strict=False))
    return sum(1 for each in pairs for _ in takewhile(lambda pair: pair[0] == pair[1], each))


def in_order(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Problems sorted by place, without exact repeats."""
    seen: dict[tuple[object, ...], Problem] = {}
    for each in problems:
        seen.setdefault((each.span, each.code, each.what), each)
    return tuple(sorted(seen.values(), key=lambda p: (p.span, p.code, p.what)))
