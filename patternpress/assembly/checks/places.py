"""Does what the joins make look and work as it should?

In: a `Worked` design and its `Assembly`.  Out: problems of overhangs, of hands, and of finish
that comes before glue.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from patternpress.assembly.placing import Assembly, Contact, Placed, both_units
from patternpress.assembly.pose import DIRECTION
from patternpress.assembly.worked import Worked
from patternpress.design.kinds import placing as kinds
from patternpress.design.problem import Problem

# Rule of thumb for one glue-up without clamps between: common practice, no source.
MOST_PIECES = 6
FINISHES = ("dye", "paint", "oil")
CLOSE = Fraction(1, 10**6)


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
            yield Problem(kinds.TooManyPieces, step.step.main.span, facts)


def _spared(later: list[Contact], bare: set[str]) -> bool:
    """Whether each joint has at least the face of the other piece left bare."""
    return all(contact.thing in bare or contact.other in bare for contact in later)


def check_finish(worked: Worked, assembly: Assembly) -> Iterator[Problem]:
    """Pieces that are dyed, painted or oiled whole, and glued afterwards without a bare face."""
    bare = {
        each
        for step in worked.usage.steps
        for t in (*step.treat, *step.afterwards)
        if t.verb in ("leave bare", "resist")
        for target in t.targets
        for each in (target.thing, *worked.usage.pieces.get(target.thing, ()))
    }
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
                if later and not names & bare and target.thing and not _spared(later, bare):
                    facts = {"piece": target.thing, "step": str(number)}
                    facts["later"] = str(later[0].step)
                    yield Problem(kinds.DyedWhereGlued, target.span, facts)
