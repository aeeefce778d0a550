"""How a hole leans, in the step that drills it, on the template of its part, and in the facts."""

from __future__ import annotations

import re

import pytest

from patternpress.assembly.facts import facts
from patternpress.booklet.filltemplates import template_pages
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.sentences import actions
from patternpress.booklet.wording import Wording
from tests.booklet.test_sentences import plainly
from tests.whole.small import TOP, model

RAILS = (
    TOP
    + """
languages: en, de, fr
editions:
  metric: {units: mm, paper: A4}
  deutsch: {units: mm, paper: A4, language: de}
  français: {units: mm, paper: A4, language: fr}
stock:
  board: {sheet: 2 mm}
  rod: {rod: 1 mm}
parts:
  rail:
    stock: board
    wide: 40 mm
    high: 12 mm
    holes:
      peg hole: {round: 1 mm, at: 5 mm from left and 6 mm from bottom, deep: 1.5 mm}
      good hole: {round: 1 mm, at: 30 mm from left and 6 mm from bottom, deep: 1.5 mm}
    pieces: {left rail: as drawn, right rail: mirrored left to right}
  peg: {stock: rod, deep: 8 mm, pieces: [first peg, second peg]}
steps:
  - step: Drill them
    start: left rail
    treat:
      - drill: TARGET
  - step: Glue the pegs
    join:
      right rail: {left: against left rail, bottom and back: flush with left rail}
      first peg: {back: in peg hole of left rail, LEAN}
      second peg: {back: in good hole of left rail}
"""
)
UP = "leans: front raised by 12.5 deg"
SAID = {
    "metric": ["Start the bit square, then lean the drill 12.5° toward the top."],
    "deutsch": ["Setze den Bohrer gerade an und neige ihn dann 12,5° nach oben."],
    "français": ["Amorcez d’équerre, puis inclinez le foret de 12,5° vers le haut."],
}


def worded(target: str, edition: str, lean: str = UP) -> Wording:
    made = model(RAILS.replace("TARGET", target).replace("LEAN", lean), edition)
    return Wording(made, read_phrases(made.edition.language))


@pytest.mark.parametrize("edition", SAID)
def test_the_step_says_how_to_hold_the_drill(edition: str) -> None:
    wording = worded("peg hole of rail, good hole of rail", edition)
    said = plainly(actions(wording.model.worked.usage.steps[0], wording))
    leaning = [each for each in said if "12" in each]
    assert leaning == SAID[edition]
    # Behind the hole it is about, not behind the square one.
    assert said.index(leaning[0]) == 1


def test_the_template_of_either_hand_and_the_facts_say_it() -> None:
    wording = worded("rail", "metric")
    page = template_pages(wording.model, wording)[0]
    told = " ".join(re.findall(r">([^<]+)<", "".join(each.svg for each in page.figures)))
    assert told.count("1.5\u00a0mm deep, 12.5°") == 2
    assert told.count("holes at 12.5°: lean the drill toward the top") == 2
    assert facts(wording.model)["leaning_holes"] == [
        {"part": "rail", "hole": "peg hole", "leans": [{"degrees": "25/2", "toward": "top"}]}
    ]


def test_left_and_right_change_places_on_the_twin() -> None:
    """Turned to the left, seen from above, what points to the front points to the right."""
    wording = worded("rail", "metric", "turned: 10 deg")
    page = template_pages(wording.model, wording)[0]
    told = " ".join(re.findall(r">([^<]+)<", "".join(each.svg for each in page.figures)))
    assert told.count("toward the right") == 1
    assert told.count("toward the left") == 1
