"""Small designs for tests, from text to what a booklet says.

In: a step, or lines of a design.  Out: a `Model`, or a `Wording` of it.  The piece is a shelf
between two sides on a base: just enough names for every phrase of the design language.
"""

from __future__ import annotations

from pathlib import Path

from patternpress.assembly.model import Model, check, work_out
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.wording import Wording
from patternpress.design.problem import Problem
from patternpress.design.read import Reading, read_text
from patternpress.design.records.work import Step

TOP = """\
design: Wall shelf
version: "2.1"
date: 2026-11-25
units: mm
scale: 1:12
"""

BODY = """\
stock:
  board: {sheet: 2 mm, sold: 100 x 600 mm, cut with: fine saw, kerf: 0.3 mm}
  strip: {strip: 4 x 4 mm, sold: 600 mm, cut with: fine saw, kerf: 0.3 mm}
  pin: {bought: a brass pin, pack: 10}

sizes:
  gap: 35/64 in
  play: 0.25 to 0.5 mm
  soak: about 20 min

parts:
  base: {stock: board, wide: 80 mm, deep: 40 mm, template: yes}
  side:
    stock: board
    deep: 40 mm
    high: 30 mm
    pieces: {left side: as drawn, right side: mirrored left to right}
    holes:
      pin hole: {round: 1 mm, at: 5 mm from front and 5 mm from top}
  shelf: {stock: board, wide: 76 mm, deep: 36 mm}
  rail:
    stock: strip
    wide: 76 mm
    pieces: front rail, back rail
  knob: {stock: pin}
  slat: {stock: strip, wide: 20 mm, quantity: 4}

sub-assemblies:
  frame:

marks:
  shelf line: {on: right of left side, line: 12 mm from bottom}

choices:
  finish:
    ask: Oiled or bare?
    answers: {oiled: Oil shows the grain., bare: Nothing at all.}

tools:
  fine saw: {note: with a stop}
  block:

materials:
  wood glue: {kind: glue, handle: 30 to 60 min, hard: 24 h}
  oil: {kind: finish, only if: oiled}
"""

STEP = """\
steps:
  - step: Do it
    builds: frame
"""


def read(text: str) -> Reading:
    """A design read from its text; it may share no file."""
    return read_text(text, "small.yaml", Path(__file__).parent)


def errors(reading: Reading) -> tuple[Problem, ...]:
    """What would stop the booklet, warnings left out."""
    return tuple(each for each in check(reading) if each.is_error)


def model(text: str = TOP + BODY + STEP, edition: str = "metric") -> Model:
    """A design worked out for one edition; it must at least be readable."""
    reading = read(text)
    unread = [
        f"{e.span}: {e.kind.__name__} {dict(e.facts)}" for e in reading.problems if e.is_error
    ]
    assert reading.book is not None, unread
    assert not unread, unread
    return work_out(reading, edition)


def worded(
    lines: str = "", edition: str = "metric", top: str = TOP, body: str = BODY
) -> tuple[Step, Wording]:
    """The one step of a design that says `lines`, and the words of its edition."""
    indented = "".join(f"    {line}\n" for line in lines.splitlines())
    made = model(top + body + STEP + indented, edition)
    return made.worked.usage.steps[0], Wording(made, read_phrases("en"))
