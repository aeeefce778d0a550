"""The outline that a broad face really has, where ends are bevelled or cut level.

In: a part with its Shape, its solver, and one of its broad faces.  Out: an exact Outline, mm, on
the page of the Shape.  A Shape has one outline for the whole thickness: where an end slants through
it that of the longest side, or, where it is cut level or upright, that of the middle.  Whoever
traces a face or measures on it needs that face's own.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from patternpress.assembly.body import Plane, body_of
from patternpress.assembly.broadface import NEAR_FACE, PAGE_AXES
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.outlines import legs, without_stops
from patternpress.assembly.pose import ZERO
from patternpress.assembly.shape import EDGES, Line, Outline, Point, Segment, Shape
from patternpress.assembly.sizes import AXES, Solver
from patternpress.assembly.trimline import Straight, cut_at
from patternpress.design.phrases import OPPOSITE

SEEN = Fraction(2, 5)  # mm; edges of two faces that are nearer to each other are one line
_HIGH = ("right", "back", "top")


@dataclass(frozen=True, slots=True)
class SlantedEnd:
    """An end that slants through the thickness: its edge on the outline, on the near face and on
    the far one, each as a straight line with the wood on its low side.
    """

    side: str
    drawn: Straight
    near: Straight
    far: Straight

    @property
    def apart(self) -> Fraction:
        """About how far its edges on the two faces are apart, mm."""
        return abs(self.near.at - self.far.at)


def slanted_ends(part: CutPart, shape: Shape, solver: Solver) -> tuple[SlantedEnd, ...]:
    """The ends of a part that slant through its thickness."""
    if not part.part.ends or part.form == "rod":
        return ()
    faces = body_of(part, None, solver).faces
    return tuple(_slanted(part, shape, faces))


def _slanted(part: CutPart, shape: Shape, faces: dict[str, Plane]) -> Iterator[SlantedEnd]:
    edges = [each.value for each in EDGES[shape.view]]
    thin, thick = AXES.index(part.thin), part.extents[part.thin].value
    near = NEAR_FACE[shape.view]
    sides = {name: thick if name in _HIGH else ZERO for name in (near, OPPOSITE[near])}
    for said, cut in part.part.ends:
        side = said.value[0]
        if side not in edges or not faces[side].normal[thin]:
            continue
        lines = {name: _line(faces[side], shape, thin, deep) for name, deep in sides.items()}
        longest = [name for _, name in cut.angles if name in lines]
        drawn = lines[longest[0]] if longest else _blank_edge(shape, edges.index(side))
        yield SlantedEnd(side, drawn, lines[near], lines[OPPOSITE[near]])


def _line(plane: Plane, shape: Shape, thin: int, deep: Fraction) -> Straight:
    """Where a plane meets a broad face: so deep along the thin axis."""
    first, second = (AXES.index(axis) for axis in PAGE_AXES[shape.view])
    at = sum((a * b for a, b in zip(plane.normal, plane.point, strict=True)), ZERO)
    return Straight(plane.normal[first], plane.normal[second], at - plane.normal[thin] * deep)


def _blank_edge(shape: Shape, number: int) -> Straight:
    out = Fraction(1 if number % 2 else -1)
    at = (shape.width, shape.height)[number // 2] if number % 2 else ZERO
    return Straight(out, ZERO, at) if number < 2 else Straight(ZERO, out, at)


def face_outline(part: CutPart, shape: Shape, solver: Solver, *, near: bool = True) -> Outline:
    """The outline of the face that the Shape's view shows, or of the one behind it."""
    outline = shape.outline
    for end in slanted_ends(part, shape, solver):
        edge = end.near if near else end.far
        outline = cut_at(_reaching(outline, end.drawn, edge), edge)
    return outline


def with_face(part: CutPart, shape: Shape, solver: Solver, *, near: bool = True) -> Shape:
    """The Shape with the outline of one of its broad faces, and where the other one's edge lies."""
    ends = slanted_ends(part, shape, solver)
    if not ends:
        return shape
    behind = face_outline(part, shape, solver, near=not near)
    edges = [end.far if near else end.near for end in ends if end.apart > SEEN]
    found = (
        (start, leg.to)
        for start, leg in legs(behind)
        if any(edge.holds(start) and edge.holds(leg.to) for edge in edges)
    )
    outline = face_outline(part, shape, solver, near=near)
    return replace(shape, outline=outline, far_edges=tuple(found))


def _reaching(outline: Outline, drawn: Straight, edge: Straight) -> Outline:
    """The outline with its edge on the line `drawn` moved out to `edge`, where that lies farther.

    A straight neighbour goes on as it is; beside any other the edge moves out square.
    """
    segments: list[Segment] = []
    walked = list(legs(outline))
    for number, (start, segment) in enumerate(walked):
        if isinstance(segment, Line) and drawn.holds(start) and drawn.holds(segment.to):
            before, after = walked[number - 1], walked[(number + 1) % len(walked)]
            ways = (before, start), ((after[1].to, after[1]), segment.to)
            ends = [_beyond(point, other, drawn, edge) for other, point in ways]
            segments += [Line(each) for each in ends]
        segments.append(segment)
    return without_stops(Outline(outline.start, tuple(segments)))


def _beyond(point: Point, other: tuple[Point, Segment], drawn: Straight, edge: Straight) -> Point:
    """Where the corner at a point of the edge comes to: its neighbour's other end and form."""
    came, segment = other
    if edge.past(point) >= 0:
        return point
    square = Point(drawn.x, drawn.y)
    way = Point(point.x - came.x, point.y - came.y)
    straight = isinstance(segment, Line) and not drawn.holds(came)
    return (edge.meets(point, way) if straight else None) or edge.meets(point, square) or point


__all__ = ["SlantedEnd", "face_outline", "slanted_ends", "with_face"]
