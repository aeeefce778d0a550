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


def page(body: str, css: str = "") -> Any:
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
    pressed = press_section(section, Fence((theme.folder, *font_roots())), tagged=False)
    assert pressed.complaints == ()
    return pdfplumber.open(io.BytesIO(pressed.pdf)).pages[0]


WORDS = "Glue the shelf to the back. "


@pytest.mark.parametrize(
    ("css", "wrong"),
    [
        ("", False),
        ("p { font-size: 8.5pt }", True),
        ("p { font-size: 9pt }", False),
    ],
)
def test_small_letters_are_found(css: str, wrong: bool) -> None:
    assert bool([*checks.too_small(page(f"<p>{WORDS}</p>", css).chars)]) is wrong


@pytest.mark.parametrize(("width", "wrong"), [("122mm", False), ("176mm", True)])
def test_long_lines_are_found(width: str, wrong: bool) -> None:
    found = page(f'<p style="width: {width}">{WORDS * 9}</p>')
    assert bool([*checks.too_long(found.chars)]) is wrong


@pytest.mark.parametrize(("left", "wrong"), [("0mm", False), ("-12mm", True)])
def test_marks_outside_are_found(left: str, wrong: bool) -> None:
    found = page(f'<p style="margin-left: {left}">{WORDS}</p>')
    assert bool([*checks.outside(found)]) is wrong


@pytest.mark.parametrize(("colour", "wrong"), [("#767676", False), ("#777777", True)])
def test_faint_words_are_found(colour: str, wrong: bool) -> None:
    """4.5422 and 4.4781 to 1: wcag-contrast-ratio 0.9."""
    found = page(f'<p style="color: {colour}">{WORDS}</p>')
    assert bool([*checks.too_faint(found.chars)]) is wrong


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


def test_room_left_for_a_step_is_found() -> None:
    steps = [checks.Step(1, 1, 0.0), checks.Step(2, 2, 0.0), checks.Step(3, 2, 0.3)]
    assert [*checks.room_left(steps, [0.5, 0.8])] == ["step 2 would fit on page 1"]
    assert [*checks.room_left(steps, [0.8, 0.8])] == []


@pytest.mark.parametrize(
    ("one", "ratio"),
    # wcag-contrast-ratio 0.9, and the example of #1E293B of a published calculator
    [("#000000", 21.0), ("#767676", 4.5422), ("#1e293b", 14.6287), ("#0072b2", 5.19)],
)
def test_contrast_is_that_of_wcag(one: str, ratio: float) -> None:
    assert checks.contrast(one) == pytest.approx(ratio, abs=5e-3)
