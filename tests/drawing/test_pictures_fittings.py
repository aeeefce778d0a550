"""Bought fittings without sizes have a sign at their place, and their letter."""

import math
import re

import pytest

from patternpress.drawing.finished import best_eye, cover_scene, exploded_scene, fittings_apart
from patternpress.drawing.fittings import Fitting
from patternpress.drawing.fittingsigns import HEAD, OUT, one_of_each, sign_of, signs_apart
from patternpress.drawing.groups import STILL
from patternpress.drawing.projection import project
from patternpress.drawing.sight import screens_of
from patternpress.drawing.views import view_of
from tests.drawing.demo_pictures import (
    DEMOS,
    STYLE,
    Drawn,
    bulks_for,
    drawn_steps,
    model_of,
    scenes_of,
)

VIEW = view_of("front right above", "upright")


def with_fittings() -> list[Drawn]:
    return [each for demo in DEMOS for each in drawn_steps(demo) if each.scene.fittings]


def test_every_piece_without_sizes_is_in_the_picture_of_its_step() -> None:
    for demo in DEMOS:
        model, bulks = model_of(demo), bulks_for(demo)
        told = {(scene.work, f.key) for scene in scenes_of(demo) for f in scene.fittings}
        bare = {
            (work, each.key)
            for work, pieces in model.assembly.works.items()
            for each in pieces
            if each.part not in bulks and each.brought in ("", each.piece)
        }
        assert bare
        assert told == bare


def test_a_screw_sits_at_the_mouth_of_its_hole() -> None:
    # The net tote's sides lean out by 8 degrees; a screw's hole goes through one of them.
    scene = next(each for each in scenes_of("net-tote") if each.number == 5)
    assert len(scene.fittings) == 14
    ways = {(each.owner, each.way[1]) for each in scene.fittings}
    assert ways == {
        ("end screw", -1.0),
        ("end screw", 1.0),
        ("front floor screw", -1.0),
        ("back floor screw", 1.0),
    }
    for each in scene.fittings:
        side = next(item for item in scene.items if item.key == each.on)
        assert side.part == "tote side"
        low, high = (f(p[1] for p in side.solid.points) for f in (min, max))
        assert low - 1e-6 <= each.at[1] <= high + 1e-6
        assert each.hole


def test_what_is_laid_on_a_face_has_another_sign_than_what_goes_into_a_hole() -> None:
    hanger = next(f for s in scenes_of("signal-shelf") for f in s.fittings)
    assert hanger.owner == "hanger"
    assert not hanger.hole
    screw = Fitting("a", "screw", "E", "side", (0.0, 0.0, 0.0), (0.0, -1.0, 0.0), True)
    laid = Fitting("a", "plate", "E", "side", (0.0, 0.0, 0.0), (0.0, -1.0, 0.0), False)
    signs = [sign_of(each, STILL, VIEW, 1.0, STYLE) for each in (screw, laid)]
    assert [type(ink).__name__ for ink in signs[0].inks] != [
        type(i).__name__ for i in signs[1].inks
    ]


@pytest.mark.parametrize("scale", [0.05, 1.0, 8.0])
def test_a_sign_has_one_size_at_every_scale(scale: float) -> None:
    screw = Fitting("a", "screw", "E", "side", (3.0, -2.0, 7.0), (0.0, -1.0, 0.0), True)
    sign = sign_of(screw, STILL, VIEW, scale, STYLE)
    low_x, low_y, high_x, high_y = sign.head.bounds
    assert high_x - low_x == pytest.approx(2 * HEAD)
    assert high_y - low_y == pytest.approx(2 * HEAD)
    x, y = project(VIEW, screw.at)
    home = (x * scale, y * scale)
    assert math.dist(sign.head.centroid.coords[0], home) == pytest.approx(OUT)


def test_every_kind_of_fitting_has_its_letter_in_the_step() -> None:
    assert len(with_fittings()) == 5
    for drawn in with_fittings():
        counts: dict[str, int] = {}
        for each in drawn.scene.fittings:
            counts[each.letter] = counts.get(each.letter, 0) + 1
        for letter, count in counts.items():
            text = letter if count == 1 else f"{count} × {letter}"
            assert re.search(rf">{text}</tspan>", drawn.action.svg), (drawn, text)


@pytest.mark.parametrize("demo", DEMOS)
def test_every_kind_of_fitting_is_among_all_pieces_apart(demo: str) -> None:
    model, bulks, scenes = model_of(demo), bulks_for(demo), scenes_of(demo)
    eye, _ = best_eye(cover_scene(model, scenes, bulks))
    apart = exploded_scene(model, scenes, bulks, eye)
    hung = fittings_apart(model, scenes, bulks, apart)
    bare = sorted(each.key for each in model.assembly.placed if each.part not in bulks)
    assert sorted(each.key for each, _ in hung) == bare
    signs = signs_apart(hung, apart, 0.5, STYLE, screens_of(apart.scene, apart.view))
    kinds = {each.owner for each, _ in hung}
    assert [each.fitting.owner for each in one_of_each(signs)] == list(
        dict.fromkeys(each.owner for each, _ in hung)
    )
    assert kinds
