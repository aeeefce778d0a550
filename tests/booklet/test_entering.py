"""Holes and grooves that a join does not name, and yet are passed as the piece comes."""

from __future__ import annotations

from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.sentences import actions
from patternpress.booklet.wording import Wording
from tests.booklet.test_sentences import plainly
from tests.whole.small import model

FRAME = """
design: Frame
scale: 1:12
stock:
  strip: {strip: 6 mm, sold: 600 mm, cut with: fine saw}
  board: {sheet: 2 mm, sold: 100 x 600 mm, cut with: fine saw}
  rod: {rod: 2 mm, sold: 300 mm, cut with: fine saw}
parts:
  base: {stock: board, wide: 60 mm, deep: 12 mm,
         holes: {foot hole: {round: 2 mm, at: 53 mm from left and 3 mm from front}}}
  post:
    stock: strip
    high: 40 mm
    pieces: {left post: as drawn, right post: mirrored left to right}
    holes:
      peg hole: {round: 2 mm, on: left, at: centred and 30 mm from bottom}
      bar hole: {round: 2 mm, on: left, at: 1.5 mm from back and 10 mm from bottom}
    grooves: {post groove: {on: right, wide: 2 mm, deep: 2 mm, at: 1 mm from front}}
  panel: {stock: board, wide: 34 mm, high: 20 mm}
  rail:
    stock: strip
    wide: 30 mm
    holes: {head hole: {round: 2 mm, on: left, at: centre, deep: 6 mm}}
  peg: {stock: rod, wide: 12 mm}
  bar: {stock: rod, wide: 46 mm}
  pin: {stock: rod, high: 5 mm}
  stop: {stock: strip, high: 12 mm, holes: {pin hole: {round: 2 mm, on: bottom, at: centre,
                                                       deep: 3 mm}}}
sub-assemblies:
  frame: {}
tools: fine saw
materials:
  wood glue: {kind: glue, workable: 5 to 10 min, handle: 30 min, hard: 24 h}
steps:
  - step: Frame
    builds: frame
    start: left post
    join:
      panel: {left: HOW post groove of left post, bottom: 4 mm inside left post}
      rail: {left: against left post, bottom: 27 mm from bottom of left post,
             front: flush with left post}
      right post: {left: against rail, bottom: flush with left post, front: flush with left post}
      peg: {right: in head hole of rail}
      bar: {left: 2 mm beyond left post, right: through bar hole of left post}
    wait: {for: wood glue, until: hard}
  - step: Base
    start: base
    join:
      frame: {bottom: against base, left: 4 mm inside base, front: flush with base}
      pin: {bottom: through foot hole of base, top: 3 mm beyond base}
      stop: {left: against frame, bottom: against base, front: flush with base}
    wait: {for: wood glue, until: hard}
"""


def told(step: int, how: str = "in") -> list[str]:
    made = model(FRAME.replace("HOW", how))
    return plainly(actions(made.worked.usage.steps[step - 1], Wording(made, read_phrases("en"))))


def test_all_holes_and_grooves_that_a_piece_passes_are_told() -> None:
    frame = told(1)
    assert "Slide the post groove of the right post (B) over the panel (C)." in frame
    peg = "Push the right end of the peg (E) through the peg hole of the left post (B)"
    assert f"{peg} with wood glue." in frame
    assert "It goes on into the head hole of the rail (D)." in frame
    (bar,) = (each for each in frame if "bar (F)" in each)
    assert "through the bar hole of the left post (B) and the right post (B)" in bar
    loose = told(1, "loose in")
    assert "Slide the post groove of the right post (B) over the panel (C), without glue." in loose


def test_what_is_joined_to_a_sub_assembly_names_all_else_that_it_meets() -> None:
    base = told(2)
    assert "Glue the stop (H) to the frame and the base (A)." in base
    assert "Push the pin hole of the stop (H) over the pin (G) with wood glue." in base
