"""Does what turns free in a hole sit in that hole, and is it thin enough?

In: a `Worked` design and its `Assembly`.  Out: problems of pins and doors that are said to turn in
a hole that they lie beside, do not reach, or are too thick for.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from typing import NamedTuple

from patternpress.assembly.checks.places import CLOSE, room_of
from patternpress.assembly.moving import line_of
from patternpress.assembly.placing import Assembly, Placed, both_units
from patternpress.assembly.pose import ORIGIN, Vector, dot, plus
from patternpress.assembly.roots import root
from patternpress.assembly.thing import Thing, middle_of
from patternpress.assembly.usage import Use
from patternpress.assembly.worked import Worked
from patternpress.design.kinds.placing import BesideItsHole, TooThickForHole
from patternpress.design.phrases import Target
from patternpress.design.problem import Problem


class _Nearest(NamedTuple):
    """A piece that comes: where it is, how far from the line of a hole, and along what."""

    placed: Placed
    thing: Thing
    beside: Fraction
    along: Vector


def check_turning(worked: Worked, assembly: Assembly) -> Iterator[Problem]:
    """What is said to turn in a hole, against where it and the hole are."""
    for use in worked.usage.uses:
        for hole in use.joined.turns_in if use.joined else ():
            held = worked.part(hole.thing)
            room = room_of(worked, held, hole.feature) if held else None
            nearest = _nearest(worked, assembly, use, hole)
            if nearest is not None and room is not None:
                yield from _judged(worked, assembly, use, hole, nearest, room)


def _judged(
    worked: Worked, assembly: Assembly, use: Use, hole: Target, nearest: _Nearest, room: Fraction
) -> Iterator[Problem]:
    facts = {"piece": use.name, "other": hole.thing, "hole": hole.feature, "step": str(use.step)}
    facts["goes"] = "turn in"
    part = worked.part(nearest.placed.part)
    thick = [q.value for name, q in part.extents.items() if name != part.along] if part else []
    if nearest.beside > room / 2:
        facts["where"] = f"lies {both_units(nearest.beside)} beside the middle of it"
        yield Problem(BesideItsHole, hole.span, facts)
    elif not _reaches(assembly, use, hole, nearest):
        facts["where"] = "does not reach into it"
        yield Problem(BesideItsHole, hole.span, facts)
    elif part is not None and part.form == "rod" and max(thick) > room + CLOSE:
        facts |= {"size": both_units(max(thick)), "room": both_units(room)}
        yield Problem(TooThickForHole, hole.span, facts)


def _nearest(worked: Worked, assembly: Assembly, use: Use, hole: Target) -> _Nearest | None:
    """The piece of what comes whose middle is nearest to the line of a hole."""
    line = line_of(worked, assembly, use.builds, hole)
    if line is None:
        return None
    through, along = line
    found = []
    for each in assembly.coming(use):
        thing = assembly.thing(each.piece, each)
        out = plus(middle_of(thing), through, -1)
        across = plus(out, along, -dot(out, along))
        found.append(_Nearest(each, thing, root(dot(across, across)), along))
    return min(found, key=lambda each: each.beside, default=None)


def _reaches(assembly: Assembly, use: Use, hole: Target, nearest: _Nearest) -> bool:
    """Whether a piece and the one that bears the hole are beside each other, along the hole."""
    way = nearest.along
    back = plus(ORIGIN, way, -1)
    for each in assembly.works[use.builds]:
        if hole.thing in each.called:
            body = assembly.bodies[each.part]
            ahead = body.reach(each.pose, way) + nearest.thing.reach(back)
            behind = body.reach(each.pose, back) + nearest.thing.reach(way)
            return min(ahead, behind) > CLOSE
    return True
