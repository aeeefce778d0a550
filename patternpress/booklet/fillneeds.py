"""Tools, materials and bits, as content.

In: a `Wording`.  Out: `Needs`: what the buyer gets before starting.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from decimal import Decimal

from babel.numbers import format_currency
from markupsafe import Markup, escape

from patternpress.assembly.checks.lists import used_materials, used_things
from patternpress.assembly.cutparts import CutPart, by_letter
from patternpress.booklet.contentneeds import Material, MaterialGroup, Needs, Tool
from patternpress.booklet.fillbits import bits
from patternpress.booklet.filllayouts import quantity_words
from patternpress.booklet.hazards import HAZARDS, met
from patternpress.booklet.plain import capital
from patternpress.booklet.stockwords import gluing_up, other_sold, stock_size
from patternpress.booklet.wording import NOTHING, Wording
from patternpress.cutting.boardink import sold_size
from patternpress.cutting.costs import Costs, costs
from patternpress.cutting.jobs import Money, Sheet
from patternpress.cutting.layouts import Layout
from patternpress.design.records.goods import Stock
from patternpress.measure.pieces import markup

MOST_NAMED = 3  # things without a price that are named one by one


def needs(wording: Wording, layouts: Sequence[Layout]) -> Needs:
    """What the buyer needs before starting; how much stock is what the layouts take."""
    return Needs(
        tools=tuple(tools(wording)),
        materials=tuple(group for group in _materials(wording, layouts) if group.materials),
        bits=tuple(bits(wording)),
        costs=tuple(costs_words(costs(wording.model, layouts), wording)),
    )


def costs_words(found: Costs, wording: Wording) -> Iterator[Markup]:
    """The sum at the designer's prices, and what is not in it; nothing where nothing is priced."""
    if found.sums:
        yield wording.say("costs", sum=wording.listed(money(each, wording) for each in found.sums))
    if found.sums and len(found.without) > MOST_NAMED:
        yield wording.say("costs_without_many", count=len(found.without))
    elif found.sums and found.without:
        yield wording.say(
            "costs_without", names=Markup(", ").join(map(wording.name, found.without))
        )


def money(amount: Money, wording: Wording) -> Markup:
    """An amount as it is written in the language of the edition."""
    locale = wording.model.edition.display.locale.replace("-", "_")
    value = Decimal(amount[0].numerator) / Decimal(amount[0].denominator)
    return Markup(escape(format_currency(value, amount[1], locale=locale)))


def tools(wording: Wording) -> Iterator[Tool]:
    """The tools that steps use, with what else will do."""
    book = wording.model.worked.book
    used = used_things(wording.model.worked)
    for tool in book.tools:
        if tool.name.value not in used:
            continue
        notes = [wording.prose(tool.note)]
        if tool.instead is not None:
            notes.append(wording.say("instead", other=wording.prose(tool.instead)))
        if tool.optional is not None and tool.optional.value == "yes":
            notes.append(wording.say("optional"))
        if tool.only_if is not None:
            notes.append(wording.say("only_if", answer=wording.name(tool.only_if.value)))
        yield Tool(wording.name(tool.name.value), _joined(notes))
    yield from _gear(wording)


def _gear(wording: Wording) -> Iterator[Tool]:
    """What cautions ask a buyer to wear, and what templates are stuck on with: it is bought once.

    Nothing that the author lists as a tool.
    """
    keys = dict.fromkeys(h.gear for h in HAZARDS if h.gear and met(h, wording))
    rows = [Tool(wording.say(key)) for key in keys]
    if wording.model.worked.templates:
        rows.append(Tool(wording.say("gear_templates"), wording.say("gear_templates_note")))
    listed = " ".join(str(wording.name(t.name.value)) for t in wording.model.worked.book.tools)
    yield from (each for each in rows if str(each.name).lower() not in listed.lower())


def _joined(notes: Sequence[Markup]) -> Markup:
    """Notes as sentences."""
    return Markup(" ").join(capital(each) for each in notes if each)


