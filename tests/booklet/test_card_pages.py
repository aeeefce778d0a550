"""Measure cards on the finished page: room to write, and every size of every fitted part.

The sizes are read from the facts, which the module that makes the cards never sees.
"""

from __future__ import annotations

import datetime
import io
import re
from dataclasses import replace
from functools import cache
from typing import Any

import pdfplumber
import pytest

from patternpress.assembly.facts import facts
from patternpress.booklet import content as c
from patternpress.booklet.compose import A4, compose
from patternpress.booklet.contentcards import MeasureCard
from patternpress.booklet.fetch import Fence
from patternpress.booklet.fillcards import cards
from patternpress.booklet.fonts import font_roots
from patternpress.booklet.join import BookInfo
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.pressroom import press_book
from patternpress.booklet.themes import load_theme
from patternpress.booklet.wording import Wording
from patternpress.closing.close import close
from patternpress.design.read import read_design
from tests.booklet.sample import sample
from tests.booklet.test_fitted_sizes import plain_words
from tests.whole.demos import DESIGNS

MM = 72 / 25.4
INFO = BookInfo("Card", "A maker", "en", "1", datetime.date(2025, 5, 3))
# Each demo that measures: the opening, the copies that have one each, what is measured of it.
FITTED = [
    ("keepers-desk", "drawer opening", ("left drawer", "right drawer"), 3),
    ("net-tote", "tray bed", (), 2),
    ("smaller/oil-cupboard", "doorway", (), 2),
]
AXES = {"Width": "wide", "Depth": "deep", "Height": "high"}
# mm to write a figure such as 38.5 by hand: common practice, no source.
ROOM, HIGH = 12.0, 3.0


@cache
def told(design: str) -> tuple[dict[str, Any], MeasureCard]:
    """The facts of a demo's metric edition, and its one card."""
    model = close(read_design(DESIGNS / f"{design}.yaml"), "metric").model
    wording = Wording(model, read_phrases("en"))
    (step,) = (each for each in model.worked.usage.steps if each.measure)
    (card,) = cards(step, wording)
    return facts(model), card


@pytest.mark.parametrize(("design", "opening", "columns", "measured"), FITTED)
def test_every_fitted_part_stands_on_its_card_with_every_size_that_follows(
    design: str, opening: str, columns: tuple[str, ...], measured: int
) -> None:
    known, card = told(design)
    cut = {each["letter"]: each for each in known["parts"] if each.get("measured_at") == opening}
    assert (card.heading, card.columns, len(card.rows)) == (opening, columns, measured)
    assert card.letters == ", ".join(sorted(cut))
    found = set()
    for each in (each for row in card.rows for each in row.results):
        ((word, letter),) = re.findall(r"^(\w+) .*\((\w)\)$", plain_words(each.name))
        axis, part = AXES[word], cut[letter]
        printed = [
            part[key][axis]["printed"] for key in ("smallest", "extents") if axis in part[key]
        ]
        ends = [each.removesuffix("\u00a0mm") for each in printed]
        assert plain_words(each.planned) == " to ".join(ends) + " mm"
        found.add((letter, axis))
    # Whatever is a range in the facts is worked out on the card.
    ranges = {(letter, axis) for letter, part in cut.items() for axis in part["smallest"]}
    assert ranges and ranges <= found
    assert {letter for letter, _ in found} == set(cut)


@pytest.mark.parametrize("theme", ["quay", "rod"])
@pytest.mark.parametrize("design", [each[0] for each in FITTED])
def test_the_page_has_room_to_write_each_figure_in_a_column_for_each_opening(
    design: str, theme: str
) -> None:
    _, card = told(design)
    columns = max(1, len(card.columns))
    written = sum(1 + len(row.results) for row in card.rows)
    page = pressed(card, theme)
    places = to_write_on(page)
    lefts = [round(left) for left, _, _, _ in places]
    assert len(set(lefts)) == columns
    assert [lefts.count(each) for each in set(lefts)] == [written] * columns
    assert all(each in page.extract_text() for each in card.columns)


@cache
def pressed(card: MeasureCard, theme: str) -> pdfplumber.page.Page:
    """The page of a booklet whose one step has the card, in a theme."""
    look, whole = load_theme(theme), sample()
    step = c.Step("1", "Measure", ("Measure it.",), measure=(card,))
    content = c.Content(whole.cover, imprint=whole.imprint, steps=(c.StepGroup("", (step,)),))
    fence = Fence((look.folder, *font_roots()))
    book = press_book(compose(content, look, replace(A4)), INFO, fence)
    assert book.complaints == ()
    pages = pdfplumber.open(io.BytesIO(book.pdf)).pages
    return pages[book.numbers["steps"] - 1]


def to_write_on(page: pdfplumber.page.Page) -> list[tuple[float, float, float, float]]:
    """The empty places over a rule, as high as a line of words: left, top, right, bottom, points.

    The engine draws the rule below one as two rectangles that share its top; any on which words
    stand is none.
    """
    boxes = {
        (round(m["x0"], 1), round(m["top"], 1)): (m["x0"], m["top"], m["x1"], m["bottom"])
        for m in page.rects
        if HIGH * MM <= m["height"] <= 2 * HIGH * MM and m["width"] >= ROOM * MM
    }
    return [box for box in boxes.values() if not page.crop(box).chars]
