"""The outline that a PDF viewer shows beside the pages.

In: the headings that each pressed section carries.  Out: one outline for the book: an entry per
section, with the section's own headings below it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from pikepdf import Array, Dictionary, Name, Object, OutlineItem, Pdf


@dataclass(frozen=True)
class Heading:
    """A heading, its page of the book (from 0), x and y in points, and the headings below it."""

    title: str
    page: int
    x: float
    y: float
    below: tuple[Heading, ...] = ()


Chapter = Heading


def page_numbers(source: Pdf) -> dict[tuple[int, int], int]:
    """Return the number, from 0, of each page object."""
    return {page.obj.objgen: number for number, page in enumerate(source.pages)}


def named_places(source: Pdf) -> tuple[tuple[str, Object], ...]:
    """Return the names of places in a section, each with where it leads: `[page /XYZ x y zoom]`."""
    names = source.Root.get(Name.Names, Dictionary()).get(Name.Dests)
    pairs = list(names.Names.as_list()) if names is not None else []
    return tuple((str(name), dest) for name, dest in zip(pairs[::2], pairs[1::2], strict=True))


def chapters(title: str, parts: int, source: Pdf, first_page: int) -> tuple[Chapter, ...]:
    """Return the outline entries of one section.

    A section of one part with one top heading is that heading, under the section's title; of one
    part with more, all lie below an entry that leads to its first page.  In a section of several
    parts each top heading is a part.
    """
    pages = page_numbers(source)
    root = source.Root.get(Name.Outlines)
    tops = _headings(root, pages, first_page) if root is not None else ()
    if parts > 1 and tops:
        return tops
    if len(tops) == 1:
        top = tops[0]
        return (Heading(title, top.page, top.x, top.y, top.below),)
    return (Heading(title, first_page, 0.0, float(source.pages[0].mediabox[3]), tops),)


def _headings(parent: Object, pages: dict[tuple[int, int], int], first: int) -> tuple[Heading, ...]:
    found = []
    item = parent.get(Name.First)
    while item is not None:
        page, _, x, y, *_ = item.Dest.as_list()
        below = _headings(item, pages, first)
        number = first + pages[page.objgen]
        found.append(Heading(str(item.Title), number, float(x), float(y), below))
        item = item.get(Name.Next)
    return tuple(found)


def write(book: Pdf, chapters: Sequence[Chapter]) -> None:
    """Write the outline, with the sections in view and their headings folded away."""
    with book.open_outline() as written:
        written.root.extend(_item(book, chapter, folded=True) for chapter in chapters)


def _item(book: Pdf, heading: Heading, *, folded: bool = False) -> OutlineItem:
    page = book.pages[heading.page].obj
    place = Array([page, Name.XYZ, round(heading.x, 3), round(heading.y, 3), 0])
    item = OutlineItem(heading.title, place)
    item.is_closed = folded and bool(heading.below)
    item.children.extend(_item(book, below) for below in heading.below)
    return item
