"""Can a fitting without sizes come from where it is said to come?

In: a `Worked` design and its `Assembly`.  Out: problems of screws, hooks and pins that would go
into a blind hole from its closed end, or into a hole whose mouth lies in the wood of another piece.
What has sizes is asked by its solid, in `fitmoves`.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

import numpy as np

from patternpress.assembly.bulks import Bulks, bulks_of
from patternpress.assembly.convex import Array, Bulk
from patternpress.assembly.marked import extent, hole_axis, hole_of, hole_side
from patternpress.assembly.moving import line_of
from patternpress.assembly.placing import Assembly
from patternpress.assembly.pose import DIRECTION, ORIGIN, Vector, dot, plus
from patternpress.assembly.sizes import AXES
from patternpress.assembly.solid import Vec
from patternpress.assembly.usage import Use
from patternpress.assembly.worked import Worked
from patternpress.design.kinds.fit import WrongWayIn
from patternpress.design.phrases import OPPOSITE, Place
from patternpress.design.problem import Problem

BEFORE = Fraction(1, 2)  # mm before the mouth: wood that is there stops what comes


def check_ways_in(worked: Worked, assembly: Assembly) -> Iterator[Problem]:
    """Fittings without sizes whose way in is closed."""
    bulks = bulks_of(worked, assembly)
    for use in worked.usage.uses:
        part = worked.part(use.name)
        if part is None or part.form != "bought" or len(part.extents) == len(AXES):
            continue
        for sides, place in use.joined.places if use.joined else ():
            if place.how == "in hole":
                yield from _judged(worked, assembly, bulks, (use, sides.value[0], place))


def _judged(
    worked: Worked, assembly: Assembly, bulks: Bulks, said: tuple[Use, str, Place]
) -> Iterator[Problem]:
    use, side, place = said
    part = worked.part(place.target.thing)
    hole = hole_of(part, place.target.feature)
    line = line_of(worked, assembly, use.builds, place.target)
    if part is None or hole is None or line is None:
        return
    middle, along = line
    away = dot(along, DIRECTION[side]) < 0
    out = along if away else plus(ORIGIN, along, -1)
    axis = hole_axis(hole, part)
    # The hole's line looks toward the high side of its part.
    high = ("right", "back", "top")[axis]
    mouth = high if away else OPPOSITE[high]
    facts = {"piece": use.name, "step": str(use.step), "from": OPPOSITE[side], "side": side}
    facts |= {"other": place.target.thing, "hole": hole.name.value}
    at = plus(middle, out, extent(part, axis) / 2)
    if hole.deep is not None and mouth != hole_side(hole, part):
        facts["why"] = "it does not come out there"
        yield Problem(WrongWayIn, place.target.span, facts, _floats(at))
        return
    closing = _closing(worked, assembly, bulks, (use, plus(at, out, BEFORE)))
    if closing:
        facts["why"] = f"“{closing}” is in front of it there"
        yield Problem(WrongWayIn, place.target.span, facts, _floats(at))


def _closing(worked: Worked, assembly: Assembly, bulks: Bulks, said: tuple[Use, Vector]) -> str:
    """The piece whose wood lies at a place before a fitting comes; empty for none.

    What is bought, such as a plate, has the holes that its screws go through.
    """
    use, at = said
    for each in assembly.works.get(use.builds, ()):
        if each.brought in (use.name, *use.brings):
            break
        part, bulk = worked.part(each.part), bulks.of(each)
        bought = part is not None and part.form == "bought"
        if bulk is not None and not bought and _holds(bulk, _floats(at)):
            return each.key
    return ""


def _holds(bulk: Bulk, at: Vec) -> bool:
    """Whether a place lies inside a solid."""
    place: Array = np.array(at)
    for number, hull in enumerate(bulk.hulls):
        if ((bulk.low[number] < place) & (place < bulk.high[number])).all():
            on: Array = np.array([hull.points[loop[0]] for loop in hull.loops])
            if (((place - on) * hull.outward).sum(axis=1) < 0).all():
                return True
    return False


def _floats(point: Vector) -> Vec:
    x, y, z = (float(each) for each in point)
    return x, y, z


__all__ = ["check_ways_in"]
