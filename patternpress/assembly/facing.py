"""From a place in words to equations.

In: the things already in a work, one `Place`, the thing that is joined.  Out: `Equation`s for
its offset, or located problems.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from patternpress.assembly.body import AXIS_INDEX, SIDE_AXIS, Body, Plane
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.equations import SAME_PLACE, Equation
from patternpress.assembly.pose import DIRECTION, ONE, ZERO, Pose, Vector, dot
from patternpress.assembly.worked import Worked
from patternpress.design.kinds import placing as kinds
from patternpress.design.phrases import OPPOSITE, Offset, Place, Target
from patternpress.design.problem import Problem
from patternpress.design.records.parts import Hole, Mark

Found = Equation | Problem
IN_PLACE = Pose()


@dataclass(frozen=True)
class Thing:
    """A piece or a sub-assembly in a work: its bodies in its own frame, and its pose."""

    name: str
    bodies: tuple[tuple[Body, Pose], ...]
    part: str
    pose: Pose = IN_PLACE

    def at(self, pose: Pose) -> Thing:
        """The same thing elsewhere."""
        return replace(self, pose=pose.after(self.pose))

    def reach(self, direction: Vector) -> Fraction:
        """How far it reaches along a direction."""
        return max(body.reach(self.pose.after(inner), direction) for body, inner in self.bodies)

    def faces(self) -> Iterator[tuple[str, Plane]]:
        """Its faces where it is.  A sub-assembly has the six planes of its box."""
        if len(self.bodies) == 1:
            body, inner = self.bodies[0]
            pose = self.pose.after(inner)
            for side, plane in body.faces.items():
                yield side, plane.at(pose)
            return
        for side, way in DIRECTION.items():
            far = self.reach(way)
            yield side, Plane(way, (way[0] * far, way[1] * far, way[2] * far))

    def face(self, side: str) -> Plane:
        """The face that looks most nearly to a side as the piece stands in the finished work."""
        way = DIRECTION[side]
        faces = list(self.faces())
        return max(faces, key=lambda each: (dot(each[1].normal, way), each[0] == side))[1]

    def featured(self, feature: str) -> tuple[Plane, ...]:
        """The edges that a feature tells, where they are."""
        return tuple(
            plane.at(self.pose.after(inner))
            for body, inner in self.bodies
            for plane in body.features.get(feature, ())
        )


def resolve(
    things: Mapping[str, Thing], place: Place, thing: Thing, sides: tuple[str, ...], worked: Worked
) -> Iterator[Found]:
    """The equations of one place; nothing where its target is not there (told elsewhere)."""
    held = place.target
    if held.kind == "mark":
        yield from _at_mark(things, place, thing, sides, worked)
        return
    other = things.get(held.thing)
    if other is None:
        return
    if place.how in ("against", "loose against"):
        yield _against(place, thing, sides[0], other)
    elif place.how in ("in hole", "through hole"):
        yield from _in_hole(place, thing, sides[0], other, worked)
    elif place.how == "in groove":
        yield from _in_groove(place, thing, sides[0], other, worked)
    elif place.how == "centred" and held.kind == "hole":
        yield from _centred_on_hole(place, thing, sides, other, worked)
    elif place.how == "centred" and held.kind != "hole":
        yield from _centred(place, thing, sides, other)
    else:
        distance = worked.solver.value(place.distance) if place.distance else None
        if place.distance is not None and distance is None:
            return
        far = distance.value if distance else ZERO
        for side in sides:
            yield _compared(place, thing, side, other, far)


def _said(place: Place) -> str:
    far = place.distance.text if place.distance else ""
    target = place.target.thing
    if place.target.sides:
        target = f"{' '.join(place.target.sides)} of {target}"
    forms = {
        "flush": f"flush with {target}",
        "inside": f"{far} inside {target}",
        "beyond": f"{far} beyond {target}",
        "centred": f"centred on {target}",
        "from": f"{far} from {target}",
        "in hole": f"in {place.target.feature} of {target}",
        "in groove": f"in {place.target.feature} of {target}",
        "through hole": f"through {place.target.feature} of {target}",
    }
    return forms.get(place.how, f"{place.how.replace(' mark', '')} {target}")


def _equation(side: str, normal: Vector, value: Fraction, place: Place) -> Equation:
    return Equation(normal, value, f"{side} {_said(place)}", place.target.span)


def _sign(side: str) -> int:
    return 1 if side in ("right", "back", "top") else -1


def _along(side: str) -> Vector:
    """The positive direction of a side's axis."""
    axis = SIDE_AXIS[side]
    return (ONE if axis == 0 else ZERO, ONE if axis == 1 else ZERO, ONE if axis == 2 else ZERO)


def _coordinate(thing: Thing, side: str) -> Fraction:
    """The coordinate of a thing's outermost point on a side, along that side's axis."""
    return thing.reach(DIRECTION[side]) * _sign(side)


