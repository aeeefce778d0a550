"""Marks that follow from where pieces sit, and openings found in the model.

In: a `Worked` design and its `Assembly`.  Out: for each derived mark the line on each piece, as a
distance from one of its sides; the free sizes of each opening; and problems where the author
says otherwise.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import permutations

from patternpress.assembly.body import SIDE_AXIS
from patternpress.assembly.broadface import PAGE_AXES, on_far_face
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.facecount import counted_from, edges_off
from patternpress.assembly.faultwords import fault_words
from patternpress.assembly.marklines import square
from patternpress.assembly.mouths import with_mouths
from patternpress.assembly.onwood import beside_wood, side_there
from patternpress.assembly.placing import Assembly, Placed, both_units
from patternpress.assembly.pose import DIRECTION, ONE, ZERO, Vector, dot
from patternpress.assembly.shape import MarkLine, Point, Shape, ShapeError
from patternpress.assembly.sizes import AXES
from patternpress.assembly.worked import Worked
from patternpress.design.kinds import parts as partkinds
from patternpress.design.kinds import placing as kinds
from patternpress.design.phrases import Target
from patternpress.design.problem import Problem
from patternpress.design.records.parts import Mark, Opening

LOW = ("left", "front", "bottom")
HIGH = ("right", "back", "top")
CLOSE = Fraction(1, 10**6)


@dataclass(frozen=True, slots=True)
class DerivedLine:
    """A line on a piece: so far from its side, which it runs along.

    `there` unless the edges on that side and on the opposite one are both cut away there.
    """

    mark: str
    piece: str
    part: str
    side: str
    far: Fraction
    there: bool = True


def derived_lines(worked: Worked, assembly: Assembly) -> tuple[DerivedLine, ...]:
    """Every line that is drawn where one piece meets another."""
    return tuple(line for mark in worked.book.marks for line in _derived(mark, worked, assembly))


def _derived(mark: Mark, worked: Worked, assembly: Assembly) -> Iterator[DerivedLine]:
    along = mark.line.target if mark.line is not None and mark.line.how == "along" else None
    source = _placed(along, worked, assembly) if along is not None else None
    if along is None or source is None or not along.sides:
        return
    side = along.sides[0]
    at = assembly.bodies[source.part].reach(source.pose, DIRECTION[side])
    at *= 1 if side in HIGH else -1
    axis = SIDE_AXIS[side]
    for target in (each for group in mark.on for each in group):
        part = worked.part(target.thing)
        if part is None:
            continue
        for bearer in _all_placed(target, worked, assembly):
            deep = _depth_of(target, bearer, part)
            line = _on_piece(mark.name.value, (bearer, part, deep), axis, at)
            yield _from_edge(line, part, worked)


def _placed(target: Target, worked: Worked, assembly: Assembly) -> Placed | None:
    return next(_all_placed(target, worked, assembly), None)


def _all_placed(target: Target, worked: Worked, assembly: Assembly) -> Iterator[Placed]:
    """A piece where it is placed first, or each of the pieces of a part."""
    names = {target.thing, *worked.usage.pieces.get(target.thing, ())}
    seen: set[str] = set()
    for each in assembly.placed:
        if each.piece in names and each.piece not in seen:
            seen.add(each.piece)
            yield each


def _depth_of(target: Target, bearer: Placed, part: CutPart) -> Vector:
    """Where the marked face lies in the thickness of its part: nought or all of it."""
    deep = [ZERO, ZERO, ZERO]
    if part.thin in part.extents and target.sides:
        thin = AXES.index(part.thin)
        if dot(bearer.pose.turn(_axis(thin)), DIRECTION[target.sides[0]]) > 0:
            deep[thin] = part.extents[part.thin].value
    return deep[0], deep[1], deep[2]


def _on_piece(
    mark: str, on: tuple[Placed, CutPart, Vector], axis: int, at: Fraction
) -> DerivedLine:
    """A plane of the work as a distance from the nearer side of the part as drawn."""
    bearer, part, deep = on
    unit = [ZERO, ZERO, ZERO]
    unit[axis] = ONE
    world: Vector = (unit[0], unit[1], unit[2])
    ways = [dot(bearer.pose.turn(_axis(i)), world) for i in range(3)]
    local = max(range(3), key=lambda i: abs(ways[i]))
    # Where the piece leans, the plane meets its two faces at different heights.
    far = (at - bearer.pose.offset[axis] - dot((ways[0], ways[1], ways[2]), deep)) / ways[local]
    size = part.extents[AXES[local]].value
    # Told from the nearer side, as a maker measures.
    if far > size / 2:
        return DerivedLine(mark, bearer.piece, part.name, HIGH[local], size - far)
    return DerivedLine(mark, bearer.piece, part.name, LOW[local], far)


def _from_edge(line: DerivedLine, part: CutPart, worked: Worked) -> DerivedLine:
    """The line told from a side whose edge is there beside it, where one is."""
    shape = worked.shapes.get(part.name)
    made = _mark_line(line, part, shape, worked) if shape is not None else None
    if shape is None or made is None or line.far < 0:
        return line
    side = side_there(shape, made, line.side)
    if side in (line.side, ""):
        return replace(line, there=bool(side))
    return replace(line, side=side, far=part.extents[AXES[SIDE_AXIS[side]]].value - line.far)


@dataclass(frozen=True, slots=True)
class Told:
    """From which side a line of the author's is measured on one part: `far` is None as he said.

    `there` as a derived line's.
    """

    side: str
    far: Fraction | None = None
    there: bool = True


def told_from(mark: Mark, name: str, worked: Worked) -> Told:
    """Where a line of the author's is measured from on a part, or on the part of a piece."""
    offset = mark.line.offset if mark.line is not None else None
    part = worked.part(name)
    if offset is None or part is None:
        return Told("")
    plain = Told(offset.side)
    shape, axis = worked.shapes.get(part.name), AXES[SIDE_AXIS[offset.side]]
    far = worked.solver.value(offset.distance)
    if shape is None or far is None or axis in part.waits:
        return plain
    for face in (each.sides[0] for group in mark.on for each in group if each.sides):
        off = edges_off(part, shape, worked.solver, face)
        counted = counted_from(part, off, offset.side, far.value)
        if counted is not None:
            return Told(*counted)
    lines = [each for each in shape.marks if each.name == mark.name.value]
    for line in lines:
        side = side_there(shape, line, offset.side) if isinstance(line, MarkLine) else offset.side
        if side != offset.side:
            return (
                Told(side, part.extents[axis].value - far.value)
                if side
                else replace(plain, there=False)
            )
    return plain


