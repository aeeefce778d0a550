"""What fits at the label only: a clash or a gap with the thinnest or the thickest boards."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from patternpress.assembly.model import check
from patternpress.design.problem import Problem
from patternpress.design.read import read_text
from patternpress.desk import rooms
from tests.assembly.carcass import carcass, plan
from tests.assembly.furnished import furnished

TRAY = """design: Tray
scale: 1:12
stock:
  board: {sheet: 2 mm, really: LOW mm to HIGH mm}
parts:
  base: {stock: board, wide: 40 mm, deep: 30 mm}
  rim: {stock: board, deep: 30 mm, high: 8 mm, pieces: [left rim, right rim]}
  rail: {stock: board, wide: WIDE, high: 8 mm}
steps:
  - step: Glue it
    start: base
    join:
      left rim: {bottom: against base, left: flush with base, front: flush with base}
      right rim: {bottom: against base, right: flush with base, front: flush with base}
      rail: {bottom: against base, left: against left rim, front: flush with base}
"""


def told(low: str, high: str, wide: str = "36 mm") -> list[Problem]:
    text = TRAY.replace("LOW", low).replace("HIGH", high).replace("WIDE", wide)
    return list(check(read_text(text, "tray.yaml", Path())))


@pytest.mark.parametrize(("low", "high"), [("1.8", "2.1"), ("1.9", "2.3"), ("1.75", "2.25")])
def test_a_typed_figure_clashes_with_thick_boards_and_gapes_with_thin_ones(
    low: str, high: str
) -> None:
    """The rail is 36 mm; between the rims there are 40 mm less two thicknesses."""
    found = {each.code: each.facts for each in told(low, high)}
    assert set(found) == {"clash-at-thickness", "gap-at-thickness"}
    clash, gap = found["clash-at-thickness"], found["gap-at-thickness"]
    assert (clash["boards"], gap["boards"]) == ("thickest", "thinnest")
    assert {clash["piece"], gap["piece"], clash["other"]} == {"rail", "right rim"}
    assert Fraction(clash["by"].split()[0]) == 2 * (Fraction(high) - 2)
    assert Fraction(gap["by"].split()[0]) == 2 * (2 - Fraction(low))


def test_a_size_that_is_worked_out_from_the_board_fits_at_both_ends() -> None:
    assert told("1.8", "2.2", "40 mm - 2 * thickness of board") == []


def test_what_is_wrong_at_the_label_is_not_told_again() -> None:
    codes = [each.code for each in told("1.9", "2.1", "37 mm")]
    assert codes == ["pieces-clash"]


def test_sound_cupboards_fit_whatever_board_is_bought() -> None:
    metric = [n for n in range(1000, 1060) if plan(n).board.endswith("mm")][:25]
    for number in metric:
        board = plan(number).board
        thin, thick = (float(board.split()[0]) * share for share in (0.95, 1.05))
        said = f"sheet: {board}, really: {thin:.3f} mm to {thick:.3f} mm"
        text = furnished(number) if number % 2 else carcass(number)
        assert f"sheet: {board}" in text
        found = check(read_text(text.replace(f"sheet: {board}", said), "sound.yaml", Path()))
        assert [(number, each.what) for each in found] == []


MEASURED = """openings:
  gap: {between: left rim and right rim, wide: 36 mm}
"""
CUT = """    wait: 1 h
  - step: Measure and cut
    measure: gap
    cut: rail
  - step: Glue it in
    join:
      rail:"""


def test_what_is_cut_to_a_measured_opening_is_not_told() -> None:
    """Its planned size is a typed figure; it is cut by what is really there."""
    text = TRAY.replace("LOW", "1.8").replace("HIGH", "2.2").replace("      rail:", CUT)
    typed = text.replace("WIDE", "36 mm").replace("    measure: gap\n", "")
    codes = {each.code for each in check(read_text(typed, "tray.yaml", Path()))}
    assert {"clash-at-thickness", "gap-at-thickness"} <= codes
    fitted = text.replace("wide: WIDE", "fitted: gap, less: {wide: 0.1 to 0.2 mm}")
    fitted = fitted.replace("steps:", f"{MEASURED}steps:")
    found = check(read_text(fitted, "tray.yaml", Path()))
    assert [each.what for each in found if each.is_error] == []
    assert not [each.what for each in found if each.code.endswith("at-thickness")]


FAULTS = Path(__file__).parent / "faults"


def at_ends(name: str, *changes: tuple[str, str]) -> list[str]:
    """What is told of a wrong example once it is changed."""
    text = (FAULTS / f"{name}-at-thickness.yaml").read_text("utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    return [each.code for each in check(read_text(text, "case.yaml", Path()))]


TO_LIP = "high: 8 mm - 0.1 mm - thickness of board"


@pytest.mark.parametrize(
    ("name", "old", "new"),
    [
        # 8 mm less the lip is what is left above it: worked out, it goes in whatever is bought.
        ("cannot-go-in", "high: 5.9 mm", TO_LIP),
        ("jams", "high: 5.9 mm", TO_LIP),
        # A door turns out by its own thickness: so much room beside it is always enough.
        ("opens-into", "left: 4.1 mm inside", "left: 2 * thickness of board + 0.1 mm inside"),
        ("slack", "high: 6.5 mm", "high: 3 * thickness of board + 0.5 mm"),
    ],
)
def test_what_goes_in_and_moves_is_silent_where_it_is_worked_out(
    name: str, old: str, new: str
) -> None:
    assert at_ends(name) == [f"{name}-at-thickness"]
    if name == "opens-into":
        room = ("wide: 31.8 mm", "wide: 40 mm - 4 * thickness of board - 0.2 mm")
        assert at_ends(name, (old, new), room) == []
    else:
        assert at_ends(name, (old, new)) == []


@pytest.mark.parametrize(
    ("name", "old", "new", "code"),
    [
        ("cannot-go-in", "high: 5.9 mm", "high: 6 mm + 0.1 mm", "cannot-go-in"),
        ("opens-into", "left: 4.1 mm inside", "left: 3.9 mm inside", "opens-into"),
        ("slack", "high: 6.5 mm", "high: 7.2 mm", "moving-piece-slack"),
    ],
)
def test_what_goes_in_and_moves_wrong_at_the_label_is_told_once(
    name: str, old: str, new: str, code: str
) -> None:
    assert at_ends(name, (old, new)) == [code]


HALVES = """sizes:
  inside: 40 mm - 2 * thickness of board
