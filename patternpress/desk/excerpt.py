"""A line of a source file with carets under a stretch of it.

In: the text of a file and a span in it.  Out: two printable lines, as wide as a terminal at
most.  Tabs are opened up, wide characters take two columns, and signs that a terminal would
obey (escape, bell, right-to-left marks) are shown instead of sent.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from itertools import accumulate

from patternpress.design.span import Span

TAB = "    "
MORE = "…"
# The breaks that YAML counts as ends of lines; Python's splitlines knows further ones.
_BREAK = re.compile("\r\n|[\n\r\x85\u2028\u2029]")
# Signs without ink of their own: controls, formatting and direction marks, unassigned ones.
_UNSEEN = frozenset({"Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp"})


def lines_of(text: str) -> list[str]:
    """The lines of a text, divided as YAML counts them."""
    return _BREAK.split(text)


def shown(character: str) -> str:
    """One character as it may be sent to a terminal: ESC becomes ``␛``, a tab four spaces."""
    if character == "\t":
        return TAB
    if character < " ":
        return chr(0x2400 + ord(character))
    if unicodedata.category(character) in _UNSEEN:
        return f"<U+{ord(character):04X}>"
    return character


def visible(text: str) -> str:
    """A text on one line, with every sign that a terminal would obey made visible."""
    tidy = " ".join(text.split(" "))
    return "".join(" " if each in "\t\n\r" else shown(each) for each in tidy)


def columns(text: str) -> int:
    """How many columns of a terminal a printable text takes.

    Source: Unicode Standard Annex 11 (wide and fullwidth take two), combining marks none.
    """
    return sum(_columns(each) for each in text)


def _columns(character: str) -> int:
    if unicodedata.category(character) in ("Mn", "Me"):
        return 0
    return 2 if unicodedata.east_asian_width(character) in "WF" else 1


def excerpt(lines: Sequence[str], span: Span, room: int) -> tuple[str, str] | None:
    """The span's first line and its carets, each at most `room` columns; None if there is none.

    A longer line is cut on both sides of the span; `…` stands where something was left out.
    """
    if not 1 <= span.line <= len(lines):
        return None
    line = lines[span.line - 1]
    start = min(max(span.column - 1, 0), len(line))
    end = min(span.end_column - 1, len(line)) if span.end_line == span.line else len(line)
    end = max(end, start + 1)
    first, last = _window(line, start, end, room)
    before = MORE if first > 0 else ""
    after = MORE if last < len(line) else ""
    text = before + "".join(shown(each) for each in line[first:last]) + after
    indent = columns(before) + _wide(line[first:start])
    marked = max(_wide(line[start : min(end, last)]), 1)
    return text.rstrip(), " " * indent + "^" * marked


def _wide(text: str) -> int:
    return sum(columns(shown(each)) for each in text)


def _window(line: str, start: int, end: int, room: int) -> tuple[int, int]:
    """The stretch of the line that is shown: all of it, or what fits around the span."""
    room -= end > len(line)  # a caret just behind the line needs its own column
    at = [0, *accumulate(columns(shown(each)) for each in line[: end + 2 * room])]
    whole = len(at) > len(line) and at[-1] <= room
    if whole:
        return 0, len(line)
    room -= 2 * columns(MORE)
    first = start
    while first > 0 and at[start] - at[first - 1] <= room // 3:
        first -= 1
    last = start
    while last < len(line) and last + 1 < len(at) and at[last + 1] - at[first] <= room:
        last += 1
    # At the end of a long line the room that is left over goes to what stands before.
    while first > 0 and at[last] - at[first - 1] <= room:
        first -= 1
    return first, last
