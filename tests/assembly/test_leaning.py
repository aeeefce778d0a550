"""Holes that lean because of what goes into them: how far, which way, and whether they stay in."""

from __future__ import annotations

from fractions import Fraction
from math import cos, radians, sin
from pathlib import Path

import pytest

from patternpress.assembly.leaning import ways_of
from patternpress.assembly.model import check
from patternpress.assembly.placing import assemble
from patternpress.assembly.worked import work
from patternpress.design.read import Reading, read_text

RAIL = """design: Rail
hangs: yes
stock:
  board: {sheet: 6 mm}
  rod: {rod: 3 mm}
parts:
  rail:
    stock: board
    wide: 60 mm
    high: 24 mm
    holes: {peg hole: {HOLE}}
  peg: {stock: rod, deep: 20 mm, leans: LEAN}
steps:
  - step: Drill it
    start: rail
    treat:
      - drill: rail
  - step: Glue the peg in
    join:
      peg: {back: PLACE}
"""
MIDDLE = "round: 3 mm, at: centre, deep: 4 mm"


def read(lean: str, hole: str = MIDDLE, place: str = "in peg hole of rail") -> Reading:
    text = RAIL.replace("HOLE", hole).replace("LEAN", lean).replace("PLACE", place)
    reading = read_text(text, "rail.yaml", Path())
    assert [each.what for each in reading.problems] == []
    return reading


@pytest.mark.parametrize(
    ("lean", "wanted"),
    [
        ("front raised by 15 deg", [(15, "top")]),
        ("front lowered by 7.5 deg", [(Fraction(15, 2), "bottom")]),
        ("front raised by 0 deg", None),
    ],
)
def test_a_hole_leans_as_what_goes_into_it(
    lean: str, wanted: list[tuple[Fraction, str]] | None
) -> None:
    reading = read(lean)
    assert reading.book is not None
    worked = work(reading.book, reading.names)
    found = ways_of(worked, assemble(worked)).get(("rail", "peg hole"))
    assert (list(found) if found else None) == wanted


# Worked out by hand: d deep and r in radius, the rim of the end lies d c + r s behind the face, and
# d s + r c below the mouth.
R = 1.5


@pytest.mark.parametrize(("degrees", "deep"), [(10, 5), (20, 5), (45, 5), (20, 5.7), (30, 5.7)])
def test_a_blind_hole_that_leans_stays_in_the_wood(degrees: float, deep: float) -> None:
    c, s = cos(radians(degrees)), sin(radians(degrees))
    out = deep * c + R * s - 6
    found = check(
        read(f"front raised by {degrees} deg", f"round: 3 mm, at: centre, deep: {deep} mm")
    )
    said = [each.what for each in found if each.code == "hole-breaks-out"]
    assert len(said) == (out >= 0)
    assert all("far end" in each and f"by {out:.2f}".rstrip("0") in each for each in said)


@pytest.mark.parametrize(("height", "out"), [(4, None), (3, "0.06 mm (0.002 in)")])
def test_a_hole_that_leans_down_stays_off_the_edge(height: float, out: str | None) -> None:
    """Through 6 mm at 15 degrees it comes out 1.61 mm lower, where its rim is 1.45 mm across."""
    hole = f"round: 3 mm, at: centred and {height} mm from bottom"
    found = check(read("front raised by 15 deg", hole, "'in peg hole of rail, 5 mm deep'"))
    said = [each.what for each in found if each.code == "hole-breaks-out"]
    side = "breaks out at its side, drilled 15 degrees from square, by"
    wanted = [f"the hole “peg hole” in “rail” {side} {out}"]
    assert said == (wanted if out else [])
    shown = [(each.facts.get("piece"), each.at) for each in found if each.code == "hole-breaks-out"]
    assert all(piece == "rail" and at is not None for piece, at in shown)


LADDER = """design: Ladder
hangs: yes
stock:
  strip: {strip: 3 x 6 mm}
  dowel: {rod: 2 mm}
parts:
  string:
    stock: strip
    high: 60 mm
    broad side: left
    leans: foot 12 deg to the front
    pieces: {left string: as drawn, right string: mirrored left to right}
    ends: {bottom: level}
    holes:
      rung hole: {round: 2 mm, on: right, at: centred and 12 mm from bottom, deep: 2 mm, row: ROW}
  rung: {stock: dowel, wide: 26 mm, quantity: 4}
steps:
  - step: Make it
    start: left string
    treat: {drill: rung hole of string}
    join:
      RUNGS
      right string: {left: 22 mm from right of left string, bottom: flush with left string,
        front: flush with left string}
""".replace("ROW", "{toward: top, every: 12 mm, quantity: 4}")


