"""No heading stands alone at a page's foot: every demo booklet, large print too, and pages that are
wrong.  The measuring is in `pagetags.py`."""

from __future__ import annotations

import io

import pikepdf
import pytest

from patternpress.booklet.compose import A4, page_css
from patternpress.booklet.fetch import Fence
from patternpress.booklet.fonts import font_css, font_roots
from patternpress.booklet.press import Section, press_section
from patternpress.booklet.themes import load_theme
from tests.whole import pagetags as tags
from tests.whole.demos import Built

LONG = "Glue the shelf to the back. " * 12


def complaints(stream: io.BytesIO) -> list[str]:
    """What the structure of a PDF tells."""
    with pikepdf.open(stream) as pdf:
        told = tags.elements(pdf)
        assert any(each.marks for each in told)
        return [*tags.headings_alone(told)]


def test_no_heading_stands_alone(booklet: Built) -> None:
    assert complaints(io.BytesIO(booklet.pdf.read_bytes())) == []


def spoiled(body: str) -> list[str]:
    """What is told of a section of the theme "quay" that holds some HTML."""
    theme = load_theme("quay")
    sheets = (font_css(), page_css(theme, A4))
    html = f'<!doctype html><html lang="en"><title>Spoiled</title><body>{body}'
    section = Section("x", "x", html, sheets, theme.folder)
    pressed = press_section(section, Fence((theme.folder, *font_roots())), tagged=True)
    return complaints(io.BytesIO(pressed.pdf))


@pytest.mark.parametrize(
    ("body", "found"),
    [
        (f"<h2>Tools</h2><p>{LONG}</p>", []),
        (
            f'<h2>Tools</h2><p style="break-before: page">{LONG}</p>',
            ["a heading is the last thing on page 1"],
        ),
        (f'<p>{LONG}</p><h2 style="break-before: page">Tools</h2><p>{LONG}</p>', []),
    ],
)
def test_a_heading_alone_is_found(body: str, found: list[str]) -> None:
    assert spoiled(body) == found
