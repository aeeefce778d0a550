"""Boards come thicker and thinner than their label.

In: a sound `Worked` design.  Out: the range of a board's thickness, the design made from boards at
either end of their ranges, and problems of joins that hold at the labelled thickness only.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from fractions import Fraction

from patternpress.assembly.placing import Assembly, assemble
from patternpress.assembly.worked import Worked, work
from patternpress.design.kinds.placing import HoldsAtLabelOnly, SaidTwoWays
from patternpress.design.problem import Problem
from patternpress.design.records.book import Book
from patternpress.design.records.goods import Stock
from patternpress.design.span import Said
from patternpress.measure.formula import Formula, parse
from patternpress.measure.quantity import Kind


def range_of(worked: Worked, stock: Stock) -> tuple[Fraction, ...]:
    """The least and the most thickness in mm that a board really comes in.

    Empty where no range is said, and where the label lies outside it: that is then another board,
    the nearest equal of the other unit system, of which no range is known.
    """
    measure = worked.solver.measure(stock.really) if stock.really else None
    label = worked.solver.thickness(stock)
    if measure is None or label is None or measure.low.kind is not Kind.LENGTH:
        return ()
    ends = (measure.low.value, (measure.high or measure.low).value)
    return ends if ends[0] <= label.value <= ends[1] else ()


def with_thickness(book: Book, stock: Stock, thickness: Fraction) -> Book:
    """The book with one board of another thickness, in mm."""
    made = tuple(
        _stock(each, thickness) if each.name.value == stock.name.value else each
        for each in book.stock
    )
    return dataclasses.replace(book, stock=made)


def _stock(stock: Stock, thickness: Fraction) -> Stock:
    if stock.sheet is not None:
        return dataclasses.replace(stock, sheet=_said(thickness, stock.sheet))
    if stock.rod is not None:
        return dataclasses.replace(stock, rod=_said(thickness, stock.rod))
    return stock


def _said(thickness: Fraction, instead_of: Said[Formula]) -> Said[Formula]:
    text = f"{thickness} mm"
    return Said(parse(text), instead_of.span, text)


def ends(worked: Worked) -> tuple[Worked, ...]:
    """The design made from the thinnest and from the thickest boards that are sold as such."""
    books = (_at(worked, which) for which in (0, -1))
    return tuple(work(book, worked.names) for book in books if book is not worked.book)


def at_ends(worked: Worked, assembly: Assembly) -> tuple[tuple[Worked, Assembly], ...]:
    """The design at either end, put together; made once, and kept with the assembly."""
    if "ends" not in assembly.kept:
        assembly.kept["ends"] = tuple((other, assemble(other)) for other in ends(worked))
    found: tuple[tuple[Worked, Assembly], ...] = assembly.kept["ends"]
    return found


def _at(worked: Worked, which: int) -> Book:
    """The book with every stock at one end of its range."""
    book = worked.book
    for stock in worked.book.stock:
        found = range_of(worked, stock)
        book = with_thickness(book, stock, found[which]) if found else book
    return book


def check_tolerance(worked: Worked, assembly: Assembly) -> Iterator[Problem]:
    """Joins that agree only while every board is exactly as thick as its label says."""
    told: set[tuple[str, str]] = set()
    for _, other in at_ends(worked, assembly):
        for problem in other.problems:
            key = (problem.facts.get("piece", ""), problem.facts.get("place", ""))
            if problem.kind is SaidTwoWays and key not in told:
                told.add(key)
                yield Problem(HoldsAtLabelOnly, problem.span, problem.facts)
