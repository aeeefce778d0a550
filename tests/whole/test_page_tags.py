"""No heading stands alone at a page's foot, no line of a paragraph at its foot or head, no figure
of a step away from its words: every demo booklet, large print too, and pages that are wrong.  The
measuring is in `pagetags.py`."""

from __future__ import annotations

import io
from collections.abc import Sequence

import pikepdf
import pytest

from patternpress.booklet.compose import A4, page_css
from patternpress.booklet.fetch import Fence
from patternpress.booklet.fonts import font_css, font_roots
from patternpress.booklet.press import Section, press_section
from patternpress.booklet.themes import load_theme
from tests.whole import pagetags as tags
from tests.whole.demos import Built
from tests.whole.plumbed import Page, plumbed, read

LONG = "Glue the shelf to the back. " * 12


def told(stream: io.BytesIO) -> list[tags.Told]:
    """What the structure of a PDF tells."""
    with pikepdf.open(stream) as pdf:
        found = tags.elements(pdf)
    assert any(each.marks for each in found)
    return found


def complaints(data: bytes, pages: Sequence[Page]) -> list[str]:
    """What the structure of a PDF tells of headings and lines alone."""
    found = told(io.BytesIO(data))
    return [*tags.headings_alone(found), *tags.lines_alone(found, tags.marks_of(pages))]


def test_no_heading_and_no_line_stands_alone(looked: Built) -> None:
    assert complaints(looked.pdf.read_bytes(), plumbed(looked.pdf)) == []


def test_no_word_stands_alone_where_the_next_would_fit(looked: Built) -> None:
    found = told(io.BytesIO(looked.pdf.read_bytes()))
    assert [*tags.words_alone(found, tags.marks_of(plumbed(looked.pdf)))] == []


def test_each_figure_of_a_step_shares_a_page_with_its_words(booklet: Built) -> None:
    found = told(io.BytesIO(booklet.pdf.read_bytes()))
    # The steps stand between the last two headings of parts.
    *_, first, last = (n for n, each in enumerate(found) if each.kind == "H1")
    steps = found[first + 1 : last]
    assert len([each for each in steps if each.kind == "Figure"]) >= len(booklet.facts["steps"]) / 2
    assert [*tags.figures_apart(steps)] == []


def spoiled(body: str) -> list[tags.Told]:
    """What the structure tells of a section that holds some HTML."""
    return told(io.BytesIO(pressed(body)))


def pressed(body: str, css: str = "") -> bytes:
    """A section of the theme "quay" that holds some HTML, as a PDF."""
    theme = load_theme("quay")
    sheets = (font_css(), page_css(theme, A4), css)
    html = f'<!doctype html><html lang="en"><title>Spoiled</title><body>{body}'
    section = Section("x", "x", html, sheets, theme.folder)
    made = press_section(section, Fence((theme.folder, *font_roots())), tagged=True)
    return made.pdf


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
    assert [*tags.headings_alone(spoiled(body))] == found


@pytest.mark.parametrize(
    ("away", "wrong"),
    [("", []), ("break-before: page", ["a figure is alone on page 2"])],
)
def test_a_figure_away_from_its_words_is_found(away: str, wrong: list[str]) -> None:
    box = '<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm"><title>A box</title>'
    figure = f"<figure>{box}<path d='M0 0H9V9Z'/></svg><figcaption>Not to scale.</figcaption>"
    body = f'<h2>Glue it</h2><p>{LONG}</p><div style="{away}">{figure}</figure></div>'
    assert [*tags.figures_apart(spoiled(body))] == wrong


@pytest.mark.parametrize("css", ["", "p { orphans: 1; widows: 1 }"])
def test_a_line_alone_is_found(css: str) -> None:
    """A paragraph of four lines is pushed down the page, a line at a time."""
    found = set()
    for down in range(205, 262, 4):
        body = f'<div style="height: {down}mm"></div><p style="width: 90mm">{LONG[:200]}</p>'
        data = pressed(body, css)
        found |= {*complaints(data, read(data))}
    assert bool(found) is bool(css)


@pytest.mark.parametrize(("after", "wrong"), [("Glue", True), ("Glue the", False)])
def test_a_word_alone_is_found(after: str, wrong: bool) -> None:
    data = pressed(f"<p>{LONG.replace(after, after + '<br>', 1)}</p>")
    found = [*tags.words_alone(told(io.BytesIO(data)), tags.marks_of(read(data)))]
    assert [each.partition(" shelf")[0] for each in found] == (
        ["“Glue” is alone before “the"] if wrong else []
    )
