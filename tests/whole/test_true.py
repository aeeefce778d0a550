"""Lengths measured in the finished PDF of every demo: bars, outlines, and the size of letters.

Lines are read back with pdfplumber, letters with pypdfium2.  A bar or an outline may be out by
0.01 mm at most: a tenth of what a maker can see on a steel rule, and a twentieth of a line's width.
"""

from __future__ import annotations

import ctypes
import math
from collections.abc import Iterator
from fractions import Fraction
from functools import cache
from pathlib import Path
from typing import Any

import pdfplumber
import pypdfium2
import pypdfium2.raw as pdfium
import pytest

from tests.whole.demos import MM, Built

OUT = 0.01  # mm
OUTLINE_WIDTH = 0.5  # mm, the wide line of ISO 128-2
# Heights of letters, mm (ISO 3098-1, nominal sizes): no lettering below 2.5, the small digits of
# a fraction 1.8.  Source Sans Pro's capitals are 0.660 em high (the font's own OS/2 table).
LETTERS, DIGITS = 2.5, 1.8
CAPITAL = 0.660
# Smallest letters anywhere, points: common practice for print, no source.
LEAST_POINTS = 6.9

Point = tuple[float, float]


@cache
def strokes(path: Path, number: int) -> list[tuple[float, list[Point]]]:
    """Width and points in mm, y upwards, of each line or outline of a page."""
    found = []
    with pdfplumber.open(path, pages=[number]) as pdf:
        page = pdf.pages[0]
        for kind in ("line", "rect", "curve"):
            for each in page.objects.get(kind, []):
                if not each["stroke"]:
                    continue
                points = [(x * MM, (float(page.height) - y) * MM) for x, y in each["pts"]]
                found.append((float(each["linewidth"]) * MM, points))
    return found


def segments(path: Path, number: int) -> Iterator[tuple[Point, Point]]:
    for _, points in strokes(path, number):
        if len(points) in (2, 3):  # pdfplumber closes a line on itself
            yield points[0], points[1]


def bars(booklet: Built, number: int) -> list[tuple[float, float]]:
    """For each bar on a page, its length in inches' marks and in millimetres' marks, in mm.

    A bar is a line with ticks standing on it: millimetres on one side, sixteenths on the other.
    """
    found = []
    lines = list(segments(booklet.pdf, number))
    for start, end in lines:
        for along, over in ((0, 1), (1, 0)):
            if abs(start[over] - end[over]) > OUT or abs(math.dist(start, end) - 101.6) > 1:
                continue
            zero, base = min(start[along], end[along]), start[over]
            sides: dict[bool, set[float]] = {True: set(), False: set()}
            for one, other in lines:
                foot, top = sorted((one, other), key=lambda point: abs(point[over] - base))
                if abs(foot[over] - base) < OUT and abs(one[along] - other[along]) < OUT:
                    sides[top[over] > base].add(round(foot[along] - zero, 4))
            if min(len(ticks) for ticks in sides.values()) < 50:
                continue
            few, many = sorted(sides.values(), key=len)
            assert len(few) == 4 * 16 + 1, "sixteenths of four inches"
            assert len(many) == 101, "millimetres"
            assert sorted(many) == pytest.approx(range(101), abs=OUT)
            assert sorted(few) == pytest.approx([n * 25.4 / 16 for n in range(65)], abs=OUT)
            found.append((max(few) - min(few), max(many) - min(many)))
    return found


def test_every_template_page_has_a_true_bar(booklet: Built) -> None:
    pages = booklet.pages_of("templates") if "templates" in booklet.places else range(0)
    for number in pages:
        measured = bars(booklet, number)
        assert measured, f"no bar on page {number}"
        for inches, millimetres in measured:
            assert inches == pytest.approx(101.6, abs=OUT)
            assert millimetres == pytest.approx(100, abs=OUT)


def test_the_bars_before_printing_are_true_both_ways(booklet: Built) -> None:
    found = [len(bars(booklet, page)) for page in booklet.pages_of("print")]
    assert sum(found) == 2


