"""Does the finished piece stand, and the work in each step?

In: a `Worked` design and its `Assembly`.  Out: problems of weight that lies outside what it
stands on.  Judged on solids, in floats.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from fractions import Fraction

import numpy as np
import shapely

from patternpress.assembly.blocks import across
from patternpress.assembly.bulks import bulks_of
from patternpress.assembly.convex import Bulk
from patternpress.assembly.lying import bench_way
from patternpress.assembly.placing import Assembly, Placed, both_units
from patternpress.assembly.solid import Vec, centre, dot, volume
from patternpress.assembly.usage import MAIN
from patternpress.assembly.woods import wood_of
from patternpress.assembly.worked import Worked
from patternpress.design.kinds.fit import FallsOver, WorkTipsOver
from patternpress.design.problem import Problem

# What lies this near to the lowest point stands on the bench too: common practice, no source.
LEVEL = 0.05
# The weight of a wood that is not known, as a share of water's: that of most cabinet woods.
USUAL_WEIGHT = 0.5


def check_stands(worked: Worked, assembly: Assembly) -> Iterator[Problem]:
    """A finished piece that tips over; silent for what hangs on a wall."""
    if _hangs(worked):
        return
    solids = _sized(assembly.placed, worked, assembly)
    found = _tips(worked, solids, (0.0, 0.0, 1.0)) if solids else None
    if found is not None:
        out, point, nearest = found
        facts = {"way": _way(point[0] - nearest[0], point[1] - nearest[1])}
        facts["by"] = both_units(Fraction(out))
        yield Problem(FallsOver, worked.book.design.main.span, facts, nearest)


def check_steps_stand(worked: Worked, assembly: Assembly) -> Iterator[Problem]:
    """Work that tips over when a step is done, as it then lies.

    Silent where something holds it, and for the whole of what hangs on a wall.
    """
    last = len(worked.usage.steps)
    for number, step, work, lies in worked.usage.lying:
        # The finished piece has a check of its own.
        finished = lies == "upright" and _done(worked, number, last)
        spared = work == MAIN and (finished or _hangs(worked))
        if not step.join or step.hold or spared:
            continue
        there = [each for each in assembly.works.get(work, ()) if each.step <= number]
        solids = _sized(there, worked, assembly)
        found = _tips(worked, solids, bench_way(lies, (0.0, 0.0, 1.0))) if solids else None
        if found is not None:
            facts = {"step": str(number), "lies": lies, "by": both_units(Fraction(found[0]))}
            last_piece = max(there, key=lambda each: each.step)
            facts["piece"] = last_piece.key
            yield Problem(WorkTipsOver, step.step.main.span, facts, found[2])


def _hangs(worked: Worked) -> bool:
    return worked.book.hangs is not None and worked.book.hangs.value == "yes"


def _done(worked: Worked, number: int, last: int) -> bool:
    """Whether no later step joins anything to the finished piece."""
    later = worked.usage.steps[number:last]
    return not any(each.join and not each.builds for each in later)


def _sized(pieces: Sequence[Placed], worked: Worked, assembly: Assembly) -> list[tuple[str, Bulk]]:
    bulks = bulks_of(worked, assembly)
    return [(each.part, bulk) for each in pieces if (bulk := bulks.of(each)) is not None]


def _tips(
    worked: Worked, solids: Sequence[tuple[str, Bulk]], up: Vec
) -> tuple[float, Vec, Vec] | None:
    """How far the weight lies outside the foot, its centre, and the nearest place of the foot."""
    weights = [weight_of(worked, part) for part, _ in solids]
    _, point = mass([bulk for _, bulk in solids], weights)
    axes = across(up)
    points = np.concatenate([hull.points for _, bulk in solids for hull in bulk.hulls])
    heights = points @ np.array(up)
    low = points[heights <= heights.min() + LEVEL]
    foot = shapely.MultiPoint(low @ np.array(axes).T).convex_hull
    over = shapely.Point(dot(axes[0], point), dot(axes[1], point))
    out = float(foot.distance(over))
    if out <= LEVEL:
        return None
    flat = shapely.shortest_line(foot, over).coords[0]
    level = float(heights.min())
    x, y, z = (flat[0] * a + flat[1] * b + level * c for a, b, c in zip(*axes, up, strict=True))
    return out, point, (x, y, z)


def weight_of(worked: Worked, part: str) -> float:
    """What a part's wood weighs, as a share of water's."""
    found = worked.part(part)
    wood = wood_of(found.stock) if found is not None else None
    return wood.weight if wood is not None else USUAL_WEIGHT


def mass(bulks: Sequence[Bulk], weights: Sequence[float]) -> tuple[float, Vec]:
    """The weight of several solids together, as that of so many mm³ of water, and its centre."""
    shares = [volume(bulk.solid) * each for bulk, each in zip(bulks, weights, strict=True)]
    centres = [centre(bulk.solid) for bulk in bulks]
    total = math.fsum(shares)
    x, y, z = (
        math.fsum(share * at[axis] for share, at in zip(shares, centres, strict=True)) / total
        for axis in range(3)
    )
    return total, (x, y, z)


def _way(x: float, y: float) -> str:
    if abs(x) > abs(y):
        return "to the right" if x > 0 else "to the left"
    return "to the back" if y > 0 else "to the front"
