"""Every page of every demo booklet: paper, numbers, headings, fonts, tags, and nothing outside.

Read back with pikepdf and pypdfium2, which share no code with the press.  Words and key names of
the PDF are those of ISO 32000-1; the paper sizes are those of ISO 216:2007 and ASME Y14.1.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from functools import cache
from itertools import pairwise
from pathlib import Path
from typing import Any

import numpy
import pikepdf
import pypdfium2
import pytest
import shapely
from numpy.typing import NDArray

from tests.whole.demos import MM, SECTIONS, Built
from tests.whole.test_spoiled import page as spoiled

PAPERS = {
    "A4": (210.0, 297.0),  # ISO 216:2007
    "Letter": (215.9, 279.4),  # ASME Y14.1, ANSI A: 8.5 × 11 in
    "A4 and Letter": (210.0, 297.0),
}
# Two sheets of paper hold this in common when 10 mm are kept clear (common practice, no source:
# cheap printers leave 3 to 7 mm unprinted, and many people take 10).
LIVE = (190.0, 259.4)
BLANK = 250  # of 255: lighter is paper


@pytest.fixture
def pdf(booklet: Built) -> Iterator[pikepdf.Pdf]:
    with pikepdf.open(booklet.pdf) as opened:
        yield opened


def test_every_page_is_the_editions_paper(booklet: Built, pdf: pikepdf.Pdf) -> None:
    width, height = PAPERS[booklet.facts["edition"]["paper"]]
    for page in pdf.pages:
        box = [float(each) * MM for each in page.mediabox]
        assert box == pytest.approx([0, 0, width, height], abs=0.001)
        assert [float(each) * MM for each in page.cropbox] == pytest.approx(box)
        assert page.obj.get("/UserUnit", 1) == 1
        assert page.obj.get("/Rotate", 0) == 0


def test_the_print_dialog_is_asked_for_no_scaling(pdf: pikepdf.Pdf) -> None:
    # In raw form: a name such as /None_ would read back alike in some libraries.
    raw = pdf.Root.ViewerPreferences.unparse()
    assert re.search(rb"/PrintScaling\s*/None(?![\w_])", raw)


def test_language_and_title(booklet: Built, pdf: pikepdf.Pdf) -> None:
    edition = booklet.facts["edition"]
    assert str(pdf.Root.Lang) == edition["language"]
    assert pdf.Root.ViewerPreferences.DisplayDocTitle
    title = str(pdf.trailer.Info.Title)
    assert title
    assert title in booklet.texts[0].replace("\n", " ")
    if edition["language"] == "en":
        assert title == booklet.facts["design"].replace("'", "’")
    with pdf.open_metadata() as metadata:
        assert metadata["dc:title"] == title


def fonts(pdf: pikepdf.Pdf) -> Iterator[pikepdf.Object]:
    for each in pdf.objects:
        if isinstance(each, pikepdf.Dictionary) and each.get("/Type") == "/FontDescriptor":
            yield each


def test_fonts_are_embedded_and_of_the_two_bundled_families(pdf: pikepdf.Pdf) -> None:
    found = list(fonts(pdf))
    assert found
    for font in found:
        assert "/FontFile2" in font or "/FontFile3" in font, font.FontName
        assert re.match(r"/[A-Z]{6}\+Source-(Sans|Serif)-Pro", str(font.FontName))


def test_no_font_goes_without_a_descriptor(pdf: pikepdf.Pdf) -> None:
    for each in pdf.objects:
        if isinstance(each, pikepdf.Dictionary) and each.get("/Type") == "/Font":
            kin = each.DescendantFonts[0] if "/DescendantFonts" in each else each
            assert "/FontDescriptor" in kin, each.BaseFont


def test_pages_are_numbered_n_of_m(looked: Built) -> None:
    """A cover has no number; the thin theme begins with a title block instead."""
    total = len(looked.texts)
    for number, text in enumerate(looked.texts, 1):
        ends = re.findall(r"(\d+) \w+ (\d+)\s*$", text)
        cover = number == 1 and looked.theme.name == "quay"
        assert (ends == [(str(number), str(total))]) is not cover


def entries(booklet: Built) -> list[tuple[int, str]]:
    """The lines of the contents: page number and title.

    A step's number stands before its title; a title may run over two lines.
    """
    found: list[tuple[int, str]] = []
    begun = ""
    for line in booklet.text_of("contents").splitlines():
        whole = re.fullmatch(r"(?:\d+ )?(\D.*?) ?\b(\d+)", f"{begun} {line}".strip())
        if whole:
            found.append((int(whole[2]), whole[1].strip()))
        begun = "" if whole else re.sub(r"^Contents.*", "", line)
    return found


def squeezed(text: str) -> str:
    return "".join(text.split())


def test_the_contents_name_the_pages_where_headings_are(booklet: Built) -> None:
    listed = entries(booklet)
    assert len(listed) >= len(set(booklet.places) & set(SECTIONS)) - 2
    for page, title in listed:
        assert squeezed(title) in squeezed(booklet.texts[page - 1])
    falls = [n for n, (a, b) in enumerate(pairwise(page for page, _ in listed), 1) if b < a]
    assert len(falls) <= 1, "the parts in order, and then the steps"


def test_links_of_the_contents_lead_where_the_numbers_say(booklet: Built, pdf: pikepdf.Pdf) -> None:
    places = booklet.places
    asked = [
        str(link.Dest)
        for number in booklet.pages_of("contents")
        for link in pdf.pages[number - 1].obj.get("/Annots", [])
    ]
    # A title of two lines has a link on each.
    assert [places[each] for each in dict.fromkeys(asked)] == [p for p, _ in entries(booklet)]


def test_the_outline_leads_to_the_sections(booklet: Built, pdf: pikepdf.Pdf) -> None:
    numbers = {page.obj.objgen: n for n, page in enumerate(pdf.pages, 1)}
    with pdf.open_outline() as outline:
        found = {item.title: numbers[item.destination[0].objgen] for item in outline.root}
    assert found
    for title, page in found.items():
        assert squeezed(title) in squeezed(booklet.texts[page - 1])
    listed = {page for page, _ in entries(booklet)} | {booklet.places["contents"]}
    assert set(found.values()) <= listed


def test_nothing_leads_out_of_the_booklet(pdf: pikepdf.Pdf) -> None:
    kinds = {
        str(each.S)
        for each in pdf.objects
        if isinstance(each, pikepdf.Dictionary) and "/S" in each and "/URI" in each
    }
    actions = [
        annotation
        for page in pdf.pages
        for annotation in page.obj.get("/Annots", [])
        if "/A" in annotation or "/AA" in annotation
    ]
    assert not kinds
    assert actions == []
    assert not {"/OpenAction", "/AA", "/AcroForm", "/EmbeddedFiles"} & set(pdf.Root.keys())


def elements(node: Any) -> Iterator[pikepdf.Object]:
    """All elements of the structure tree, in reading order."""
    if isinstance(node, pikepdf.Array):
        for each in node:
            yield from elements(each)
    elif isinstance(node, pikepdf.Dictionary):
        if "/S" in node:
            yield node
        if "/K" in node:
            yield from elements(node.K)


def test_every_figure_says_what_it_shows(pdf: pikepdf.Pdf) -> None:
    figures = [e for e in elements(pdf.Root.StructTreeRoot.K) if e.S == "/Figure"]
    assert figures
    for figure in figures:
        assert len(str(figure.get("/Alt", "")).split()) >= 2


def test_headings_step_down_one_level_at_a_time(pdf: pikepdf.Pdf) -> None:
    # Matterhorn Protocol 1.1, 14-002 and 14-003: first H1, and no level skipped.
    levels = [
        int(str(e.S)[2:])
        for e in elements(pdf.Root.StructTreeRoot.K)
        if re.fullmatch(r"/H[1-6]", str(e.S))
    ]
    assert levels[0] == 1
    assert all(later <= former + 1 for former, later in pairwise(levels))


@cache
def drawn(path: Path | io.BytesIO) -> list[NDArray[Any]]:
    """Each page at 72 dots to the inch, in grey."""
    pages = pypdfium2.PdfDocument(path)
    return [pages[n].render(scale=1, grayscale=True).to_numpy() for n in range(len(pages))]


def test_nothing_is_printed_outside_what_both_papers_hold(booklet: Built) -> None:
    for number, page in enumerate(drawn(booklet.pdf), 1):
        high, wide = page.shape
        left, top = (wide - LIVE[0] / MM) / 2, (high - LIVE[1] / MM) / 2
        inner = numpy.zeros(page.shape, dtype=bool)
        # A pixel on the edge may be touched by a line that ends on it.
        inner[int(top) - 1 : high - int(top) + 1, int(left) - 1 : wide - int(left) + 1] = True
        assert page[~inner].min() >= BLANK, f"page {number}"
        assert min(left, top) * MM >= 9.6, "the live area keeps clear of the edge"


def test_no_page_is_empty_but_for_its_foot(looked: Built) -> None:
    for number, page in enumerate(drawn(looked.pdf), 1):
        assert not nearly_empty(page), f"page {number} is nearly empty"


@pytest.mark.parametrize(
    ("style", "wrong"), [("", False), ("position: absolute; top: 246mm", True)]
)
def test_a_page_that_holds_no_more_than_its_foot_is_found(style: str, wrong: bool) -> None:
    words = "Glue the shelf to the back. " * 3
    stream = io.BytesIO(spoiled(f'<p style="{style}">{words}</p>').pdf.stream.getvalue())
    (page,) = drawn(stream)
    assert nearly_empty(page) is wrong


def nearly_empty(page: NDArray[Any]) -> bool:
    """Whether a page has next to no ink above its foot."""
    foot = int((LIVE[1] - 10) / MM + (page.shape[0] - LIVE[1] / MM) / 2)
    return bool((page[:foot] < 128).sum() <= 200)


def test_every_section_that_the_design_calls_for_is_there(booklet: Built) -> None:
    asked = {
        "cover",
        "contents",
        "make",
        "print",
        "cautions",
        "needs",
        "cutting",
        "steps",
        "imprint",
    }
    if any(part["template"] for part in booklet.facts["parts"]):
        asked.add("templates")
    assert asked <= set(booklet.places)
    order = [booklet.places[name] for name in SECTIONS if name in booklet.places]
    assert order == sorted(order)


def boxes(page: pypdfium2.PdfPage) -> tuple[NDArray[Any], NDArray[Any]]:
    """Left, low, right and high edge of the ink of each letter in points, and its place in turn.

    The slash of a fraction is left out: it leans over its neighbours by design.
    """
    text = page.get_textpage()
    count = text.count_chars()
    slashes = {n for n, letter in enumerate(text.get_text_range(0, count)) if letter in "⁄/"}
    found = [(n, text.get_charbox(n)) for n in range(count) if n not in slashes]
    inked = [(n, box) for n, box in found if box[2] - box[0] > 0.5 and box[3] - box[1] > 0.5]
    return numpy.array([box for _, box in inked]), numpy.array([n for n, _ in inked])


def overprinted(found: NDArray[Any], turns: NDArray[Any]) -> int:
    """How many pairs of letters cover more than a third of each other's box.

    Letters next to each other may, as in a ligature.
    """
    if not len(found):
        return 0
    shapes = shapely.box(*found.T)
    one, two = shapely.STRtree(shapes).query(shapes)  # of letters that touch at all
    low = numpy.maximum(found[one, :2], found[two, :2])
    high = numpy.minimum(found[one, 2:], found[two, 2:])
    shared = numpy.clip(high - low, 0, None).prod(axis=1)
    area = (found[:, 2:] - found[:, :2]).prod(axis=1)
    far = turns[two] - turns[one] > 2
    return int((far & (shared > numpy.minimum(area[one], area[two]) / 3)).sum())


def test_letters_over_each_other_are_found() -> None:
    apart = numpy.array([[0, 0, 5, 8], [6, 0, 11, 8], [0, 10, 5, 18]], dtype=float)
    turns = numpy.array([0, 9, 18])
    assert overprinted(apart, turns) == 0
    assert overprinted(apart - [[0, 0, 0, 0], [4, 0, 4, 0], [0, 0, 0, 0]], turns) == 1
    assert overprinted(apart - [[0, 0, 0, 0], [4, 0, 4, 0], [0, 0, 0, 0]], numpy.arange(3)) == 0


def test_no_letters_are_printed_over_each_other(looked: Built) -> None:
    pages = pypdfium2.PdfDocument(looked.pdf)
    found = {n: overprinted(*boxes(pages[n - 1])) for n in range(1, len(pages) + 1)}
    assert not {page: pairs for page, pairs in found.items() if pairs}
