"""Does what the joins make look and work as it should?

In: a `Worked` design and its `Assembly`.  Out: problems of overhangs, of hands, and of finish
that comes before glue.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from patternpress.assembly.body import AXIS_INDEX, SIDE_AXIS
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.marked import hole_axis, hole_of
from patternpress.assembly.placing import Assembly, Contact, Placed, both_units
from patternpress.assembly.pose import DIRECTION
from patternpress.assembly.worked import Worked
from patternpress.design.kinds import placing as kinds
from patternpress.design.phrases import OPPOSITE, Place
from patternpress.design.problem import Problem
from patternpress.design.records.work import FINISHES

# Rule of thumb for one glue-up without clamps between: common practice, no source.
MOST_PIECES = 6
CLOSE = Fraction(1, 10**6)
HELD = ("in hole", "in groove", "through hole")


def check_overhang(worked: Worked, assembly: Assembly) -> Iterator[Problem]:
    """Pieces that lie over or under the rest and hang over unequally, left and right."""
    for name, placed in assembly.works.items():
        for index, each in enumerate(placed):
            earlier = [p for p in placed[:index] if p.step <= each.step]
            if earlier and _flat(each, worked) and not each.path:
                yield from _overhang(each, earlier, worked, assembly, name)


def _flat(placed: Placed, worked: Worked) -> bool:
    part = worked.part(placed.part)
    return part is not None and part.thin == "high"


def _overhang(
    each: Placed, earlier: list[Placed], worked: Worked, assembly: Assembly, _: str
) -> Iterator[Problem]:
    over = []
    for side in ("left", "right"):
        way = DIRECTION[side]
        rest = max(assembly.bodies[p.part].reach(p.pose, way) for p in earlier)
        over.append(assembly.bodies[each.part].reach(each.pose, way) - rest)
    if min(over) > CLOSE and abs(over[0] - over[1]) > CLOSE:
        use = worked.usage.first_use(each.piece)
        if use is not None:
            facts = {"piece": each.piece, "left": both_units(over[0]), "right": both_units(over[1])}
            facts["side"] = "left" if over[0] > over[1] else "right"  # for its picture
            yield Problem(kinds.UnequalOverhang, use.span, facts)


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


def _named(worked: Worked, verbs: tuple[str, ...]) -> set[str]:
    """Every piece and part that some step treats in one of these ways."""
    return {
        each
        for step in worked.usage.steps
        for t in (*step.treat, *step.afterwards)
        if t.verb in verbs
        for target in t.targets
        for each in (target.thing, *worked.usage.pieces.get(target.thing, ()))
    }


def _spared(later: list[Contact], bare: set[str], finished: set[str]) -> bool:
    """Whether each joint has at least one face that is bare, on purpose or never finished."""
    return all(
        each in bare or each not in finished
        for contact in later
        for each in (_other(contact, finished, bare),)
    )


def _other(contact: Contact, finished: set[str], bare: set[str]) -> str:
    """The better side of a joint: the one that is bare, or else never finished."""
    sides = (contact.thing, contact.other)
    return next((s for s in sides if s in bare or s not in finished), contact.thing)


def check_finish(worked: Worked, assembly: Assembly) -> Iterator[Problem]:
    """Pieces that are dyed, painted or oiled whole, and glued afterwards without a bare face."""
    bare = _named(worked, ("leave bare", "resist"))
    finished = _named(worked, FINISHES)
    for number, step in enumerate(worked.usage.steps, 1):
        for treatment in (*step.treat, *step.afterwards):
            if treatment.verb not in FINISHES:
                continue
            for target in treatment.targets:
                names = {target.thing, *worked.usage.pieces.get(target.thing, ())}
                later = [
                    contact
                    for contact in assembly.contacts
                    if contact.glued
                    and contact.step > number
                    and (contact.thing in names or contact.other in names)
                    and (not target.sides or contact.side in target.sides)
                ]
                if (
                    later
                    and not names & bare
                    and target.thing
                    and not _spared(later, bare, finished)
                ):
                    facts = {"piece": target.thing, "step": str(number)}
                    facts["later"] = str(later[0].step)
                    mine = later[0].thing in names
                    facts["side"] = later[0].side if mine else OPPOSITE[later[0].side]
                    yield Problem(kinds.DyedWhereGlued, target.span, facts)


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
            across = [q.value for name, q in part.extents.items() if AXIS_INDEX[name] != axis]
            if room is None or not across or not _opens(held, place, axis):
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
