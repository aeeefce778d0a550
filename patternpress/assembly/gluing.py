"""Which joined things are glued, with what, and to what: all that meets, not only what is said.

In: a `Worked` design and its `Assembly`.  Out: whether a join is glued, its glue, and the pieces
that the joined thing lies against when it comes to its place.  Judged on solids, in floats.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from patternpress.assembly.benchtime import material_of
from patternpress.assembly.body import SIDE_AXIS
from patternpress.assembly.bulks import Bulks, bulks_of
from patternpress.assembly.contacts import touching_area
from patternpress.assembly.convex import Bulk
from patternpress.assembly.moving import moving_things
from patternpress.assembly.placing import Assembly, Placed
from patternpress.assembly.usage import MAIN, row_of
from patternpress.assembly.worked import Worked
from patternpress.design.phrases import Target
from patternpress.design.records.goods import Material
from patternpress.design.records.work import Joined, Step

HELD = ("in hole", "in groove", "through hole")
TOUCHING = ("against", "loose against")
# mm²: what meets in less is the hair of an edge and takes no glue worth a word.
LEAST = 0.3
LEEWAY = 0.01  # mm
# mm that what lies in a groove goes into it at least.
HAIR = 0.05


def is_glued(worked: Worked, step: Step, joined: Joined) -> bool:
    """Whether a join takes glue.

    What is laid against something or put in a hole says so itself; what is placed in other ways
    (inside, beyond, centred) is glued where its step speaks of a glue, unless it is to move.
    Screws are driven dry.
    """
    held = [place for _, place in joined.places if place.how in (*HELD, *TOUCHING)]
    sub = worked.usage.sub_of.get(joined.piece.value)
    moving = {each.name.value for each in worked.book.sub_assemblies if each.moves} if sub else ()
    moves = joined.opens is not None or sub in moving
    if held or joined.turns_in or moves:
        return any(place.glued for place in held) and not is_screw(worked, joined)
    return glue_of(worked, step, joined) is not None


def is_screw(worked: Worked, joined: Joined) -> bool:
    """Whether a join brings bought screws."""
    part = worked.part(joined.piece.value)
    if part is None or part.form != "bought":
        return False
    bought = part.stock.bought
    named = f"{part.name} {bought.main.value if bought else ''}"
    return "screw" in named.lower()


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
    mine, there = _around(worked, assembly, number, joined)
    met = _met(bulks_of(worked, assembly), mine, there) if mine else ()
    return tuple(dict.fromkeys(met))


def twin_grooves(
    worked: Worked, assembly: Assembly, number: int, joined: Joined
) -> tuple[Target, ...]:
    """The like grooves of twin pieces that a thing sits in as well, though its join names one.

    A shelf between two sides is placed by the groove of one of them.
    """
    named = [place.target for _, place in joined.places if place.how == "in groove"]
    part_of, said = worked.usage.part_of, {each.thing for each in named}
    if not any(len(worked.usage.pieces.get(part_of.get(each, ""), ())) > 1 for each in said):
        return ()
    bulks = bulks_of(worked, assembly)
    mine, there = _around(worked, assembly, number, joined)
    ours = [bulk for each in mine if (bulk := bulks.of(each)) is not None]
    return tuple(
        replace(target, thing=other.piece)
        for other in there
        for target in named
        if other.piece not in said and other.part == part_of.get(target.thing)
        if (bulk := bulks.of(other)) is not None and any(_within(each, bulk) for each in ours)
    )


def taken_in(
    worked: Worked, assembly: Assembly, number: int, joined: Joined
) -> tuple[str, tuple[str, ...]]:
    """The one groove of a piece that comes, and what lies in it then: “wall groove”, (“bottom”,).

    Nothing where the join names holes or grooves, and where the piece has several grooves.
    """
    part = worked.part(joined.piece.value)
    grooves = part.part.grooves if part is not None else ()
    at = grooves[0].at if len(grooves) == 1 else None
    wide = worked.solver.value(grooves[0].wide) if at is not None else None
    if at is None or wide is None or any(place.how in HELD for _, place in joined.places):
        return "", ()
    axis, most = SIDE_AXIS[at.side], float(wide.value) + LEEWAY
    bulks = bulks_of(worked, assembly)
    mine, there = _around(worked, assembly, number, joined)
    ours = [bulk for each in mine if (bulk := bulks.of(each)) is not None]
    inside = [
        other.told
        for other in there
        if (bulk := bulks.of(other)) is not None and any(_within(each, bulk) for each in ours)
        # What is wider than the groove meets the piece at a mitred corner.
        if float(bulk.most[axis] - bulk.least[axis]) <= most
    ]
    return grooves[0].name.value, tuple(inside)


def _within(one: Bulk, other: Bulk) -> bool:
    """Whether the boxes of two solids share room: one then sits in what is cut into the other."""
    low = np.maximum(one.least, other.least)
    high = np.minimum(one.most, other.most)
    return float((high - low).min()) > HAIR


def _around(
    worked: Worked, assembly: Assembly, number: int, joined: Joined
) -> tuple[list[Placed], list[Placed]]:
    """The pieces that a join brings, and those in that work before them that are not loose."""
    step = worked.usage.steps[number - 1]
    work = assembly.works.get(step.builds.value if step.builds else MAIN, ())
    mine = [each for each in work if _belongs(worked, each, joined, number)]
    if not mine:
        return [], []
    loose = loose_things(worked, assembly)
    before = work[: work.index(mine[0])]
    return mine, [each for each in before if each.brought not in loose]


def _belongs(worked: Worked, placed: Placed, joined: Joined, number: int) -> bool:
    pieces = row_of(joined, worked.usage.pieces)
    return placed.step == number and placed.brought in pieces


def _met(bulks: Bulks, mine: list[Placed], there: list[Placed]) -> Iterator[str]:
    ours = [bulk for each in mine if (bulk := bulks.of(each)) is not None]
    for other in there:
        bulk = bulks.of(other)
        if bulk is not None and sum(touching_area(each, bulk) for each in ours) > LEAST:
            yield other.told
