"""Measure outlines.

In: an Outline.  Out: its area and its extents.  Exact for straight and cubic pieces, and for
extents of arcs with a rational radius; otherwise to 1e-12 mm.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from patternpress.assembly.roots import root, settle
from patternpress.assembly.shape import Arc, Curve, Line, Outline, Point, Segment


@dataclass(frozen=True, slots=True)
class Box:
    """Extents: from (left, bottom) to (right, top), mm."""

    left: Fraction
    bottom: Fraction
    right: Fraction
    top: Fraction


def polygon(*corners: Point) -> Outline:
    """Return the closed outline of straight lines through `corners`."""
    return Outline(corners[0], tuple(Line(corner) for corner in (*corners[1:], corners[0])))


def circle(centre: Point, radius: Fraction) -> Outline:
    """Return a circle as two half arcs, anticlockwise from its right-hand point."""
    right, left = Point(centre.x + radius, centre.y), Point(centre.x - radius, centre.y)
    return Outline(right, (Arc(left, centre, True), Arc(right, centre, True)))


def without_stops(outline: Outline) -> Outline:
    """Return the outline without segments of no length."""
    kept: list[Segment] = []
    here = outline.start
    for segment in outline.segments:
        if segment.to != here:
            kept.append(segment)
        here = segment.to
    return Outline(outline.start, tuple(kept))


def legs(outline: Outline) -> Iterator[tuple[Point, Segment]]:
    """Yield each segment with the point where it begins."""
    here = outline.start
    for segment in outline.segments:
        yield here, segment
        here = segment.to


# ------------------------------------------------------------------ measures


def radius_of(start: Point, arc: Arc) -> Fraction:
    """Return an arc's radius in mm."""
    return settle(root((start.x - arc.centre.x) ** 2 + (start.y - arc.centre.y) ** 2))


def turn_of(start: Point, arc: Arc) -> float:
    """Return an arc's signed angle in radians, anticlockwise positive and never zero."""
    one = complex(start.x - arc.centre.x, start.y - arc.centre.y)
    two = complex(arc.to.x - arc.centre.x, arc.to.y - arc.centre.y)
    between = one.conjugate() * two
    angle = math.atan2(between.imag, between.real)
    if arc.anticlockwise:
        return angle if angle > 0 else angle + 2 * math.pi
    return angle if angle < 0 else angle - 2 * math.pi


def area(outline: Outline) -> Fraction:
    """Return the signed area in mm², anticlockwise positive (Green's theorem).

    Exact for straight and cubic segments; each arc adds its circular segment,
    r²/2·(turn − sin turn), rounded to 1e-12.
    """
    total = Fraction(0)
    for start, segment in legs(outline):
        total += _cross(start, segment.to) / 2
        if isinstance(segment, Arc):
            turn = turn_of(start, segment)
            square = (start.x - segment.centre.x) ** 2 + (start.y - segment.centre.y) ** 2
            total += settle(float(square) / 2 * (turn - math.sin(turn)))
        elif isinstance(segment, Curve):
            total += _beside_chord(start, segment)
    return total


def _beside_chord(start: Point, curve: Curve) -> Fraction:
    """Return the area between a cubic and its chord, from its control polygon."""
    one, two, to = curve.control1, curve.control2, curve.to
    around = 6 * _cross(start, one) + 3 * _cross(start, two) - 9 * _cross(start, to)
    return (around + 3 * _cross(one, two) + 3 * _cross(one, to) + 6 * _cross(two, to)) / 20


def _cross(one: Point, two: Point) -> Fraction:
    return one.x * two.y - one.y * two.x


def bounding_box(outline: Outline) -> Box:
    """Return the extents of the true line, arcs and curves included."""
    points = [outline.start]
    for start, segment in legs(outline):
        points.append(segment.to)
        if isinstance(segment, Arc):
            points += _arc_extremes(start, segment)
        elif isinstance(segment, Curve):
            points += _curve_extremes(start, segment)
    across, up = [point.x for point in points], [point.y for point in points]
    return Box(min(across), min(up), max(across), max(up))


def _arc_extremes(start: Point, arc: Arc) -> list[Point]:
    radius, turn = radius_of(start, arc), turn_of(start, arc)
    spoke = complex(start.x - arc.centre.x, start.y - arc.centre.y)
    found = []
    for x, y in ((1, 0), (0, 1), (-1, 0), (0, -1)):
        between = spoke.conjugate() * complex(x, y)
        ahead = math.atan2(between.imag, between.real)
        if not arc.anticlockwise:
            ahead = -ahead
        if ahead % (2 * math.pi) < abs(turn):
            found.append(Point(arc.centre.x + x * radius, arc.centre.y + y * radius))
    return found


def _curve_extremes(start: Point, curve: Curve) -> list[Point]:
    across = (start.x, curve.control1.x, curve.control2.x, curve.to.x)
    up = (start.y, curve.control1.y, curve.control2.y, curve.to.y)
    times = (*_still_times(*map(float, across)), *_still_times(*map(float, up)))
    return [Point(settle(_cubic_at(*across, t)), settle(_cubic_at(*up, t))) for t in times]


def _still_times(p0: float, p1: float, p2: float, p3: float) -> tuple[Fraction, ...]:
    """Return the times in (0, 1) at which one coordinate of a cubic stands still."""
    a, b, c = p3 - 3 * p2 + 3 * p1 - p0, 2 * (p2 - 2 * p1 + p0), p1 - p0
    if abs(a) <= 1e-12 * (abs(b) + abs(c)):
        times = [-c / b] if b else []
    else:
        inside = b * b - 4 * a * c
        halves = (math.sqrt(inside), -math.sqrt(inside)) if inside >= 0 else ()
        times = [(half - b) / (2 * a) for half in halves]
    return tuple(Fraction(time) for time in times if 0 < time < 1)


def _cubic_at(p0: Fraction, p1: Fraction, p2: Fraction, p3: Fraction, t: Fraction) -> Fraction:
    rest = 1 - t
    return rest**3 * p0 + 3 * rest**2 * t * p1 + 3 * rest * t**2 * p2 + t**3 * p3
