"""Turn outlines into cubic Bezier path data that is true to a stated error.

In: an Outline (exact, mm).  Out: pieces made of lines and cubics, each within `error` of the
true outline.  The PDF engine bends circles and arcs of its own by up to 0.28 mm, so a
template's curves are always made here.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from patternpress.assembly.outlines import turn_of
from patternpress.assembly.shape import Arc, Curve, Outline, Point

ERROR = Fraction(5, 1000)  # mm; a sharp pencil line is forty times as wide
# Four written decimals move a control point by at most 0.00005 in x and y.
_WRITING = 0.0001


@dataclass(frozen=True, slots=True)
class Straight:
    """A straight piece to (x, y), mm."""

    x: float
    y: float


@dataclass(frozen=True, slots=True)
class Cubic:
    """A cubic Bezier piece to (x, y) by two control points, mm."""

    x1: float
    y1: float
    x2: float
    y2: float
    x: float
    y: float


Piece = Straight | Cubic


def arc_deviation(radius: float, turn: float) -> float:
    """Return how far one cubic may stray from an arc of `radius` that turns `turn` radians.

    With handles of 4/3·tan(turn/4) the cubic never falls inside the circle, and x²+y²−r² is
    at most r²·(4/27)·sin⁶(turn/4)/cos²(turn/4); half of that bounds the radial error.
    (Own derivation from the polynomial; the tests measure it at dense points.)
    """
    quarter = abs(turn) / 4
    return radius * (2 / 27) * math.sin(quarter) ** 6 / math.cos(quarter) ** 2


def arc_pieces(radius: float, turn: float, error: float) -> int:
    """Return the least number of equal cubics that keep an arc within `error` mm."""
    count = max(1, math.ceil(abs(turn) / (math.pi / 2) - 1e-9))
    while arc_deviation(radius, turn / count) > error:
        count += 1
    return count


def pieces(outline: Outline, error: Fraction = ERROR) -> tuple[Piece, ...]:
    """Return an outline's pieces, each within `error` mm of the true line as written.

    Raises ValueError if `error` is smaller than four written decimals can keep.
    """
    allowed = float(error) - _WRITING
    if allowed <= 0:
        raise ValueError(f"an error of {float(error)} mm cannot be kept in four decimals")
    return tuple(_all_pieces(outline, allowed))


def _all_pieces(outline: Outline, error: float) -> Iterator[Piece]:
    here = outline.start
    for segment in outline.segments:
        if isinstance(segment, Arc):
            yield from _of_arc(here, segment, error)
        elif isinstance(segment, Curve):
            one, two, to = segment.control1, segment.control2, segment.to
            yield Cubic(*_pair(one), *_pair(two), *_pair(to))
        else:
            yield Straight(*_pair(segment.to))
        here = segment.to


def _of_arc(start: Point, arc: Arc, error: float) -> Iterator[Cubic]:
    centre = complex(*_pair(arc.centre))
    spoke = complex(*_pair(start)) - centre
    end = complex(*_pair(arc.to))
    turn = turn_of(start, arc)
    count = arc_pieces(abs(spoke), turn, error)
    step = turn / count
    handle = 4 / 3 * math.tan(step / 4) * 1j
    for index in range(count):
        here = spoke * complex(math.cos(index * step), math.sin(index * step))
        ahead = (index + 1) * step
        there = spoke * complex(math.cos(ahead), math.sin(ahead))
        one, two = centre + here * (1 + handle), centre + there * (1 - handle)
        to = end if index == count - 1 else centre + there
        yield Cubic(one.real, one.imag, two.real, two.imag, to.real, to.imag)


def _pair(point: Point) -> tuple[float, float]:
    return float(point.x), float(point.y)
