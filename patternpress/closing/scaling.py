"""A design at another scale.

In: a `Book` and a factor.  Out: the book with every typed length that belongs to the piece
multiplied by it, thicknesses and the ratio included; and what was left alone, with the reason.

Names, sums and angles follow by themselves.  What is left alone: clearances and other ranges,
holes that a bought fitting goes in and how deep it sits there, the sizes of fittings, and
whatever the author says `scales: no` of.  Kerf, allowances, tolerances, glue and times have to
do with tools and hands, and are no figures of the piece.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Set
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from patternpress.closing.filled import filled
from patternpress.closing.lengths import LIMITS
from patternpress.closing.sums import length_of, literals
from patternpress.closing.walking import Saying, Spot, Way, exchanged, spots
from patternpress.design.records.book import Book
from patternpress.design.span import Said
from patternpress.measure.formula import parse
from patternpress.measure.nodes import Literal
from patternpress.measure.units import in_inches

HOLE_FIELDS = ("round", "slot", "window", "deep")
AT_HOLE, AT_PLACE = 4, 6  # how long the ways to a hole, and to a place of a join, are
DIGITS = 4  # decimal places of a scaled figure; one that needs more is written as a fraction


@dataclass(frozen=True)
class Left:
    """A figure that another scale leaves as it is: the spot, and which reason that has.

    `why`: "clearance", "limit", "fitting" or "author"; `of`: the fitting, where there is one.
    """

    spot: Spot
    why: str
    of: str = ""


def at_scale(book: Book, scale: Fraction) -> tuple[Book, tuple[Left, ...]]:
    """The book at a scale, and what was left alone; the book itself where it has that scale."""
    factor = scale / ratio_of(book)
    if factor == 1:
        return book, ()
    left = {each.spot.way: each for each in _left(book)}
    new = {
        each.way: made
        for each in spots(book)
        if each.way not in left and (made := _times(each.said, factor)) is not None
    }
    said = Said(scale, book.scale.span if book.scale else book.design.main.span)
    return replace(exchanged(_bare(book), new, words=True), scale=said), tuple(left.values())


def ratio_of(book: Book) -> Fraction:
    """The scale that a design is made at."""
    return book.scale.value if book.scale else Fraction(1)


def ratio_words(scale: Fraction) -> str:
    """A scale as it is written: 1:12."""
    return f"{scale.numerator}:{scale.denominator}"


def _bare(book: Book) -> Book:
    """The book without what holds of its own stock alone."""
    return replace(book, stock=tuple(replace(each, really=None) for each in book.stock))


def _left(book: Book) -> Iterator[Left]:
    fittings = {each.name.value for each in book.stock if each.bought is not None}
    parts = {each.name.value: each for each in book.parts}
    bought = {name: part for name, part in parts.items() if part.stock.value in fittings}
    holes = dict(filled(book, bought.keys()))
    for spot in spots(book):
        if spot.section != "stock" and _has_length(spot.said):
            found = _reason(spot, book, bought.keys(), holes)
            if found is not None:
                yield found


def _has_length(said: Saying) -> bool:
    ends = [each for each in (said.value.low, said.value.high) if each is not None]
    return any(length_of(literal) for end in ends for literal in literals(end))


def _reason(spot: Spot, book: Book, bought: Set[str], holes: Mapping[Way, str]) -> Left | None:
    """Why a figure is left alone; None where it scales."""
    if "less" in spot.way:
        return Left(spot, "clearance")
    if _author(spot.way, book):
        return Left(spot, "author")
    filled = next((holes[way] for n in (AT_HOLE, AT_PLACE) if (way := spot.way[:n]) in holes), "")
    if filled and (spot.section != "parts" or spot.way[4] in HOLE_FIELDS):
        return Left(spot, "fitting", filled)
    if spot.section == "parts" and spot.owner in bought:
        return Left(spot, "fitting", spot.owner)
    return Left(spot, "limit") if spot.said.value.manner in LIMITS else None


def _author(way: Way, book: Book) -> bool:
    """Whether the author says of a size, a hole or a groove that it does not scale."""
    record: Any = book
    for step in way[:-1]:
        record = record[step] if isinstance(step, int) else getattr(record, step)
        scales = getattr(record, "scales", None)
        if scales is not None and scales.value == "no":
            return True
    return False


def _times(said: Saying, factor: Fraction) -> Saying | None:
    """A formula with each typed length multiplied, or None where it has none."""
    old = said.value
    ends = [each for each in (old.low, old.high) if each is not None]
    typed = sorted(
        {each for end in ends for each in literals(end) if length_of(each)},
        key=lambda each: -each.start,
    )
    if not typed:
        return None
    text = old.text
    for each in typed:
        text = text[: each.start] + figure_text(each, factor) + text[each.end :]
    return Said(parse(text), said.span, text)


def figure_text(literal: Literal, factor: Fraction) -> str:
    """A typed length times a factor, as an author would type it in the same unit."""
    value, unit = literal.value * factor, literal.unit or ""
    scaled = value * 10**DIGITS
    if scaled.denominator == 1 and not in_inches(unit):
        digits = f"{scaled.numerator:0{DIGITS + 1}d}"
        return f"{digits[:-DIGITS]}.{digits[-DIGITS:]}".rstrip("0").rstrip(".") + f" {unit}"
    whole, rest = divmod(value.numerator, value.denominator)
    part = f"{rest}/{value.denominator}" if rest else ""
    return f"{' '.join(each for each in (str(whole) if whole else '', part) if each)} {unit}"
