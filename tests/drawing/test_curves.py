"""Every drawn curve stays within its stated error of the true one; every number is plain."""

import cmath
import itertools
import math
from fractions import Fraction

import mpmath
import pytest
import shapely
import shapely.affinity
from hypothesis import given
from hypothesis import strategies as st

from patternpress.assembly.outlines import circle
from patternpress.assembly.shape import Arc, Curve, Line, Outline, Point
from patternpress.drawing.curves import ERROR, Cubic, Straight, arc_deviation, arc_pieces, pieces
from patternpress.drawing.numbers import HOLE, filled, number

F = Fraction


def written(value: float) -> float:
    return float(number(value))


def dense(start: tuple[float, float], cubic: Cubic, count: int = 400) -> list[complex]:
    """Points of a cubic whose coordinates were written into a file and read again."""
    p0 = complex(written(start[0]), written(start[1]))
    p1 = complex(written(cubic.x1), written(cubic.y1))
    p2 = complex(written(cubic.x2), written(cubic.y2))
    p3 = complex(written(cubic.x), written(cubic.y))
    found = []
    for index in range(count + 1):
        t = index / count
        r = 1 - t
        found.append(r**3 * p0 + 3 * r * r * t * p1 + 3 * r * t * t * p2 + t**3 * p3)
    return found


RADII = [F(1), F(5, 2), F(6), F(15), F("44.45"), F(100), F(250), F(500)]


@pytest.mark.parametrize("radius", RADII, ids=[f"r{float(r):g}" for r in RADII])
def test_a_written_circle_is_true(radius: Fraction) -> None:
    outline = circle(Point(F(1, 3), F(-2, 7)), radius)
    centre = complex(1 / 3, -2 / 7)
    here = (float(outline.start.x), float(outline.start.y))
    for piece in pieces(outline):
        assert isinstance(piece, Cubic)
        for place in dense(here, piece):
            assert abs(abs(place - centre) - float(radius)) <= float(ERROR)
        here = (piece.x, piece.y)


@given(
    st.fractions(min_value=1, max_value=500, max_denominator=16),
    st.floats(min_value=0.02, max_value=6.2),
    st.floats(min_value=-3.1, max_value=3.1),
    st.booleans(),
)
def test_any_written_arc_is_true(radius: Fraction, turn: float, begin: float, left: bool) -> None:
    end = begin + (turn if left else -turn)
    r = float(radius)
    start = Point(F(r * math.cos(begin)), F(r * math.sin(begin)))
    to = Point(F(r * math.cos(end)), F(r * math.sin(end)))
    arc = Outline(start, (Arc(to, Point(F(0), F(0)), left), Line(start)))
    here = (float(start.x), float(start.y))
    swept = 0.0
    for piece in pieces(arc)[:-1]:
        assert isinstance(piece, Cubic)
        places = dense(here, piece, 60)
        assert max(abs(abs(place) - r) for place in places) <= float(ERROR)
        swept += cmath.phase(places[-1] / places[0])  # sure near a quarter turn too
        here = (piece.x, piece.y)
    assert abs(swept) == pytest.approx(turn, abs=0.01)
    assert (swept > 0) is left


@pytest.mark.parametrize("degrees", [10, 45, 90, 120, 180])
def test_the_bound_is_not_below_the_measured_error(degrees: int) -> None:
    turn = math.radians(degrees)
    handle = 4 / 3 * math.tan(turn / 4)
    end = complex(math.cos(turn), math.sin(turn))
    one, two = 1 + 1j * handle, end * (1 - 1j * handle)
    worst = 0.0
    for index in range(2001):
        t = index / 2000
        r = 1 - t
        place = r**3 + 3 * r * r * t * one + 3 * r * t * t * two + t**3 * end
        assert abs(place) >= 1 - 1e-12
        worst = max(worst, abs(place) - 1)
    bound = arc_deviation(1, turn)
    assert worst <= bound
    assert worst >= 0.95 * bound  # and not much too careful


def test_the_textbook_quarter() -> None:
    # A quarter by one cubic strays 0.027 % of the radius: textbook value, from memory.
    assert arc_deviation(1, math.pi / 2) == pytest.approx(0.000273, abs=5e-7)


def test_pieces_grow_in_number_with_the_radius() -> None:
    counts = [arc_pieces(r, 2 * math.pi, 0.005) for r in (1, 15, 50, 500)]
    assert counts == sorted(counts)
    assert counts[0] == 4
    assert counts[-1] > 4


def test_lines_and_cubics_pass_unchanged() -> None:
    curve = Curve(Point(F(3), F(4)), Point(F(1), F(0)), Point(F(2), F(4)))
    outline = Outline(Point(F(0), F(0)), (curve, Line(Point(F(0), F(0)))))
    assert pieces(outline) == (Cubic(1, 0, 2, 4, 3, 4), Straight(0, 0))


def test_an_error_that_writing_cannot_keep_is_refused() -> None:
    with pytest.raises(ValueError, match="four decimals"):
        pieces(circle(Point(F(0), F(0)), F(1)), F(1, 10000))


