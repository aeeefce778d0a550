"""Can a screw be driven as the work lies, and does it end in the wood?

In: a `Worked` design and its `Assembly`.  Out: problems of screws that come from under the work,
out of the bench, and of those that are longer than all they go through.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from fractions import Fraction

from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.marked import extent, hole_axis, hole_of
from patternpress.assembly.moving import line_of
from patternpress.assembly.placing import Assembly, both_units
from patternpress.assembly.pose import DIRECTION
from patternpress.assembly.screwed import is_screw
from patternpress.assembly.solid import Vec
from patternpress.assembly.usage import Lying
from patternpress.assembly.worked import Worked
from patternpress.design.kinds.fit import ScrewTooLong, ScrewUnderneath
from patternpress.design.phrases import OPPOSITE
from patternpress.design.problem import Problem
from patternpress.design.records.work import Joined

# mm that a piece must stand clear of the bench for a screwdriver of the short kind: common
# practice, no source.
ROOM = 60
# How a screw's size is written in every language of a shop: its thickness, then its length.
STATED = re.compile(r"\d+(?:[.,]\d+)? ?(?:mm ?)?[x×] ?(\d+)(?:[.,](\d+))? ?mm", re.IGNORECASE)


def check_screws(worked: Worked, assembly: Assembly) -> Iterator[Problem]:
    """Screws whose heads would lie on the bench, once for each step."""
    for lying in worked.usage.lying:
        for joined in lying.step.join:
            if is_screw(worked, joined) and _under(assembly, lying, joined):
                facts = {"step": str(lying.number), "piece": joined.piece.value, "side": lying.down}
                where = _where(worked, assembly, lying, joined)
                facts |= {"lies": lying.lies}
                yield Problem(ScrewUnderneath, joined.piece.span, facts, where)
                break


def _where(worked: Worked, assembly: Assembly, lying: Lying, joined: Joined) -> Vec | None:
    """The middle of the first hole that a screw goes into."""
    line = line_of(worked, assembly, lying.work, joined.places[0][1].target)
    return (float(line[0][0]), float(line[0][1]), float(line[0][2])) if line else None


def _under(assembly: Assembly, lying: Lying, joined: Joined) -> bool:
    """Whether a screw's head comes to the side that the work lies on, near to the bench."""
    down = lying.down
    way = DIRECTION[down]
    for sides, place in joined.places:
        through = place.how == "through hole" and sides.value == (down,)
        into = place.how == "in hole" and sides.value == (OPPOSITE[down],)
        if not through and not into:
            continue
        low = [
            (place.target.thing in each.called, assembly.bodies[each.part].reach(each.pose, way))
            for each in assembly.works.get(lying.work, ())
            if each.step <= lying.number and each.part in assembly.bodies
        ]
        lowest = max((far for _, far in low), default=0)
        return any(mine and lowest - far < ROOM for mine, far in low)
    return False


def check_lengths(worked: Worked) -> Iterator[Problem]:
    """Screws that are longer than the wood they go through and the wood they bite into."""
    told = set()
    for use in worked.usage.uses:
        joined = use.joined
        part = worked.part(use.name)
        if joined is None or part is None or not is_screw(worked, joined) or part.name in told:
            continue
        long, way = _stated(part), _way(worked, joined)
        if long is not None and way is not None and long > way:
            told.add(part.name)
            facts = {"piece": use.name, "step": str(use.step), "long": both_units(long)}
            yield Problem(ScrewTooLong, joined.piece.span, facts | {"way": both_units(way)})


def _stated(part: CutPart) -> Fraction | None:
    """The length in a screw's words, “4 x 30 mm”; None where they do not say it so."""
    found = STATED.search(part.stock.bought.main.value) if part.stock.bought else None
    return Fraction(f"{found[1]}.{found[2] or 0}") if found else None


def _way(worked: Worked, joined: Joined) -> Fraction | None:
    """How thick all is that a screw has holes in; None where it goes on into what has none."""
    hows = [place.how for _, place in joined.places]
    if "through hole" not in hows or "in hole" not in hows:
        return None
    thick = []
    for _, place in joined.places:
        part = worked.part(place.target.thing)
        hole = hole_of(part, place.target.feature)
        if part is not None and hole is not None:
            thick.append(extent(part, hole_axis(hole, part)))
    return sum(thick, Fraction(0)) if len(thick) == len(hows) and all(thick) else None
