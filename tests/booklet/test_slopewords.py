"""How a template of one face says where the outermost edge of a slanted end is sawn."""

from __future__ import annotations

import pytest

from patternpress.booklet.filltemplates import template_notes
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.wording import Wording
from tests.whole.small import TOP, model

HEAD = """\
stock:
  board: {sheet: 2 mm, sold: 100 x 600 mm}
parts:
  thing: {stock: board, wide: 40 mm, high: 30 mm, template: yes, SAID}
steps: [{step: Do it, start: thing}]
"""
OUT = "saw square, 2 mm outside the thick line. Then slope the edge back to that line"
IN = "saw square at the thick line. Then slope the edge, on the far face 2 mm further in"
RIM = "grooves: {rim: {on: back, wide: 2 mm, deep: 1 mm, at: 5 mm from top}}"
CASES = {
    "outside": ("ends: {top: '45 deg, longest at back'}", [f"top: {OUT}"]),
    "inside": ("ends: {top: '45 deg, longest at front'}", [f"top: {IN}"]),
    "alike": (
        "ends: {left: '45 deg, longest at back', right: '45 deg, longest at back'}",
        [f"left and right: {OUT}"],
    ),
    "both ways": (
        "ends: {bottom: '45 deg, longest at back', top: '45 deg, longest at front'}",
        [f"bottom: {OUT}", f"top: {IN}"],
    ),
    "from behind": (f"ends: {{left: '45 deg, longest at front'}}, {RIM}", [f"left: {OUT}"]),
    "square": ("corners: {top left: cut off 5 mm}", []),
}


@pytest.mark.parametrize("name", CASES)
def test_the_outermost_edge_is_what_is_sawn(name: str) -> None:
    """Cut along the outline of the face that is shown, the wood of a bevel past it was gone."""
    said, wanted = CASES[name]
    made = model(TOP + HEAD.replace("SAID", said))
    (part,) = made.worked.parts
    notes = template_notes(part, Wording(made, read_phrases("en")))
    told = [str(each.striptags()).replace("\xa0", " ") for each in notes]
    assert [each for each in told if "slope" in each] == wanted
    assert ("size is over both faces" in told) is bool(wanted)
