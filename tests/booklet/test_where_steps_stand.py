"""Steps are told where they came to stand: alone on a page with room to grow, or after a heading
that nothing else would follow."""

from __future__ import annotations

import datetime
import io
from pathlib import Path

import pdfplumber

from patternpress.booklet.fetch import Fence
from patternpress.booklet.join import BookInfo
from patternpress.booklet.press import Section, lay_out_section
from patternpress.booklet.pressroom import numbered, press_book
from patternpress.booklet.standing import ROOMY, told

CSS = """@page { size: 100mm 100mm; margin: 0 } body, div, header { margin: 0 }
.step { break-inside: avoid } .head { height: 10mm; break-after: avoid }
.roomy .grows { height: 30mm } .torn { break-inside: auto }"""


def step(name: str, high: int, marks: str = "roomy", more: str = "") -> str:
    words = f'<div style="height: {high}mm">words</div>'
    return f'<article class="step" id="{name}" data-stands="{marks}">{more}{words}</article>'


def page_of(*blocks: str) -> str:
    return f"<html lang='en'><body>{''.join(blocks)}</body></html>"


def section_of(*blocks: str) -> Section:
    return Section("steps", "Steps", page_of(*blocks), (CSS,), Path.cwd())


def told_of(*blocks: str) -> list[str]:
    return list(lay_out_section(section_of(*blocks), Fence(())).pressed.stands)


def test_a_step_with_a_page_to_itself_and_room_on_it_may_grow() -> None:
    low, high = round(100 * ROOMY) - 2, round(100 * ROOMY) + 2
    assert told_of(step("a", low), step("b", 60), step("c", high)) == ["a roomy", "b roomy"]


def test_steps_that_share_a_page_stay_as_they_are() -> None:
    assert told_of(step("a", 30), step("b", 30)) == []
    assert told_of(step("a", 30), step("b", 30, marks="")) == []


def test_a_step_that_goes_on_over_the_page_stays_as_it_is() -> None:
    rows = "".join('<div style="height: 10mm">row</div>' for _ in range(14))
    assert told_of(step("a", 10, more=rows)) == []


def test_a_theme_that_has_no_such_class_is_told_nothing() -> None:
    assert told_of(step("a", 30, marks="")) == []
    assert told_of("<article class='step' id='a'>words</article>") == []


def test_a_step_follows_a_heading_that_would_be_alone_on_its_page() -> None:
    head = '<header class="head">Steps</header>'
    filler = '<div style="height: 95mm">plan</div>'
    assert told_of(filler, head, step("a", 95, marks="torn")) == ["a torn"]
    assert told_of(head, step("a", 80, marks="torn")) == []


def test_a_class_is_added_to_the_step_that_is_named_alone() -> None:
    html = page_of(step("a.b", 10), step("axb", 10))
    made = told(html, {"a.b roomy": 1, "axb": 7})
    assert made == html.replace('class="step" id="a.b"', 'class="step roomy" id="a.b"')


def book(*blocks: str) -> tuple[bytes, int, dict[str, int]]:
    day = datetime.date(2000, 1, 1)
    info = BookInfo(title="T", author="A", language="en", version="1", date=day)
    made = press_book((section_of(*blocks),), info, Fence(()))
    assert made.complaints == ()
    return made.pdf, made.pages, dict(made.numbers)


def test_what_grows_is_pressed_so_and_keeps_its_page() -> None:
    grows = '<div class="grows" style="background: black; height: 10mm"></div>'
    for more in (grows, grows.replace("height: 10mm", "")):
        pdf, pages, numbers = book(step("a", 40, more=more), step("b", 90))
        assert (pages, numbers["b"], numbers.get("a roomy")) == (2, 2, 1)
    black = pdfplumber.open(io.BytesIO(pdf)).pages[0].rects
    assert max(each["height"] for each in black) * 25.4 / 72 > 29


def test_the_author_s_page_shows_the_same() -> None:
    _, _, numbers = book(step("a", 40), step("b", 90))
    assert 'class="step roomy"' in numbered(section_of(step("a", 40)), numbers).html
