"""Nothing runs through words, and words are whole: every page of every demo booklet, and each check
on a page that is wrong.  The measuring is in `pageink.py`.
"""

from __future__ import annotations

import pypdfium2
import pytest

from tests.whole import pageink as ink
from tests.whole.demos import Built
from tests.whole.test_spoiled import page

WORDS = "Glue the pegs to the back. "
LINE = '<svg width="60mm" height="12mm" viewBox="0 0 60 12" style="{}">{}</svg>'


def test_words_are_whole_and_nothing_runs_through_them(looked: Built) -> None:
    pages = pypdfium2.PdfDocument(looked.pdf)
    found = {}
    for number in range(len(pages)):
        inked = ink.look(pages[number])
        assert inked.letters or number == 0
        found[number + 1] = [*ink.crossed(inked), *ink.broken(inked)]
    assert {number: told for number, told in found.items() if told} == {}


def inked(body: str) -> ink.Inked:
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
    assert bool([*ink.crossed(inked(body))]) is wrong


@pytest.mark.parametrize(
    ("style", "wrong"),
    [
        ("", False),
        ("width: 30mm; white-space: nowrap; overflow: hidden", True),
        ("height: 2.2mm; overflow: hidden", True),
        # Only the feet of the letters: a line's box as high as its letters are large.
        ("font-size: 9pt; line-height: 1; overflow: hidden", True),
        ("font-size: 9pt; line-height: 1", False),
        ("color: #fff", True),
        ("color: #fff; background: #000", False),
    ],
)
def test_words_that_are_not_whole_are_found(style: str, wrong: bool) -> None:
    assert bool([*ink.broken(inked(f'<p style="{style}">{WORDS}</p>'))]) is wrong


def test_covered_words_are_found() -> None:
    cover = '<div style="margin-top: -12mm; height: 14mm; background: #fff; position: relative">'
    (told,) = ink.broken(inked(f"<p>{WORDS}</p>{cover}</div>"))
    assert "Gluethepegs" in told
