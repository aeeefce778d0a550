"""How stock is named: as it is sold, in the edition's system where it is sold in that.

In: a `Stock` and a `Wording`.  Out: its size in words.  A size that a shop sells by is a name:
it is printed as typed and never converted; in an edition of the other system the nearest equal
stands first.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from markupsafe import Markup, escape

from patternpress.assembly.editions import edition_names, published
from patternpress.booklet.fitwords import fine
from patternpress.booklet.wording import NOTHING, Wording
from patternpress.closing.stocking import NEAR, count_of, range_of, sections_of, unit_of
from patternpress.cutting.jobs import system_of
from patternpress.design.records.goods import Nearest, Stock
from patternpress.design.span import Said
from patternpress.measure.formula import Formula
from patternpress.measure.pieces import NO_BREAK
from patternpress.measure.unitwords import behind_typed

Sizes = Sequence[Said[Formula]]


def stock_size(stock: Stock, wording: Wording) -> Markup:
    """The size of a stock in words: thickness or section, then the size it is sold in.

    Where it is sold in several, how many of which to buy is told beside it.
    """
    if stock.bought is not None:
        return NOTHING
    if _foreign(stock, wording) and stock.nearest is not None:
        near = stock.nearest
        return _whole(stock, near.size, near.sold, count_of(near.layers), wording)
    lots = [system_of(lot.size[-1].text) for lot in stock.also_sold]
    sold = None if wording.model.edition.stock in lots else stock.sold
    return _whole(stock, _own(stock), sold, stock.glued, wording)


def gluing_up(stock: Stock, wording: Wording) -> Markup:
    """What to do where a thickness is made of several sheets."""
    if stock.glued < 2 or stock.sheet is None:
        return NOTHING
    total = wording.model.worked.solver.value(stock.sheet)
    size = wording.size(total) if total is not None else NOTHING
    return wording.say("stock_glued", count=stock.glued, size=size)


def sold_sheet(stock: Stock, wording: Wording) -> Markup:
    """The size that a sheet is sold in, in the edition's system where it is sold in that."""
    foreign = _foreign(stock, wording) and stock.nearest is not None
    sold = stock.nearest.sold if foreign and stock.nearest else stock.sold
    return typed(sold, wording) if sold else NOTHING


def other_sold(stock: Stock, wording: Wording) -> Markup:
    """What else it is sold as: its equal in the system that `stock_size` does not name."""
    if stock.nearest is None:
        return NOTHING
    if stock.bought is not None:
        return wording.prose(stock.nearest.note) or typed(stock.nearest.size, wording)
    if _foreign(stock, wording):
        return _pair(_own(stock), stock.sold, stock.glued, wording)
    near = stock.nearest
    named = _pair(near.size, near.sold, count_of(near.layers), wording)
    note = wording.prose(stock.nearest.note).rstrip(".")
    off = _apart(stock, near, wording)
    if off:
        named = wording.say("sold_apart", named=named, off=off)
        note = note or _instead(wording)
    return Markup("{} ({})").format(named, note) if note else named


def _apart(stock: Stock, near: Nearest, wording: Wording) -> Markup:
    """How far the nearest equal is from the stock, where that is more than the stock itself is
    ever out: by so much it will not go in where this one goes.
    """
    solver = wording.model.worked.solver
    pairs = []
    for own, other in zip(sections_of(stock), near.size, strict=False):
        found = solver.value(own), solver.value(other)
        if found[0] is not None and found[1] is not None:
            pairs.append((found[0].value, count_of(near.layers) * found[1].value))
    beyond = []
    for one, two in pairs:
        low, high = range_of(stock, one, solver) if len(pairs) == 1 else (one - NEAR, one + NEAR)
        if not low <= two <= high:
            beyond.append(two - one)
    if not beyond:
        return NOTHING
    most = max(beyond, key=abs)
    off = fine(abs(most), wording.model.edition.display.first, wording)
    if len(pairs) > 1:
        return wording.say("sold_apart_up_to", off=off)
    return wording.say("sold_apart_more" if most > 0 else "sold_apart_less", off=off)


def _instead(wording: Wording) -> Markup:
    """What to do about that: an edition for it, or nothing that this booklet could help with."""
    model = wording.model
    other = "in" if model.edition.stock == "mm" else "mm"
    every = (published(model.design, each) for each in edition_names(model.design))
    made = any(each.stock == other and each.scale == model.edition.scale for each in every)
    return wording.say(f"sold_apart_edition_{other}" if made else "sold_apart_alone")


def _foreign(stock: Stock, wording: Wording) -> bool:
    """Whether it is described in a system that the shops of the edition do not sell by."""
    return unit_of(stock) not in ("", wording.model.edition.stock)


def _own(stock: Stock) -> Sizes:
    if stock.strip is not None:
        return stock.strip
    return [said for said in (stock.sheet, stock.rod) if said is not None]


def _whole(stock: Stock, size: Sizes, sold: Sizes | None, layers: int, wording: Wording) -> Markup:
    named = _layered(typed(size, wording), layers, wording)
    if stock.strip is not None and len(size) == 1:
        named = Markup("{} × {}").format(typed(size, wording, unit=False), named)
    form = "sheet" if stock.sheet else "rod" if stock.rod else "strip"
    keys = {"sheet": "thickness", "rod": "diameter", "strip": "section"}
    fixed = wording.say(f"form_{form}", **{keys[form]: named})
    if not sold:
        return fixed
    return Markup("{}, {}").format(fixed, wording.say("sold_size", size=typed(sold, wording)))


def _layered(thickness: Markup, layers: int, wording: Wording) -> Markup:
    if layers < 2:
        return thickness
    return wording.say("layers_of", count=layers, thickness=thickness)


def _pair(size: Sizes, sold: Sizes | None, layers: int, wording: Wording) -> Markup:
    named = _layered(typed(size, wording), layers, wording)
    if not sold:
        return named
    return Markup("{}, {}").format(named, wording.say("sold_pieces", size=typed(sold, wording)))


def typed(sizes: Sizes, wording: Wording, *, unit: bool = True) -> Markup:
    """Sizes as the author typed them, the unit once at the end and never broken from it."""
    typed_ = [" ".join(said.text.split()) for said in sizes]
    found = re.search(r"\s?(mm|cm|m|in|inch|inches|ft|″|\")$", typed_[-1])
    word = found[1] if found else ""
    bare = [re.sub(rf"\s?{re.escape(word)}$", "", text) if word else text for text in typed_]
    joined = Markup(f"{NO_BREAK}×{NO_BREAK}").join(escape(wording.local(text)) for text in bare)
    if not unit or not word:
        return joined
    return Markup("{}{}").format(joined, behind_typed(word, wording.model.edition.display.locale))
