"""Every figure of a design, where it stands, and the design with other figures in their places.

In: a `Book`.  Out: `Spot`s: each formula with the way to it, and the words for it; or a book in
which chosen formulas are exchanged.  Tools, materials and editions have no figures of the piece.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from functools import cache
from typing import Any

from patternpress.design.records.book import Book
from patternpress.design.records.work import Joined
from patternpress.design.span import Said
from patternpress.measure.formula import Formula

Way = tuple[str | int, ...]
Saying = Said[Formula]

SECTIONS = (
    "sizes", "stock", "parts", "openings", "marks", "steps", "finishing", "overall",
)  # fmt: skip
STOCK_FIELDS = frozenset({"sheet", "strip", "rod"})
# What is only drawn, never printed as a figure.
DRAWN = frozenset({"outline", "corners", "edges", "ends", "leans"})
# What says how far a figure may move is no figure itself.
UNTOUCHED = frozenset({"tolerance", "step", "span", "name", "note", "unread"})
# The three sizes, as a maker calls them.
CALLED = {"wide": "width", "deep": "depth", "high": "height"}


@dataclass(frozen=True)
class Spot:
    """One formula: the way to it through the book, what was said, and whose it is.

    `section` is where it stands; `field` what it is for; `owner` the thing, if it has a name.
    """

    way: Way
    said: Saying
    section: str
    field: str
    owner: str
    drawn: bool

    @property
    def words(self) -> str:
        """The figure as one speaks of it."""
        if self.section == "sizes":
            return self.owner
        if self.section == "overall":
            return "overall size"
        if self.field in CALLED and "less" in self.way:
            return f"clearance in {CALLED[self.field]} of {self.owner}"
        if self.field in CALLED:
            return f"{CALLED[self.field]} of {self.owner}"
        text = " ".join(self.said.text.split())
        return f"{text} ({self.owner})" if self.owner else text


def spots(book: Book) -> Iterator[Spot]:
    """Every formula of the design that has to do with the piece, in the order of the book."""
    for section in SECTIONS:
        yield from _spots(getattr(book, section), (section,), section, "", "")


def _spots(record: Any, way: Way, section: str, field: str, owner: str) -> Iterator[Spot]:
    if isinstance(record, Said):
        if isinstance(record.value, Formula):
            drawn = bool(DRAWN & set(way))
            yield Spot(way, record, section, field, owner, drawn)
    elif isinstance(record, tuple):
        for number, each in enumerate(record):
            yield from _spots(each, (*way, number), section, field, owner)
    elif dataclasses.is_dataclass(record) and not isinstance(record, type):
        named = record.piece if isinstance(record, Joined) else getattr(record, "name", None)
        if isinstance(named, Said) and named.value:
            owner = str(named.value)
        for each in _fields(type(record)):
            if section == "stock" and each not in STOCK_FIELDS:
                continue
            inner = getattr(record, each)
            if inner is not None and inner != () and each not in UNTOUCHED:
                name = field if each in _THROUGH else each
                yield from _spots(inner, (*way, each), section, name, owner)


@cache
def _fields(record: type[Any]) -> tuple[str, ...]:
    """The names of a record's fields; looking them up each time took most of a walk."""
    return tuple(each.name for each in dataclasses.fields(record) if each.init)


# Fields of phrases, which say nothing about what the figure is for.
_THROUGH = frozenset({"offset", "offsets", "distance", "places"})


def said_at(book: Book, way: Way) -> Saying:
    """The formula at the end of a way."""
    found: Any = book
    for step in way:
        found = found[step] if isinstance(step, int) else getattr(found, step)
    assert isinstance(found, Said)
    return found


def exchanged(book: Book, new: Mapping[Way, Saying], *, words: bool = False) -> Book:
    """The book with other formulas in some places; places stay, and so do `words` unless told."""
    if not new:
        return book
    ways = {way[:length] for way in new for length in range(1, len(way) + 1)}

    def change(record: Any, way: Way) -> Any:
        if way in new:
            # Stock of the other system has words of its own by now.
            there = record if isinstance(record, Said) else new[way]
            return Said(new[way].value, there.span, new[way].text if words else there.text)
        if way and way not in ways:
            return record
        return _rebuilt(record, way, change)

    made: Book = change(book, ())
    return made


def _rebuilt(record: Any, way: Way, change: Callable[[Any, Way], Any]) -> Any:
    if isinstance(record, tuple):
        return tuple(change(each, (*way, number)) for number, each in enumerate(record))
    names = _fields(type(record))  # type: ignore[arg-type]
    found = {each: change(getattr(record, each), (*way, each)) for each in names}
    return dataclasses.replace(record, **found)