def _axis(index: int) -> Vector:
    unit = [ZERO, ZERO, ZERO]
    unit[index] = ONE
    return (unit[0], unit[1], unit[2])


def marked_shapes(worked: Worked, assembly: Assembly) -> dict[str, Shape]:
    """The shapes with what follows from the joins: their derived lines, keep-off respected, and
    the mouths of holes that are drilled at an angle.
    """
    shapes = with_mouths(worked, assembly, worked.shapes)
    drawn: set[tuple[str, str]] = set()
    for line in derived_lines(worked, assembly):
        part = worked.part(line.part)
        shape = shapes.get(line.part)
        if part is None or shape is None or (line.part, line.mark) in drawn:
            continue
        drawn.add((line.part, line.mark))
        made = _mark_line(line, part, shape, worked)
        if made is not None:
            shapes[line.part] = replace(shape, marks=(*shape.marks, made))
    return shapes


def _mark_line(line: DerivedLine, part: CutPart, shape: Shape, worked: Worked) -> MarkLine | None:
    axes = PAGE_AXES[shape.view]
    name = AXES[SIDE_AXIS[line.side]]
    if name not in axes:
        return None
    page = axes.index(name)
    size = (shape.width, shape.height)
    at = line.far if line.side in LOW else size[page] - line.far
    low, high = ZERO, size[1 - page]
    mark = next(each for each in worked.book.marks if each.name.value == line.mark)
    for offset in mark.keep_off:
        far = worked.solver.value(offset.distance)
        across = AXES[SIDE_AXIS[offset.side]]
        if far is not None and across in axes and axes.index(across) != page:
            if offset.side in LOW:
                low = far.value
            else:
                high -= far.value
    ends = ((at, low), (at, high)) if page == 0 else ((low, at), (high, at))
    mine = [t for group in mark.on for t in group if t.thing in (part.name, *part.pieces)]
    behind = bool(mine) and all(on_far_face(part, each) for each in mine)
    return MarkLine(line.mark, Point(*ends[0]), Point(*ends[1]), behind)


def found_opening(opening: Opening, worked: Worked, assembly: Assembly) -> dict[str, Fraction]:
    """The free sizes of an opening along wide, deep and high, as far as its pieces bound it."""
    found = _nearest(opening, worked, assembly)
    return {name: room for name, (room, _, _) in found.items()}


