"""Can the parts be cut from what is sold?

In: a `Worked` design.  Out: problems of parts against their stock, of stock against itself, of
holes against the drills that are sold.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.stockplaces import Rectangle, defect_place
from patternpress.assembly.worked import Worked
from patternpress.design.kinds import parts as kinds
from patternpress.design.problem import Problem
from patternpress.design.records.goods import Length, Stock
from patternpress.measure.drills import NEAR_ENOUGH, Drill, advise, drills
from patternpress.measure.quantity import Kind, Quantity
from patternpress.measure.soldsizes import nearest_sold

# Narrower cuts in board split under the knife: common practice, no source.
NARROWEST = Fraction(1)
# Short grain under about 3 mm breaks: common practice, no source.
SHORT_GRAIN = Fraction(3)
# Larger holes are cut with a saw or a knife: common practice, no source.
LARGEST_BIT = Fraction(13)
# A named equal may differ by a tenth of the thickness: common practice, no source.
NEAR_SHARE = Fraction(1, 10)


def check_widths(worked: Worked) -> Iterator[Problem]:
    """Parts too narrow to cut, or with short grain."""
    for part in worked.parts:
        if part.form != "sheet":
            continue
        across, along = part.extents[part.across], part.extents[part.along]
        narrow = min((part.along, part.across), key=lambda axis: part.extents[axis].value)
        span = part.part.name.span
        if part.extents[narrow].value < NARROWEST:
            facts = {"part": f"“{part.name}”", "size": _mm(part.extents[narrow]), "axis": narrow}
            yield Problem(kinds.ThinnerThanCanBeCut, span, facts)
        if part.grain and along.value < SHORT_GRAIN and across.value > along.value:
            facts = {"part": f"“{part.name}”", "long": _mm(across), "short": _mm(along)}
            yield Problem(kinds.ShortGrain, span, facts)


def check_sold(worked: Worked) -> Iterator[Problem]:
    """Parts longer or wider than any sheet or length that is sold of their stock, trimmed.

    What is at hand counts where none is sold: a buyer has nothing else.
    """
    for part in worked.parts:
        stock = part.stock
        lots = [stock.sold or (), *(lot.size for lot in stock.also_sold)]
        if not any(lots):
            lots = [lot.size for lot in stock.at_hand]
        sizes = [found for lot in lots if lot and (found := _lengths(worked, lot))]
        trim = worked.solver.value(stock.trim) if stock.trim else None
        off = 2 * trim.value if trim else Fraction(0)
        if not sizes or any(_fits(part, size, off) for size in sizes):
            continue
        facts = {"part": f"“{part.name}”", "size": _sizes(part), "stock": stock.name.value}
        facts["sold"] = " x ".join(said.text for said in lots[0] or lots[-1])
        facts["least"] = _least(part, off)
        yield Problem(kinds.LongerThanSold, part.part.name.span, facts)


def check_defects(worked: Worked) -> Iterator[Problem]:
    """Defects that reach over the edge of their board."""
    for stock in worked.book.stock:
        for lot in (*stock.also_sold, *stock.at_hand):
            size = _lengths(worked, lot.size)
            for defect in lot.defects if size else ():
                board = (size[-1], size[0] if len(size) > 1 else Fraction(0))
                place = defect_place(defect, board, worked.solver)
                if place is not None and not _within(place, board):
                    span = defect.size[0].span
                    facts = {"size": _said(defect.size), "board": _said(lot.size)}
                    facts["at"] = " and ".join(
                        f"{each.distance.text} from {each.side}" for each in defect.at.offsets
                    )
                    yield Problem(kinds.DefectOffBoard, span, facts)


def _said(sizes: Sequence[Length]) -> str:
    return " x ".join(each.text for each in sizes)


def _within(place: Rectangle, board: tuple[Fraction, Fraction]) -> bool:
    x, y, along, across = place
    return min(x, y) >= 0 and x + along <= board[0] and y + across <= board[1]


def _lengths(worked: Worked, lot: Sequence[Length]) -> tuple[Fraction, ...]:
    """Width and length, or the length alone; nothing where one could not be worked out."""
    found = [worked.solver.value(each) for each in lot]
    return tuple(each.value for each in found if each) if None not in found else ()


def _fits(part: CutPart, size: tuple[Fraction, ...], off: Fraction) -> bool:
    """Whether a part comes out of a sheet or length of which the edges are trimmed off."""
    along, across = part.blank(part.along).value, Fraction(0)
    length, width = size[-1] - off, size[0] - off if len(size) > 1 else None
    if part.across and part.form == "sheet":
        across = part.blank(part.across).value
    if along <= length and (width is None or across <= width):
        return True
    return not part.grain and width is not None and along <= width and across <= length


def _least(part: CutPart, off: Fraction) -> str:
    """The smallest sheet (width x length) or length that a part comes out of."""
    axes = [part.across, part.along] if part.form == "sheet" else [part.along]
    return " x ".join(
        _mm(Quantity(part.blank(axis).value + off, Kind.LENGTH)) for axis in axes if axis
    )


def _sizes(part: CutPart) -> str:
    axes = [part.along, part.across] if part.form == "sheet" else [part.along]
    return " x ".join(_mm(part.extents[axis]) for axis in axes)


def check_stock_figures(worked: Worked) -> Iterator[Problem]:
    """Stock whose range excludes it, or whose named equal is not the nearest or has no layers."""
    for stock in worked.book.stock:
        others = (stock.nearest, *stock.at_scales, *(each.nearest for each in stock.at_scales))
        for layers in (each.layers for each in others if each is not None and each.layers):
            if stock.sheet is None:
                facts = {"stock": stock.name.value, "layers": str(layers.value)}
                yield Problem(kinds.LayersNotSheet, layers.span, facts)
        thick = worked.solver.thickness(stock)
        if thick is None:
            continue
        if stock.really is not None:
            yield from _range(worked, stock, thick)
        if stock.nearest is not None and stock.sheet:
            yield from _nearest(worked, stock, thick)


def _range(worked: Worked, stock: Stock, thick: Quantity) -> Iterator[Problem]:
    assert stock.really is not None
    measure = worked.solver.measure(stock.really)
    if measure is None or measure.low.kind is not Kind.LENGTH:
        return
    high = measure.high or measure.low
    if not measure.low.value <= thick.value <= high.value:
        facts = {"stock": stock.name.value, "sold": _mm(thick), "range": stock.really.text}
        yield Problem(kinds.ReallyExcludes, stock.really.span, facts)


def _nearest(worked: Worked, stock: Stock, thick: Quantity) -> Iterator[Problem]:
    assert stock.nearest is not None
    named = worked.solver.value(stock.nearest.size[0])
    if named is None:
        return
    layers = stock.nearest.layers.value if stock.nearest.layers else 1
    differs = abs(layers * named.value - thick.value)
    system = (
        "in" if "in" in stock.nearest.size[0].text or "″" in stock.nearest.size[0].text else "mm"
    )
    sold = nearest_sold(thick.value, "in" if system == "in" else "mm")
    if differs > thick.value * NEAR_SHARE and abs(sold.mm - thick.value) < differs:
        text = stock.nearest.size[0].text
        facts = {"nearest": f"{layers} x {text}" if layers > 1 else text, "size": _mm(thick)}
        facts |= {"by": _mm(Quantity(differs, Kind.LENGTH)), "sold": sold.name}
        yield Problem(kinds.NotNearest, stock.nearest.size[0].span, facts)


def check_grooves(worked: Worked) -> Iterator[Problem]:
    """Grooves that no board of the design goes into; a rebate takes a board of any thickness."""
    boards = [each for each in worked.book.stock if each.sheet]
    thicknesses = [found.value for each in boards if (found := worked.solver.thickness(each))]
    for part in worked.book.parts:
        for groove in part.grooves:
            wide = worked.solver.value(groove.wide) if groove.at else None
            if wide is not None and wide.value < min(thicknesses, default=wide.value):
                facts = {"part": f"“{part.name.value}”", "wide": groove.wide.text}
                yield Problem(kinds.GrooveTooNarrow, groove.wide.span, facts)


def check_bits(worked: Worked) -> Iterator[Problem]:
    """Holes in sizes that no drill has, in the design's own system."""
    inch = worked.book.units is not None and worked.book.units.value == "in"
    for part in worked.book.parts:
        for hole in part.holes:
            size = worked.solver.value(hole.round) if hole.round else None
            if hole.round is None or size is None or not 0 < size.value <= LARGEST_BIT:
                continue
            bits = _bits(size.value, inch)
            if min(abs(bit.diameter_mm - size.value) for bit in bits) > NEAR_ENOUGH:
                facts = {"size": hole.round.text, "near_bit": " or ".join(bit.name for bit in bits)}
                yield Problem(kinds.BitNotSold, hole.round.span, facts)


def _bits(size: Fraction, inch: bool) -> tuple[Drill, ...]:
    """The drills near a size; the finest or coarsest where it lies beyond them."""
    series = drills("fractional" if inch else "tenths")
    nearest = min(series, key=lambda drill: abs(drill.diameter_mm - size))
    return advise(size, "in" if inch else "mm") or (nearest,)


def _mm(quantity: Quantity) -> str:
    return f"{float(quantity.value):.3f}".rstrip("0").rstrip(".") + " mm"
