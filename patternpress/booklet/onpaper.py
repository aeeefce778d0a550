"""Put pages on the paper that they are printed on.

In: a pressed section, and a paper.  Out: the section with the same pages in the middle of that
paper.  Everything is printed inside what A4 and Letter have in common, so the pages of an edition
are laid out once, on one of them, for all its papers.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from dataclasses import replace

from pikepdf import Array, Name, Object, ObjectStreamMode, Page, Pdf

from patternpress.booklet.outline import named_places
from patternpress.booklet.press import Pressed

Paper = tuple[float, float]
_NEAR = 0.01  # points; paper is cut to some tenths of a mm


def put_on(pressed: Pressed, paper: Paper | None) -> Pressed:
    """Return the section on a paper of that width and height, in points; None: as it is.

    What is painted, links and the places of names move; nothing is scaled.
    """
    if paper is None or all(_near(size, paper) for size in pressed.sizes):
        return pressed
    pdf = Pdf.open(io.BytesIO(pressed.pdf))
    by = {page.obj.objgen: _move(pdf, page, paper) for page in pdf.pages}
    for place in _places(pdf):
        across, up = by[place[0].objgen]
        place[2], place[3] = float(place[2]) + across, float(place[3]) + up
    out = io.BytesIO()
    pdf.save(out, deterministic_id=True, object_stream_mode=ObjectStreamMode.generate)
    return replace(pressed, pdf=out.getvalue(), sizes=(paper,) * pressed.pages)


def _near(size: Paper, paper: Paper) -> bool:
    return all(abs(a - b) < _NEAR for a, b in zip(size, paper, strict=True))


def _move(pdf: Pdf, page: Page, paper: Paper) -> tuple[float, float]:
    """Put one page in the middle of a paper; returns how far it went to the right and up."""
    _, _, width, height = (float(each) for each in page.mediabox)
    across, up = ((new - old) / 2 for new, old in zip(paper, (width, height), strict=True))
    sheet = Array([0, 0, *(round(each, 4) for each in paper)])
    for name in (Name.MediaBox, Name.CropBox, Name.BleedBox, Name.TrimBox, Name.ArtBox):
        if name in page.obj:
            page.obj[name] = sheet
    page.contents_coalesce()
    painted = page.obj.Contents.read_bytes()
    by = f"q 1 0 0 1 {across:.4f} {up:.4f} cm\n".encode()
    page.obj.Contents = pdf.make_stream(by + painted + b"\nQ\n")
    for note in page.obj.get(Name.Annots, Array()).as_list():
        x0, y0, x1, y1 = (float(each) for each in note.Rect)
        note.Rect = Array([x0 + across, y0 + up, x1 + across, y1 + up])
    return across, up


def _places(pdf: Pdf) -> Iterator[Object]:
    """What points to a place of a page: `[page /XYZ x y zoom]`, of names and of headings."""
    yield from (place for _, place in named_places(pdf))
    outlines = pdf.Root.get(Name.Outlines)
    if outlines is not None:
        yield from _headings(outlines)


def _headings(parent: Object) -> Iterator[Object]:
    item = parent.get(Name.First)
    while item is not None:
        yield item.Dest
        yield from _headings(item)
        item = item.get(Name.Next)
