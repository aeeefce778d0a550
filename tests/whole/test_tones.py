"""Letters, rules and areas stand out on a grey print: every page of every demo booklet in both
themes, and each check on a page that is wrong.  The measuring is in `pagetones.py`.
"""

from __future__ import annotations

import pypdfium2
import pytest

from tests.whole import pageink as ink
from tests.whole import pagetones as tones
from tests.whole.demos import Built
from tests.whole.plumbed import Page, plumbed, read
from tests.whole.test_page_tags import pressed


def complaints(page: Page, inked: ink.Inked, *, sheet: bool = False) -> list[str]:
    """What is wrong with the tones of a page; `sheet`: of templates."""
    return [
        *tones.too_faint(page.chars, inked.bare),
        *tones.faint_rules(page),
        *tones.dark_tints(page, inked.bare),
        *(["a large black area"] if tones.too_black(inked.full, tones.MOST_BLACK) else []),
        *(tones.adorned(page, inked.full) if sheet else []),
    ]


def test_all_stands_out_on_a_grey_print(looked: Built) -> None:
    drawn, sheets = pypdfium2.PdfDocument(looked.pdf), looked.pages_of("templates")
    found = {
        page.page_number: complaints(
            page, ink.look(drawn[page.page_number - 1]), sheet=page.page_number in sheets
        )
        for page in plumbed(looked.pdf)
    }
    assert {number: told for number, told in found.items() if told} == {}


def told(body: str, *, sheet: bool = False) -> list[str]:
    """What is told of a page that holds some HTML."""
    data = pressed(body)
    return complaints(read(data)[0], ink.look(pypdfium2.PdfDocument(data)[0]), sheet=sheet)


WORDS = "Glue the shelf to the back. "
AREA = '<div style="width: {0}mm; height: {0}mm; background: {1}"></div>'


def drawing(mark: str) -> str:
    """A drawing of 60 by 30 mm."""
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="30mm" viewBox="0 0 60 30">'
        f"<title>A rail</title>{mark}</svg>"
    )


@pytest.mark.parametrize(
    ("style", "wrong"),
    [
        ("color: #767676", False),
        ("color: #777777", True),  # 4.5422 and 4.4781 to 1: wcag-contrast-ratio 0.9
        ("color: #767676; background: #e0e0e0", True),
        ("color: #fff; background: #111", False),
        ("color: #fff; background: #888", True),
        ("color: #fff", True),
        ("border: 0.5pt solid #949494", False),  # 3.03 to 1
        ("border: 0.5pt solid #999", True),  # 2.85 to 1
        ("background: #e0e0e0", False),
        ("background: #d0d0d0", True),
    ],
)
def test_words_and_rules_that_fade_are_found(style: str, wrong: bool) -> None:
    assert bool(told(f'<p style="{style}">{WORDS}</p>')) is wrong


@pytest.mark.parametrize(
    ("body", "wrong"),
    [
        (AREA.format(5, "#111"), False),
        (AREA.format(8, "#111"), True),
        (drawing('<rect width="20" height="20" fill="#bdbdbd"/>'), False),
        (drawing('<rect width="20" height="20" fill="#b0b0b0"/>'), True),
        (drawing('<path d="M2 5h50" stroke="#aaa"/>'), True),
    ],
)
def test_areas_that_are_too_dark_are_found(body: str, wrong: bool) -> None:
    assert bool(told(body)) is wrong


@pytest.mark.parametrize(
    ("mark", "wrong"),
    [
        ('<path d="M2 5h50v20h-50z" stroke="#000" fill="none"/>', False),
        ('<rect width="20" height="20" fill="#e9e9e9"/>', True),
        ('<path d="M2 5h50" stroke="#1f4d5c"/>', True),
        ('<rect width="5" height="5" fill="#000"/>', True),
    ],
)
def test_what_adorns_a_template_sheet_is_found(mark: str, wrong: bool) -> None:
    assert bool(told(f"{drawing(mark)}<p>{WORDS}</p>", sheet=True)) is wrong


@pytest.mark.parametrize(
    ("one", "ratio"),
    # wcag-contrast-ratio 0.9, and the example of #1E293B of a published calculator
    [("#000000", 21.0), ("#767676", 4.5422), ("#1e293b", 14.6287), ("#0072b2", 5.19)],
)
def test_contrast_is_that_of_wcag(one: str, ratio: float) -> None:
    assert tones.contrast(one) == pytest.approx(ratio, abs=5e-3)
