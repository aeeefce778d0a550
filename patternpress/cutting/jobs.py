"""What is to be cut from what: a job for each stock.

In: a model.  Out: `Job`s: the sheets or lengths that the edition's buyer can get, those at hand,
and every piece with what is left on it for sanding and fitting.  All sizes in mm, exact.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.hands import turned_shape
from patternpress.assembly.model import Model
from patternpress.assembly.stockplaces import defect_place
from patternpress.cutting.contours import Contour, contour_of
from patternpress.cutting.packing.records import KNIFE, SAW
from patternpress.cutting.slicing import Area
from patternpress.design.records.goods import Defect, Length, Lot, Stock

ZERO = Fraction(0)
# Stock kept aside for a piece that is cut after measuring: common practice, no source.
KEPT_FOR_FITTING = Fraction(2)
# Shorter pieces and narrower strips cannot be held at a blade, so that smaller offcuts are waste
# unless the author says otherwise: common practice, no source.
SHORT, NARROW = Fraction(40), Fraction(12)
SAWS = ("saw",)  # a tool with this in its name cuts from edge to edge

Money = tuple[Fraction, str]


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet or length: `along` its length and the grain, `across` its width (0 on a length).

    `count` is how many are at hand, nothing for what is bought.  `used` is a corner that is gone:
    how far along and across it reaches.  `about`: shops here sell it in some size near this one.
    `defects` are rectangles that no piece may touch.
    """

    along: Fraction
    across: Fraction
    price: Money | None = None
    count: int | None = None
    used: tuple[Fraction, Fraction] | None = None
    about: bool = False
    defects: tuple[Area, ...] = ()


@dataclass(frozen=True, slots=True)
class Item:
    """One sort of piece to cut: `along` and `across` as it is cut out, allowances included.

    `contour` is its outline, where that is no rectangle.  `fitting`: what of that is left on the
    part's length and width because they follow from a measuring.
    """

    part: CutPart
    along: Fraction
    across: Fraction
    count: int
    turns: bool
    board: str = ""
    contour: Contour | None = None
    fitting: tuple[Fraction, Fraction] = (ZERO, ZERO)

    @property
    def letter(self) -> str:
        """The part's letter."""
        return self.part.letter

    @property
    def fitted(self) -> bool:
        """Whether it is only kept aside and cut after measuring."""
        return bool(self.part.opening)


@dataclass(frozen=True, slots=True)
class Job:
    """The pieces of one stock, and what they can be cut from.

    `tool`: edge to edge, or anywhere.  `flat`: sheets, not lengths.  `trim` is cut off each edge.
    `keeps`: how far the smallest offcut that is worth keeping reaches along and across.
    """

    stock: Stock
    flat: bool
    tool: str
    kerf: Fraction
    trim: Fraction
    left_on: Fraction
    sheets: tuple[Sheet, ...]
    items: tuple[Item, ...]
    keeps: tuple[Fraction, Fraction] = (ZERO, ZERO)


def jobs(model: Model, *, workshop: bool = False) -> Iterator[Job]:
    """A job for each stock with parts to cut and a size that it is sold in or at hand.

    What is at hand lies in the author's `workshop`, and no buyer has it: elsewhere it is used for
    nothing but stock that is not sold.
    """
    for stock in model.worked.book.stock:
        parts = [p for p in model.worked.parts if p.stock is stock and p.quantity]
        sheets = tuple(_sheets(stock, model, workshop))
        if stock.bought is None and parts and sheets:
            yield _job(stock, parts, sheets, model)


def _job(stock: Stock, parts: Sequence[CutPart], sheets: tuple[Sheet, ...], model: Model) -> Job:
    left_on = _figure(stock.allowance, model)
    longest = max(sheet.along for sheet in sheets)
    widest = max(sheet.across for sheet in sheets)
    flat = stock.sheet is not None
    items = []
    for part in parts:
        bare = part.blank(part.along).value
        broad = part.blank(part.across).value if flat else ZERO
        turns = flat and not part.grain
        swapped = turns and (bare > longest or broad > widest)
        most = (widest, longest) if swapped else (longest, widest)
        along = _with(bare, left_on + _to_fit(part, part.along), most[0])
        across = _with(broad, left_on + _to_fit(part, part.across), most[1]) if flat else ZERO
        fitting = max(along - bare - left_on, ZERO), max(across - broad - left_on, ZERO)
        if swapped:
            along, across = across, along
        board = part.part.same_board.value if part.part.same_board else ""
        contour = None
        if flat and not part.opening:  # a blank, whose outline follows from the measuring too
            shape = model.worked.shapes.get(part.name)
            axis = part.across if swapped else part.along
            # It lies as its template shows it.
            shape = turned_shape(part, shape, model.worked) if shape else None
            contour = contour_of(part, shape, axis, (along, across))
        items.append(Item(part, along, across, part.quantity, turns, board, contour, fitting))
    kerf, trim = _figure(stock.kerf, model), _figure(stock.trim, model)
    keeps = _keeps(stock, model)
    return Job(stock, flat, _tool(stock), kerf, trim, left_on, sheets, tuple(items), keeps)