def _nearest(
    opening: Opening, worked: Worked, assembly: Assembly
) -> dict[str, tuple[Fraction, Placed, Placed]]:
    """The least room along wide, deep and high, and the two pieces that leave it."""
    targets = [each for group in opening.between for each in group]
    around = [placed for each in targets if (placed := _placed(each, worked, assembly))]
    if not all(square(each) for each in around):
        return {}  # between leaning pieces the size depends on where it is measured
    boxed = [(_box(each, assembly), each) for each in around]
    pairs = _bounding(boxed) if len(boxed) == len(targets) else list(permutations(boxed, 2))
    found: dict[str, tuple[Fraction, Placed, Placed]] = {}
    for axis, name in enumerate(AXES):
        rooms = [
            (second[0][axis] - first[1][axis], one, other)
            for (first, one), (second, other) in pairs
            if second[0][axis] > first[1][axis] and _facing(first, second, axis)
        ]
        if rooms:
            found[name] = min(rooms, key=lambda each: each[0])
    return found


def _bounding(boxes: list[Boxed]) -> list[tuple[Boxed, Boxed]]:
    """Each piece with its partner, when all are told in pairs that face each other; else any two.

    “Left side and right side, floor and shelf”: what lies between a shelf and a side is no opening.
    """
    twos = list(zip(boxes[::2], boxes[1::2], strict=False))
    faced = all(any(_facing(one, two, axis) for axis in range(3)) for (one, _), (two, _) in twos)
    if len(boxes) % 2 or not faced:
        return list(permutations(boxes, 2))
    return [pair for one, two in twos for pair in ((one, two), (two, one))]


Box = tuple[tuple[Fraction, ...], tuple[Fraction, ...]]
Boxed = tuple[Box, Placed]


def _box(placed: Placed, assembly: Assembly) -> Box:
    body = assembly.bodies[placed.part]
    low = tuple(-body.reach(placed.pose, DIRECTION[side]) for side in LOW)
    high = tuple(body.reach(placed.pose, DIRECTION[side]) for side in HIGH)
    return low, high


def _facing(first: Box, second: Box, axis: int) -> bool:
    """Whether two boxes lie opposite each other along an axis."""
    return all(
        first[0][i] < second[1][i] and second[0][i] < first[1][i] for i in range(3) if i != axis
    )


def check_openings(worked: Worked, assembly: Assembly) -> Iterator[Problem]:
    """Openings whose planned size is not the one that the pieces leave."""
    for opening in worked.book.openings:
        found = _nearest(opening, worked, assembly)
        for axis in AXES:
            said = getattr(opening, axis)
            planned = worked.solver.opening(opening, axis) if said else None
            if planned is None or axis not in found:
                continue
            room, one, other = found[axis]
            if abs(room - planned.value) <= CLOSE:
                continue
            facts = {"opening": f"“{opening.name.value}”", "axis": axis}
            facts |= {"said": both_units(planned.value), "found": both_units(room)}
            facts |= {"piece": one.key, "other": other.key}  # for its picture
            yield Problem(kinds.OpeningDiffers, said.span, facts)


def check_derived(worked: Worked, assembly: Assembly) -> Iterator[Problem]:
    """Marks that would lie beside the piece that bears them, or elsewhere on each of two pieces
    that share a template.
    """
    first: dict[tuple[str, str], DerivedLine] = {}
    marks = {each.name.value: each for each in worked.book.marks}
    for line in derived_lines(worked, assembly):
        mark, one = marks[line.mark], first.setdefault((line.mark, line.part), line)
        if line.far < 0:
            facts = {"mark": line.mark, "piece": line.piece, "by": both_units(-line.far)}
            yield Problem(kinds.MarkBeside, mark.name.span, facts)
        elif (one.side, one.far) != (line.side, line.far):
            facts = {"mark": line.mark, "piece": line.piece, "other": one.piece}
            facts |= {"here": f"{both_units(line.far)} from the {line.side}"}
            facts |= {"there": f"{both_units(one.far)} from the {one.side}"}
            yield Problem(kinds.MarkDiffers, mark.name.span, facts)
        elif _cut_away(line, worked):
            fault = fault_words(ShapeError("mark-cut-away", mark=line.mark))
            facts = {"part": f"“{line.part}”", "fault": fault}
            yield Problem(partkinds.ShapeFault, mark.name.span, facts)


def _cut_away(line: DerivedLine, worked: Worked) -> bool:
    part, shape = worked.part(line.part), worked.shapes.get(line.part)
    made = _mark_line(line, part, shape, worked) if part and shape else None
    return shape is not None and made is not None and beside_wood(shape, made)
