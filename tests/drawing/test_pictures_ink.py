"""What the ink of a picture tells: outlines, depth, glue, pencil lines, at every size alike."""

import itertools
import re

import pytest
import shapely

from patternpress.assembly.lying import bench_way
from patternpress.assembly.solid import box, dot
from patternpress.drawing.glue import glue_marks, pencil_marks
from patternpress.drawing.ink import Ink, Stroke, Tone
from patternpress.drawing.lines import Pen
from patternpress.drawing.pictures import UP
from patternpress.drawing.picturestyle import PictureStyle, large
from patternpress.drawing.rendering import lines, render, scaled, tones
from patternpress.drawing.views import EYES, patch_shape, view_of
from tests.drawing.demo_pictures import DEMOS, STYLE, Drawn, drawn_steps

# ISO 128-2: widths of lines, mm; each about √2 times the one before (from memory).
WIDTHS = (0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0)
EVERY = [each for demo in DEMOS for each in drawn_steps(demo)]
ABOVE = [eye for eye, way in EYES.items() if way[2] > 0]


def runs_of(inks: list[Ink], pen: Pen) -> list[shapely.LineString]:
    return [
        shapely.LineString([t.start, *((p.x, p.y) for p in t.pieces)])
        for ink in inks
        if isinstance(ink, Stroke) and ink.pen == pen
        for t in ink.tracks
    ]


@pytest.mark.parametrize("style", [STYLE, large(STYLE)], ids=["usual", "large print"])
def test_an_outline_is_heavier_than_the_edges_within_and_both_are_of_the_standard(
    style: PictureStyle,
) -> None:
    for outer, inner in (style.strong_pens, style.quiet_pens, style.plain_pens):
        assert {float(outer.width), float(inner.width)} <= set(WIDTHS)
        assert outer.width > inner.width
    assert style.strong_pens[0].width >= 2 * style.strong_pens[1].width
    assert style.strong_pens[0].width > style.quiet_pens[0].width


def test_the_outline_of_a_new_box_is_drawn_with_the_heavy_pen_and_its_corner_with_the_light() -> (
    None
):
    drawn = render([("box", box(30, 20, 10))], view_of("front right above", "upright"))
    inks = list(lines(drawn, 1.0, {"box"}, STYLE))
    heavy, light = (runs_of(inks, pen) for pen in STYLE.strong_pens)
    outline = drawn.whole.exterior
    # Six edges round the outside, three that meet in the corner towards the eye.
    assert sum(each.length for each in heavy) == pytest.approx(outline.length)
    assert all(outline.buffer(1e-6).contains(each) for each in heavy)
    assert len(light) == 3
    assert (
        sum(outline.distance(shapely.Point(run.coords[i])) > 1 for run in light for i in (0, 1))
        == 3
    )


@pytest.mark.parametrize("eye", ABOVE)
def test_the_three_faces_of_a_new_piece_have_three_greys_that_a_printer_tells_apart(
    eye: str,
) -> None:
    view = view_of(eye, "upright")
    drawn = render([("box", box(30, 20, 10))], view)
    strong, quiet = (
        [
            ink
            for ink in tones(drawn, 1.0, keys, bench_way("upright", UP), STYLE)
            if isinstance(ink, Tone)
        ]
        for keys in ({"box"}, set())
    )
    greys = sorted(each.grey for each in strong)
    assert len(greys) == 3
    assert all(b - a >= 0.07 for a, b in itertools.pairwise(greys))
    assert all(each.grey >= 0.95 for each in quiet)


def seen_patches(drawn: Drawn) -> list[shapely.Geometry]:
    """What is seen of the faces that take glue, at the picture's scale; slivers left out."""
    found = []
    for patch in drawn.scene.patches:
        seen = drawn.choice.drawn.seen_of(patch.on).get(patch.facet)
        if seen is not None and patch.glued:
            whole = patch_shape(drawn.choice.scene, patch, drawn.choice.drawn.view)
            shape = scaled(shapely.intersection(whole, seen), drawn.action.scale)
            if shapely.buffer(shape, -0.3).area > 0.3:
                found.append(shape)
    return found


def test_every_face_that_takes_glue_is_dotted_where_it_is_seen_and_nothing_else_is() -> None:
    faces = 0
    for drawn in EVERY:
        inks = list(glue_marks(drawn.choice.scene, drawn.choice.drawn, drawn.action.scale, STYLE))
        dots = runs_of(inks, STYLE.glue)
        patches = seen_patches(drawn)
        assert all(any(dot_.intersects(each) for dot_ in dots) for each in patches), drawn
        taking = shapely.union_all(
            [
                scaled(
                    patch_shape(drawn.choice.scene, p, drawn.choice.drawn.view), drawn.action.scale
                )
                for p in drawn.scene.patches
            ]
        ).buffer(1e-6)
        assert all(taking.contains(each) for each in dots), drawn
        assert drawn.action.dotted is bool(dots)
        faces += len(patches)
    assert faces > 30


def test_pencil_lines_are_shown_on_the_faces_that_one_sees() -> None:
    shown = 0
    for drawn in EVERY:
        scene, seen = drawn.choice.scene, drawn.choice.drawn
        ways = {mark.on: mark.normal for mark in scene.marks}
        toward = {on for on, normal in ways.items() if dot(normal, seen.view.toward) > 0.01}
        strokes = runs_of(list(pencil_marks(scene, seen, drawn.action.scale, STYLE)), STYLE.pencil)
        for stroke in strokes:
            regions = [scaled(seen.region([on]), drawn.action.scale) for on in toward]
            assert any(each.buffer(1e-3).contains(stroke) for each in regions), drawn
        shown += bool(strokes)
    assert shown >= 3


def test_small_and_large_works_are_drawn_with_the_same_lines_and_letters_and_fill_their_room() -> (
    None
):
    scales = [drawn.action.scale for drawn in EVERY]
    assert max(scales) > 20 * min(scales)
    widths = {
        each.scene.number: set(re.findall(r'stroke-width="([\d.]+)"', each.action.svg))
        for each in (
            min(EVERY, key=lambda e: e.action.scale),
            max(EVERY, key=lambda e: e.action.scale),
        )
    }
    first, second = widths.values()
    assert {"0.5", "0.25", "0.18"} <= first & second
    for drawn in EVERY:
        low_x, low_y, high_x, high_y = drawn.choice.drawn.bounds
        wide, high = ((high_x - low_x), (high_y - low_y))
        fill = max(wide / 64, high / 80) * drawn.action.scale
        # A window takes up to half of the height.
        assert fill >= (0.45 if drawn.detail else 0.65), drawn
