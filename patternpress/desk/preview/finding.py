"""From a place on a page back to the lines of the design.

In: what stands under a point of a page, and the model.  Out: the figures it may come from and the
author's words it may be of, the likeliest first.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from patternpress.assembly.model import Model
from patternpress.booklet.shoptext import plain_words
from patternpress.booklet.wording import wording_of
from patternpress.design.reads import Prose
from patternpress.design.span import Span
from patternpress.desk.preview.figures import FigureRow, figure_record, figure_rows, place_of
from patternpress.desk.preview.labels import labelled
from patternpress.desk.preview.pagepictures import Pointed

MOST = 8
_WORD = re.compile(r"[^\W\d_]{2,}")


def found_at(pointed: Pointed, model: Model, file: str) -> dict[str, Any]:
    """Return figures and words that a point may be about, ready for JSON."""
    rows = list(_figures(pointed, figure_rows(model, file))) if pointed.figure else []
    words = list(_words(pointed.line, model, file))
    return {
        "line": pointed.line,
        "figure": pointed.figure,
        "figures": [figure_record(each) for each in rows[:MOST]],
        "words": words[:2],
    }


def _figures(pointed: Pointed, rows: tuple[FigureRow, ...]) -> Iterator[FigureRow]:
    """Rows that print the figure, those whose names stand in the same line first; given before
    worked out.
    """
    token = re.escape(plain_words(pointed.figure))
    alone = re.compile(rf"(?<![\d.,/⁄]){token}(?![\d.,/⁄]|\s\d+[/⁄])")
    near = set(_WORD.findall(pointed.line.lower()))
    hits = [row for row in rows if alone.search(plain_words(row.printed))]

    def liking(row: FigureRow) -> tuple[int, bool, Span]:
        return (-len(near & set(_WORD.findall(row.label.lower()))), not row.given, row.span)

    yield from sorted(hits, key=liking)


def _words(line: str, model: Model, file: str) -> Iterator[dict[str, Any]]:
    """The author's sentences that share most of their words with a line of the page."""
    wanted = set(_WORD.findall(line.lower()))
    if len(wanted) < 2:
        return
    wording = wording_of(model)
    found = []
    for prose, label in labelled(model.worked.book):
        if not isinstance(prose, Prose):
            continue
        said = prose.within(model.edition.language) or prose.main
        if said.span.file != file or not said.span.line:
            continue
        shown = plain_words(wording.prose(prose))
        share = len(wanted & set(_WORD.findall(shown.lower()))) / len(wanted)
        if share >= 0.6:
            found.append((-share, said.span, label, said.value))
    for _, span, label, value in sorted(found):
        yield {
            "place": place_of(span),
            "line": span.line,
            "label": ", ".join(label),
            "text": value.strip(),
        }