def outline_points(part: dict[str, Any]) -> list[Point]:
    """The corners of a part's outline, in mm from its lower left corner."""
    found = []
    for each in part["shape"]["outline"]:
        x, y = next(iter(each.values()))
        found.append((float(Fraction(x)), float(Fraction(y))))
    return found


def straight(part: dict[str, Any]) -> bool:
    return all("line" in each or "start" in each for each in part["shape"]["outline"])


def at_origin(points: list[Point]) -> set[Point]:
    left, low = min(x for x, _ in points), min(y for _, y in points)
    return {(round(x - left, 3), round(y - low, 3)) for x, y in points}


def ways(points: list[Point]) -> Iterator[set[Point]]:
    """A set of points as drawn, mirrored, and either of them turned to be read from the right."""
    for sign in (1, -1):
        mirrored = [(sign * x, y) for x, y in points]
        yield at_origin(mirrored)
        yield at_origin([(-y, x) for x, y in mirrored])


def same(one: set[Point], other: set[Point]) -> bool:
    """Whether each point of either set has one of the other within the tolerance."""
    return all(
        any(math.dist(p, q) <= OUT for q in there)
        for here, there in ((one, other), (other, one))
        for p in here
    )


def page_holds(booklet: Built, part: dict[str, Any]) -> bool:
    """Whether a part is small enough to be drawn full size on one page at all."""
    points = outline_points(part)
    spans = sorted(max(axis) - min(axis) for axis in zip(*points, strict=True))
    return spans[0] <= 150 and spans[1] <= 180


def test_straight_outlines_on_the_templates_are_the_facts_outlines(booklet: Built) -> None:
    if "templates" not in booklet.places:
        return
    drawn = [
        at_origin(points)
        for number in booklet.pages_of("templates")
        for width, points in strokes(booklet.pdf, number)
        if abs(width - OUTLINE_WIDTH) < 0.01 and len(points) > 3
    ]
    parts = [part for part in booklet.facts["parts"] if part["template"]]
    fitting = [part for part in parts if straight(part) and page_holds(booklet, part)]
    for part in fitting:
        wanted = list(ways(outline_points(part)))
        assert any(same(way, found) for found in drawn for way in wanted), part["name"]
    assert fitting or not any(straight(part) for part in parts if page_holds(booklet, part))


@cache
def letters(path: Path, number: int) -> list[tuple[str, float, float]]:
    """Each letter of a page, its size in points as it is printed, and its height up the page."""
    page = pypdfium2.PdfDocument(path)[number - 1]
    text = page.get_textpage()
    found = []
    for index in range(pdfium.FPDFText_CountChars(text)):
        letter = chr(pdfium.FPDFText_GetUnicode(text, index))
        if letter.isspace() or not letter.isprintable():
            continue
        matrix = pdfium.FS_MATRIX()
        pdfium.FPDFText_GetMatrix(text, index, matrix)
        x, y = ctypes.c_double(), ctypes.c_double()
        pdfium.FPDFText_GetCharOrigin(text, index, x, y)
        grown = math.sqrt(abs(matrix.a * matrix.d - matrix.b * matrix.c))
        size = pdfium.FPDFText_GetFontSize(text, index) * grown
        found.append((letter, size, y.value * MM))
    return found


def test_no_letter_is_too_small_to_read(booklet: Built) -> None:
    for number in range(1, len(booklet.texts) + 1):
        small = {
            (c, round(size, 2))
            for c, size, _ in letters(booklet.pdf, number)
            if size < LEAST_POINTS
        }
        assert not small, f"page {number}"


def test_lettering_in_templates_keeps_the_heights_of_the_standard(booklet: Built) -> None:
    if "templates" not in booklet.places:
        return
    for number in booklet.pages_of("templates"):
        found = letters(booklet.pdf, number)
        height = max(up for _, _, up in found)  # the head line of the page
        foot = min(up for _, _, up in found)
        for letter, size, up in found:
            if up > height - 3 or up < foot + 3:
                continue
            least = DIGITS if letter.isdigit() else LETTERS
            assert size * MM * CAPITAL >= least - 0.005, (number, letter, size)
