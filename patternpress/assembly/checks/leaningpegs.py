"""Does what leans in a hole find its hole, and does the hole keep within the wood?

In: a `Worked` design and its `Assembly`.  Out: problems of pegs that meet the wood beside the
holes, lean otherwise than the hole's other pegs, or too far, and of holes that come out where they
lean to.  Straight pegs run into the wood and are told for that; a leaning peg runs into it by its
lean, since its hole is drilled at that angle and drawn straight.  So the others of a row are asked
to come out of the face as the first does, beside whose hole its join puts it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from fractions import Fraction

from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.leaning import (
    Leaning,
    Round,
    bearer_of,
    leaning_holes,
    round_holes,
    rounds_of,
)  # fmt: skip
from patternpress.assembly.marked import extent, hole_axis, hole_centre, hole_of
from patternpress.assembly.moving import middle_line
from patternpress.assembly.placing import Assembly, Placed, both_units
from patternpress.assembly.pose import ORIGIN, UNIT, Vector, dot, plus
from patternpress.assembly.sizes import AXES
from patternpress.assembly.solid import Vec
from patternpress.assembly.usage import Use
from patternpress.assembly.worked import Worked
from patternpress.design.kinds.fit import HoleBreaksOut
from patternpress.design.kinds.placing import BesideItsHole, LeansApart, LeansTooFar
from patternpress.design.phrases import Place
from patternpress.design.problem import Problem

# Degrees; beyond it a bit slides over the face.  Common practice, no source.
MOST = 45
_CUT = 1e-6  # turns are cut at 1e-18


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
    bearer = bearer_of(assembly, use, place)
    held = worked.part(bearer.part) if bearer else None
    said = hole_of(held, place.target.feature)
    if bearer is None or held is None or said is None:
        return
    axis = hole_axis(said, held)
    holes = [each for _, each in round_holes(worked, held, axis)]
    mine = [*assembly.coming(use)]
    mouths = [_mouth(assembly, each, bearer, UNIT[axis], part) for each in mine]
    if not mouths or mouths[0] is None:
        return
    at = hole_centre(said, held, axis, worked, place.target.feature)
    own = plus(mouths[0], bearer.pose.point(at), -1)
    for each, mouth in zip(mine[1:], mouths[1:], strict=True):
        if mouth is None:
            continue
        at = plus(mouth, own, -1)
        beside = [_beside(at, hole, bearer, UNIT[axis]) for hole in holes]
        if beside and all(far > hole.wide / 2 for far, hole in zip(beside, holes, strict=True)):
            facts = {"piece": use.name, "other": held.name, "step": str(use.step)}
            facts |= {"goes": "sit in", "hole": f"row of the {said.name.value}"}
            far = both_units(min(beside))
            facts["where"] = f"“{each.piece}” meets the wood {far} beside the nearest hole"
            yield Problem(BesideItsHole, place.target.span, facts)
            return


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


def _beside(mouth: Vector, hole: Round, bearer: Placed, along: Vector) -> Fraction:
    """How far a point is from the middle line of a hole, to a millionth of a millimetre."""
    out = bearer.pose.turn(along)
    off = plus(mouth, bearer.pose.point(hole.centre), -1)
    across = plus(off, out, -dot(off, out))
    return Fraction(round(math.sqrt(dot(across, across)), 6))


# ------------------------------------------------------------------ the angle of a hole


def check_leans_alike(worked: Worked, assembly: Assembly) -> Iterator[Problem]:
    """What sits in one hole, or one row of holes, leans alike, and not too far to be drilled."""
    first: dict[tuple[str, str], Leaning] = {}
    for each in leaning_holes(worked, assembly):
        facts = {"piece": each.use.name, "other": each.part, "hole": each.hole.name.value}
        before = first.setdefault((each.part, each.hole.name.value), each)
        if each.rod and each.degrees > MOST + _CUT:
            facts |= {"angle": f"{each.degrees:.0f} degrees", "most": str(MOST)}
            yield Problem(LeansTooFar, each.place.target.span, facts)
        elif before.ways != each.ways:
            facts |= {"first": before.use.name, "lean": _said(each), "before": _said(before)}
            yield Problem(LeansApart, each.place.target.span, facts)


def _said(leaning: Leaning) -> str:
    ways = [f"leans {float(angle):g} degrees to the {side}" for angle, side in leaning.ways]
    return " and ".join(ways) or "stands square"


def check_leaning_holes(worked: Worked, assembly: Assembly) -> Iterator[Problem]:
    """Round holes at an angle stay within the wood: blind ones at the end, all at the sides."""
    told = set()
    for each in leaning_holes(worked, assembly):
        key = (each.part, each.hole.name.value)
        part = worked.part(each.part)
        if part is None or not each.ways or key in told or each.degrees > MOST + _CUT:
            continue
        out = max(_out_of(worked, part, each), key=lambda found: found[1], default=("", 0.0))
        if out[1] >= 0 and out[0]:
            told.add(key)
            over = both_units(Fraction(round(out[1], 6)))
            facts = {"hole": each.hole.name.value, "part": f"“{part.name}”"}
            facts["where"] = f"{out[0]}, drilled {each.degrees:.3g} degrees from square"
            facts["by"] = f", by {over}"
            where = _middle(worked, assembly, part, each)
            yield Problem(HoleBreaksOut, each.hole.span, {**facts, **where[0]}, where[1])


def _middle(
    worked: Worked, assembly: Assembly, part: CutPart, leaning: Leaning
) -> tuple[dict[str, str], Vec | None]:
    """The piece that bears a hole, and the middle of the hole in it, for a picture."""
    bearer = bearer_of(assembly, leaning.use, leaning.place)
    if bearer is None:
        return {}, None
    x, y, z = bearer.pose.point(hole_centre(leaning.hole, part, leaning.axis, worked))
    return {"piece": bearer.key}, (float(x), float(y), float(z))


def _out_of(worked: Worked, part: CutPart, leaning: Leaning) -> Iterator[tuple[str, float]]:
    """How far a hole comes out of its part's box at its far end and its sides; negative within.

    A hole of radius r that is drilled d along a direction of unit length u ends in a circle across
    u: along an axis it reaches d u + r sqrt(1 - u²) from where it began.
    """
    axis, hole = leaning.axis, leaning.hole
    deep = worked.solver.value(hole.deep) if hole.deep else None
    ahead = abs(float(leaning.out[axis]))
    far = float(deep.value) if deep else float(extent(part, axis)) / ahead
    for each in rounds_of(worked, part, hole, axis):
        for index in range(len(AXES)):
            u, size = -float(leaning.out[index]), float(extent(part, index))
            start = float(each.centre[index]) if index != axis else (0.0 if u > 0 else size)
            wide = float(each.wide) / 2 * math.sqrt(max(0.0, 1 - u * u))
            end = start + far * u
            if index != axis:
                yield "side", max(end + wide - size, wide - end)
            elif deep is not None:
                yield "far end", end + wide - size if u > 0 else wide - end
