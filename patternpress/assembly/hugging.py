"""Flatten outlines so that the wood never grows.

In: an Outline and the error allowed.  Out: straight chords that stay on the wood's side of the
true line: a round that bulges out is cut inside its circle, a hollow or a hole outside of it.
So an exact fit still fits.  Arcs meet the true line at their left-, right-, low- and
high-most places, which keeps extents exact.  Floats: for solids, never for printed figures.
"""

import math
from dataclasses import dataclass
from itertools import pairwise

from patternpress.assembly.outlines import legs, radius_of, turn_of
from patternpress.assembly.polygons import Place
from patternpress.assembly.shape import Arc, Curve, Line, Outline, Point, Segment

QUARTER = math.pi / 2
# Two segments that meet at less than this (radians) run into each other without a crease.
_SMOOTH = 1e-3


@dataclass(frozen=True, slots=True)
class Chord:
    """A straight stretch of a flattened outline.

    `segment` is the number of the outline's segment that it stands for, `curved` whether that
    is no straight line; chords that run into each other without a crease share a number
    `smooth` over 0.
    """

    start: Place
    to: Place
    segment: int
    curved: bool
    smooth: int


def chords(outline: Outline, error: float, *, hole: bool = False, first: int = 1) -> list[Chord]:
    """Return the chords of an outline, walked as it is, within `error` mm of the true line.

    `hole` says that the wood lies outside.  Numbers of smooth stretches begin at `first`.
    """
    numbers = _smooth_numbers(outline, first)
    found = []
    for index, (start, segment) in enumerate(legs(outline)):
        places = [_place(start), *_between(start, segment, error, hole), _place(segment.to)]
        curved = not isinstance(segment, Line)
        found += [
            Chord(one, two, index, curved, numbers[index])
            for one, two in pairwise(places)
            if math.dist(one, two) > 1e-9
        ]
    return found


def _place(point: Point) -> Place:
    return float(point.x), float(point.y)


def _between(start: Point, segment: Segment, error: float, hole: bool) -> list[Place]:
    if isinstance(segment, Arc):
        return _arc(start, segment, error, inside=segment.anticlockwise != hole)
    if isinstance(segment, Curve):
        return _cubic(start, segment, error, hole)
    return []


# ------------------------------------------------------------------ arcs


def _arc(start: Point, arc: Arc, error: float, *, inside: bool) -> list[Place]:
    """Return the corners between an arc's ends, inside its circle or outside of it.

    A chord lies r·(1 − cos h) inside, h being half its angle; the corner between two
    tangents lies r·(1/cos h − 1) outside.
    """
    radius, turn = float(radius_of(start, arc)), turn_of(start, arc)
    cosine = 1 - error / radius if inside else radius / (radius + error)
    widest = 2 * math.acos(max(cosine, math.sqrt(0.5)))
    middle = _place(arc.centre)
    begin = math.atan2(float(start.y - arc.centre.y), float(start.x - arc.centre.x))
    stops = [begin, *_quarters(begin, turn), begin + turn]
    found: list[Place] = []
    for one, two in pairwise(stops):
        count = math.ceil(abs(two - one) / widest - 1e-9)
        step = (two - one) / count
        if inside:
            found += [_on_circle(middle, radius, one + step * i) for i in range(1, count + 1)]
        else:
            far = radius / math.cos(step / 2)
            found += [_on_circle(middle, far, one + step * (i + 0.5)) for i in range(count)]
            found.append(_on_circle(middle, radius, two))
    return found[:-1]


def _quarters(begin: float, turn: float) -> list[float]:
    """Return the angles inside a turn at which a circle is farthest along an axis."""
    low, high = sorted((begin, begin + turn))
    first = math.floor(low / QUARTER) + 1
    angles = [k * QUARTER for k in range(first, math.ceil(high / QUARTER))]
    kept = [each for each in angles if low + 1e-9 < each < high - 1e-9]
    return kept if turn > 0 else kept[::-1]


