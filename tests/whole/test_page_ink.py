"""Nothing runs through words, words are whole, and no page gapes: every page of every demo booklet,
and each check on a page that is wrong.  The measuring is in `pageink.py`.

A third of a page may be empty; half where the next step, table or picture is never torn and finds
no room.  Where a run ends, because what follows needs pages of its own, there is no limit.
"""

from __future__ import annotations

import pypdfium2
import pytest

from tests.whole import pageink as ink
from tests.whole.demos import MM, Built
from tests.whole.test_spoiled import page

WORDS = "Glue the shelf to the back. "
LINE = '<svg width="60mm" height="12mm" viewBox="0 0 60 12" style="{}">{}</svg>'


def test_words_are_whole_and_nothing_runs_through_them(booklet: Built) -> None:
    pages = pypdfium2.PdfDocument(booklet.pdf)
    found = {}
    for number in range(len(pages)):
        inked = ink.look(pages[number])
        assert inked.letters or number == 0
        found[number + 1] = [*ink.crossed(inked), *ink.broken(inked)]
    assert {number: told for number, told in found.items() if told} == {}


MOST = 1 / 2


def test_no_page_gapes_but_where_a_run_ends(booklet: Built) -> None:
    pages, tops = pypdfium2.PdfDocument(booklet.pdf), booklet.places
    starts = {"contents", "labels", "templates", "plan", "steps"} & tops.keys()
    ends = {tops[name] - 1 for name in starts} | {len(pages)}
    sheets = booklet.pages_of("templates")
    empty = {}
    for number in range(1, len(pages) + 1):
        if number not in ends and number not in sheets:
            page = pages[number - 1]
            high = page.get_height() * MM
            empty[number] = ink.emptiest(ink.drawn(page), 27, high - 27)
    gaping = {number: round(share, 2) for number, share in empty.items() if share > MOST}
    assert gaping == {}
    # Most pages are fuller than that.
    assert sum(share > ink.EMPTY for share in empty.values()) <= len(pages) / 3, empty


def looked(body: str) -> ink.Inked:
    """A page of the theme "quay" that holds some HTML, as its ink."""
    stream = page(body).pdf.stream
    stream.seek(0)
    return ink.look(pypdfium2.PdfDocument(stream)[0])


def under(mark: str) -> str:
    """A drawing, and words that are pulled up over it."""
    drawing = LINE.format("position: absolute; left: 0; top: 0", mark)
    return f'<div style="position: relative; height: 12mm">{drawing}<p>{WORDS}</p></div>'


@pytest.mark.parametrize(
    ("body", "wrong"),
    [
        (under('<path d="M0 11.8h60" stroke="#000" stroke-width=".2"/>'), False),
        (under('<path d="M11 0v12M21 0v12M31 0v12" stroke="#000" stroke-width=".4"/>'), True),
        (under('<path d="M0 2.4h60" stroke="#000" stroke-width=".3"/>'), True),
        (under('<rect width="60" height="12" fill="#e0e0e0"/>'), False),
        (under('<rect x="-.7" width="12" height="12" fill="#000"/>'), True),
    ],
)
def test_a_line_through_words_is_found(body: str, wrong: bool) -> None:
    assert bool([*ink.crossed(looked(body))]) is wrong


@pytest.mark.parametrize(
    ("style", "wrong"),
    [
        ("", False),
        ("width: 30mm; white-space: nowrap; overflow: hidden", True),
        ("height: 2.2mm; overflow: hidden", True),
        ("color: #fff", True),
        ("color: #fff; background: #000", False),
    ],
)
def test_words_that_are_not_whole_are_found(style: str, wrong: bool) -> None:
    assert bool([*ink.broken(looked(f'<p style="{style}">{WORDS}</p>'))]) is wrong


def test_covered_words_are_found() -> None:
    cover = '<div style="margin-top: -12mm; height: 14mm; background: #fff; position: relative">'
    (told,) = ink.broken(looked(f"<p>{WORDS}</p>{cover}</div>"))
    assert "Gluetheshelf" in told


@pytest.mark.parametrize(("gap", "wrong"), [("60mm", False), ("110mm", True)])
def test_an_empty_area_is_found(gap: str, wrong: bool) -> None:
    lines = f"<p>{WORDS * 12}</p>" * 6
    inked = looked(f'{lines}<div style="height: {gap}"></div>{lines}')
    height = inked.full.shape[0] / ink.SCALE * MM
    assert (ink.emptiest(inked.full, 27, height - 27) > ink.EMPTY) is wrong
