"""Curves in solids: an exact fit still fits, and eased edges lose what the closed forms say."""

from __future__ import annotations

import math
from fractions import Fraction

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from patternpress.assembly.blocks import prism
from patternpress.assembly.convex import bulk, penetration, placed
from patternpress.assembly.cuts import Cut
from patternpress.assembly.easing import chamfered, rounded_over
from patternpress.assembly.hugging import Chord, chords
from patternpress.assembly.joining import joined
from patternpress.assembly.layers import Slab, layered
from patternpress.assembly.outlines import circle, polygon
from patternpress.assembly.shape import Arc, Curve, Line, Outline, Point, View
from patternpress.assembly.solid import check_closed, edges, volume
from patternpress.assembly.solids import blocks_of
from tests.assembly.solid_samples import bulk_named, sample, solid_named, worked

radius = st.integers(1, 4000).map(lambda n: Fraction(n, 127))
error = st.sampled_from([0.1, 0.02, 0.001])


def at(x: object, y: object) -> Point:
    return Point(Fraction(str(x)), Fraction(str(y)))


def off(ring: list[Chord]) -> tuple[float, float]:
    """The least and the greatest distance of a ring from the origin."""
    corners = [math.hypot(*each.start) for each in ring]
    lines = [shapely.LineString([each.start, each.to]).distance(shapely.Point(0, 0))
             for each in ring]  # fmt: skip
    return min(lines), max(corners)


@given(radius, error)
def test_a_disc_lies_inside_its_circle_and_a_hole_outside(true: Fraction, error: float) -> None:
    round_ = float(true)
    allowed = min(error, round_ * (1 - 0.5**0.5))
    low, high = off(chords(circle(at(0, 0), true), error))
    assert round_ - allowed - 1e-9 <= low <= high <= round_ + 1e-9
    low, high = off(chords(circle(at(0, 0), true), error, hole=True))
    assert round_ - 1e-9 <= low <= high <= round_ + max(error, 0.42 * round_) + 1e-9


@given(radius, error)
def test_circles_keep_their_extents(true: Fraction, error: float) -> None:
    for hole in (False, True):
        ring = chords(circle(at(0, 0), true), error, hole=hole)
        across = [each.start[0] for each in ring]
        assert (min(across), max(across)) == pytest.approx((-float(true), float(true)), rel=1e-12)


@settings(max_examples=30)
@given(st.integers(4, 200).map(lambda n: Fraction(n, 16)), st.floats(0, 360))
def test_a_peg_of_the_hole_s_size_fits_however_it_is_turned(true: Fraction, turn: float) -> None:
    """And one that is 0.1 mm thicker does not."""
    wide = float(2 * true) + 4
    corners = [(0.0, 0.0), (wide, 0.0), (wide, wide), (0.0, wide)]
    ring = tuple(
        (Chord(corners[i - 1], corners[i], i, False, 0), ("side", 0)) for i in (1, 2, 3, 0)
    )
    slab = Slab(View.ABOVE, (wide, wide, 2.0), ring, 0.0, 2.0, ("top", "bottom"))
    hole = Cut(View.ABOVE, circle(Point(true + 2, true + 2), true), Fraction(0), Fraction(2))
    blocks = layered(slab, [hole], 0.02)
    board = bulk(joined(blocks), blocks)
    c, s = math.cos(math.radians(turn)), math.sin(math.radians(turn))
    for more, clash in ((Fraction(0), False), (Fraction(1, 10), True)):
        places = [each.start for each in chords(circle(at(0, 0), true + more), 0.02)]
        near, far = ([(x, y, z) for x, y in places] for z in (3.0, -1.0))
        block = prism(near, far, [("", 0)] * (len(places) + 2))
        middle = float(true) + 2
        peg = placed(
            bulk(joined([block]), [block]),
            ((c, -s, 0.0), (s, c, 0.0), (0.0, 0.0, 1.0)),
            (middle, middle, 0.0),
        )
        assert (penetration(peg, board) is not None) is clash


