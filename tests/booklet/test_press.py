"""A small booklet pressed in sections, read back with pikepdf, pypdfium2 and pdfplumber."""

from __future__ import annotations

import dataclasses
import datetime
import hashlib
import io
import os
import re
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pdfplumber
import pikepdf
import pypdfium2
import pyphen
import pytest
from fontTools.pens.boundsPen import BoundsPen
from fontTools.pens.recordingPen import DecomposingRecordingPen
from fontTools.ttLib import TTFont

from patternpress.booklet import pressroom
from patternpress.booklet.feet import Foot
from patternpress.booklet.fetch import Fence
from patternpress.booklet.fonts import FACES, PLAIN, PROSE, file_of
from patternpress.booklet.hyphens import mend_lists_for
from patternpress.booklet.join import BookInfo
from patternpress.booklet.prepress import fill_page_numbers, page_of
from patternpress.booklet.press import (
    Laid,
    Section,
    draw_section,
    lay_out_section,
    press_section,
    takes_numbers,
)
from patternpress.booklet.pressroom import Booklet, press_book

HERE = Path(__file__).resolve().parent
CSS = f"""
@page {{ size: A4; margin: 16mm 15mm 20mm }}
html {{ font-family: '{PROSE}'; font-size: 10pt }} h1, h2, table, figcaption {{
  font-family: '{PLAIN}' }} .leaf {{ break-before: page }}
.stack {{ font-family: '{PLAIN}'; font-feature-settings: 'frac' }}
"""
WIDE = "@page { size: 279.4mm 215.9mm; margin: 10mm }"
INFO = BookInfo(
    title="Keeper’s cupboard",
    author="A. Maker",
    language="en-GB",
    version="1.2",
    date=datetime.date(2024, 5, 1),
    licence="For your own bench",
    keywords=("cupboard", "1:12"),
    identifier="facts-0123",
)
FOOT = Foot("Keeper’s cupboard · 1.2 · 2024-05-01", "page {page} of {pages}")


def ref(anchor: str) -> str:
    return f'<a href="#{anchor}" style="white-space: nowrap"><b>page</b> {page_of(anchor)}</a>'


def figure(words: str) -> str:
    return (
        '<figure><svg xmlns="http://www.w3.org/2000/svg" width="100mm" height="40mm"'
        f' viewBox="0 0 100 40"><title>{words}</title><path d="M0 20 L100 20" fill="none"'
        ' stroke="#000" stroke-width="0.25"/></svg></figure>'
    )


def section(key: str, title: str, body: str, *css: str) -> Section:
    html = (
        f'<!doctype html><html lang="en-GB"><head><title>{title}</title></head>'
        f'<body><section id="{key}"><h1>{title}</h1>{body}</section></body></html>'
    )
    return Section(key, title, html, (CSS, *css), HERE, in_contents=key != "cover")


def small_book() -> list[Section]:
    keys = ("cutting", "templates", "steps", "imprint")
    contents = "".join(f"<li>{key}, {ref(key)}</li>" for key in keys)
    rows = "".join(
        f'<tr><th scope="row">{n}</th><td><span class="stack">35⁄64</span>″ × 2′</td>'
        f"<td>{ref('shelf')}</td></tr>"
        for n in range(60)
    )
    table = f"<table><thead><tr><th>part</th><th>size</th><th>where</th></tr></thead>{rows}</table>"
    steps = "".join(
        f'<div class="leaf" id="step{n}"><h2>Step {n}</h2><p>Glue it, see {ref("shelf")} and'
        f" {ref(f'step{n + 1}' if n < 9 else 'imprint')}.</p>{figure(f'Step {n} done')}</div>"
        for n in range(1, 10)
    )
    return [
        section("cover", "Keeper’s cupboard", figure("The cupboard, closed")),
        section("contents", "Contents", f"<ul>{contents}</ul>"),
        section("cutting", "Cutting list", table),
        section("templates", "Templates", f'<h2 id="shelf">Shelf</h2>{figure("Shelf")}', WIDE),
        section("steps", "Steps", steps),
        section("imprint", "Imprint", '<p><a href="https://example.org/">Home</a></p>'),
    ]


