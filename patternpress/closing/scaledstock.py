"""Stock for another scale.

In: a `Stock` of a scaled book, with the thickness that would be exact, and an edition.  Out: the
stock as it is sold where the edition's buyers live: what the author names for that scale, or the
nearest thickness that shops have; or the problem that there is none, or none that can be worked.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from patternpress.assembly.checks.walls import THINNEST
from patternpress.assembly.editions import Published, System
from patternpress.assembly.sizes import Solver
from patternpress.closing.scaling import ratio_of, ratio_words
from patternpress.closing.stocking import (
    count_of,
    glued_up,
    sections_of,
    unit_of,
    with_sections,
)
from patternpress.closing.walking import Saying
from patternpress.design.kinds.editions import NoStockAtScale, TooThinAtScale
from patternpress.design.problem import Problem
from patternpress.design.records.book import Book
from patternpress.design.records.goods import AtScale, Nearest, Stock
from patternpress.design.span import Said, Span
from patternpress.measure.formula import parse
from patternpress.measure.soldsizes import SoldSize, sold_sizes

# Stock may differ from the exact thickness by so much of it where the author says nothing.
SHARE = Fraction(1, 4)
# What stands for it in the other system's shops is named where it is as near as this.
NEAR = Fraction(1, 10)


# So many sheets are glued on each other where one is not thick enough.
LAYERS = (2, 3)


@dataclass(frozen=True)
class _Shop:
    """What a stock is chosen with; `book` is at the edition's scale, with exact thicknesses."""

    book: Book
    solver: Solver
    edition: Published
    ratio: str


def stock_at(book: Book, edition: Published) -> tuple[tuple[Stock, ...], tuple[Problem, ...]]:
    """The stock of a scaled book as it is sold, and what cannot be had."""
    shop = _Shop(book, Solver(book), edition, ratio_words(ratio_of(book)))
    made: list[Stock] = []
    problems: list[Problem] = []
    for stock in book.stock:
        found = _named(stock, shop) or _from_shops(stock, shop)
        if isinstance(found, Problem):
            problems.append(found)
        else:
            made.append(found)
            problems += _too_thin(found, shop)
    return tuple(made), tuple(problems)


def _named(stock: Stock, shop: _Shop) -> Stock | None:
    """What the author names for the scale."""
    said = next((e for e in stock.at_scales if e.scale.value == ratio_of(shop.book)), None)
    if said is None or (said.size is None and said.bought is None):
        return None
    base = _fresh(stock, said)
    if said.size is None or len(said.size) != len(tuple(sections_of(stock))):
        return replace(base, bought=said.bought or stock.bought, pack=said.pack)
    made = replace(with_sections(base, said.size), nearest=said.nearest)
    made = glued_up(made, count_of(said.layers), shop.solver)
    near = said.nearest
    if near is None or unit_of(made) == shop.edition.stock or len(near.size) != len(said.size):
        return made
    other = Nearest(span=near.span, size=said.size, sold=said.sold, layers=said.layers)
    swapped = replace(with_sections(made, near.size), sold=near.sold, price=None, nearest=other)
    return glued_up(replace(swapped, glued=1), count_of(near.layers), shop.solver)


def _fresh(stock: Stock, said: AtScale) -> Stock:
    """A stock without what holds of its own thickness alone."""
    return replace(
        stock, sold=said.sold, price=said.price, note=said.note or stock.note,
        wood=said.wood or stock.wood, really=None, also_sold=(), at_hand=(), nearest=None,
    )  # fmt: skip


def _from_shops(stock: Stock, shop: _Shop) -> Stock | Problem:
    """The nearest thicknesses that are sold by the edition's system."""
    sections = tuple(sections_of(stock))
    if not sections:
        return stock  # a fitting is what it is
    system = shop.edition.stock
    chosen: list[Saying] = []
    for said in sections:
        exact = shop.solver.value(said)
        if exact is None:
            return stock
        near = _near(exact.value, stock, system)
        limit = shop.solver.value(stock.may_differ) if stock.may_differ else None
        most = limit.value if limit else exact.value * SHARE
        if abs(near[0].mm - exact.value) > most:
            return _glued(stock, exact.value, most, shop) or _none(stock, exact.value, near, shop)
        chosen.append(_as_said(near[0], said.span))
    made = with_sections(_as_sold(stock, system), tuple(chosen))
    return replace(made, nearest=_elsewhere(made, shop))


