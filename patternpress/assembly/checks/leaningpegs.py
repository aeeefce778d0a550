"""Does every peg of a row that leans come to a hole?

In: a `Worked` design and its `Assembly`.  Out: problems of pegs that meet the wood beside the
holes.  Straight ones run into the wood and are told for that; a leaning peg runs into it by its
lean, since its hole is drilled at that angle and drawn straight.  So the others of a row are asked
to come out of the face as the first does, beside whose hole its join puts it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from fractions import Fraction
from typing import NamedTuple

from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.marked import hole_axis, hole_centre
from patternpress.assembly.moving import middle_line
from patternpress.assembly.placing import Assembly, Placed, both_units
from patternpress.assembly.pose import DIRECTION, ORIGIN, UNIT, Vector, dot, plus
from patternpress.assembly.usage import Use
from patternpress.assembly.worked import Worked
from patternpress.design.kinds.placing import BesideItsHole
from patternpress.design.phrases import Place
from patternpress.design.problem import Problem


class _Round(NamedTuple):
    """A hole: its middle in its part's frame, and its diameter, mm."""

    centre: Vector
    wide: Fraction


def check_leaning(worked: Worked, assembly: Assembly) -> Iterator[Problem]:
    """Every peg of a leaning row, against the holes of what it goes into: told once for a row."""
    for use in worked.usage.uses:
        part = worked.part(use.name)
        leans = (use.joined and use.joined.leans) or (part and part.part.leans)
        for _, place in use.joined.places if use.joined and use.joined.row and leans else ():
            if place.how == "in hole" and part is not None:
                yield from _row(worked, assembly, use, place, part)


def _row(
    worked: Worked, assembly: Assembly, use: Use, place: Place, part: CutPart
) -> Iterator[Problem]:
    there = assembly.works.get(use.builds, ())
    thing, named = place.target.thing, place.target.feature
    bearer = next((each for each in there if thing in (each.piece, each.part)), None)
    held = worked.part(bearer.part) if bearer else None
    if bearer is None or held is None:
        return
    said = next((each for each in held.part.holes if each.name.value == named), None)
    if said is None:
        return
    axis = hole_axis(said, held)
    holes = [*_holes(worked, held, axis)]
    mine = [*assembly.coming(use)]
    mouths = [_mouth(assembly, each, bearer, UNIT[axis], part) for each in mine]
    if not mouths or mouths[0] is None:
        return
    own = plus(mouths[0], bearer.pose.point(hole_centre(said, held, axis, worked)), -1)
    for each, mouth in zip(mine[1:], mouths[1:], strict=True):
        if mouth is None:
            continue
        at = plus(mouth, own, -1)
        beside = [_beside(at, hole, bearer, UNIT[axis]) for hole in holes]
        if beside and all(far > hole.wide / 2 for far, hole in zip(beside, holes, strict=True)):
            facts = {"piece": use.name, "other": held.name, "step": str(use.step)}
            facts |= {"goes": "sit in", "hole": f"row of the {named}"}
            far = both_units(min(beside))
            facts["where"] = f"“{each.piece}” meets the wood {far} beside the nearest hole"
            yield Problem(BesideItsHole, place.target.span, facts)
            return


def _holes(worked: Worked, held: CutPart, axis: int) -> Iterator[_Round]:
    """The round holes of a part that run along an axis, those of rows one by one."""
    for hole in held.part.holes:
        wide = worked.solver.value(hole.round) if hole.round else None
        if hole_axis(hole, held) != axis or wide is None:
            continue
        centre = hole_centre(hole, held, axis, worked)
        yield _Round(centre, wide.value)
        every = worked.solver.value(hole.row.every) if hole.row else None
        if hole.row and every is not None:
            way = DIRECTION[hole.row.toward.value[0]]
            for count in range(1, hole.row.quantity.value):
                yield _Round(plus(centre, way, count * every.value), wide.value)


def _mouth(
    assembly: Assembly, peg: Placed, bearer: Placed, along: Vector, part: CutPart
) -> Vector | None:
    """Where the middle line of a peg comes out of the face that it goes into."""
    body, wood = assembly.bodies[peg.part], assembly.bodies[bearer.part]
    at, line = middle_line(body, peg.pose, part)
    out = bearer.pose.turn(along)
    back = plus(ORIGIN, out, -1)
    if 2 * dot(at, out) < wood.reach(bearer.pose, out) - wood.reach(bearer.pose, back):
        out = back
    steep = dot(line, out)
    if abs(steep) < Fraction(1, 1000):
        return None
    return plus(at, line, (wood.reach(bearer.pose, out) - dot(at, out)) / steep)


def _beside(mouth: Vector, hole: _Round, bearer: Placed, along: Vector) -> Fraction:
    """How far a point is from the middle line of a hole, to a millionth of a millimetre."""
    out = bearer.pose.turn(along)
    off = plus(mouth, bearer.pose.point(hole.centre), -1)
    across = plus(off, out, -dot(off, out))
    return Fraction(round(math.sqrt(dot(across, across)), 6))
