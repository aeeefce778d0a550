"""Can a screw be driven as the work lies?

In: a `Worked` design and its `Assembly`.  Out: problems of screws that come from under the work,
out of the bench.
"""

from __future__ import annotations

from collections.abc import Iterator

from patternpress.assembly.gluing import is_screw
from patternpress.assembly.placing import Assembly
from patternpress.assembly.pose import DIRECTION
from patternpress.assembly.usage import Lying
from patternpress.assembly.worked import Worked
from patternpress.design.kinds.fit import ScrewUnderneath
from patternpress.design.phrases import OPPOSITE
from patternpress.design.problem import Problem
from patternpress.design.records.work import Joined

# mm that a piece must stand clear of the bench for a screwdriver of the short kind: common
# practice, no source.
ROOM = 60


def check_screws(worked: Worked, assembly: Assembly) -> Iterator[Problem]:
    """Screws whose heads would lie on the bench, once for each step."""
    for lying in worked.usage.lying:
        down = "bottom" if lying.lies == "upright" else lying.lies.removeprefix("on its ")
        for joined in lying.step.join:
            if is_screw(worked, joined) and _under(assembly, lying, joined, down):
                facts = {"step": str(lying.number), "piece": joined.piece.value, "side": down}
                yield Problem(ScrewUnderneath, joined.piece.span, facts | {"lies": lying.lies})
                break


def _under(assembly: Assembly, lying: Lying, joined: Joined, down: str) -> bool:
    """Whether a screw's head comes to that side, and its piece lies on the bench with it."""
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
