"""What a stock is also sold as: no equal, where it would not go in where the stock goes."""

from __future__ import annotations

import pytest

from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.shoptext import plain_words
from patternpress.booklet.stockwords import other_sold
from patternpress.booklet.wording import Wording
from patternpress.closing.close import close
from tests.whole.small import read

DESIGN = """\
design: Box
stock:
  board: {{{stock}}}
parts:
  floor: {{stock: board, {size}}}
  wall: {{stock: board, {size}}}
steps:
  - step: Join
    start: floor
    join: {{wall: {{bottom: against floor, left: flush with floor, front: flush with floor}}}}
editions:
  metric: {{units: mm, paper: A4}}
{more}"""
INCH = "  inch: {units: in, paper: Letter}\n"
SHEET, STRIP, ROD = "wide: 60 mm, deep: 40 mm", "wide: 60 mm, broad side: top", "wide: 60 mm"


def told(stock: str, size: str, more: str = INCH, edition: str = "metric") -> str:
    reading = read(DESIGN.format(stock=stock, size=size, more=more))
    wording = Wording(close(reading, edition).model, read_phrases("en"))
    return plain_words(other_sold(wording.model.worked.book.stock[0], wording))


@pytest.mark.parametrize(
    ("stock", "size", "words"),
    [
        (
            "sheet: 6 mm, nearest: 1/4 in",
            SHEET,
            "1/4 in, but 0.35 mm thicker (for the edition in inches)",
        ),
        (
            "sheet: 1 mm, nearest: 1/32 in",
            SHEET,
            "1/32 in, but 0.21 mm thinner (for the edition in inches)",
        ),
        ("sheet: 2 mm, nearest: 5/64 in", SHEET, "5/64 in"),
        ("sheet: 6 mm, really: 5.8 to 6.4 mm, nearest: 1/4 in", SHEET, "1/4 in"),
        (
            "sheet: 6 mm, nearest: {size: 1/4 in, note: plane it to 6 mm}",
            SHEET,
            "1/4 in, but 0.35 mm thicker (plane it to 6 mm)",
        ),
        (
            "sheet: 6 mm, nearest: {size: 1/8 in, layers: 2}",
            SHEET,
            "2 layers of 1/8 in, but 0.35 mm thicker (for the edition in inches)",
        ),
        (
            "strip: 8 x 15 mm, nearest: 5/16 x 5/8 in",
            STRIP,
            "5/16 × 5/8 in, but up to 0.88 mm off (for the edition in inches)",
        ),
        (
            "rod: 6 mm, nearest: 1/4 in",
            ROD,
            "1/4 in, but 0.35 mm thicker (for the edition in inches)",
        ),
    ],
)
def test_how_far_it_is_from_the_stock_is_told(stock: str, size: str, words: str) -> None:
    assert told(stock, size) == words


def test_without_an_edition_for_it_the_buyer_is_told_so() -> None:
    words = "1/4 in, but 0.35 mm thicker (the sizes here are not made for it)"
    assert told("sheet: 6 mm, nearest: 1/4 in", SHEET, more="") == words


def test_in_the_other_edition_it_is_told_the_other_way_round() -> None:
    words = "6 mm, but 0.014 in thinner (for the edition in millimetres)"
    assert told("sheet: 6 mm, nearest: 1/4 in", SHEET, edition="inch") == words
