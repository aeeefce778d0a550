"""Shapes cut from blanks: every treatment against closed forms, and exactly where rational."""

import math
from fractions import Fraction

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from patternpress.assembly.blank import (
    Angled,
    Arched,
    ArcOfRadius,
    ArcThrough,
    CurveThrough,
    CutOff,
    GrooveRun,
    Hollow,
    Hollowed,
    LineTo,
    Notch,
    Path,
    Round,
    RoundHole,
    ShapeSpec,
    Slot,
    Window,
)
from patternpress.assembly.flattening import flattened
from patternpress.assembly.outlines import Box, area, bounding_box, legs, polygon, radius_of
from patternpress.assembly.shape import Arc, Axis, Curve, Face, Outline, Point, Shape, View
from patternpress.assembly.trim import trim
from patternpress.assembly.turning import mirrored, mirrored_shape, scaled_shape

F = Fraction
LEFT, RIGHT, BOTTOM, TOP = Face.LEFT, Face.RIGHT, Face.BOTTOM, Face.TOP


def at(x: object, y: object) -> Point:
    return Point(F(str(x)), F(str(y)))


def cut(width: object = 80, height: object = 50, **how: object) -> Shape:
    return trim(ShapeSpec(View.FRONT, F(str(width)), F(str(height)), **how))  # type: ignore[arg-type]


def true_arcs(outline: Outline) -> None:
    """Every arc ends as far from its centre as it begins, to 1e-11 mm."""
    for start, segment in legs(outline):
        if isinstance(segment, Arc):
            ends = radius_of(start, segment), radius_of(segment.to, segment)
            assert abs(ends[0] - ends[1]) < F(1, 10**11)


def test_a_plain_blank_is_its_rectangle() -> None:
    shape = cut("25.4", "0.396875")
    assert shape.outline == polygon(
        at(0, 0), at("25.4", 0), at("25.4", "0.396875"), at(0, "0.396875")
    )


# Closed forms: a quarter circle's share of its square is π/4 (own geometry).
@pytest.mark.parametrize(
    ("how", "lost"),
    [
        (Round(F(6)), 36 * (1 - math.pi / 4)),
        (Hollow(F(6)), 36 * math.pi / 4),
        (CutOff(F(8), F(6)), 24.0),
        (Notch(F(8), F(6)), 48.0),
    ],
    ids=["round", "hollow", "cut off", "notch"],
)
@pytest.mark.parametrize("corner", [(LEFT, BOTTOM), (RIGHT, BOTTOM), (RIGHT, TOP), (LEFT, TOP)])
def test_a_corner_takes_its_area(how: object, lost: float, corner: tuple[Face, Face]) -> None:
    shape = cut(corners={corner: how})
    assert float(area(shape.outline)) == pytest.approx(4000 - lost, abs=1e-9)
    assert bounding_box(shape.outline) == Box(F(0), F(0), F(80), F(50))
    true_arcs(shape.outline)
    x, y = (0 if corner[0] is LEFT else 80), (0 if corner[1] is BOTTOM else 50)
    flat = shapely.Polygon(flattened(shape.outline))
    assert not flat.covers(shapely.Point(x, y))
    # A cut-off or notch lies so far along x and so far along y, whichever corner it is.
    if isinstance(how, CutOff | Notch):
        ends = {point for start, _ in legs(shape.outline) for point in [start]}
        assert Point(F(abs(x - 8)), F(y)) in ends
        assert Point(F(x), F(abs(y - 6))) in ends


def test_corners_that_just_meet_leave_no_stub() -> None:
    all_round = {(x, y): Round(F(25)) for x in (LEFT, RIGHT) for y in (BOTTOM, TOP)}
    shape = cut(50, 50, corners=all_round)
    assert len(shape.outline.segments) == 4
    assert float(area(shape.outline)) == pytest.approx(math.pi * 625)


@given(
    st.fractions(min_value=1, max_value=30, max_denominator=64),
    st.fractions(min_value=F(1, 64), max_value=12, max_denominator=64),
)
def test_random_treatments_agree_with_shapely(size: Fraction, small: Fraction) -> None:
    shape = cut(
        80,
        50,
        corners={
            (LEFT, BOTTOM): Round(size / 2),
            (RIGHT, BOTTOM): Notch(small, small * 2),
            (RIGHT, TOP): Hollow(small),
            (LEFT, TOP): CutOff(size, small),
        },
    )
    oracle = shapely.box(0, 0, 80, 50)
    r, s = float(size / 2), float(small)
    corner = shapely.box(0, 0, r, r) - shapely.Point(r, r).buffer(r, quad_segs=400)
    oracle = oracle - corner - shapely.box(80 - s, 0, 80, 2 * s)
    oracle -= shapely.Point(80, 50).buffer(s, quad_segs=400)
    oracle -= shapely.Polygon([(0, 50), (2 * r, 50), (0, 50 - s)])
    assert float(area(shape.outline)) == pytest.approx(oracle.area, abs=0.01)
    assert shapely.Polygon(flattened(shape.outline)).symmetric_difference(oracle).area < 0.05


