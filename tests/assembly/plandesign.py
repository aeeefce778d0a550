"""A small design for the tests of the bench plan.

In: the steps, as YAML.  Out: a `Worked` design: a box of named boards, a drawer as a sub-assembly
that is made twice, a finish that is chosen, and a glue with short, long and workable times.
"""

from __future__ import annotations

from pathlib import Path

from patternpress.assembly.worked import Worked, work
from patternpress.design.read import read_text

BODY = """\
design: Two boxes
version: "1"
date: 2026-11-25
units: mm
scale: 1:12
stock:
  board: {sheet: 2 mm, sold: 100 x 600 mm}
  pin: {bought: a brass pin}
parts:
  base: {stock: board, wide: 60 mm, deep: 40 mm}
  wall: {stock: board, deep: 40 mm, high: 20 mm, pieces: [left wall, right wall]}
  lid: {stock: board, wide: 60 mm, deep: 40 mm}
  tray: {stock: board, wide: 20 mm, deep: 20 mm}
  rim: {stock: board, wide: 20 mm, high: 5 mm, pieces: [front rim, back rim]}
  slat: {stock: board, wide: 10 mm, deep: 10 mm, quantity: 4}
  knob: {stock: pin}
  stopper: {stock: board, fitted: gap, less: {wide: 0.5 mm}, high: 10 mm}
sub-assemblies:
  drawer: {copies: [left drawer, right drawer]}
openings:
  gap: {between: left wall and right wall, wide: 56 mm, high: 18 mm}
marks:
  line: {on: right of left wall, line: 5 mm from bottom}
choices:
  finish: {ask: Oil or paint, answers: {oiled: Oil., painted: Paint.}}
tools:
  block:
materials:
  glue: {kind: glue, workable: 5 to 10 min, handle: 30 to 60 min, hard: 24 h}
  oil: {kind: finish, handle: 6 h, hard: 24 h, only if: oiled}
  paint: {kind: finish, only if: painted}
"""

CARCASS = """\
  - step: Glue the walls
    start: base
    join:
      left wall: {right: against base}
      right wall: {left: against base}
    wait: {for: glue, until: hard}
    takes: 20 min
"""
DRAWER = """\
  - step: Glue the drawer
    builds: drawer
    start: tray
    join:
      front rim: {bottom: against tray}
      back rim: {bottom: against tray}
    wait: {for: glue, until: handle}
    takes: 10 to 15 min
"""
LID = """\
  - step: Lay the lid on
    join: {lid: {bottom: loose against left wall}}
    takes: 5 min
"""


def worked(steps: str, finishing: str = "", body: str = BODY) -> Worked:
    """The design with these steps, worked out; it must be readable."""
    text = body + "steps:\n" + steps + ("finishing:\n" + finishing if finishing else "")
    reading = read_text(text, "boxes.yaml", Path(__file__).parent)
    wrong = [f"{each.span} {each.what}" for each in reading.problems if each.is_error]
    assert reading.book is not None and not wrong, wrong
    return work(reading.book, reading.names)
