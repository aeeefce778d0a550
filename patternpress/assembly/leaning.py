"""Holes that are drilled at an angle, because what goes into them leans.

In: a `Worked` design and its `Assembly`.  Out: for each such hole how far the drill leans from
square, and toward which sides of the part that bears it.  The hole's own record says where it is
and how deep; that it leans follows from the join.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.marked import hole_axis
from patternpress.assembly.placing import Assembly, Placed
from patternpress.assembly.pose import UNIT, Vector, dot
from patternpress.assembly.sizes import AXES
from patternpress.assembly.thing import Thing, end_of
from patternpress.assembly.usage import Use
from patternpress.assembly.worked import Worked
from patternpress.design.phrases import Place
from patternpress.design.records.parts import Hole

# Degrees.  Nobody holds a drill to a twentieth of a degree: common practice, no source.
SQUARE = 0.05
SIDES = (("left", "right"), ("front", "back"), ("bottom", "top"))


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
    def ways(self) -> tuple[tuple[Fraction, str], ...]:
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
    hole = hole_of(held, place)
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
    yield Leaning(held.name, hole, axis, out, use, place, degrees, part.form == "rod")


def bearer_of(assembly: Assembly, use: Use, place: Place) -> Placed | None:
    """The piece with the hole that a join speaks of, in the work that it is joined in."""
    thing, there = place.target.thing, assembly.works.get(use.builds, ())
    return next((each for each in there if thing in (each.piece, each.part)), None)


def hole_of(held: CutPart | None, place: Place) -> Hole | None:
    """The hole of a part that a place speaks of."""
    holes = held.part.holes if held else ()
    return next((each for each in holes if each.name.value == place.target.feature), None)


def ways_of(
    worked: Worked, assembly: Assembly
) -> dict[tuple[str, str], tuple[tuple[Fraction, str], ...]]:
    """How the drill leans, by part and hole; those that are drilled square are left out."""
    found = ((each, each.ways) for each in leaning_holes(worked, assembly))
    return {(each.part, each.hole.name.value): ways for each, ways in found if ways}