# ------------------------------------------------------------------ edges


def test_an_arch_is_rational_and_reaches_the_blank() -> None:
    shape = cut(80, 50, edges={TOP: Arched(F(10))})
    arc = next(s for s in shape.outline.segments if isinstance(s, Arc))
    # Chord 80, rise 10: r = (40² + 10²) / 20 = 85; the crown is at the blank's top.
    assert radius_of(at(80, 40), arc) == 85
    assert arc.centre == at(40, -35)
    assert bounding_box(shape.outline) == Box(F(0), F(0), F(80), F(50))


@pytest.mark.parametrize("face", [LEFT, RIGHT, BOTTOM, TOP])
@pytest.mark.parametrize("curve", [Arched, Hollowed])
def test_arches_and_hollows_on_every_face(face: Face, curve: type[Arched]) -> None:
    shape = cut(60, 60, edges={face: curve(F(6))})
    # Segment of chord c = 60 and rise h = 6: r = 78, half angle = asin(30/78).
    half = math.asin(30 / 78)
    segment = 78**2 * (half - math.sin(half) * math.cos(half))
    kept = 54 * 60 + segment if curve is Arched else 3600 - segment
    assert float(area(shape.outline)) == pytest.approx(kept, abs=1e-9)
    assert bounding_box(shape.outline) == Box(F(0), F(0), F(60), F(60))
    true_arcs(shape.outline)


def test_a_hollow_between_two_distances_measured_from_the_low_end() -> None:
    shape = cut(80, 50, edges={TOP: Hollowed(F(5), F(10), F(30)), LEFT: Arched(F(4), F(5), F(25))})
    arcs = [(start, s) for start, s in legs(shape.outline) if isinstance(s, Arc)]
    assert [(start, arc.to) for start, arc in arcs] == [
        (at(30, 50), at(10, 50)),
        (at(4, 25), at(4, 5)),
    ]


def test_a_rounded_corner_runs_smoothly_into_an_arch() -> None:
    shape = cut(
        80,
        50,
        edges={TOP: Arched(F(10))},
        corners={(LEFT, TOP): Round(F(8)), (RIGHT, TOP): Round(F(8))},
    )
    true_arcs(shape.outline)
    arcs = [(start, s) for start, s in legs(shape.outline) if isinstance(s, Arc)]
    assert len(arcs) == 3
    fillet, bow = arcs[0][1], arcs[1][1]
    # They touch where both centres and the touching point lie in one line.
    ax, ay = float(fillet.to.x - fillet.centre.x), float(fillet.to.y - fillet.centre.y)
    bx, by = float(fillet.to.x - bow.centre.x), float(fillet.to.y - bow.centre.y)
    assert ax * by - ay * bx == pytest.approx(0, abs=1e-9)
    assert area(mirrored(shape.outline, F(40))) == area(shape.outline)


@pytest.mark.parametrize("face", [LEFT, RIGHT, BOTTOM, TOP])
def test_rounded_arches_on_every_face(face: Face) -> None:
    across = face in (BOTTOM, TOP)
    corners = {
        ((side, face) if across else (face, side)): Round(F(5))
        for side in ((LEFT, RIGHT) if across else (BOTTOM, TOP))
    }
    shape = cut(60, 60, edges={face: Arched(F(6))}, corners=corners)
    true_arcs(shape.outline)
    top = cut(
        60,
        60,
        edges={TOP: Arched(F(6))},
        corners={(LEFT, TOP): Round(F(5)), (RIGHT, TOP): Round(F(5))},
    )
    assert area(shape.outline) == pytest.approx(area(top.outline))
    # Oracle: opening the plain arch with a disc rounds exactly its two free corners.
    plain = shapely.Polygon(flattened(cut(60, 60, edges={face: Arched(F(6))}).outline))
    opened = plain.buffer(-5, quad_segs=200).buffer(5, quad_segs=200)
    square_corners = 2 * 25 * (1 - math.pi / 4)
    assert float(area(shape.outline)) == pytest.approx(opened.area + square_corners, abs=0.1)


# ------------------------------------------------------------------ angled ends


