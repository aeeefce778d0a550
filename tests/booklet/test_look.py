"""The look, pressed: nothing outside the live area, nothing torn, heads repeated, sizes true."""

from __future__ import annotations

import datetime
import io
from dataclasses import replace

import pdfplumber
import pikepdf
import pytest

from patternpress.booklet import content as c
from patternpress.booklet.compose import A4, LETTER, PageStyle, compose, running_foot
from patternpress.booklet.fetch import Fence
from patternpress.booklet.fonts import font_roots
from patternpress.booklet.join import BookInfo
from patternpress.booklet.pressroom import Booklet, press_book
from patternpress.booklet.themes import load_theme
from tests.booklet.sample import sample

MM = 72 / 25.4
INFO = BookInfo("Cupboard", "A maker", "en", "1", datetime.date(2025, 5, 3))


def press(content: c.Content, style: PageStyle = A4) -> tuple[Booklet, list[pdfplumber.page.Page]]:
    theme = load_theme("quay")
    fence = Fence((theme.folder, *font_roots()))
    foot = running_foot(content, theme, style)
    book = press_book(compose(content, theme, style), INFO, fence, foot=foot)
    return book, pdfplumber.open(io.BytesIO(book.pdf)).pages


def bare(**parts: object) -> c.Content:
    whole = sample()
    return replace(c.Content(cover=whole.cover, imprint=whole.imprint), **parts)  # type: ignore[arg-type]


@pytest.mark.parametrize("style", [A4, LETTER, replace(A4, letters="large")])
def test_everything_is_inside_the_live_area(style: PageStyle) -> None:
    book, pages = press(sample(), style)
    assert book.complaints == ()
    for page in pages:
        marks = [*page.chars, *page.rects, *page.lines, *page.curves]
        seen = [m for m in marks if m["x1"] > m["x0"] or m["bottom"] > m["top"]]
        across = min(m["x0"] for m in seen), max(m["x1"] for m in seen)
        down = min(m["top"] for m in seen), max(m["bottom"] for m in seen)
        for (low, high), paper, live in (
            (across, float(page.width), 190),
            (down, float(page.height), 259.4),
        ):
            edge = (paper - live * MM) / 2
            assert low >= edge - 0.2 * MM, page.page_number
            assert high <= paper - edge + 0.2 * MM, page.page_number


def test_no_page_is_empty_and_each_template_has_its_own() -> None:
    book, pages = press(sample())
    assert all(len(page.chars) > 60 for page in pages)
    assert book.numbers["plan"] - book.numbers["templates"] == len(sample().templates)


def test_a_template_keeps_its_size() -> None:
    frame = c.Picture(
        '<svg xmlns="http://www.w3.org/2000/svg" width="190mm" height="240mm"'
        ' viewBox="0 0 190 240"><title>A frame</title>'
        '<path d="M1 1 H189 V239 H1 Z" fill="none" stroke="#000" stroke-width="0.35"/></svg>'
    )
    book, pages = press(bare(templates=(c.TemplatePage("Frame", frame, "A"),)))
    page = pages[book.numbers["templates"] - 1]
    drawn = [m for m in (*page.curves, *page.rects) if m["height"] > 200 * MM]
    assert len(drawn) == 1
    assert drawn[0]["width"] / MM == pytest.approx(188, abs=0.001)
    assert drawn[0]["height"] / MM == pytest.approx(238, abs=0.001)


def test_steps_that_fit_are_not_torn() -> None:
    steps = tuple(
        replace(sample().steps[0].steps[1], number=str(n), title=f"Begin {n}", makes=f"End {n}")
        for n in range(1, 13)
    )
    _, pages = press(bare(steps=(c.StepGroup("All", steps),)))
    texts = [page.extract_text() for page in pages]
    texts = [text for text in texts if not text.startswith("Contents")]
    for n in range(2, 13):
        assert [f"Begin {n}\n" in t for t in texts] == [f"End {n}\n" in t for t in texts]


def test_a_long_cutting_list_repeats_its_head_on_every_page() -> None:
    rows = tuple(
        c.CutRow(f"{chr(65 + n % 26)}{n // 26}", f"part {n}", (1, 120)[n % 2], "10", note="later")
        for n in range(60)
    )
    book, pages = press(bare(cutting=(c.CutGroup("Strip", rows),)))
    texts = [page.extract_text() for page in pages[book.numbers["cutting"] - 1 : -1]]
    assert len(texts) >= 3
    assert all("Length × width × thickness" in text for text in texts)
    assert sum(text.count("later") for text in texts) == 60


def test_what_is_brought_begins_beside_its_label_though_its_size_is_long() -> None:
    """A size in both units, wider than the room beside the picture, was set under the picture."""
    frame = c.Picture(
        '<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="60mm" viewBox="0 0 60 60">'
        '<title>A frame</title><path d="M1 1H59V59H1Z" fill="none" stroke="#000"/></svg>'
    )
    brought = (c.Brought("Y", "upper shelf", "57.1 × 16.7 × 2.4 mm (2 1/4 × 21/32 × 3/32 in)"),)
    step = c.Step(
        "1", "Make it", brought=brought, figures=(c.Figure(frame),), actions=("Glue it.",)
    )
    book, pages = press(bare(steps=(c.StepGroup("All", (step,)),)))
    words = pages[book.numbers["steps"] - 1].extract_words()
    (label,) = (each for each in words if each["text"] == "Bring")
    (letter,) = (each for each in words if each["text"] == "Y")
    assert abs(letter["bottom"] - label["bottom"]) < 1 * MM


def test_pages_are_the_same_on_either_paper_and_only_put_elsewhere_on_it() -> None:
    """Letters, links and the places of names move by what the papers differ, and no more."""
    (a4, plain), (letter, moved) = press(sample()), press(sample(), LETTER)
    assert letter.numbers == a4.numbers
    across, down = (215.9 - 210) / 2 * MM, (279.4 - 297) / 2 * MM
    for before, after in zip(plain, moved, strict=True):
        assert (after.width, after.height) == pytest.approx((612, 792))
        for kind in ("chars", "annots", "lines", "curves"):
            for one, other in zip(getattr(before, kind), getattr(after, kind), strict=True):
                if kind == "chars" and one["text"] != other["text"]:
                    continue  # the foot names the paper
                place = one["x0"] + across, one["top"] + down
                assert (other["x0"], other["top"]) == pytest.approx(place, abs=0.02)
    tops = [places_of(book.pdf) for book in (a4, letter)]
    assert tops[0].keys() == tops[1].keys() > {"templates", "plan"}
    for name, (page, x, y) in tops[0].items():
        # On the paper from its upper edge: a section's own place is its sheet's upper corner.
        there, beside, up = tops[1][name]
        assert there == page
        if (x, y) != (0.0, pytest.approx(841.89, abs=0.01)):
            assert (beside, 792 - up) == pytest.approx((x + across, 841.89 - y + down), abs=0.02)


def places_of(pdf: bytes) -> dict[str, tuple[int, float, float]]:
    """The page, x and y of each named place."""
    book = pikepdf.open(io.BytesIO(pdf))
    numbers = {page.obj.objgen: number for number, page in enumerate(book.pages)}
    pairs = book.Root.Names.Dests.Names.as_list()
    return {
        str(name): (numbers[to[0].objgen], float(to[2]), float(to[3]))
        for name, to in zip(pairs[::2], pairs[1::2], strict=True)
    }
