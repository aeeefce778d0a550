"""Does glue come on bare wood?

In: a `Worked` design and its `Assembly`.  Out: problems of faces that are dyed, painted or oiled
before glue must hold on them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from patternpress.assembly.handwork import as_drawn
from patternpress.assembly.placing import Assembly, Contact
from patternpress.assembly.screwed import screwed_on
from patternpress.assembly.usage import MAIN, row_of
from patternpress.assembly.worked import Worked
from patternpress.design.kinds.placing import DyedWhereGlued
from patternpress.design.phrases import OPPOSITE, Target
from patternpress.design.problem import Problem
from patternpress.design.records.work import FINISHES

Face = tuple[str, str]  # a thing as a join calls it, and its side as it stands


@dataclass(frozen=True)
class Coat:
    """A finish on a thing: what joins may call that by, and the first step that glues after it."""

    verb: str
    target: Target
    names: frozenset[str]
    step: int
    since: int


def check_finish(worked: Worked, assembly: Assembly) -> Iterator[Problem]:
    """Faces that are finished and glued afterwards, though nothing says to leave them bare.

    Glue holds on dye where the other face is bare; on paint, oil, varnish and wax it does not.
    """
    coats, bare = list(_coats(worked, assembly)), _bare(worked)
    dry = _dry(worked)
    met = (*assembly.contacts, *_in_holes(worked))
    glued = [each for each in met if each.glued and (each.step, each.thing) not in dry]

    def coated(coat: Coat, face: Face, contact: Contact) -> bool:
        there = contact.step >= coat.since and face[0] in coat.names
        return there and _on(worked, coat.target, face) and not _any_on(worked, bare, face)

    for coat in coats:
        for contact in glued:
            faces = _faces(contact)
            mine = next((each for each in faces if coated(coat, each, contact)), None)
            others = [each for each in faces if each != mine]
            spared = coat.verb == "dye" and not any(
                coated(other, each, contact) for other in coats for each in others
            )
            if mine is not None and not spared:
                facts = {"piece": mine[0], "step": str(coat.step), "side": mine[1]}
                facts["later"] = str(contact.step)
                yield Problem(DyedWhereGlued, coat.target.span, facts)
                break


def _dry(worked: Worked) -> frozenset[tuple[int, str]]:
    """Steps and what is screwed on in them: screws hold on any finish."""
    return frozenset(
        (number, name)
        for number, step in enumerate(worked.usage.steps, 1)
        for joined in step.join
        if screwed_on(worked, step, joined)
        for name in (joined.piece.value, *row_of(joined, worked.usage.pieces))
    )


def _faces(contact: Contact) -> tuple[Face, ...]:
    """The two faces of a joint; the inside of a hole or groove takes no finish."""
    mine = (contact.thing, contact.side)
    if contact.how != "against":
        return (mine,)
    return mine, (contact.other, OPPOSITE[contact.side])


def _in_holes(worked: Worked) -> Iterator[Contact]:
    """What goes into holes, which are no faces; what is bought comes as it is."""
    for use in worked.usage.uses:
        part = worked.part(worked.usage.part_of.get(use.name, use.name))
        for sides, place in use.joined.places if use.joined else ():
            if place.how in ("in hole", "through hole") and part and part.form != "bought":
                thing = place.target.thing
                yield Contact(
                    use.name, sides.value[0], thing, place.glued, use.step, use.builds, place.how
                )


def _coats(worked: Worked, assembly: Assembly) -> Iterator[Coat]:
    """Every finish that a step puts on before or after it joins."""
    for number, step in enumerate(worked.usage.steps, 1):
        for treatments, since in ((step.treat, number), (step.afterwards, number + 1)):
            for treatment in treatments:
                for target in treatment.targets if treatment.verb in FINISHES else ():
                    if target.feature:  # an edge or a hole
                        continue
                    names = _names(worked, assembly, target, (number, since))
                    yield Coat(treatment.verb, target, names, number, since)


def _names(
    worked: Worked, assembly: Assembly, target: Target, at: tuple[int, int]
) -> frozenset[str]:
    """What joins may call a target by: a piece, those of a part, all of a sub-assembly or of the
    work as it then is, with what the step starts from.
    """
    number, since = at
    step = worked.usage.steps[number - 1]
    work = worked.usage.sub_of.get(target.thing, step.builds.value if step.builds else MAIN)
    several = not target.thing or target.thing in worked.usage.sub_of
    whole = assembly.works.get(work, ()) if several else ()
    start = step.start.value if step.start else ""
    built = [each for each in whole if each.step < since or each.brought == start]
    own = {target.thing, *worked.usage.pieces.get(target.thing, ())} - {""}
    return frozenset(own).union(*(each.called for each in built))


def _bare(worked: Worked) -> list[Target]:
    """What is left bare or kept from dye; holes are no faces."""
    return [
        target
        for step in worked.usage.steps
        for treatment in (*step.treat, *step.afterwards)
        if treatment.verb in ("leave bare", "resist")
        for target in treatment.targets
        if target.kind != "hole"
    ]


def _any_on(worked: Worked, targets: list[Target], face: Face) -> bool:
    return any(
        face[0] in (each.thing, *worked.usage.pieces.get(each.thing, ()))
        and _on(worked, each, face)
        for each in targets
    )


def _on(worked: Worked, target: Target, face: Face) -> bool:
    """Whether a target that names a thing speaks of a face of it; a part's sides are as drawn."""
    thing, side = face
    part = worked.part(worked.usage.part_of.get(thing, thing))
    drawn = side if part is None or target.thing == thing else as_drawn(thing, side, part)
    return target.sides in ((), (drawn,))  # two sides are an edge


__all__ = ["check_finish"]
