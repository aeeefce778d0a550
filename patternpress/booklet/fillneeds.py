"""Tools, materials, bits and the cutting list, as content.

In: a `Wording`.  Out: `Needs` and the groups of the cutting list.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction

from markupsafe import Markup, escape

from patternpress.assembly.body import end_angles
from patternpress.assembly.checks.lists import used_things
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.lookalikes import look_alikes
from patternpress.assembly.shown import shown_size
from patternpress.booklet.content import Bit, CutGroup, CutRow, Material, MaterialGroup, Needs, Tool
from patternpress.booklet.stockwords import other_sold, stock_size
from patternpress.booklet.wording import NOTHING, Wording
from patternpress.cutting.enough import lengths_enough, sheets_enough
from patternpress.design.phrases import EndCut
from patternpress.design.records.goods import Length, Stock
from patternpress.measure.drills import advise


def needs(wording: Wording) -> Needs:
    """What the buyer needs before starting."""
    return Needs(
        tools=tuple(_tools(wording)),
        materials=tuple(group for group in _materials(wording) if group.materials),
        bits=tuple(_bits(wording)),
    )


def _tools(wording: Wording) -> Iterator[Tool]:
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
            notes.append(wording.say("only_if", answer=tool.only_if.value))
        yield Tool(tool.name.value, _joined(notes))


def _joined(notes: Sequence[Markup]) -> Markup:
    return Markup("; ").join(each.rstrip(".") for each in notes if each)


def _materials(wording: Wording) -> Iterator[MaterialGroup]:
    worked = wording.model.worked
    by_stock: dict[str, list[CutPart]] = {}
    for part in worked.parts:
        by_stock.setdefault(part.stock.name.value, []).append(part)
    wood: list[Material] = []
    fittings: list[Material] = []
    for stock in worked.book.stock:
        parts = by_stock.get(stock.name.value, [])
        if parts:
            row = _stock_row(stock, parts, wording)
            (fittings if stock.bought is not None else wood).append(row)
    yield MaterialGroup(wording.say("group_wood"), tuple(wood))
    yield MaterialGroup(wording.say("group_fittings"), tuple(fittings))
    yield MaterialGroup(wording.say("group_used"), tuple(_used_up(wording)))


def _used_up(wording: Wording) -> Iterator[Material]:
    used = used_things(wording.model.worked)
    for material in wording.model.worked.book.materials:
        if material.name.value not in used:
            continue
        notes = [wording.prose(material.note)]
        if material.only_if is not None:
            notes.append(wording.say("only_if", answer=material.only_if.value))
        yield Material(
            material.name.value, quantity=wording.prose(material.quantity), note=_joined(notes)
        )


def _stock_row(stock: Stock, parts: list[CutPart], wording: Wording) -> Material:
    letters = ", ".join(part.letter for part in parts)
    notes = [wording.prose(stock.note)]
    if stock.really is not None:
        notes.append(wording.say("really_comes", range=wording.said(stock.really)))
    sold_as = [other_sold(stock, wording)] if stock.nearest is not None else []
    sold_as += [wording.prose(each) for each in stock.alternatives]
    name = wording.prose(stock.bought) if stock.bought else Markup(escape(stock.name.value))
    return Material(
        name,
        quantity=_quantity(stock, parts, wording),
        size=stock_size(stock, wording),
        letters=letters,
        note=_joined([_wood(stock), *notes]),
        sold_as=tuple(each for each in sold_as if each),
    )


def _wood(stock: Stock) -> Markup:
    return Markup(escape(stock.wood.value)) if stock.wood else NOTHING


def _quantity(stock: Stock, parts: list[CutPart], wording: Wording) -> Markup:
    """How much to buy: pieces of fittings; sheets or lengths where the sold size is known."""
    pieces = sum(part.quantity for part in parts)
    if stock.bought is not None:
        key = "pack_of" if stock.pack else "pieces_count"
        return wording.say(key, count=pieces, pack=stock.pack.value if stock.pack else "")
    solver = wording.model.worked.solver
    sold = [found.value for each in stock.sold or () if (found := solver.value(each))]
    kerf, left_on = _figure(stock.kerf, wording), _figure(stock.allowance, wording)
    if stock.sheet is not None and len(sold) == 2:
        count = sheets_enough(parts, (sold[0], sold[1]), kerf, left_on)
        return _counted("sheets", count, wording)
    if stock.sheet is None and sold:
        count = lengths_enough(parts, sold[-1], kerf, left_on)
        return _counted("strips", count, wording)
    return NOTHING


def _figure(said: Length | None, wording: Wording) -> Fraction:
    found = wording.model.worked.solver.value(said) if said else None
    return found.value if found else Fraction(0)


def _counted(key: str, count: int, wording: Wording) -> Markup:
    if not count:
        return NOTHING
    return wording.say(f"{key}_one" if count == 1 else key, count=count)


def _bits(wording: Wording) -> Iterator[Bit]:
    """One bit a diameter, in the edition's leading system, with the other beside it."""
    solver = wording.model.worked.solver
    found: dict[Fraction, list[Markup]] = {}
    for part in wording.model.worked.parts:
        for hole in part.part.holes:
            size = solver.value(hole.round) if hole.round else None
            if size is not None:
                key = "bit_row" if hole.row else "bit_hole"
                count = hole.row.quantity.value if hole.row else 1
                thing = wording.part(part)
                where = wording.say(key, hole=hole.name.value, thing=thing, count=count)
                found.setdefault(size.value, []).append(where)
    first = wording.model.edition.display.first
    for diameter, holes in sorted(found.items()):
        own = advise(diameter, first)
        other = advise(diameter, "mm" if first == "in" else "in")
        named = own[0].name if own else wording.mm(diameter)
        names = [bit.name for bit in (*own[1:], *other)]
        yield Bit(named, Markup("; ").join(dict.fromkeys(holes)), " or ".join(names))


