"""Do pins and pegs find room in their holes?

In: a `Worked` design.  Out: problems of pieces that are said to go deeper into a hole than it is.
"""

from __future__ import annotations

from collections.abc import Iterator

from patternpress.assembly.worked import Worked
from patternpress.design.kinds.fit import StemTooLong
from patternpress.design.problem import Problem
from patternpress.design.records.parts import Hole


def check_stems(worked: Worked) -> Iterator[Problem]:
    """Pieces that go deeper into a hole than it is drilled; one that goes through lets all in."""
    for use in worked.usage.uses:
        for _, place in use.joined.places if use.joined else ():
            hole = _hole(worked, place.target.thing, place.target.feature)
            if place.how != "in hole" or place.distance is None or hole is None:
                continue
            far, deep = worked.solver.value(place.distance), worked.solver.value(hole.deep)
            if far is not None and deep is not None and hole.deep and far.value > deep.value:
                facts = {"piece": use.name, "far": place.distance.text, "deep": hole.deep.text}
                yield Problem(StemTooLong, place.distance.span, facts)


def _hole(worked: Worked, thing: str, name: str) -> Hole | None:
    part = worked.part(thing)
    holes = part.part.holes if part else ()
    return next((each for each in holes if each.name.value == name), None)
