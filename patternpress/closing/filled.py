"""Which holes are for which pieces.

In: a `Book`.  Out: the ways to holes that a piece goes in, and to the places that say how deep it
sits there; and, of holes for rods and fittings, what they are as wide as.
"""

from __future__ import annotations

from collections.abc import Iterator, Set

from patternpress.closing.walking import Way
from patternpress.design.phrases import Place
from patternpress.design.records.book import Book
from patternpress.design.records.work import Joined

PLACES = ("steps", "finishing")


def filled(book: Book, parts: Set[str]) -> Iterator[tuple[Way, str]]:
    """The ways to holes that a piece of some `parts` goes in, and to its places in them; the
    piece beside each.
    """
    part_of = {p.name.value: part.name.value for part in book.parts for p in part.pieces}
    ways = {
        (part.name.value, name): ("parts", number, "holes", at)
        for number, part in enumerate(book.parts)
        for at, hole in enumerate(part.holes)
        for name in hole.names
    }
    for way, joined in _joins(book):
        name = joined.piece.value
        if part_of.get(name, name) not in parts:
            continue
        inside = list(_in_holes(joined))
        yield from (((*way, "places", nth), name) for nth, _ in inside)
        for target in (*(place.target for _, place in inside), *joined.turns_in):
            hole = ways.get((target.owner, target.feature))
            if hole is not None:
                yield hole, name


def bores(book: Book) -> Iterator[tuple[Way, str]]:
    """The ways to figures that say how wide a hole for a rod or a bought fitting is, and its stock.

    A hole may be as wide as a named size; then that size is told as well.
    """
    stocks = {each.name.value for each in book.stock if each.rod or each.bought}
    parts = {p.name.value: p.stock.value for p in book.parts if p.stock.value in stocks}
    stock_of = parts | {p.name.value: parts[o.name.value] for o in book.parts
                        if o.name.value in parts for p in o.pieces}  # fmt: skip
    sizes = {each.name.value: ("sizes", at, "is_") for at, each in enumerate(book.sizes)}
    for way, piece in filled(book, parts.keys()):
        if way[0] != "parts" or piece not in stock_of:
            continue
        _, number, _, at = way
        said = book.parts[int(number)].holes[int(at)].round
        if said is not None:
            yield (*way, "round"), stock_of[piece]
            if said.text in sizes:
                yield sizes[said.text], stock_of[piece]


def widths(book: Book) -> frozenset[str]:
    """What is written as the width of a hole or a groove: a size of that name is one."""
    said = [each.round for part in book.parts for each in part.holes]
    said += [each.wide for part in book.parts for each in part.grooves]
    return frozenset(each.text for each in said if each is not None)


def _joins(book: Book) -> Iterator[tuple[Way, Joined]]:
    """Every join with the way to it."""
    for section in PLACES:
        for number, step in enumerate(getattr(book, section)):
            for at, joined in enumerate(step.join):
                yield (section, number, "join", at), joined


def _in_holes(joined: Joined) -> Iterator[tuple[int, Place]]:
    """The places of a piece that are holes, with their numbers."""
    for number, (_, place) in enumerate(joined.places):
        if place.target.kind == "hole":
            yield number, place
