"""Does the finished piece stand?

In: a `Worked` design and its `Assembly`.  Out: a problem where its weight lies outside what it
stands on.  Judged on solids, in floats.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from fractions import Fraction

import numpy as np
import shapely

from patternpress.assembly.bulks import bulks_of
from patternpress.assembly.convex import Bulk
from patternpress.assembly.placing import Assembly, both_units
from patternpress.assembly.solid import Vec, centre, volume
from patternpress.assembly.woods import wood_of
from patternpress.assembly.worked import Worked
from patternpress.design.kinds.fit import FallsOver
from patternpress.design.problem import Problem

# What lies this near to the lowest point stands on the bench too: common practice, no source.
LEVEL = 0.05
# The weight of a wood that is not known, as a share of water's: that of most cabinet woods.
USUAL_WEIGHT = 0.5


def check_stands(worked: Worked, assembly: Assembly) -> Iterator[Problem]:
    """A finished piece that tips over; silent for what hangs on a wall."""
    hangs = worked.book.hangs
    if hangs is not None and hangs.value == "yes":
        return
    bulks = bulks_of(worked, assembly)
    solids = [(each.part, bulk) for each in assembly.placed if (bulk := bulks.of(each)) is not None]
    if not solids:
        return
    weights = {part.name: weight_of(worked, part.name) for part in worked.parts}
    _, (x, y, _) = mass([bulk for _, bulk in solids], [weights[part] for part, _ in solids])
    foot = _foot([bulk for _, bulk in solids])
    point = shapely.Point(x, y)
    out = float(foot.distance(point))
    if out > LEVEL:
        nearest = shapely.shortest_line(foot, point).coords[0]
        facts = {"way": _way(x - nearest[0], y - nearest[1]), "by": both_units(Fraction(out))}
        low = min(float(bulk.low[:, 2].min()) for _, bulk in solids)
        yield Problem(FallsOver, worked.book.design.main.span, facts, (x, y, low))


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


def _foot(bulks: Sequence[Bulk]) -> shapely.Geometry:
    """What a piece stands on: the outline around its lowest points, seen from above."""
    points = np.concatenate([hull.points for bulk in bulks for hull in bulk.hulls])
    low = points[points[:, 2] <= points[:, 2].min() + LEVEL]
    return shapely.MultiPoint(low[:, :2]).convex_hull


def _way(x: float, y: float) -> str:
    if abs(x) > abs(y):
        return "to the right" if x > 0 else "to the left"
    return "to the back" if y > 0 else "to the front"
