"""Views: against ISO 5456-3 and closed forms; Gauss's theorem for any view."""

import math

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from patternpress.drawing.projection import (
    DIMETRIC_AS_DRAWN,
    FACES,
    ISOMETRIC_AS_DRAWN,
    View,
    axis_angles,
    axis_factors,
    depth,
    dimetric,
    from_direction,
    isometric,
    project,
)

SHARE = st.floats(-1, 1)


@pytest.mark.parametrize(
    ("point", "place"),
    # u = (x - y)/√2, v = √(2/3) z - (x + y)/√6, a closed form in which y runs to the front:
    # a set of axes of the other hand than ours, hence the minus before y.
    [
        ((1, 0, 0), (0.707107, -0.408248)),
        ((0, -1, 0), (-0.707107, -0.408248)),
        ((0, 0, 1), (0, 0.816497)),
        ((1, -1, 1), (0, 0)),
    ],
)
def test_isometric_places(point, place) -> None:
    assert project(isometric(), point) == pytest.approx(place, abs=5e-7)


@pytest.mark.parametrize("hand", ["left", "right"])
@pytest.mark.parametrize("above", [True, False])
@pytest.mark.parametrize("front", [True, False])
def test_isometric_axes_lie_at_120_degrees(hand, above, front) -> None:
    view = isometric(hand, above, front)
    # ISO 5456-3: factors √(2/3), three lines 120° apart.
    assert axis_factors(view) == pytest.approx([math.sqrt(2 / 3)] * 3)
    toward = [math.copysign(1, share) for share in view.toward]
    outward = [
        math.degrees(math.atan2(sign * up, sign * right)) % 360
        for sign, right, up in zip(toward, view.right, view.up, strict=True)
    ]
    low, middle, high = sorted(outward)
    assert (middle - low, high - middle) == pytest.approx((120, 120))
    assert axis_angles(view)[2] == pytest.approx(90)
    assert (toward[0] > 0) is (hand == "right")
    assert (toward[1] < 0) is front
    assert (toward[2] > 0) is above


@pytest.mark.parametrize(("hand", "sign"), [("right", 1), ("left", -1)])
def test_dimetric_axes(hand, sign) -> None:
    view = dimetric(hand)
    # ISO 5456-3 rounds 7.1808° and 41.4096° to 7° and 42°; exact for 1 : 1 : 1/2.
    assert axis_factors(view) == pytest.approx((0.942809, 0.471405, 0.942809), abs=5e-7)
    x, y, z = axis_angles(view)
    assert x == pytest.approx(-sign * 7.1808, abs=5e-5)
    assert y == pytest.approx(41.4096 if sign > 0 else 180 - 41.4096, abs=5e-5)
    assert z == pytest.approx(90)


def test_enlargement_of_views_as_drawn() -> None:
    # ISO 5456-3: 1.22 for isometric; 1 / 0.942809 for dimetric.
    assert pytest.approx(1.224745, abs=5e-7) == ISOMETRIC_AS_DRAWN
    assert axis_factors(isometric())[0] * ISOMETRIC_AS_DRAWN == pytest.approx(1)
    assert axis_factors(dimetric())[1] * DIMETRIC_AS_DRAWN == pytest.approx(1 / 2)


@given(SHARE, SHARE, SHARE)
def test_squares_of_the_factors_add_up_to_two(x: float, y: float, z: float) -> None:
    # Gauss's theorem of axonometry.
    assume(math.hypot(x, y) > 1e-3)
    view = from_direction((x, y, z))
    assert sum(factor**2 for factor in axis_factors(view)) == pytest.approx(2)
    assert view.up[2] > 0
    assert abs(view.right[2]) < 1e-12


@pytest.mark.parametrize(
    ("name", "place", "near"),
    [
        ("front", (2, 5), -3),
        ("back", (-2, 5), 3),
        ("left", (-3, 5), -2),
        ("right", (3, 5), 2),
        ("top", (2, 3), 5),
        ("bottom", (2, -3), -5),
    ],
)
def test_faces(name, place, near) -> None:
    assert project(FACES[name], (2, 3, 5)) == place
    assert depth(FACES[name], (2, 3, 5)) == near


def test_the_isometric_outline_of_a_cube_is_a_hexagon_of_root_three() -> None:
    places = [project(isometric(), (x, y, z)) for x in (0, 1) for y in (0, 1) for z in (0, 1)]
    middle = project(isometric(), (0.5, 0.5, 0.5))
    around = sorted(
        (p for p in places if math.dist(p, middle) > 0.1),
        key=lambda p: math.atan2(p[1] - middle[1], p[0] - middle[0]),
    )
    area = sum(
        (x1 * y2 - x2 * y1) / 2
        for (x1, y1), (x2, y2) in zip(around, [*around[1:], around[0]], strict=True)
    )
    assert len(around) == 6
    assert area == pytest.approx(math.sqrt(3))


@pytest.mark.parametrize(
    ("right", "up", "toward"),
    [
        ((1, 0, 0), (0, 0, 1), (0, 1, 0)),  # a mirror image
        ((1, 0, 0), (0.1, 0, 1), (0, -1, 0)),
        ((2, 0, 0), (0, 0, 0.5), (0, -1, 0)),
        ((math.nan, 0, 0), (0, 0, 1), (0, -1, 0)),
    ],
)
def test_what_is_no_view_is_refused(right, up, toward) -> None:
    with pytest.raises(ValueError, match="do not make a view"):
        View(right, up, toward)


@pytest.mark.parametrize("toward", [(0, 0, 0), (0, 0, 2)])
def test_a_direction_along_the_upright_is_refused(toward) -> None:
    with pytest.raises(ValueError, match="not along its upright"):
        from_direction(toward)
