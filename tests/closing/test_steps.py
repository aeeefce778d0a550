"""Steps by size and by choice: large figures, and sizes and parts with a step of their own."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from patternpress.closing.close import Closed, UnclosedError, close
from patternpress.closing.facts import closed_facts
from patternpress.closing.table import table
from patternpress.design.read import Reading, read_text
from tests.closing.test_close import STEP, box, in_steps
from tests.closing.walker import chains, missed

RACK = """design: Rack
stock:
  board: {{sheet: 2 mm}}
sizes:
  width: {WIDTH}
  post: {POST}
  gap: {GAP}
parts:
  base: {{stock: board, wide: width, deep: 40 mm}}
  post: {{stock: board, deep: 40 mm, high: post{PART}, pieces: [left post, right post]}}
  back: {{stock: board, wide: width - 2 * thickness of board, high: post - gap}}
steps:
  - step: Join it
    start: base
    join:
      left post: {{bottom: against base, left: flush with base, front: flush with base}}
      right post: {{bottom: against base, right: flush with base, front: flush with base}}
      back: {{bottom: against base, left: against left post, back: flush with base}}
editions:
  metric: {{units: mm{MORE}}}
  fine: {{like: metric}}
  inch: {{units: in{MORE}}}
"""
COARSER = ", coarser: [{over: 300 mm, step: 1 mm}, {over: 100 mm, step: 0.5 mm}]"


def rack(
    width: str = "421.3 mm",
    post: str = "100.2 mm",
    part: str = "",
    more: str = "",
    gap: str = "0.3 mm",
) -> Reading:
    text = RACK.format(WIDTH=width, POST=post, GAP=gap, PART=part and f", {part}", MORE=more)
    return read_text(text, "rack.yaml", Path())


def figure(closed: Closed, words: str) -> Fraction:
    return next(each.mm for each in closed.figures.after.values() if each.words == words)


@pytest.mark.parametrize("edition", ["metric", "fine"])
def test_large_figures_come_to_coarser_steps(edition: str) -> None:
    """`fine` takes the steps over from `metric`."""
    closed = close(rack(more=COARSER), edition)
    assert (figure(closed, "width"), figure(closed, "width of back")) == (421, 417)
    assert figure(closed, "height of post") == 100
    assert figure(closed, "depth of base") == 40
    told = closed_facts(closed)
    assert [missed(each, told) for each in chains(told)] == [0] * len(chains(told))


def test_without_them_all_are_as_designed() -> None:
    assert figure(close(rack(), "metric"), "width") == Fraction("421.3")


def test_a_sum_that_would_move_others_too_far_is_given_up_and_told() -> None:
    """The back is 0.3 mm lower than the post, and 0.3 mm does not go into half millimetres."""
    held = "{{is: {} mm, tolerance: 0.05 mm}}"
    closed = close(rack(post=held.format("110"), gap=held.format("0.3"), more=COARSER), "metric")
    assert figure(closed, "height of back") == Fraction("109.7")
    assert "Given up: height of back comes to steps of 0.5 mm" in table(closed)


def test_steps_of_the_other_system_are_not_asked_for() -> None:
    closed = close(rack(more=COARSER), "inch")
    assert abs(figure(closed, "width") - Fraction("421.3")) <= STEP
    inches = close(rack(more=", coarser: [{over: 10 in, step: 1/8 in}]"), "inch")
    assert (figure(inches, "width") / (8 * STEP)).denominator == 1


def test_a_size_with_a_step_of_its_own_keeps_it() -> None:
    closed = close(rack(width="{is: 421.3 mm, step: 5 mm}"), "metric")
    assert figure(closed, "width") == 420
    assert figure(closed, "width of back") == 416
    assert figure(close(rack(width="{is: 421.3 mm, step: 1/4 in}"), "metric"), "width") == Fraction(
        "421.3"
    )


def test_a_part_with_a_step_of_its_own_keeps_it_in_each_cut_size() -> None:
    closed = close(rack(part="step: 1/16 in"), "inch")
    assert in_steps(closed, "height of post") % 4 == 0
    assert in_steps(closed, "depth of post") % 4 == 0
    assert "Kept: height of post comes to steps of 1/16 in." in table(closed)


def test_a_step_that_clashes_is_refused_by_name() -> None:
    reading = rack(width="{is: 421.3 mm, step: 5 mm, tolerance: 0.5 mm}")
    with pytest.raises(UnclosedError, match="width comes to steps of 5 mm"):
        close(reading, "metric")


def test_a_box_without_steps_is_closed_as_before() -> None:
    assert close(box(), "inch").figures.grid.coarser == ()
