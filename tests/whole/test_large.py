"""Large print in both themes: sizes, nothing over anything, pages that hold something.

The sizes are those that the page standard quotes (APH, UKAAF G003): 18 pt throughout.  Letters in
drawings have the drawings' own least sizes, which `test_standard.py` measures.
"""

from __future__ import annotations

import io
import re
from dataclasses import replace
from functools import cache
from typing import Any

import pdfplumber
import pypdfium2
import pytest

from patternpress.assembly.model import work_out
from patternpress.booklet.build import press_model
from patternpress.design.read import read_design
from tests.whole import pagechecks as checks
from tests.whole import pageink as ink
from tests.whole.demos import DESIGNS, MM
from tests.whole.test_pages import boxes, overprinted

LEAST, LEAST_FOOT = 18.0, 12.0  # points
THEMES = ("quay", "rod")


@cache
def pressed(theme: str, letters: str = "large") -> bytes:
    """The desk in a theme; it has a plan, cards, templates, layouts and choices."""
    model = work_out(read_design(DESIGNS / "keepers-desk.yaml"), "metric")
    return press_model(
        replace(model, edition=replace(model.edition, theme=theme, letters=letters))
    ).pdf


@cache
def plumbed(theme: str, letters: str = "large") -> tuple[Any, ...]:
    """Its pages as pdfplumber reads them, which takes as long as to press them."""
    return tuple(pdfplumber.open(io.BytesIO(pressed(theme, letters))).pages)


@pytest.fixture(params=THEMES)
def theme(request: pytest.FixtureRequest) -> str:
    return str(request.param)


def small_words(page: Any, base: float = LEAST) -> list[str]:
    """Words below the sizes of large print.  A drawing's letters stand in figures, not in spans."""
    least = {"Span": base, "Artifact": LEAST_FOOT}
    found = [c for c in page.chars if c["text"].strip() and c.get("tag") in least]
    return [f"{c['text']} {c['size']:.1f}" for c in found if c["size"] < least[c["tag"]] - 0.01]


def test_no_word_is_smaller_than_large_print(theme: str) -> None:
    pages = plumbed(theme)
    assert sum(c.get("tag") == "Span" for p in pages for c in p.chars) > 9000
    assert {p.page_number: found for p in pages if (found := small_words(p))} == {}


def test_a_small_word_would_be_found() -> None:
    assert small_words(plumbed("quay", "normal")[3])


def test_nothing_is_printed_over_anything(theme: str) -> None:
    pages = pypdfium2.PdfDocument(pressed(theme))
    found = {n: overprinted(*boxes(pages[n - 1])) for n in range(1, len(pages) + 1)}
    assert {number: pairs for number, pairs in found.items() if pairs} == {}


def test_nothing_is_outside_the_live_area(theme: str) -> None:
    assert {p.page_number: told for p in plumbed(theme) if (told := [*checks.outside(p)])} == {}


def test_no_page_gapes_but_where_a_run_ends(theme: str) -> None:
    """Tables, cards and layouts are torn between their rows there: headings stood over nothing."""
    pages = pypdfium2.PdfDocument(pressed(theme))
    texts = [pages[n].get_textpage().get_text_bounded() for n in range(len(pages))]
    sheets = [n for n, text in enumerate(texts) if re.search(r"Sheet \d of", text)]
    ends = sheets[0] - 1, sheets[-1]  # of the run before the templates, and of theirs
    empty = {n + 1: gap(pages[n]) for n in range(len(pages) - 1) if n not in ends}
    assert {number: share for number, share in empty.items() if share > 1 / 2} == {}


def gap(page: Any) -> float:
    """The largest empty oblong of a page, as a share of what lies between head and foot."""
    return round(ink.emptiest(ink.drawn(page), 27, page.get_height() * MM - 27).share, 2)


def test_pictures_of_steps_are_drawn_larger() -> None:
    """One and a half times: their letters say how much.

    In letters of the usual size, that of a step with a page to itself is 88/64 as large.
    """
    usual = drawn("normal")
    assert any(size == pytest.approx(15.0, abs=0.1) for size in usual)
    assert max(usual) == pytest.approx(15.0 * 88 / 64, abs=0.1)
    assert any(size == pytest.approx(22.5, abs=0.1) for size in drawn("large"))


def drawn(letters: str) -> set[float]:
    """The sizes of letters in the pictures of the desk."""
    return {
        c["size"] for p in plumbed("quay", letters) for c in p.chars if c.get("tag") == "Figure"
    }