@pytest.mark.parametrize(
    ("face", "longest", "short"),
    [
        (RIGHT, TOP, at(30, 0)),
        (RIGHT, BOTTOM, at(30, 50)),
        (LEFT, TOP, at(50, 0)),
        (LEFT, BOTTOM, at(50, 50)),
    ],
)
def test_an_end_at_45_degrees_is_exact(face: Face, longest: Face, short: Point) -> None:
    shape = cut(80, 50, angled={face: Angled(F(45), longest)})
    assert short in [start for start, _ in legs(shape.outline)]
    assert area(shape.outline) == 4000 - 1250


@pytest.mark.parametrize(
    ("face", "longest"), [(TOP, LEFT), (TOP, RIGHT), (BOTTOM, LEFT), (BOTTOM, RIGHT)]
)
def test_a_sloping_top_or_bottom(face: Face, longest: Face) -> None:
    shape = cut(80, 50, angled={face: Angled(F(15), longest)})
    assert float(area(shape.outline)) == pytest.approx(4000 - 3200 * math.tan(math.radians(15)))
    assert bounding_box(shape.outline) == Box(F(0), F(0), F(80), F(50))


def test_angled_ends_are_settled_once() -> None:
    shape = cut(80, 50, angled={RIGHT: Angled(F(30), TOP)})
    # 80 - 50·tan 30° = 51.132486540518711...
    assert Point(F("51.132486540519"), F(0)) in [start for start, _ in legs(shape.outline)]


def test_a_corner_rounded_at_an_angled_end() -> None:
    shape = cut(80, 50, angled={RIGHT: Angled(F(30), TOP)}, corners={(RIGHT, TOP): Round(F(5))})
    true_arcs(shape.outline)
    # At 60°: the fillet loses r²(cot(30°) − 60° in radians... (π − π/3)/2).
    lost = 25 * (1 / math.tan(math.pi / 6) - (math.pi - math.pi / 3) / 2)
    plain = 4000 - 1250 * math.tan(math.pi / 6)
    assert float(area(shape.outline)) == pytest.approx(plain - lost)


# ------------------------------------------------------------------ free outlines


def test_a_half_is_mirrored_about_the_middle() -> None:
    half = Path(at(0, 0), (LineTo(at(10, 20)), LineTo(at(20, 30))), mirrored=Axis.X)
    shape = cut(40, 30, path=half)
    starts = {start for start, _ in legs(shape.outline)}
    assert starts == {at(0, 0), at(10, 20), at(20, 30), at(30, 20), at(40, 0)}
    assert area(shape.outline) > 0


def test_a_half_is_mirrored_upwards() -> None:
    half = Path(at(0, 5), (LineTo(at(5, 0)), LineTo(at(40, 0))), mirrored=Axis.Y)
    shape = cut(40, 30, path=half)
    assert area(shape.outline) == 1200 - 25


@pytest.mark.parametrize("way_round", [1, -1])
def test_an_arc_bulges_outward_whichever_way_round_the_path_goes(way_round: int) -> None:
    corners = [at(0, 0), at(40, 0), at(40, 20), at(0, 20)][::way_round]
    steps = [
        ArcOfRadius(to, F(20), outward=True)
        if {here, to} == {at(40, 20), at(0, 20)}
        else LineTo(to)
        for here, to in zip(corners, [*corners[1:], corners[0]], strict=True)
    ]
    shape = cut(40, 40, path=Path(corners[0], tuple(steps)))
    assert float(area(shape.outline)) == pytest.approx(800 + 200 * math.pi)
    steps = [
        ArcOfRadius(s.to, F(25), outward=False) if isinstance(s, ArcOfRadius) else s for s in steps
    ]
    dented = cut(40, 40, path=Path(corners[0], tuple(steps)))
    half = math.asin(20 / 25)
    assert float(area(dented.outline)) == pytest.approx(
        800 - 625 * (half - math.sin(half) * math.cos(half))
    )


def test_an_arc_through_a_point_is_rational() -> None:
    path = Path(at(0, 0), (LineTo(at(40, 0)), ArcThrough(at(20, 10), at(0, 0))))
    shape = cut(40, 10, path=path)
    arc = next(s for s in shape.outline.segments if isinstance(s, Arc))
    assert arc.centre == at(20, -15)  # r = (20² + 10²)/20 = 25
    assert bounding_box(shape.outline) == Box(F(0), F(0), F(40), F(10))