def _as_sold(stock: Stock, system: System) -> Stock:
    """A stock as a system's shops have it, without what holds of the author's own alone."""
    return replace(
        stock, sold=_sold(stock, system), price=None, really=None, also_sold=(), at_hand=()
    )


def _glued(stock: Stock, mm: Fraction, most: Fraction, shop: _Shop) -> Stock | None:
    """Sheets glued on each other, where the author allows it: the nearest, of the fewest."""
    if stock.sheet is None or stock.laminated is None or stock.laminated.value == "no":
        return None
    system = shop.edition.stock
    found = [
        (abs(layers * sold.mm - mm), layers, sold)
        for layers in LAYERS
        for sold in _near(mm / layers, stock, system)[:1]
    ]
    off, layers, sold = min(found, key=lambda each: each[:2])
    if off > most:
        return None
    one = _as_said(sold, stock.sheet.span)
    made = replace(_as_sold(stock, system), sheet=one, nearest=None)
    return glued_up(made, layers, shop.solver)


def _near(mm: Fraction, stock: Stock, system: System) -> list[SoldSize]:
    """What shops have, the nearest first; of two equally near, the thinner."""
    ply = stock.wood is not None and "ply" in stock.wood.value.casefold()
    every = (*sold_sizes(system, "ply" if ply else "sheet"), *sold_sizes(system, "timber"))
    return sorted(every, key=lambda sold: (abs(sold.mm - mm), sold.mm))


def _sold(stock: Stock, system: System) -> tuple[Saying, ...] | None:
    """The size that sheets are sold in by a system; other thicknesses come in the same."""
    if unit_of(stock) == system or stock.nearest is None:
        return stock.sold
    return stock.nearest.sold


def _elsewhere(stock: Stock, shop: _Shop) -> Nearest | None:
    """What is as good where shops sell by the other system."""
    other: System = "mm" if shop.edition.stock == "in" else "in"
    found: list[Saying] = []
    for said in sections_of(stock):
        mm = shop.solver.value(said)
        near = _near(mm.value, stock, other)[0] if mm is not None else None
        if mm is None or near is None or abs(near.mm - mm.value) > mm.value * NEAR:
            return None
        found.append(_as_said(near, said.span))
    return Nearest(span=stock.name.span, size=tuple(found))


def _as_said(sold: SoldSize, span: Span) -> Saying:
    return Said(parse(sold.name), span, sold.name)


def _none(stock: Stock, mm: Fraction, near: Sequence[SoldSize], shop: _Shop) -> Problem:
    names = " and ".join(each.name for each in near[:2])
    facts = _facts(stock, mm, shop) | {"shops": names}
    return Problem(NoStockAtScale, stock.name.span, facts)


def _too_thin(stock: Stock, shop: _Shop) -> Iterator[Problem]:
    said = shop.solver.value(stock.thinnest) if stock.thinnest else None
    least = said.value if said else THINNEST
    found = [each.value for sold in sections_of(stock) if (each := shop.solver.value(sold))]
    if found and min(found) < least:
        facts = _facts(stock, min(found), shop) | {"least": _mm(least)}
        yield Problem(TooThinAtScale, stock.name.span, facts)


def _facts(stock: Stock, mm: Fraction, shop: _Shop) -> dict[str, str]:
    parts = [p.name.value for p in shop.book.parts if p.stock.value == stock.name.value]
    return {
        "edition": shop.edition.name,
        "scale": shop.ratio,
        "stock": stock.name.value,
        "size": _mm(mm),
        "parts": ", ".join(parts),
    }


def _mm(mm: Fraction) -> str:
    return f"{float(mm):.3f}".rstrip("0").rstrip(".") + " mm"
