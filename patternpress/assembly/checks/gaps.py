"""Do narrow gaps show that nobody meant?

In: a `Worked` design and its `Assembly`.  Out: warnings of fixed pieces whose faces look at each
other with a sliver of air between.  Judged on solids, in floats.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import product

import numpy as np
import shapely

from patternpress.assembly.blocks import across, dot
from patternpress.assembly.bulks import bulks_of
from patternpress.assembly.checks.fitmoves import CLOSE, Solids, span_of
from patternpress.assembly.contacts import opposite, shadow_of
from patternpress.assembly.convex import Bulk, near_pairs
from patternpress.assembly.moving import moving_things
from patternpress.assembly.placing import Assembly, Placed, both_units
from patternpress.assembly.sizes import MINIATURE
from patternpress.assembly.solid import Facet, Vec
from patternpress.assembly.worked import Worked
from patternpress.design.kinds.fit import GapShows
from patternpress.design.problem import Problem

# The widest gap, mm, that the eye takes for a mistake; a wider one is a slot.  Common practice,
# no source.
MOST_MINIATURE, MOST = 1.0, 2.0
# The least area, mm², that looks across it.
LEAST_AREA = 1.0
# Places whose distance says how wide a gap is meant to be.
SAYING = ("inside", "beyond", "from")


def check_gaps(worked: Worked, assembly: Assembly) -> Iterator[Problem]:
    """Gaps between pieces that are glued; what is laid on or moves has play, and so have pieces
    in holes and grooves.
    """
    scale = worked.book.scale.value if worked.book.scale else Fraction(1)
    most = MOST_MINIATURE if scale <= MINIATURE else MOST
    bulks, loose, meant = bulks_of(worked, assembly), _loose(worked, assembly), _meant(worked)
    for pieces in assembly.works.values():
        solids = [
            (each, bulk)
            for each in pieces
            if not {each.piece, each.brought, *each.path} & loose
            and (bulk := bulks.of(each)) is not None
        ]
        yield from told_once(_in_work(worked, solids, most, meant))


def told_once(found: Iterable[Problem]) -> Iterator[Problem]:
    """What one join brings about the same thing in the same way, once and how many times."""
    alike: dict[Hashable, list[Problem]] = {}
    for each in found:
        facts = tuple((name, said) for name, said in each.facts.items() if name != "piece")
        alike.setdefault((each.kind, each.span, facts), []).append(each)
    for first, *more in alike.values():
        count = f"; so it does with {len(more)} more of its row" if more else ""
        yield replace(first, facts={**first.facts, "more": count})


def _in_work(
    worked: Worked, solids: Solids, most: float, meant: set[frozenset[str]]
) -> Iterator[Problem]:
    if len(solids) < 2:
        return
    low = np.array([bulk.least for _, bulk in solids])
    high = np.array([bulk.most for _, bulk in solids])
    for i, j in near_pairs(low, high, most):
        (one, mine), (two, theirs) = solids[i], solids[j]
        together = one.brought == two.brought and one.brought not in (one.piece, two.piece)
        if together or one.part == two.part or _said(one, two, meant):
            continue
        found = _gap(
            mine, theirs, most, [bulk for k, (_, bulk) in enumerate(solids) if k not in (i, j)]
        )
        if found is not None:
            late, early = (two, one) if two.step >= one.step else (one, two)
            facts = {"piece": late.key, "other": early.key, "by": both_units(Fraction(found[0]))}
            yield Problem(GapShows, span_of(worked, late.piece), facts, found[1])


def _loose(worked: Worked, assembly: Assembly) -> set[str]:
    """What is only laid on, moves, or sits in a hole or groove."""
    found = {contact.thing for contact in assembly.contacts if not contact.glued}
    found |= moving_things(worked)
    for use in worked.usage.uses:
        places = [place for _, place in use.joined.places] if use.joined else []
        held = any(place.target.kind in ("hole", "groove") for place in places)
        # A row is laid on as its first piece is.
        if held or (len(use.brings) > 1 and use.brings[0] in found):
            found |= {use.name, *use.brings}
    return found


def _meant(worked: Worked) -> set[frozenset[str]]:
    """Pairs of names between which a join states a distance."""
    return {
        frozenset((name, place.target.thing))
        for use in worked.usage.uses
        for name in (use.name, *use.brings)
        for _, place in (use.joined.places if use.joined else ())
        if place.how in SAYING
    }


def _said(one: Placed, two: Placed, meant: set[frozenset[str]]) -> bool:
    names = (each.called for each in (one, two))
    return any(frozenset(pair) in meant for pair in product(*names))


def _gap(one: Bulk, two: Bulk, most: float, others: Sequence[Bulk]) -> tuple[float, Vec] | None:
    """The narrowest gap between two things that nothing fills, and a place in its middle."""
    found: tuple[float, Vec] | None = None
    theirs = [
        (f, dot(f.normal, two.solid.points[f.loops[0][0]])) for f in two.solid.facets if f.side
    ]
    for mine in one.solid.facets:
        at = dot(mine.normal, one.solid.points[mine.loops[0][0]])
        for facing, far in theirs if mine.side else ():
            gap = -far - at
            if not CLOSE < gap <= most or not opposite(mine.normal, facing.normal):
                continue
            if found is None or gap < found[0]:
                place = _open(one, mine, shadow_of(two.solid, facing, across(mine.normal)), others)
                found = (gap, _off(mine, at + gap / 2, place)) if place is not None else found
    return found


def _open(
    one: Bulk, mine: Facet, facing: shapely.Geometry, others: Sequence[Bulk]
) -> tuple[float, float] | None:
    """A place in what two faces share on the paper and no third piece covers; None for none."""
    axes = across(mine.normal)
    at = dot(mine.normal, one.solid.points[mine.loops[0][0]])
    shared = shadow_of(one.solid, mine, axes).intersection(facing)
    if shared.area < LEAST_AREA:
        return None
    for other in others:
        for each in other.solid.facets:
            level = dot(each.normal, other.solid.points[each.loops[0][0]])
            if opposite(mine.normal, each.normal) and abs(level + at) <= CLOSE:
                shared = shared.difference(shadow_of(other.solid, each, axes))
    if shared.area < LEAST_AREA:
        return None
    middle = shared.representative_point()
    return middle.x, middle.y


def _off(mine: Facet, far: float, place: tuple[float, float]) -> Vec:
    axes = across(mine.normal)
    x, y, z = (
        place[0] * axes[0][i] + place[1] * axes[1][i] + far * mine.normal[i] for i in range(3)
    )
    return x, y, z