def test_a_smooth_curve_meets_without_kink_or_jump() -> None:
    points = (at(45, 20), at(35, 26), at(23, 22), at(15, 30), at(5, 20))
    path = Path(at(5, 0), (LineTo(at(50, 0)), CurveThrough(points, F(90), F(-90))))
    shape = cut(60, 40, path=path)
    curves = [(start, s) for start, s in legs(shape.outline) if isinstance(s, Curve)]
    assert [curve.to for _, curve in curves] == list(points)
    spans = [abs(complex(c.to.x - s.x, c.to.y - s.y)) for s, c in curves]
    for index in range(len(curves) - 1):
        (_, one), (joint, two) = curves[index], curves[index + 1]
        h1, h2 = spans[index], spans[index + 1]
        slope_in = complex(one.to.x - one.control2.x, one.to.y - one.control2.y) / h1
        slope_out = complex(two.control1.x - joint.x, two.control1.y - joint.y) / h2
        assert slope_in == pytest.approx(slope_out)
        start = curves[index][0]
        bend_in = complex(
            start_bend(one.control1, one.control2, one.to, 0),
            start_bend(one.control1, one.control2, one.to, 1),
        )
        bend_out = complex(
            start_bend(two.control2, two.control1, joint, 0),
            start_bend(two.control2, two.control1, joint, 1),
        )
        assert start != joint
        assert bend_in / h1**2 == pytest.approx(bend_out / h2**2)
    leaving = curves[0][1].control1
    assert (leaving.x, leaving.y > 0) == (50, True)


def start_bend(one: Point, two: Point, three: Point, axis: int) -> float:
    values = [(p.x, p.y)[axis] for p in (one, two, three)]
    return float(values[0] - 2 * values[1] + values[2])


def test_a_spline_through_points_on_a_line_stays_on_it() -> None:
    points = (at(30, 10), at(20, 10), at(0, 10))
    shape = cut(
        40, 20, path=Path(at(0, 0), (LineTo(at(40, 0)), LineTo(at(40, 10)), CurveThrough(points)))
    )
    assert float(area(shape.outline)) == pytest.approx(400)


# ------------------------------------------------------------------ holes, grooves, hands


def test_openings_have_their_areas() -> None:
    shape = cut(
        holes=(
            RoundHole("peg", at(10, 10), F(3)),
            Slot("slot", at(40, 25), F(20), F(4), Axis.X),
            Slot("upright", at(60, 25), F(20), F(4), Axis.Y),
            Window("window", at(20, 30), F(10), F(8), F(2), F(1)),
            Window("square", at(70, 40), F(6), F(6)),
        )
    )
    areas = {hole.name: float(area(hole.outline)) for hole in shape.holes}
    assert areas == {
        "peg": pytest.approx(math.pi * 2.25),
        "slot": pytest.approx(64 + 4 * math.pi),
        "upright": pytest.approx(64 + 4 * math.pi),
        "window": pytest.approx(80 - 4 * (4 - math.pi)),
        "square": 36,
    }
    boxes = {hole.name: bounding_box(hole.outline) for hole in shape.holes}
    assert boxes["slot"] == Box(F(30), F(23), F(50), F(27))
    assert boxes["upright"] == Box(F(58), F(15), F(62), F(35))
    assert shape.holes[3].depth == 1


def test_a_groove_runs_out_unless_it_is_stopped() -> None:
    shape = cut(
        grooves=(
            GrooveRun("shelf", Axis.X, F(20), F(3), F(1)),
            GrooveRun("back", Axis.Y, F(74), F(2), F(1), start=F(5), far=True),
        )
    )
    shelf, back = shape.grooves
    assert (shelf.low, shelf.high, shelf.open_low, shelf.open_high) == (
        at(0, 20),
        at(80, 23),
        True,
        True,
    )
    assert (back.low, back.high, back.open_low, back.open_high) == (
        at(74, 5),
        at(76, 50),
        False,
        True,
    )


def test_the_other_hand_of_a_side_is_seen_from_the_left() -> None:
    spec = ShapeSpec(
        View.RIGHT,
        F(40),
        F(60),
        corners={(Face.FRONT, TOP): Round(F(10))},
        holes=(RoundHole("peg", at(8, 30), F(2)),),
        grooves=(GrooveRun("shelf", Axis.X, F(20), F(3), F(1), start=F(4)),),
    )
    twin = mirrored_shape(trim(spec))
    assert twin.view is View.LEFT
    assert twin.holes[0].centre == at(32, 30)
    assert (twin.grooves[0].low, twin.grooves[0].high) == (at(0, 20), at(36, 23))
    assert (twin.grooves[0].open_low, twin.grooves[0].open_high) == (True, False)
    assert mirrored_shape(twin) == trim(spec)


def test_a_shape_at_half_scale_has_a_quarter_of_the_area() -> None:
    shape = cut(corners={(LEFT, TOP): Round(F(6))}, holes=(RoundHole("peg", at(10, 10), F(3)),))
    half = scaled_shape(shape, F(1, 2))
    assert area(half.outline) == pytest.approx(area(shape.outline) / 4)
    assert half.holes[0].centre == at(5, 5)
    assert (half.width, half.height) == (40, 25)
