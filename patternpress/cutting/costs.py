"""What the wood, fittings and materials of a design cost at the designer's prices.

In: a model and its layouts.  Out: `Costs`: exact sums, one for each currency, and the names of
what has no price.  What is at hand costs nothing.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from patternpress.assembly.checks.lists import used_materials
from patternpress.assembly.model import Model
from patternpress.cutting.jobs import Money
from patternpress.cutting.layouts import Layout
from patternpress.design.records.goods import Material, Stock


@dataclass(frozen=True, slots=True)
class Costs:
    """Sums by currency, in the order in which the currencies come; what is not in them."""

    sums: tuple[Money, ...]
    without: tuple[str, ...]


def costs(model: Model, layouts: Sequence[Layout]) -> Costs:
    """What is to be bought: boards and lengths by the layouts, packs of fittings, materials."""
    worked = model.worked
    goods = [
        (stock, sum(part.quantity for part in worked.parts if part.stock is stock))
        for stock in worked.book.stock
    ]
    return costs_of(goods, layouts, used_materials(worked))


def costs_of(
    goods: Sequence[tuple[Stock, int]], layouts: Sequence[Layout], materials: Sequence[Material]
) -> Costs:
    """The same for stock with so many pieces each, its layouts, and materials.

    Where wood or fittings have no price there are no sums: a part of them is taken for all.
    """
    goods_priced = [*_boards(layouts), *_stock(goods, layouts)]
    found = added([*goods_priced, *_materials(materials)])
    return replace(found, sums=()) if added(goods_priced).without else found


def added(priced: Sequence[tuple[str, Money | None, int]]) -> Costs:
    """The sums of so many of each thing; a thing to buy without a price is named once."""
    sums: dict[str, Fraction] = {}
    without: dict[str, None] = {}
    for name, price, count in priced:
        if price is not None and count:
            sums[price[1]] = sums.get(price[1], Fraction(0)) + price[0] * count
        elif count:
            without[name] = None
    return Costs(tuple((amount, code) for code, amount in sums.items()), tuple(without))


def packs(stock: Stock, pieces: int) -> int:
    """How many packs of a fitting hold so many pieces."""
    return -(-pieces // (stock.pack.value if stock.pack else 1))


Priced = Iterator[tuple[str, Money | None, int]]


def _boards(layouts: Sequence[Layout]) -> Priced:
    for layout in layouts:
        for sheet, count in layout.to_buy:
            yield layout.job.stock.name.value, sheet.price, count
        if layout.misfits:
            yield layout.job.stock.name.value, None, 1


def _stock(goods: Sequence[tuple[Stock, int]], layouts: Sequence[Layout]) -> Priced:
    """Fittings by the pack, and wood that no layout tells the number of."""
    laid = {id(layout.job.stock) for layout in layouts}
    for stock, pieces in goods:
        if stock.bought is not None:
            price = stock.price.value if stock.price else None
            yield stock.name.value, price, packs(stock, pieces)
        elif id(stock) not in laid and pieces:
            yield stock.name.value, None, 1


def _materials(materials: Sequence[Material]) -> Priced:
    for material in materials:
        yield material.name.value, material.price.value if material.price else None, 1
