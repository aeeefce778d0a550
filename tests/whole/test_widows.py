"""No line of a paragraph stands alone at the foot or the head of a page, in either theme."""

from __future__ import annotations

from dataclasses import replace

import pytest
from weasyprint.formatting_structure.boxes import LineBox, TextBox

from patternpress.booklet.compose import A4, LETTER, PageStyle, page_css
from patternpress.booklet.fetch import Fence
from patternpress.booklet.fonts import font_css, font_roots
from patternpress.booklet.press import Section, lay_out_section
from patternpress.booklet.themes import load_theme

FOUR = "<br>".join(["Glue the shelf to the back", "and hold it there", "until the glue", "is dry."])


def lines_on_pages(theme_name: str, style: PageStyle, down: int, css: str = "") -> list[int]:
    """How many lines of a paragraph of four stand on each page; `down`: where it begins, mm."""
    theme = load_theme(theme_name)
    body = f'<div style="height: {down}mm"></div><div class="prose"><p>{FOUR}</p></div>'
    html = f'<!doctype html><html lang="en"><title>x</title><body><section>{body}</section>'
    sheets = (font_css(), page_css(theme, style), css)
    section = Section("x", "x", html, sheets, theme.folder)
    laid = lay_out_section(section, Fence((theme.folder, *font_roots())))
    found = []
    for page in laid.document.pages:
        lines = [each for each in page._page_box.descendants() if isinstance(each, LineBox)]
        found.append(sum(any(isinstance(b, TextBox) for b in each.children) for each in lines))
    return [count for count in found if count]


@pytest.mark.parametrize("theme", ["quay", "rod"])
@pytest.mark.parametrize(
    "style", [A4, LETTER, replace(A4, letters="large")], ids=["A4", "Letter", "large"]
)
def test_a_paragraph_is_torn_in_pairs_of_lines_or_not_at_all(theme: str, style: PageStyle) -> None:
    split = {tuple(lines_on_pages(theme, style, down)) for down in range(212, 262, 3)}
    assert (4,) in split
    assert (2, 2) in split
    assert split <= {(4,), (2, 2)}


def test_a_line_alone_would_be_found() -> None:
    loose = "p { orphans: 1; widows: 1 }"
    split = {tuple(lines_on_pages("quay", A4, down, loose)) for down in range(212, 262, 3)}
    assert split & {(1, 3), (3, 1)}
