"""Tracks cut along a window: nothing inside is lost, nothing outside is kept, curves stay true.

Shapely cuts the same lines, flattened finely, and both must agree.
"""

from __future__ import annotations

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from patternpress.assembly.flattening import flattened
from patternpress.drawing.clipping import clipped_ink, clipped_track
from patternpress.drawing.curves import Cubic
from patternpress.drawing.ink import Extent, Solid, Stroke, Track, Words, outline_track, straight
from patternpress.drawing.lettering import words
from patternpress.drawing.lines import Pen
from patternpress.drawing.style import DrawingStyle
from tests.drawing import samples

CURVED = [samples.SIDE, samples.HEADBOARD, samples.BRACKET, samples.DISC, samples.RAMP]


def points(track: Track, steps: int = 60) -> list[tuple[float, float]]:
    found = [track.start]
    here = complex(*track.start)
    for piece in track.pieces:
        to = complex(piece.x, piece.y)
        if isinstance(piece, Cubic):
            one, two = complex(piece.x1, piece.y1), complex(piece.x2, piece.y2)
            for index in range(1, steps + 1):
                t = index / steps
                r = 1 - t
                at = r**3 * here + 3 * r * r * t * one + 3 * r * t * t * two + t**3 * to
                found.append((at.real, at.imag))
        else:
            found.append((to.real, to.imag))
        here = to
    return found


@settings(max_examples=60)
@given(
    st.sampled_from(CURVED),
    st.floats(0.01, 0.9),
    st.floats(0.01, 0.9),
    st.floats(0.05, 1.2),
    st.floats(0.05, 1.2),
)
def test_what_is_inside_is_kept_and_nothing_else(
    part: samples.TemplatePart, left: float, low: float, wide: float, high: float
) -> None:
    shape = part.shape
    width, height = float(shape.width), float(shape.height)
    window = Extent(left * width, low * height, (left + wide) * width, (low + high) * height)
    track = outline_track(shape.outline)
    kept = clipped_track(track, window)
    ours = shapely.MultiLineString([points(each) for each in kept])
    ring = shapely.LinearRing(flattened(shape.outline, 0.0005))
    box = shapely.box(window.left, window.bottom, window.right, window.top)
    theirs = ring.intersection(box)
    # Where the outline runs along the window's edge either may keep it.
    edge = box.exterior.buffer(0.01)
    ours, theirs = ours.difference(edge), theirs.difference(edge)
    assert ours.length == pytest.approx(theirs.length, abs=0.05)
    if not ours.is_empty:
        assert ours.hausdorff_distance(theirs) <= 0.02
        assert box.buffer(1e-6).covers(ours)


def test_a_track_inside_comes_back_as_it_is() -> None:
    track = outline_track(samples.DISC.shape.outline)
    assert clipped_track(track, Extent(-1, -1, 101, 101)) == (track,)


def test_a_cut_closed_track_is_in_one_piece_where_it_can_be() -> None:
    # The track begins at (0, 0), in the middle of what is kept.
    square = straight((0, 0), (10, 0), (10, 10), (0, 10), closed=True)
    (kept,) = clipped_track(square, Extent(-5, -5, 5, 20))
    assert [kept.start, *((p.x, p.y) for p in kept.pieces)] == [
        (5.0, 10.0),
        (0, 10),
        (0, 0),
        (5.0, 0.0),
    ]
    assert not kept.closed


def test_two_halves_of_a_cubic_lie_on_it() -> None:
    whole = Track((0.0, 0.0), (Cubic(0, 10, 20, 10, 20, 0),))
    left = clipped_track(whole, Extent(-1, -1, 7, 20))
    right = clipped_track(whole, Extent(7, -1, 30, 20))
    line = shapely.LineString(points(whole, 4000))
    for each in (*left, *right):
        for place in points(each):
            assert line.distance(shapely.Point(place)) < 1e-4
    assert points(left[0])[-1] == pytest.approx(points(right[0])[0], abs=1e-9)


def test_words_and_arrowheads_are_kept_whole_or_not_at_all() -> None:
    style = DrawingStyle()
    said = Words(words("front"), (0.0, 0.0), style.set_in(2.5))
    head = Solid((straight((4, 4), (6, 4), (5, 6), closed=True),))
    line = Stroke((straight((-10, 5), (30, 5)),), Pen(style.thin))
    window = Extent(-1, -2, 5.5, 10)
    assert clipped_ink((said, head, line), window)[0] != said
    assert not any(isinstance(ink, Solid) for ink in clipped_ink((head,), window))
    assert clipped_ink((said,), Extent(-1, -2, 20, 10)) == (said,)
    (cut,) = clipped_ink((line,), window)
    assert isinstance(cut, Stroke)
    assert cut.tracks[0].start == pytest.approx((-1, 5))
