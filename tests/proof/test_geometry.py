"""Curves become straight lines without losing their place: against Shapely, mpmath and formulas.

Shapely's own circles have many corners (quad_segs); mpmath works in 30 digits.
"""

from __future__ import annotations

import math

import mpmath
import numpy
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from patternpress.proof.design import read_facts
from patternpress.proof.geometry import (
    FLAT,
    apart,
    area,
    centre_of,
    cubic,
    dense,
    farthest,
    flat,
)
from patternpress.proof.marks import Track

SIZES = (0.4, 2.5, 15.0, 120.0, 900.0)  # mm, radii
# Nothing in a file is finer than a millionth; GEOS loses lines shorter than 1e-150.
NUMBER = st.integers(-300_000_000, 300_000_000).map(lambda millionths: millionths / 1e6)
PLACE = st.tuples(NUMBER, NUMBER)


def circle_facts(radius: float) -> dict[str, object]:
    """The facts of a disc, of four arcs, and nothing else."""
    r = str(round(radius * 1000))

    def at(x: str, y: str) -> list[str]:
        return [f"{x}{r}/1000".replace("0" + r, "0"), f"{y}{r}/1000".replace("0" + r, "0")]

    ends = [at("0", ""), at("-", "0"), at("0", "-"), at("", "0")]
    outline: list[dict[str, object]] = [{"start": ends[-1]}]
    outline += [{"arc": e, "centre": ["0", "0"], "turn": "anticlockwise"} for e in ends]
    part = {
        "letter": "A", "name": "disc", "form": "sheet", "quantity": 1, "twins": 0, "printed": "",
        "template": True, "shape": {"outline": outline},
    }  # fmt: skip
    overall = {"wide": "1", "deep": "1", "high": "1"}
    return {
        "format": 1, "design": "", "edition": {"name": "x"}, "overall": overall, "parts": [part],
    }  # fmt: skip


@pytest.mark.parametrize("radius", SIZES)
def test_a_circle_of_the_facts_is_a_circle(radius: float) -> None:
    outline = read_facts(circle_facts(radius)).parts[0].outline
    assert outline is not None
    off = numpy.abs(numpy.hypot(*dense(outline.points).T) - radius)
    assert off.max() <= FLAT * 1.01
    assert area(outline.points) == pytest.approx(math.pi * radius**2, abs=math.tau * radius * FLAT)
    ring = shapely.Point(0, 0).buffer(radius, quad_segs=4096).exterior
    assert ring.hausdorff_distance(shapely.LineString(outline.points)) < FLAT * 2
    assert sum(arc.swept for arc in outline.arcs) == pytest.approx(math.tau)


def bezier(points: list[tuple[float, float]], t: mpmath.mpf) -> tuple[mpmath.mpf, mpmath.mpf]:
    """A point of a cubic, by its definition, in many digits."""
    s = 1 - t
    shares = (s**3, 3 * s * s * t, 3 * s * t * t, t**3)
    x, y = (
        sum(w * mpmath.mpf(p[axis]) for w, p in zip(shares, points, strict=True)) for axis in (0, 1)
    )
    return x, y


@given(st.lists(PLACE, min_size=4, max_size=4))
def test_a_cubic_stays_within_its_error(points: list[tuple[float, float]]) -> None:
    line = shapely.LineString([points[0], *cubic(points[0], points[1], points[2], points[3])])
    with mpmath.workdps(30):
        for n in range(41):
            x, y = bezier(points, mpmath.mpf(n) / 40)
            assert line.distance(shapely.Point(float(x), float(y))) <= FLAT + 1e-9


@pytest.mark.parametrize("radius", SIZES)
def test_a_quarter_drawn_as_one_cubic_is_out_by_the_textbook_share(radius: float) -> None:
    """0.0273 % of the radius (textbook figure for handles of 0.5523; from memory)."""
    k = 4 / 3 * math.tan(math.pi / 8) * radius
    track = Track(((radius, 0), (radius, k), (k, radius), (0, radius)), "c", False)
    off = numpy.hypot(*dense(flat(track), 0.01 * radius).T) - radius
    assert off.max() == pytest.approx(0.000273 * radius, rel=0.01, abs=2 * FLAT)


@given(PLACE, st.floats(-40, 40), st.floats(-40, 40))
def test_a_line_moved_is_as_far_away_as_it_was_moved(
    at: tuple[float, float], across: float, up: float
) -> None:
    square = numpy.array([(0, 0), (200, 0), (200, 200), (0, 200), (0, 0)], dtype=float) + at
    worst, _ = apart(square, square + numpy.array((across, up)))
    assert max(abs(across), abs(up)) - 0.3 <= worst <= math.hypot(across, up) + 1e-9


@settings(max_examples=25)
@given(
    st.lists(PLACE, min_size=2, max_size=9, unique=True),
    st.lists(PLACE, min_size=2, max_size=9, unique=True),
)
def test_distances_are_shapelys(
    one: list[tuple[float, float]], two: list[tuple[float, float]]
) -> None:
    """Shapely compares at shares of each line, we at every half millimetre of it."""
    a, b = numpy.array(one), numpy.array(two)
    theirs = shapely.hausdorff_distance(
        shapely.LineString(one), shapely.LineString(two), densify=0.002
    )
    assert apart(a, b)[0] == pytest.approx(theirs, abs=1.2)
    assert farthest(a, b)[0] <= apart(a, b)[0] + 1e-9


def test_area_and_centre_of_a_right_triangle() -> None:
    """Half of base times height; the centre lies a third of the way up (school geometry)."""
    triangle = numpy.array([(0, 0), (30, 0), (0, 60), (0, 0)], dtype=float)
    assert area(triangle) == 900
    assert centre_of(triangle) == pytest.approx((10, 20))
