"""From a place in words to equations.

In: the things already in a work, one `Place`, the thing that is joined.  Out: `Equation`s for
its offset, or located problems.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from fractions import Fraction

from patternpress.assembly.body import SIDE_AXIS, Plane
from patternpress.assembly.equations import SAME_PLACE, Equation
from patternpress.assembly.marked import (
    extent,
    hole_axis,
    hole_centre,
    hole_of,
    hole_side,
    in_world,
    mark_coordinates,
)
from patternpress.assembly.pose import DIRECTION, ONE, ORIGIN, UNIT, ZERO, Vector, dot, plus
from patternpress.assembly.realedge import mouth_behind
from patternpress.assembly.thing import Thing, along_of, end_of, middle_of, sign_of
from patternpress.assembly.worked import Worked
from patternpress.design.kinds import placing as kinds
from patternpress.design.phrases import OPPOSITE, Place, Target
from patternpress.design.problem import Problem

Found = Equation | Problem
# The cosine of the half degree by which a slope of rounded figures may be off, and the gap in mm
# that is left there at most: half of 1/64 in.  Glue fills that.
LEVEL = Fraction(99996, 100000)
SLIVER = Fraction(1, 5)
# The cosine of 60 degrees: what stands further from the line of a hole lies across it.  Less than
# that and more than can be drilled is told as such (`leans-too-far`).
ACROSS = Fraction(1, 2)


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
    elif place.how in _INTO:
        yield from _INTO[place.how](place, thing, sides[0], other, worked)
    elif place.how == "centred" and held.kind == "hole":
        yield from _centred_on_hole(place, thing, sides, other, worked)
    elif held.feature and not other.featured(held.feature):
        yield _not_there(held, 0)
    elif place.how == "centred":
        yield from _centred(place, thing, sides, other)
    else:
        yield from _away(place, thing, sides, other, worked)


def _away(
    place: Place, thing: Thing, sides: tuple[str, ...], other: Thing, worked: Worked
) -> Iterator[Found]:
    """Flush, or so far inside or beyond; nothing where the distance has no value (told before)."""
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


def _coordinate(thing: Thing, side: str) -> Fraction:
    """The coordinate of a thing's outermost point on a side, along that side's axis."""
    return thing.reach(DIRECTION[side]) * sign_of(side)


def _against(place: Place, thing: Thing, side: str, other: Thing) -> Found:
    mine = thing.face(side)
    theirs = _target_face(place.target, mine, other)
    if isinstance(theirs, int):
        return _not_there(place.target, theirs)
    turned = dot(mine.normal, theirs.normal)
    if abs(turned + 1) > SAME_PLACE and (slope := _slope(place.target, mine, other)) is not None:
        n = plus(ORIGIN, mine.normal, -1)
        value = dot(n, slope) - dot(n, mine.point)
        return replace(_equation(side, n, value, place), play=SLIVER)
    if abs(turned + 1) > SAME_PLACE:
        angle = math.degrees(math.acos(max(-1.0, min(1.0, -float(turned)))))
        facts = {"side": side, "piece": thing.name, "other": other.name}
        facts["angle"] = f"{angle:.1f} degrees"
        return Problem(kinds.FacesNotFlat, place.target.span, facts)
    n = theirs.normal
    return _equation(side, n, dot(n, theirs.point) - dot(n, mine.point), place)


def _slope(target: Target, mine: Plane, other: Thing) -> Vector | None:
    """The outermost point of a slope of an outline on which a face lies; None where none fits.

    Figures of an outline are rounded to the step, so its angle is only nearly the face's.
    """
    if target.sides or target.feature:
        return None
    slopes = [p for p in other.featured("sloping") if -dot(p.normal, mine.normal) > LEVEL]
    points = (each.point for each in slopes)
    return max(points, key=lambda point: -dot(point, mine.normal), default=None)


def _not_there(target: Target, count: int) -> Problem:
    facts = {"piece": target.thing, "feature": target.feature}
    facts["count"] = "no edge" if count == 0 else f"{count} edges"
    return Problem(kinds.FeatureNotThere, target.span, facts)


def _target_face(target: Target, mine: Plane, other: Thing) -> Plane | int:
    """The face that is touched; a count where a feature does not tell one."""
    if target.sides:
        return other.face(target.sides[0])
    planes = list(other.featured(target.feature)) if target.feature else []
    if target.feature:
        return planes[0] if len(planes) == 1 else len(planes)
    return min((plane for _, plane in other.faces), key=lambda p: dot(p.normal, mine.normal))


def _compared(place: Place, thing: Thing, side: str, other: Thing, far: Fraction) -> Found:
    """flush, inside, beyond, from: outermost points along one axis."""
    target = place.target.sides[0] if place.target.sides else side
    if SIDE_AXIS[target] != SIDE_AXIS[side]:
        facts = {"side": side, "piece": thing.name, "other": f"the {target} of “{other.name}”"}
        return Problem(kinds.WrongDirection, place.target.span, facts)
    at = _coordinate(other, target)
    sign = sign_of(target)
    if place.how == "inside":
        at -= sign * far
    elif place.how == "beyond":
        at += sign * far
    elif place.how == "from":
        # A side that faces the other one is away from it; a like side is in from it.
        at += sign * far if OPPOSITE[target] == side else -sign * far
    return _equation(side, along_of(side), at - _coordinate(thing, side), place)


def _middle(thing: Thing, side: str) -> Fraction:
    return (_coordinate(thing, side) + _coordinate(thing, OPPOSITE[side])) / 2


def _middle_on(thing: Thing, side: str, target: Target, bearer: Thing) -> Fraction:
    """The middle of a thing; of a leaning one, that of the end that lies on the marked face."""
    foot = thing.foot(bearer.face(target.sides[0]).normal) if target.sides else ()
    if not foot:
        return _middle(thing, side)
    reach = [corner[SIDE_AXIS[side]] for corner in foot]
    return (min(reach) + max(reach)) / 2


def _centred(place: Place, thing: Thing, sides: tuple[str, ...], other: Thing) -> Iterator[Found]:
    for side in sides:
        if side in ("left", "front", "bottom") or OPPOSITE[side] not in sides:
            value = _middle(other, side) - _middle(thing, side)
            yield _equation(side, along_of(side), value, place)


def _at_mark(
    things: Mapping[str, Thing], place: Place, thing: Thing, sides: tuple[str, ...], worked: Worked
) -> Iterator[Found]:
    """A side on a line, or the middle on a point; every placed piece that bears the mark counts."""
    mark = next(m for m in worked.book.marks if m.name.value == place.target.thing)
    bearers = [
        (target, bearer)
        for group in mark.on
        for target in group
        # A part that is marked bears it on each of its pieces.
        for name in dict.fromkeys((target.thing, *worked.usage.pieces.get(target.thing, ())))
        if (bearer := things.get(name)) is not None
    ]
    for target, bearer in bearers:
        part = worked.part(target.thing)
        if part is None:
            continue
        for axis, at in mark_coordinates(mark, part, bearer, worked):
            for side in sides:
                if SIDE_AXIS[side] != axis or (place.how == "centred" and sign_of(side) > 0):
                    continue
                own = _coordinate(thing, side)
                if place.how == "centred":
                    own = _middle_on(thing, side, target, bearer)
                yield _equation(side, along_of(side), at - own, place)


def _in_hole(
    place: Place, thing: Thing, side: str, other: Thing, worked: Worked
) -> Iterator[Found]:
    """Centred on the hole across it; along it, as deep as said, as the hole, or through."""
    part = worked.part(other.name)
    hole = hole_of(part, place.target.feature)
    if part is None or hole is None:
        return
    axis = hole_axis(hole, part)
    _, inner = other.bodies[0]
    pose = other.pose.after(inner)
    local = hole_centre(hole, part, axis, worked, place.target.feature)
    way = pose.turn(UNIT[axis])
    world = SIDE_AXIS[side]
    end, into = end_of(thing, side)
    if abs(into[world]) == ONE or len(thing.bodies) > 1:
        end, into = _square_end(thing, side), DIRECTION[side]
    if abs(dot(into, way)) < ACROSS:
        facts = {"side": side, "piece": thing.name, "hole": hole.name.value, "other": other.name}
        facts["why"] = _why_not(way, into, other)
        yield Problem(kinds.NotInHole, place.target.span, facts)
        return
    # In a notch, a hollow or a bevel the hole begins where the wood does.
    shape, mouth_side = worked.shapes.get(part.name), hole_side(hole, part)
    behind = mouth_behind(part, shape, worked.solver, mouth_side, local)
    high = dot(into, way) < 0
    mouth = pose.point(_put(local, axis, extent(part, axis) - behind if high else behind))
    for cross in range(3):
        if cross != world:
            yield _on_axis(place, cross, (end, into), mouth, world)
    if place.how == "through hole":
        return  # along the hole it goes where another side says
    deep = worked.solver.value(place.distance or hole.deep) if place.distance or hole.deep else None
    # Depth is measured along the hole, as the bit goes; what goes right through ends flush.
    value = _coordinate(other, side) - _coordinate(thing, side)
    if deep is not None:
        value = mouth[world] + deep.value * into[world] - end[world]
    yield _equation(side, along_of(side), value, place)


def _why_not(way: Vector, into: Vector, bearer: Thing) -> str:
    """Why a hole takes nothing from one side, as the end of a sentence; `way` is the hole's."""
    degrees = math.degrees(math.acos(min(1.0, abs(float(dot(way, into))))))
    if max(abs(each) for each in way) > LEVEL:
        return "it opens another way"
    return f"it leans with “{bearer.name}”, {degrees:.0f} degrees from there"


