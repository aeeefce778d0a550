"""Round pieces in the cutting list: which figure is which, and which are really mirror images."""

from __future__ import annotations

import pytest

from patternpress.booklet.lists import as_text
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.wording import Wording
from tests.whole.small import model

DESIGN = """\
design: Rail
stock:
  rod: {{rod: 4 mm, sold: 300 mm}}
  strip: {{strip: 4 mm, sold: 300 mm}}
parts:
  rail: {{stock: strip, wide: 40 mm}}
  knob:
    stock: {stock}
    wide: 4 mm
    pieces: {{left knob: as drawn, right knob: mirrored left to right}}
    {more}
steps:
  - step: Make it
    start: rail
    join:
      left knob: {{right: against rail, top: flush with rail, front: flush with rail}}
      right knob: {{left: against rail, top: flush with rail, front: flush with rail}}
editions:
  metric: {{units: mm, paper: A4}}
"""
MIDDLE = "holes: {peg hole: {round: 1 mm, on: right, at: centre, deep: 2 mm}}"
BESIDE = "holes: {peg hole: {round: 1 mm, on: right, at: 1.5 mm from top and centred, deep: 2 mm}}"
HANDED = BESIDE.replace("centred", "1 mm from front")
ACROSS = "holes: {peg hole: {round: 1 mm, on: top, at: centre, deep: 2 mm}}"


@pytest.mark.parametrize(
    ("stock", "more", "round_", "mirrored"),
    [
        ("rod", "", True, False),
        ("rod", MIDDLE, True, False),
        # The mirror image of these is the same piece turned round.
        ("rod", BESIDE, True, False),
        ("rod", ACROSS, True, False),
        ("strip", MIDDLE, False, False),
        ("strip", HANDED, False, True),
    ],
)
def test_what_is_said_of_a_knob(stock: str, more: str, round_: bool, mirrored: bool) -> None:
    wording = Wording(model(DESIGN.format(stock=stock, more=more)), read_phrases("en"))
    (line,) = (each for each in as_text(wording).splitlines() if "knob" in each)
    assert ("Length × diameter." in line) is round_
    assert ("Mirrored: right knob." in line) is mirrored
