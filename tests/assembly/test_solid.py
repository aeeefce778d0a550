"""Solids: volume, centre and edges against closed forms; open surfaces are found."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from patternpress.assembly.solid import (
    Facet,
    Solid,
    bounds,
    box,
    centre,
    check_closed,
    edges,
    facet,
    moved,
    volume,
)
from tests.drawing.solid_scenes import L_SHAPE, MIRRORED, WEDGE, prism, round_outline, turn
from tests.sides import WAYS

LENGTH = st.floats(0.1, 300)


@given(LENGTH, LENGTH, LENGTH)
def test_a_box_measures_up(wide: float, deep: float, high: float) -> None:
    solid = box(wide, deep, high)
    assert volume(solid) == pytest.approx(wide * deep * high)
    assert centre(solid) == pytest.approx((wide / 2, deep / 2, high / 2))
    assert bounds(solid) == ((0, 0, 0), (wide, deep, high))
    assert check_closed(solid) == ()
    assert [edge.kind for edge in edges(solid)] == ["crease"] * 12


def test_sides_of_a_box_face_where_their_names_say() -> None:
    assert {each.side: each.normal for each in box(3, 4, 5).facets} == WAYS


@pytest.mark.parametrize(
    ("solid", "cubic", "middle"),
    [
        # L: 30 x 10 and 10 x 15, 8 thick; centre from the two rectangles.
        (
            prism(L_SHAPE, 8),
            450 * 8,
            ((300 * 15 + 150 * 5) / 450, (300 * 5 + 150 * 17.5) / 450, 4),
        ),
        # Triangular prism: a third of the way from the right angle.
        (prism(WEDGE, 10), 1800, (10, 4, 5)),
        # A frame: the outer prism less the hole.
        (
            prism([(0, 0), (20, 0), (20, 20), (0, 20)], 3, [[(5, 5), (9, 5), (9, 9), (5, 9)]]),
            (400 - 16) * 3,
            ((4000 - 16 * 7) / 384, (4000 - 16 * 7) / 384, 1.5),
        ),
        # Frustum of a pyramid, h (A + √(A a) + a) / 3 (Machinery's Handbook, from memory).
        (
            prism([(-6, -6), (6, -6), (6, 6), (-6, 6)], 9, top=0.5),
            9 * (144 + 72 + 36) / 3,
            (0, 0, 9 / 4 * (144 + 2 * 72 + 3 * 36) / (144 + 72 + 36)),
        ),
    ],
)
def test_volume_and_centre(solid: Solid, cubic: float, middle: tuple[float, ...]) -> None:
    assert check_closed(solid) == ()
    assert volume(solid) == pytest.approx(cubic)
    assert centre(solid) == pytest.approx(middle)


@pytest.mark.parametrize("matrix", [turn("x", 40), turn("z", -130), MIRRORED])
def test_moving_keeps_volume_and_turns_facets_outwards(matrix) -> None:
    solid = prism(L_SHAPE, 8, curved=True)
    there = moved(solid, matrix, (5.0, -7.0, 11.0))
    assert volume(there) == pytest.approx(volume(solid))
    assert check_closed(there) == ()
    for each in there.facets:
        assert facet(there.points, each.loops).normal == pytest.approx(each.normal)
    assert [each.smooth for each in there.facets] == [each.smooth for each in solid.facets]


def test_a_matrix_that_stretches_is_refused() -> None:
    with pytest.raises(ValueError, match="more than turn"):
        moved(box(1, 1, 1), ((2.0, 0, 0), (0, 1.0, 0), (0, 0, 1.0)), (0, 0, 0))


def test_edges_of_a_rod_are_creases_at_the_rims_only() -> None:
    found = edges(prism(round_outline(5, 16), 40, curved=True))
    assert [edge.kind for edge in found].count("crease") == 32
    assert [edge.kind for edge in found].count("smooth") == 16


def test_facets_in_one_plane_have_no_crease_between_them() -> None:
    cube = box(2, 2, 2)
    halves = [facet(cube.points, [(4, 5, 7)]), facet(cube.points, [(4, 7, 6)])]
    split = Solid(cube.points, (*cube.facets[:5], *halves))
    assert check_closed(split) == ()
    assert [(e.start, e.end) for e in edges(split) if e.kind == "smooth"] in ([(4, 7)], [(7, 4)])


def test_a_missing_facet_leaves_its_edges_open() -> None:
    cube = box(1, 1, 1)
    found = check_closed(Solid(cube.points, cube.facets[:-1]))
    assert {frozenset(pair) for pair in found} == {
        frozenset(pair) for pair in ((4, 5), (5, 7), (7, 6), (6, 4))
    }


def test_a_facet_turned_inwards_is_found() -> None:
    cube = box(1, 1, 1)
    last = cube.facets[-1]
    turned = Facet(tuple(loop[::-1] for loop in last.loops), last.normal)
    assert len(check_closed(Solid(cube.points, (*cube.facets[:-1], turned)))) == 8


def test_a_facet_without_area_is_refused() -> None:
    with pytest.raises(ValueError, match="no area"):
        facet([(0, 0, 0), (1, 0, 0), (2, 0, 0)], [(0, 1, 2)])


def test_a_solid_without_volume_has_no_centre() -> None:
    cube = box(1, 1, 1)
    with pytest.raises(ValueError, match="no volume"):
        centre(Solid(cube.points, cube.facets[:1]))


def test_a_faceted_cylinder_nears_the_round_one_from_below() -> None:
    # n sin(2π/n) / 2 · r² · h, the area of a regular polygon.
    solid = prism(round_outline(5, 360), 10)
    assert volume(solid) == pytest.approx(360 * math.sin(math.pi / 180) / 2 * 250)
    assert math.pi * 250 - 0.05 < volume(solid) < math.pi * 250
