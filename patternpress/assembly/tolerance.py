"""Boards come thicker and thinner than their label.

In: a sound `Worked` design.  Out: the parts whose cut sizes follow from the real thickness of a
board (measure it before cutting), and problems of joins that hold at the labelled thickness only.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator

from patternpress.assembly.placing import Assembly, assemble
from patternpress.assembly.sizes import AXES
from patternpress.assembly.worked import Worked, work
from patternpress.design.kinds.placing import HoldsAtLabelOnly, SaidTwoWays
from patternpress.design.problem import Problem
from patternpress.design.records.book import Book
from patternpress.design.records.goods import Stock
from patternpress.design.span import Said
from patternpress.measure.formula import Formula, parse
from patternpress.measure.quantity import Kind, Quantity


def ends(worked: Worked) -> tuple[Worked, ...]:
    """The design made from the thinnest and from the thickest boards that are sold as such."""
    books = (_at(worked, least=True), _at(worked, least=False))
    return tuple(work(book, worked.names) for book in books if book is not None)


def _at(worked: Worked, *, least: bool) -> Book | None:
    """The book with every stock at one end of its range; None where no stock has a range."""
    stocks = tuple(_stock(worked, stock, least) for stock in worked.book.stock)
    if stocks == worked.book.stock:
        return None
    return dataclasses.replace(worked.book, stock=stocks)


def _stock(worked: Worked, stock: Stock, least: bool) -> Stock:
    measure = worked.solver.measure(stock.really) if stock.really else None
    if measure is None or measure.low.kind is not Kind.LENGTH:
        return stock
    found = measure.low if least or measure.high is None else measure.high
    if stock.sheet is not None:
        return dataclasses.replace(stock, sheet=_said(found, stock.sheet))
    if stock.rod is not None:
        return dataclasses.replace(stock, rod=_said(found, stock.rod))
    return stock


def _said(quantity: Quantity, instead_of: Said[Formula]) -> Said[Formula]:
    text = f"{quantity.value} mm"
    return Said(parse(text), instead_of.span, text)


def measure_first(worked: Worked) -> dict[str, tuple[str, ...]]:
    """Parts whose cut sizes follow from a board's real thickness: part -> axes that change."""
    found: dict[str, tuple[str, ...]] = {}
    for other in ends(worked):
        for part in worked.parts:
            changed = other.part(part.name)
            if changed is None:
                continue
            axes = tuple(
                axis
                for axis in AXES
                if axis != part.thin
                and part.form == "sheet"
                and part.extents.get(axis) != changed.extents.get(axis)
            )
            if axes:
                found[part.name] = axes
    return found


def check_tolerance(worked: Worked, _: Assembly) -> Iterator[Problem]:
    """Joins that agree only while every board is exactly as thick as its label says."""
    told: set[tuple[str, str]] = set()
    for other in ends(worked):
        for problem in assemble(other).problems:
            key = (problem.facts.get("piece", ""), problem.facts.get("place", ""))
            if problem.kind is SaidTwoWays and key not in told:
                told.add(key)
                yield Problem(HoldsAtLabelOnly, problem.span, problem.facts)
