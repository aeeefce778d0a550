"""Holes that lie over each other, and what runs through them, go on lying in one line.

In: a design whose figures are `Traced`, its pieces placed.  Out: demands.  Where a join says so,
or a formula, it holds by itself; but two heights of a hole that were typed, one from the base and
one from a pad on it, would be rounded each by itself.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from fractions import Fraction

from patternpress.assembly.body import AXIS_INDEX, SIDE_AXIS, Body
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.marked import hole_axis, hole_centre
from patternpress.assembly.placing import Assembly, Placed
from patternpress.assembly.pose import DIRECTION, Vector
from patternpress.assembly.thing import along_of, sign_of
from patternpress.assembly.worked import Worked
from patternpress.closing.demands import Demand
from patternpress.closing.traced import explained, form_of
from patternpress.design.records.parts import Hole
from patternpress.design.span import NOWHERE, Span

WAYS = (("left", "right"), ("front", "back"), ("bottom", "top"))


@dataclass(frozen=True)
class _Line:
    """The middle line of a hole, or of a rod: its axis, a point on it, how far its piece reaches.

    `near`: its place across the axis, rounded, by which lines that lie on each other are found.
    """

    words: str
    piece: Placed
    span: Span
    axis: int
    at: Vector
    ends: tuple[Fraction, Fraction]

    @property
    def near(self) -> tuple[float, ...]:
        return tuple(round(float(each), 6) for i, each in enumerate(self.at) if i != self.axis)


def lined(worked: Worked, assembly: Assembly, values: Mapping[int, Fraction]) -> Iterator[Demand]:
    """A demand for each two lines that lie on each other, where their pieces meet."""
    for placed in dict.fromkeys((assembly.placed, *assembly.works.values())):
        alike: dict[object, list[_Line]] = {}
        for line in _lines(placed, worked, assembly.bodies):
            alike.setdefault((line.axis, line.near), []).append(line)
        for lines in alike.values():
            for number, first in enumerate(lines):
                for second in lines[number + 1 :]:
                    if _meet(first, second):
                        yield from _in_line(first, second, values)


def _meet(first: _Line, second: _Line) -> bool:
    """Whether two pieces touch or overlap along the line."""
    apart = max(first.ends[0], second.ends[0]) > min(first.ends[1], second.ends[1])
    return first.piece.key != second.piece.key and not apart


def _in_line(first: _Line, second: _Line, values: Mapping[int, Fraction]) -> Iterator[Demand]:
    for axis in range(3):
        off = second.at[axis] - first.at[axis]
        form = form_of(off)
        if axis != first.axis and off == 0 and form and explained(off, form, values):
            words = f"{first.words} and {second.words} lie in one line"
            yield Demand(form, words, second.span, soft=True)


def _lines(placed: Iterable[Placed], worked: Worked, bodies: Mapping[str, Body]) -> Iterator[_Line]:
    """The middle lines of all rods and round holes of pieces that stand square."""
    parts = {each.name: each for each in worked.parts}
    for each in placed:
        part, square = parts.get(each.part), _square(each)
        if part is None or not square or each.part not in bodies or len(part.extents) < len(WAYS):
            continue
        body = bodies[each.part]
        if part.form == "rod" and part.along:
            axis = AXIS_INDEX[part.along]
            middle = [part.extents[name].value / 2 for name in AXIS_INDEX]
            at = (middle[0], middle[1], middle[2])
            yield _line(each.piece, each, NOWHERE, axis, at, body)
        for hole in part.part.holes:
            if hole.round is not None:
                words = f"{hole.name.value} of {each.piece}"
                axis = hole_axis(hole, part)
                for at in _centres(hole, part, axis, worked):
                    yield _line(words, each, hole.span, axis, at, body)


def _line(words: str, piece: Placed, span: Span, axis: int, at: Vector, body: Body) -> _Line:
    """A line along an axis of its part, in the axes of the work."""
    way = piece.pose.turn(along_of(WAYS[axis][1]))
    world = max(range(3), key=lambda i: abs(way[i]))
    low, high = (DIRECTION[side] for side in WAYS[world])
    ends = (-body.reach(piece.pose, low), body.reach(piece.pose, high))
    return _Line(words, piece, span, world, piece.pose.point(at), ends)


def _centres(hole: Hole, part: CutPart, axis: int, worked: Worked) -> Iterator[Vector]:
    """The centre of a hole, and of those in a row with it, in its part's frame."""
    first = hole_centre(hole, part, axis, worked)
    yield first
    every = worked.solver.value(hole.row.every) if hole.row is not None else None
    if hole.row is not None and every is not None:
        side = hole.row.toward.value[0]
        for number in range(1, hole.row.quantity.value):
            at = list(first)
            at[SIDE_AXIS[side]] += every.value * number * sign_of(side)
            yield (at[0], at[1], at[2])


def _square(piece: Placed) -> bool:
    return all(abs(value) in (0, 1) for row in piece.pose.matrix for value in row)
