"""Of a mirrored pair each hand is told its work by its own name and its own sides."""

from __future__ import annotations

import pytest

from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.sentences import actions
from patternpress.booklet.wording import Wording
from tests.booklet.test_sentences import plainly
from tests.whole.small import TOP, model

DESIGN = (
    TOP
    + """\
stock:
  board: {sheet: 4 mm, sold: 100 x 600 mm}
parts:
  base: {stock: board, wide: 120 mm, deep: 40 mm}
  door:
    stock: board
    wide: 40 mm
    high: 60 mm
    grain: up and down
    template: no
    pieces: {left door: as drawn, right door: mirrored left to right}
WORK
MARKS
steps:
  - step: Work on the doors
    TREAT
  - step: Put them together
    start: base
    join:
      left door: {bottom: against base, left: flush with base, front: flush with base}
      right door: {bottom: against base, right: flush with base, front: flush with base}
"""
)
# Turned upside down one door is the other: still each is told by its sides as it hangs.
PINS = """\
    holes:
      lower hole: {round: 1 mm, on: bottom, at: 3 mm from left and 2 mm from front, deep: 4 mm}
      upper hole: {round: 1 mm, on: top, at: 3 mm from left and 2 mm from front, deep: 4 mm}
"""
ROW = """\
    holes:
      peg hole:
        round: 1 mm
        at: 5 mm from left and 9 mm from top
        row: {toward: right, every: 8 mm, quantity: 3}
"""
GROOVE = "    grooves:\n      slit: {on: front, wide: 4 mm, deep: 1 mm, at: 30 mm from top, "
GROOVE += "stopped: 20 mm from left}\n"
REBATE = "    grooves: {rim: {on: back, wide: 4 mm, deep: 1 mm, along: left}}\n"
TWO = (
    "    holes: {one: {round: 1 mm, on: top, at: 3 mm from left and 2 mm from front, deep: 4 mm}, "
)
TWO += "two: {round: 1 mm, on: top, at: 3 mm from right and 2 mm from front, deep: 4 mm}}\n"
LINE = "marks:\n  sill: {on: back of door, line: 9 mm from bottom, keep off: 4 mm from left}"


def said(work: str, treat: str, marks: str = "", tag: str = "en") -> list[str]:
    text = DESIGN.replace("WORK\n", work).replace("TREAT", treat).replace("MARKS\n", marks + "\n")
    made = model(text)
    step = next(iter(made.worked.usage.steps))
    return plainly(actions(step, Wording(made, read_phrases(tag))))


CASES = {
    "pins": (PINS, "treat: [{drill: 'lower hole of door, upper hole of door'}]", "", [
        "Drill the lower and upper holes of the left door (B), 1 mm across and 4 mm deep.",
        "On the bottom, the lower hole is centred 3 mm from the left and 2 mm from the front.",
        "On the top, the upper hole is centred 3 mm from the left and 2 mm from the front.",
        "Drill the lower and upper holes of the right door (B), 1 mm across and 4 mm deep.",
        "On the bottom, the lower hole is centred 3 mm from the right and 2 mm from the front.",
        "On the top, the upper hole is centred 3 mm from the right and 2 mm from the front.",
    ]),
    "row": (ROW, "treat: [{drill: peg hole of door}]", "", [
        "Drill 3 peg holes in the left door (B), 1 mm across.",
        "The centre of the first is 5 mm from the left and 9 mm from the top.",
        "The others follow in a row toward the right, 8 mm apart.",
        "Drill 3 peg holes in the right door (B), 1 mm across.",
        "The centre of the first is 5 mm from the right and 9 mm from the top.",
        "The others follow in a row toward the left, 8 mm apart.",
    ]),
    "groove": (GROOVE, "treat: [{groove: door}]", "", [
        "Cut the slit into the front of the left door (B).",
        "It is 4 mm wide and 1 mm deep.",
        "It is 20 mm long and stops 20 mm short of the left.",
        "Its near edge is 30 mm from the top.",
        "Cut the slit into the front of the right door (B).",
        "It is 4 mm wide and 1 mm deep.",
        "It is 20 mm long and stops 20 mm short of the right.",
        "Its near edge is 30 mm from the top.",
    ]),
    "rebate": (REBATE, "treat: [{groove: door}]", "", [
        "Cut the rim into the back of the left door (B).",
        "It is 4 mm wide and 1 mm deep.",
        "It runs the whole length of the left edge.",
        "Cut the rim into the back of the right door (B).",
        "It is 4 mm wide and 1 mm deep.",
        "It runs the whole length of the right edge.",
    ]),
    "edges": ("", "treat: [{round over: left front edge of door}]", "", [
        "Round over the left front edge of the left door (B).",
        "Round over the right front edge of the right door (B).",
    ]),
    "both edges": (
        "", "treat: [{round over: left front edge of door and right front edge of door}]", "", [
        "Round over the left front edge of each door (B).",
        "Round over the right front edge of each door (B).",
    ]),
    "lines": ("", "mark: sill", LINE, [
        "Draw the sill on the back of the left door (B) and the right door (B), "
        "9 mm from the bottom.",
        "On the left door (B), stop 4 mm short of the left, where it would show.",
        "On the right door (B), stop 4 mm short of the right, where it would show.",
    ]),
    # A door that is its own mirror image is told once.
    "alike": (TWO, "treat: [{drill: 'one of door, two of door'}]", "", [
        "Drill the one and two of each door (B), 1 mm across and 4 mm deep.",
        "On the top, the one is centred 3 mm from the left and 2 mm from the front.",
        "On the top, the two is centred 3 mm from the right and 2 mm from the front.",
    ]),
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_each_hand_is_told_by_its_own_name_and_sides(name: str) -> None:
    work, treat, marks, told = CASES[name]
    assert said(work, treat, marks) == told


@pytest.mark.parametrize(
    ("tag", "pin", "stop"),
    [
        ("de", "von rechts", "Höre auf right door (B) 4 mm vor der rechten Seite auf"),
        ("fr", "du bord droit", "Sur right door (B), arrêtez-vous à 4 mm de la face droite"),
    ],
)
def test_in_other_languages_too(tag: str, pin: str, stop: str) -> None:
    holes = said(PINS, "treat: [{drill: 'lower hole of door, upper hole of door'}]", "", tag)
    assert [pin in each for each in holes] == [False] * 4 + [True] * 2
    assert said("", "mark: sill", LINE, tag)[-1].startswith(stop)
