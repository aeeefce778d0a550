"""Pencil marks as lines in space.

In: a `Model`, a step and the pieces in its picture.  Out: `Segment`s on the faces that bear the
marks which the step's joins go by.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from fractions import Fraction

from patternpress.assembly.body import AXIS_INDEX
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.model import Model
from patternpress.assembly.placing import Placed
from patternpress.assembly.pose import DIRECTION, Vector, dot
from patternpress.assembly.shape import MarkLine, MarkPoint, Point, Shape, View
from patternpress.assembly.solid import Vec
from patternpress.assembly.specs import PAGE_AXES
from patternpress.design.records.parts import Mark
from patternpress.design.records.work import Step
from patternpress.drawing.things import Item

Line = tuple[Point, Point]
_CROSS = 25  # a cross is the piece's greatest size by this, from middle to end


@dataclass(frozen=True, slots=True)
class Segment:
    """A pencil line on the piece `on`, from one place in space to another, mm."""

    on: str
    start: Vec
    end: Vec
    normal: Vec


def marks_of(model: Model, step: Step, items: Iterable[Item]) -> Iterator[Segment]:
    """Yield the marks that a step's joins name, and those it draws, on the pieces shown."""
    named = {
        place.target.thing
        for joined in step.join
        for _, place in joined.places
        if place.target.kind == "mark"
    }
    named |= {each.value for each in step.mark}
    shown = {item.key: item for item in items}
    placed = {each.key: each for work in model.assembly.works.values() for each in work}
    for mark in model.worked.book.marks:
        if mark.name.value in named:
            for key in shown:
                yield from _on_piece(model, mark, placed[key])


def _on_piece(model: Model, mark: Mark, placed: Placed) -> Iterator[Segment]:
    part = model.worked.part(placed.part)
    shape = model.worked.shapes.get(placed.part)
    targets = [each for group in mark.on for each in group]
    mine = [each for each in targets if each.thing in (placed.piece, placed.part)]
    if part is None or shape is None or not mine or not mine[0].sides:
        return
    side = mine[0].sides[0]
    thin = AXIS_INDEX[part.thin]
    ways = {False: _axis(thin, -1), True: _axis(thin, 1)}
    # The face that looks to the named side as the piece stands.
    high = max(ways, key=lambda each: dot(placed.pose.turn(ways[each]), DIRECTION[side]))
    normal = _floats(placed.pose.turn(ways[high]))
    for each in shape.marks:
        if each.name != mark.name.value:
            continue
        for start, end in _lines(each, max(shape.width, shape.height) / _CROSS):
            yield Segment(
                placed.key,
                _floats(placed.pose.point(_in_part(part, shape, start, high))),
                _floats(placed.pose.point(_in_part(part, shape, end, high))),
                normal,
            )


def _lines(mark: MarkLine | MarkPoint, size: Fraction) -> Iterator[Line]:
    """Yield a mark's line, or the two strokes of a cross."""
    if isinstance(mark, MarkLine):
        yield mark.start, mark.to
        return
    x, y = mark.at.x, mark.at.y
    yield Point(x - size, y), Point(x + size, y)
    yield Point(x, y - size), Point(x, y + size)


def _in_part(part: CutPart, shape: Shape, at: Point, high: bool) -> Vector:
    first, second = (AXIS_INDEX[axis] for axis in PAGE_AXES[shape.view])
    thin = AXIS_INDEX[part.thin]
    size = part.extents[part.thin].value
    place = [size if high else size - size] * 3
    across = part.extents[PAGE_AXES[shape.view][0]].value
    place[first] = across - at.x if shape.view is View.LEFT else at.x
    place[second] = at.y
    assert thin not in (first, second)
    return place[0], place[1], place[2]


def _axis(index: int, sign: int) -> Vector:
    unit = [DIRECTION["left"][1]] * 3
    unit[index] += sign
    return unit[0], unit[1], unit[2]


def _floats(vector: Vector) -> Vec:
    x, y, z = (float(each) for each in vector)
    return x, y, z
