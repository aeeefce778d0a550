"""What cannot be laid out is told, with a size that really does."""

from __future__ import annotations

import pytest

from patternpress.cutting.laidcheck import check_laid
from patternpress.design.problem import Problem
from tests.whole.small import STEP, TOP, model

TRAY = """\
stock:
  board: {sheet: 2 mm, SOLD, cut with: fine saw}

parts:
  base: {stock: board, wide: 110 mm, deep: 95 mm, GRAIN}
  lid: {stock: board, wide: 60 mm, deep: 40 mm, same board: outside}
  foot: {stock: board, wide: 60 mm, deep: 40 mm, same board: outside}

tools:
  fine saw:

sub-assemblies:
  frame:
"""


def told(sold: str, grain: str = "grain: left to right") -> tuple[Problem, ...]:
    text = TRAY.replace("SOLD", sold).replace("GRAIN", grain)
    return tuple(check_laid(model(TOP + text + STEP), {}))


def codes(sold: str, grain: str = "grain: left to right") -> list[str]:
    return [each.code for each in told(sold, grain)]


@pytest.mark.parametrize("trim", ["", ", trim: 2 mm"])
def test_the_size_that_is_named_does_and_less_does_not(trim: str) -> None:
    """The grain runs along the length that a sheet is sold in, so the two sizes do not swap."""
    (problem,) = told(f"sold: 90 x 400 mm{trim}")
    assert problem.code == "fits-no-board"
    wide, long = problem.facts["least"].replace("\xa0", " ").removesuffix(" mm").split(" × ")
    assert (float(wide), float(long)) == ((99, 114) if trim else (95, 110))
    assert codes(f"sold: {wide} x {long} mm{trim}") == []
    assert codes(f"sold: {float(wide) - 0.5} x 400 mm{trim}") == ["fits-no-board"]
    assert codes(f"sold: 400 x {float(long) - 0.5} mm{trim}") == ["fits-no-board"]
    assert codes(f"sold: 400 x {float(long) - 0.5} mm{trim}", "grain: any") == []


def test_boards_at_hand_that_are_too_few_are_told_only_where_none_is_sold() -> None:
    assert codes("at hand: {size: 100 x 120 mm}") == ["too-little-at-hand"]
    assert codes("at hand: {size: 100 x 120 mm, count: 3}") == []
    assert codes("at hand: {size: 100 x 120 mm}, sold: 100 x 120 mm") == []


def test_a_corner_that_is_used_leaves_too_little_room() -> None:
    used = "at hand: [{size: 100 x 120 mm, used: 20 x 20 mm}, {size: 50 x 300 mm, count: 2}]"
    assert codes(used) == ["fits-no-board"]


def test_a_group_is_told_by_name_where_no_board_is_large_enough_for_it() -> None:
    found = told("sold: 100 x 115 mm")
    assert [each.code for each in found] == []
    apart = told("sold: 39 x 115 mm, also sold: 50 x 115 mm", "grain: any")
    assert [each.code for each in apart] == ["fits-no-board", "group-fits-no-board"]
    assert apart[1].facts["group"] == "outside"
    assert apart[1].facts["largest"].replace("\xa0", " ") == "50 × 115 mm"
    assert apart[1].facts["least"].replace("\xa0", " ") == "50 × 120 mm"


@pytest.mark.parametrize(("kerf", "long"), [("0 mm", 120), ("0.4 mm", 121)])
def test_the_size_that_a_group_takes_does_and_less_does_not(kerf: str, long: int) -> None:
    def group(size: str) -> list[str]:
        return [e.code for e in told(f"sold: {size}, kerf: {kerf}") if "group" in e.code]

    assert group(f"79 x {long} mm") == []
    assert group(f"79 x {long - 1} mm") == ["group-fits-no-board"]
    (problem,) = [e for e in told(f"sold: 79 x 100 mm, kerf: {kerf}") if "group" in e.code]
    assert problem.facts["least"].replace("\xa0", " ") == f"79 × {long} mm"


def test_the_number_of_boards_that_are_missing_would_do() -> None:
    (problem,) = told("at hand: {size: 100 x 120 mm}")
    assert problem.facts["more"] == "1"
    count = 1 + int(problem.facts["more"])
    assert codes(f"at hand: {{size: 100 x 120 mm, count: {count}}}") == []
    assert codes(f"at hand: {{size: 100 x 120 mm, count: {count - 1}}}") == ["too-little-at-hand"]
