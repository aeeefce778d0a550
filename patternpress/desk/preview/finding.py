"""From what stands on a page back to the lines of the design.

In: the lines of a page, and the model.  Out: for each figure and for the author's words a spot of
the page, with the places in the design that it may come from, the likeliest first.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any

from patternpress.assembly.model import Model
from patternpress.booklet.shoptext import plain_words
from patternpress.booklet.wording import wording_of
from patternpress.design.reads import Prose
from patternpress.design.span import Span
from patternpress.desk.preview.figures import FigureRow, figure_record, figure_rows, place_of
from patternpress.desk.preview.labels import labelled
from patternpress.desk.preview.pagepictures import Box, Figured, Line
from patternpress.measure.unitwords import unit_word

MOST = 8
ENOUGH = 0.6  # of the words of a line, for it to be of a sentence
_WORD = re.compile(r"[^\W\d_]{2,}")
_FIGURE = r"[-−]?\d[\d.,/⁄½¼¾⅛⅜⅝⅞\s]*"
# What may stand behind a figure for it to be one of the design, and not the number of a page.
_UNITS = {
    "metric": r"mm|cm|m$",
    "inch": r"in\b|ft\b|″|′|\"",
    "angle": r"°|deg",
    "time": r"min|h\b|hours?|days?|Stunden?|Tage?|heures?|jours?",
    "share": r"%",
}


@cache
def _units(locale: str) -> dict[str, str]:
    """Patterns of the units by what they measure, lengths also as the language calls them."""
    return _UNITS | {
        "metric": rf"{re.escape(unit_word('mm', locale))}|{_UNITS['metric']}",
        "inch": rf"{re.escape(unit_word('in', locale))}(?!\w)|{_UNITS['inch']}",
    }


@cache
def _behind(locale: str) -> dict[str, re.Pattern[str]]:
    """What stands behind a figure, by what it measures."""
    more = rf"(?:\s*[×x]\s*{_FIGURE}|\s*(?:to|bis|à|–)\s*{_FIGURE})*"
    return {kind: re.compile(rf"{more}\s*(?:{unit})") for kind, unit in _units(locale).items()}


@dataclass(frozen=True)
class Printed:
    """A figure of the design as pages print it: its words, the kinds of its units, its names."""

    words: str
    kinds: frozenset[str]
    names: frozenset[str]
    row: FigureRow


@dataclass(frozen=True)
class Worded:
    """A text of the author: its words, and where it stands in the file."""

    words: frozenset[str]
    span: Span
    label: str
    text: str


@dataclass(frozen=True)
class Sources:
    """All that a page of one edition may have come from; `sizes` are the rows of named sizes.

    `locale` tells what the edition calls its units.
    """

    figures: tuple[Printed, ...]
    words: tuple[Worded, ...]
    sizes: dict[str, FigureRow]
    locale: str


def sources_of(model: Model, file: str) -> Sources:
    """Collect the figures and words that the file called `file` gives."""
    rows = figure_rows(model, file)
    printed = [(plain_words(row.printed), row) for row in rows]
    locale = model.edition.display.locale
    return Sources(
        tuple(
            Printed(words, _kinds(words, locale), _words(row.label), row) for words, row in printed
        ),
        tuple(_texts(model, file)),
        {row.name: row for row in rows if row.name},
        locale,
    )


def _texts(model: Model, file: str) -> Iterator[Worded]:
    wording = wording_of(model)
    for prose, label in labelled(model.worked.book):
        if isinstance(prose, Prose):
            said = prose.within(model.edition.language) or prose.main
            if said.span.file == file and said.span.line:
                shown = _words(plain_words(wording.prose(prose)))
                yield Worded(shown, said.span, ", ".join(label), said.value.strip())


def _words(text: str) -> frozenset[str]:
    return frozenset(_WORD.findall(text.lower()))


def _kinds(words: str, locale: str) -> frozenset[str]:
    """What a figure with its units measures; nothing for a bare number."""
    return frozenset(
        kind
        for kind, unit in _units(locale).items()
        if re.search(rf"(?<![^\W\d_])(?:{unit})", words)
    )


def spots_on(lines: Sequence[Line], sources: Sources) -> list[dict[str, Any]]:
    """Return the spots of a page that come from the design, ready for JSON: words, then figures.

    Lines of one text make one spot.
    """
    texts: list[tuple[Worded, Box]] = []
    figures: list[dict[str, Any]] = []
    for line in lines:
        about = _about(line, sources)
        if about is not None:
            if texts and texts[-1][0] == about and _under(texts[-1][1], line.box):
                texts[-1] = (about, _both(texts[-1][1], line.box))
            else:
                texts.append((about, line.box))
        for figure in line.figures:
            rows = list(_rows(figure, line, sources))[:MOST]
            choices = [{**figure_record(row), "kind": "figure"} for row in rows]
            if choices:
                choices += [_choice(about)] if about is not None else []
                figures.append(_spot("figure", figure.text, figure.box, choices))
    words = [_spot("words", each.text, box, [_choice(each)]) for each, box in texts]
    return [*words, *figures]


def _spot(kind: str, text: str, box: Box, choices: list[dict[str, Any]]) -> dict[str, Any]:
    place = {name: round(getattr(box, name), 5) for name in ("x", "y", "wide", "high")}
    return {"kind": kind, "text": text, **place, "choices": choices}


def _choice(text: Worded) -> dict[str, Any]:
    return {
        "place": place_of(text.span),
        "line": text.span.line,
        "label": text.label,
        "text": text.text,
        "kind": "words",
    }


def _rows(figure: Figured, line: Line, sources: Sources) -> Iterator[FigureRow]:
    """Rows that print the figure, those whose names stand in the same line first, given before
    worked out; then the sizes that the worked out ones are made of.
    """
    kind = next(
        (k for k, behind in _behind(sources.locale).items() if behind.match(figure.behind)), ""
    )
    token = re.escape(plain_words(figure.text))
    alone = re.compile(rf"(?<![\d.,/⁄]){token}(?![\d.,/⁄]|\s\d+[/⁄])")
    near = _words(line.text)
    hits = [each for each in sources.figures if kind in each.kinds and alone.search(each.words)]

    def liking(each: Printed) -> tuple[int, bool, Span]:
        return (-len(near & each.names), not each.row.given, each.row.span)

    found = [each.row for each in sorted(hits, key=liking)]
    yield from found
    yield from [row for row in _made_of(found, sources) if row not in found]


def _made_of(rows: Sequence[FigureRow], sources: Sources) -> Iterator[FigureRow]:
    """The sizes given in the file that others are worked out from, each once."""
    waiting, seen = [name for row in rows for name in row.of], set[str]()
    while waiting:
        name = waiting.pop(0)
        row = sources.sizes.get(name)
        if row is None or name in seen:
            continue
        seen.add(name)
        if row.given:
            yield row
        waiting += row.of


def _about(line: Line, sources: Sources) -> Worded | None:
    """The author's text that shares most of the words of a line; nothing for few words."""
    wanted = _words(line.text)
    if len(wanted) < 2:
        return None
    shares = [(len(wanted & each.words) / len(wanted), each) for each in sources.words]
    best = max(shares, key=lambda pair: (pair[0], -pair[1].span.line), default=None)
    return best[1] if best is not None and best[0] >= ENOUGH else None


def _under(above: Box, below: Box) -> bool:
    """Whether a line follows right under another, or stands beside it."""
    gap = below.y - (above.y + above.high)
    return -above.high <= gap <= below.high


def _both(one: Box, two: Box) -> Box:
    x, y = min(one.x, two.x), min(one.y, two.y)
    right = max(one.x + one.wide, two.x + two.wide)
    low = max(one.y + one.high, two.y + two.high)
    return Box(x, y, right - x, low - y)
