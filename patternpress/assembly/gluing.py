"""Which joined things are glued, with what, and to what: all that meets, not only what is said.

In: a `Worked` design and its `Assembly`.  Out: whether a join is glued, its glue, and the pieces
that the joined thing lies against when it comes to its place.  Judged on solids, in floats.
"""

from __future__ import annotations

from collections.abc import Iterator

from patternpress.assembly.benchtime import material_of
from patternpress.assembly.bulks import Bulks, bulks_of
from patternpress.assembly.contacts import touching_area
from patternpress.assembly.moving import moving_things
from patternpress.assembly.placing import Assembly, Placed
from patternpress.assembly.screwed import is_screw, screwed_on
from patternpress.assembly.usage import MAIN, row_of
from patternpress.assembly.worked import Worked
from patternpress.design.records.goods import Material
from patternpress.design.records.work import Joined, Step

HELD = ("in hole", "in groove", "through hole")
TOUCHING = ("against", "loose against")
# mm²: what meets in less is the hair of an edge and takes no glue worth a word.
LEAST = 0.3


def is_glued(worked: Worked, step: Step, joined: Joined) -> bool:
    """Whether a join takes glue.

    What is laid against something or put in a hole says so itself; what is placed in other ways
    (inside, beyond, centred) is glued where its step speaks of a glue, unless it is to move.
    Screws are driven dry, and what they hold takes none.
    """
    if screwed_on(worked, step, joined):
        return False
    held = [place for _, place in joined.places if place.how in (*HELD, *TOUCHING)]
    sub = worked.usage.sub_of.get(joined.piece.value)
    moving = {each.name.value for each in worked.book.sub_assemblies if each.moves} if sub else ()
    moves = joined.opens is not None or sub in moving
    if held or joined.turns_in or moves:
        return any(place.glued for place in held) and not is_screw(worked, joined)
    return glue_of(worked, step, joined) is not None


def has_screws(worked: Worked, joined: Joined) -> bool:
    """Whether a join brings a fitting that comes with its screws, and is none: a hinge, a plate."""
    part = worked.part(joined.piece.value)
    bought = part.stock.bought.main.value if part and part.stock.bought else ""
    itself, _, along = bought.lower().partition(" with ")
    return "screw" in along and "screw" not in itself


def glue_of(worked: Worked, step: Step, joined: Joined) -> Material | None:
    """The glue of a join: its own, its step's, the one its step waits for, or the only one."""
    said = joined.glue or step.glue or (step.wait.for_ if step.wait else None)
    if said is None and step.wait is None and not _against(joined):
        return None
    found = material_of(worked, said)
    return found if found and found.kind and found.kind.value == "glue" else None


def takes_glue(worked: Worked, assembly: Assembly, number: int, joined: Joined) -> bool:
    """Whether a join takes glue: is meant to, and has a face that meets another."""
    step = worked.usage.steps[number - 1]
    if not is_glued(worked, step, joined):
        return False
    return _against(joined) or bool(meets(worked, assembly, number, joined))


def _against(joined: Joined) -> bool:
    return any(p.glued and p.how in (*HELD, *TOUCHING) for _, p in joined.places)


def loose_things(worked: Worked, assembly: Assembly) -> frozenset[str]:
    """What is only laid on, or moves in the finished piece."""
    loose = {each.thing for each in assembly.contacts if not each.glued}
    loose -= {each.thing for each in assembly.contacts if each.glued}
    return frozenset(loose) | moving_things(worked)


def meets(worked: Worked, assembly: Assembly, number: int, joined: Joined) -> tuple[str, ...]:
    """The pieces that a thing lies against in its place, in the order in which they were placed.

    Those that are only laid loose are left out, and those that come later in the same step.
    """
    found = meetings(worked, assembly, number, joined)
    return tuple(dict.fromkeys(other.told for _, other in found))


def meetings(
    worked: Worked, assembly: Assembly, number: int, joined: Joined
) -> tuple[tuple[str, Placed], ...]:
    """What `meets` tells, piece by piece: which piece of a row or thing that comes, and which of
    those that are there it lies against.
    """
    mine, there = works_around(worked, assembly, number, joined)
    loose = loose_things(worked, assembly)
    fast = [each for each in there if each.brought not in loose]
    return tuple(_met(bulks_of(worked, assembly), mine, fast))


def works_around(
    worked: Worked, assembly: Assembly, number: int, joined: Joined
) -> tuple[list[Placed], list[Placed]]:
    """The pieces that a join brings, those of a row in its order, and those in that work before."""
    step = worked.usage.steps[number - 1]
    work = assembly.works.get(step.builds.value if step.builds else MAIN, ())
    mine = [each for each in work if _belongs(worked, each, joined, number)]
    return (mine, [*work[: work.index(mine[0])]]) if mine else ([], [])


def _belongs(worked: Worked, placed: Placed, joined: Joined, number: int) -> bool:
    pieces = row_of(joined, worked.usage.pieces)
    return placed.step == number and placed.brought in pieces


def _met(bulks: Bulks, mine: list[Placed], there: list[Placed]) -> Iterator[tuple[str, Placed]]:
    ours = [(each.brought, bulk) for each in mine if (bulk := bulks.of(each)) is not None]
    for other in there:
        bulk = bulks.of(other)
        if bulk is None:
            continue
        areas: dict[str, float] = {}
        for name, each in ours:
            areas[name] = areas.get(name, 0.0) + touching_area(each, bulk)
        yield from ((name, other) for name, area in areas.items() if area > LEAST)