@pytest.mark.parametrize(
    "rungs",
    [
        "rung: {left: in rung hole of left string, row: {toward: top, every: 12 mm}}",
        "rung 1: {left: in rung hole of left string, row: {toward: top, every: 24 mm, of: 2}}\n"
        "      rung 3: {left: in rung hole 2 of left string}\n"
        "      rung 4: {left: in rung hole 4 of left string}",
    ],
)
def test_pieces_find_a_row_of_holes_that_leans(rungs: str) -> None:
    reading = read_text(LADDER.replace("RUNGS", rungs), "ladder.yaml", Path())
    assert [each.what for each in check(reading)] == []


BEVELLED = """design: Rail with a pin
stock:
  board: {sheet: 22 mm, sold: 350 x 2000 mm, cut with: saw}
  dowel: {rod: 12 mm, sold: 1000 mm, cut with: saw}
sizes: {splay: 6 deg, middle: thickness of board / 2}
parts:
  side:
    stock: board
    deep: 100 mm
    high: 150 mm
    leans: foot splay to the left
    ends: {bottom: level}
    holes:
      hole: {round: 12 mm + PLAY, at: 60 mm from bottom}
  rail:
    stock: board
    wide: 200 mm
    deep: 60 mm
    ends: {left: "splay, longest at bottom"}
    holes:
      socket: {round: 12 mm, on: left, at: centre, deep: 40 mm}
  pin: {stock: dowel, wide: 60 mm, leans: left raised by splay}
tools: {saw: }
materials:
  glue: {kind: glue, handle: 1 h, hard: 1 day}
steps:
  - step: Put it together
    start: side
    join:
      rail:
        left: against side
        bottom: 60 mm * cos(splay) - middle * sin(splay) - middle from bottom of side
        front and back: centred on side
      pin: {right: 'in socket of rail, 38 mm deep'}
    wait: {for: glue, until: hard}
"""


@pytest.mark.parametrize("play", ["0 mm", "0.3 mm"])
def test_a_dowel_square_to_a_bevelled_end_is_in_line_with_the_hole_before_it(play: str) -> None:
    """Its mouth lies in the bevel, not at the tip: it was 11 mm · tan 6° · sin 6° beside it."""
    reading = read_text(BEVELLED.replace("PLAY", play), "rail.yaml", Path())
    assert [each.what for each in check(reading) if each.is_error] == []


def test_a_level_pin_in_a_leaning_board_is_told_why_it_does_not_go_in() -> None:
    """22 mm · tan 6°: only how far it runs into the board was told, not that its hole leans."""
    text = BEVELLED.replace("PLAY", "0 mm").replace(", leans: left raised by splay", "")
    text = text.replace("pin: {right: 'in socket of rail, 38 mm deep'}", LEVEL_PIN)
    told = [each.what for each in check(read_text(text, "rail.yaml", Path())) if each.is_error]
    assert any("“hole” is square to “side”, which leans: let “pin” lean" in each for each in told)


LEVEL_PIN = "pin: {right: through hole of side, left: 20 mm beyond left of side}"


BRACE = """design: Brace
hangs: yes
stock:
  board: {sheet: 18 mm, sold: 200 x 1000 mm, cut with: saw}
  strip: {strip: 24 x 24 mm, sold: 1000 mm, cut with: saw}
  dowel: {rod: 6 mm, sold: 1000 mm, cut with: saw}
parts:
  back board: {stock: board, wide: 100 mm, high: 320 mm}
  arm:
    stock: strip
    deep: 220 mm
    holes: {upper hole: {round: 6 mm, on: top, at: 120 mm from back}}
  brace:
    stock: strip
    high: 168 mm
    leans: top ANGLE deg to the front
    ends: {top: level, bottom: upright}
    holes:
      top hole: {round: 6 mm, on: top, at: centre, deep: 11 mm}
      face hole: {round: 6 mm, on: front, at: centre, deep: 11 mm}
  dowel pin: {stock: dowel, high: 42 mmLEAN}
tools: {saw: }
materials:
  glue: {kind: glue, handle: 1 h, hard: 1 day}
steps:
  - step: Glue the arm on
    start: back board
    join:
      arm:
        back: against back board
        left and right: centred on back board
        top: flush with back board
    wait: {for: glue, until: handle}
  - step: Glue the brace in
    join:
      brace: {top: against arm, back: against back board, left and right: centred on arm}
      dowel pin: {PLACE}
    wait: {for: glue, until: hard}
"""


