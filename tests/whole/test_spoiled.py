"""Each check of pages catches a page that is wrong, and lets a sound one pass."""

from __future__ import annotations

import io
from typing import Any

import pdfplumber
import pytest

from patternpress.booklet.compose import A4, page_css
from patternpress.booklet.fetch import Fence
from patternpress.booklet.fonts import font_css, font_roots
from patternpress.booklet.press import Section, press_section
from patternpress.booklet.themes import load_theme
from tests.whole import pagechecks as checks

HEAD = FOOT = 8.0


def page(body: str, css: str = "", *, tagged: bool = False) -> Any:
    """One page of the theme "quay" that holds some HTML."""
    theme = load_theme("quay")
    sheets = (
        font_css(),
        page_css(theme, A4),
        (theme.folder / "booklet.css").read_text("utf-8"),
        css,
    )
    html = f'<!doctype html><html lang="en"><title>Spoiled</title><body><section>{body}</section>'
    section = Section("x", "x", html, sheets, theme.folder)
    pressed = press_section(section, Fence((theme.folder, *font_roots())), tagged=tagged)
    assert pressed.complaints == ()
    return pdfplumber.open(io.BytesIO(pressed.pdf)).pages[0]


WORDS = "Glue the shelf to the back. "


def drawn_letters(high: float, said: str) -> str:
    """A drawing with letters whose capitals are so many mm high."""
    return LETTERS.format(size=high / checks.CAPITAL, said=said)


LETTERS = (
    '<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="12mm" viewBox="0 0 60 12">'
    "<title>A rail.</title>"
    '<text x="2" y="9" font-family="Source Sans Pro" font-size="{size}">{said}</text></svg>'
)


@pytest.mark.parametrize(
    ("body", "wrong"),
    [
        (f"<p>{WORDS}</p>", False),
        (f'<p style="font-size: 8.9pt">{WORDS}</p>', True),
        (f'<p style="font-size: 9pt">{WORDS}</p>', False),
        (f'<p>{WORDS} <span style="font-size: 8pt">7</span></p>', True),
        (drawn_letters(2.5, "Rail 7"), False),
        (drawn_letters(2.2, "Rail"), True),
        (drawn_letters(2.2, "7"), True),
        (drawn_letters(1.8, "3\u20448"), False),
        (drawn_letters(1.7, "3\u20448"), True),
    ],
)
def test_small_letters_are_found(body: str, wrong: bool) -> None:
    assert bool([*checks.too_small(page(body, tagged=True).chars)]) is wrong


@pytest.mark.parametrize(("width", "wrong"), [("122mm", False), ("176mm", True)])
def test_long_lines_are_found(width: str, wrong: bool) -> None:
    found = page(f'<p style="width: {width}">{WORDS * 9}</p>')
    assert bool([*checks.too_long(found.chars)]) is wrong


@pytest.mark.parametrize(("left", "wrong"), [("0mm", False), ("-12mm", True)])
def test_marks_outside_are_found(left: str, wrong: bool) -> None:
    found = page(f'<p style="margin-left: {left}">{WORDS}</p>')
    assert bool([*checks.outside(found)]) is wrong


@pytest.mark.parametrize(("up", "wrong"), [("0mm", False), ("-6mm", True)])
def test_letters_on_letters_are_found(up: str, wrong: bool) -> None:
    found = page(f'<p>{WORDS}</p><p style="margin-top: {up}">TAVY, {WORDS}</p>')
    assert bool([*checks.on_another(found.chars)]) is wrong


@pytest.mark.parametrize(("after", "wrong"), [("", True), (f"<p>{WORDS}</p>", False)])
def test_a_heading_alone_is_found(after: str, wrong: bool) -> None:
    found = page(f"<p>{WORDS}</p><h2>What you need</h2>{after}")
    assert bool([*checks.heading_alone(found, 10, HEAD, FOOT)]) is wrong


@pytest.mark.parametrize(("height", "wrong"), [("60mm", True), ("120mm", False)])
def test_an_empty_page_is_found(height: str, wrong: bool) -> None:
    found = page(f'<div style="height: {height}"></div><p>{WORDS}</p>')
    assert (checks.filled(found, HEAD, FOOT) < checks.LEAST_FILL) is wrong


def test_a_torn_step_is_found() -> None:
    steps = [checks.Step(1, 1, 0.0), checks.Step(2, 1, 0.7), checks.Step(3, 2, 0.3)]
    assert [*checks.torn(steps, [1.0, 0.5])] == ["step 2 goes on over page 1"]
    whole = [checks.Step(1, 1, 0.0), checks.Step(2, 2, 0.02), checks.Step(3, 2, 0.4)]
    assert [*checks.torn(whole, [0.9, 0.8])] == []
    tall = [checks.Step(1, 1, 0.3), checks.Step(2, 2, 0.6)]  # taller than a page: it may
    assert [*checks.torn(tall, [1.0, 0.8])] == []
    over_two = [checks.Step(1, 1, 0.8), checks.Step(2, 3, 0.0)]
    assert [*checks.torn(over_two, [0.9, 1.0, 0.8])] == []
    assert [*checks.torn(over_two, [0.9, 0.4, 0.8])] == ["step 1 goes on over page 1"]


def test_room_left_for_a_step_is_found() -> None:
    steps = [checks.Step(1, 1, 0.0), checks.Step(2, 2, 0.0), checks.Step(3, 2, 0.3)]
    assert [*checks.room_left(steps, [0.5, 0.8])] == ["step 2 would fit on page 1"]
    assert [*checks.room_left(steps, [0.8, 0.8])] == []
