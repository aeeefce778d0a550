"""The cutting list, as content.

In: a `Wording`.  Out: a `CutGroup` for each stock, its pieces by letter, with what must be known
beside the figures: fitting, mirrored pieces, ends that are not square, spares.
"""

from __future__ import annotations

from collections.abc import Iterator

from markupsafe import Markup

from patternpress.assembly.body import SIDE_AXIS, end_angles
from patternpress.assembly.broadface import on_other_face
from patternpress.assembly.cutparts import CutPart, by_letter
from patternpress.assembly.fitted import step_of
from patternpress.assembly.hands import mirror_images
from patternpress.assembly.outlines import bounding_box
from patternpress.assembly.shown import is_largest, shown_extent, shown_size
from patternpress.assembly.sizes import AXES
from patternpress.assembly.specs import PAGE_AXES
from patternpress.booklet.boardwords import board_notes, measured_before
from patternpress.booklet.content import CutGroup, CutRow
from patternpress.booklet.fitwords import fit_notes
from patternpress.booklet.outlinewords import outline_notes
from patternpress.booklet.plain import upper
from patternpress.booklet.sidewords import side_as_it_stands
from patternpress.booklet.stockwords import stock_size
from patternpress.booklet.wording import NOTHING, Wording
from patternpress.design.phrases import EndCut
from patternpress.design.records.goods import Stock
from patternpress.design.span import Said
from patternpress.measure.formula import Formula
from patternpress.measure.quantity import Kind, Quantity


def cutting(wording: Wording) -> tuple[CutGroup, ...]:
    """The cutting list, a group for each stock, its pieces by letter."""
    groups = []
    for stock in wording.model.worked.book.stock:
        parts = [p for p in wording.model.worked.parts if p.stock is stock and p.size]
        if parts and stock.bought is None:
            parts.sort(key=lambda part: by_letter(part.letter))
            rows = tuple(_row(part, wording) for part in parts)
            size = stock_size(stock, wording)
            heading = wording.say("stock_heading", name=wording.name(stock.name.value), size=size)
            groups.append(CutGroup(heading, rows, note=_stock_note(stock, wording)))
    return tuple(groups)


def _stock_note(stock: Stock, wording: Wording) -> Markup:
    """How a stock is cut, and what is not cut before it has been measured."""
    how = (
        wording.say("cut_with", tool=wording.name(stock.cut_with.value))
        if stock.cut_with
        else NOTHING
    )
    how, first = upper(how), measured_before(stock, wording)
    return Markup("{}. {}").format(how, first) if how and first else how or first


def _row(part: CutPart, wording: Wording) -> CutRow:
    return CutRow(
        part.letter,
        wording.name(part.name),
        part.quantity,
        length=_in_lines(wording.size(*shown_size(part, wording.model.edition))),
        grain=grain_words(part, wording),
        note=Markup(" ").join(notes_of(part, wording)),
    )


def _in_lines(size: Markup) -> Markup:
    """A size with the figures of the second system on a line of their own."""
    first, bracket, second = size.partition(" (")
    return first + Markup(" <br>(") + second if bracket else size


def grain_words(part: CutPart, wording: Wording) -> Markup:
    """The way the grain runs; a strip or a rod has it along its length, however it stands."""
    if part.form in ("strip", "rod"):
        return wording.say("along_length")
    return wording.say(f"grain_{part.along}" if part.grain else "grain_none")


def notes_of(part: CutPart, wording: Wording) -> tuple[Markup, ...]:
    """What the buyer must know beside the figures: fitting, ends, mirrored pieces, spares."""
    return tuple(_notes(part, wording))


def _notes(part: CutPart, wording: Wording) -> Iterator[Markup]:
    if part.opening:
        key = "note_fitted_largest" if is_largest(part, wording.model.edition) else "note_fitted"
        yield wording.say(key, opening=wording.name(part.opening))
    yield from fit_notes(part, wording)
    yield from board_notes(part, wording)
    if part.form == "rod":
        yield wording.say("note_round")
    if mirrored := mirror_images(part, wording.model.worked):
        yield wording.say("note_mirrored", pieces=Markup(", ").join(map(wording.name, mirrored)))
    alike = wording.alike.get(part.name)
    if alike:
        yield wording.say("note_alike", other=wording.thing(alike[0]))
    yield from outline_notes(part, wording)
    yield from _outline(part, wording)
    ends = end_notes(part, wording)
    if ends:
        yield from _tips(part, wording)
        yield wording.say("note_ends", ends=Markup("; ").join(ends))
        twin = end_notes(part, wording, twin=True)
        if mirrored and twin != ends:
            pieces = Markup(", ").join(map(wording.name, mirrored))
            yield upper(wording.say("note_ends_of", pieces=pieces, ends=Markup("; ").join(twin)))
    if part.part.spares is not None:
        yield wording.say("note_spares", count=part.part.spares.value)
    note = wording.prose(part.part.note)
    if note:
        yield note


