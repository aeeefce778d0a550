"""What a placing needs to know of a thing: its corners and its faces, exactly.

In: a `CutPart` with its shape, or bodies already placed.  Out: a `Body`: corner points and face
planes in its own frame (x to the right, y to the back, z up, origin at the blank's left front
bottom corner).
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from fractions import Fraction

from patternpress.assembly.broadface import PAGE_AXES
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.pose import (
    DIRECTION,
    ONE,
    SAME,
    ZERO,
    Matrix,
    Pose,
    Vector,
    about,
    cross,
    dot,
    plus,
    root,
    tangent,
    upright_to,
)  # fmt: skip
from patternpress.assembly.shape import Line, Shape
from patternpress.assembly.sizes import AXES, Solver
from patternpress.design.phrases import OPPOSITE, EndCut, Lean
from patternpress.measure.quantity import Kind

AXIS_INDEX = {axis: index for index, axis in enumerate(AXES)}
SQUARE = 1e-9
SIDE_AXIS = {"left": 0, "right": 0, "front": 1, "back": 1, "bottom": 2, "top": 2}


@dataclass(frozen=True, slots=True)
class Plane:
    """A face: its outward unit normal and a point on it."""

    normal: Vector
    point: Vector

    def at(self, pose: Pose) -> Plane:
        """The face of a placed thing."""
        return Plane(pose.turn(self.normal), pose.point(self.point))


@dataclass(frozen=True)
class Body:
    """Corners and faces of a thing; `features` are edges told by what is special about them."""

    corners: tuple[Vector, ...]
    faces: dict[str, Plane]
    features: dict[str, tuple[Plane, ...]]
    _far: dict[Vector, Fraction] = field(default_factory=dict, compare=False, repr=False)

    def reach(self, pose: Pose, direction: Vector) -> Fraction:
        """How far the placed thing reaches along a direction."""
        # The same for every copy that is turned alike, so each turn is worked out once.
        local = direction
        if pose.matrix is not SAME:
            x, y, z = (dot(column, direction) for column in zip(*pose.matrix, strict=True))
            local = (x, y, z)
        far = self._far.get(local)
        if far is None:
            far = self._far[local] = max(dot(corner, local) for corner in self.corners)
        return far + dot(pose.offset, direction)


def lean_matrix(lean: Lean | None, solver: Solver) -> Matrix:
    """The turn of a thing that leans.  An upright one: the foot (or top) goes out to each side
    by its angle, as seen in the front and side views.  A flat one: a side is raised or lowered.
    """
    if lean is None:
        return SAME
    x = y = ZERO
    for said, toward in lean.angles:
        found = solver.value(said, Kind.ANGLE)
        degrees = found.value if found else ZERO
        if toward in ("raised", "lowered"):
            return _tilt(lean.end, degrees if toward == "raised" else -degrees)
        out = tangent(degrees) * (1 if lean.end == "top" else -1)
        x += out * DIRECTION[toward][0]
        y += out * DIRECTION[toward][1]
    return upright_to(x, y)


def _tilt(side: str, degrees: Fraction) -> Matrix:
    """Raise one side of a flat thing: about x for front and back, about y for left and right."""
    turn = {"back": (0, 1), "front": (0, -1), "right": (1, -1), "left": (1, 1)}[side]
    return about(turn[0], turn[1] * degrees)


def body_of(part: CutPart, shape: Shape | None, solver: Solver) -> Body:
    """The body of one piece of a part."""
    sizes = tuple(part.extents[axis].value if axis in part.extents else ZERO for axis in AXES)
    turn = lean_matrix(part.part.leans, solver)
    faces = {side: Plane(DIRECTION[side], _on_side(side, sizes)) for side in DIRECTION}
    cuts = {sides.value[0]: cut for sides, cut in part.part.ends}
    for side, cut in cuts.items():
        faces[side] = _cut_face(side, cut, sizes, turn, solver)
    corners = _corners(sizes, faces, cuts)
    if shape is not None and part.thin:
        corners = _outline_corners(part, shape, sizes) or corners
    return Body(corners, faces, _features(part, shape, faces, cuts))


def _on_side(side: str, sizes: tuple[Fraction, ...]) -> Vector:
    half = [size / 2 for size in sizes]
    axis = SIDE_AXIS[side]
    half[axis] = sizes[axis] if side in ("right", "back", "top") else ZERO
    return (half[0], half[1], half[2])


def _cut_face(
    side: str, cut: EndCut, sizes: tuple[Fraction, ...], turn: Matrix, solver: Solver
) -> Plane:
    """The plane of an end that is not cut square."""
    if cut.how in ("level", "upright"):
        looks = Pose(turn).turn(DIRECTION[side])
        wanted = DIRECTION[side]
        if cut.how == "upright":
            flat = (looks[0], looks[1], ZERO)
            long = root(dot(flat, flat)) or ONE
            wanted = (flat[0] / long, flat[1] / long, ZERO)
        back = tuple(zip(*turn, strict=True))
        normal = Pose(back).turn(wanted)  # type: ignore[arg-type]
        return Plane(normal, _on_side(side, sizes))
    normal, point = DIRECTION[side], _on_side(side, sizes)
    for said, longest in cut.angles:
        found = solver.value(said, Kind.ANGLE)
        normal = plus(normal, DIRECTION[OPPOSITE[longest]], tangent(found.value) if found else ZERO)
        axis = SIDE_AXIS[longest]
        at = _on_side(longest, sizes)[axis]
        point = tuple(at if i == axis else each for i, each in enumerate(point))  # type: ignore[assignment]
    long = root(dot(normal, normal))
    return Plane((normal[0] / long, normal[1] / long, normal[2] / long), point)


def _corners(
    sizes: tuple[Fraction, ...], faces: dict[str, Plane], cuts: dict[str, EndCut]
) -> tuple[Vector, ...]:
    """The corners of a block with cut ends: each where three faces meet."""
    if not cuts:
        ends = [(ZERO, size) for size in sizes]
        return tuple((x, y, z) for x, y, z in itertools.product(*ends))
    found = []
    for sides in itertools.product(("left", "right"), ("front", "back"), ("bottom", "top")):
        point = meet(tuple(faces[side] for side in sides))
        if point is not None:
            found.append(point)
    return tuple(found)


def meet(planes: Iterable[Plane]) -> Vector | None:
    """The point where three planes meet, by Cramer's rule; None where they do not."""
    rows = [(plane.normal, dot(plane.normal, plane.point)) for plane in planes]
    matrix = [row[0] for row in rows]
    whole = _determinant(matrix)
    if not whole:
        return None
    found = []
    for axis in range(3):
        swapped = [
            tuple(rows[i][1] if j == axis else matrix[i][j] for j in range(3)) for i in range(3)
        ]
        found.append(_determinant(swapped) / whole)  # type: ignore[arg-type]
    return (found[0], found[1], found[2])


