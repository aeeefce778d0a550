"""Boards of the layouts are set sooner where they save a page, and stay in their order else."""

from __future__ import annotations

import datetime
import io
from pathlib import Path

import pdfplumber
import pytest

from patternpress.booklet.fetch import Fence
from patternpress.booklet.join import BookInfo
from patternpress.booklet.press import Section, lay_out_section
from patternpress.booklet.pressroom import press_book
from patternpress.booklet.sooner import moved

CSS = """@page { size: 100mm 100mm; margin: 0 } body, div, h2 { margin: 0; font-size: 10px }
.board { break-inside: avoid } h2 { height: 5mm; break-after: avoid }"""


def stock(number: int, *high: int) -> str:
    """A stock with boards of these heights, under a heading of 5 mm."""
    boards = "".join(f'<div class="board" style="height: {each}mm">x</div>' for each in high)
    start = f'<div class="stocked" id="laid-{number}" data-packs="layouts">'
    return f"{start}<h2>stock{number}</h2>{boards}</div><!--/laid-{number}-->"


def section_of(lead: int, *stocks: str, after: str = "") -> Section:
    words = f'<p style="height: {lead}mm; margin: 0">words</p>'
    body = f'<section id="layouts">{words}{"".join(stocks)}</section>{after}'
    html = f"<html lang='en'><body><h1>Layouts</h1>{body}</body></html>"
    return Section("layouts", "Layouts", html, (CSS,), Path.cwd())


def moves(section: Section) -> list[str]:
    return list(lay_out_section(section, Fence(())).pressed.stands)


def test_a_strip_that_would_stand_alone_fills_an_earlier_page() -> None:
    section = section_of(30, stock(1, 55), stock(2, 30), stock(3, 20))
    assert moves(section) == ["laid-2 before laid-1"]
    info = BookInfo("t", "t", "en", "a", datetime.date(2026, 1, 1), "s")
    booklet = press_book([section], info, Fence(()))
    assert not booklet.complaints and booklet.pages == 2
    with pdfplumber.open(io.BytesIO(booklet.pdf)) as pdf:
        pages = [page.extract_text() for page in pdf.pages]
    assert "stock2" in pages[0] and "stock1" not in pages[0]
    assert pages[1].index("stock1") < pages[1].index("stock3")


@pytest.mark.parametrize(
    "stocks",
    [
        (stock(1, 55), stock(2, 40), stock(3, 40)),  # no fewer pages in any order
        (stock(1, 20), stock(2, 15)),  # all on one page
        (stock(1, 80), stock(2, 80)),  # nothing fits
    ],
)
def test_the_order_stays_where_no_page_is_saved(stocks: tuple[str, ...]) -> None:
    assert moves(section_of(40, *stocks)) == []


def test_a_stock_of_several_boards_is_torn_only_in_its_place() -> None:
    """What is set sooner has room for all of its boards."""
    torn = stock(2, 20, 20)  # its first board would fit
    assert moves(section_of(42, stock(1, 45), torn, stock(3, 15))) == ["laid-3 before laid-1"]


def test_what_something_else_follows_stays() -> None:
    """Only the last pages of a run can be saved: what comes after has its own place."""
    after = '<div style="height: 90mm">more</div>'
    assert moves(section_of(30, stock(1, 55), stock(2, 30), stock(3, 20), after=after)) == []


def test_an_element_is_moved_with_all_that_is_in_it_and_but_once() -> None:
    html = f"<p>{stock(1, 5)}{stock(2, 6, 7)}</p>"
    told = moved(html, "laid-2", "laid-1")
    assert told.index("laid-2") < told.index("laid-1")
    assert len(told) == len(html.replace(' data-packs="layouts"', ""))
    assert moved(html, "laid-9", "laid-1") == html
