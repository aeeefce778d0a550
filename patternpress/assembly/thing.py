"""What a join moves: a piece or a sub-assembly with its faces.

In: bodies, each with its pose.  Out: a `Thing`: how far it reaches, and its faces and edges where
it is.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cached_property

from patternpress.assembly.body import SIDE_AXIS, Body, Plane
from patternpress.assembly.pose import DIRECTION, ONE, ZERO, Pose, Vector, dot, plus

IN_PLACE = Pose()
# Turns are cut at 1e-18, so what lies in a plane may be off by far less than this.
FLAT = Fraction(1, 10**9)
# Of two sides square to each other, both look to a third where their cosines differ by less: from
# 35 to 55 degrees.
NEARLY = Fraction(1, 4)


def sign_of(side: str) -> int:
    """1 for the sides at the high ends of their axes, -1 for the others."""
    return 1 if side in ("right", "back", "top") else -1


def along_of(side: str) -> Vector:
    """The positive direction of a side's axis."""
    axis = SIDE_AXIS[side]
    return (ONE if axis == 0 else ZERO, ONE if axis == 1 else ZERO, ONE if axis == 2 else ZERO)


@dataclass(frozen=True)
class Thing:
    """A piece or a sub-assembly in a work: its bodies in its own frame, and its pose."""

    name: str
    bodies: tuple[tuple[Body, Pose], ...]
    part: str
    pose: Pose = IN_PLACE

    def at(self, pose: Pose) -> Thing:
        """The same thing elsewhere."""
        return replace(self, pose=pose.after(self.pose))

    def reach(self, direction: Vector) -> Fraction:
        """How far it reaches along a direction."""
        far = self._reaches.get(direction)
        if far is None:
            far = max(body.reach(pose, direction) for body, pose in self._set)
            self._reaches[direction] = far
        return far

    def outermost(self, side: str) -> Thing:
        """Those of its bodies alone that reach farthest to a side, where they are."""
        way = DIRECTION[side]
        far = self.reach(way) - FLAT
        bodies = zip(self.bodies, self._set, strict=True)
        return replace(
            self, bodies=tuple(b for b, (body, pose) in bodies if body.reach(pose, way) >= far)
        )

    @cached_property
    def _reaches(self) -> dict[Vector, Fraction]:
        return {}

    @cached_property
    def _set(self) -> tuple[tuple[Body, Pose], ...]:
        """Its bodies, each with its pose in the work."""
        return tuple((body, self.pose.after(inner)) for body, inner in self.bodies)

    @cached_property
    def faces(self) -> tuple[tuple[str, Plane], ...]:
        """Its faces where it is.  A sub-assembly has the six planes of its box."""
        return tuple(self._faces())

    def _faces(self) -> Iterator[tuple[str, Plane]]:
        if len(self.bodies) == 1:
            body, pose = self._set[0]
            for side, plane in body.faces.items():
                yield side, plane.at(pose)
            return
        for side, way in DIRECTION.items():
            far = self.reach(way)
            yield side, Plane(way, (way[0] * far, way[1] * far, way[2] * far))

    def face(self, side: str) -> Plane:
        """The face that looks most nearly to a side as the piece stands in the finished work."""
        way = DIRECTION[side]
        return max(self.faces, key=lambda each: (dot(each[1].normal, way), each[0] == side))[1]

    def featured(self, feature: str) -> tuple[Plane, ...]:
        """The edges that a feature tells, where they are."""
        return tuple(
            plane.at(pose) for body, pose in self._set for plane in body.features.get(feature, ())
        )

    def foot(self, normal: Vector) -> tuple[Vector, ...]:
        """The corners of a leaning piece on the end that lies flat on a face of this normal.

        Nothing for what does not lean, for a sub-assembly, and where no end lies flat.
        """
        if len(self.bodies) != 1:
            return ()
        _, pose = self._set[0]
        plane = min((plane for _, plane in self.faces), key=lambda p: dot(p.normal, normal))
        if abs(pose.matrix[2][2]) in (ZERO, ONE) or abs(dot(plane.normal, normal) + 1) > FLAT:
            return ()
        return self.corners_on(plane)

    def corners_on(self, plane: Plane) -> tuple[Vector, ...]:
        """The corners of its first piece that lie in a plane of the work."""
        body, pose = self._set[0]
        corners, level = map(pose.point, body.corners), dot(plane.point, plane.normal)
        return tuple(each for each in corners if abs(dot(each, plane.normal) - level) < FLAT)


def middle_of(thing: Thing) -> Vector:
    """The middle of the box around a thing."""
    low = [-thing.reach(DIRECTION[side]) for side in ("left", "front", "bottom")]
    high = [thing.reach(DIRECTION[side]) for side in ("right", "back", "top")]
    x, y, z = ((one + two) / 2 for one, two in zip(low, high, strict=True))
    return x, y, z


def _end_side(body: Body, pose: Pose, side: str) -> str:
    """The own side of a piece that looks most nearly to one as it stands.

    Of a piece that leans by about half a right angle two look there; its end is meant then.
    """
    way = DIRECTION[side]
    square = {own: dot(pose.turn(DIRECTION[own]), way) for own in body.faces}
    most = max(square.values())
    alike = [own for own, look in square.items() if most - look < NEARLY]
    if len(alike) == 1:  # an end that is cut level or upright may look elsewhere than it points
        return max(
            body.faces, key=lambda o: max(square[o], dot(body.faces[o].at(pose).normal, way))
        )

    def long(own: str) -> Fraction:
        along = [corner[SIDE_AXIS[own]] for corner in body.corners]
        return max(along) - min(along)

    return max(alike, key=long)


def end_of(thing: Thing, side: str) -> tuple[Vector, Vector]:
    """The middle of one end of a piece, and the way its middle line leaves there; both in the work.

    Of a piece whose end is not square, the middle of what its outermost point there reaches to.
    A sub-assembly counts as the first of its pieces.
    """
    body, inner = thing.bodies[0]
    pose = thing.pose.after(inner)
    into = pose.turn(DIRECTION[_end_side(body, pose, side)])
    x, y, z = (max(corner[axis] for corner in body.corners) / 2 for axis in range(3))
    middle = pose.point((x, y, z))
    return plus(middle, into, body.reach(pose, into) - dot(middle, into)), into
