"""From parts to what their templates say.

In: a worked design, an edition and words for its notes.  Out: a `TemplatePart` for each part that
gets a template: its shape, its figures in the edition's units, its grain, hands and callouts.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from fractions import Fraction

from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.editions import Published
from patternpress.assembly.hands import twins_of
from patternpress.assembly.outlines import bounding_box
from patternpress.assembly.shape import Axis, Hole, Shape
from patternpress.assembly.shown import shown_extent, shown_size
from patternpress.assembly.specs import PAGE_AXES
from patternpress.assembly.worked import Worked
from patternpress.drawing.part import Hand, TemplatePart
from patternpress.measure.figures import Display, Figure, show_length, show_size
from patternpress.measure.pieces import Text, joined
from patternpress.measure.quantity import Kind, Quantity

Notes = Callable[[CutPart], tuple[str, ...]]
# The sign for a diameter that both bundled typefaces have.
DIAMETER = "Ø"
SAME = Fraction(1, 10**6)
MOST_NAMED = 3  # like holes that are each named; more are a row


def template_parts(worked: Worked, edition: Published, notes: Notes) -> Iterator[TemplatePart]:
    """Every part that gets a template, in the order of the design."""
    for part in worked.parts:
        shape = worked.shapes.get(part.name)
        if part.name in worked.templates and shape is not None:
            yield _template(part, shape, edition, notes(part))


def _template(
    part: CutPart, shape: Shape, edition: Published, notes: tuple[str, ...]
) -> TemplatePart:
    display = edition.display
    axes = PAGE_AXES[shape.view]
    twins = twins_of(part, shape)
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
        notes=notes,
        callouts=dict(_callouts(shape, display)),
    )


def _drawn(part: CutPart, shape: Shape, page: int, edition: Published) -> Figure:
    """The size that the template really has: the blank's, or less where corners are cut off."""
    box = bounding_box(shape.outline)
    drawn = (box.right - box.left, box.top - box.bottom)[page]
    blank = (shape.width, shape.height)[page]
    if abs(drawn - blank) > SAME:
        return _length(drawn, edition.display)
    axis = PAGE_AXES[shape.view][page]
    return show_length(shown_extent(part, axis, edition), edition.display)


def _grain(part: CutPart, axes: tuple[str, str]) -> Axis | None:
    if not part.grain or part.along not in axes:
        return None
    return Axis.X if part.along == axes[0] else Axis.Y


def _callouts(shape: Shape, display: Display) -> Iterator[tuple[str, Figure]]:
    """What is written at each hole; a row of like holes is told at the first of them."""
    like: dict[object, list[Hole]] = {}
    for hole in shape.holes:
        key = (hole.diameter, hole.depth) if hole.diameter is not None else hole.name
        like.setdefault(key, []).append(hole)
    for holes in like.values():
        several = len(holes) > MOST_NAMED
        for hole in holes:
            if several and hole is not holes[0]:
                yield hole.name, Figure(())
            else:
                words = f"{len(holes)} × " if several else f"{hole.name} "
                yield hole.name, _hole(hole, words, display)


def _hole(hole: Hole, words: str, display: Display) -> Figure:
    figure = [Figure((Text(words),))]
    if hole.diameter is not None:
        figure += [Figure((Text(DIAMETER),)), _length(hole.diameter, display)]
    if hole.depth is not None:
        figure += [Figure((Text(" × "),)), _length(hole.depth, display)]
    return joined(*figure)


def _length(value: Fraction, display: Display) -> Figure:
    return show_length(Quantity(value, Kind.LENGTH), display)
