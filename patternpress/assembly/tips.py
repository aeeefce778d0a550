"""How far the tips of an end that is cut level or upright stand out past the part's size.

In: a `CutPart` and a solver.  Out: the same part with its `tips`.  Such an end is cut through the
middle of where its size ends, for the size is the height or reach that its author reckons with;
whoever cuts it needs the length over both tips.  Ends that are cut at a stated angle lie within
the size: its longest side is where the size ends.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from patternpress.assembly.body import SIDE_AXIS, Body, body_of
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.pose import ZERO, root
from patternpress.assembly.sizes import AXES, Solver


def with_tips(part: CutPart, solver: Solver) -> CutPart:
    """The part, knowing how much longer it is from tip to tip."""
    sides = [said.value[0] for said, cut in part.part.ends if cut.how in ("level", "upright")]
    if not sides or len(part.extents) < len(AXES):
        return part
    return replace(part, tips=dict(_tips(part, sides, body_of(part, None, solver))))


def _tips(part: CutPart, sides: list[str], body: Body) -> Iterator[tuple[str, Fraction]]:
    for index in sorted({SIDE_AXIS[side] for side in sides}):
        axis = AXES[index]
        if part.form == "rod":
            radius = part.extents[part.thin].value / 2
            ends = [body.faces[each].normal for each in sides if SIDE_AXIS[each] == index]
            more = [radius * root(1 - n[index] * n[index]) / abs(n[index]) for n in ends]
            over = sum(more, ZERO)
        else:
            places = [corner[index] for corner in body.corners]
            over = max(places) - min(places) - part.extents[axis].value
        if over > 0:
            yield axis, over
