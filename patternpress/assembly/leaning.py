"""Holes that are drilled at an angle, because what goes into them leans.

In: a `Worked` design and its `Assembly`.  Out: for each such hole how far the drill leans from
square, and toward which sides of the part that bears it.  The hole's own record says where it is
and how deep; that it leans follows from the join.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import NamedTuple

from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.marked import hole_axis, hole_centre, hole_of
from patternpress.assembly.placing import Assembly, Placed
from patternpress.assembly.pose import UNIT, Vector, dot, plus
from patternpress.assembly.sizes import AXES
from patternpress.assembly.thing import Thing, end_of
from patternpress.assembly.usage import Use
from patternpress.assembly.worked import Worked
from patternpress.design.phrases import OPPOSITE, Lean, Place
from patternpress.design.records.parts import Hole
from patternpress.design.records.work import Joined

# Degrees.  Nobody holds a drill to a twentieth of a degree: common practice, no source.
SQUARE = 0.05
Ways = tuple[tuple[Fraction, str], ...]  # degrees, and the side of the part it leans toward
MIRRORED: Mapping[str, tuple[str, ...]] = {
    "as drawn": (),
    "mirrored left to right": ("left", "right"),
    "mirrored front to back": ("front", "back"),
    "mirrored both ways": ("left", "right", "front", "back"),
}
SIDES = (("left", "right"), ("front", "back"), ("bottom", "top"))


class Round(NamedTuple):
    """A round hole: its middle in its part's frame, and its diameter, mm."""

    centre: Vector
    wide: Fraction


@dataclass(frozen=True)
class Leaning:
    """One hole that a leaning piece goes into.

    `out` points out of the hole along the piece, of length 1, in the frame of the part that bears
    the hole; `ways` are the angles from square, in degrees to a tenth, as seen square to each of
    two edges, and the sides of the part that the drill leans toward.  None: the piece is square.
    """

    part: str
    hole: Hole
    axis: int
    out: Vector
    use: Use
    place: Place
    degrees: float  # the whole angle between the hole and the piece, of a rod its length
    rod: bool

    @property
    def ways(self) -> Ways:
        """How far it leans, and toward which sides."""
        ahead = abs(float(self.out[self.axis]))
        found = []
        for axis in (each for each in range(len(AXES)) if each != self.axis):
            degrees = math.degrees(math.atan2(abs(float(self.out[axis])), ahead))
            if degrees > SQUARE:
                found.append((Fraction(round(degrees * 10), 10), SIDES[axis][self.out[axis] > 0]))
        return tuple(found)


def leaning_holes(worked: Worked, assembly: Assembly) -> Iterator[Leaning]:
    """Every piece that goes into a hole of a part, square ones too, in the order of the joins."""
    for use in worked.usage.uses:
        part = worked.part(use.name)
        if use.joined is None or part is None or len(part.extents) < len(AXES):
            continue  # fittings come with holes of their own kind
        for sides, place in use.joined.places:
            if place.how in ("in hole", "through hole"):
                yield from _hole(worked, assembly, use, place, sides.value[0])


def _hole(
    worked: Worked, assembly: Assembly, use: Use, place: Place, side: str
) -> Iterator[Leaning]:
    part, bearer = worked.part(use.name), bearer_of(assembly, use, place)
    held = worked.part(bearer.part) if bearer else None
    hole = hole_of(held, place.target.feature)
    peg = next(assembly.coming(use), None)
    if part is None or bearer is None or held is None or hole is None or peg is None:
        return
    body = assembly.bodies[peg.part]
    _, into = end_of(Thing(peg.piece, ((body, peg.pose),), peg.part), side)
    local = [-dot(bearer.pose.turn(way), into) for way in UNIT]
    out = (local[0], local[1], local[2])
    axis = hole_axis(hole, held)
    along = peg.pose.turn(UNIT[AXES.index(part.along)]) if part.form == "rod" else into
    lean = min(1.0, abs(float(dot(along, bearer.pose.turn(UNIT[axis])))))
    degrees = math.degrees(math.acos(lean))
    first = Leaning(held.name, hole, axis, out, use, place, degrees, part.form == "rod")
    yield first
    if use.joined and use.joined.row:
        yield from _others(worked, assembly, bearer, first)


def _others(
    worked: Worked, assembly: Assembly, bearer: Placed, first: Leaning
) -> Iterator[Leaning]:
    """The other holes that the rest of a row goes into: those as far on as its pegs are."""
    held, (peg, *more) = worked.part(bearer.part), assembly.coming(first.use)
    if held is None:
        return
    start = hole_centre(first.hole, held, first.axis, worked, first.place.target.feature)
    for each in more:
        far = plus(each.pose.offset, peg.pose.offset, -1)
        x, y, z = (dot(bearer.pose.turn(way), far) for way in UNIT)
        at = plus(start, (x, y, z))
        for hole, one in round_holes(worked, held, first.axis):
            off = plus(at, one.centre, -1)
            if hole is not first.hole and dot(off, off) <= (one.wide / 2) ** 2:
                yield replace(first, hole=hole)


def round_holes(worked: Worked, held: CutPart, axis: int) -> Iterator[tuple[Hole, Round]]:
    """The round holes of a part that run along an axis, those of rows one by one."""
    for hole in held.part.holes:
        if hole_axis(hole, held) == axis:
            yield from ((hole, each) for each in rounds_of(worked, held, hole, axis))


def rounds_of(worked: Worked, held: CutPart, hole: Hole, axis: int) -> Iterator[Round]:
    """A round hole and those in a row with it."""
    wide = worked.solver.value(hole.round) if hole.round else None
    if wide is None:
        return
    for name in hole.names:
        yield Round(hole_centre(hole, held, axis, worked, name), wide.value)


def bearer_of(assembly: Assembly, use: Use, place: Place) -> Placed | None:
    """The piece with the hole that a join speaks of, in the work that it is joined in."""
    thing, there = place.target.thing, assembly.works.get(use.builds, ())
    return next((each for each in there if thing in each.called), None)


def lean_of(worked: Worked, joined: Joined) -> Lean | None:
    """How a piece leans where it comes: by its join, or by its part as this copy stands.

    None where it stands straight, and where it is turned as well: its sides are others then.
    """
    if joined.leans is not None:
        return joined.leans
    return None if joined.turned else own_lean(worked, joined.piece.value)


def own_lean(worked: Worked, name: str) -> Lean | None:
    """How a piece leans by its part as this copy stands; None as for `lean_of`."""
    part = worked.part(name)
    own = part.part.leans if part is not None else None
    if own is None or part is None:
        return None
    pieces = (each for each in part.part.pieces if each.name.value == name)
    piece = next(pieces, None)
    stands = piece.stands.value if piece is not None and piece.stands else "as drawn"
    if (piece is not None and piece.turned) or stands not in MIRRORED:
        return None
    mirror = {side: OPPOSITE[side] for side in MIRRORED[stands]}
    angles = tuple((angle, mirror.get(side, side)) for angle, side in own.angles)
    return Lean(mirror.get(own.end, own.end), angles)


def ways_of(worked: Worked, assembly: Assembly) -> dict[tuple[str, str], Ways]:
    """How the drill leans, by part and hole; those that are drilled square are left out."""
    found = ((each, each.ways) for each in leaning_holes(worked, assembly))
    return {(each.part, each.hole.name.value): ways for each, ways in found if ways}