def _determinant(m: list[Vector]) -> Fraction:
    return dot(m[0], cross(m[1], m[2]))


def _outline_corners(
    part: CutPart, shape: Shape, sizes: tuple[Fraction, ...]
) -> tuple[Vector, ...]:
    """The corners of a plain sawn outline; none where it has curves or bevelled ends."""
    if part.part.ends or any(not isinstance(s, Line) for s in shape.outline.segments):
        return ()
    thin = AXIS_INDEX[part.thin]
    return tuple(
        _in_space(part, shape, (segment.to.x, segment.to.y), at)
        for segment in shape.outline.segments
        for at in (ZERO, sizes[thin])
    )


def _in_space(
    part: CutPart, shape: Shape, at: tuple[Fraction, Fraction], thick: Fraction
) -> Vector:
    first, second = (AXIS_INDEX[axis] for axis in PAGE_AXES[shape.view])
    place = [thick, thick, thick]
    place[first], place[second] = at
    return (place[0], place[1], place[2])


def _features(
    part: CutPart, shape: Shape | None, faces: dict[str, Plane], cuts: dict[str, EndCut]
) -> dict[str, tuple[Plane, ...]]:
    """Edges told by what is special: cut at an angle, sawn on the slant."""
    angled = [faces[side] for side in cuts]
    sloping = []
    if shape is not None and part.thin:
        sloping = list(_slanting(part, shape))
        angled += sloping[::2]
    return {"angled": tuple(angled), "mitred": tuple(angled), "sloping": tuple(sloping)}


def _slanting(part: CutPart, shape: Shape) -> Iterator[Plane]:
    """The slopes of an outline, each told twice: at its start and at its end."""
    start = shape.outline.start
    first, second = (AXIS_INDEX[axis] for axis in PAGE_AXES[shape.view])
    for segment in shape.outline.segments:
        dx, dy = segment.to.x - start.x, segment.to.y - start.y
        if isinstance(segment, Line) and dx and dy:
            # The outline runs anticlockwise, so its outside lies to the right of its way.
            long = root(dx * dx + dy * dy)
            normal = [ZERO, ZERO, ZERO]
            normal[first], normal[second] = dy / long, -dx / long
            for end in (start, segment.to):
                point = _in_space(part, shape, (end.x, end.y), ZERO)
                yield Plane((normal[0], normal[1], normal[2]), point)
        start = segment.to


def end_angles(side: str, normal: Vector) -> tuple[tuple[Fraction, str], ...]:
    """How a cut face stands to a square one: angles in degrees, each with the side that stays
    longest.  The normal leans away from the longest side.
    """
    own = SIDE_AXIS[side]
    ahead = abs(float(normal[own]))
    found = []
    for axis, (low, high) in enumerate((("left", "right"), ("front", "back"), ("bottom", "top"))):
        aside = float(normal[axis])
        if axis != own and abs(aside) > SQUARE:
            degrees = math.degrees(math.atan2(abs(aside), ahead))
            found.append(
                (Fraction(round(degrees, 6)).limit_denominator(10**6), low if aside > 0 else high)
            )
    return tuple(found)
