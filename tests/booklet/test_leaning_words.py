"""How a hole leans, in the step that drills it, on the template of its part, and in the facts."""

from __future__ import annotations

import math
import re
from pathlib import Path

import pytest

from patternpress.assembly.facts import facts
from patternpress.assembly.outlines import area, bounding_box
from patternpress.booklet.filltemplates import template_pages
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.sentences import actions
from patternpress.booklet.wording import Wording
from patternpress.closing.close import close
from patternpress.closing.table import table
from patternpress.design.read import read_text
from patternpress.drawing.cutlines import cut_lines
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
PROPS = (
    TOP
    + """
stock:
  board: {{sheet: 2 mm}}
parts:
  base: {{stock: board, wide: 60 mm, deep: 30 mm}}
  wall: {{stock: board, wide: 60 mm, high: 30 mm}}
  prop:
    stock: board
    wide: 4 mm
    high: 20 mm
    leans: top 6 deg to the left
    pieces: {{left prop: {0}, right prop: {1}}}
steps:
  - step: Glue them
    start: base
    join:
      wall: {{bottom: against base, left and back: flush with base}}
      left prop: {{back: against wall, bottom: 1 mm from top of base, left: 9 mm inside wall}}
      right prop: {{back: against wall, bottom: 1 mm from top of base, right: 9 mm inside wall}}
"""
)
SAID = {
    "metric": ["Start the bit square. Then lean the drill 12.5° toward the top."],
    "deutsch": ["Setze den Bohrer gerade an. Neige ihn dann 12,5° nach oben."],
    "français": ["Amorcez d’équerre. Inclinez ensuite le foret de 12,5° vers le haut."],
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


def test_its_mouth_is_longer_the_way_it_leans() -> None:
    """1 / cos 12.5° = 1.02428; a cutter only marks it, as it cuts square."""
    text = RAILS.replace("TARGET", "rail").replace("LEAN", UP).replace(", deep: 1.5 mm", "")
    shape = model(text, "metric").worked.shapes["rail"]
    sizes = {}
    for hole in shape.holes:
        box = bounding_box(hole.outline)
        sizes[hole.name] = (float(box.right - box.left), float(box.top - box.bottom))
        assert (box.left + box.right) / 2 == pytest.approx(hole.centre.x)
        assert (box.bottom + box.top) / 2 == pytest.approx(hole.centre.y)
    assert sizes["peg hole"] == pytest.approx((1, 1.02428), abs=1e-5)
    assert sizes["good hole"] == (1, 1)
    assert area(shape.holes[0].outline) == pytest.approx(math.pi / 4 * 1.02428, rel=3e-4)
    lines = cut_lines(shape, "A rail")
    assert (len(lines.cuts), len(lines.marks)) == (2, 1)


def test_left_and_right_change_places_on_the_twin() -> None:
    """Turned to the left, seen from above, what points to the front points to the right."""
    wording = worded("rail", "metric", "turned: 10 deg")
    page = template_pages(wording.model, wording)[0]
    told = " ".join(re.findall(r">([^<]+)<", "".join(each.svg for each in page.figures)))
    assert told.count("toward the right") == 1
    assert told.count("toward the left") == 1


def test_the_table_of_figures_tells_how_holes_lean() -> None:
    """Once, whatever units an edition shows: an angle is the same in all."""
    text = RAILS.replace("TARGET", "rail").replace("LEAN", UP)
    text = text.replace("metric: {units: mm", "metric: {units: both")
    told = table(close(read_text(text, "rails.yaml", Path()), "metric")).splitlines()
    leaning = [each for each in told if each.startswith("Leans: ")]
    assert leaning == ["Leans: peg hole of rail, drilled 12.5 degrees toward the top."]


@pytest.mark.parametrize(
    ("stands", "told", "alike"),
    [
        (("as drawn", "as drawn"), ["Let its top lean 6° to the left."] * 2, False),
        (("as drawn", "mirrored left to right"), ["Let its top lean 6° to the left."], True),
        (("as drawn", "turned half round"), ["Let its top lean 6° to the left."], False),
    ],
)
def test_a_part_that_leans_is_told_at_its_join(
    stands: tuple[str, str], told: list[str], alike: bool
) -> None:
    """A copy that leans the same way on the other side is no mirror image of the first."""
    made = model(PROPS.format(*stands))
    said = plainly(actions(made.worked.usage.steps[0], Wording(made, read_phrases("en"))))
    assert [each for each in said if "lean" in each] == told
    assert any("mirror" in each for each in said) == alike


def test_a_part_that_leans_is_told_where_it_is_the_first_on_the_bench() -> None:
    """It was to be stood upright; only the pieces joined to it were told to lean."""
    text = PROPS.format("as drawn", "mirrored left to right")
    text = text[: text.index("    start: base")].replace("Glue them", "Stand it up")
    text += """    start: right prop
    join:
      left prop: {right: 9 mm from left of right prop, back and bottom: flush with right prop}
"""
    made = model(text)
    said = plainly(actions(made.worked.usage.steps[0], Wording(made, read_phrases("en"))))
    assert said[:2] == [
        "Stand the right prop (C) on the bench.",
        "Let its top lean 6° to the right.",
    ]


STOOL = (
    TOP
    + """
languages: en, de, fr
editions:
  metric: {units: mm, paper: A4}
  deutsch: {units: mm, paper: A4, language: de}
  français: {units: mm, paper: A4, language: fr}
stock:
  board: {sheet: 4 mm}
  rod: {rod: 4 mm}
parts:
  seat:
    stock: board
    wide: 60 mm
    deep: 40 mm
    holes:
      left hole: {round: 4 mm, at: 12 mm from left and centred}
      right hole: {round: 4 mm, at: 12 mm from right and centred}
  leg:
    stock: rod
    high: 30 mm
    leans: foot 15 deg to the left
    pieces: {left leg: as drawn, right leg: mirrored left to right}
steps:
  - step: Glue the legs in
    start: seat
    treat: {drill: left hole of seat}
    join:
      left leg: {top: in left hole of seat}
      right leg: {bottom: in right hole of seat}
"""
)
FROM_BELOW = {
    "metric": (
        "Start the bit square on the bottom. Then lean the drill 15° toward the left.",
        "left hole: drill from the far side, where the middles are to be marked",
    ),
    "deutsch": (
        "Setze den Bohrer von unten gerade an. Neige ihn dann 15° nach links.",
        "left hole: von der anderen Seite bohren, wo die Mitten anzuzeichnen sind",
    ),
    "français": (
        "Amorcez d’équerre sur la face inférieure. "
        "Inclinez ensuite le foret de 15° vers la gauche.",
        "left hole : percer de l’autre face, où les centres sont à reporter",
    ),
}


@pytest.mark.parametrize("edition", FROM_BELOW)
def test_a_drill_that_starts_on_the_face_that_no_sheet_shows_says_so(edition: str) -> None:
    """Drilled through from the top, leaning to the left, the foot would stand out to the right."""
    made = model(STOOL, edition)
    wording = Wording(made, read_phrases(made.edition.language))
    step, note = FROM_BELOW[edition]
    assert step in plainly(actions(made.worked.usage.steps[0], wording))
    svgs = "".join(each.svg for page in template_pages(made, wording) for each in page.figures)
    told = " ".join(re.findall(r">([^<]+)<", svgs)).replace("\u00a0", " ")
    assert note in told.replace("\u202f", " ")
