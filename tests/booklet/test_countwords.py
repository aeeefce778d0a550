"""From where figures count: boards that taper, and pieces that lean.

The seat is 40 wide in front and 34 at the back, so its sides lie 1.5 mm further in half way.
"""

from __future__ import annotations

import pytest

from patternpress.assembly.model import work_out
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.sentences import actions
from patternpress.booklet.wording import Wording
from patternpress.design.read import read_design
from patternpress.design.records.work import Step
from tests.booklet.test_sentences import plainly
from tests.whole.demos import DESIGNS
from tests.whole.small import model

SEAT = """\
design: Stool
scale: 1:12
units: mm
stock:
  board: {sheet: 2 mm, sold: 100 x 600 mm}
  strip: {strip: 3 mm, sold: 600 mm}
parts:
  seat:
    stock: board
    wide: 40 mm
    deep: 40 mm
    OUTLINE
    holes: {peg hole: {round: 2 mm, at: 8 mm from left and 20 mm from front}}
  post: {stock: strip, high: 60 mm, ends: {bottom: level}, LEAN}
tools: drill
materials:
  wood glue: {kind: glue, handle: 1 h}
steps:
  - step: Glue
    start: seat
    treat: {drill: peg hole of seat, with: drill}
    join:
      post: {left: 3 mm from left of seat, front: 10 mm from front of seat, PLACE}
    wait: {for: wood glue, until: handle}
editions:
  metric: {units: mm, paper: A4}
"""
TAPERED = (
    "outline: [{start: '0 mm, 0 mm'}, {line: '40 mm, 0 mm'}, {line: '37 mm, 40 mm'}, "
    "{line: '3 mm, 40 mm'}]"
)
BACK, FRONT = "leans: top 6 deg to the back", "leans: top 6 deg to the front"
BELOW, ON = "bottom: 36 mm beyond seat", "bottom: against seat"
HOLE = "Measure from the outermost point of its left, not from beside the hole."
OUTER = "Count from the outermost point of the seat (A): its edge lies further in here."
FOOT, TOP = "Measure that at its foot.", "Measure that at its top."


def said(outline: str, lean: str, place: str) -> list[str]:
    text = SEAT.replace("OUTLINE", outline or "grain: any").replace("PLACE", place)
    text = text.replace("LEAN", lean) if lean else text.replace(", LEAN", "")
    made = model(text)
    return plainly(actions(made.worked.usage.steps[0], Wording(made, read_phrases("en"))))


@pytest.mark.parametrize(
    ("outline", "lean", "place", "told"),
    [
        ("", "", ON, []),
        (TAPERED, "", ON, [HOLE, OUTER]),
        ("", BACK, BELOW, [FOOT]),
        ("", BACK, ON, []),  # its foot stands on the seat, where one measures
        ("", FRONT, ON, [TOP]),
    ],
)
def test_a_figure_says_from_where_it_counts(
    outline: str, lean: str, place: str, told: list[str]
) -> None:
    sentences = said(outline, lean, place)
    assert [each for each in sentences if each in (HOLE, OUTER, FOOT, TOP)] == told
    if OUTER in told:
        before = sentences[sentences.index(OUTER) - 1]
        assert before == "Set its left 3 mm from the left of the seat (A)."
    for each in {FOOT, TOP} & set(told):
        before = sentences[sentences.index(each) - 1]
        assert before == "Set its front 10 mm from the front of the seat (A)."


def test_a_lid_on_sloping_sides_counts_from_their_upright_edge() -> None:
    desk = work_out(read_design(DESIGNS / "keepers-desk.yaml"), "metric")
    step = next(each for each in desk.worked.usage.steps if "lid" in joined(each))
    sentences = plainly(actions(step, Wording(desk, read_phrases("en"))))
    assert any("1 mm" in each and "side" in each for each in sentences)
    assert not any("outermost point" in each for each in sentences)


def joined(step: Step) -> set[str]:
    return {each.piece.value for each in step.join}
