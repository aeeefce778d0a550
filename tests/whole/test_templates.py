"""The template pages of every demo: each part is a tagged figure, each page can be checked.

Structure is read with pikepdf, lines with pdfplumber.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from pathlib import Path
from typing import Any

import pdfplumber
import pikepdf
import pytest

from patternpress.booklet.build import build_corrected, build_cut_files
from patternpress.design.read import read_design
from patternpress.measure.printers import Correction
from tests.drawing.samples import F
from tests.whole.demos import DESIGNS, MM, Built
from tests.whole.test_true import bars

TITLE = re.compile(
    r"^Template ([A-HJ-NP-Z]{1,2}) (.+?)(?:, (left hand|right hand))?, "
    r"(full size|not full size – drawn at 1:\d+)(?:, sheet (\w+) of (\w+): .+)?\.$"
)


@cache
def alts(path: Path) -> dict[int, tuple[str, ...]]:
    """What the figures of each page are said to be, in the order of the structure."""
    found: dict[int, tuple[str, ...]] = {}
    with pikepdf.open(path) as pdf:
        numbers = {page.obj.objgen: n for n, page in enumerate(pdf.pages, 1)}
        for element in elements(pdf.Root.StructTreeRoot.K):
            if element.get("/S") == "/Figure":
                page = numbers[page_of(element).objgen]
                found[page] = (*found.get(page, ()), str(element.Alt))
    return found


def elements(kids: Any) -> Iterator[pikepdf.Dictionary]:
    for kid in kids if isinstance(kids, pikepdf.Array) else (kids,):
        if isinstance(kid, pikepdf.Dictionary):
            yield kid
            if "/K" in kid:
                yield from elements(kid.K)


def page_of(element: pikepdf.Dictionary) -> pikepdf.Dictionary:
    if "/Pg" in element:
        return element.Pg  # type: ignore[no-any-return]
    return next(each.Pg for each in elements(element.K) if "/Pg" in each)  # type: ignore[no-any-return]


def pages(booklet: Built) -> range:
    return booklet.pages_of("templates") if "templates" in booklet.places else range(0)


def titled(booklet: Built) -> Iterator[tuple[int, re.Match[str]]]:
    for number in pages(booklet):
        for alt in alts(booklet.pdf).get(number, ()):
            if (found := TITLE.match(alt)) is not None:
                yield number, found


def test_every_template_is_a_figure_that_names_part_and_scale(booklet: Built) -> None:
    if booklet.facts["edition"]["language"] != "en":
        return  # the words looked for are English
    asked = {part["letter"]: part["name"] for part in booklet.facts["parts"] if part["template"]}
    drawn = {found[1]: found[2] for _, found in titled(booklet)}
    assert drawn == asked


def test_both_hands_are_drawn(booklet: Built) -> None:
    hands: dict[str, set[str]] = {}
    for _, found in titled(booklet):
        if found[3]:
            hands.setdefault(found[1], set()).add(found[3])
    for letter, said in hands.items():
        assert said == {"left hand", "right hand"}, letter


def test_tiles_are_all_there_once_and_in_order(booklet: Built) -> None:
    tiles: dict[str, list[tuple[str, str]]] = {}
    for _, found in titled(booklet):
        if found[5]:
            tiles.setdefault(f"{found[1]} {found[3]}", []).append((found[5], found[6]))
    for name, sheets in tiles.items():
        letter = name.split()[0]
        count = len(sheets)
        assert sheets == [(f"{letter}{n}", f"{letter}{count}") for n in range(1, count + 1)]


def test_every_template_page_has_two_bars_and_a_square(booklet: Built) -> None:
    for number in pages(booklet):
        assert len(bars(booklet, number)) == 2, number
        assert squares(booklet.pdf, number) == 1, number


def squares(path: Path, number: int) -> int:
    """How many squares of 20 mm a page shows."""
    with pdfplumber.open(path, pages=[number]) as pdf:
        page = pdf.pages[0]
        sides = [
            (float(each["width"]) * MM, float(each["height"]) * MM)
            for each in (*page.rects, *page.curves)
        ]
    return sum(side == pytest.approx((20, 20), abs=0.01) for side in sides)


def test_a_reduced_page_says_so_at_its_head_and_no_other_does(booklet: Built) -> None:
    small = {number for number, found in titled(booklet) if "not full size" in found[4]}
    for number in pages(booklet):
        assert ("NOT FULL SIZE" in booklet.texts[number - 1]) is (number in small), number
    for number, found in titled(booklet):
        assert ("not full size" in found[4]) is (number in small)


TAUGHT = {  # the setting to choose, and what to do if a bar is out
    "en": ("“Actual size” or “100 %”", "change the setting and reprint"),
    "de": ("„Tatsächliche Größe“ oder „100 %“", "ändere die Einstellung und drucke neu"),
    "fr": ("« Taille réelle » ou « 100 % »", "changez le réglage et réimprimez"),
}


def test_the_page_before_printing_teaches_the_true_size(booklet: Built) -> None:
    said = _letters(booklet.text_of("print"))
    for words in TAUGHT[booklet.facts["edition"]["language"]]:
        assert _letters(words) in said


def _letters(text: str) -> str:
    """Letters and digits alone: a word may be parted at the end of a line."""
    return re.sub(r"[\W_]", "", text)


def test_the_page_before_printing_says_which_sheets_may_be_traced(booklet: Built) -> None:
    if booklet.facts["edition"]["language"] != "en":
        return  # the words looked for are English
    if not pages(booklet):
        return
    small = {number for number, found in titled(booklet) if "not full size" in found[4]}
    said = " ".join(booklet.text_of("print").split())
    first = pages(booklet)[0]
    if not small:
        assert "All sheets are at full size." in said
        return
    drawn = re.search(r"not to be traced: ([\d–, ]+)\.", said)
    assert drawn is not None
    assert numbers(drawn[1]) == {number - first + 1 for number in small}
    traced = re.search(r"to be traced: ([\d–, ]+)\.", said)
    assert traced is not None


def numbers(text: str) -> set[int]:
    found: set[int] = set()
    for run in text.split(","):
        low, _, high = run.strip().partition("–")
        found |= set(range(int(low), int(high or low) + 1))
    return found


def test_nothing_that_is_cut_after_measuring_has_a_template_unasked(booklet: Built) -> None:
    for part in booklet.facts["parts"]:
        assert not (part.get("measured_at") and part["template"]), part["name"]


# ------------------------------------------------------------------ one printer


def test_a_set_for_one_printer_cannot_be_taken_for_the_usual_one(tmp_path: Path) -> None:
    reading = read_design(DESIGNS / "net-tote.yaml")
    (path,) = build_corrected(reading, "metric", tmp_path, Correction(F("99.2"), F("99.5")))
    assert path.name == "net-tote-metric-templates-for-printer-99.2x99.5.pdf"
    with pikepdf.open(path) as pdf:
        scaling = pdf.Root.ViewerPreferences.PrintScaling
        assert str(scaling) == "/None"
        assert "99.2 × 99.5" in str(pdf.docinfo.Title).replace("\xa0", " ")
        count = len(pdf.pages)
    assert count == 5  # the end and the side of the tote on two sheets each, and the floor
    with pdfplumber.open(path) as pages:
        for page in pages.pages:
            text = page.extract_text()
            assert "ONLY for the printer" in text
            assert "for one printer, 99.2 × 99.5 mm" in text


def test_a_set_for_one_printer_is_stretched_on_paper(tmp_path: Path) -> None:
    reading = read_design(DESIGNS / "keepers-desk.yaml")
    (path,) = build_corrected(reading, "metric", tmp_path, Correction(F("99.2"), F("99.5")))
    with pdfplumber.open(path) as pdf:
        page = pdf.pages[0]
        widths = {
            (round(float(e["width"]) * MM, 2), round(float(e["height"]) * MM, 2))
            for e in (*page.rects, *page.curves)
            if float(e["linewidth"]) * MM == pytest.approx(0.5, abs=0.01)
        }
    # The bottom board, 80 x 42 mm: 80 / 0.992 and 42 / 0.995.
    assert (80.65, 42.21) in widths


def test_files_for_cutters_lie_in_a_folder_of_their_own(tmp_path: Path) -> None:
    reading = read_design(DESIGNS / "keepers-desk.yaml")
    paths = build_cut_files(reading, "metric", tmp_path, F("0.2"))
    names = [path.relative_to(tmp_path).as_posix() for path in paths]
    assert "keepers-desk-metric/templates/B-side-left.dxf" in names
    assert "keepers-desk-metric/templates/B-side-right.svg" in names
    assert len(names) == len(set(names))
    again = build_cut_files(reading, "metric", tmp_path / "again", F("0.2"))
    assert [p.read_bytes() for p in paths] == [p.read_bytes() for p in again]
