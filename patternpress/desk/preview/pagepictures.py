"""Pages of a PDF as pictures, and where words and figures stand on them.

In: the bytes of a PDF.  Out: PNG files of its pages; the lines of words on a page and the figures
in them, each with its place.  What is shown is what will be printed: it is read from the PDF.
"""

from __future__ import annotations

import io
import re
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

import pypdfium2 as pdfium
import pypdfium2.raw as pdfium_c

POINTS_PER_INCH = 72
FINEST = 220  # dots to the inch
# The library must not be entered by two threads at once.
_ONE_AT_A_TIME = threading.Lock()
# A figure with its fraction: 12, 12.5, 1 3/64, 25,4.
_FIGURE = re.compile(r"[-−]?\d+(?:[.,]\d+)?(?:\s?\d*[⁄/]\d+)?(?:\s?[½¼¾⅛⅜⅝⅞])?")


@dataclass(frozen=True)
class Box:
    """A rectangle of a page, in shares of its width and height from the top left."""

    x: float
    y: float
    wide: float
    high: float


@dataclass(frozen=True)
class Figured:
    """A figure in a line: what is printed, what stands behind it there, and where it is."""

    text: str
    behind: str
    box: Box


@dataclass(frozen=True)
class Line:
    """A line of words of a page, where it is, and the figures in it."""

    text: str
    box: Box
    figures: tuple[Figured, ...]


def page_sizes(pdf: bytes) -> tuple[tuple[float, float], ...]:
    """Return width and height of each page in points."""
    with _opened(pdf) as document:
        return tuple(document.get_page_size(number) for number in range(len(document)))


def page_picture(pdf: bytes, number: int, dpi: int) -> bytes:
    """Return page `number` (from 0) as PNG; raises IndexError for a page that is not there."""
    with _opened(pdf) as document:
        bitmap = _page(document, number).render(scale=min(dpi, FINEST) / POINTS_PER_INCH)
        out = io.BytesIO()
        bitmap.to_pil().save(out, "PNG", compress_level=3)
        return out.getvalue()


def lines_on(pdf: bytes, number: int) -> tuple[Line, ...]:
    """Return the lines of page `number` (from 0), in the order that the PDF tells them."""
    with _opened(pdf) as document:
        page = _page(document, number)
        signs = list(_signs(page.get_textpage()))
        size = page.get_size()
    return tuple(_line(each, size) for each in _runs(signs))


@contextmanager
def _opened(pdf: bytes) -> Iterator[pdfium.PdfDocument]:
    """The document, for one thread at a time; all of its pages are closed with it."""
    with _ONE_AT_A_TIME:
        document = pdfium.PdfDocument(pdf)
        try:
            yield document
        finally:
            document.close()


def _page(document: pdfium.PdfDocument, number: int) -> pdfium.PdfPage:
    if not 0 <= number < len(document):
        raise IndexError(number)
    return document[number]


# A character, and its left, bottom, right and top in points.
Sign = tuple[str, tuple[float, float, float, float]]


def _signs(text: pdfium.PdfTextPage) -> Iterator[Sign]:
    for at in range(text.count_chars()):
        sign = chr(pdfium_c.FPDFText_GetUnicode(text, at))
        yield sign, text.get_charbox(at, loose=True)


def _runs(signs: list[Sign]) -> Iterator[list[Sign]]:
    """The characters between line ends."""
    run: list[Sign] = []
    for sign in [*signs, ("\n", (0.0, 0.0, 0.0, 0.0))]:
        if sign[0] not in "\r\n":
            run.append(sign)
        elif run:
            yield run
            run = []


def _line(run: list[Sign], size: tuple[float, float]) -> Line:
    text = "".join(sign for sign, _ in run)
    figures = tuple(
        Figured(
            " ".join(found[0].split()),
            text[found.end() :],
            _box(run[found.start() : found.end()], size),
        )
        for found in _FIGURE.finditer(text)
    )
    return Line(" ".join(text.split()), _box(run, size), figures)


def _box(run: list[Sign], size: tuple[float, float]) -> Box:
    # What the library only infers, such as a space, has no height.
    boxes = [box for _, box in run if box[3] > box[1]] or [box for _, box in run]
    left, bottom, right, top = (
        pick(each)
        for pick, each in zip((min, min, max, max), zip(*boxes, strict=True), strict=True)
    )
    wide, high = size
    return Box(left / wide, 1 - top / high, (right - left) / wide, (top - bottom) / high)
