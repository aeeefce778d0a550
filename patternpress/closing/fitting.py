"""Odd thicknesses: the names that stand for them, and the pieces that take up the rest.

In: a `Book`, what was found in it, and a grid.  Out: the book with an edition's stock, each
thickness called by a fraction where that adds up to little enough along every chain; and, where
no fraction does, the book with the sizes that are cut to fit.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction

from patternpress.assembly.editions import Published
from patternpress.closing.analysed import Analysed
from patternpress.closing.draft import Task
from patternpress.closing.grid import Grid
from patternpress.closing.lengths import Survey
from patternpress.closing.stocking import Named, stocked
from patternpress.closing.traced import form_of, worth
from patternpress.design.records.book import Book
from patternpress.design.records.parts import Part
from patternpress.design.span import Said


def named_stock(
    book: Book, edition: Published, grid: Grid, of: Analysed
) -> tuple[Book, tuple[Named, ...]]:
    """The stock of an edition; a name stands for a thickness where no chain of it drifts far."""
    unnamed: frozenset[str] = frozenset()
    while True:
        sold, stock = stocked(book, edition, grid, unnamed)
        off = {each.stock: each.taken - each.sold for each in stock if each.taken != each.sold}
        by_number = {n: name for name in off for n in _thicknesses(of.survey, name)}
        worst = next(iter(_drifting(of, by_number, off, grid)), None)
        if worst is None:
            return sold, stock
        unnamed |= {worst}


def _drifting(
    of: Analysed, by_number: Mapping[int, str], off: Mapping[str, Fraction], grid: Grid
) -> Iterator[str]:
    """The stocks whose names would add up to too much in some figure."""
    for each in of.plain.values():
        shares = {n: share for n, share in form_of(each.mm).items() if n in by_number}
        drift = sum((share * off[by_number[n]] for n, share in shares.items()), Fraction(0))
        if abs(drift) > (each.tolerance or grid.unit):
            yield by_number[max(shares, key=lambda n: abs(shares[n] * off[by_number[n]]))]


def _thicknesses(found: Survey, stock: str) -> tuple[int, ...]:
    return tuple(
        n
        for way, numbers in found.instead.items()
        if found.spots[way].section == "stock" and found.spots[way].owner == stock
        for n in numbers
    )


def to_fit(book: Book, of: Analysed, values: Mapping[int, Fraction], task: Task) -> Book:
    """The book with `cut to fit` said of the sizes that take up an odd thickness."""
    axes: dict[str, list[str]] = {}
    for each in of.plain.values():
        form = form_of(each.mm)
        stock = [n for n in form if of.survey.lengths[n].sort == "stock" or task.stands(n)]
        odd = any(not task.grid.on(values[n]) for n in stock)
        if each.part and len(form) > 1 and odd and not task.grid.on(worth(form, values)):
            axes.setdefault(each.part, []).append(each.axis)
    if not axes:
        return book
    parts = tuple(
        replace(part, cut_to_fit=_said(axes.get(part.name.value, ()), part)) for part in book.parts
    )
    return replace(book, parts=parts)


def _said(axes: Iterable[str], part: Part) -> tuple[Said[str], ...]:
    told = [each.value for each in part.cut_to_fit]
    return (*part.cut_to_fit, *(Said(a) for a in dict.fromkeys(axes) if a not in told))