def _on_axis(
    place: Place, cross: int, axis: tuple[Vector, Vector], mouth: Vector, world: int
) -> Equation:
    """One of the two statements that the middle line of a peg runs through the mouth of its hole.

    For an end E, a direction u and a mouth M: (E + t - M) is along u, so in each direction c
    across the hole t_c - t_w u_c / u_w = (M - E)_c - (M - E)_w u_c / u_w.
    """
    end, into = axis
    low = ("left", "front", "bottom")[cross]
    slope = into[cross] / into[world]
    normal = list(along_of(low))
    normal[world] = -slope
    value = mouth[cross] - end[cross] - slope * (mouth[world] - end[world])
    return _equation(low, (normal[0], normal[1], normal[2]), value, place)


def _square_end(thing: Thing, side: str) -> Vector:
    """The middle of the box around a thing, moved to its outermost point on a side."""
    return _put(middle_of(thing), SIDE_AXIS[side], _coordinate(thing, side))


def _put(point: Vector, axis: int, at: Fraction) -> Vector:
    moved = list(point)
    moved[axis] = at
    return moved[0], moved[1], moved[2]


def _centred_on_hole(
    place: Place, thing: Thing, sides: tuple[str, ...], other: Thing, worked: Worked
) -> Iterator[Found]:
    """The middle of a thing on the middle of a hole, in the directions that are said."""
    part = worked.part(other.name)
    hole = hole_of(part, place.target.feature)
    if part is None or hole is None:
        return
    axis = hole_axis(hole, part)
    _, inner = other.bodies[0]
    local = hole_centre(hole, part, axis, worked, place.target.feature)
    centre = other.pose.after(inner).point(local)
    for side in sides:
        if side in ("left", "front", "bottom") or OPPOSITE[side] not in sides:
            value = centre[SIDE_AXIS[side]] - _middle(thing, side)
            yield _equation(side, along_of(side), value, place)


def _in_groove(
    place: Place, thing: Thing, side: str, other: Thing, worked: Worked
) -> Iterator[Found]:
    """Seated on the bottom of a groove or rebate, and in the middle of its width.

    Of a sub-assembly, what reaches farthest there goes in.
    """
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
    world, surface = in_world(other, part, groove.on.value[0], ZERO)
    if SIDE_AXIS[side] != world:
        facts = {"side": side, "piece": thing.name, "hole": groove.name.value, "other": other.name}
        facts["why"] = "it opens another way"
        yield Problem(kinds.NotInHole, place.target.span, facts)
        return
    seat = surface + sign_of(side) * deep.value
    yield _equation(side, along_of(side), seat - _coordinate(thing, side), place)
    across, middle = in_world(other, part, edge, (gap.value if gap else ZERO) + wide.value / 2)
    low = ("left", "front", "bottom")[across]
    yield _equation(low, along_of(low), middle - _middle(thing.outermost(side), low), place)


_INTO: Mapping[str, Callable[[Place, Thing, str, Thing, Worked], Iterator[Found]]] = {
    "in hole": _in_hole,
    "through hole": _in_hole,
    "in groove": _in_groove,
}
