"""Stock first: what is sold where the buyer lives, and the names that its thicknesses go by.

In: a `Book` and an edition.  Out: the book with the stock of the edition's system, every
thickness that a fraction may stand for called by that fraction, and what was changed.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from patternpress.assembly.editions import Published
from patternpress.assembly.sizes import Solver
from patternpress.closing.grid import Grid
from patternpress.closing.walking import Saying
from patternpress.design.kinds.editions import NoStockNear
from patternpress.design.problem import Problem
from patternpress.design.records.book import Book
from patternpress.design.records.goods import Nearest, Stock
from patternpress.design.span import Said
from patternpress.measure.errors import MeasureError
from patternpress.measure.formula import Formula
from patternpress.measure.nodes import Literal, Manner
from patternpress.measure.parser import parse
from patternpress.measure.quantity import Kind
from patternpress.measure.rounding import round_half_even
from patternpress.measure.units import in_inches

# A quarter of 1/64 in: by so much a name may be off where the stock does not say its real range.
# Common practice, no source.
NEAR = Fraction(1, 10)


@dataclass(frozen=True)
class Named:
    """A thickness of a stock: as it is sold, and what chains take it for, both in mm.

    `named` is False where no fraction is near enough: pieces beside it are cut to fit.
    `instead_of` is what the design asks for, where other stock is sold; `glued`: of how many
    sheets on each other it is made.
    """

    stock: str
    sold: Fraction
    taken: Fraction
    named: bool = True
    instead_of: Fraction | None = None
    glued: int = 1


def stocked(
    book: Book, edition: Published, grid: Grid, unnamed: frozenset[str] = frozenset()
) -> tuple[Book, tuple[Named, ...]]:
    """The book with the stock of an edition, and every thickness that it has.

    The stocks `unnamed` keep their true thickness.
    """
    shop = _Shop(edition, grid, Solver(book), unnamed)
    found: list[Named] = []
    stock = tuple(_stocked(each, shop, found) for each in book.stock)
    return replace(book, stock=stock), tuple(found)


@dataclass(frozen=True)
class _Shop:
    """What a stock is looked up with."""

    edition: Published
    grid: Grid
    solver: Solver
    unnamed: frozenset[str]


def _stocked(stock: Stock, shop: _Shop, found: list[Named]) -> Stock:
    new = _restocked(stock, shop.edition, shop.solver)
    olds = list(sections_of(stock))
    pairs = zip(sections_of(new), olds if new is not stock else [None] * len(olds), strict=True)
    made: list[Saying] = []
    for said, old in pairs:
        named = _named(new, said, old, shop)
        if named is None:
            return new
        found.append(named)
        made.append(_at(named.taken, said) if named.taken != named.sold else said)
    if new.sheet is not None:
        return replace(new, sheet=made[0])
    if new.rod is not None:
        return replace(new, rod=made[0])
    return replace(new, strip=tuple(made)) if new.strip is not None else new


def sections_of(stock: Stock) -> Iterator[Saying]:
    """What a stock is sold by: a thickness, a section, a diameter; nothing for a fitting."""
    yield from stock.strip or ()
    yield from (each for each in (stock.sheet, stock.rod) if each is not None)


def unit_of(stock: Stock) -> str:
    """The system that a stock is described in, or nothing for a fitting.

    Read off the words, which stay as they were typed when a figure is closed.
    """
    for said in sections_of(stock):
        try:
            low = parse(said.text).low if said.text else said.value.low
        except MeasureError:
            low = said.value.low
        if isinstance(low, Literal) and low.unit is not None:
            return "in" if in_inches(low.unit) else "mm"
    return ""


def _restocked(stock: Stock, edition: Published, solver: Solver) -> Stock:
    """The stock that is sold by the edition's system, where the design says which that is."""
    for each in edition.restock:
        if each.name == stock.name:
            return each
    near = stock.nearest
    sections = tuple(sections_of(stock))
    if near is None or not sections or unit_of(stock) in ("", edition.stock):
        return stock
    if len(near.size) != len(sections):
        return stock
    other = Nearest(span=near.span, size=sections, sold=stock.sold)
    new = replace(
        stock, nearest=other, sold=near.sold, note=near.note or stock.note, really=None, price=None
    )
    return glued_up(with_sections(new, near.size), count_of(near.layers), solver)


def unsuitable(book: Book, edition: Published) -> Iterator[Problem]:
    """Stock that may differ by so much in an edition's system, and for which nothing so near is
    named.
    """
    solver = Solver(book)
    for stock in book.stock:
        most = solver.value(stock.may_differ) if stock.may_differ else None
        own = tuple(sections_of(stock))
        if most is None or stock.may_differ is None or unit_of(stock) in ("", edition.stock):
            continue
        near = stock.nearest.size if stock.nearest else ()
        layers = count_of(stock.nearest.layers) if stock.nearest else 1
        pairs = [(solver.value(a), solver.value(b)) for a, b in zip(own, near, strict=False)]
        off = [abs(a.value - layers * b.value) for a, b in pairs if a and b]
        if len(off) == len(own) and max(off) <= most.value:
            continue
        names = " x ".join(said.text for said in near)
        names = f"{layers} x {names}" if layers > 1 else names
        found = f"{names} is sold" if near else "nothing is named as nearest"
        facts = {"edition": edition.name, "stock": stock.name.value, "found": found}
        yield Problem(NoStockNear, stock.name.span, facts | {"most": stock.may_differ.text})


def with_sections(stock: Stock, size: tuple[Saying, ...]) -> Stock:
    """The stock in another thickness, section or diameter."""
    if stock.strip is not None:
        return replace(stock, strip=size)
    return replace(stock, sheet=size[0]) if stock.sheet is not None else replace(stock, rod=size[0])


def count_of(layers: Said[int] | None) -> int:
    """How many sheets are glued on each other: one where nothing is said."""
    return layers.value if layers else 1


def glued_up(stock: Stock, layers: int, solver: Solver) -> Stock:
    """A sheet that is made of several, each as thick as it says: all of them together.

    The thickness of one stays as it was typed, since that is what a buyer asks for.
    """
    one = solver.value(stock.sheet) if stock.sheet is not None else None
    if layers < 2 or one is None or stock.sheet is None:
        return stock
    return replace(stock, sheet=_at(layers * one.value, stock.sheet), glued=layers, at_hand=())


def _named(stock: Stock, said: Saying, old: Saying | None, shop: _Shop) -> Named | None:
    sold = shop.solver.value(said)
    before = shop.solver.value(old) if old is not None else None
    if sold is None:
        return None
    instead = before.value if before is not None else None
    nearest = round_half_even(sold.value, shop.grid.unit)
    low, high = range_of(stock, sold.value, shop.solver)
    fits = nearest > 0 and low <= nearest <= high
    if stock.name.value in shop.unnamed:
        fits = nearest == sold.value
    taken = nearest if fits else sold.value
    return Named(stock.name.value, sold.value, taken, fits, instead, stock.glued)


def range_of(stock: Stock, sold: Fraction, solver: Solver) -> tuple[Fraction, Fraction]:
    """What a name may come to: what the stock really comes in, or a little beside its label."""
    measure = solver.measure(stock.really) if stock.really is not None else None
    if measure is not None and measure.high is not None and measure.low.kind is Kind.LENGTH:
        return measure.low.value, measure.high.value
    return sold - NEAR, sold + NEAR


def _at(mm: Fraction, said: Saying) -> Saying:
    """A thickness at another value; what is printed of the stock stays as it was typed."""
    return Said(
        Formula(said.value.text, Manner.EXACT, Literal(0, 0, mm, "mm")), said.span, said.text
    )
