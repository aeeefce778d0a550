"""From parts to what their templates say.

In: a worked design, an edition and words for its notes.  Out: a `TemplatePart` for each part that
gets a template: its shape, its figures in the edition's units, its grain, hands and callouts.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction
from types import MappingProxyType

from patternpress.assembly.calls import Calls, calls_of
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.editions import Published
from patternpress.assembly.hands import shapes_of_hands, twins_of, work_of_hand
from patternpress.assembly.outlines import bounding_box, legs, radius_of
from patternpress.assembly.shape import Arc, Axis, Hole, Shape
from patternpress.assembly.shown import shown_extent, shown_size
from patternpress.assembly.specs import PAGE_AXES
from patternpress.assembly.worked import Worked
from patternpress.closing.bored import least_bores
from patternpress.drawing.features import radius_name
from patternpress.drawing.levels import levels_of
from patternpress.drawing.part import Drilled, Hand, Levels, Manner, TemplatePart, Treated
from patternpress.drawing.style import WORDS
from patternpress.drawing.treated import treated
from patternpress.measure.drills import serving
from patternpress.measure.figures import Display, Figure, show_length, show_size
from patternpress.measure.pieces import joined
from patternpress.measure.quantity import Kind, Quantity

# The notes of a part, or of its mirrored twin.
Notes = Callable[[CutPart, bool], tuple[str, ...]]
Angles = Mapping[tuple[str, str], Figure]
# The sign for a diameter that both bundled typefaces have.
DIAMETER = "Ø"
SAME = Fraction(1, 10**6)


def template_parts(
    worked: Worked,
    edition: Published,
    notes: Notes,
    deep: str = WORDS["deep"],
    angles: Angles = MappingProxyType({}),
) -> Iterator[TemplatePart]:
    """Every part that gets a template, in the order of the design.

    `deep` is what is written behind the depth of a hole or groove; `angles` are those at which
    holes are drilled that are not square, by part and hole.
    """
    calls = calls_of(worked.book, edition.language)
    for part in worked.parts:
        shape = worked.shapes.get(part.name)
        if part.name in worked.templates and shape is not None:
            made = _template(part, shapes_of_hands(part, shape, worked), edition, worked, notes)
            named = dict(_callouts(made.shape, edition.display, calls, deep))
            yield replace(
                made,
                name=calls.one(part.name),
                stock=calls.one(part.stock.name.value),
                callouts=_said(part, named, angles),
            )


def _template(
    part: CutPart, shapes: tuple[Shape, ...], edition: Published, worked: Worked, notes: Notes
) -> TemplatePart:
    display, shape = edition.display, shapes[0]
    twin = shapes[-1] if len(shapes) > 1 else None

    def show(length: Fraction) -> Figure:
        return _length(length, display)

    axes = PAGE_AXES[shape.view]
    twins = twins_of(part, worked.shapes[part.name], worked)
    return TemplatePart(
        letter=part.letter,
        name=part.name,
        quantity=part.quantity - twins,
        shape=shape,
        size=show_size(shown_size(part, edition), display),
        across=_drawn(part, shape, 0, edition),
        up=_drawn(part, shape, 1, edition),
        stock=part.stock.name.value,
        grain=_grain(part, axes),
        hand=Hand.LEFT if twins else None,
        twins=twins,
        notes=notes(part, False),
        twin_notes=notes(part, True) if twins else None,
        levels=levels_of(shape, show, handed=twin is not None),
        twin_levels=levels_of(twin, show, handed=True) if twin else Levels(),
        manner=_manner(part, worked),
        planned=bool(part.opening),
        show=show,
        treated=_treated(part, shape, worked, twin=False),
        twin_shape=twin,
        twin_treated=_treated(part, twin, worked, twin=True) if twin else None,
        drills=tuple(_drills(part, shape, display, least_bores(worked))),
    )


def _treated(part: CutPart, shape: Shape, worked: Worked, *, twin: bool) -> tuple[Treated, ...]:
    work = work_of_hand(part, worked.shapes[part.name], worked, twin=twin)
    return tuple(treated(work, shape))


def _drawn(part: CutPart, shape: Shape, page: int, edition: Published) -> Figure:
    """The size that the template really has: the blank's, or less where corners are cut off or the
    face shown is the shorter one.
    """
    box = bounding_box(shape.outline)
    drawn = (box.right - box.left, box.top - box.bottom)[page]
    blank = (shape.width, shape.height)[page]
    axis = PAGE_AXES[shape.view][page]
    if abs(drawn - blank) > SAME or part.tips.get(axis):
        return _length(drawn, edition.display)
    return show_length(shown_extent(part, axis, edition), edition.display)


def _manner(part: CutPart, worked: Worked) -> Manner:
    """What the author says of the part, else of all templates."""
    for said in (part.part.template, worked.book.templates):
        if said is not None and said.value in ("half", "tiled", "reduced"):
            return Manner(said.value)
    return Manner.USUAL


def _grain(part: CutPart, axes: tuple[str, str]) -> Axis | None:
    if not part.grain or part.along not in axes:
        return None
    return Axis.X if part.along == axes[0] else Axis.Y


def _said(part: CutPart, found: dict[str, Figure], angles: Angles) -> dict[str, Figure]:
    """The callouts of a part, with the angle behind those of holes that are not square."""
    for hole in part.part.holes:
        angle = angles.get((part.name, hole.name.value))
        for each in hole.names:
            if angle is not None and each in found:
                found[each] = joined(found[each], ", ", angle)
    return found


def _callouts(
    shape: Shape, display: Display, calls: Calls, deep: str
) -> Iterator[tuple[str, Figure]]:
    """What is written at each hole, groove and mark; like holes say the same and are told once."""
    sizes = [(hole.diameter, hole.depth) for hole in shape.holes]
    for hole in shape.holes:
        several = hole.diameter is not None and sizes.count((hole.diameter, hole.depth)) > 1
        yield hole.name, _hole(hole, "" if several else f"{calls.one(hole.name)} ", display, deep)
    for groove in shape.grooves:
        upright = groove.along is Axis.Y
        wide = groove.high.x - groove.low.x if upright else groove.high.y - groove.low.y
        both = show_size((_quantity(wide), _quantity(groove.depth)), display, display.grooved)
        yield groove.name, joined(f"{calls.one(groove.name)} ", both, deep)
    for mark in shape.marks:
        yield mark.name, joined(calls.one(mark.name))
    for index, (start, segment) in enumerate(legs(shape.outline)):
        if isinstance(segment, Arc):
            yield radius_name(index), joined("R", _length(radius_of(start, segment), display))


def _hole(hole: Hole, words: str, display: Display, deep: str) -> Figure:
    if hole.diameter is not None:
        size = joined(DIAMETER, _length(hole.diameter, display.bored))
    else:
        box = bounding_box(hole.outline)
        sides = (_quantity(box.right - box.left), _quantity(box.top - box.bottom))
        size = show_size(sides, display)
    if hole.depth is None:
        return joined(words, size)
    return joined(words, size, ", ", _length(hole.depth, display), deep)


def _quantity(value: Fraction) -> Quantity:
    return Quantity(value, Kind.LENGTH)


def _drills(
    part: CutPart, shape: Shape, display: Display, thinnest: Mapping[tuple[str, str], Fraction]
) -> Iterator[Drilled]:
    """The drills for the round holes of a part, each size once; none where none is sold near it."""
    holes = {name: hole.name.value for hole in part.part.holes for name in hole.names}
    for diameter in sorted({hole.diameter for hole in shape.holes if hole.diameter is not None}):
        names = tuple(each.name for each in shape.holes if each.diameter == diameter)
        holds = [thinnest.get((part.name, holes.get(each, each))) for each in names]
        least = max((each for each in holds if each is not None), default=None)
        metric, inch = serving(diameter, "mm", least), serving(diameter, "in", least)
        if metric and inch:
            hole = joined(DIAMETER, _length(diameter, display.bored))
            yield Drilled(hole, metric[0].name, inch[-1].name, names)


def _length(value: Fraction, display: Display) -> Figure:
    return show_length(_quantity(value), display)
