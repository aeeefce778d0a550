"""Lines and outlines as many short straight ones, and how far two of them are apart.

In: tracks as read off a page.  Out: arrays of places in mm, each within `FLAT` of the true curve,
and distances between them.  Floats throughout: nothing here is ever printed as a size.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import numpy
import shapely
from numpy.typing import NDArray

from patternpress.proof.marks import Place, Track

Points = NDArray[numpy.float64]
FLAT = 0.0005  # mm between a curve and the straight lines that stand for it
SPACING = 0.5  # mm between places at which two lines are compared


def flat(track: Track) -> Points:
    """Return the places along a track; a closed one ends where it starts."""
    points = [track.points[0]]
    place = 1
    for kind in track.kinds:
        if kind == "l":
            points.append(track.points[place])
            place += 1
        else:
            points += cubic(points[-1], *track.points[place : place + 3])
            place += 3
    if track.closed and math.dist(points[0], points[-1]) > 1e-9:
        points.append(points[0])
    return numpy.array(points)


def cubic(start: Place, one: Place, two: Place, end: Place) -> list[Place]:
    """Return places along a cubic after its start, as many as `FLAT` asks for.

    A chord strays from a curve by at most h²/8 of its greatest second derivative, and that of a
    cubic is six times the greater second difference of its points.
    """
    p = numpy.array([start, one, two, end])
    bend = float(numpy.abs(numpy.diff(p, 2, axis=0)).max()) * math.sqrt(2)
    count = max(1, math.ceil(math.sqrt(0.75 * bend / FLAT)))
    t = numpy.linspace(0, 1, count + 1)[1:, None]
    s = 1 - t
    found = s**3 * p[0] + 3 * s * s * t * p[1] + 3 * s * t * t * p[2] + t**3 * p[3]
    return [(float(x), float(y)) for x, y in found]


def dense(points: Points, spacing: float = SPACING) -> Points:
    """Return the places, and more between those that lie further apart than `spacing`."""
    if len(points) < 2:
        return points
    steps = numpy.diff(points, axis=0)
    counts = numpy.maximum(1, numpy.ceil(numpy.hypot(*steps.T) / spacing)).astype(int)
    index = numpy.repeat(numpy.arange(len(steps)), counts)
    firsts = numpy.repeat(numpy.cumsum(counts) - counts, counts)
    share = (numpy.arange(len(index)) - firsts) / counts[index]
    between = points[index] + steps[index] * share[:, None]
    return numpy.vstack([between, points[-1:]])


def farthest(places: Points, line: Points) -> tuple[float, Place]:
    """Return the greatest distance of places from a line, and where."""
    return farthest_from(places, shapely.LineString(line))


def farthest_from(places: Points, shape: Any) -> tuple[float, Place]:
    """Return the greatest distance of places from any shape, and where."""
    distances = shapely.distance(shapely.points(places), shape)
    worst = int(numpy.argmax(distances))
    x, y = places[worst]
    return float(distances[worst]), (float(x), float(y))


def apart(one: Points, two: Points) -> tuple[float, Place]:
    """Return the greatest distance between two lines, both ways (Hausdorff), and where."""
    return max(farthest(dense(one), two), farthest(dense(two), one))


def box_of(points: Points) -> tuple[float, float, float, float]:
    """Return left, low, right and high of places."""
    low, high = points.min(axis=0), points.max(axis=0)
    return float(low[0]), float(low[1]), float(high[0]), float(high[1])


def area(points: Points) -> float:
    """Return the area that a closed line encloses, mm²."""
    x, y = points[:, 0], points[:, 1]
    return abs(float(numpy.dot(x[:-1], y[1:]) - numpy.dot(x[1:], y[:-1]))) / 2


def centre_of(points: Points) -> Place:
    """Return the centre of the area that a closed line encloses."""
    found = shapely.Polygon(points).centroid
    return (float(found.x), float(found.y))


def together(lines: Sequence[Points]) -> Any:
    """Return several lines as one shape."""
    return shapely.MultiLineString([shapely.LineString(line) for line in lines])