editions:
  metric: {units: mm}
  inch: {units: in}
  both: {units: both}
  small: {units: mm, scale: 1:24}
"""


@pytest.mark.parametrize("wide", ["inside / 2", "inside * 2 / 3 - inside / 6"])
def test_halves_that_are_closed_to_a_grid_raise_no_alarm(wide: str) -> None:
    """An edition's figures are closed, and no longer follow from the board's thickness; the range
    of a board is that of its label, not of the nearest in inches, nor of that at another scale.
    """
    text = TRAY.replace("LOW", "1.8").replace("HIGH", "2.2").replace("WIDE", wide)
    text = text.replace("mm to 2.2 mm", "mm to 2.2 mm, at scales: [{scale: 1:24, size: 2 mm}]")
    text = text.replace("high: 8 mm}\nsteps", "high: 8 mm, pieces: [rail, right rail]}\nsteps")
    text += "      right rail: {bottom: against base, right: against right rim, "
    text += "front: flush with rail}\n"
    problems = rooms.check(read_text(text + HALVES, "tray.yaml", Path()))
    assert [each.what for each in problems] == []


@pytest.mark.parametrize(
    ("name", "old", "new"),
    [
        ("too-deep", "deep: 1.9 mm", "deep: thickness of board - 0.1 mm"),
        ("breaks-out", "{round: 1.8 mm", "{round: thickness of board - 0.2 mm"),
        ("stem-too-long", "hole of front, 2 mm deep", "hole of front, 1.8 mm deep"),
        ("too-thick-for-hole", "wide: 2 mm", "wide: thickness of board"),
        ("out-of-hole", "wide: 37.3 mm", "wide: 37.5 mm"),
    ],
)
def test_holes_and_grooves_are_silent_where_they_follow_the_board(
    name: str, old: str, new: str
) -> None:
    """And a hole that goes right through at an end is still a hole: its peg runs into no wood."""
    told = at_ends(name)
    assert set(told) == {f"{name}-at-thickness"}
    if name == "too-deep":
        assert at_ends(name, (old, new), ("deep: 1.8 mm", "deep: 1.7 mm")) == []
    elif name == "breaks-out":
        assert at_ends(name, (old, new), ("rod: 1.8 mm", "rod: 1.6 mm")) == []
    else:
        assert at_ends(name, (old, new)) == []


def test_a_hole_that_is_too_deep_at_the_label_is_told_once() -> None:
    assert at_ends("too-deep", ("deep: 1.9 mm", "deep: 2 mm")) == ["groove-too-deep"]


LIP = """design: Tray
scale: 1:12
stock:
  board: {sheet: 2 mm, really: LOW mm to HIGH mm}
parts:
  base: {stock: board, wide: 40 mm, deep: 30 mm}
  rim: {stock: board, wide: 40 mm, high: 8 mm}
  lip: {stock: board, deep: 20 mm, high: 6 mm}
steps:
  - step: Glue it
    start: base
    join:
      rim: {bottom: against base, left: flush with base, back: flush with base}
      lip: {left: against rim, back: flush with rim, bottom: BOTTOM}
"""


@pytest.mark.parametrize(
    ("low", "high", "bottom", "told_of"),
    [
        # It meets the rim over 0.55 mm of its height, times a thickness.
        ("1.9", "2.1", "9.45 mm from bottom of base", ["joint-small-at-thickness"]),
        ("1.99", "2.1", "9.45 mm from bottom of base", []),
        ("1.9", "2.1", "9.45 mm - 2 mm from top of base", []),
        ("1.9", "2.1", "thickness of board + 7.45 mm from bottom of base", []),
        ("1.2", "2.1", "9.45 mm from bottom of base", ["floats-at-thickness"]),
        ("1.9", "2.1", "9.6 mm from bottom of base", ["joint-too-small"]),
    ],
)
def test_a_joint_that_thin_boards_shrink_to_a_hair_is_told(
    low: str, high: str, bottom: str, told_of: list[str]
) -> None:
    text = LIP.replace("LOW", low).replace("HIGH", high).replace("BOTTOM", bottom)
    found = check(read_text(text, "tray.yaml", Path()))
    assert [each.code for each in found] == told_of
    assert all(each.facts.get("boards", "thinnest") == "thinnest" for each in found)
