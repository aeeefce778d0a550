"""Is a mirror image of a part the part itself, only turned round?

In: a part as it is cut.  Out: sets of facts about its wood, as seen in a mirror: where two
are equal, a turn makes one of the other.  Places are from the middle of the blank, to a
thousandth of a mm.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass

from patternpress.assembly.body import SIDE_AXIS
from patternpress.assembly.broadface import NEAR_FACE, PAGE_AXES, on_other_face
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.marked import hole_centre
from patternpress.assembly.outlines import bounding_box, legs
from patternpress.assembly.shape import Arc, Axis, Curve, Groove, Hole, Mark, MarkLine, Point, Shape
from patternpress.assembly.sizes import AXES
from patternpress.assembly.worked import Worked
from patternpress.design.phrases import OPPOSITE
from patternpress.measure.quantity import Kind

Facts = frozenset[Hashable]


@dataclass(frozen=True, slots=True)
class Flip:
    """A mirror of a part: the axes along which it is turned inside out, one or all three.

    Any two of them differ by a turn alone, so no others need be tried.
    """

    axes: tuple[str, ...]

    def side(self, side: str) -> str:
        """What a side becomes."""
        turned = side in SIDE_AXIS and AXES[SIDE_AXIS[side]] in self.axes
        return OPPOSITE[side] if turned else side

    def sides(self, sides: Sequence[str]) -> Hashable:
        """What sides become, in any order."""
        return frozenset(map(self.side, sides))

    def point(self, point: Point, shape: Shape) -> Hashable:
        """Where a point of a shape comes to."""
        found = []
        middle = (shape.width / 2, shape.height / 2)
        for axis, at, half in zip(PAGE_AXES[shape.view], (point.x, point.y), middle, strict=True):
            found.append(self._along(axis, float(at - half)))
        return tuple(found)

    def in_space(self, place: Sequence[float]) -> Hashable:
        """Where a place comes to, mm from the middle along wide, deep and high."""
        return tuple(self._along(axis, at) for axis, at in zip(AXES, place, strict=True))

    def _along(self, axis: str, at: float) -> float:
        return round(-at if axis in self.axes else at, 3) + 0.0


FLIPS = (*(Flip((axis,)) for axis in AXES), Flip(AXES))
NONE = Flip(())


def flips_of(part: CutPart, shape: Shape, worked: Worked) -> Iterator[Flip]:
    """The mirrors in which the wood of a part, without what is drawn on it, looks as it is.

    An end that leans is told by no figure of the part: it stays the same where the part is only
    turned over, and inside out, for both ends lean alike.
    """
    leans = any(cut.how != "angles" for _, cut in part.part.ends) or worked.bores.get(part.name)
    plain = wood(part, shape, worked, NONE)
    for flip in FLIPS:
        if leans and flip.axes not in ((part.thin,), AXES):
            continue
        if wood(part, shape, worked, flip) == plain:
            yield flip


def wood(part: CutPart, shape: Shape, worked: Worked, flip: Flip) -> Facts:
    """All that is cut of a part, in a mirror."""
    return frozenset(
        (
            *(("outline", each) for each in _outline(shape, flip)),
            *(_hole(each, shape, flip) for each in shape.holes),
            *(_groove(each, shape, flip) for each in shape.grooves),
            *_in_edges(part, worked, flip),
            *_ends(part, worked, flip),
            *_other_corners(part, worked, flip),
            ("best", flip.sides(part.part.best_face.value if part.part.best_face else ())),
        )
    )


def mark_fact(mark: Mark, shape: Shape, flip: Flip) -> Hashable:
    """A mark in a mirror."""
    ends = (mark.start, mark.to) if isinstance(mark, MarkLine) else (mark.at,)
    places = frozenset(flip.point(each, shape) for each in ends)
    return "mark", places, _face(shape, mark.far, flip)


def _outline(shape: Shape, flip: Flip) -> Iterator[Hashable]:
    for start, segment in legs(shape.outline):
        ends = (flip.point(start, shape), flip.point(segment.to, shape))
        if isinstance(segment, Curve):
            handles = (segment.control1, segment.control2)
            yield frozenset(zip(ends, (flip.point(h, shape) for h in handles), strict=True))
        elif isinstance(segment, Arc):
            # Told as it runs anticlockwise; a mirror of the page changes the way round.
            turned = sum(axis in flip.axes for axis in PAGE_AXES[shape.view]) % 2 == 1
            way = ends if segment.anticlockwise != turned else ends[::-1]
            yield way, flip.point(segment.centre, shape)
        else:
            yield frozenset(ends)


def _hole(hole: Hole, shape: Shape, flip: Flip) -> Hashable:
    box = bounding_box(hole.outline)
    size = (round(float(box.right - box.left), 3), round(float(box.top - box.bottom), 3))
    face = "" if hole.depth is None else _face(shape, hole.far, flip)
    return "hole", flip.point(hole.centre, shape), size, hole.depth, face


def _groove(groove: Groove, shape: Shape, flip: Flip) -> Hashable:
    corners = frozenset(flip.point(each, shape) for each in _corners(groove))
    opened = frozenset(
        (flip.point(_end(groove, at), shape), free)
        for at, free in ((groove.low, groove.open_low), (groove.high, groove.open_high))
    )
    return "groove", corners, opened, groove.depth, _face(shape, groove.far, flip)


def _corners(groove: Groove) -> tuple[Point, ...]:
    low, high = groove.low, groove.high
    return low, high, Point(low.x, high.y), Point(high.x, low.y)


def _end(groove: Groove, at: Point) -> Point:
    """The middle of a groove's end."""
    if groove.along is Axis.X:
        return Point(at.x, (groove.low.y + groove.high.y) / 2)
    return Point((groove.low.x + groove.high.x) / 2, at.y)


