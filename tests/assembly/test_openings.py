"""Openings: the size that is planned, held against what the pieces around it leave, each way."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from patternpress.assembly.marking import found_opening
from patternpress.assembly.model import check, examine
from patternpress.design.read import read_text

# Between the sides 36 mm are free, between floor and top 20 mm, from front to back 26 mm.
CASE = """\
design: Case
stock:
  board: {sheet: 2 mm}
parts:
  plate: {stock: board, wide: 40 mm, deep: 30 mm, pieces: [floor, top]}
  side: {stock: board, deep: 30 mm, high: 20 mm, pieces: [left side, right side]}
  back: {stock: board, wide: 36 mm, high: 20 mm}
  front: {stock: board, wide: 36 mm, high: 4 mm}
openings:
  bay:
    between: [left side and right side, floor and top, front and back]
    wide: WIDE
    high: HIGH
    deep: DEEP
steps:
  - step: Glue it
    start: floor
    join:
      left side: {bottom: against floor, left: flush with floor, front: flush with floor}
      right side: {bottom: against floor, right: flush with floor, front: flush with floor}
      back: {bottom: against floor, left: against left side, back: flush with floor}
      front: {bottom: against floor, left: against left side, front: flush with floor}
      top: {bottom: against left side, left: flush with left side, front: flush with floor}
    wait: 1 min
  - step: Measure it
    measure: bay
"""
TRUE = {"wide": 36, "high": 20, "deep": 26}


def case(**said: str) -> str:
    """The case, its opening as it is but for what is said."""
    text = CASE
    for axis, size in TRUE.items():
        text = text.replace(axis.upper(), said.get(axis, f"{size} mm"))
    return text


def test_what_the_pieces_leave_is_found_each_way() -> None:
    found = examine(read_text(case(), "case.yaml", Path()))
    assert found.problems == ()
    assert found.worked is not None and found.assembly is not None
    (bay,) = found.worked.book.openings
    assert found_opening(bay, found.worked, found.assembly) == {
        axis: Fraction(size) for axis, size in TRUE.items()
    }


@pytest.mark.parametrize(
    ("axis", "said", "what"),
    [
        ("wide", "35 mm", "35 mm (1.378 in) wide; the pieces around it leave 36 mm (1.417 in)"),
        ("wide", "1.5 in", "38.1 mm (1.500 in) wide; the pieces around it leave 36 mm (1.417 in)"),
        ("high", "21 mm", "21 mm (0.827 in) high; the pieces around it leave 20 mm (0.787 in)"),
        ("high", "19.9 mm", "19.9 mm (0.783 in) high; the pieces around it leave 20 mm (0.787 in)"),
        ("deep", "28 mm", "28 mm (1.102 in) deep; the pieces around it leave 26 mm (1.024 in)"),
    ],
)
def test_another_size_is_told_where_it_is_said(axis: str, said: str, what: str) -> None:
    text = case(**{axis: said})
    found = examine(read_text(text, "case.yaml", Path()))
    (problem,) = found.problems
    assert problem.code == "opening-differs" and problem.is_error
    assert problem.what == f"“bay” is said to be {what}"
    line = 1 + text[: text.index(f"    {axis}: {said}")].count("\n")
    assert (problem.span.line, problem.span.column) == (line, len(f"    {axis}: ") + 1)


def test_all_that_is_wrong_is_told_in_one_pass() -> None:
    found = check(read_text(case(wide="35 mm", high="21 mm", deep="28 mm"), "case.yaml", Path()))
    assert [each.facts["axis"] for each in found] == ["wide", "high", "deep"]
    assert {each.code for each in found} == {"opening-differs"}
