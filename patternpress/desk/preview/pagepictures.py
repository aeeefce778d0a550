"""Pages of a PDF as pictures, and the words under a point of one.

In: the bytes of a PDF.  Out: PNG files of its pages; for a point on a page, the line of words there
and the figure under it.  What is shown is what will be printed, since it is read from the PDF.
"""

from __future__ import annotations

import io
import re
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass

import pypdfium2 as pdfium

POINTS_PER_INCH = 72
FINEST = 220  # dots to the inch
# The library must not be entered by two threads at once.
_ONE_AT_A_TIME = threading.Lock()
# A figure with its fraction: 12, 12.5, 1 3/64, 25,4.
_FIGURE = re.compile(r"[-−]?\d+(?:[.,]\d+)?(?:\s?\d*[⁄/]\d+)?(?:\s?[½¼¾⅛⅜⅝⅞])?")


@dataclass(frozen=True)
class Pointed:
    """What stands under a point: the line of words, and the figure in it or nothing."""

    line: str
    figure: str


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


def pointed_at(pdf: bytes, number: int, x: float, y: float) -> Pointed:
    """Return what stands at a point of a page, in shares of its width and height from top left."""
    with _opened(pdf) as document:
        page = _page(document, number)
        wide, high = page.get_size()
        text = page.get_textpage()
        at = text.get_index(x * wide, (1 - y) * high, 6, 6)
        if at is None or at < 0:
            return Pointed("", "")
        whole = text.get_text_range()
        return _around(whole, _place(text, whole, at))


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


def _place(text: pdfium.PdfTextPage, whole: str, at: int) -> int:
    """The place in the whole text of a character; line ends are counted differently there."""
    return min(len(text.get_text_range(0, at + 1)) - 1, len(whole) - 1)


def _around(whole: str, at: int) -> Pointed:
    begin = max(whole.rfind("\n", 0, at), whole.rfind("\r", 0, at)) + 1
    ends = [found for found in (whole.find("\r", at), whole.find("\n", at)) if found >= 0]
    line = whole[begin : min(ends, default=len(whole))]
    inside = at - begin
    figure = next(
        (each[0] for each in _FIGURE.finditer(line) if each.start() <= inside <= each.end()), ""
    )
    return Pointed(" ".join(line.split()), " ".join(figure.split()))
