"""A smooth curve through points.

In: points, and if wanted the directions in which the curve leaves and arrives.  Out: one
cubic segment between each two points, which meet without a kink and without a sudden change
of bend (a cubic spline by chord length, after any numerical handbook; natural where no
direction is given).
"""

from fractions import Fraction
from itertools import pairwise

from patternpress.assembly.roots import heading, settle
from patternpress.assembly.shape import Curve, Point


def smooth(
    points: tuple[Point, ...], leaving: Fraction | None, arriving: Fraction | None
) -> tuple[Curve, ...]:
    """Return the curves from the first point to the last, no two neighbours equal.

    Directions are degrees anticlockwise from the right.  Control points are settled to
    1e-12 mm; the points themselves stay exact.
    """
    places = [complex(point.x, point.y) for point in points]
    spans = [abs(two - one) for one, two in pairwise(places)]
    speeds = _speeds(places, spans, _unit(leaving), _unit(arriving))
    curves = []
    for index, span in enumerate(spans):
        one = places[index] + speeds[index] * span / 3
        two = places[index + 1] - speeds[index + 1] * span / 3
        curves.append(Curve(points[index + 1], _point(one), _point(two)))
    return tuple(curves)


def _unit(degrees: Fraction | None) -> complex | None:
    return None if degrees is None else complex(*heading(degrees))


def _point(place: complex) -> Point:
    return Point(settle(place.real), settle(place.imag))


def _speeds(
    places: list[complex], spans: list[float], leaving: complex | None, arriving: complex | None
) -> list[complex]:
    """Return the curve's derivative at each point, by elimination down the three diagonals.

    Inside, h₂v₀ + 2(h₁+h₂)v₁ + h₁v₂ = 3(h₂·slope₁ + h₁·slope₂); at a free end the bend is
    nought: 2v₀ + v₁ = 3·slope.
    """
    slopes = [(two - one) / span for (one, two), span in zip(pairwise(places), spans, strict=True)]
    rows = [_end_row(leaving, slopes[0])]
    for h1, h2, s1, s2 in zip(spans, spans[1:], slopes, slopes[1:], strict=False):
        rows.append((h2, 2 * (h1 + h2), h1, 3 * (h2 * s1 + h1 * s2)))
    none, own, beside, known = _end_row(arriving, slopes[-1])
    rows.append((beside, own, none, known))
    return _solved(rows)


Row = tuple[float, float, float, complex]


def _end_row(given: complex | None, slope: complex) -> Row:
    return (0.0, 2.0, 1.0, 3 * slope) if given is None else (0.0, 1.0, 0.0, given)


def _solved(rows: list[Row]) -> list[complex]:
    """Solve rows of (before, own, after, known) for one unknown a row."""
    afters: list[float] = []
    found: list[complex] = []
    for before, own, after, known in rows:
        rest = own - before * (afters[-1] if afters else 0.0)
        found.append((known - before * (found[-1] if found else 0.0)) / rest)
        afters.append(after / rest)
    for index in range(len(rows) - 2, -1, -1):
        found[index] -= afters[index] * found[index + 1]
    return found
