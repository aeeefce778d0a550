"""Do pins and pegs find room in their holes, and holes in their parts?

In: a `Worked` design.  Out: problems of pieces that are said to go deeper into a hole than it or
its board is, and of holes in edges that come out through a face.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from patternpress.assembly.body import SIDE_AXIS
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.marked import hole_axis, hole_centre, hole_of, hole_side
from patternpress.assembly.placing import both_units
from patternpress.assembly.realedge import mouth_behind
from patternpress.assembly.sizes import AXES
from patternpress.assembly.thing import sign_of
from patternpress.assembly.worked import Worked
from patternpress.design.kinds.fit import HoleBreaksOut, StemTooLong
from patternpress.design.problem import Problem
from patternpress.design.records.parts import Hole
from patternpress.measure.quantity import Quantity


def check_stems(worked: Worked) -> Iterator[Problem]:
    """Pieces that go deeper into a hole than it is drilled, or than its board is thick."""
    for use in worked.usage.uses:
        for _, place in use.joined.places if use.joined else ():
            hole = hole_of(worked.part(place.target.thing), place.target.feature)
            if place.how != "in hole" or place.distance is None or hole is None:
                continue
            far, deep = worked.solver.value(place.distance), _deep(worked, place.target.thing, hole)
            if far is not None and deep is not None and far.value > deep.value:
                facts = {"piece": use.name, "other": place.target.thing, "step": str(use.step)}
                facts |= {"far": both_units(far.value), "deep": both_units(deep.value)}
                facts["hole"] = hole.name.value
                yield Problem(StemTooLong, place.distance.span, facts)


def _deep(worked: Worked, thing: str, hole: Hole) -> Quantity | None:
    """How deep a hole is; one that goes through is as deep as its part."""
    if hole.deep is not None:
        return worked.solver.value(hole.deep)
    part = worked.part(thing)
    return part.extents.get(AXES[hole_axis(hole, part)]) if part is not None else None


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
            out = _least_wood(hole, part, axis, worked) - size.value / 2
            deep = worked.solver.value(hole.deep) if hole.deep else None
            wood = part.extents[AXES[axis]].value - _behind(hole, part, axis, worked)
            if deep is not None and deep.value >= wood:
                facts = {"hole": hole.name.value, "part": f"“{part.name}”", "where": "far end"}
                over = deep.value - wood
                yield Problem(HoleBreaksOut, hole.span, {**facts, "by": _by(over)})
            elif out <= 0:
                facts = {"hole": hole.name.value, "part": f"“{part.name}”", "where": "side"}
                yield Problem(HoleBreaksOut, hole.span, {**facts, "by": _by(-out)})


def _by(over: Fraction) -> str:
    """How far a hole comes out, as the end of a sentence; it may just leave no wood."""
    return f", by {both_units(over)}" if over else ": no wood is left there"


def _behind(hole: Hole, part: CutPart, axis: int, worked: Worked) -> Fraction:
    """How far a hole in an edge begins behind the outermost edge, in a notch or a hollow."""
    at = hole_centre(hole, part, axis, worked)
    shape, side = worked.shapes.get(part.name), hole_side(hole, part)
    return mouth_behind(part, shape, worked.solver, side, at)


def _least_wood(hole: Hole, part: CutPart, axis: int, worked: Worked) -> Fraction:
    """The least distance from the centre of a hole, or of one in its row, to a face."""
    centre = list(hole_centre(hole, part, axis, worked))
    ends = [centre]
    every = worked.solver.value(hole.row.every) if hole.row else None
    if hole.row is not None and every is not None:
        side = hole.row.toward.value[0]
        far = every.value * (hole.row.quantity.value - 1) * sign_of(side)
        ends.append([each + far * (i == SIDE_AXIS[side]) for i, each in enumerate(centre)])
    sizes = [part.extents[each].value for each in AXES]
    return min(
        min(end[i], sizes[i] - end[i]) for end in ends for i in range(len(AXES)) if i != axis
    )
