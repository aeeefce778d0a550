"""What opens is tried on an edition's own figures."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

from patternpress.assembly.model import check
from patternpress.closing.close import check_closing, close
from patternpress.design.problem import Problem
from patternpress.design.read import Reading, read_text

# The door's back corner turns 1.41 mm about a pin 1 mm from its edge and from its front.
CUPBOARD = """design: Cupboard
sizes:
  gap: GAP
  pin in: 1 mm
  pin back: 1 mm
stock:
  board: {sheet: 2 mm, sold: 100 x 300 mm, nearest: {size: 5/64 in, sold: 4 x 12 in}}
  wire: {rod: 0.8 mm, sold: 300 mm, nearest: {size: 1/32 in, sold: 12 in}}
parts:
  base:
    stock: board
    wide: 40 mm
    deep: 30 mm
    holes:
      base hole:
        round: diameter of wire
        at: thickness of board + gap + pin in from left and pin back from front
        for: the pin
  end: {stock: board, deep: 30 mm, high: 40 mm}
  door:
    stock: board
    wide: 30 mm
    high: 35 mm
    holes:
      door hole:
        round: diameter of wire
        on: bottom
        at: pin in from left and pin back from front
        deep: 4 mm
        for: the pin
  pin: {stock: wire, high: thickness of board + 3 mm}
steps:
  - step: Glue the end on
    start: base
    join:
      end: {bottom: against base, left: flush with base, front: flush with base}
  - step: Hang the door
    work lies: upright
    join:
      door:
        bottom: gap from top of base
        left: gap from right of end
        front: flush with base
        opens: 90 deg to the front about door hole of door
      pin: {top: through base hole of base, bottom: flush with base, turns in: door hole of door}
editions:
  metric: {units: mm}
  inch: {units: in, fraction: 1/64 in}
"""


def cupboard(gap: str) -> Reading:
    text = CUPBOARD.replace("GAP", gap)
    reading = read_text(text, "cupboard.yaml", Path())
    assert [each.what for each in check(reading) if each.is_error] == []
    return reading


def refused(reading: Reading) -> list[Problem]:
    return [each for each in check_closing(reading) if each.is_error]


def test_a_gap_that_a_door_turns_in_is_not_rounded_shut() -> None:
    """0.5 mm became 1/64 in, and the corner of the door caught by 0.1 mm."""
    reading = cupboard("0.5 mm")
    assert refused(reading) == []
    after = close(reading, "inch").figures.after.values()
    (gap,) = (each.mm for each in after if each.words == "gap")
    assert gap > Fraction(5, 10)


def test_a_door_that_no_choice_frees_is_told_at_its_edition() -> None:
    (problem,) = refused(cupboard("{is: 0.45 mm, tolerance: 0.1 mm}"))
    assert (problem.code, problem.facts["edition"]) == ("edition-misfits", "inch")
    assert "“door” of step 2 opens only" in problem.what
