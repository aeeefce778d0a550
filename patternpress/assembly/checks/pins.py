"""Do pins and pegs find room in their holes, and holes in their parts?

In: a `Worked` design.  Out: problems of pieces that are said to go deeper into a hole than it or
its board is, and of holes in edges that come out through a face, with the place in the part's own
frame: no piece has been placed yet.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from patternpress.assembly.body import SIDE_AXIS
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.marked import extent, hole_axis, hole_centre, hole_of, hole_side
from patternpress.assembly.placing import both_units
from patternpress.assembly.pose import Vector
from patternpress.assembly.realedge import mouth_behind
from patternpress.assembly.sizes import AXES
from patternpress.assembly.solid import Vec
from patternpress.assembly.thing import sign_of
from patternpress.assembly.worked import Worked
from patternpress.design.kinds.fit import HoleBreaksOut, StemTooLong
from patternpress.design.phrases import OPPOSITE
from patternpress.design.problem import Problem
from patternpress.design.records.parts import Hole
from patternpress.measure.quantity import Quantity


def check_stems(worked: Worked) -> Iterator[Problem]:
    """Pieces that go deeper into a hole than it is drilled, or than its board is thick."""
    for use in worked.usage.uses:
        for _, place in use.joined.places if use.joined else ():
            part = worked.part(place.target.thing)
            hole = hole_of(part, place.target.feature)
            if place.how != "in hole" or place.distance is None or part is None or hole is None:
                continue
            far, deep = worked.solver.value(place.distance), _deep(worked, part, hole)
            if far is not None and deep is not None and far.value > deep.value:
                facts = {"piece": use.name, "other": place.target.thing, "step": str(use.step)}
                facts |= {"far": both_units(far.value), "deep": both_units(deep.value)}
                facts |= {"hole": hole.name.value, "side": hole_side(hole, part)}
                at = hole_centre(hole, part, hole_axis(hole, part), worked, place.target.feature)
                where = _upon(at, facts["side"], part)
                yield Problem(StemTooLong, place.distance.span, facts, where)


def _deep(worked: Worked, part: CutPart, hole: Hole) -> Quantity | None:
    """How deep a hole is; one that goes through is as deep as its part."""
    if hole.deep is not None:
        return worked.solver.value(hole.deep)
    return part.extents.get(AXES[hole_axis(hole, part)])


def _upon(at: Vector, side: str, part: CutPart) -> Vec:
    """A point of a part, in its own frame, brought out to one of its sides, mm."""
    moved = [float(each) for each in at]
    axis = SIDE_AXIS[side]
    moved[axis] = float(extent(part, axis)) if sign_of(side) > 0 else 0.0
    return moved[0], moved[1], moved[2]


def check_edge_holes(worked: Worked) -> Iterator[Problem]:
    """Round holes in edges that are wider than the wood, too near to a face, or too deep."""
    for part in worked.parts:
        for hole in part.part.holes:
            size = worked.solver.value(hole.round) if hole.round else None
            if size is None or hole.on is None or len(part.extents) < len(AXES):
                continue
            axis = hole_axis(hole, part)
            if AXES[axis] == part.thin:
                continue  # the template's own check
            least, nearest = _least_wood(hole, part, axis, worked)
            out = least - size.value / 2
            deep = worked.solver.value(hole.deep) if hole.deep else None
            wood = part.extents[AXES[axis]].value - _behind(hole, part, axis, worked)
            side = hole_side(hole, part)
            if deep is not None and deep.value >= wood:
                where, over, side = "far end", deep.value - wood, OPPOSITE[side]
            elif out <= 0:
                where, over = "side", -out
            else:
                continue
            facts = {"hole": hole.name.value, "part": f"“{part.name}”", "where": where}
            facts |= {"by": _by(over), "side": side}
            yield Problem(HoleBreaksOut, hole.span, facts, _upon(nearest, side, part))


def _by(over: Fraction) -> str:
    """How far a hole comes out, as the end of a sentence; it may just leave no wood."""
    return f", by {both_units(over)}" if over else ": no wood is left there"


def _behind(hole: Hole, part: CutPart, axis: int, worked: Worked) -> Fraction:
    """How far a hole in an edge begins behind the outermost edge, in a notch or a hollow."""
    at = hole_centre(hole, part, axis, worked)
    shape, side = worked.shapes.get(part.name), hole_side(hole, part)
    return mouth_behind(part, shape, worked.solver, side, at)


def _least_wood(hole: Hole, part: CutPart, axis: int, worked: Worked) -> tuple[Fraction, Vector]:
    """The least distance from the centre of a hole to a face, and that centre; of a row the one of
    its two end holes that is nearer.
    """
    ends = [hole_centre(hole, part, axis, worked, each) for each in ("", *hole.names[-1:])]
    sizes = [part.extents[each].value for each in AXES]

    def least(end: Vector) -> Fraction:
        return min(min(end[i], sizes[i] - end[i]) for i in range(len(AXES)) if i != axis)

    nearest = min(ends, key=least)
    return least(nearest), nearest
