"""Holes for rods: as wide as the rod that is sold, in another system and at another scale."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from patternpress.assembly.model import check
from patternpress.closing.close import Closed, close
from patternpress.closing.facts import closed_facts
from patternpress.design.read import Reading, read_text

INCH = Fraction(254, 10)


def rack(hole: str, edition: str, *, size: str = "peg width: 4 mm", pin: str = "1 mm") -> Reading:
    text = f"""design: Rack
scale: 1:12
sizes: {{{size}}}
stock:
  board: {{sheet: 3 mm, nearest: 1/8 in}}
  dowel: {{rod: 4 mm, nearest: 3/16 in}}
  pin: {{bought: a brass pin}}
parts:
  back:
    stock: board
    wide: 60 mm
    high: 40 mm
    holes:
      peg hole: {{round: {hole}, at: centred and 25 mm from bottom}}
      window: {{round: 4 mm, at: 10 mm from left and 10 mm from bottom}}
      pin hole: {{round: {pin}, at: 10 mm from right and 10 mm from bottom}}
  peg: {{stock: dowel, deep: 20 mm}}
  nail: {{stock: pin}}
steps:
  - step: Put them in
    start: back
    join:
      peg: {{back: flush with back, front: through peg hole of back}}
      nail: {{back: 'in pin hole of back, 2 mm deep'}}
editions: {{e: {{{edition}}}}}
"""
    return read_text(text, "rack.yaml", Path())


def wide(closed: Closed, hole: str) -> Fraction:
    shape = closed.model.worked.shapes["back"]
    found = next(each for each in shape.holes if each.name == hole)
    assert found.diameter is not None
    return found.diameter


@pytest.mark.parametrize(
    ("hole", "size"),
    [
        ("4 mm", "spare: 1 mm"),
        ("peg width", "peg width: 4 mm"),
        ("diameter of dowel", "spare: 1 mm"),
    ],
)
def test_a_hole_is_as_wide_as_the_rod_that_is_sold(hole: str, size: str) -> None:
    """4 mm is 5/32 in and a bit; but the rod that is sold is 3/16 in."""
    closed = close(rack(hole, "units: in", size=size), "e")
    assert wide(closed, "peg hole") == INCH * 3 / 16


def test_play_about_a_rod_is_added_to_the_rod_that_is_sold() -> None:
    closed = close(rack("4 mm + 0.4 mm", "units: in"), "e")
    assert wide(closed, "peg hole") == INCH * (Fraction(3, 16) + Fraction(1, 64))


def test_what_is_for_no_rod_keeps_to_the_design() -> None:
    """A window of the same width, and the hole for a pin that is the same everywhere."""
    closed = close(rack("4 mm", "units: in"), "e")
    assert wide(closed, "window") == INCH * 5 / 32
    assert abs(wide(closed, "pin hole") - 1) <= INCH / 128


def test_at_another_scale_the_hole_is_that_of_the_rod_chosen_there() -> None:
    """4 mm at 1:10 is 4.8 mm; the nearest that shops have is 5 mm."""
    closed = close(rack("4 mm", "units: mm, scale: 1:10"), "e")
    assert wide(closed, "peg hole") == 5
    assert wide(closed, "pin hole") == 1


def test_the_author_is_told_why_the_hole_moved() -> None:
    reading = rack("4 mm", "units: in")
    assert [each.what for each in check(reading) if each.is_error] == []
    system = closed_facts(close(reading, "e"))["closing"]["in"]
    row = next(each for each in system["figures"] if "peg hole" in each["figure"])
    assert row["why"] == "the thickness as sold"
