"""The small block that tells which side is which, and what is said when the work was turned.

Sides are those of the finished piece: left, front and bottom look down the axes x, y and z.
"""

from __future__ import annotations

import pytest
import shapely

from patternpress.drawing.ink import Words
from patternpress.drawing.orientation import sign
from patternpress.drawing.pictures import Staged, step_picture
from patternpress.drawing.views import EYES, view_of
from patternpress.measure.figures import plain
from tests.drawing.demo_pictures import DEMOS, STYLE, Drawn, drawn_steps
from tests.drawing.svg_reader import lines_of, words_of
from tests.sides import WAYS


def facing(drawn: Drawn) -> set[str]:
    """The sides of the finished piece that one looks at in a step's picture."""
    toward = drawn.choice.drawn.view.toward
    return {
        side
        for side, way in WAYS.items()
        if sum(a * b for a, b in zip(way, toward, strict=True)) > 0.2
    }


@pytest.mark.parametrize("demo", DEMOS)
def test_every_picture_names_the_sides_that_one_sees(demo: str) -> None:
    for drawn in drawn_steps(demo):
        named = [text for text, _, _ in words_of(drawn.action.svg) if text in WAYS]
        assert len(named) == len(set(named)), drawn
        seen = facing(drawn)
        assert set(named) <= seen, drawn
        assert seen - set(named) <= {"top"}, drawn  # what is on top goes without saying


@pytest.mark.parametrize("lies", ["upright", "on its back", "on its top", "on its left"])
@pytest.mark.parametrize("eye", EYES)
def test_a_name_stands_on_the_side_that_it_names(eye: str, lies: str) -> None:
    view = view_of(eye, lies)
    names = [ink for ink in sign(view, lies == "upright", STYLE) if isinstance(ink, Words)]
    assert len(names) >= 2
    for ink in names:
        way = WAYS[plain(ink.figure)]
        across = sum(a * b for a, b in zip(way, view.right, strict=True))
        if abs(across) >= 0.3:
            assert ink.at[0] * across > 0
        else:
            rise = sum(a * b for a, b in zip(way, view.up, strict=True))
            assert ink.at[1] * rise > 0


@pytest.mark.parametrize("demo", DEMOS)
def test_work_that_was_turned_says_how_it_lies(demo: str) -> None:
    drawn = drawn_steps(demo)[0]
    turned = step_picture(Staged(drawn.choice, turned=True), "Turned", STYLE)
    said = {text for text, _, _ in words_of(turned.svg)}
    told = STYLE.say(drawn.choice.scene.lies)
    assert told in said
    assert told not in {text for text, _, _ in words_of(drawn.action.svg)}


@pytest.mark.parametrize("demo", DEMOS)
def test_the_sign_beside_those_words_is_an_arrow_bent_by_half_a_turn(demo: str) -> None:
    drawn = drawn_steps(demo)[0]
    turned = step_picture(Staged(drawn.choice, turned=True), "Turned", STYLE)
    said = STYLE.say(drawn.choice.scene.lies)
    (bow,) = (each for each in lines_of(turned.svg) if is_bow(each))
    (told,) = (box for text, box, _ in words_of(turned.svg) if text == said)
    assert 0 < told.distance(bow) < 4
    assert not any(is_bow(each) for each in lines_of(drawn.action.svg))


def is_bow(line: shapely.LineString) -> bool:
    """Whether a line goes up, over and down again, round one middle, to the right."""
    places = list(line.coords)
    x, y = places[0]
    if len(places) < 12 or places[-1][0] - x < 3 or line.is_ring:
        return False
    middle = shapely.Point((x + 2.0), y)
    round_it = all(abs(middle.distance(shapely.Point(each)) - 2.0) < 0.02 for each in places)
    return round_it and min(each[1] for each in places) < y - 1.9  # on the page y runs down
