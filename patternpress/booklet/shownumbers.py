"""Change page numbers in a section that is laid out already.

In: the engine's document of a section, laid out with numbers that were likely, and the section's
HTML with the true ones.  Out: the document with the true ones, byte for byte as if it had been laid
out with them; or word that it has to be.  Figures of one font are mostly equally wide, so a number
of as many figures moves nothing on its page.  Laying out is three quarters of pressing; a section
of the steps would be laid out twice for one number that is not known before.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import weasyprint
from weasyprint.formatting_structure.boxes import TextBox
from weasyprint.text.line_break import create_layout, line_size

from patternpress.booklet.prepress import PAGE_NUMBER, numbers_shown

# The engine copies the words of these into the outline while it lays out.
_HEADINGS = ("h1", "h2", "h3", "h4", "h5", "h6")


def numbers_fit(document: weasyprint.Document, html: str) -> bool:
    """Say whether the page numbers of `html` take just the room of those in `document`."""
    wanted = _wanted(document, html)
    changed = {
        element: number for element, number in wanted.items() if (element.text or "") != number
    }
    if any(span in changed for span in _in_headings(document)):
        return False
    seen = set()
    for box, number in _boxes(document, changed):
        seen.add(box.element)
        if box.text != box.element.text or _width(box, box.text) != _width(box, number):
            return False
    return len(seen) == len(changed)


def show_numbers(document: weasyprint.Document, html: str) -> None:
    """Write the page numbers of `html` into `document`, for which `numbers_fit` must hold."""
    for box, number in _boxes(document, _wanted(document, html)):
        box.text = box.pango_layout.text = number


def _wanted(document: weasyprint.Document, html: str) -> dict[Any, str]:
    """The element of each page number, in order, and the number that `html` has there."""
    spans = [
        span
        for span in document._html.etree_element.iter("span")
        if span.get("class") == PAGE_NUMBER
    ]
    return dict(zip(spans, numbers_shown(html), strict=True))


def _in_headings(document: weasyprint.Document) -> Iterator[Any]:
    root = document._html.etree_element
    for name in _HEADINGS:
        for heading in root.iter(name):
            yield from heading.iter("span")


def _boxes(document: weasyprint.Document, numbers: dict[Any, str]) -> Iterator[tuple[Any, str]]:
    """Every box that shows one of some numbers; one in the head of a table has a box a page."""
    for page in document.pages:
        for box in page._page_box.descendants():
            if isinstance(box, TextBox) and box.element in numbers:
                yield box, numbers[box.element]


def _width(box: Any, text: str) -> float:
    """How wide some text is in the style of a box, in CSS pixels."""
    layout = create_layout(text, box.style, None, None, 0)
    line, _ = layout.get_first_line()
    width: float = line_size(line, box.style)[0]
    return width