def braced(angle: int, place: str, lean: str = "front") -> list[tuple[str, str]]:
    """What is wrong with a brace and a dowel in it that leans as it does, or otherwise."""
    leans = f", leans: top {angle} deg to the {lean}" if lean else ""
    text = BRACE.replace("ANGLE", str(angle)).replace("LEAN", leans).replace("PLACE", place)
    found = check(read_text(text, "brace.yaml", Path()))
    return [(each.code, each.what) for each in found if each.is_error]


@pytest.mark.parametrize("angle", [40, 44, 45, 46, 50])
@pytest.mark.parametrize("side", ["bottom", "back"])
def test_either_side_that_the_end_of_a_leaning_dowel_looks_to_goes_in(
    angle: int, side: str
) -> None:
    """Of 45 degrees only the back was taken, of 44 only the bottom: the hole had one direction.

    The arm has no hole where the dowel comes through, so all that is left to tell is that.
    """
    told = braced(angle, f"{side}: 'in top hole of brace, 10 mm deep'")
    assert [(code, "into “arm”" in what) for code, what in told] == [("pieces-clash", True)]


@pytest.mark.parametrize("angle", [30, 45])
def test_an_end_that_is_cut_upright_still_points_into_its_hole(angle: int) -> None:
    """Its face looks to the back, so one of the dowel's sides was taken for its lower end."""
    place = "bottom: 'in top hole of brace, 10 mm deep'"
    told = braced(angle, place, "front, ends: {bottom: upright}")
    assert [(code, "into “arm”" in what) for code, what in told] == [("pieces-clash", True)]


@pytest.mark.parametrize("side", ["top", "back"])
def test_a_dowel_that_leans_is_as_thick_as_it_is_wherever_its_end_looks(side: str) -> None:
    """It was told to be 42 mm thick, its length, where the side named was not its own end."""
    assert braced(45, f"{side}: 'in face hole of brace, 10 mm deep'", "back") == []


def test_an_upright_dowel_in_a_level_end_is_told_that_the_hole_runs_along_the_piece() -> None:
    told = braced(44, "bottom: 'in top hole of brace, 10 mm deep'", "")
    assert "“top hole” runs along “brace”, which leans: let “dowel pin” lean" in str(told)
    left = braced(45, "left: 'in top hole of brace, 10 mm deep'", "")
    why = "the top hole of “brace”: it leans with “brace”, 90 degrees from there"
    assert left == [("not-in-hole", f"the left of “dowel pin” cannot go into {why}")]


def test_a_leaning_dowel_goes_through_a_square_piece() -> None:
    """Its hole is drilled at its angle; the piece was told to lean, which does not."""
    assert braced(45, "bottom: through upper hole of arm, top: flush with arm") == []


def test_it_is_said_which_of_two_leans_where_a_board_does_not_go_into_its_groove() -> None:
    text = """design: Slat
stock:
  board: {sheet: 18 mm, sold: 200 x 1000 mm, cut with: saw}
  thin: {sheet: 6 mm, sold: 200 x 1000 mm, cut with: saw}
parts:
  base:
    stock: board
    wide: 100 mm
    deep: 100 mm
    grooves: {slit: {on: top, wide: 6.2 mm, deep: 8 mm, at: 40 mm from left}}
  slat: {stock: thin, deep: 100 mm, high: 60 mm, leans: top 10 deg to the left}
tools: {saw: }
materials:
  glue: {kind: glue, handle: 1 h, hard: 1 day}
steps:
  - step: Glue it
    start: base
    join:
      slat: {bottom: in slit of base, front: flush with base}
    wait: {for: glue, until: hard}
"""
    told = [each.what for each in check(read_text(text, "slat.yaml", Path())) if each.is_error]
    why = "“slit” is square to “base”, and “slat” leans: set it against the face, without a groove"
    assert len(told) == 1
    assert told[0].endswith(why)
