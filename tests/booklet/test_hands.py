"""What templates say of parts of which some pieces are mirrored, and which face they show."""

from __future__ import annotations

import pytest

from patternpress.assembly.hands import mirror_images, shapes_of_hands, shown_shape
from patternpress.assembly.outlines import bounding_box
from patternpress.assembly.shape import View
from patternpress.booklet.filltemplates import template_notes
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.wording import Wording
from tests.whole.small import TOP, model

HEAD = (
    TOP
    + """\
stock:
  board: {sheet: 2 mm, sold: 100 x 600 mm}
  strip: {strip: 6 x 6 mm, sold: 600 mm}
parts:
  base: {stock: board, wide: 80 mm, deep: 40 mm}
"""
)
PAIR = "pieces: {left one: as drawn, right one: mirrored left to right}"
BOARD = f"  thing: {{stock: board, deep: 40 mm, high: 30 mm, template: yes, {PAIR}"
DOOR = f"  thing: {{stock: board, wide: 40 mm, high: 30 mm, template: yes, {PAIR}"
STRIP = f"  thing: {{stock: strip, high: 30 mm, template: yes, {PAIR}"
HALF = f"{STRIP}, grooves: {{rim: {{on: left, wide: 2 mm, deep: 1 mm, at: "
KNOB = "holes: {knob: {round: 1 mm, at: 3 mm from right and 9 mm from top}}"
PIT = "holes: {pit: {round: 2 mm, deep: 1 mm, on: right, at: 5 mm from front and 5 mm from top}}"
ONCE = "steps: [{step: Do it, start: base}]"
STOP = "stopped: 5 mm from top"
LINE = "marks:\n  rim: {on: right of left one, line: 10 mm from bottom}\n"
ONE_DOOR = "round over: left front edge of left one and right front edge of right one"
BARE = "leave bare: right of left one and left of right one"

# A part, marks, and a treatment; then what the template of each hand says, and its view.
CASES = {
    "edges": (f"{DOOR}, {KNOB}}}", "", ONE_DOOR, (["left front"], ["right front"]), "front"),
    "faces": (f"{BOARD}}}", "", BARE, (["right"],), "right"),
    "handed faces": (
        f"{BOARD}, {PIT}}}",
        "",
        BARE,
        (["right"], ["left"]),
        "right",
    ),
    "one piece": (f"{BOARD}}}", LINE, "", (["Rim: left one only"],), "right"),
    "some edges": (f"{DOOR}}}", "", "ease: left front edge of left one",
                   (["ease: left front (left one only)"],), "front"),
    "middle groove": (f"{HALF}2 mm from front}}}}}}", "", "", ([],), "left"),
    "groove aside": (f"{HALF}3 mm from front, {STOP}}}}}}}", "", "", ([], []), "left"),
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_each_hand_is_told_its_own_and_from_its_busy_face(name: str) -> None:
    """A part that is the same turned round has one template; nothing tells of a mirror then."""
    part_text, marks, treat, told, view = CASES[name]
    steps = f"steps:\n  - step: Do it\n    treat:\n      - {{{treat}}}\n" if treat else ""
    made = model(f"{HEAD}{part_text}\n{marks}{steps or ONCE}\n")
    worked, wording = made.worked, Wording(made, read_phrases("en"))
    part = next(each for each in worked.parts if each.name == "thing")
    shapes = shapes_of_hands(part, worked.shapes["thing"], worked)
    assert shapes[0].view.value == view
    assert mirror_images(part, worked) == (["right one"] if len(told) > 1 else [])
    assert len(shapes) == len(told)
    for twin, notes in enumerate(told):
        said = [str(each) for each in template_notes(part, wording, twin=bool(twin))]
        assert [each.split(": ", "only" not in each)[-1] for each in said] == notes


def test_a_template_seen_from_behind_has_the_outline_of_that_face() -> None:
    """The groove lies in the back, whose edge a bevel sets 2 mm in; the front's is dashed."""
    bevelled = "ends: {left: '45 deg, longest at front'}, grooves: {rim: {on: back, wide: 2 mm, "
    bevelled += "deep: 1 mm, at: 5 mm from top}}"
    made = model(f"{HEAD}  thing: {{stock: board, wide: 40 mm, high: 30 mm, {bevelled}}}\n{ONCE}")
    part = next(each for each in made.worked.parts if each.name == "thing")
    shape = shown_shape(part, made.worked.shapes["thing"], made.worked)
    box = bounding_box(shape.outline)
    # Seen from behind the left end is at the right.
    assert (shape.view, box.left, box.right) == (View.BACK, 0, 38)
    assert {point.x for edge in shape.far_edges for point in edge} == {40}