def cutting(wording: Wording) -> tuple[CutGroup, ...]:
    """The cutting list, a group for each stock, largest pieces first."""
    groups = []
    for stock in wording.model.worked.book.stock:
        parts = [p for p in wording.model.worked.parts if p.stock is stock and p.size]
        if parts and stock.bought is None:
            parts.sort(key=lambda part: tuple(-each.value for each in part.size))
            rows = tuple(_row(part, wording) for part in parts)
            size = stock_size(stock, wording)
            heading = wording.say("stock_heading", name=stock.name.value, size=size)
            note = wording.say("cut_with", tool=stock.cut_with.value) if stock.cut_with else NOTHING
            groups.append(CutGroup(heading, rows, note=Markup(note[:1].upper() + note[1:])))
    return tuple(groups)


def _row(part: CutPart, wording: Wording) -> CutRow:
    return CutRow(
        part.letter,
        part.name,
        part.quantity,
        length=wording.size(*shown_size(part, wording.model.edition)),
        grain=_grain(part, wording),
        note=Markup(" ").join(notes_of(part, wording)),
    )


def _grain(part: CutPart, wording: Wording) -> Markup:
    if part.form in ("strip", "rod"):
        return wording.say("along_length")
    return wording.say(f"grain_{part.along}" if part.grain else "grain_none")


def notes_of(part: CutPart, wording: Wording) -> tuple[Markup, ...]:
    """What the buyer must know beside the figures: fitting, ends, mirrored pieces, spares."""
    return tuple(_notes(part, wording))


def _notes(part: CutPart, wording: Wording) -> Iterator[Markup]:
    if part.opening:
        step = wording.model.worked.usage.step_where("measure", part.opening) or ""
        yield wording.say("note_fitted", opening=part.opening, step=step)
    mirrored = [p.name.value for p in part.part.pieces if p.stands and "mirrored" in p.stands.value]
    if mirrored:
        yield wording.say("note_mirrored", pieces=", ".join(mirrored))
    alike = look_alikes(wording.model.worked).get(part.name)
    if alike:
        yield wording.say("note_alike", other=wording.thing(alike[0]))
    ends = end_notes(part, wording)
    if ends:
        yield wording.say("note_ends", ends=Markup("; ").join(ends))
    if part.part.spares is not None:
        yield wording.say("note_spares", count=part.part.spares.value)
    if part.name in wording.model.worked.templates:
        yield wording.say("note_template")
    note = wording.prose(part.part.note)
    if note:
        yield note


def end_notes(part: CutPart, wording: Wording) -> tuple[Markup, ...]:
    """How each end or edge is cut that is not square."""
    return tuple(_end(sides.value[0], cut, part, wording) for sides, cut in part.part.ends)


def _end(side: str, cut: EndCut, part: CutPart, wording: Wording) -> Markup:
    shown = wording.say(f"side_{side}")
    if cut.how == "angles":
        angles = [
            _end_angle(shown, wording.said(angle), longest, wording)
            for angle, longest in cut.angles
        ]
        return wording.listed(angles)
    found = end_angles(side, wording.model.assembly.bodies[part.name].faces[side].normal)
    if not found:
        return wording.say(f"note_end_{cut.how}", side=shown)
    told = [_end_angle(shown, wording.degrees(angle), longest, wording) for angle, longest in found]
    return wording.say(f"note_end_{cut.how}_at", angles=wording.listed(told))


def _end_angle(side: Markup, angle: Markup, longest: str, wording: Wording) -> Markup:
    shown = wording.say(f"side_{longest}")
    return wording.say("note_end_angle", side=side, angle=angle, longest=shown)
