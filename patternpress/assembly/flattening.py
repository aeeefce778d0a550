"""Flatten outlines to polygons, for checks and for clipping lines.

In: an Outline.  Out: the corners of a polygon that stays within a stated error of it, as
floats: nothing measured on it is ever printed.
"""

import math

from patternpress.assembly.outlines import legs, radius_of, turn_of
from patternpress.assembly.shape import Arc, Curve, Outline, Point


def flattened(outline: Outline, error: float = 0.001) -> tuple[tuple[float, float], ...]:
    """Return the corners of a polygon within `error` mm of the true line, not closed."""
    corners = []
    for start, segment in legs(outline):
        corners.append((float(start.x), float(start.y)))
        if isinstance(segment, Arc):
            corners += _chords(start, segment, error)
        elif isinstance(segment, Curve):
            corners += _cubic_corners(start, segment, error)
    return tuple(corners)


def _chords(start: Point, arc: Arc, error: float) -> list[tuple[float, float]]:
    """Return the corners inside an arc: a chord's height is r·(1 − cos(turn/2))."""
    radius, turn = float(radius_of(start, arc)), turn_of(start, arc)
    widest = 2 * math.acos(max(0.0, 1 - error / radius)) if radius > error else math.pi / 2
    count = math.ceil(abs(turn) / widest)
    middle = complex(arc.centre.x, arc.centre.y)
    spoke = complex(start.x, start.y) - middle
    places = [
        middle + spoke * complex(math.cos(turn * i / count), math.sin(turn * i / count))
        for i in range(1, count)
    ]
    return [(place.real, place.imag) for place in places]


def _cubic_corners(start: Point, curve: Curve, error: float) -> list[tuple[float, float]]:
    """Return the corners inside a cubic: n equal times stray by at most M·6/(8·n²).

    M is the longer second difference of the control points (Taylor bound on B'').
    """
    points = [complex(p.x, p.y) for p in (start, curve.control1, curve.control2, curve.to)]
    p0, p1, p2, p3 = points
    bend = max(abs(p0 - 2 * p1 + p2), abs(p1 - 2 * p2 + p3))
    count = max(1, math.ceil(math.sqrt(0.75 * bend / error)))
    places = []
    for index in range(1, count):
        t = index / count
        rest = 1 - t
        places.append(rest**3 * p0 + 3 * rest**2 * t * p1 + 3 * rest * t**2 * p2 + t**3 * p3)
    return [(place.real, place.imag) for place in places]