def test_hollows_are_cut_deeper_and_bulges_flatter() -> None:
    """A wave of two half circles: the wood lies above it, and is never more than the true wood."""
    wave = Outline(
        at(0, 0),
        (
            Arc(at(4, 0), at(2, 0), anticlockwise=True),
            Arc(at(8, 0), at(6, 0), anticlockwise=False),
            Line(at(8, 6)),
            Line(at(0, 6)),
            Line(at(0, 0)),
        ),
    )
    ring = chords(wave, 0.02)
    below = [each.start for each in ring if each.curved and each.start[0] < 4]
    above = [each.start for each in ring if each.curved and 4 < each.start[0] < 8]
    assert all(math.dist(p, (2, 0)) <= 2 + 1e-9 for p in below)
    assert all(math.dist(p, (6, 0)) >= 2 - 1e-9 for p in above)
    # The halves run into each other and the first into its upright side; the second ends in a cusp.
    assert {each.smooth for each in ring if each.curved} == {1}
    assert [each.smooth for each in ring if not each.curved] == [0, 0, 1]


def test_free_curves_hug_the_wood() -> None:
    """Against the same curve in fine steps: the wood lies to the left of it."""
    curve = Curve(at(20, 0), at(5, 8), at(15, -8))
    ring = Outline(at(0, 0), (curve, Line(at(20, 20)), Line(at(0, 20)), Line(at(0, 0))))
    fine = shapely.Polygon([each.start for each in chords(ring, 1e-6)])
    for error in (0.1, 0.02):
        rough = shapely.Polygon([each.start for each in chords(ring, error)])
        # Only the chord in which the curve changes its bend may lie on the wrong side, by little.
        assert rough.difference(fine).area < error * 0.5
        assert rough.symmetric_difference(fine).area < error * 25


def test_smooth_stretches_are_numbered_apart() -> None:
    slot = Outline(
        at(0, 0),
        (
            Line(at(6, 0)),
            Arc(at(6, 2), at(6, 1), anticlockwise=True),
            Line(at(0, 2)),
            Arc(at(0, 0), at(0, 1), anticlockwise=True),
        ),
    )
    assert {each.smooth for each in chords(slot, 0.02, first=7)} == {7}
    square = polygon(at(0, 0), at(1, 0), at(1, 1), at(0, 1))
    assert {each.smooth for each in chords(square, 0.02)} == {0}


# ------------------------------------------------------------------ eased edges


@pytest.mark.parametrize(
    ("sides", "long"),
    [(("top", "front"), 40), (("left", "top"), 2), (("left", "back"), 25)],
)
def test_chamfers(sides: tuple[str, str], long: float) -> None:
    """An edge cut off 0.5 mm along both sides loses half a square of 0.5 mm."""
    part, shape = sample("plain")
    solid = solid_named("plain")
    blocks = chamfered(blocks_of(part, shape, worked().solver), solid, sides, 0.5)
    found = joined(blocks)
    assert check_closed(found) == ()
    assert volume(found) == pytest.approx(2000 - 0.125 * long, abs=1e-9)


@pytest.mark.parametrize("radius", [0.25, 0.5, 1])
def test_round_overs(radius: float) -> None:
    """An edge rounded over loses (1 − π/4)·r² of its section, and a little for the chords."""
    part, shape = sample("plain")
    solid = solid_named("plain")
    blocks = blocks_of(part, shape, worked().solver)
    found = joined(rounded_over(blocks, solid, ("top", "front"), radius, 0.002, smooth=5))
    true = 2000 - (1 - math.pi / 4) * radius**2 * 40
    assert true - 0.002 * radius * math.pi / 2 * 40 < volume(found) < true
    assert check_closed(found) == ()
    assert sum(each.smooth == 5 for each in found.facets) >= 4
    assert any(each.kind == "smooth" for each in edges(found))


def test_a_round_over_on_a_slant() -> None:
    """At a corner of angle φ (here 60°) the loss is r²·(cot(φ/2) − (π − φ)/2)."""
    part, shape = sample("slanted")
    solid = solid_named("slanted")
    blocks = rounded_over(
        blocks_of(part, shape, worked().solver), solid, ("bottom", "right"), 1, 0.0005
    )
    inner = math.radians(60)
    loss = 1 / math.tan(inner / 2) - (math.pi - inner) / 2
    assert volume(joined(blocks)) == pytest.approx(volume(solid) - 2 * loss, abs=0.003)


def test_sides_that_meet_in_no_edge() -> None:
    with pytest.raises(ValueError, match="do not meet"):
        chamfered((), bulk_named("plain").solid, ("top", "bottom"), 0.5)
