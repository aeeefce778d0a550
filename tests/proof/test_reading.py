"""What stands in the file is read right: by our reader, and the same by two others.

pdfium and pikepdf share no code with each other or with us; ISO 32000-1 says what operators mean.
"""

from __future__ import annotations

import ctypes
import io
import math
import re
from collections.abc import Iterator
from typing import Any

import pikepdf
import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from patternpress.proof.drawings import drawings_of
from patternpress.proof.marks import Place, Words
from patternpress.proof.reading import Booklet, read
from patternpress.proof.rows import rows_of
from tests.proof import saboteur as s
from tests.whole.demos import MM, Built


@pytest.fixture(scope="session")
def read_shelf(shelf: Built) -> Booklet:
    return read(shelf.pdf.read_bytes())


# ------------------------------------------------------------------ the first experiment


def said(mark: Any, key: str) -> str:
    """A string parameter of a mark of pdfium's, or nothing."""
    buffer, length = ctypes.create_string_buffer(400), ctypes.c_ulong()
    wide = ctypes.cast(buffer, ctypes.POINTER(pdfium.FPDF_WCHAR))
    if key == "":
        pdfium.FPDFPageObjMark_GetName(mark, wide, 400, ctypes.byref(length))
    elif not pdfium.FPDFPageObjMark_GetParamStringValue(
        mark, key.encode(), wide, 400, ctypes.byref(length)
    ):
        return ""
    return buffer.raw[: length.value].decode("utf-16-le").rstrip("\0")


def outlines_by_pdfium(page: pypdfium2.PdfPage) -> Iterator[tuple[str, list[Place]]]:
    """Part and places, in mm, of each path that is marked as an outline."""
    for index in range(pdfium.FPDFPage_CountObjects(page.raw)):
        each = pdfium.FPDFPage_GetObject(page.raw, index)
        marks = [
            pdfium.FPDFPageObj_GetMark(each, n) for n in range(pdfium.FPDFPageObj_CountMarks(each))
        ]
        if "outline" not in [said(mark, "As") for mark in marks]:
            continue
        part = next(said(mark, "Part") for mark in marks if said(mark, "") == "Template")
        matrix = pdfium.FS_MATRIX()
        pdfium.FPDFPageObj_GetMatrix(each, matrix)
        places = []
        for n in range(pdfium.FPDFPath_CountSegments(each)):
            segment = pdfium.FPDFPath_GetPathSegment(each, n)
            x, y = ctypes.c_float(), ctypes.c_float()
            pdfium.FPDFPathSegment_GetPoint(segment, x, y)
            across = matrix.a * x.value + matrix.c * y.value + matrix.e
            up = matrix.b * x.value + matrix.d * y.value + matrix.f
            places.append((across * MM, up * MM))
        yield part, places


def test_a_tagged_outline_is_found_again_by_pdfium_and_by_us(
    shelf: Built, read_shelf: Booklet
) -> None:
    """The experiment that the design of the proof rests on."""
    pages = pypdfium2.PdfDocument(shelf.pdf)
    for number in shelf.pages_of("templates"):
        theirs = dict(outlines_by_pdfium(pages[number - 1]))
        ours = {each.part: each for each in drawings_of(read_shelf) if each.page == number}
        assert theirs.keys() == ours.keys() != set()
        for part, places in theirs.items():
            (track,) = ours[part].tracks[("outline", "")]
            drawn = [place for place in places if math.dist(place, (0, 0)) > 0]
            for one in track.points:
                assert (
                    min(math.dist(one, other) for other in drawn) < 0.0005
                )  # pdfium's are float32


def test_the_tags_of_every_template_are_those_of_the_facts(
    booklet: Built,
) -> None:
    """By pikepdf alone, as the contract in DEVELOPERS.md has it."""
    found = {}
    with pikepdf.open(booklet.pdf) as pdf:
        for page in pdf.pages:
            for each in s.stretches(s.operations(page), "Template"):
                found[each.facts["Part"], each.facts.get("Hand", "")] = each.facts
    for part in booklet.facts["parts"]:
        hands = ("left", "right") if part["twins"] else ("",)
        for hand in hands if part["template"] else ():
            facts = found.pop((part["letter"], hand))
            assert facts["Name"] == part.get("called", part["name"])
            assert re.fullmatch(r"1:\d+", facts["Scale"])
    assert found == {}


# ------------------------------------------------------------------ words


def test_words_are_read_as_pdfium_reads_them(shelf: Built, read_shelf: Booklet) -> None:
    for page, text in zip(read_shelf.pages, shelf.texts, strict=True):
        ours = re.sub(r"\W", "", page.text)
        theirs = re.sub(r"\W", "", text)
        assert sorted(ours) == sorted(theirs), page.number


