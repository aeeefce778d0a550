"""A step that brings what opens shows it open when it is done, and says how far."""

from __future__ import annotations

import re
from html import unescape

import pytest
import shapely

from patternpress.booklet.atelier import Atelier, atelier
from patternpress.booklet.content import Figure
from patternpress.booklet.fillpictures import step_figures
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.wording import Wording
from tests.assembly.test_moving import CUPBOARD, made
from tests.drawing.svg_reader import lines_of

TURNS = "100 deg to the front about left front edge of door"


def place(opens: str, language: str = "en") -> Atelier:
    return atelier(Wording(made(opens), read_phrases(language)))


def last_of(opens: str, language: str = "en") -> Figure:
    """The last figure of the step that brings the door."""
    return step_figures(place(opens, language))[2][-1]


@pytest.mark.parametrize(
    ("language", "opens", "said"),
    [
        ("en", TURNS, "Shown open: door (D), by 100°."),
        ("en", "12.5 mm to the front", "Shown open: door (D), by 12.5 mm."),
        ("de", TURNS, "Offen gezeigt: door (D) um 100°."),
        ("fr", TURNS, "Position ouverte : door (D) (100°)."),
    ],
)
def test_the_caption_says_what_is_open_and_how_far(language: str, opens: str, said: str) -> None:
    caption = re.sub(r"<[^>]*>", "", str(last_of(opens, language).caption))
    assert said in unescape(caption).replace("\N{NO-BREAK SPACE}", " ")


def test_what_opens_alone_in_its_step_has_a_picture_of_its_own_when_it_is_done() -> None:
    """A step that brings one thing has no such picture otherwise: the one on the way shows it."""
    text = CUPBOARD.replace(
        "      knob: {back: against door, right: 4 mm inside door, top: 10 mm inside door}\n", ""
    ).replace("  knob: {stock: board, deep: 4 mm, high: 6 mm}\n", "")
    for opens, count in ((f"        opens: {TURNS}\n", 2), ("", 1)):
        said = text.replace("        opens: OPENS\n", opens)
        figures = step_figures(atelier(Wording(made("", said), read_phrases("en"))))
        assert len(figures[2]) == count


def test_an_open_door_reaches_out_of_the_picture_of_a_shut_one() -> None:
    wide, narrow = (_shape(str(last_of(opens).picture)) for opens in (TURNS, "1 mm to the front"))
    assert wide > 1.2 * narrow


def _shape(svg: str) -> float:
    """Width by height of what is drawn in a picture."""
    left, low, right, high = shapely.union_all(lines_of(svg)).bounds
    return float((right - left) / (high - low))
