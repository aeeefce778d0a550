"""A step that brings what opens shows it open when it is done, and says how far."""

from __future__ import annotations

import math
import re
from html import unescape

import pytest
import shapely

from patternpress.booklet.atelier import Atelier, atelier
from patternpress.booklet.content import Figure
from patternpress.booklet.fillpictures import step_figures
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.wording import Wording
from patternpress.drawing.finished import cover_scene
from tests.assembly.test_moving import CUPBOARD, made, told
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


CHEST = """design: Chest
scale: 1:12
stock:
  board: {sheet: 2 mm}
parts:
  base: {stock: board, wide: 40 mm, deep: 30 mm}
  end: {stock: board, deep: 30 mm, high: 20 mm, pieces: [left end, right end]}
  tray floor: {stock: board, wide: 34 mm, deep: 28 mm}
  tray end: {stock: board, deep: 28 mm, high: 4 mm, pieces: [tray left, tray right]}
  lid: {stock: board, wide: 40 mm, deep: 30 mm}
sub-assemblies:
  tray: {moves: lifts off}
steps:
  - step: Glue the chest
    start: base
    join:
      left end: {bottom: against base, left: flush with base, front: flush with base}
      right end: {bottom: against base, right: flush with base, front: flush with base}
    wait: 1 h
  - step: Glue the tray
    builds: tray
    start: tray floor
    join:
      tray left:
        bottom: against tray floor
        left: flush with tray floor
        back: flush with tray floor
      tray right:
        bottom: against tray floor
        right: flush with tray floor
        back: flush with tray floor
    wait: 1 h
  - step: Lay the tray in
    join:
      tray:
        bottom: loose against base
        left and right: centred on base
        front and back: centred on base
        opens: TRAY
  - step: Lay the lid on
    join:
      lid:
        bottom: loose against left end
        left: flush with left end
        front: flush with left end
        opens: LID
"""
LIFTED, HINGED = "30 mm to the top", "85 deg to the top about top back edge of lid"


def chest(tray: str, lid: str) -> Atelier:
    text = CHEST
    for word, opens in (("TRAY", tray), ("LID", lid)):
        text = text.replace(
            f"        opens: {word}\n", f"        opens: {opens}\n" if opens else ""
        )
    return atelier(Wording(made("", text), read_phrases("en")))


def highest(place: Atelier, key: str) -> float:
    """How high a piece reaches on the cover, mm over the bench."""
    scene = dict(cover_scene(place.wording.model, place.scenes, place.bulks))
    return max(point[2] for point in scene[key].points)


@pytest.mark.parametrize(
    ("tray", "lid", "low", "high"),
    [
        ("", "", 4.0, 24.0),
        (LIFTED, "", 34.0, 24.0),
        (LIFTED, LIFTED, 34.0, 54.0),
        ("", HINGED, 4.0, 24 + 30 * math.sin(math.radians(85))),
    ],
)
def test_the_cover_shows_a_tray_lifted_and_a_lid_open(
    tray: str, lid: str, low: float, high: float
) -> None:
    place = chest(tray, lid)
    assert highest(place, "tray floor") == pytest.approx(low)
    assert highest(place, "lid") == pytest.approx(high)


@pytest.mark.parametrize(
    ("number", "tray", "lid", "said"),
    [
        (3, LIFTED, "", "Shown open: tray, by 30 mm."),
        (4, "", LIFTED, "Shown open: lid (E), by 30 mm."),
        (4, "", HINGED, "Shown open: lid (E), by 85°."),
    ],
)
def test_the_step_shows_a_tray_or_lid_lifted_when_it_is_done(
    number: int, tray: str, lid: str, said: str
) -> None:
    *_, last = step_figures(chest(tray, lid))[number]
    caption = re.sub(r"<[^>]*>", "", str(last.caption))
    assert said in unescape(caption).replace("\N{NO-BREAK SPACE}", " ")
    barely = "1 deg to the top about top back edge of lid" if lid == HINGED else "1 mm to the top"
    shut = chest(tray and barely, lid and barely)
    *_, near = step_figures(shut)[number]
    assert _shape(str(last.picture)) < 0.9 * _shape(str(near.picture))


def test_a_lid_that_only_lies_there_is_taken_off_before_a_tray_and_a_glued_one_is_not() -> None:
    text = CHEST.replace("        opens: LID\n", "").replace("TRAY", LIFTED)
    assert [each.code for each in told("", text)] == []
    glued = text.replace("bottom: loose against left end", "bottom: against left end")
    assert [each.code for each in told("", glued)] == ["opens-into"]


def _shape(svg: str) -> float:
    """Width by height of what is drawn in a picture."""
    left, low, right, high = shapely.union_all(lines_of(svg)).bounds
    return float((right - left) / (high - low))
