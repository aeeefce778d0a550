"""Where a mark lies in space.

In: a `Mark`, a placed piece that bears it.  Out: the two ends of the line in the work's own axes,
or the same point twice for a point; None where it leans or cannot be told.  Floats.
"""

from __future__ import annotations

from patternpress.assembly.body import AXIS_INDEX
from patternpress.assembly.marked import in_world, mark_coordinates
from patternpress.assembly.placing import Assembly, Placed
from patternpress.assembly.pose import DIRECTION, ONE, ZERO, Pose
from patternpress.assembly.solid import Vec
from patternpress.assembly.thing import Thing
from patternpress.assembly.worked import Worked
from patternpress.design.records.parts import Mark

LOW, HIGH = ("left", "front", "bottom"), ("right", "back", "top")


def line_on(
    mark: Mark, bearer: Placed, worked: Worked, assembly: Assembly
) -> tuple[Vec, Vec] | None:
    """The ends of a mark on a piece; along its face's normal they lie anywhere."""
    part = worked.part(bearer.part)
    body = assembly.bodies.get(bearer.part)
    if part is None or body is None or not square(bearer):
        return None
    thing = Thing(bearer.piece, ((body, Pose()),), bearer.part, bearer.pose)
    known = {axis: float(at) for axis, at in mark_coordinates(mark, part, thing, worked)}
    if not known:
        return None
    ends = {
        axis: [-float(thing.reach(DIRECTION[LOW[axis]])), float(thing.reach(DIRECTION[HIGH[axis]]))]
        for axis in AXIS_INDEX.values()
    }
    for offset in mark.keep_off:
        far = worked.solver.value(offset.distance)
        if far is None:
            continue
        axis, at = in_world(thing, part, offset.side, far.value)
        _, edge = in_world(thing, part, offset.side, ZERO)
        ends[axis][1 if edge > at else 0] = float(at)
    first, second = ([known.get(i, ends[i][end]) for i in range(3)] for end in (0, 1))
    return (first[0], first[1], first[2]), (second[0], second[1], second[2])


def square(placed: Placed) -> bool:
    """Whether a piece lies along the axes of its work."""
    return all(abs(each) in (0, ONE) for row in placed.pose.matrix for each in row)
