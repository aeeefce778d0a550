"""Where to measure: arrows across the openings that fitted parts go into."""

import pytest
import shapely

from patternpress.assembly.lying import bench_way
from patternpress.booklet.atelier import Atelier, atelier
from patternpress.booklet.fillmeasured import measured_figures
from patternpress.booklet.wording import wording_of
from patternpress.drawing.openingview import (
    Arrow,
    OpeningScene,
    opening_arrows,
    opening_picture,
    opening_scene,
)
from patternpress.drawing.projection import View, axis_factors
from patternpress.drawing.things import span_of
from tests.drawing.demo_pictures import STYLE, bulks_for, model_of
from tests.drawing.svg_reader import words_of

WORDS = {"wide": "width", "deep": "depth", "high": "height"}
MEASURED = [("keepers-desk", "drawer opening"), ("net-tote", "tray bed")]


def scene_of(demo: str) -> OpeningScene:
    model = model_of(demo)
    for number, step in enumerate(model.worked.usage.steps, 1):
        for each in model.worked.book.openings:
            if each.name.value in [said.value for said in step.measure]:
                found = opening_scene(model, bulks_for(demo), each, number)
                assert found is not None
                return found
    raise AssertionError(f"{demo} measures nothing")


def true_length(arrow: Arrow, axis: str, view: View) -> float:
    """What an arrow stands for, mm: a line along an axis is shortened by the axis's factor."""
    return float(arrow.line.length / axis_factors(view)[list(WORDS).index(axis)])


@pytest.mark.parametrize(("demo", "opening"), MEASURED)
def test_an_arrow_is_as_long_as_what_is_measured_less_the_clearance(
    demo: str, opening: str
) -> None:
    worked = model_of(demo).worked
    said = next(each for each in worked.book.openings if each.name.value == opening)
    axes = [axis for axis in WORDS if getattr(said, axis)]
    view, found = opening_arrows(scene_of(demo), axes)
    for arrows in found:
        assert arrows, "an opening without an arrow"
        for axis, arrow in arrows.items():
            planned = worked.solver.opening(said, axis)
            assert planned is not None
            most = 0.01 * float(planned.value) + 0.5
            assert 0 <= float(planned.value) - true_length(arrow, axis, view) <= most


def test_both_drawers_have_their_arrows_and_each_word_stands_once() -> None:
    scene = scene_of("keepers-desk")
    _, found = opening_arrows(scene, list(WORDS))
    assert [sorted(each) for each in found] == [["deep", "high", "wide"]] * 2
    picture = opening_picture(scene, WORDS, "Where to measure", STYLE)
    assert picture is not None
    told = [text for text, *_ in words_of(picture.svg) if text in WORDS.values()]
    assert sorted(told) == ["depth", "height", "width"]


def test_how_deep_a_drawer_goes_is_an_arrow_in_at_its_mouth_that_ends_broken() -> None:
    """It lies on a face that nobody sees, but one looks in as far as the edge over it."""
    scene = scene_of("keepers-desk")
    view, found = opening_arrows(scene, list(WORDS))
    for arrows, pieces in zip(found, scene.openings, strict=True):
        arrow, mouth = arrows["deep"], arrows["high"]
        assert 0.1 <= arrow.share < 0.6
        low, high = span_of(pieces)
        assert true_length(arrow, "deep", view) == pytest.approx(high[1] - low[1])
        # Seen from the front edge on; the word points at what is seen.
        assert arrow.seen.distance(shapely.Point(arrow.line.coords[0])) < 0.01
        assert arrow.seen.distance(shapely.Point(arrow.middle)) < 0.01
        assert arrow.line.length > mouth.line.length


def test_the_desk_stands_as_the_step_before_left_it_and_has_no_drawers_yet() -> None:
    scene = scene_of("keepers-desk")
    assert scene.lies == "upright"  # it was turned over from its top just before
    assert {item.letter for item in scene.items}.isdisjoint("JKLMN")
    view, _ = opening_arrows(scene, list(WORDS))
    up = bench_way("upright", (0.0, 0.0, 1.0))
    assert sum(a * b for a, b in zip(view.up, up, strict=True)) > 0.5


def test_between_leaning_sides_one_measures_where_the_part_will_rest() -> None:
    scene = scene_of("net-tote")
    _, (arrows,) = opening_arrows(scene, ["wide", "deep"])
    assert sorted(arrows) == ["deep", "wide"]
    runners = [span_of([item]) for item in scene.items if "runner" in item.piece]
    rest = span_of(scene.openings[0])[0][2]
    assert [high[2] for _, high in runners] == pytest.approx([rest] * len(runners))


def test_what_wood_covers_of_an_arrow_is_broken_and_its_head_empty() -> None:
    scene = scene_of("net-tote")
    _, (arrows,) = opening_arrows(scene, ["wide", "deep"])
    assert any(each.share < 0.999 for each in arrows.values())
    picture = opening_picture(scene, {"wide": "width", "deep": "depth"}, "Measure", STYLE)
    assert picture is not None
    assert "stroke-dasharray" in picture.svg


@pytest.mark.parametrize(("demo", "opening"), MEASURED)
def test_the_step_that_measures_shows_where(demo: str, opening: str) -> None:
    place: Atelier = atelier(wording_of(model_of(demo)))
    figures = dict(measured_figures(place))
    steps = model_of(demo).worked.usage.steps
    assert set(figures) == {n for n, step in enumerate(steps, 1) if step.measure}
    assert all("along the arrows" in each.caption for (each,) in figures.values())
    assert all(opening in str(each.picture) for (each,) in figures.values())
    assert dict(measured_figures(place, only=())) == {}