def _against(place: Place, thing: Thing, side: str, other: Thing) -> Found:
    mine = thing.face(side)
    theirs = _target_face(place.target, mine, other)
    if isinstance(theirs, int):
        facts = {"piece": place.target.thing, "feature": place.target.feature}
        facts["count"] = "no edge" if theirs == 0 else f"{theirs} edges"
        return Problem(kinds.FeatureNotThere, place.target.span, facts)
    turned = dot(mine.normal, theirs.normal)
    if abs(turned + 1) > SAME_PLACE:
        angle = math.degrees(math.acos(max(-1.0, min(1.0, -float(turned)))))
        facts = {"side": side, "piece": thing.name, "other": other.name}
        facts["angle"] = f"{angle:.1f} degrees"
        return Problem(kinds.FacesNotFlat, place.target.span, facts)
    n = theirs.normal
    return _equation(side, n, dot(n, theirs.point) - dot(n, mine.point), place)


def _target_face(target: Target, mine: Plane, other: Thing) -> Plane | int:
    """The face that is touched; a count where a feature does not tell one."""
    if target.sides:
        return other.face(target.sides[0])
    planes = list(other.featured(target.feature)) if target.feature else []
    if target.feature:
        return planes[0] if len(planes) == 1 else len(planes)
    return min((plane for _, plane in other.faces()), key=lambda p: dot(p.normal, mine.normal))


def _compared(place: Place, thing: Thing, side: str, other: Thing, far: Fraction) -> Found:
    """flush, inside, beyond, from: outermost points along one axis."""
    target = place.target.sides[0] if place.target.sides else side
    if SIDE_AXIS[target] != SIDE_AXIS[side]:
        facts = {"side": side, "piece": thing.name, "other": f"the {target} of “{other.name}”"}
        return Problem(kinds.WrongDirection, place.target.span, facts)
    at = _coordinate(other, target)
    sign = _sign(target)
    if place.how == "inside":
        at -= sign * far
    elif place.how == "beyond":
        at += sign * far
    elif place.how == "from":
        # A side that faces the other one is away from it; a like side is in from it.
        at += sign * far if OPPOSITE[target] == side else -sign * far
    return _equation(side, _along(side), at - _coordinate(thing, side), place)


def _middle(thing: Thing, side: str) -> Fraction:
    return (_coordinate(thing, side) + _coordinate(thing, OPPOSITE[side])) / 2


def _centred(place: Place, thing: Thing, sides: tuple[str, ...], other: Thing) -> Iterator[Found]:
    for side in sides:
        if side in ("left", "front", "bottom") or OPPOSITE[side] not in sides:
            value = _middle(other, side) - _middle(thing, side)
            yield _equation(side, _along(side), value, place)


def _at_mark(
    things: Mapping[str, Thing], place: Place, thing: Thing, sides: tuple[str, ...], worked: Worked
) -> Iterator[Found]:
    """A side on a line, or the middle on a point; every placed piece that bears the mark counts."""
    mark = next(m for m in worked.book.marks if m.name.value == place.target.thing)
    for target in (each for group in mark.on for each in group):
        bearer = things.get(target.thing)
        part = worked.part(target.thing)
        if bearer is None or part is None:
            continue
        for axis, at in mark_coordinates(mark, part, bearer, worked):
            for side in sides:
                if SIDE_AXIS[side] != axis or (place.how == "centred" and _sign(side) > 0):
                    continue
                own = _middle(thing, side) if place.how == "centred" else _coordinate(thing, side)
                yield _equation(side, _along(side), at - own, place)


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
            yield _in_world(bearer, part, offset.side, far.value)
    for side in centred:
        half = _extent(part, SIDE_AXIS[side]) / 2
        yield _in_world(bearer, part, side, half)


def _across(direction: str, mark: Mark, part: CutPart) -> list[str]:
    """A centre line fixes the axis across it, on the face that bears it."""
    face = next((t.sides[0] for group in mark.on for t in group if t.sides), "")
    normal = SIDE_AXIS[face] if face else AXIS_INDEX.get(part.thin, 2)
    rest = [axis for axis in range(3) if axis not in (normal, SIDE_AXIS[direction])]
    return [("left", "front", "bottom")[axis] for axis in rest]


def _extent(part: CutPart, axis: int) -> Fraction:
    name = next(each for each, index in AXIS_INDEX.items() if index == axis)
    return part.extents[name].value if name in part.extents else ZERO


def _in_world(bearer: Thing, part: CutPart, side: str, far: Fraction) -> tuple[int, Fraction]:
    """A distance from a side of a part as drawn, as a coordinate of the work."""
    axis = SIDE_AXIS[side]
    local = far if _sign(side) < 0 else _extent(part, axis) - far
    point = [ZERO, ZERO, ZERO]
    point[axis] = local
    _, inner = bearer.bodies[0]
    pose = bearer.pose.after(inner)
    way = pose.turn(_along(side))
    world = max(range(3), key=lambda i: abs(way[i]))
    return world, pose.point((point[0], point[1], point[2]))[world]