def press_small() -> Booklet:
    return press_book(small_book(), INFO, Fence((HERE,)), foot=FOOT)


@pytest.fixture(scope="module")
def booklet() -> Booklet:
    return press_small()


@pytest.fixture(scope="module")
def pdf(booklet: Booklet) -> Iterator[pikepdf.Pdf]:
    with pikepdf.open(io.BytesIO(booklet.pdf)) as document:
        yield document


@pytest.fixture(scope="module")
def texts(booklet: Booklet) -> list[str]:
    return read_texts(booklet.pdf)


def read_texts(pdf: bytes) -> list[str]:
    pages = pypdfium2.PdfDocument(pdf)
    return [pages[n].get_textpage().get_text_range() for n in range(len(pages))]


def instructions(page: Any) -> Iterator[tuple[str, Any]]:
    """Yield operator and operands of a page's content, in order."""
    for instruction in pikepdf.parse_content_stream(page):
        yield str(instruction.operator), instruction.operands


def elements(node: Any) -> Iterator[Any]:
    """Walk the structure tree as a screen reader does, from the root down."""
    if isinstance(node, pikepdf.Array):
        for kid in node.as_list():
            yield from elements(kid)
    elif isinstance(node, pikepdf.Dictionary) and "/S" in node:
        yield node
        if "/K" in node:
            yield from elements(node.K)


def test_a_sound_booklet_has_no_complaints(booklet: Booklet) -> None:
    assert booklet.complaints == ()
    assert booklet.pages == 16


def test_the_file_is_sound(pdf: pikepdf.Pdf) -> None:
    assert pdf.check_pdf_syntax() == []


def test_every_page_says_its_number_and_how_many_there_are(texts: list[str]) -> None:
    for number, text in enumerate(texts, start=1):
        assert re.findall(r"page (\d+) of (\d+)", text) == [(str(number), "16")]
        assert FOOT.left in text


def test_contents_and_references_show_the_true_pages(booklet: Booklet, texts: list[str]) -> None:
    heads = {"cutting": "Cutting list", "templates": "Templates", "steps": "Steps"}
    for key, head in heads.items():
        number = booklet.numbers[key]
        assert f"{key}, page {number}" in texts[1]
        assert texts[number - 1].startswith(head)
    shelf = booklet.numbers["shelf"]
    assert "Shelf" in texts[shelf - 1]
    for n in range(1, 10):
        following = booklet.numbers["imprint" if n == 9 else f"step{n + 1}"]
        assert f"see page {shelf} and page {following}." in texts[booklet.numbers[f"step{n}"] - 1]


def words_in(page: Any, rectangle: Any) -> str:
    """Return the text whose letters have their middle in a PDF rectangle."""
    x0, y0, x1, y1 = (float(v) for v in rectangle.as_list())
    bottom, top = sorted((float(page.height) - y0, float(page.height) - y1))
    return "".join(
        letter["text"]
        for letter in page.chars
        if x0 < (letter["x0"] + letter["x1"]) / 2 < x1
        and bottom < (letter["top"] + letter["bottom"]) / 2 < top
    )


def test_each_link_leads_to_the_page_whose_number_it_shows(booklet: Booklet) -> None:
    with pdfplumber.open(io.BytesIO(booklet.pdf)) as plumbed:
        document = pikepdf.open(io.BytesIO(booklet.pdf))
        names = document.Root.Names.Dests.Names.as_list()
        assert [bytes(n) for n in names[::2]] == sorted(bytes(n) for n in names[::2])
        places = {str(n): place for n, place in zip(names[::2], names[1::2], strict=True)}
        numbers = {page.obj.objgen: n for n, page in enumerate(document.pages, start=1)}
        seen = 0
        for page, plumb in zip(document.pages, plumbed.pages, strict=True):
            for link in page.obj.get("/Annots", pikepdf.Array()).as_list():
                if "/Dest" not in link:
                    continue
                words = words_in(plumb, link.Rect)
                found = numbers[places[str(link.Dest)][0].objgen]
                assert words.replace(" ", "") == f"page{found}"
                assert str(link.Contents)
                seen += 1
        assert seen == 4 + 60 + 18