def _face(shape: Shape, far: bool, flip: Flip) -> str:
    near = NEAR_FACE[shape.view]
    return flip.side(OPPOSITE[near] if far else near)


def _in_edges(part: CutPart, worked: Worked, flip: Flip) -> Iterator[Hashable]:
    """Holes that are drilled into edges, which the shape does not have."""
    for hole in part.part.holes:
        side = hole.on.value[0] if hole.on else ""
        if not side or AXES[SIDE_AXIS[side]] == part.thin:
            continue
        centre = hole_centre(hole, part, SIDE_AXIS[side], worked)
        deep = worked.solver.value(hole.deep) if hole.deep else None
        sizes = [hole.round, *(hole.slot or ()), *(hole.window or ())]
        size = tuple(worked.solver.value(each) for each in sizes if each)
        every = worked.solver.value(hole.row.every) if hole.row else None
        for count in range(len(hole.names)):
            middle = [part.extents[axis].value / 2 for axis in AXES]
            place = [float(at - half) for at, half in zip(centre, middle, strict=True)]
            if hole.row and every:
                toward = hole.row.toward.value[0]
                step = float(every.value) * count
                low = toward in ("left", "front", "bottom")
                place[SIDE_AXIS[toward]] += -step if low else step
            place[SIDE_AXIS[side]] = 0.0
            face = AXES[SIDE_AXIS[side]] if deep is None else flip.side(side)
            yield "in an edge", flip.in_space(place), size, deep, face


def _ends(part: CutPart, worked: Worked, flip: Flip) -> Iterator[Hashable]:
    for side, cut in part.part.ends:
        for degrees, longest in cut.angles:
            angle = worked.solver.value(degrees, Kind.ANGLE)
            yield "end", flip.side(side.value[0]), angle, flip.side(longest)


def _other_corners(part: CutPart, worked: Worked, flip: Flip) -> Iterator[Hashable]:
    """What is cut off a strip on a face that the shape does not show: how far along each side."""
    for sides, trim in part.part.corners:
        if on_other_face(part, sides.value, trim.how):
            far = [worked.solver.value(trim.sizes[nth]) for nth in (0, -1)]
            yield trim.how, frozenset(zip(map(flip.side, sides.value), far, strict=True))