def _in_hole(
    place: Place, thing: Thing, side: str, other: Thing, worked: Worked
) -> Iterator[Found]:
    """Centred on the hole across it; along it, as deep as said, as the hole, or through."""
    part = worked.part(other.name)
    holes = part.part.holes if part else ()
    hole = next((h for h in holes if h.name.value == place.target.feature), None)
    if part is None or hole is None:
        return
    axis = SIDE_AXIS[hole.on.value[0]] if hole.on else AXIS_INDEX.get(part.thin, 2)
    _, inner = other.bodies[0]
    pose = other.pose.after(inner)
    centre = pose.point(_hole_centre(hole, part, axis, worked))
    unit: list[Fraction] = [ZERO, ZERO, ZERO]
    unit[axis] = ONE
    way = pose.turn((unit[0], unit[1], unit[2]))
    world = max(range(3), key=lambda i: abs(way[i]))
    if SIDE_AXIS[side] != world:
        facts = {"side": side, "piece": thing.name, "hole": hole.name.value, "other": other.name}
        yield Problem(kinds.NotInHole, place.target.span, facts)
        return
    for cross in range(3):
        if cross != world:
            low = ("left", "front", "bottom")[cross]
            value = centre[cross] - _middle(thing, low)
            yield _equation(low, _along(low), value, place)
    if place.how == "through hole":
        return  # along the hole it goes where another side says
    deep = worked.solver.value(place.distance or hole.deep) if place.distance or hole.deep else None
    entry = _coordinate(other, OPPOSITE[side])
    depth = deep.value if deep else _coordinate(other, side) * _sign(side) - entry * _sign(side)
    yield _equation(
        side, _along(side), entry + _sign(side) * depth - _coordinate(thing, side), place
    )


def _centred_on_hole(
    place: Place, thing: Thing, sides: tuple[str, ...], other: Thing, worked: Worked
) -> Iterator[Found]:
    """The middle of a thing on the middle of a hole, in the directions that are said."""
    part = worked.part(other.name)
    holes = part.part.holes if part else ()
    hole = next((h for h in holes if h.name.value == place.target.feature), None)
    if part is None or hole is None:
        return
    axis = SIDE_AXIS[hole.on.value[0]] if hole.on else AXIS_INDEX.get(part.thin, 2)
    _, inner = other.bodies[0]
    centre = other.pose.after(inner).point(_hole_centre(hole, part, axis, worked))
    for side in sides:
        if side in ("left", "front", "bottom") or OPPOSITE[side] not in sides:
            value = centre[SIDE_AXIS[side]] - _middle(thing, side)
            yield _equation(side, _along(side), value, place)


def _in_groove(
    place: Place, thing: Thing, side: str, other: Thing, worked: Worked
) -> Iterator[Found]:
    """Seated on the bottom of a groove or rebate, and in the middle of its width."""
    part = worked.part(other.name)
    grooves = part.part.grooves if part else ()
    groove = next((g for g in grooves if g.name.value == place.target.feature), None)
    if part is None or groove is None:
        return
    deep = worked.solver.value(place.distance or groove.deep)
    wide = worked.solver.value(groove.wide)
    edge = groove.at.side if groove.at else (groove.along.value[0] if groove.along else "")
    gap = worked.solver.value(groove.at.distance) if groove.at else None
    if deep is None or wide is None or not edge or (groove.at and gap is None):
        return
    world, surface = _in_world(other, part, groove.on.value[0], ZERO)
    if SIDE_AXIS[side] != world:
        facts = {"side": side, "piece": thing.name, "hole": groove.name.value, "other": other.name}
        yield Problem(kinds.NotInHole, place.target.span, facts)
        return
    seat = surface + _sign(side) * deep.value
    yield _equation(side, _along(side), seat - _coordinate(thing, side), place)
    across, middle = _in_world(other, part, edge, (gap.value if gap else ZERO) + wide.value / 2)
    low = ("left", "front", "bottom")[across]
    yield _equation(low, _along(low), middle - _middle(thing, low), place)


def _hole_centre(hole: Hole, part: CutPart, axis: int, worked: Worked) -> Vector:
    """The centre of a hole in its part's frame."""
    at = [_extent(part, index) / 2 for index in range(3)]
    for offset in hole.at.offsets:
        far = worked.solver.value(offset.distance)
        index = SIDE_AXIS[offset.side]
        if far is not None and index != axis:
            at[index] = far.value if _sign(offset.side) < 0 else _extent(part, index) - far.value
    return (at[0], at[1], at[2])