def test_a_link_out_of_the_booklet_stays(pdf: pikepdf.Pdf) -> None:
    (link,) = pdf.pages[-1].Annots.as_list()
    assert str(link.A.URI) == "https://example.org/"


def test_the_outline_names_sections_and_headings(booklet: Booklet, pdf: pikepdf.Pdf) -> None:
    with pdf.open_outline() as outline:
        found = [(str(i.title), [str(c.title) for c in i.children]) for i in outline.root]
        pages = {page.obj.objgen: n for n, page in enumerate(pdf.pages, start=1)}
        places: list[Any] = [item.destination for item in outline.root]
    leads = [pages[place[0].objgen] for place in places]
    assert found == [
        ("Contents", []),
        ("Cutting list", []),
        ("Templates", ["Shelf"]),
        ("Steps", [f"Step {n}" for n in range(1, 10)]),
        ("Imprint", []),
    ]
    keys = ("contents", "cutting", "templates", "steps", "imprint")
    assert leads == [booklet.numbers[key] for key in keys]


def test_the_print_dialog_opens_with_actual_size(booklet: Booklet, pdf: pikepdf.Pdf) -> None:
    """ISO 32000-1, table 150: /None is no scaling; an unknown name, as /None_, is AppDefault."""
    plain = io.BytesIO()
    pdf.save(plain, object_stream_mode=pikepdf.ObjectStreamMode.disable)
    assert re.search(rb"/PrintScaling /None\b(?!_)", plain.getvalue())
    assert b"/DisplayDocTitle true" in plain.getvalue()


def test_the_booklet_says_what_it_is(pdf: pikepdf.Pdf) -> None:
    assert str(pdf.Root.Lang) == "en-GB"
    assert str(pdf.docinfo.Title) == INFO.title
    assert str(pdf.docinfo.CreationDate) == "D:20240501000000Z"
    with pdf.open_metadata(update_docinfo=False, set_pikepdf_as_editor=False) as xmp:
        assert xmp["dc:title"] == INFO.title
        assert xmp["dc:creator"] == [INFO.author]
        assert xmp["dc:rights"] == INFO.licence
        assert xmp["dc:identifier"] == INFO.identifier
        assert xmp["xmp:CreateDate"] == "2024-05-01T00:00:00Z"
        assert xmp["{http://www.aiim.org/pdfua/ns/id/}part"] == "1"


def test_each_figure_keeps_its_words(pdf: pikepdf.Pdf) -> None:
    found = [str(e.Alt) for e in elements(pdf.Root.StructTreeRoot.K) if e.S == "/Figure"]
    steps = [f"Step {n} done" for n in range(1, 10)]
    assert found == ["The cupboard, closed", "Shelf", *steps]


def test_every_mark_has_its_place_in_the_structure(pdf: pikepdf.Pdf) -> None:
    """ISO 32000-1, 14.7.4.4: each marked content is found in the ParentTree and back."""
    numbers = pdf.Root.StructTreeRoot.ParentTree.Nums.as_list()
    keys = [int(key) for key in numbers[::2]]
    assert keys == list(range(len(keys)))
    assert int(pdf.Root.StructTreeRoot.ParentTreeNextKey) == len(keys)
    parents = dict(zip(keys, numbers[1::2], strict=True))
    in_tree = {e.objgen for e in elements(pdf.Root.StructTreeRoot.K)}
    for page in pdf.pages:
        marked = [
            int(operands[1].MCID)
            for operator, operands in instructions(page)
            if operator == "BDC" and "/MCID" in operands[1]
        ]
        row = parents[int(page.obj.StructParents)].as_list()
        assert sorted(marked) == list(range(len(row)))
        assert all(element.objgen in in_tree for element in row)
        assert all(element.Pg.objgen == page.obj.objgen for element in row)
        for link in page.obj.get("/Annots", pikepdf.Array()).as_list():
            element = parents[int(link.StructParent)]
            assert element.S == "/Link"
            assert element.objgen in in_tree


