"""What can only be seen in the ink of a page: letters that lines run through, letters that are not
whole, and large empty areas.

In: a page of pypdfium2, which is spoiled by the looking: its letters are made invisible.  Out:
complaints in words, none for a sound page.  `test_page_ink.py` holds every page of every demo
booklet against the first two, and shows each of the three a page that is wrong.
"""

from __future__ import annotations

import ctypes
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import groupby
from typing import Any

import numpy
import pypdfium2
import pypdfium2.raw as pdfium
from numpy.typing import NDArray

from tests.whole.demos import MM

Ink = NDArray[numpy.int16]

SCALE = 6.0  # pixels a point: the foot of a “g” of 9 pt is 11 pixels high
SEEN = 40  # of 255: what differs by more is seen
LINE = 90  # of 255: a line darker than this by more runs through a letter
WIDE = 24  # pixels: a narrower letter is looked at whole, not at each edge
EDGE = 3  # pixels, half a point: as much of a letter's foot has ink for certain
INNER = 3  # pixels: a line nearer than this to the edge of a letter's box only touches it
PAPER = 245  # of 255: what is lighter is paper
EMPTY = 1 / 3  # of the area between running head and foot
CELL = 4.0  # mm: how finely empty areas are looked for


@dataclass(frozen=True)
class Letter:
    """A letter and the box of its own ink, in pixels from the top left."""

    sign: str
    left: int
    top: int
    right: int
    bottom: int


@dataclass(frozen=True)
class Inked:
    """A page as it is printed, the same without letters (0 is black), and its letters."""

    full: Ink
    bare: Ink
    letters: tuple[Letter, ...]


def look(page: pypdfium2.PdfPage) -> Inked:
    """Draw a page with and without its letters."""
    full = drawn(page)
    letters = tuple(_letters(page, full.shape[0]))
    for each in _texts(page):
        pdfium.FPDFTextObj_SetTextRenderMode(each, pdfium.FPDF_TEXTRENDERMODE_INVISIBLE)
    return Inked(full, drawn(page), letters)


def drawn(page: pypdfium2.PdfPage) -> Ink:
    """A page as it is printed on a grey printer."""
    found: Ink = page.render(scale=SCALE, grayscale=True).to_numpy().astype(numpy.int16)
    return found.reshape(found.shape[:2])


def _letters(page: pypdfium2.PdfPage, height: int) -> Iterator[Letter]:
    text = page.get_textpage()
    for number in range(text.count_chars()):
        left, low, right, high = (each * SCALE for each in text.get_charbox(number))
        sign = chr(pdfium.FPDFText_GetUnicode(text.raw, number))
        # A fraction's slash leans over its figures, and blanks have no ink.
        if sign not in "⁄/" and right - left > SCALE / 2 and high - low > SCALE / 2:
            yield Letter(sign, int(left), int(height - high), _up(right), _up(height - low))


def _up(length: float) -> int:
    return int(numpy.ceil(length))


def _texts(page: pypdfium2.PdfPage) -> Iterator[Any]:
    """The stretches of text of a page and of the drawings on it."""
    held = range(pdfium.FPDFPage_CountObjects(page.raw))
    waiting = [pdfium.FPDFPage_GetObject(page.raw, number) for number in held]
    while waiting:
        each = waiting.pop()
        kind = pdfium.FPDFPageObj_GetType(each)
        if kind == pdfium.FPDF_PAGEOBJ_TEXT:
            yield each
        elif kind == pdfium.FPDF_PAGEOBJ_FORM:
            inside = range(pdfium.FPDFFormObj_CountObjects(each))
            waiting += [pdfium.FPDFFormObj_GetObject(each, ctypes.c_ulong(n)) for n in inside]


def crossed(inked: Inked) -> Iterator[str]:
    """Words that a line, or the edge of something filled, runs through."""
    through = []
    for each in inked.letters:
        inner = inked.bare[
            each.top + INNER : each.bottom - INNER, each.left + INNER : each.right - INNER
        ]
        through.append(bool(inner.size) and int(inner.max()) - int(inner.min()) > LINE)
    yield from _told(inked, through, "a line runs through")


def broken(inked: Inked) -> Iterator[str]:
    """Words whose letters are cut off, covered, or of the colour that they stand on.

    The box of a letter is that of its own outline, so a whole one has ink at each edge of it,
    most closely at its foot: of a “g” a line's box may cut off no more than half a millimetre.
    The tips of letters that lean are thin and pale, so the other edges are an eighth of the box.
    """
    seen = numpy.abs(inked.full - inked.bare) > SEEN
    cut = []
    for each in inked.letters:
        top, left = max(each.top, 0), max(each.left, 0)
        ink = seen[top : each.bottom, left : each.right]
        # A dot may be drawn half a pixel off its box.
        whole = seen[max(top - 1, 0) : each.bottom + 1, max(left - 1, 0) : each.right + 1].any()
        if whole and min(ink.shape) >= WIDE:
            high, wide = (side // 8 for side in ink.shape)
            low = max(ink.shape[0] // 12, EDGE)
            sides = (ink[:high], ink[-low:], ink[:, :wide], ink[:, -wide:])
            whole = all(side.any() for side in sides)
        cut.append(not whole)
    yield from _told(inked, cut, "not whole:")


def _told(inked: Inked, wrong: list[bool], what: str) -> Iterator[str]:
    """Each run of wrong letters, with the letters beside it, and where it is."""
    for bad, run in groupby(range(len(wrong)), key=lambda n: wrong[n]):
        if bad:
            held = [*run]
            signs = "".join(each.sign for each in inked.letters[max(held[0] - 8, 0) : held[-1] + 9])
            first = inked.letters[held[0]]
            across, down = (round(side / SCALE * MM) for side in (first.left, first.top))
            yield f"{what} “{signs}”, {across} mm from the left, {down} mm from the top"


@dataclass(frozen=True)
class Gap:
    """An empty oblong: its share of the area looked at, its top and bottom in mm down the page."""

    share: float
    top: float
    bottom: float


def emptiest(full: Ink, top: float, bottom: float) -> Gap:
    """The largest empty oblong between two heights, in mm from the top.

    Margins of 10 mm are left out on both sides; the rest is looked at in cells of 4 mm.
    """
    cell = round(CELL / MM * SCALE)
    margin = round(10 / MM * SCALE)
    rows = slice(round(top / MM * SCALE), round(bottom / MM * SCALE))
    area = full[rows, margin:-margin]
    high, wide = (side // cell for side in area.shape)
    cells = area[: high * cell, : wide * cell].reshape(high, cell, wide, cell)
    blank = cells.min(axis=(1, 3)) >= PAPER
    share, first, last = _largest(blank)
    return Gap(share / (high * wide), top + first * CELL, top + last * CELL)


def _largest(blank: NDArray[numpy.bool_]) -> tuple[int, int, int]:
    """Cells of the largest oblong that is all blank, its first row, and that after its last."""
    best, heights = (0, 0, 0), numpy.zeros(blank.shape[1], dtype=int)
    for number, row in enumerate(blank, 1):
        heights = numpy.where(row, heights + 1, 0)
        for first in range(len(heights)):
            lowest = numpy.minimum.accumulate(heights[first:])
            sizes = lowest * numpy.arange(1, len(lowest) + 1)
            most = int(sizes.argmax())
            best = max(best, (int(sizes[most]), number - int(lowest[most]), number))
    return best
