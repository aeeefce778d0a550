"""Does what is only laid on something lie there, and stay?

In: a `Worked` design and its `Assembly`.  Out: problems of loose things that lie beside what they
are laid on, or whose weight lies outside all that they rest on.  Judged on solids, in floats.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from functools import partial
from typing import Any

import shapely

from patternpress.assembly.bulks import bulks_of
from patternpress.assembly.checks.fitmoves import CLOSE, Solids
from patternpress.assembly.checks.standing import LEVEL, mass, weight_of
from patternpress.assembly.contacts import Met, faces_met
from patternpress.assembly.convex import Bulk, boxes_touch
from patternpress.assembly.placing import Assembly, both_units
from patternpress.assembly.usage import Use
from patternpress.assembly.worked import Worked
from patternpress.design.kinds.fit import FallsOff, LaidBeside
from patternpress.design.phrases import Place, Turn
from patternpress.design.problem import Problem

# Faces that look down by less than this carry nothing: a share of their normal.
_DOWN = 0.1


def check_resting(worked: Worked, assembly: Assembly) -> Iterator[Problem]:
    """Loose things that lie beside what they are laid on, or fall off it."""
    bulks = bulks_of(worked, assembly)
    upright = _upright(worked)
    for use in worked.usage.uses:
        if use.step not in upright or not _only_laid(use):
            continue
        pieces = assembly.works.get(use.builds, ())
        solids = [
            (each, bulk)
            for each in pieces
            if each.step <= use.step and (bulk := bulks.of(each)) is not None
        ]
        mine = [each for each in solids if each[0].brought in (use.name, *use.brings)]
        rest = [each for each in solids if each not in mine]
        if mine and rest:
            beside = list(_beside(use, mine, rest))
            yield from beside or _falls(worked, use, mine, rest)


def _upright(worked: Worked) -> set[int]:
    """The steps at whose end the work stands upright."""
    steps = worked.usage.lying
    return {each.number for each in steps if each.lies == "upright" and not each.step.hold}


def _only_laid(use: Use) -> bool:
    """Whether a join lays a thing on something, and nothing else holds it."""
    joined = use.joined
    if joined is None or joined.row is not None or isinstance(joined.opens, Turn):
        return False
    held = any(
        (place.glued and place.how == "against") or place.target.kind in ("hole", "groove")
        for _, place in joined.places
    )
    return not held and any(_laid(sides.value, place) for sides, place in joined.places)


def _laid(sides: tuple[str, ...], place: Place) -> bool:
    return place.how == "loose against" and sides == ("bottom",)


def _beside(use: Use, mine: Solids, rest: Solids) -> Iterator[Problem]:
    """What it is said to lie on and does not come near."""
    for sides, place in use.joined.places if use.joined else ():
        name = place.target.thing
        if not _laid(sides.value, place):
            continue
        there = [bulk for p, bulk in rest if name in (*p.called, *p.path)]
        if there and not any(boxes_touch(own, each, CLOSE) for _, own in mine for each in there):
            facts = {"piece": use.name, "other": name, "step": str(use.step)}
            yield Problem(LaidBeside, place.target.span, facts)


def _falls(worked: Worked, use: Use, mine: Solids, rest: Solids) -> Iterator[Problem]:
    """A thing whose weight lies outside what it rests on."""
    spots = [(key, spot) for _, own in mine for key, spot in _carried(own, rest)]
    if not spots:
        return
    foot = shapely.union_all([spot for _, spot in spots]).convex_hull
    weights = [weight_of(worked, piece.part) for piece, _ in mine]
    _, (x, y, z) = mass([bulk for _, bulk in mine], weights)
    out = float(foot.distance(shapely.Point(x, y)))
    if out > LEVEL:
        names = list(dict.fromkeys(f"“{key}”" for key, _ in spots))
        facts = {"piece": use.name, "step": str(use.step), "others": " and ".join(names)}
        facts["by"] = both_units(Fraction(round(out, 6)))
        yield Problem(FallsOff, use.span, facts, (x, y, z))


def _carried(own: Bulk, rest: Solids) -> Iterator[tuple[str, Any]]:
    """Where a solid lies on others: whose, and the place as seen from above."""
    under = [facet for facet in own.solid.facets if facet.normal[2] < -_DOWN]
    for piece, other in rest:
        if boxes_touch(own, other, CLOSE):
            for met in faces_met(own, under, other, CLOSE):
                for shape in met.shared:
                    if shape.area > CLOSE:
                        yield piece.key, shapely.transform(shape, partial(_from_above, met))


def _from_above(met: Met, places: Any) -> Any:
    """Places in a face's own plane as x and y."""
    first, second = met.axes
    normal = met.facet.normal
    x = places[:, 0] * first[0] + places[:, 1] * second[0] + met.offset * normal[0]
    y = places[:, 0] * first[1] + places[:, 1] * second[1] + met.offset * normal[1]
    places = places.copy()
    places[:, 0], places[:, 1] = x, y
    return places
