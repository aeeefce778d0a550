"""Where marks and holes of a part are, in the axes of the work.

In: a mark or a hole, the part that bears it, and the `Thing` that the part's piece has become.
Out: coordinates, exact.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from patternpress.assembly.body import AXIS_INDEX, SIDE_AXIS
from patternpress.assembly.broadface import NEAR_FACE, VIEW_OF_THIN
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.pose import DIRECTION, ZERO, Vector
from patternpress.assembly.shape import View
from patternpress.assembly.thing import Thing, along_of, sign_of
from patternpress.assembly.worked import Worked
from patternpress.design.phrases import Offset
from patternpress.design.records.parts import Hole, Mark


def mark_coordinates(
    mark: Mark, part: CutPart, bearer: Thing, worked: Worked
) -> Iterator[tuple[int, Fraction]]:
    """The axes that a mark fixes, each with its coordinate where the piece that bears it is."""
    offsets: list[Offset] = []
    centred: list[str] = []
    if mark.line is not None and mark.line.offset is not None:
        offsets = [mark.line.offset]
    elif mark.line is not None and mark.line.how == "centre":
        centred = _across(mark.line.direction, mark, part)
    elif mark.point or mark.dot:
        position = mark.point or mark.dot
        offsets = list(position.offsets) if position else []
        said = {SIDE_AXIS[each.side] for each in offsets}
        free = [axis for axis in AXIS_INDEX.values() if axis not in said]
        thin = AXIS_INDEX.get(part.thin, 2)
        centred = [("left", "front", "bottom")[axis] for axis in free if axis != thin]
    for offset in offsets:
        far = worked.solver.value(offset.distance)
        if far is not None:
            yield in_world(bearer, part, offset.side, far.value)
    for side in centred:
        half = extent(part, SIDE_AXIS[side]) / 2
        yield in_world(bearer, part, side, half)


def _across(direction: str, mark: Mark, part: CutPart) -> list[str]:
    """A centre line fixes the axis across it, on the face that bears it."""
    face = next((t.sides[0] for group in mark.on for t in group if t.sides), "")
    normal = SIDE_AXIS[face] if face else AXIS_INDEX.get(part.thin, 2)
    rest = [axis for axis in range(3) if axis not in (normal, SIDE_AXIS[direction])]
    return [("left", "front", "bottom")[axis] for axis in rest]


def extent(part: CutPart, axis: int) -> Fraction:
    """The size of a part along an axis of its own frame, mm; nought where it has none."""
    name = next(each for each, index in AXIS_INDEX.items() if index == axis)
    return part.extents[name].value if name in part.extents else ZERO


def in_world(bearer: Thing, part: CutPart, side: str, far: Fraction) -> tuple[int, Fraction]:
    """A distance from a side of a part as drawn, as a coordinate of the work."""
    axis = SIDE_AXIS[side]
    local = far if sign_of(side) < 0 else extent(part, axis) - far
    point = [ZERO, ZERO, ZERO]
    point[axis] = local
    _, inner = bearer.bodies[0]
    pose = bearer.pose.after(inner)
    way = pose.turn(along_of(side))
    world = max(range(3), key=lambda i: abs(way[i]))
    return world, pose.point((point[0], point[1], point[2]))[world]


def hole_of(part: CutPart | None, named: str) -> Hole | None:
    """The hole of that name in a part, or the row that it is one of (“peg hole 2”).

    None where the part has none, and for no part.
    """
    holes = part.part.holes if part is not None else ()
    rows = (each for each in holes if named in each.names)
    return next((each for each in holes if each.name.value == named), next(rows, None))


def row_way(hole: Hole, bearer: Thing) -> Vector:
    """The direction in which the holes of a row follow each other, where their piece is."""
    way = DIRECTION[hole.row.toward.value[0]] if hole.row else (ZERO, ZERO, ZERO)
    _, inner = bearer.bodies[0]
    return bearer.pose.after(inner).turn(way)


def hole_side(hole: Hole, part: CutPart) -> str:
    """The side that a hole is drilled from: as said, else the face that a template shows."""
    if hole.on is not None:
        return hole.on.value[0]
    return NEAR_FACE[VIEW_OF_THIN.get(part.thin, View.ABOVE)]


def hole_axis(hole: Hole, part: CutPart) -> int:
    """The axis that a hole runs along: of the side it is drilled from."""
    return SIDE_AXIS[hole_side(hole, part)]


def hole_centre(hole: Hole, part: CutPart, axis: int, worked: Worked, named: str = "") -> Vector:
    """The centre of a hole in its part's frame; of a row the first, or the one that is named."""
    at = [extent(part, index) / 2 for index in range(3)]
    for offset in hole.at.offsets:
        far = worked.solver.value(offset.distance)
        index = SIDE_AXIS[offset.side]
        if far is not None and index != axis:
            at[index] = far.value if sign_of(offset.side) < 0 else extent(part, index) - far.value
    every = worked.solver.value(hole.row.every) if hole.row else None
    if hole.row is not None and every is not None and named in hole.names[1:]:
        index, sign = SIDE_AXIS[hole.row.toward.value[0]], sign_of(hole.row.toward.value[0])
        at[index] += every.value * (sign * hole.names.index(named))
    return (at[0], at[1], at[2])
