"""Problem records, in words for a terminal or as JSON for a program.

In: problems, and the texts of the files they stand in.  Out: one string.  Both forms show the
same records; nothing is decided here but how they look.
"""

from __future__ import annotations

import json
import textwrap
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace
from pathlib import PurePath
from types import MappingProxyType
from typing import Any

from patternpress.design.problem import Problem
from patternpress.desk.excerpt import excerpt, lines_of, visible

FORMAT = 1
"""Raised when a field of the JSON changes its meaning or goes away."""

WIDE = 100
MOST = 200
"""So many problems are shown in words; JSON holds all of them."""
MOST_DRAWN = 20
"""So many problems get a picture: who has more mends those first."""
Sources = Sequence[tuple[str, str]]
Draw = Callable[[Problem], str | None]
"""What makes the picture of a problem as SVG, or None where there is nothing to show."""

_STYLES = {"error": "1;31", "warning": "1;33", "place": "1", "gutter": "34"}
# Facts that quote the author may be as long as the file; others are our own short words.
_QUOTED = frozenset({"text", "name", "words", "found", "file"})
_LONGEST_QUOTE = 100
_LONGEST_FACT = 800


def _nothing(_: Problem) -> None:
    return None


def as_text(problems: Iterable[Problem], sources: Sources, colour: bool, folder: str = "") -> str:
    """Every problem with its line, carets and words, then a count; nothing for no problems.

    `folder` goes before file names, as the user typed it, so that places can be clicked.
    """
    every = tuple(problems)
    texts = {file: lines_of(text) for file, text in sources}
    blocks = ["\n".join(_block(each, texts, colour, folder)) for each in every[:MOST]]
    more = f" (the first {MOST} are shown)" if len(every) > MOST else ""
    return "\n\n".join([*blocks, f"{count(every)}{more}\n"]) if every else ""


def as_json(
    problems: Iterable[Problem],
    folder: str = "",
    draw: Draw = _nothing,
    besides: Mapping[str, Any] = MappingProxyType({}),
) -> str:
    """The problems as versioned JSON, in plain ASCII so that no terminal can be misled.

    `besides`: what else is told of the design, under names of its own.
    """
    told = {"format": FORMAT, "problems": records(problems, folder, draw), **besides}
    return json.dumps(told, indent=2) + "\n"


def records(
    problems: Iterable[Problem], folder: str = "", draw: Draw = _nothing
) -> list[dict[str, Any]]:
    """One JSON-ready record for each problem; `draw` gives the first of them their pictures."""
    every = tuple(problems)
    pictures = [draw(each) if number < MOST_DRAWN else None for number, each in enumerate(every)]
    return [
        {**_record(each, folder), "picture": picture or ""}
        for each, picture in zip(every, pictures, strict=True)
    ]


def count(problems: Sequence[Problem]) -> str:
    """``2 errors and 1 warning``; what there is none of is left out."""
    errors = sum(each.is_error for each in problems)
    numbers = ((errors, "error"), (len(problems) - errors, "warning"))
    said = [f"{number} {word}{'s' * (number != 1)}" for number, word in numbers if number]
    return " and ".join(said) or "no problems"


def place(problem: Problem, folder: str = "") -> str:
    """``designs/box.yaml:12:9``, the form that editors and terminals can follow."""
    span = problem.span
    return f"{_path(span.file, folder)}:{span.line}:{span.column}"


def _path(file: str, folder: str) -> str:
    return PurePath(folder, file).as_posix() if folder and file else file


def _block(
    problem: Problem, texts: Mapping[str, list[str]], colour: bool, folder: str
) -> list[str]:
    level = problem.kind.level.value
    where = _paint(visible(place(problem, folder)) + ":", "place", colour)
    what = _paint(f"{level}[{problem.code}]", level, colour)
    gutter = len(str(problem.span.line))
    lines = [f"{where} {what}", *_source(problem, texts, gutter, colour)]
    clipped = replace(problem, facts=_clipped(problem.facts))
    words = [clipped.what, _led("At the bench: ", clipped.why), _led("To mend: ", clipped.mend)]
    indent = " " * (gutter + 3)
    for each in filter(None, words):
        lines += _wrapped(visible(each), indent)
    return lines


def _source(
    problem: Problem, texts: Mapping[str, list[str]], gutter: int, colour: bool
) -> list[str]:
    cut = excerpt(texts.get(problem.span.file, []), problem.span, WIDE - gutter - 3)
    if cut is None or not cut[0].strip():
        return []
    numbered = _paint(f"{problem.span.line} |", "gutter", colour)
    empty = _paint(" " * gutter + " |", "gutter", colour)
    carets = cut[1].lstrip(" ")
    indent = " " * (len(cut[1]) - len(carets))
    painted = _paint(carets, problem.kind.level.value, colour)
    return [f"{numbered} {cut[0]}", f"{empty} {indent}{painted}"]


def _led(opening: str, words: str) -> str:
    """The words after their opening, which they continue in small letters."""
    return f"{opening}{words[0].lower()}{words[1:]}" if words else ""


def _wrapped(words: str, indent: str) -> list[str]:
    return textwrap.wrap(
        words,
        WIDE,
        initial_indent=indent,
        subsequent_indent=indent,
        break_long_words=False,
        break_on_hyphens=False,
    )


def _clipped(facts: Mapping[str, str]) -> dict[str, str]:
    clipped = {}
    for name, fact in facts.items():
        most = _LONGEST_QUOTE if name in _QUOTED else _LONGEST_FACT
        clipped[name] = fact if len(fact) <= most else fact[: most - 1] + "…"
    return clipped


def _paint(text: str, style: str, colour: bool) -> str:
    return f"\x1b[{_STYLES[style]}m{text}\x1b[0m" if colour else text


def _record(problem: Problem, folder: str) -> dict[str, Any]:
    clipped = replace(problem, facts=_clipped(problem.facts))
    return {
        "code": problem.code,
        "level": problem.kind.level.value,
        "file": _path(problem.span.file, folder),
        "line": problem.span.line,
        "column": problem.span.column,
        "end_line": problem.span.end_line,
        "end_column": problem.span.end_column,
        "what": clipped.what,
        "why": problem.why,
        "mend": clipped.mend,
        "near": problem.facts.get("near", ""),
        "facts": dict(problem.facts),
    }