def _materials(wording: Wording, layouts: Sequence[Layout]) -> Iterator[MaterialGroup]:
    worked = wording.model.worked
    by_stock: dict[str, list[CutPart]] = {}
    for part in worked.parts:
        by_stock.setdefault(part.stock.name.value, []).append(part)
    laid = {each.job.stock.name.value: each for each in layouts}
    wood: list[Material] = []
    fittings: list[Material] = []
    for stock in worked.book.stock:
        parts = by_stock.get(stock.name.value, [])
        if parts:
            row = stock_row(stock, parts, laid.get(stock.name.value), wording)
            (fittings if stock.bought is not None else wood).append(row)
    sheets = any(
        s.grain and s.grain.value == "none" for s in worked.book.stock if s.name.value in by_stock
    )
    yield MaterialGroup(wording.say("group_wood_more" if sheets else "group_wood"), tuple(wood))
    yield MaterialGroup(wording.say("group_fittings"), tuple(fittings))
    yield MaterialGroup(wording.say("group_used"), tuple(used_up(wording)))


def used_up(wording: Wording) -> Iterator[Material]:
    """Glue, finish and the like, as far as steps use them."""
    for material in used_materials(wording.model.worked):
        notes = [wording.prose(material.note)]
        if material.only_if is not None:
            notes.append(wording.say("only_if", answer=wording.name(material.only_if.value)))
        name, quantity = wording.name(material.name.value), wording.prose(material.quantity)
        yield Material(name, quantity=quantity, note=_joined(notes))


def stock_row(
    stock: Stock, parts: Sequence[CutPart], layout: Layout | None, wording: Wording
) -> Material:
    """A stock to buy: how much, and which parts are made of it."""
    letters = ", ".join(sorted((part.letter for part in parts), key=by_letter))
    notes = [gluing_up(stock, wording), wording.prose(stock.note)]
    if stock.really is not None:
        notes.append(wording.say("really_comes", range=wording.said(stock.really)))
    asked = _asked(layout)
    if asked is not None:
        notes.append(wording.say("nearest_sold"))
    sold_as = [other_sold(stock, wording)] if stock.nearest is not None else []
    sold_as += [wording.prose(each) for each in stock.alternatives]
    name = wording.prose(stock.bought) if stock.bought else wording.name(stock.name.value)
    return Material(
        name,
        quantity=_quantity(stock, parts, layout, wording),
        size=_size(stock, asked, wording),
        letters=letters,
        note=_joined([_wood(stock, wording), *notes]),
        sold_as=tuple(each for each in sold_as if each),
    )


def _asked(layout: Layout | None) -> Sheet | None:
    """The least that serves, where no size is known that shops of the edition's system sell."""
    bought = layout.to_buy if layout is not None else ()
    return bought[0][0] if len(bought) == 1 and bought[0][0].about else None


def _size(stock: Stock, asked: Sheet | None, wording: Wording) -> Markup:
    """The size of a stock, and how much of it serves."""
    size = stock_size(stock, wording)
    if asked is None:
        return size
    least = Markup(markup(sold_size(asked, wording.model.edition.display)))
    return Markup("{}, {}").format(size, wording.say("least_size", size=least))


def _wood(stock: Stock, wording: Wording) -> Markup:
    return wording.name(stock.wood.value) if stock.wood else NOTHING


def _quantity(
    stock: Stock, parts: Sequence[CutPart], layout: Layout | None, wording: Wording
) -> Markup:
    """How much to buy: pieces of fittings; sheets or lengths where the sold size is known."""
    pieces = sum(part.quantity for part in parts)
    if stock.bought is not None:
        key = "pack_of" if stock.pack else "pieces_count"
        return wording.say(key, count=pieces, pack=stock.pack.value if stock.pack else "")
    if layout is None:
        return wording.say("buy_as_listed")  # nobody knows the size that it is sold in
    return quantity_words(layout, wording)
