"""Slots, windows and recesses: what is sawn out, and what is cut out with something else."""

from __future__ import annotations

import pytest

from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.sentences import actions
from patternpress.booklet.usual import caution_groups
from patternpress.booklet.wording import Wording
from tests.booklet.test_sentences import plainly
from tests.whole.small import BODY, TOP, model

BOARD = "  base: {stock: board, wide: 80 mm, deep: 40 mm, template: yes}"
SHAPED = """\
  base:
    stock: board
    wide: 80 mm
    deep: 40 mm
    holes:
      recess: {slot: 20 x 10 mm, at: centre, deep: 1 mm}
      light: {window: 8 x 8 mm, at: 10 mm from left and 10 mm from front}
"""
TOOLS = "\nsteps:\n  - step: Do it\n    start: base\n    treat: {drill: WHAT of base, with: WITH}\n"


def wording(what: str, tool: str, tag: str = "en") -> Wording:
    body = BODY.replace(BOARD, SHAPED).replace("  block:\n", "  chisel:\n  pin drill:\n")
    text = TOP + body + TOOLS.replace("WHAT", what).replace("WITH", tool)
    return Wording(model(text), read_phrases(tag))


def first(words: Wording) -> str:
    return plainly(actions(words.model.worked.usage.steps[0], words))[0]


@pytest.mark.parametrize(
    ("what", "tool", "tag", "told"),
    [
        ("recess", "chisel", "en", "Cut out the recess of"),
        ("light", "chisel", "en", "Cut out the light of"),
        ("light", "fine saw", "en", "First drill a starting hole"),
        ("recess", "pin drill", "en", "Cut out the recess of"),
        ("recess", "chisel", "de", "Arbeite recess "),
        ("recess", "chisel", "fr", "Évidez recess "),
    ],
)
def test_only_a_saw_saws_and_only_right_through(what: str, tool: str, tag: str, told: str) -> None:
    assert first(wording(what, tool, tag)).startswith(told)


@pytest.mark.parametrize(
    ("tag", "told"),
    [("en", "A blade slips"), ("de", "Eine Klinge rutscht"), ("fr", "Une lame glisse")],
)
def test_the_caution_of_a_chisel_speaks_of_no_knife(tag: str, told: str) -> None:
    words = wording("recess", "chisel", tag)
    said = [each for group in caution_groups(words) for each in group.cautions]
    (blade,) = (each for each in said if each.kind == "blade")
    assert plainly([blade.hazard])[0].startswith(told)
