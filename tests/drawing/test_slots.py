"""The round ends of a slot are bored: where their centres lie is drawn, and said."""

from __future__ import annotations

from fractions import Fraction

import pytest

from patternpress.assembly.openings import round_ends
from patternpress.booklet.filltemplates import template_notes
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.sentences import actions
from patternpress.booklet.wording import Wording
from patternpress.drawing.facedims import Measure, measures_of
from patternpress.drawing.features import features
from patternpress.drawing.ink import Stroke, extent
from patternpress.drawing.signs import Sign
from patternpress.drawing.style import DrawingStyle
from patternpress.drawing.workpieces import workpieces_of
from tests.booklet.test_sentences import plainly
from tests.whole.small import TOP, model

DESIGN = """\
stock:
  board: {sheet: 3 mm, sold: 100 x 600 mm}
parts:
  side: {stock: board, wide: 80 mm, high: 60 mm, holes: {hold: {SAID, at: 40 mm from left and 30 mm from bottom}}}
tools:
  jigsaw:
steps:
  - step: Saw
    start: side
    treat:
      - drill: hold of side
        with: jigsaw
"""  # noqa: E501
FORMS = {
    "slot: 30 mm x 14 mm": [(32, 30), (48, 30)],
    "window: 30 x 14 mm, corners: 3 mm": [],
    "round: 14 mm": [],
}


@pytest.mark.parametrize("form", FORMS)
def test_the_ends_of_a_slot_are_crossed_and_told(form: str) -> None:
    """A bit as wide as the slot had no mark to stand on."""
    made = model(TOP + DESIGN.replace("SAID", form))
    shape = made.worked.shapes["side"]
    (hole,) = shape.holes
    ends = [(each.x, each.y) for each in round_ends(hole)]
    assert ends == FORMS[form]
    (found,) = features(shape, DrawingStyle())
    crosses = [
        extent([each])
        for each in found.ink
        if isinstance(each, Stroke) and each.sign is Sign.CENTRE
    ]
    middles = [((box.left + box.right) / 2, (box.bottom + box.top) / 2) for box in crosses]
    assert [each for each in middles if each != (40, 30)] == ends
    (face,) = workpieces_of(made, 1, made.worked.usage.steps[0])
    between = Measure(0, Fraction(32), Fraction(48))
    assert (between in measures_of(face)) is bool(ends)
    (part,) = made.worked.parts
    wording = Wording(made, read_phrases("en"))
    notes = plainly(template_notes(part, wording))
    assert ("Hold: the centres of its round ends are 16 mm apart" in notes) is bool(ends)
    told = " ".join(plainly(actions(made.worked.usage.steps[0], wording)))
    assert ("The centres of the round ends are 16 mm apart." in told) is bool(ends)
