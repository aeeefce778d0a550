"""No picture of a booklet is drawn twice, and every one is made of greys alone."""

from __future__ import annotations

import itertools
import re
from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from patternpress.assembly.model import work_out
from patternpress.booklet import fillpictures
from patternpress.booklet.atelier import atelier
from patternpress.booklet.content import Figure
from patternpress.booklet.fillfinished import finished_pictures
from patternpress.booklet.fillpictures import step_figures
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.wording import Wording
from patternpress.design.read import read_design
from patternpress.drawing.framing import Picture
from tests.drawing.demo_pictures import DESIGNS, STYLE
from tests.drawing.svg_reader import words_of

DRAWERS = ("step_picture", "state_picture", "face_pictures")


def wording(edition: str) -> Wording:
    return Wording(work_out(read_design(Path(DESIGNS / "keepers-desk.yaml")), edition), EN)


EN = read_phrases("en")


def test_no_picture_is_drawn_twice(monkeypatch: pytest.MonkeyPatch) -> None:
    drawn: Counter[str] = Counter()
    for name in DRAWERS:
        make = getattr(fillpictures, name)

        def counted(*args: Any, make: Any = make, **more: Any) -> Picture | tuple[Picture, ...]:
            made: Picture | tuple[Picture, ...] = make(*args, **more)
            for picture in made if isinstance(made, tuple) else (made,):
                drawn[picture.svg] += 1
            return made

        monkeypatch.setattr(fillpictures, name, counted)
    kept: dict[str, Any] = {}
    first = step_figures(atelier(wording("metric"), kept))
    assert len(drawn) > len(first) > 5
    assert set(drawn.values()) == {1}
    # The same edition once more draws nothing new.
    before = sum(drawn.values())
    again = step_figures(atelier(wording("metric"), kept))
    assert sum(drawn.values()) == before
    assert again == first


@pytest.fixture(scope="module")
def figures() -> dict[int, tuple[Figure, ...]]:
    """The pictures of the desk's steps."""
    return step_figures(atelier(wording("metric")))


def test_work_that_lies_otherwise_than_it_did_says_so_in_its_picture(
    figures: dict[int, tuple[Figure, ...]],
) -> None:
    """The case was built upright; it is laid on its top for its legs, and stood up after that."""
    told = {
        number: text
        for number, each in figures.items()
        for text, _, _ in words_of(str(each[0].picture))
        if text.startswith("now ") or text == "upright again"
    }
    assert told == {6: "now on its top", 13: "upright again"}


def test_the_pictures_of_steps_need_no_colour(figures: dict[int, tuple[Figure, ...]]) -> None:
    told = {
        colour
        for each in figures.values()
        for figure in each
        for colour in re.findall(r"(?:fill|stroke)=\"([^\"]+)\"", str(figure.picture))
    }
    assert "#000" in told
    for colour in told - {"none"}:
        digits = colour.removeprefix("#")
        wide = len(digits) // 3
        assert len({digits[n : n + wide] for n in range(0, len(digits), wide)}) == 1, colour


def test_every_picture_tells_its_scale_or_that_it_has_none() -> None:
    place = atelier(wording("metric"))
    finished = finished_pictures(place)
    first = min(step_figures(place).items())[1]
    steps = [figure for figures in step_figures(place).values() for figure in figures]
    told = [str(each.caption) for each in steps if "to scale" in str(each.caption)]
    assert len(told) == 1  # once, under the first that joins something, for all of them
    assert told[0].count("No picture of a step is to scale.") == 1 and first
    assert "Not to scale" in str(finished.apart[0].caption)
    assert "scale 1:1" in str(finished.views[0].picture)


@pytest.mark.parametrize("tones", [STYLE.strong_tones, STYLE.quiet_tones])
def test_faces_that_look_different_ways_have_different_greys(tones: tuple[float, ...]) -> None:
    assert sorted(tones, reverse=True) == list(tones)
    assert all(one - two > 0.01 for one, two in itertools.pairwise(tones))
    assert STYLE.strong_tones < STYLE.quiet_tones  # what comes now is darker than what is there