def test_every_element_knows_its_parent(pdf: pikepdf.Pdf) -> None:
    root = pdf.Root.StructTreeRoot
    (document,) = root.K.as_list()
    assert document.P.objgen == root.objgen
    for parent in elements(root.K):
        kids = parent.K.as_list() if isinstance(parent.get("/K"), pikepdf.Array) else []
        for kid in kids:
            if isinstance(kid, pikepdf.Dictionary) and "/S" in kid:
                assert kid.P.objgen == parent.objgen


def test_feet_are_artifacts_and_all_else_is_tagged(pdf: pikepdf.Pdf) -> None:
    for page in pdf.pages:
        open_marks, feet = 0, []
        for operator, operands in instructions(page):
            if operator in ("BDC", "BMC"):
                open_marks += 1
                feet += [operands[1].Subtype] if "/Subtype" in str(operands[-1]) else []
            elif operator == "EMC":
                open_marks -= 1
            elif operator in ("Tj", "TJ", "Do"):
                assert open_marks > 0
        assert feet == ["/Footer"]


def test_header_cells_are_told_apart_across_sections(pdf: pikepdf.Pdf) -> None:
    found = list(elements(pdf.Root.StructTreeRoot.K))
    ids = [str(e.ID) for e in found if "/ID" in e]
    assert len(ids) == len(set(ids)) > 60
    asked = {str(h) for e in found if e.S == "/TD" for h in e.A.Headers.as_list()}
    assert asked
    assert asked <= set(ids)
    scopes = {str(e.A.Scope) for e in found if e.S == "/TH"}
    assert scopes == {"/Column", "/Row"}


def test_pages_keep_their_own_size(pdf: pikepdf.Pdf, booklet: Booklet) -> None:
    sizes = [tuple(round(float(v) / 72 * 25.4, 2) for v in p.mediabox[2:]) for p in pdf.pages]
    wide = booklet.numbers["templates"] - 1
    assert sizes[wide] == (279.4, 215.9)
    assert set(sizes) == {(210.0, 297.0), (279.4, 215.9)}


def test_a_line_of_100_mm_is_100_mm(booklet: Booklet) -> None:
    with pdfplumber.open(io.BytesIO(booklet.pdf)) as plumbed:
        (line,) = plumbed.pages[booklet.numbers["shelf"] - 1].lines
    assert (line["x1"] - line["x0"]) / 72 * 25.4 == pytest.approx(100, abs=0.001)


def test_joined_pages_read_as_if_pressed_in_one_go(booklet: Booklet) -> None:
    """Against the engine itself: all sections in one document, with the numbers filled in."""
    bodies = [
        re.sub(r"^.*?<body>|</body>.*$", "", s.html, flags=re.DOTALL).replace(
            "<section", f'<section class="leaf {s.key}"', 1
        )
        for s in small_book()
    ]
    wide = WIDE.replace("@page", "@page wide") + " .templates { page: wide }"
    whole = fill_page_numbers("".join(bodies), booklet.numbers)
    one = press_section(section("one", "", whole, wide, "h1:empty { display: none }"), Fence(()))
    apart = press_book(small_book(), INFO, Fence((HERE,)))
    assert read_texts(apart.pdf) == read_texts(one.pdf)


def embedded_fonts(pdf: pikepdf.Pdf) -> Iterator[tuple[str, Any, Any]]:
    for font in pdf.objects:
        if isinstance(font, pikepdf.Dictionary) and font.get("/Type") == "/Font":
            for below in font.get("/DescendantFonts", pikepdf.Array()).as_list():
                yield str(font.BaseFont), font, below.FontDescriptor


