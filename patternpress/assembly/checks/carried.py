"""Is what lies flat carried along its whole length?

In: a `Worked` design and its `Assembly`.  Out: warnings of boards that stand out far past the
standing board that they are joined to, where no join says that they should.  A board on posts or
on a foot is not asked: there an overhang is what one sees at a table.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from patternpress.assembly.body import SIDE_AXIS
from patternpress.assembly.placing import Assembly, Placed, both_units
from patternpress.assembly.pose import DIRECTION
from patternpress.assembly.sizes import AXES
from patternpress.assembly.worked import Worked
from patternpress.design.kinds.placing import HangsFarOver
from patternpress.design.phrases import OPPOSITE
from patternpress.design.problem import Problem

# Of a board's own size, past all that carries it: common practice, no source.
FAR = Fraction(1, 4)
CLOSE = Fraction(1, 100)
# Places whose distance says how far a side is meant to stand out.
SAYING = ("inside", "beyond", "from")

Reach = dict[str, Fraction]  # how far a piece reaches toward each side


def check_carried(worked: Worked, assembly: Assembly) -> Iterator[Problem]:
    """Flat boards of the finished piece that hang over to one side or both: each told once."""
    placed = [each for each in assembly.placed if each.part in assembly.bodies]
    flat = [each for each in placed if _is_flat(worked, each)]
    reach = {each: _reach(assembly, each) for each in placed} if flat else {}
    for each in flat:
        mine = reach[each]
        under = {p: far for p, far in reach.items() if p is not each and _carries(mine, far)}
        # What stands on the ground itself is carried there.
        if not under or all(far["bottom"] <= mine["bottom"] + CLOSE for far in under.values()):
            continue
        found = [
            (mine[side] - max(far[side] for far in under.values()), side)
            for side in ("left", "right", "front", "back")
            if any(_stands_along(worked, p, SIDE_AXIS[side]) for p in under)
            and not _meant(worked, each, side)
        ]
        over, side = max(found, key=lambda one: one[0], default=(Fraction(0), ""))
        if side and over >= FAR * (mine[side] + mine[OPPOSITE[side]]):
            use = worked.usage.first_use(each.piece)
            if use is not None:
                facts = {"piece": each.key, "side": side, "by": both_units(over)}
                yield Problem(HangsFarOver, use.span, facts)


def _is_flat(worked: Worked, placed: Placed) -> bool:
    part = worked.part(placed.part)
    return part is not None and part.form == "sheet" and part.thin == "high"


def _reach(assembly: Assembly, placed: Placed) -> Reach:
    body = assembly.bodies[placed.part]
    return {side: body.reach(placed.pose, way) for side, way in DIRECTION.items()}


def _carries(mine: Reach, other: Reach) -> bool:
    """Whether another piece touches this one, by their boxes, and does not only lie on it."""
    touch = all(
        mine[high] + other[low] >= -CLOSE and other[high] + mine[low] >= -CLOSE
        for low, high in (("left", "right"), ("front", "back"), ("bottom", "top"))
    )
    return touch and -other["bottom"] < mine["top"] - CLOSE


def _stands_along(worked: Worked, placed: Placed, axis: int) -> bool:
    """Whether a piece is a board on edge that runs along an axis."""
    part = worked.part(placed.part)
    if part is None or part.form != "sheet" or part.thin in ("", "high"):
        return False
    return abs(placed.pose.matrix[axis][AXES.index(part.thin)]) < CLOSE


def _meant(worked: Worked, placed: Placed, side: str) -> bool:
    """Whether the join of a piece says where this side of it goes."""
    use = worked.usage.first_use(placed.piece)
    places = use.joined.places if use and use.joined else ()
    return any(side in sides.value and place.how in SAYING for sides, place in places)
