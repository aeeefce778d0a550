"""How stock is named: as it is sold, in the edition's system where it is sold in that.

In: a `Stock` and a `Wording`.  Out: its size in words.  A size that a shop sells by is a name:
it is printed as typed and never converted; in an edition of the other system the nearest equal
stands first.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from markupsafe import Markup, escape

from patternpress.booklet.wording import NOTHING, Wording
from patternpress.closing.stocking import count_of, unit_of
from patternpress.cutting.jobs import system_of
from patternpress.design.records.goods import Stock
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
    return Markup("{} ({})").format(named, note) if note else named


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
