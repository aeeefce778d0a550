"""Parts of every kind for the tests of solids, read from one small design."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from patternpress.assembly.convex import Bulk
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.shape import Shape
from patternpress.assembly.solid import Solid
from patternpress.assembly.solids import bulk_of
from patternpress.assembly.worked import Worked, work
from patternpress.design.read import read_text

DESIGN = """
design: Chandler's samples
scale: 1:12
units: mm
stock:
  board: {sheet: 2 mm}
  thick board: {sheet: 6 mm}
  strip: {strip: 3 x 5 mm}
  square strip: {strip: 4 mm}
  rod: {rod: 3 mm}
parts:
  plain: {stock: board, wide: 40 mm, high: 25 mm}
  plain flat: {stock: board, wide: 30 mm, deep: 20 mm}
  plain side: {stock: board, deep: 30 mm, high: 50 mm}
  batten: {stock: strip, wide: 60 mm, broad side: top}
  peg: {stock: rod, deep: 12 mm}
  post: {stock: square strip, high: 40 mm}
  disc: {stock: board, wide: 20 mm, deep: 20 mm, disc: yes}
  rounded: {stock: board, wide: 40 mm, high: 25 mm, corners: {top left: round 6 mm}}
  scooped: {stock: board, wide: 40 mm, high: 25 mm, corners: {top right: hollow 6 mm}}
  notched: {stock: board, deep: 40 mm, high: 25 mm, corners: {top front: notch 5 x 3 mm}}
  clipped: {stock: board, deep: 40 mm, high: 25 mm, corners: {bottom back: cut off 8 x 6 mm}}
  arched: {stock: board, wide: 40 mm, high: 25 mm, edges: {top: arched 5 mm}}
  hollowed: {stock: board, wide: 40 mm, deep: 25 mm, edges: {front: hollowed 4 mm}}
  drilled:
    stock: board
    wide: 40 mm
    high: 25 mm
    holes:
      eye: {round: 3 mm, at: 8 mm from left and 8 mm from top}
      sink: {round: 4 mm, at: 20 mm from left and 12 mm from top, deep: 0.75 mm}
      back sink: {round: 4 mm, at: 30 mm from left and 12 mm from top, deep: 0.5 mm, on: back}
  pierced:
    stock: board
    wide: 40 mm
    deep: 30 mm
    holes:
      port: {window: 12 x 8 mm, at: centre, corners: 2 mm}
      slit: {slot: 10 x 2 mm, at: 6 mm from left}
  grooved:
    stock: thick board
    deep: 30 mm
    high: 50 mm
    grooves:
      low groove: {on: right, at: 10 mm from bottom, wide: 2 mm, deep: 1.5 mm}
      high groove: {on: right, at: 30 mm from bottom, wide: 2 mm, deep: 1 mm, stopped: [4 mm from front]}
      rebate: {on: left, along: back, wide: 3 mm, deep: 2 mm}
  tongued:
    stock: thick board
    wide: 50 mm
    deep: 30 mm
    grooves: {tongue groove: {on: front, at: 2 mm from top, wide: 2 mm, deep: 2.5 mm}}
    holes:
      dowel: {round: 2 mm, at: 10 mm from front and 3 mm from top, deep: 8 mm, on: left}
  drilled rod:
    stock: rod
    wide: 30 mm
    holes: {pin: {round: 1 mm, at: 6 mm from left}}
  slanted: {stock: board, wide: 40 mm, high: 20 mm, ends: {"right": "30 deg, longest at bottom"}}
  bevelled: {stock: thick board, wide: 40 mm, high: 20 mm, ends: {"right": "45 deg, longest at front"}}
  hip:
    stock: thick board
    wide: 40 mm
    high: 20 mm
    ends: {left: "20 deg, longest at bottom and 30 deg, longest at back"}
  mitred batten:
    stock: strip
    wide: 60 mm
    broad side: top
    ends: {left: "45 deg, longest at back", right: "45 deg, longest at back"}
  raking post:
    stock: square strip
    high: 40 mm
    leans: foot 10 deg to the left and 5 deg to the front
    ends: {top: level, bottom: level}
  raking rod: {stock: rod, high: 30 mm, leans: foot 12 deg to the left, ends: {bottom: level}}
  desk lid: {stock: thick board, wide: 40 mm, deep: 30 mm, leans: back raised by 20 deg, ends: {front: upright}}
  wavy:
    stock: board
    wide: 40 mm
    high: 30 mm
    outline:
      - start: 0 mm, 0 mm
      - line: 40 mm, 0 mm
      - line: 40 mm, 20 mm
      - {curve: "0 mm, 20 mm", through: ["30 mm, 28 mm", "12 mm, 14 mm"], leaving: 90 deg, arriving: 180 deg}
steps:
  - step: Lay them out
    start: plain
"""  # noqa: E501


@cache
def worked() -> Worked:
    """The samples, worked out; none has a fault of shape."""
    reading = read_text(DESIGN, "samples.yaml", Path(__file__).parent)
    assert [each.what for each in reading.problems if each.is_error] == []
    assert reading.book is not None
    found = work(reading.book, reading.names)
    assert not found.problems, [each.what for each in found.problems]
    return found


def names() -> list[str]:
    return [part.name for part in worked().parts]


def sample(name: str) -> tuple[CutPart, Shape | None]:
    part = next(each for each in worked().parts if each.name == name)
    return part, worked().shapes.get(name)


@cache
def bulk_named(name: str, error: float = 0.02) -> Bulk:
    return bulk_of(*sample(name), worked().solver, error)


def solid_named(name: str, error: float = 0.02) -> Solid:
    return bulk_named(name, error).solid