def _keeps(stock: Stock, model: Model) -> tuple[Fraction, Fraction]:
    """How far the smallest offcut worth keeping reaches along and across."""
    said = _lengths(stock.smallest_offcut or (), model)
    if not said:
        return SHORT, NARROW if stock.sheet is not None else ZERO
    return said[-1], said[0] if len(said) == 2 else ZERO


def _to_fit(part: CutPart, axis: str) -> Fraction:
    """What is kept on a size that follows from a measuring."""
    return KEPT_FOR_FITTING if part.opening and axis in part.waits else ZERO


def _with(size: Fraction, more: Fraction, most: Fraction) -> Fraction:
    """A size with an allowance, as far as the stock has room for it."""
    return max(size, min(size + more, most))


def _tool(stock: Stock) -> str:
    if stock.cuts is not None:
        return SAW if stock.cuts.value == "edge to edge" else KNIFE
    named = stock.cut_with.value.casefold() if stock.cut_with else ""
    return SAW if not named or any(word in named for word in SAWS) else KNIFE


def _sheets(stock: Stock, model: Model, workshop: bool) -> Iterator[Sheet]:
    """At hand first, then what the edition's buyer can get: `sold` is in the local system by now.

    Where nothing is said of the local system, the size of the other one stands for it.
    """
    on_sale = tuple(_on_sale(stock, model))
    if workshop or not on_sale:
        for lot in stock.at_hand:
            yield from _lot(lot, lot.count.value if lot.count else 1, stock, model)
    yield from on_sale


def _on_sale(stock: Stock, model: Model) -> Iterator[Sheet]:
    if stock.sold:
        yield from _sold(stock.sold, stock.price.value if stock.price else None, stock, model)
    elif stock.nearest is not None and stock.nearest.sold:
        for sheet in _sold(stock.nearest.sold, None, stock, model):
            yield replace(sheet, about=True)
    for lot in stock.also_sold:
        if system_of(lot.size[-1].text) == model.edition.stock:
            yield from _lot(lot, lot.count.value if lot.count else None, stock, model)


def system_of(text: str) -> str:
    """The system of a size as it was typed."""
    return "in" if re.search(r"(in|inch|inches|ft|″|\")\s*$", text) else "mm"


def _lot(lot: Lot, count: int | None, stock: Stock, model: Model) -> Iterator[Sheet]:
    used = _lengths(lot.used or (), model)
    corner = (used[1], used[0]) if len(used) == 2 else None
    for sheet in _sold(lot.size, lot.price.value if lot.price else None, stock, model):
        defects = tuple(_defect(each, sheet, model) for each in lot.defects)
        yield Sheet(sheet.along, sheet.across, sheet.price, count, corner, False, defects)


def _defect(defect: Defect, sheet: Sheet, model: Model) -> Area:
    """Where a defect is: its middle from the left, and from the front or bottom, as it is drawn."""
    place = defect_place(defect, (sheet.along, sheet.across), model.worked.solver)
    return Area(*place) if place else Area(ZERO, ZERO, ZERO, ZERO)


def _sold(
    sizes: Sequence[Length], price: Money | None, stock: Stock, model: Model
) -> Iterator[Sheet]:
    found = _lengths(sizes, model)
    if stock.sheet is not None and len(found) == 2:
        yield Sheet(found[1], found[0], price)
    elif stock.sheet is None and found:
        yield Sheet(found[-1], ZERO, price)


def _lengths(sizes: Sequence[Length], model: Model) -> list[Fraction]:
    solver = model.worked.solver
    return [found.value for each in sizes if (found := solver.value(each))]


def _figure(said: Length | None, model: Model) -> Fraction:
    found = model.worked.solver.value(said) if said else None
    return found.value if found else ZERO