def test_letters_put_together_make_the_rows_of_a_drawing(read_shelf: Booklet) -> None:
    rows = {row for each in drawings_of(read_shelf) for row in each.rows}
    assert {"B", "backboard", "make 1", "seen from the front", "2 1⁄2 in (63.5 mm)"} <= rows


def test_the_sheet_is_what_pdfium_says(shelf: Built, read_shelf: Booklet) -> None:
    pages = pypdfium2.PdfDocument(shelf.pdf)
    for page in read_shelf.pages:
        width, height = pages[page.number - 1].get_size()
        assert (page.width, page.height) == pytest.approx((width * MM, height * MM), abs=1e-3)


# ------------------------------------------------------------------ operators


def drawn(content: bytes) -> Booklet:
    """A sheet of 100 × 100 points with this content."""
    pdf = pikepdf.new()
    pdf.add_blank_page(page_size=(100, 100))
    pdf.pages[0].obj.Contents = pdf.make_stream(content)
    out = io.BytesIO()
    pdf.save(out)
    return read(out.getvalue())


@pytest.mark.parametrize(
    ("content", "points"),
    [
        (b"10 20 m 30 40 l S", [(10, 20), (30, 40)]),
        (b"q 2 0 0 3 5 7 cm 10 20 m 30 40 l S Q", [(25, 67), (65, 127)]),
        (b"q 0 1 -1 0 0 0 cm 10 20 m 30 40 l S Q", [(-20, 10), (-40, 30)]),
        (b"q 2 0 0 2 0 0 cm q 1 0 0 1 3 4 cm 1 1 m 2 2 l S Q Q", [(8, 10), (10, 12)]),
        (b"10 20 30 40 re S", [(10, 20), (40, 20), (40, 60), (10, 60)]),
        (b"1 1 m 2 3 4 5 6 7 c S", [(1, 1), (2, 3), (4, 5), (6, 7)]),
        (b"1 1 m 4 5 6 7 v S", [(1, 1), (1, 1), (4, 5), (6, 7)]),
        (b"1 1 m 2 3 6 7 y S", [(1, 1), (2, 3), (6, 7), (6, 7)]),
    ],
)
def test_paths_are_where_the_operators_put_them(
    content: bytes, points: list[tuple[float, float]]
) -> None:
    (line,) = drawn(content).pages[0].lines
    (track,) = line.tracks
    assert [(x / MM, y / MM) for x, y in track.points] == [pytest.approx(each) for each in points]


def test_a_path_ended_without_paint_is_not_drawn_and_clips_what_follows() -> None:
    (line,) = drawn(b"10 10 20 20 re W n 0 0 m 90 90 l S").pages[0].lines
    assert line.clip == pytest.approx([10 * MM, 10 * MM, 30 * MM, 30 * MM])


def test_white_on_white_is_not_seen() -> None:
    lines = drawn(b"1 G 0 0 m 9 9 l S 0 G 0 0 m 9 9 l S 1 1 1 rg 1 1 5 5 re f").pages[0].lines
    assert [line.unseen for line in lines] == [True, False, True]


def test_what_does_not_close_is_told() -> None:
    assert drawn(b"Q EMC /X Do").pages[0].problems == (
        "Q without q",
        "EMC without BMC",
        "nothing called /X to draw",
    )


def test_a_form_that_draws_itself_ends() -> None:
    pdf = pikepdf.new()
    pdf.add_blank_page(page_size=(100, 100))
    form = pdf.make_stream(b"/F Do")
    form.Type, form.Subtype = pikepdf.Name.XObject, pikepdf.Name.Form
    form.Resources = pikepdf.Dictionary(XObject=pikepdf.Dictionary(F=form))
    pdf.pages[0].obj.Resources = pikepdf.Dictionary(XObject=pikepdf.Dictionary(F=form))
    pdf.pages[0].obj.Contents = pdf.make_stream(b"/F Do")
    out = io.BytesIO()
    pdf.save(out)
    assert "forms within forms without end" in read(out.getvalue()).pages[0].problems


def test_rows_part_where_the_gap_is_wide() -> None:
    def word(text: str, x: float, size: float = 10) -> Words:
        return Words(text, (x, 0), (1, 0), 2.0, size, "F", ())

    apart = [word("a", 0), word("b", 2), word("c", 4.8), word("d", 12), word("B", 14, 30)]
    assert [row.text for row in rows_of(apart)] == ["ab c", "d", "B"]
