"""The running foot of every page: title, version, date, "page 3 of 24".

In: the words of the foot, and the size and section of each page.  Out: one page per page of the
booklet that carries nothing but its foot, and a way to print these over the booklet.  Feet are the
only thing on a page that changes whenever any other section grows; pressed apart, they leave every
section as it was.  A theme styles them as ordinary HTML:

    <div class="sheet sheet-steps"><div class="foot">
      <span class="foot-left">…</span> <span class="foot-right">page 3 of 24</span></div></div>
"""

from __future__ import annotations

import io
from collections.abc import Sequence
from copy import copy
from dataclasses import dataclass
from html import escape
from pathlib import Path

from pikepdf import Array, Dictionary, Name, Pdf

from patternpress.booklet.press import Section

KEY = "running feet"
_CSS = """
html, body, .sheet { margin: 0; padding: 0 }
.sheet { position: relative; break-after: page; overflow: hidden }
.sheet:last-child { break-after: auto }
.foot { position: absolute; left: 15mm; right: 15mm; bottom: 9mm; display: flex;
  justify-content: space-between; font-size: 8pt }
"""


@dataclass(frozen=True)
class Foot:
    """The words of the foot; `{page}` and `{pages}` are filled in.  `css`: the theme's own."""

    left: str
    right: str
    css: tuple[str, ...] = ()


def feet_section(foot: Foot, pages: Sequence[tuple[str, float, float]], base: Path) -> Section:
    """Return the section that holds all feet.

    `pages`: for each page of the booklet the key of its section, its width and height in points.
    """
    sizes = list(dict.fromkeys((width, height) for _, width, height in pages))
    rules = [
        f"@page s{n} {{ size: {w:.6g}pt {h:.6g}pt; margin: 0 }}"
        f" .s{n} {{ page: s{n}; width: {w:.6g}pt; height: {h:.6g}pt }}"
        for n, (w, h) in enumerate(sizes)
    ]
    sheets = "".join(
        f'<div class="sheet s{sizes.index((w, h))} sheet-{escape(key)}"><div class="foot">'
        f'<span class="foot-left">{_words(foot.left, number, len(pages))}</span> '
        f'<span class="foot-right">{_words(foot.right, number, len(pages))}</span></div></div>'
        for number, (key, w, h) in enumerate(pages, start=1)
    )
    html = f'<!doctype html><html lang="en"><title>feet</title><body>{sheets}</body></html>'
    return Section(KEY, KEY, html, (_CSS, *foot.css, "\n".join(rules)), base, in_contents=False)


def _words(words: str, page: int, pages: int) -> str:
    return escape(words.replace("{pages}", str(pages)).replace("{page}", str(page)))


def stamp(book: Pdf, feet_pdf: bytes) -> None:
    """Print each foot over its page, as a footer artifact (ISO 32000-1, 14.8.2.2).

    Raises `ValueError` if there is not one foot for each page.
    """
    source = Pdf.open(io.BytesIO(feet_pdf))
    if len(source.pages) != len(book.pages):
        raise ValueError(f"{len(source.pages)} feet for {len(book.pages)} pages")
    keep = book.make_stream(b"q\n")
    for page, foot in zip(book.pages, source.pages, strict=True):
        form = book.copy_foreign(foot.as_form_xobject())
        # The pages of a section share one dictionary of resources; each foot is one page's own.
        resources = copy(page.obj.Resources)
        resources.XObject = copy(resources.XObject) if Name.XObject in resources else Dictionary()
        resources.XObject.Foot = form
        page.obj.Resources = resources
        marks = b"\nQ /Artifact << /Type /Pagination /Subtype /Footer >> BDC /Foot Do EMC\n"
        page.obj.Contents = Array([keep, page.obj.Contents, book.make_stream(marks)])
