"""Cut a corner.

In: a corner point, the straight edges that meet there and a treatment.  Out: a `Cut`: where
the edge before it now ends, the segments across the corner, and where the next edge begins.
"""

from dataclasses import dataclass
from fractions import Fraction

from patternpress.assembly.blank import Corner, CutOff, Hollow, Round
from patternpress.assembly.roots import root
from patternpress.assembly.shape import Arc, Line, Point, Segment, ShapeError


@dataclass(frozen=True, slots=True)
class Cut:
    """A treated corner; `before` and `after` say how much of each edge it used up, mm."""

    end: Point
    across: tuple[Segment, ...]
    begin: Point
    before: Fraction = Fraction(0)
    after: Fraction = Fraction(0)


@dataclass(frozen=True, slots=True)
class Meeting:
    """A corner and the far ends of its two straight edges, walking anticlockwise."""

    came_from: Point
    corner: Point
    goes_to: Point


def cut_corner(meeting: Meeting, how: Corner) -> Cut:
    """Return the cut for a corner between straight edges.

    Raises ShapeError "notch-not-square" for a notch at an angled corner.
    """
    if isinstance(how, Round):
        return _rounded(meeting, how.radius)
    if isinstance(how, Hollow):
        corner = meeting.corner
        end, begin = _pulled_back(meeting, how.radius, how.radius)
        return Cut(end, (Arc(begin, corner, False),), begin, how.radius, how.radius)
    before, after = (how.x, how.y) if _lies_across(meeting) else (how.y, how.x)
    end, begin = _pulled_back(meeting, before, after)
    if isinstance(how, CutOff):
        return Cut(end, (Line(begin),), begin, before, after)
    if _unit_dot(meeting) != 0:
        raise ShapeError("notch-not-square")
    corner = meeting.corner
    inner = Point(end.x + begin.x - corner.x, end.y + begin.y - corner.y)
    return Cut(end, (Line(inner), Line(begin)), begin, before, after)


def _rounded(meeting: Meeting, radius: Fraction) -> Cut:
    """Return the fillet: it touches r / tan(half the angle) from the corner.

    With unit vectors a and b from the corner, tan(half) = |a×b| / (1 + a·b).
    """
    dot = _unit_dot(meeting)
    back = radius * (1 + dot) / root(1 - dot * dot)
    end, begin = _pulled_back(meeting, back, back)
    ahead = _unit(meeting.came_from, meeting.corner)
    centre = Point(end.x - ahead.y * radius, end.y + ahead.x * radius)
    return Cut(end, (Arc(begin, centre, True),), begin, back, back)


def _pulled_back(meeting: Meeting, before: Fraction, after: Fraction) -> tuple[Point, Point]:
    corner = meeting.corner
    one, two = _unit(corner, meeting.came_from), _unit(corner, meeting.goes_to)
    return (
        Point(corner.x + one.x * before, corner.y + one.y * before),
        Point(corner.x + two.x * after, corner.y + two.y * after),
    )


def _unit_dot(meeting: Meeting) -> Fraction:
    one = _unit(meeting.corner, meeting.came_from)
    two = _unit(meeting.corner, meeting.goes_to)
    return one.x * two.x + one.y * two.y


def _lies_across(meeting: Meeting) -> bool:
    """Say whether the edge before the corner runs across the page rather than up it."""
    came = meeting.came_from
    return abs(came.x - meeting.corner.x) > abs(came.y - meeting.corner.y)


def _unit(start: Point, to: Point) -> Point:
    across, up = to.x - start.x, to.y - start.y
    length = root(across * across + up * up)
    return Point(across / length, up / length)


def distance(one: Point, two: Point) -> Fraction:
    """Return the distance between two points, mm."""
    return root((one.x - two.x) ** 2 + (one.y - two.y) ** 2)
