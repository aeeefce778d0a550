"""Small designs, each with something wrong, and what a maker is told about it.

In: YAML files where comments say, above the line in question, what is found there::

    # error 14-19 unknown-name: no part is called “cleet”
    # mend: correct the spelling, or describe it in its own section. Did you mean “cleat”?

Out: what the comments say and what is really found, in the same form, so that a test can
compare them.  Columns count from 1, the second is the first one behind the stretch; `+2:9` ends
two lines further down.  ``python -m tests.design.faulty FILES`` writes the comments anew.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterable
from pathlib import Path

from patternpress.assembly.model import check
from patternpress.booklet.ready import check_ready
from patternpress.design.problem import Problem, in_order
from patternpress.design.read import read_text
from patternpress.desk import rooms

SAID = re.compile(r"\s*# (error|warning|mend)\b.*")


def found(text: str, path: Path) -> tuple[Problem, ...]:
    """Every problem of a design's text; the words and themes that editions ask for as well."""
    reading = read_text(text, path.name, path.parent)
    problems = check(reading)
    if reading.book is None or not reading.book.editions:
        return problems
    problems = in_order([*problems, *check_ready(reading)])
    if any(each.is_error for each in problems):
        return problems
    return rooms.check(reading)


def told(problem: Problem) -> tuple[str, str]:
    """What a maker is told, as two comments."""
    span, level = problem.span, problem.kind.level.value
    lower = span.end_line - span.line
    end = f"+{lower}:{span.end_column}" if lower else str(span.end_column)
    place = f"{span.column}-{end}"
    return f"# {level} {place} {problem.code}: {problem.what}", f"# mend: {problem.mend}"


def expected(text: str) -> list[tuple[int, str]]:
    """What the comments of a file say: the line that each is about, and its words."""
    lines = text.splitlines()
    waiting: list[str] = []
    said = []
    for number, line in enumerate(lines, 1):
        if SAID.fullmatch(line):
            waiting.append(line.strip())
        else:
            said += [(number, words) for words in waiting]
            waiting = []
    assert not waiting, "comments at the end are about no line"
    return said


def really(problems: Iterable[Problem]) -> list[tuple[int, str]]:
    """What is found, in the form of `expected`."""
    return [(each.span.line, words) for each in problems for words in told(each)]


def annotated(text: str, path: Path) -> str:
    """The text with comments that say what is found in it."""
    plain = [line for line in text.splitlines() if not SAID.fullmatch(line)]
    whole = plain
    for _ in range(2):  # what is said may hold numbers of lines, which the comments move
        problems = found("\n".join(whole) + "\n", path)
        kept = [n for n, line in enumerate(whole, 1) if not SAID.fullmatch(line)]
        comments: dict[int, list[str]] = {}
        for each in problems:
            comments.setdefault(kept.index(each.span.line), []).extend(told(each))
        whole = []
        for number, line in enumerate(plain):
            indent = line[: len(line) - len(line.lstrip(" "))]
            whole += [f"{indent}{words}" for words in comments.get(number, ())]
            whole.append(line)
    return "\n".join(whole) + "\n"


if __name__ == "__main__":
    for _name in sys.argv[1:]:
        _path = Path(_name)
        _path.write_text(annotated(_path.read_text("utf-8"), _path), encoding="utf-8")
