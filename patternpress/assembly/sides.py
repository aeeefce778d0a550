"""The four sides of a blank before its corners are cut.

In: a ShapeSpec.  Out: four `Side`s, anticlockwise from the bottom one, each a start and the
segments to the start of the next: straight, or with an arch or a hollow in it.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from patternpress.assembly.blank import Angled, Arched, Hollowed, ShapeSpec
from patternpress.assembly.roots import tangent
from patternpress.assembly.shape import EDGES, Arc, Face, Line, Point, Segment, ShapeError

ZERO = Fraction(0)


@dataclass(frozen=True, slots=True)
class Side:
    """One side of a blank, walked anticlockwise.

    `across` for a side that runs across the page; `bow` is the radius of an arch that
    reaches both ends, which is then the only segment.
    """

    face: Face
    across: bool
    start: Point
    segments: tuple[Segment, ...]
    bow: Fraction | None = None


@dataclass(frozen=True, slots=True)
class _Base:
    """The straight line of a side: through `point`, leaning `lean` per mm along its axis."""

    point: Point
    lean: Fraction


def around(spec: ShapeSpec) -> tuple[Face, Face, Face, Face]:
    """Return the faces of a template's sides, anticlockwise from the bottom one."""
    left, right, bottom, top = EDGES[spec.view]
    return bottom, right, top, left


def sides(spec: ShapeSpec) -> tuple[Side, ...]:
    """Return the four sides.

    Raises ShapeError: "face-not-here", "angled-and-curved", "angle-too-steep",
    "longest-not-beside", "angles-meet", "curve-too-deep", "curve-outside-edge".
    """
    faces = around(spec)
    _refuse_strangers(spec, faces)
    corners = _corners(spec, faces)
    return tuple(_side(spec, index, corners[index], corners[(index + 1) % 4]) for index in range(4))


def _refuse_strangers(spec: ShapeSpec, faces: tuple[Face, ...]) -> None:
    named: set[Face] = {*spec.edges, *spec.angled, *(f for pair in spec.corners for f in pair)}
    for face in sorted(named - set(faces)):
        raise ShapeError("face-not-here", face=face, faces=", ".join(faces))
    for face in sorted(spec.edges.keys() & spec.angled.keys()):
        raise ShapeError("angled-and-curved", face=face)


def _lowered(edges: Mapping[Face, Arched | Hollowed], face: Face) -> Fraction:
    """Return how far the straight line of a side lies inside the blank's extent."""
    curve = edges.get(face)
    return curve.rise if isinstance(curve, Arched) else ZERO


def _corners(spec: ShapeSpec, faces: tuple[Face, ...]) -> tuple[Point, ...]:
    """Return the corners where the sides' straight lines meet, anticlockwise."""
    bases = [_base(spec, faces, index) for index in range(4)]
    bottom, right, top, left = bases
    corners = (
        _meeting(bottom, left),
        _meeting(bottom, right),
        _meeting(top, right),
        _meeting(top, left),
    )
    one, two, three, four = corners
    if one.x >= two.x or four.x >= three.x or one.y >= four.y or two.y >= three.y:
        raise ShapeError("angles-meet")
    return corners


def _base(spec: ShapeSpec, faces: tuple[Face, ...], index: int) -> _Base:
    low_x, low_y = _lowered(spec.edges, faces[3]), _lowered(spec.edges, faces[0])
    high_x = spec.width - _lowered(spec.edges, faces[1])
    high_y = spec.height - _lowered(spec.edges, faces[2])
    cut = spec.angled.get(faces[index])
    start = (Point(low_x, low_y), Point(high_x, low_y), Point(high_x, high_y), Point(low_x, high_y))
    if cut is None:
        return _Base(start[index], ZERO)
    return _leaning(cut, faces, index, start)


def _leaning(cut: Angled, faces: tuple[Face, ...], index: int, at: tuple[Point, ...]) -> _Base:
    """Return the line of an angled end, through the blank's corner at its longest face, or through
    the middle of the end.
    """
    before, after = faces[index - 1], faces[(index + 1) % 4]
    face = faces[index]
    if not 0 < cut.degrees < 90:
        raise ShapeError("angle-too-steep", face=face, degrees=cut.degrees)
    if cut.longest not in (before, after):
        raise ShapeError("longest-not-beside", face=face, longest=cut.longest)
    slope = tangent(cut.degrees)
    from_start = cut.longest == before
    point, other = at[index], at[(index + 1) % 4]
    if cut.middle:
        point = Point((point.x + other.x) / 2, (point.y + other.y) / 2)
    elif not from_start:
        point = other
    # Walking anticlockwise the part lies to the left; turning left cuts into it.
    inwards = slope if from_start else -slope
    return _Base(point, -inwards if index in (1, 3) else inwards)


def _meeting(flat: _Base, upright: _Base) -> Point:
    """Return where y = y0 + m(x - x0) meets x = x1 + k(y - y1)."""
    m, k = flat.lean, upright.lean
    rise = flat.point.y - m * flat.point.x - upright.point.y
    if m * k == 1:
        raise ShapeError("angles-meet")
    x = (upright.point.x + k * rise) / (1 - m * k)
    return Point(x, flat.point.y + m * (x - flat.point.x))


def _side(spec: ShapeSpec, index: int, start: Point, to: Point) -> Side:
    face = around(spec)[index]
    curve = spec.edges.get(face)
    if curve is None:
        return Side(face, index in (0, 2), start, (Line(to),))
    return _bowed(face, curve, index, (start, to))


def _bowed(face: Face, curve: Arched | Hollowed, index: int, ends: tuple[Point, Point]) -> Side:
    """Return a side with a circular arc in it: r = (chord²/4 + rise²) / (2·rise)."""
    across = index in (0, 2)
    one, two = ((end.x, end.y) if across else (end.y, end.x) for end in ends)
    low = min(one[0], two[0]) if curve.start is None else curve.start
    high = max(one[0], two[0]) if curve.stop is None else curve.stop
    _refuse_bow(face, curve, (low, high), (min(one[0], two[0]), max(one[0], two[0])))
    radius = ((high - low) ** 2 / 4 + curve.rise**2) / (2 * curve.rise)
    # The arc's centre lies radius - rise behind its chord, on the side away from its crown.
    behind = radius - curve.rise
    inward = 1 if index in (0, 3) else -1
    arched = isinstance(curve, Arched)
    level = one[1] + inward * (behind if arched else -behind)
    first, last = (low, high) if one[0] < two[0] else (high, low)
    middle = (low + high) / 2

    def at(along: Fraction, level: Fraction) -> Point:
        return Point(along, level) if across else Point(level, along)

    arc = Arc(at(last, one[1]), at(middle, level), anticlockwise=arched)
    segments: list[Segment] = [Line(at(first, one[1]))] if first != one[0] else []
    segments += [arc, Line(ends[1])] if last != two[0] else [arc]
    whole = arched and len(segments) == 1
    return Side(face, across, ends[0], tuple(segments), radius if whole else None)


def _refuse_bow(
    face: Face,
    curve: Arched | Hollowed,
    span: tuple[Fraction, Fraction],
    edge: tuple[Fraction, Fraction],
) -> None:
    low, high = span
    if low < edge[0] or high > edge[1] or low >= high:
        raise ShapeError("curve-outside-edge", face=face, start=low, stop=high, edge=edge[1])
    if not 0 < curve.rise <= (high - low) / 2:
        raise ShapeError("curve-too-deep", face=face, rise=curve.rise, most=(high - low) / 2)
