"""A pin that is glued at one end and turns free at the other: its sentence, glue and picture."""

from __future__ import annotations

import pytest

from patternpress.assembly.gluing import is_glued
from patternpress.assembly.model import Model
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.sentences import actions
from patternpress.booklet.wording import Wording
from patternpress.drawing.scenes import step_scenes
from tests.booklet.test_sentences import plainly
from tests.whole.small import TOP, errors, model, read

HATCH = """\
stock:
  board: {sheet: 2 mm, sold: 100 x 600 mm}
  wire: {rod: 1 mm, sold: 300 mm}
materials:
  wood glue: {kind: glue, handle: 30 min, hard: 24 h}
tools: drill
parts:
  base:
    stock: board
    wide: 40 mm
    deep: 30 mm
    holes:
      left hole: {round: 1 mm, at: 6 mm from left and 5 mm from front}
  panel:
    stock: board
    wide: 20 mm
    high: 18 mm
    holes:
      left socket: {round: 1 mm, on: bottom, at: 3 mm from left, deep: 4 mm}
  pin: {stock: wire, high: 5 mm}
steps:
  - step: Drill
    treat: {drill: 'left hole of base, left socket of panel', with: drill}
"""
# Glued into the base, free in the door; then glued into the door, free in the base.
IN_BASE = """\
  - step: Hang it
    start: base
    join:
      panel: {bottom: loose against base, left: 3 mm inside base, front: 4 mm inside base}
      pin: {top: through left hole of base, bottom: flush with base, turns in: left socket of panel}
    wait: {for: wood glue, until: hard}
"""
IN_DOOR = """\
  - step: Set the pin
    builds: door
    start: panel
    join: {pin: {top: 'in left socket of panel, 3 mm deep'}}
    wait: {for: wood glue, until: hard}
  - step: Hang it
    start: base
    glue: wood glue
    join:
      door:
        bottom: flush with base
        left: 3 mm inside base
        front: 4 mm inside base
        turns in: left hole of base
"""


def hatch(steps: str) -> Model:
    subs = "sub-assemblies: {door: {moves: swings}}\n" if "builds: door" in steps else ""
    text = TOP + subs + HATCH + steps
    assert errors(read(text)) == ()
    return model(text)


def told(made: Model, language: str = "en") -> list[str]:
    return plainly(actions(made.worked.usage.steps[-1], Wording(made, read_phrases(language))))


@pytest.mark.parametrize(
    ("language", "sentence"),
    [
        ("en", "Let the pin (C) turn freely in the left socket of the panel (B), without glue."),
        ("de", "Lass pin (C) sich in left socket in panel (B) frei drehen, ohne Leim."),
        ("fr", "Laissez pin (C) tourner librement dans left socket de panel (B), sans colle."),
    ],
)
def test_it_is_said_where_no_glue_goes(language: str, sentence: str) -> None:
    sentences = told(hatch(IN_BASE), language)
    assert sentence in sentences


def test_the_other_end_is_glued_and_the_door_is_not() -> None:
    sentences = told(hatch(IN_BASE))
    assert "Push the pin (C) through the left hole of the base (A) with wood glue." in sentences
    glued = [each for each in sentences if "with wood glue" in each]
    assert len(glued) == 1
    assert not any("panel" in each for each in glued)


def test_a_door_that_comes_with_its_pin_takes_no_glue_though_its_step_names_one() -> None:
    made = hatch(IN_DOOR)
    step = made.worked.usage.steps[-1]
    assert not is_glued(made.worked, step, step.join[0])
    sentences = told(made)
    assert "Let the door turn freely in the left hole of the base (A), without glue." in sentences
    assert not any("wood glue" in each for each in sentences)


@pytest.mark.parametrize(("steps", "dotted"), [(IN_BASE, {"base"}), (IN_DOOR, set())])
def test_faces_that_stay_free_are_not_dotted(steps: str, dotted: set[str]) -> None:
    scene = step_scenes(hatch(steps))[-1]
    assert {each.on for each in scene.patches} <= dotted


CLOSED = """\
sub-assemblies: {door: {moves: swings}}
stock:
  board: {sheet: 2 mm, sold: 100 x 600 mm}
  wire: {rod: 1 mm, sold: 300 mm}
materials:
  wood glue: {kind: glue, handle: 30 min, hard: 24 h}
tools: drill
parts:
  base:
    stock: board
    wide: 40 mm
    deep: 30 mm
    holes: {low hole: {round: 1 mm, at: 6 mm from left and 5 mm from front}}
  lid:
    stock: board
    wide: 40 mm
    deep: 30 mm
    holes: {high hole: {round: 1 mm, at: 6 mm from left and 5 mm from front}}
  side: {stock: board, deep: 30 mm, high: 20 mm, pieces: [left side, right side]}
  panel:
    stock: board
    wide: 20 mm
    high: 19 mm
    holes:
      low socket: {round: 1 mm, on: bottom, at: 3 mm from left, deep: 4 mm}
      high socket: {round: 1 mm, on: top, at: 3 mm from left, deep: 4 mm}
  pin: {stock: wire, high: 6.5 mm, pieces: [low pin, high pin]}
steps:
  - step: Drill
    treat:
      - {drill: 'low hole of base, high hole of lid', with: drill}
      - {drill: 'low socket of panel, high socket of panel', with: drill}
  - step: Set the pins
    builds: door
    work lies: on its back
    start: panel
    join:
      low pin: {top: 'in low socket of panel, 4 mm deep'}
      high pin: {bottom: 'in high socket of panel, 4 mm deep'}
    wait: {for: wood glue, until: hard}
  - step: Close it
    start: base
    glue: wood glue
    join:
      left side: {bottom: against base, left: flush with base, back: flush with base}
      right side: {bottom: against base, right: flush with base, back: flush with base}
      door:
        bottom: flush with base
        left: 3 mm inside base
        front: 4 mm inside base
        turns in: low hole of base
      lid: {bottom: against left side, left: flush with base, front: flush with base}
    wait: {for: wood glue, until: hard}
"""


@pytest.mark.parametrize(
    ("language", "sentence"),
    [
        ("en", "Hold the door in place meanwhile."),
        ("de", "Halte dabei door fest."),
        ("fr", "Maintenez door en place pendant ce temps."),
    ],
)
def test_a_door_is_held_while_the_board_with_its_other_hole_goes_on(
    language: str, sentence: str
) -> None:
    assert errors(read(TOP + CLOSED)) == ()
    sentences = told(model(TOP + CLOSED), language)
    assert sentences.index(sentence) > len(sentences) - 3
    assert sum(sentence == each for each in sentences) == 1