@pytest.mark.parametrize(
    ("value", "text"),
    [
        (0, "0"),
        (-0.0, "0"),
        (-0.00004, "0"),
        (F(1, 3), "0.3333"),
        (F(-1, 3), "-0.3333"),
        (F("0.00005"), "0"),  # a tie goes to even
        (F("0.00015"), "0.0002"),
        (F("-0.00015"), "-0.0002"),
        (25.4, "25.4"),
        (F("0.396875"), "0.3969"),
        (100, "100"),
        (1e-9, "0"),
        (123456789, "123456789"),
        (F("19.99999"), "20"),
    ],
)
def test_numbers_are_written_plainly(value: Fraction | float, text: str) -> None:
    assert number(value) == text


@given(st.floats(min_value=-1e6, max_value=1e6))
def test_a_written_number_is_the_nearest(value: float) -> None:
    text = number(value)
    assert "e" not in text
    assert text != "-0"
    assert len(text.partition(".")[2]) <= 4
    assert abs(F(text) - F(value)) <= F(1, 20000)


@given(st.one_of(st.floats(-1e6, 1e6), st.integers(-(10**9), 10**9).map(lambda n: n / 2**12)))
def test_floats_are_written_as_the_fractions_that_they_are(value: float) -> None:
    assert number(value) == number(F(value))


@given(st.lists(st.one_of(st.floats(-1e6, 1e6), st.integers(-100, 100).map(float)), max_size=6))
def test_many_numbers_are_written_as_each_by_itself(values: list[float]) -> None:
    pattern = "L".join([HOLE] * len(values))
    assert filled(pattern, values) == "L".join(number(each) for each in values)


def test_numbers_that_are_none_are_refused() -> None:
    with pytest.raises(ValueError, match="NaN"):
        number(math.nan)
    with pytest.raises(ValueError, match="finite"):
        filled(HOLE, [math.inf])


# ------------------------------------------------------------------ ellipses and free curves

KAPPA = F(5522847498, 10**10)  # 4/3 (√2 − 1), the textbook's handle for a quarter


def ellipse(a: Fraction, b: Fraction) -> Outline:
    """An ellipse as an author may draw one: four curves with the textbook's handles."""
    corners = [(a, F(0)), (F(0), b), (-a, F(0)), (F(0), -b), (a, F(0))]
    curves = []
    for (x0, y0), (x1, y1) in itertools.pairwise(corners):
        one = Point(x0 + KAPPA * (x1 if x0 == 0 else F(0)), y0 + KAPPA * (y1 if y0 == 0 else F(0)))
        two = Point(x1 + KAPPA * (x0 if x1 == 0 else F(0)), y1 + KAPPA * (y0 if y1 == 0 else F(0)))
        curves.append(Curve(Point(x1, y1), one, two))
    return Outline(Point(a, F(0)), tuple(curves))


@pytest.mark.parametrize(
    ("a", "b"), [(F(3), F(2)), (F(20), F(9)), (F("63.5"), F("41.3")), (F(240), F(150))], ids=str
)
def test_a_written_ellipse_is_shapelys(a: Fraction, b: Fraction) -> None:
    outline = ellipse(a, b)
    here, places = (float(a), 0.0), []
    for piece in pieces(outline):
        assert isinstance(piece, Cubic)
        places += dense(here, piece, 200)
        here = (piece.x, piece.y)
    ours = shapely.Polygon([(p.real, p.imag) for p in places])
    circle_of_shapely = shapely.Point(0, 0).buffer(1, quad_segs=2000)
    true = shapely.affinity.scale(circle_of_shapely, float(a), float(b))
    # The textbook's quarter strays by 0.027 % of the radius; writing adds next to nothing.
    allowed = 0.00028 * float(max(a, b)) + 0.0002
    assert ours.exterior.hausdorff_distance(true.exterior) <= allowed
    assert ours.area == pytest.approx(math.pi * float(a) * float(b), rel=0.0006)


@given(st.lists(st.fractions(-250, 250, max_denominator=64), min_size=8, max_size=8, unique=True))
def test_a_written_free_curve_is_mpmaths(numbers: list[Fraction]) -> None:
    p0, p1, p2, p3 = (Point(*numbers[i : i + 2]) for i in (0, 2, 4, 6))
    (cubic,) = pieces(Outline(p0, (Curve(p3, p1, p2),)))
    assert isinstance(cubic, Cubic)
    found = dense((float(p0.x), float(p0.y)), cubic, 16)
    with mpmath.workdps(30):
        for index, place in enumerate(found):
            t = mpmath.mpf(index) / 16
            weights = [(1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3]
            for axis, value in (("x", place.real), ("y", place.imag)):
                exact = [getattr(point, axis) for point in (p0, p1, p2, p3)]
                true = sum(
                    w * mpmath.mpf(e.numerator) / e.denominator
                    for w, e in zip(weights, exact, strict=True)
                )
                assert abs(true - value) <= 0.0001  # four written decimals


@pytest.mark.parametrize("radius", RADII, ids=[f"r{float(r):g}" for r in RADII])
def test_a_written_circle_has_shapelys_area(radius: Fraction) -> None:
    outline = circle(Point(F(0), F(0)), radius)
    here, places = (float(radius), 0.0), []
    for piece in pieces(outline):
        assert isinstance(piece, Cubic)
        places += dense(here, piece, 200)
        here = (piece.x, piece.y)
    ours = shapely.Polygon([(p.real, p.imag) for p in places])
    true = shapely.Point(0, 0).buffer(float(radius), quad_segs=2000)
    assert ours.exterior.hausdorff_distance(true.exterior) <= float(ERROR) + 0.0005
    assert ours.symmetric_difference(true).area <= float(ERROR) * 2 * math.pi * float(radius)
