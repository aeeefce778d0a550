"""Cut an outline along a straight line.

In: an Outline, and a `Straight` with the wood on its low side.  Out: what is left of the outline,
closed along the line.  Lines are cut exactly, arcs and curves to 1e-12 mm.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import pairwise

import numpy

from patternpress.assembly.outlines import legs, turn_of, without_stops
from patternpress.assembly.roots import settle
from patternpress.assembly.shape import Arc, Curve, Line, Outline, Point, Segment

SAME = Fraction(1, 10**9)  # mm; what is settled at 1e-12 is on a line


@dataclass(frozen=True, slots=True)
class Straight:
    """The line x·X + y·Y = at; wood lies where that is less."""

    x: Fraction
    y: Fraction
    at: Fraction

    def past(self, point: Point) -> Fraction:
        """Below nought where a point lies in the wood, above where it lies past the line."""
        return self.x * point.x + self.y * point.y - self.at

    def holds(self, point: Point) -> bool:
        """Whether a point lies on the line."""
        return abs(self.past(point)) < SAME

    def meets(self, start: Point, way: Point) -> Point | None:
        """Where a straight way from a point meets the line, ahead; None where it never does."""
        ahead = self.x * way.x + self.y * way.y
        far = -self.past(start) / ahead if ahead else -SAME
        if far < 0:
            return None
        return Point(settle(start.x + far * way.x), settle(start.y + far * way.y))


def cut_at(outline: Outline, line: Straight) -> Outline:
    """Return what lies on the line's low side; the same outline where all of it does."""
    if all(line.past(each) < SAME for start, leg in legs(outline) for each in _hull(start, leg)):
        return outline
    kept = [
        (start, piece)
        for first, segment in legs(outline)
        for start, piece in _divided(first, segment, line)
        if line.past(_middle(start, piece)) < SAME
    ]
    segments: list[Segment] = []
    for (_, piece), (start, _) in pairwise((*kept, *kept[:1])):
        segments += [piece, Line(start)]
    return without_stops(Outline(kept[0][0], tuple(segments)))


def _hull(start: Point, segment: Segment) -> tuple[Point, ...]:
    """Points with the segment between them."""
    if isinstance(segment, Curve):
        return start, segment.control1, segment.control2, segment.to
    if isinstance(segment, Line):
        return start, segment.to
    radius = Fraction(_radius(start, segment)) + SAME
    x, y = segment.centre.x, segment.centre.y
    ways = ((radius, radius), (radius, -radius), (-radius, radius), (-radius, -radius))
    return tuple(Point(x + one, y + two) for one, two in ways)


def _radius(start: Point, arc: Arc) -> float:
    return math.hypot(start.x - arc.centre.x, start.y - arc.centre.y)


def _divided(start: Point, segment: Segment, line: Straight) -> Iterator[tuple[Point, Segment]]:
    """Yield a segment in pieces, each on one side of the line."""
    if isinstance(segment, Curve):
        yield from _curve_divided(start, segment, line)
        return
    places = _on_line(start, segment, line) if isinstance(segment, Line) else ()
    if isinstance(segment, Arc):
        places = _on_arc(start, segment, line)
    for place in places:
        yield start, replace(segment, to=place)
        start = place
    yield start, segment


def _on_line(start: Point, segment: Line, line: Straight) -> tuple[Point, ...]:
    one, two = line.past(start), line.past(segment.to)
    if one * two >= 0:
        return ()
    share = one / (one - two)
    x, y = segment.to.x - start.x, segment.to.y - start.y
    return (Point(settle(start.x + share * x), settle(start.y + share * y)),)


def _on_arc(start: Point, arc: Arc, line: Straight) -> tuple[Point, ...]:
    """The places where an arc crosses the line, in the order of its way."""
    radius, turn = _radius(start, arc), turn_of(start, arc)
    long = math.hypot(line.x, line.y)
    off = -float(line.past(arc.centre)) / long / radius
    if abs(off) >= 1:
        return ()
    middle, half = math.atan2(line.y, line.x), math.acos(off)
    first = math.atan2(start.y - arc.centre.y, start.x - arc.centre.x)
    found = []
    for angle in (middle - half, middle + half):
        ahead = (angle - first) * math.copysign(1, turn) % (2 * math.pi)
        if SAME < ahead < abs(turn) - float(SAME):
            x = settle(arc.centre.x + Fraction(radius * math.cos(angle)))
            y = settle(arc.centre.y + Fraction(radius * math.sin(angle)))
            found.append((ahead, Point(x, y)))
    return tuple(place for _, place in sorted(found, key=lambda each: each[0]))


def _curve_divided(start: Point, curve: Curve, line: Straight) -> Iterator[tuple[Point, Segment]]:
    a, b, c, d = (float(line.past(each)) for each in _hull(start, curve))
    roots = numpy.roots([d - 3 * c + 3 * b - a, 3 * (c - 2 * b + a), 3 * (b - a), a])
    times = sorted(float(t.real) for t in roots if abs(t.imag) < 1e-9 and 1e-9 < t.real < 1 - 1e-9)
    done = 0.0
    for time in times:
        first, second = _split(start, curve, Fraction((time - done) / (1 - done)))
        yield start, first
        start, curve, done = first.to, second, time
    yield start, curve


def _split(start: Point, curve: Curve, time: Fraction) -> tuple[Curve, Curve]:
    """A cubic in two, by de Casteljau's steps."""

    def between(one: Point, two: Point) -> Point:
        return Point(settle(one.x + time * (two.x - one.x)), settle(one.y + time * (two.y - one.y)))

    rows = [list(_hull(start, curve))]
    while len(rows[-1]) > 1:
        rows.append([between(*each) for each in pairwise(rows[-1])])
    first, second = [row[0] for row in rows], [row[-1] for row in reversed(rows)]
    return Curve(first[3], first[1], first[2]), Curve(second[3], second[1], second[2])


def _middle(start: Point, segment: Segment) -> Point:
    """A point half way along a segment."""
    if isinstance(segment, Curve):
        return _split(start, segment, Fraction(1, 2))[0].to
    if isinstance(segment, Line):
        return Point((start.x + segment.to.x) / 2, (start.y + segment.to.y) / 2)
    spoke = complex(start.x - segment.centre.x, start.y - segment.centre.y)
    half = turn_of(start, segment) / 2
    spoke *= complex(math.cos(half), math.sin(half))
    return Point(segment.centre.x + Fraction(spoke.real), segment.centre.y + Fraction(spoke.imag))


__all__ = ["Straight", "cut_at"]