def test_every_glyph_comes_from_the_font_packages(pdf: pikepdf.Pdf) -> None:
    """Each embedded outline is drawn again, and once more from the package's own file."""
    originals = {}
    for face in FACES:
        weight = {400: "", 600: "-Semi-Bold", 700: "-Bold"}[face.weight]
        style = "-Italic" if face.style == "italic" else ""
        originals[face.family.replace(" ", "-") + weight + style] = TTFont(file_of(face))
    names = set()
    for name, font, descriptor in embedded_fonts(pdf):
        names.add(name.partition("+")[2])
        original = originals[name.partition("+")[2]]
        subset = TTFont(io.BytesIO(descriptor.FontFile2.read_bytes()))
        for glyph in glyphs_used(font):
            assert outline_of(subset, glyph) == outline_of(original, glyph)
    assert len(names) == 4


def glyphs_used(font: Any) -> dict[int, str]:
    """Read glyph -> text from a font's ToUnicode map."""
    pairs = re.findall(rb"<([0-9a-f]{4})> <([0-9a-f]+)>", font.ToUnicode.read_bytes())
    return {
        int(g, 16): bytes.fromhex(t.decode()).decode("utf-16-be") for g, t in pairs if t != b"ffff"
    }


def outline_of(font: TTFont, glyph: int) -> list[Any]:
    glyphs = font.getGlyphSet()
    pen = DecomposingRecordingPen(glyphs)
    glyphs[font.getGlyphName(glyph)].draw(pen)
    return list(pen.value)


def test_fractions_are_stacked_and_read_as_text(booklet: Booklet, texts: list[str]) -> None:
    """The figures of 35/64 are raised or lowered, and the text still says 35⁄64."""
    assert "35⁄64″ × 2′" in texts[booklet.numbers["cutting"] - 1]
    html = f'<html lang="en"><title>x</title><p class="stack" style="font-family: {PLAIN}">35⁄64'
    pressed = press_section(Section("x", "x", html, (CSS,), HERE), Fence(()))
    assert read_texts(pressed.pdf)[0].strip() == "35⁄64"
    plain = TTFont(file_of(FACES[0]))
    glyphs, heights = plain.getGlyphSet(), {}
    with pikepdf.open(io.BytesIO(pressed.pdf)) as document:
        ((_, font, _),) = embedded_fonts(document)
        for glyph, text in glyphs_used(font).items():
            pen = BoundsPen(glyphs)
            glyphs[plain.getGlyphName(glyph)].draw(pen)
            heights[text] = (pen.bounds[1], pen.bounds[3])
    assert all(heights[figure][0] > 200 for figure in "35")
    assert all(heights[figure][1] < 500 for figure in "64")


def test_plain_figures_have_one_width() -> None:
    """So that columns of figures stand straight without a feature."""
    for face in FACES:
        font = TTFont(file_of(face))
        if face.family == PLAIN:
            assert len({font["hmtx"][font.getBestCmap()[ord(d)]][0] for d in "0123456789"}) == 1
        wanted = "⁄×′″→☐±°½¼¾–·’" if face.style == "normal" else "⁄×′″±°½¼¾–·’"
        assert [sign for sign in wanted if ord(sign) not in font.getBestCmap()] == []
        features = {r.FeatureTag for r in font["GSUB"].table.FeatureList.FeatureRecord}
        assert "frac" in features


def test_a_sign_that_no_font_has_is_a_complaint() -> None:
    book = [section("a", "A", "<p>⌀ 3 mm</p>")]
    (complaint,) = press_book(book, INFO, Fence(())).complaints
    assert "U+2300" in complaint.text


def test_what_is_missing_or_double_is_a_complaint() -> None:
    links = f'<p>{ref("nowhere")}</p><p id="x">1</p><img src="no.png" alt="a boat">'
    book = [section("a", "A", links), section("b", "B", '<p id="x">2</p>')]
    found = press_book(book, INFO, Fence((HERE,))).complaints
    assert [(c.section, c.text) for c in found] == [
        ("a", "there is no such file"),
        ("a", "no page number: there is no place called nowhere"),
        ("", "two places are called x"),
        ("", "a link leads nowhere: there is no place called nowhere"),
    ]
    assert found[0].url == (HERE / "no.png").as_uri()