def _outline(part: CutPart, wording: Wording) -> Iterator[Markup]:
    """What is left of the size once the outline is cut: a taper may end before the blank does.

    The template is as large as the outline; one held against the blank's figures looks shrunk.
    """
    shape = wording.model.worked.shapes.get(part.name)
    if shape is None or not part.along or not part.across:
        return
    box = bounding_box(shape.outline)
    page = PAGE_AXES[shape.view]
    sizes = dict(zip(page, (box.right - box.left, box.top - box.bottom), strict=True))
    blank = dict(zip(page, (shape.width, shape.height), strict=True))
    least = step_of(wording.model.edition.display, wording.model.edition.display.first)
    axes = (part.along, part.across)
    if all(each in sizes for each in axes) and any(blank[a] - sizes[a] > least for a in axes):
        shown = (Quantity(sizes[each], Kind.LENGTH) for each in axes)
        yield wording.say("note_outline", size=wording.size(*shown))


def _tips(part: CutPart, wording: Wording) -> Iterator[Markup]:
    """What a size is measured over, where an end is cut level or upright."""
    edition = wording.model.edition
    for axis in (each for each in (part.along, part.across) if each in part.tips):
        yield wording.say("note_tips", size=wording.size(shown_extent(part, axis, edition)))


def end_notes(part: CutPart, wording: Wording, *, twin: bool = False) -> tuple[Markup, ...]:
    """How each end or edge is cut that is not square; of the mirrored piece, by its own sides."""
    thing = next(iter(mirror_images(part, wording.model.worked)), "") if twin else ""
    ends = (_end(said.value[0], cut, (part, thing), wording) for said, cut in part.part.ends)
    return (*ends, *_other_corners(part, thing, wording))


def _other_corners(part: CutPart, thing: str, wording: Wording) -> Iterator[Markup]:
    """The corners of a strip that are cut off on a face that no template shows."""
    for sides, trim in part.part.corners:
        if on_other_face(part, sides.value, trim.how):
            one, two = (side_as_it_stands(thing, each, part) for each in sides.value)
            first, second = (wording.said(trim.sizes[nth]) for nth in (0, -1))
            yield wording.say(
                f"note_corner_{trim.how.replace(' ', '_')}",
                one=wording.say(f"side_{one}"),
                two=wording.say(f"side_{two}"),
                first=first,
                second=second,
            )


def _end(side: str, cut: EndCut, of: tuple[CutPart, str], wording: Wording) -> Markup:
    part, thing = of

    def said(side: str) -> Markup:
        return wording.say(f"side_{side_as_it_stands(thing, side, part)}")

    shown = said(side)
    if cut.how == "angles":
        return wording.listed(
            wording.say(
                _cut_key(side, angle, longest, part, wording),
                side=shown,
                angle=wording.said(angle),
                longest=said(longest),
            )
            for angle, longest in cut.angles
        )
    found = end_angles(side, wording.model.assembly.bodies[part.name].faces[side].normal)
    if not found:
        return wording.say(f"note_end_{cut.how}", side=shown)
    told = [
        wording.say(
            "note_end_angle", side=shown, angle=wording.degrees(angle), longest=said(longest)
        )
        for angle, longest in found
    ]
    return wording.say(f"note_end_{cut.how}_at", angles=wording.listed(told))


def _cut_key(side: str, said: Said[Formula], longest: str, part: CutPart, wording: Wording) -> str:
    """A mitre, a bevel through the thickness, a taper along an edge, or an end out of square."""
    angle = wording.model.worked.solver.value(said, Kind.ANGLE)
    if angle is not None and angle.value == 45:
        return "note_end_mitre"
    if AXES[SIDE_AXIS[longest]] == part.thin:
        return "note_end_bevel"
    return "note_end_angle" if AXES[SIDE_AXIS[side]] == part.along else "note_end_taper"