def _on_circle(middle: Place, radius: float, angle: float) -> Place:
    quarters = angle / QUARTER
    if abs(quarters - round(quarters)) < 1e-9:
        x, y = ((1, 0), (0, 1), (-1, 0), (0, -1))[round(quarters) % 4]
        return middle[0] + x * radius, middle[1] + y * radius
    return middle[0] + radius * math.cos(angle), middle[1] + radius * math.sin(angle)


# ------------------------------------------------------------------ free curves


def _cubic(start: Point, curve: Curve, error: float, hole: bool) -> list[Place]:
    """Return the corners between a cubic's ends.

    n equal times stray from it by at most M·6/(8·n²), M the longer second difference of the
    control points.  Where the curve turns into the wood, the corner between the two tangents
    of a chord takes it out of the wood again.
    """
    p0, p1, p2, p3 = (complex(p.x, p.y) for p in (start, curve.control1, curve.control2, curve.to))
    bend = max(abs(p0 - 2 * p1 + p2), abs(p1 - 2 * p2 + p3))
    count = max(1, math.ceil(math.sqrt(0.75 * bend / error)))
    spots = []
    for index in range(count + 1):
        t = index / count
        r = 1 - t
        at = r**3 * p0 + 3 * r * r * t * p1 + 3 * r * t * t * p2 + t**3 * p3
        way = r * r * (p1 - p0) + 2 * r * t * (p2 - p1) + t * t * (p3 - p2)
        spots.append((at, way))
    found = []
    for one, two in pairwise(spots):
        corner = _tangents_meet(one, two, hole)
        found += [corner, two[0]] if corner is not None else [two[0]]
    return [(each.real, each.imag) for each in found[:-1]]


def _tangents_meet(
    one: tuple[complex, complex], two: tuple[complex, complex], hole: bool
) -> complex | None:
    """Return where the tangents at both ends of a chord meet, if the curve turns into the wood."""
    chord = two[0] - one[0]
    turn = _cross(one[1], two[1])
    hollow = turn > 0 if hole else turn < 0
    if not hollow or abs(turn) < 1e-9 * abs(one[1]) * abs(two[1]):
        return None
    along = _cross(chord, two[1]) / turn
    corner = one[0] + along * one[1]
    back = _cross(chord, one[1]) / turn
    return corner if along > 0 > back and abs(corner - one[0]) < abs(chord) else None


def _cross(one: complex, two: complex) -> float:
    return (one.conjugate() * two).imag


# ------------------------------------------------------------------ smooth stretches


def _smooth_numbers(outline: Outline, first: int) -> list[int]:
    """Number the stretches with a curve in them that run on without a crease; others get 0."""
    segments = list(legs(outline))
    count = len(segments)
    ways = [_ways(start, segment) for start, segment in segments]
    joined = [_runs_on(ways[i][1], ways[(i + 1) % count][0]) for i in range(count)]
    begin = next((i for i in range(count) if not joined[i - 1]), 0)
    numbers = [0] * count
    stretch: list[int] = []
    number = first
    for index in (*range(begin, count), *range(begin)):
        stretch.append(index)
        last = (index + 1) % count == begin
        if joined[index] and not last:
            continue
        if any(not isinstance(segments[each][1], Line) for each in stretch):
            for each in stretch:
                numbers[each] = number
            number += 1
        stretch = []
    return numbers


def _runs_on(one: complex, two: complex) -> bool:
    return abs(one - two) < _SMOOTH


def _ways(start: Point, segment: Segment) -> tuple[complex, complex]:
    """Return the directions of travel, of length 1, at both ends of a segment."""
    here, to = complex(start.x, start.y), complex(segment.to.x, segment.to.y)
    if isinstance(segment, Arc):
        middle = complex(segment.centre.x, segment.centre.y)
        quarter = 1j if segment.anticlockwise else -1j
        one, two = (here - middle) * quarter, (to - middle) * quarter
    elif isinstance(segment, Curve):
        c1 = complex(segment.control1.x, segment.control1.y)
        c2 = complex(segment.control2.x, segment.control2.y)
        one = next(each for each in (c1 - here, c2 - here, to - here) if each)
        two = next(each for each in (to - c2, to - c1, to - here) if each)
    else:
        one = two = to - here
    return one / abs(one), two / abs(two)