def test_two_sections_of_one_key_are_refused() -> None:
    with pytest.raises(ValueError, match="same key"):
        press_book([section("a", "A", ""), section("a", "B", "")], INFO, Fence(()))


def test_only_changed_sections_are_pressed_again(monkeypatch: pytest.MonkeyPatch) -> None:
    drawn: list[str] = []

    def watched(laid: Laid, shown: Section | None = None) -> Any:
        drawn.append(laid.section.key)
        return draw_section(laid, shown)

    monkeypatch.setattr(pressroom, "draw_section", watched)
    book, fence = [s for s in small_book() if s.key != "steps"], Fence((HERE,))
    book[1] = section("contents", "Contents", ref("imprint"))
    book[2] = section("cutting", "Cutting list", ref("shelf"))
    cache: dict[str, object] = {}
    first = press_book(book, INFO, fence, foot=FOOT, cache=cache)
    assert sorted(drawn) == sorted([s.key for s in book] + ["running feet"])
    drawn.clear()
    assert press_book(book, INFO, fence, foot=FOOT, cache=cache) == first
    assert drawn == []
    book[-1] = dataclasses.replace(book[-1], html=book[-1].html.replace("Home", "Our bench"))
    changed = press_book(book, INFO, fence, foot=FOOT, cache=cache)
    assert drawn == ["imprint"]
    assert changed == press_book(book, INFO, fence, foot=FOOT)


def test_a_changed_picture_is_pressed_again(tmp_path: Path) -> None:
    picture = tmp_path / "boat.svg"
    shape = '<svg xmlns="http://www.w3.org/2000/svg" width="{0}mm" height="9mm"/>'
    picture.write_text(shape.format(20), encoding="utf-8")
    page = section("a", "A", '<img src="boat.svg" alt="a boat">')
    book, cache = [dataclasses.replace(page, base=tmp_path)], dict[str, object]()
    first = press_book(book, INFO, Fence((tmp_path,)), cache=cache)
    assert press_book(book, INFO, Fence((tmp_path,)), cache=cache).pdf == first.pdf
    picture.write_text(shape.format(40), encoding="utf-8")
    assert press_book(book, INFO, Fence((tmp_path,)), cache=cache).pdf != first.pdf


def test_a_wrong_guess_of_the_numbers_changes_nothing(booklet: Booklet) -> None:
    guess = dict.fromkeys(booklet.numbers, 7)
    assert press_book(small_book(), INFO, Fence((HERE,)), foot=FOOT, guess=guess) == booklet


def numbered_section(pages: str, numbers: tuple[int, ...]) -> Section:
    shown = iter(numbers)
    return section(
        "a", "A", re.sub("#", lambda _: f'<span class="page-number">{next(shown)}</span>', pages)
    )


IN_TABLE = (
    "<table><thead><tr><th>page #</th></tr></thead>"
    + "<tr><td>shelf, page #</td></tr>" * 2
    + '</table><p style="text-align: justify">' + "see page # of these; " * 40 + "</p>"
)  # fmt: skip


def test_numbers_written_into_pages_that_stand_give_the_same_bytes() -> None:
    fence = Fence(())
    first, true = (tuple(range(start, start + 43)) for start in (11, 52))
    laid = lay_out_section(numbered_section(IN_TABLE, first), fence)
    wanted = numbered_section(IN_TABLE, true)
    assert takes_numbers(laid, wanted)
    assert draw_section(laid, wanted) == press_section(wanted, fence)


@pytest.mark.parametrize(
    ("pages", "number"),
    [
        ("see page #", 9),  # narrower
        ("see page #", 100),  # wider
        ("<h2>After page #</h2>", 23),  # stands in the outline, too
    ],
)
def test_numbers_that_would_move_something_are_laid_out_anew(pages: str, number: int) -> None:
    laid = lay_out_section(numbered_section(pages, (10,)), Fence(()))
    assert not takes_numbers(laid, numbered_section(pages, (number,)))


