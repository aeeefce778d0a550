"""Outlines measured against closed forms and against shapely."""

import math
from fractions import Fraction

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from patternpress.assembly.flattening import flattened
from patternpress.assembly.outlines import Box, area, bounding_box, circle, polygon
from patternpress.assembly.roots import root, settle, tangent
from patternpress.assembly.shape import Arc, Axis, Curve, Line, Outline, Point
from patternpress.assembly.turning import mirrored, reversed_outline

F = Fraction


def at(x: object, y: object) -> Point:
    return Point(F(str(x)), F(str(y)))


LENGTHS = st.fractions(min_value=-200, max_value=200, max_denominator=64)


@given(st.lists(st.tuples(LENGTHS, LENGTHS), min_size=3, max_size=8))
def test_area_of_a_polygon_is_exact(corners: list[tuple[Fraction, Fraction]]) -> None:
    # Oracle: shapely 2's signed area of the same ring.
    found = area(polygon(*(Point(x, y) for x, y in corners)))
    ring = shapely.LinearRing([(float(x), float(y)) for x, y in corners])
    expected = shapely.Polygon(ring).area
    assert found.denominator <= 2 * 64**16
    if ring.is_simple:
        assert abs(found) == pytest.approx(expected, abs=1e-7)


def test_area_of_a_triangle_by_hand() -> None:
    assert area(polygon(at(0, 0), at(3, 0), at(0, 4))) == 6  # half of 3 by 4
    assert area(polygon(at(0, 0), at(0, 4), at(3, 0))) == -6


@pytest.mark.parametrize(
    ("outline", "expected"),
    [
        # Circle, r = 15: pi r squared.
        (circle(at(0, 0), F(15)), math.pi * 225),
        # Circular segment r = 1, 90 degrees: r²/2(θ − sin θ) = 0.285398 (Machinery's Handbook,
        # areas, from memory).
        (Outline(at(1, 0), (Arc(at(0, 1), at(0, 0), True), Line(at(1, 0)))), 0.285398),
        # Annulus sector R=10, r=6, half angle 30°: α(R²−r²) = 33.510322 (same source).
        (
            Outline(
                Point(root(F(75)), F(-5)),
                (
                    Arc(Point(root(F(75)), F(5)), at(0, 0), True),
                    Line(Point(root(F(27)), F(3))),
                    Arc(Point(root(F(27)), F(-3)), at(0, 0), False),
                    Line(Point(root(F(75)), F(-5))),
                ),
            ),
            33.510322,
        ),
    ],
    ids=["circle", "segment", "annulus sector"],
)
def test_area_of_closed_forms(outline: Outline, expected: float) -> None:
    assert float(area(outline)) == pytest.approx(expected, abs=1e-6)
    # shapely on a polygon 0.0001 mm fine agrees to the flattening error times the length.
    flat = shapely.Polygon(flattened(outline, 0.0001))
    assert flat.area == pytest.approx(expected, abs=0.0001 * flat.length)


def test_area_of_a_cubic_is_exact() -> None:
    # y = x² from 0 to 3 as a cubic (degree raised by hand): the area under it is 9.
    curve = Curve(at(3, 9), at(1, 0), at(2, 3))
    under = Outline(at(0, 0), (curve, Line(at(3, 0)), Line(at(0, 0))))
    assert area(under) == -9


def test_box_of_an_arc_reaches_its_crown() -> None:
    # A 3-4-5 circle: from (-4, 3) over the top to (4, 3).
    bow = Outline(at(4, 3), (Arc(at(-4, 3), at(0, 0), True), Line(at(4, 3))))
    assert bounding_box(bow) == Box(F(-4), F(3), F(4), F(5))
    under = Outline(at(4, 3), (Arc(at(-4, 3), at(0, 0), False), Line(at(4, 3))))
    assert bounding_box(under) == Box(F(-5), F(-5), F(5), F(3))


def test_box_of_a_curve_reaches_its_crown() -> None:
    # B(t) with controls 0, 4, 4, 0 rises to 3 at t = 1/2.
    bow = Outline(at(0, 0), (Curve(at(9, 0), at(3, 4), at(6, 4)), Line(at(0, 0))))
    assert bounding_box(bow) == Box(F(0), F(0), F(9), F(3))


@given(st.integers(1, 500), st.sampled_from([0.1, 0.01, 0.001]))
def test_flattened_circle_keeps_its_error(radius: int, error: float) -> None:
    corners = flattened(circle(at(0, 0), F(radius)), error)
    middles = [
        abs(complex(*one) + complex(*two)) / 2
        for one, two in zip(corners, (*corners[1:], corners[0]), strict=True)
    ]
    assert radius - min(middles) <= error * (1 + 1e-6)
    assert all(abs(complex(*corner)) == pytest.approx(radius) for corner in corners)


def test_flattened_curve_keeps_its_error() -> None:
    curve = Outline(at(0, 0), (Curve(at(100, 0), at(0, 90), at(100, -90)), Line(at(0, 0))))
    coarse = shapely.LineString([*flattened(curve, 0.01), (0, 0)])
    fine = flattened(curve, 0.00001)
    assert max(coarse.distance(shapely.Point(place)) for place in fine) <= 0.01


def test_turning_over_twice_changes_nothing() -> None:
    outline = Outline(
        at(0, 0),
        (Arc(at(4, 0), at(2, 0), True), Curve(at(0, 4), at(4, 2), at(2, 4)), Line(at(0, 0))),
    )
    assert reversed_outline(reversed_outline(outline)) == outline
    assert mirrored(mirrored(outline, F(2)), F(2)) == outline
    assert area(mirrored(outline, F(2), Axis.Y)) == area(outline)
    assert area(reversed_outline(outline)) == -area(outline)


@pytest.mark.parametrize(("square", "exact"), [("9/16", "3/4"), ("4", "2"), ("0", "0")])
def test_roots_of_squares_are_exact(square: str, exact: str) -> None:
    assert root(F(square)) == F(exact)


def test_other_roots_and_tangents_are_fine() -> None:
    assert abs(root(F(2)) ** 2 - 2) < F(1, 10**29)
    assert tangent(F(45)) == 1
    assert abs(tangent(F(60)) ** 2 - 3) < F(1, 10**28)
    assert settle(root(F(2))) == F("1.414213562373")
    with pytest.raises(ValueError, match="negative"):
        root(F(-1))
