"""Drawings, links and page numbers before the press."""

from __future__ import annotations

import io
from pathlib import Path

import pikepdf
import pytest
import weasyprint
from hypothesis import given
from hypothesis import strategies as st
from weasyprint.formatting_structure.boxes import LineBox, TextBox
from weasyprint.text.fonts import FontConfiguration

from patternpress.booklet.fetch import Fence
from patternpress.booklet.fonts import font_css
from patternpress.booklet.prepress import (
    anchors_wanted,
    fill_page_numbers,
    lift_drawings,
    own_spaces,
    page_of,
    send_links_abroad,
)
from patternpress.booklet.press import Section, lay_out_section, press_section, quiet_engine

SVG = (
    '<svg class="drawing" xmlns="http://www.w3.org/2000/svg" width="60mm" height="30mm"'
    ' viewBox="0 0 60 30"><title>Side &amp; shelf, 3⁄8″</title>'
    '<path d="M1 1 L50 1 C55 1 55 20 50 20 Z" fill="none" stroke="#000" stroke-width="0.25"/>'
    '<svg x="5" y="5" width="10" height="10" viewBox="0 0 1 1"><rect width="1" height="1"/></svg>'
    '<text x="5" y="28" font-size="3" font-family="Source Sans Pro">12.7 mm</text></svg>'
)


def bare_press(html: str) -> bytes:
    fonts = FontConfiguration()
    sheet = weasyprint.CSS(string=font_css(), font_config=fonts)
    page = weasyprint.HTML(string=html)
    pdf: bytes = page.write_pdf(font_config=fonts, stylesheets=[sheet])
    return pdf


def marks(pdf: bytes) -> bytes:
    with pikepdf.open(io.BytesIO(pdf)) as document:
        return document.pages[0].Contents.read_bytes()


def test_a_drawing_becomes_an_image_with_its_title_and_class() -> None:
    html, drawings = lift_drawings(f"<p>a</p>{SVG}<p>b</p>{SVG}")
    (address,) = drawings
    image = f'<img src="{address}" alt="Side &amp; shelf, 3⁄8″" class="drawing">'
    assert html == f"<p>a</p>{image}<p>b</p>{image}"
    assert drawings[address] == SVG


def test_a_drawing_without_a_namespace_is_given_one() -> None:
    _, drawings = lift_drawings("<svg/>")
    assert list(drawings.values()) == ['<svg xmlns="http://www.w3.org/2000/svg"/>']


def test_lifting_a_drawing_changes_no_mark_on_the_page(tmp_path: Path) -> None:
    """Against the engine itself: the page with the drawing left inline."""
    html = f'<!doctype html><html lang="en"><title>x</title><body><p>a</p>{SVG}</body></html>'
    ours = press_section(Section("x", "x", html, (), tmp_path), Fence(()), tagged=False)
    with quiet_engine():
        bare = bare_press(html)
    assert marks(ours.pdf) == marks(bare)
    assert b" c\n" in marks(bare)


def lines_of(html: str, wide: int) -> list[str]:
    """The lines of some words in a column, mm."""
    css = f"body {{ margin: 0; width: {wide}mm; font: 10pt 'Source Sans Pro' }}"
    page = f"<html lang='en'><body>{html}</body></html>"
    laid = lay_out_section(Section("a", "A", page, (css,), Path.cwd()), Fence(()))
    boxes = laid.document.pages[0]._page_box.descendants()
    runs = [[b for b in line.descendants() if isinstance(b, TextBox)]
            for line in boxes if isinstance(line, LineBox)]  # fmt: skip
    return ["".join(str(box.text) for box in run) for run in runs]


def test_words_before_a_space_that_never_breaks_are_not_broken_after_the_first() -> None:
    """The engine did: “80 / × / 42 / × 2 mm (3 9/64 in)”, “Round / over the top left edge”."""
    figure = "\u00a0<span>9999</span>\u00a0<span>8888</span>\u00a0<b>77777</b>\u00a0in)"
    for gap in ("\u00a0", "&nbsp;", "\u202f"):
        told = f"aa bb cc dd ee (3{figure.replace(chr(0xA0), gap)}"
        assert [len(each.split(" ")) for each in lines_of(told, 45)] == [5, 1]
    assert own_spaces("a\u00a0<br>b\u00a0c") == "a\u00a0<br>b\u00a0c"


@pytest.mark.parametrize("tag", ["a", "span", "b", "em"])
def test_words_are_whole_where_only_the_space_after_them_has_no_room(tag: str) -> None:
    """The engine broke them after the first: “Scrap / board, steel rule, masking tape.”."""
    told = f"Scrap board, steel rule, masking tape. <{tag}>Sizes of J, K and L: page 18.</{tag}>"
    first = {lines_of(told, 54 + tenth / 10)[0] for tenth in range(40)}
    assert first == {"Scrap board, steel rule, masking", "Scrap board, steel rule, masking tape."}


def test_only_links_within_the_booklet_are_sent_abroad() -> None:
    html = '<a class="x" href="#t1">1</a><a href="https://example.org/#t1">2</a><use href="#g"/>'
    assert send_links_abroad(html) == html.replace('"#t1"', '"book:t1"')


@given(st.text(st.characters(exclude_categories=["Cs", "Cc"]), min_size=1), st.integers(1, 999))
def test_any_anchor_gets_its_page_number(anchor: str, page: int) -> None:
    html = f"<p>see page {page_of(anchor)}</p>"
    assert anchors_wanted(html) == (anchor,)
    filled = fill_page_numbers(html, {anchor: page})
    assert filled == f'<p>see page <span class="page-number">{page}</span></p>'
    assert anchors_wanted(filled) == ()
