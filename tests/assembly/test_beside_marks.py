"""Marks that are given as figures, held against where the pieces really sit."""

from __future__ import annotations

from pathlib import Path

import pytest

from patternpress.assembly.model import check, examine
from patternpress.design.read import read_text
from patternpress.drawing.faultpictures import FaultPictures

FAULT = (Path(__file__).parent / "faults" / "beside-its-mark.yaml").read_text("utf-8")
SHELF = "shelf line: {on: [right of left side, left of right side], line: 15 mm from bottom}"
UPPER = "upper line: {on: right of left side, line: 4 mm from top}"


def told(*changes: tuple[str, str]) -> list[tuple[str, str, str, str]]:
    """What is told of marks once the wrong example is changed: mark, piece, how far, its side."""
    text = FAULT
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    told = check(read_text(text, "case.yaml", Path()))
    found = [each for each in told if each.code != "mark-unused"]  # a line for nothing at all
    assert {each.code for each in found} <= {"beside-its-mark"}
    return [(p.facts["mark"], p.facts["piece"], p.facts["by"], p.facts["side"]) for p in found]


def shelf_line(line: str, on: str = "[right of left side, left of right side]") -> tuple[str, str]:
    return SHELF, f"shelf line: {{on: {on}, line: {line}}}"


def upper_line(line: str) -> tuple[str, str]:
    return UPPER, f"upper line: {{on: right of left side, line: {line}}}"


# The shelf reaches from 12 to 14 mm, the ledge from 23 to 25 mm, above the foot of the sides.
SOUND = (shelf_line("12 mm from bottom"), upper_line("5 mm from top"))


@pytest.mark.parametrize(
    ("line", "by"),
    [
        ("12 mm from bottom", ""),
        ("16 mm from top", ""),
        ("13 mm from bottom", ""),  # its middle, where pins go in
        ("12.2 mm from bottom", ""),  # no pencil line is as fine
        ("14.3 mm from bottom", "0.3 mm (0.012 in)"),
        ("20 mm from bottom", "6 mm (0.236 in)"),  # it is called after the shelf
    ],
)
def test_a_line_that_is_called_after_a_piece_is_held_against_it(line: str, by: str) -> None:
    changes = (shelf_line(line), SOUND[1])
    assert told(*changes) == ([("shelf line", "shelf", by, "top")] if by else [])


@pytest.mark.parametrize(
    ("line", "by"),
    [
        ("5 mm from top", ""),
        ("6 mm from top", ""),
        ("4 mm from top", "1 mm (0.039 in)"),
        ("3.1 mm from top", "1.9 mm (0.075 in)"),
        ("3 mm from top", ""),  # for something else, as it seems
        ("4 mm from top, keep off: 9 mm from back", ""),  # it ends before the ledge
    ],
)
def test_a_line_of_another_name_is_held_against_what_runs_right_beside_it(
    line: str, by: str
) -> None:
    changes = (SOUND[0], upper_line(line))
    assert told(*changes) == ([("upper line", "ledge", by, "top")] if by else [])


ON_BASE = "{bottom: against base, right: flush with base, front: flush with base}"
# The right side comes last and stands beside the base, 2 mm lower than the left one.
LOWER = (
    ("wide: 42 mm", "wide: 40 mm"),
    (f"      right side: {ON_BASE}\n", ""),
    (
        "left side, right: against right side, bottom: 12 mm from top of base",
        "left side, bottom: WHERE",
    ),
    ("left side, right: against right side, top", "left side, top"),
    (
        "    wait: 1 min",
        "      right side: {left: against shelf, bottom: flush with base,"
        " back: flush with left side}\n    wait: 1 min",
    ),
)


@pytest.mark.parametrize("line", ["12 mm from bottom", "15 mm from bottom"])
def test_a_join_on_one_side_is_held_against_the_line_on_the_other(line: str) -> None:
    """Where it was joined it lies on the line by that very join; on the side that comes later,
    2 mm beside it.
    """
    joined = (*LOWER, ("WHERE", "on shelf line"), shelf_line(line), SOUND[1])
    assert told(*joined) == [("shelf line", "shelf", "2 mm (0.079 in)", "bottom")]


def test_what_is_only_laid_on_says_nothing() -> None:
    """The ledge lies loose on the shelf, 1 mm under a line on the side."""
    joined = "{left: against left side, right: against right side, top: 5 mm inside left side"
    at_shelf = joined.replace("top: 5 mm inside left side", "bottom: against shelf")
    line = upper_line("13 mm from top")
    fixed = told(SOUND[0], line, (joined, at_shelf))
    assert fixed == [("upper line", "ledge", "1 mm (0.039 in)", "top")]
    assert told(SOUND[0], line, (joined, at_shelf.replace("against", "loose against"))) == []


DOTS = """\
design: Stand
stock:
  board: {sheet: 2 mm}
  stick: {strip: 4 mm}
parts:
  base: {stock: board, wide: 40 mm, deep: 30 mm}
  post: {stock: stick, high: 20 mm}
marks:
  post dot: {on: top of base, DOT}
steps:
  - step: Glue it
    start: base
    mark: post dot
    join: {post: {bottom: against base, left: 10 mm inside base, front: 8 mm inside base}}
    wait: 1 min
"""


@pytest.mark.parametrize(
    ("dot", "by"),
    [
        ("dot: 12 mm from left and 10 mm from front", ""),
        ("point: 10 mm from left and 12 mm from front", ""),  # a corner of its foot
        ("dot: 12 mm from left and 13 mm from front", "1 mm (0.039 in)"),
        ("line: 12 mm from left", ""),
    ],
)
def test_a_point_is_met_by_a_middle_or_a_corner(dot: str, by: str) -> None:
    found = check(read_text(DOTS.replace("DOT", dot), "case.yaml", Path()))
    assert [p.facts["by"] for p in found] == ([by] if by else [])


def test_the_picture_rings_the_mark_on_its_piece() -> None:
    found = examine(read_text(FAULT, "case.yaml", Path()))
    first = next(each for each in found.problems if each.code == "beside-its-mark")
    assert first.at is not None and first.at[2] == pytest.approx(17.0)
    assert found.worked is not None and found.assembly is not None
    picture = FaultPictures(found.worked, found.assembly).draw(first)
    assert picture is not None
    assert all(f">{name}<" in picture for name in ("shelf", "left side"))