def test_a_section_of_steps_is_laid_out_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """It was laid out for its length, and again with the page numbers that it shows."""
    laid: list[str] = []

    def watched(section: Section, fence: Fence, *, tagged: bool = True) -> Laid:
        laid.append(section.key)
        return lay_out_section(section, fence, tagged=tagged)

    monkeypatch.setattr(pressroom, "lay_out_section", watched)
    front = section("front", "Front", '<div class="leaf"></div><p>one more page</p>')
    steps = section("steps", "Steps", "".join(ref("templates") for _ in range(3)))
    templates = section("templates", "Templates", "<p>A</p>")
    made = press_book([front, steps, templates], INFO, Fence((HERE,)), foot=FOOT)
    assert made.numbers["templates"] == 4
    assert laid == ["front", "templates", "steps", "running feet"]


def test_a_longer_section_moves_all_that_follow(booklet: Booklet) -> None:
    book = small_book()
    longer = book[2].html.replace("<table>", '<p>first</p><div class="leaf"></div><table>')
    book[2] = dataclasses.replace(book[2], html=longer)
    moved = press_book(book, INFO, Fence((HERE,)), foot=FOOT)
    assert moved.numbers["shelf"] == booklet.numbers["shelf"] + 1
    texts = read_texts(moved.pdf)
    assert f"templates, page {moved.numbers['templates']}" in texts[1]
    assert "page 17 of 17" in texts[-1]


CHILD = """
import hashlib, runpy, sys
if __name__ == "__main__":
    print(hashlib.sha256(runpy.run_path(sys.argv[1])["press_small"]().pdf).hexdigest())
"""


def test_same_input_same_bytes(booklet: Booklet, tmp_path: Path) -> None:
    """Another process, another hash seed, other fonts on the computer, another clock."""
    config = tmp_path / "fonts.conf"
    config.write_text("<fontconfig/>", encoding="utf-8")
    environment = {
        **os.environ,
        "PYTHONHASHSEED": "7" if os.environ.get("PYTHONHASHSEED") != "7" else "8",
        "PYTHONPATH": str(HERE.parents[1]),
        "FONTCONFIG_FILE": str(config),
        "TZ": "Asia/Tokyo",
        "SOURCE_DATE_EPOCH": "86400",
    }
    child = subprocess.run(
        [sys.executable, "-c", CHILD, str(Path(__file__).resolve())],
        env=environment, capture_output=True, text=True, check=True, timeout=60,
    )  # fmt: skip
    assert child.stdout.strip() == hashlib.sha256(booklet.pdf).hexdigest()


def test_the_environment_is_left_as_it_was(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("SOURCE_DATE_EPOCH", "7")
    monkeypatch.delenv("FONTCONFIG_FILE", raising=False)
    before = dict(os.environ)
    press_section(section("a", "A", ""), Fence(()))
    assert dict(os.environ) == before


def test_german_words_do_not_break_before_ck() -> None:
    """Pyphen's list breaks “Rü-ck-wand”."""
    mend_lists_for('<html lang="de">')
    words = ("Rückwand", "Stückliste", "Deckel", "Lindenbrett")
    broken = [pyphen.Pyphen(lang="de").inserted(word) for word in words]
    assert broken == ["Rück-wand", "Stück-lis-te", "Deckel", "Lin-den-brett"]


def test_parts_of_a_drawer_break_between_their_words() -> None:
    """Pyphen's list breaks “Schubla-den-front”."""
    mend_lists_for('<html lang="de">')
    words = ("Schubladenfront", "Schubladenrückwand", "Schubladen", "Schublade")
    broken = [pyphen.Pyphen(lang="de").inserted(word) for word in words]
    assert broken == ["Schubladen-front", "Schubladen-rück-wand", "Schubladen", "Schub-la-de"]
