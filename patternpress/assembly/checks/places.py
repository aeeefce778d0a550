"""Does what the joins make look and work as it should?

In: a `Worked` design and its `Assembly`.  Out: problems of overhangs, of hands, and of pins
and their holes.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from patternpress.assembly.body import AXIS_INDEX, SIDE_AXIS
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.leaning import lean_of
from patternpress.assembly.marked import hole_axis, hole_of
from patternpress.assembly.placing import Assembly, Placed, both_units
from patternpress.assembly.pose import DIRECTION
from patternpress.assembly.usage import Use
from patternpress.assembly.worked import Worked
from patternpress.design.kinds import placing as kinds
from patternpress.design.phrases import Place
from patternpress.design.problem import Problem

# Rule of thumb for one glue-up without clamps between: common practice, no source.
MOST_PIECES = 6
CLOSE = Fraction(1, 10**6)
BESIDE = (("left", "right"), ("front", "back"))
HELD = ("in hole", "in groove", "through hole")


def check_overhang(worked: Worked, assembly: Assembly) -> Iterator[Problem]:
    """Pieces that lie over or under the rest and hang over unequally, left and right or front and
    back; flush on one side and over on the other is what many a top is, and not told.
    """
    for placed in assembly.works.values():
        for index, each in enumerate(placed):
            earlier = [p for p in placed[:index] if p.step <= each.step]
            if earlier and _flat(each, worked) and not each.path:
                for sides in BESIDE:
                    yield from _overhang(each, earlier, sides, (worked, assembly))


def _flat(placed: Placed, worked: Worked) -> bool:
    part = worked.part(placed.part)
    return part is not None and part.thin == "high"


def _overhang(
    each: Placed, earlier: list[Placed], sides: tuple[str, str], of: tuple[Worked, Assembly]
) -> Iterator[Problem]:
    worked, assembly = of
    use = worked.usage.first_use(each.piece)
    if use is None or _tilted(each, sides) or _both_said(use, sides):
        return
    over = []
    for side in sides:
        way = DIRECTION[side]
        rest = max(assembly.bodies[p.part].reach(p.pose, way) for p in earlier)
        over.append(assembly.bodies[each.part].reach(each.pose, way) - rest)
    if min(over) > CLOSE and abs(over[0] - over[1]) > CLOSE:
        facts = {"piece": each.piece, "one": both_units(over[0]), "other": both_units(over[1])}
        facts |= {"low": sides[0], "high": sides[1]}
        facts["side"] = sides[0] if over[0] > over[1] else sides[1]  # for its picture
        yield Problem(kinds.UnequalOverhang, use.span, facts)


def _tilted(placed: Placed, sides: tuple[str, str]) -> bool:
    """Whether a piece leans along the way between two sides, so that its edges hang unlike."""
    return abs(placed.pose.matrix[SIDE_AXIS[sides[0]]][AXIS_INDEX["high"]]) > CLOSE


def _both_said(use: Use, sides: tuple[str, str]) -> bool:
    """Whether a join says of both sides where they go: then the difference is meant."""
    places = use.joined.places if use.joined else ()
    return {*sides} <= {names.value[0] for names, _ in places if len(names.value) == 1}


def check_hands(worked: Worked, _: Assembly) -> Iterator[Problem]:
    """Steps that join more pieces than can be held while the glue is wet."""
    for number, step in enumerate(worked.usage.steps, 1):
        glued = [
            joined
            for joined in step.join
            if joined.row is None and any(place.how == "against" for _, place in joined.places)
        ]
        if len(glued) > MOST_PIECES:
            facts = {"step": str(number), "count": str(len(glued))}
            facts["pieces"] = ", ".join(each.piece.value for each in glued)  # for its picture
            yield Problem(kinds.TooManyPieces, step.step.main.span, facts)


def check_pins(worked: Worked, _: Assembly) -> Iterator[Problem]:
    """What goes into a hole or a groove, against the size of the hole or groove."""
    for use in worked.usage.uses:
        part = worked.part(use.name)
        for sides, place in use.joined.places if use.joined else ():
            held = worked.part(place.target.thing)
            if place.how not in HELD or part is None or held is None:
                continue
            room = room_of(worked, held, place.target.feature)
            axis = SIDE_AXIS[sides.value[0]]
            if room is None or not _opens(held, place, axis):
                continue
            if use.joined and part.form == "rod" and lean_of(worked, use.joined):
                axis = AXIS_INDEX[part.along]  # it is its end that goes in, whatever that looks to
            across = [q.value for name, q in part.extents.items() if AXIS_INDEX[name] != axis]
            if not across:
                continue
            size = min(across) if place.how == "in groove" else max(across)
            if size > room + CLOSE:
                facts = {"piece": use.name, "size": both_units(size), "room": both_units(room)}
                facts |= {"hole": place.target.feature, "other": held.name}
                yield Problem(kinds.TooThickForHole, place.target.span, facts)


def _opens(held: CutPart, place: Place, axis: int) -> bool:
    """Whether the hole runs along an axis, as far as the part as drawn tells."""
    hole = hole_of(held, place.target.feature)
    return hole is None or hole_axis(hole, held) == axis


def room_of(worked: Worked, held: CutPart, named: str) -> Fraction | None:
    """The diameter of a hole of a part, or the width of a groove."""
    hole = hole_of(held, named)
    if hole is not None and hole.round is not None:
        found = worked.solver.value(hole.round)
        return found.value if found else None
    for groove in held.part.grooves:
        if groove.name.value == named:
            found = worked.solver.value(groove.wide)
            return found.value if found else None
    return None


def check_leans(worked: Worked, _: Assembly) -> Iterator[Problem]:
    """Pieces that lean by their part and again by their join."""
    for use in worked.usage.uses:
        part = worked.part(use.name)
        if use.joined and use.joined.leans and part and part.part.leans:
            yield Problem(kinds.LeansTwice, use.span, {"piece": use.name})
