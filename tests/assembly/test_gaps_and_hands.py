"""Gaps that show, pieces of the wrong hand, holes that break out, work that tips over: when the
checks are silent.  What they say is in `faults/`.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from patternpress.assembly.lying import BENCH
from patternpress.assembly.model import check
from patternpress.design.read import read_text

FAULTS = Path(__file__).parent / "faults"


def told(name: str, *changes: tuple[str, str]) -> list[str]:
    """The codes that a wrong example gives when its text is changed."""
    text = (FAULTS / f"{name}.yaml").read_text("utf-8")
    for old, new in changes:
        assert text.count(old) == 1, old
        text = text.replace(old, new)
    return [each.code for each in check(read_text(text, "design.yaml", FAULTS))]


RAIL = "left: 0.3 mm from right of left side"


@pytest.mark.parametrize(
    ("change", "count"),
    [
        ((RAIL, RAIL), 2),
        ((RAIL, f"{RAIL}, right: 0.3 mm from left of right side"), 1),
        # None is no gap; a wide one is a slot.
        (("shelf: {stock: board, wide: 39.4 mm", "shelf: {stock: board, wide: 40 mm"), 1),
        (("shelf: {stock: board, wide: 39.4 mm", "shelf: {stock: board, wide: 38.8 mm"), 1),
        # What is only laid in has play.
        (("shelf: {left: against left side,", "shelf: {left: loose against left side,"), 1),
    ],
)  # fmt: skip
def test_gaps_that_are_meant_are_none(change: tuple[str, str], count: int) -> None:
    assert told("gap-shows", change) == ["gap-shows"] * count


def test_a_joint_that_gapes_is_the_cause_and_what_follows_is_not_told() -> None:
    """The rim hangs below the end that it is glued to, and so runs into the base."""
    text = """design: Tray
hangs: yes
stock:
  board: {sheet: 2 mm}
parts:
  base: {stock: board, wide: 40 mm, deep: 30 mm}
  end: {stock: board, deep: 30 mm, high: 20 mm}
  rim: {stock: board, wide: 30 mm, high: 8 mm}
openings:
  mouth: {between: [rim, end], wide: 12 mm, high: 12 mm}
steps:
  - step: Glue it
    start: base
    join:
      end: {bottom: against base, left: flush with base, front: flush with base}
      rim: {left: against end, top: 1 mm from bottom of end, front: flush with base}
    measure: mouth
"""
    found = check(read_text(text, "tray.yaml", FAULTS))
    assert [each.code for each in found if each.is_error] == ["joint-gapes"]
    assert "`top: 1 mm from top of end`" in found[-1].mend


SLATS = """design: Rack
scale: 1:12
stock:
  board: {sheet: 2 mm}
parts:
  base: {stock: board, wide: 40 mm, deep: 30 mm}
  rail: {stock: board, wide: 40 mm, high: 4 mm}
  slat: {stock: board, wide: 4 mm, deep: 20 mm, quantity: 4}
steps:
  - step: Glue it
    start: base
    join:
      rail: {bottom: against base, left: flush with base, front: flush with base}
      slat: {bottom: HOW base, left: flush with base, front: PLACE, row: ROW}
"""


@pytest.mark.parametrize(
    ("how", "place", "told"),
    [
        ("against", "2.4 mm inside base", ["“rail”; so it does with 3 more of its row"]),
        ("against", "0.4 mm from back of rail", []),
        ("loose against", "2.4 mm inside base", []),
    ],
)
def test_a_gap_of_a_row_is_told_once_and_is_meant_for_all_of_it(
    how: str, place: str, told: list[str]
) -> None:
    text = SLATS.replace("HOW", how).replace("PLACE", place)
    text = text.replace("ROW", "{toward: right, every: 9 mm}")
    found = [p for p in check(read_text(text, "rack.yaml", FAULTS)) if p.code == "gap-shows"]
    assert [each.what.partition(" and ")[2] for each in found] == told


def test_full_size_work_may_have_wider_gaps_told() -> None:
    wide = ("shelf: {stock: board, wide: 39.4 mm", "shelf: {stock: board, wide: 38.8 mm")
    assert told("gap-shows", wide, ("scale: 1:12", "scale: 1:1")).count("gap-shows") == 2


def test_a_gap_that_a_third_piece_fills_is_none() -> None:
    """A veneer of 0.5 mm between two boards: their faces see no air between."""
    text = """design: Block
scale: 1:12
stock:
  board: {sheet: 2 mm}
  veneer: {sheet: 0.5 mm}
parts:
  base: {stock: board, wide: 20 mm, deep: 20 mm}
  leaf: {stock: veneer, wide: WIDE, deep: 20 mm}
  top: {stock: board, wide: 20 mm, deep: 20 mm}
steps:
  - step: Glue it
    start: base
    join:
      leaf: {bottom: against base, left: flush with base, front: flush with base}
      top: {bottom: against leaf, left: flush with base, front: flush with base}
    wait: 1 h
"""
    for wide, codes in (("20 mm", []), ("17 mm", ["gap-shows"])):
        found = check(read_text(text.replace("WIDE", wide), "block.yaml", FAULTS))
        assert [each.code for each in found] == codes


def test_the_right_hand_is_silent_and_a_twin_of_no_hand_is_not_blamed() -> None:
    mirrored = ("right side: as drawn", "right side: mirrored left to right")
    assert told("wrong-hand", mirrored) == []
    # Without the groove both hands are alike; what is wrong is then something else.
    plain = told(
        "wrong-hand",
        ("    grooves:\n", ""),
        ("      groove: {on: right, wide: 2 mm, deep: 1 mm, at: 10 mm from bottom}\n", ""),
        ("  - step: Cut the grooves\n    treat:\n      - groove: side\n", ""),
        ("left: in groove of left side", "left: against left side, bottom: flush with left side"),
    )  # fmt: skip
    assert plain == ["pieces-clash"]


@pytest.mark.parametrize(
    ("change", "codes"),
    [
        (("wait: 30 min", "wait: 30 min\n    hold: {with: tape, where: over the arm}"), []),
        (("start: post", "start: post\n    work lies: on its back"), ["work-tips-over"]),
        (("start: post", "start: post\n    work lies: on its left"), []),
        (("wide: 20 mm, deep: 40 mm}", "wide: 20 mm, deep: 20 mm}"), []),
    ],
)  # fmt: skip
def test_work_that_stands_or_is_held_is_silent(change: tuple[str, str], codes: list[str]) -> None:
    tape = ("parts:\n  foot", "tools: {tape: }\nparts:\n  foot")
    found = told("work-tips-over", change, *([tape] if "tape" in change[1] else []))
    assert [each for each in found if each.startswith(("work", "falls"))] == codes


def test_the_bench_turns_right_handed() -> None:
    """Each row set is a turn, not a mirroring: its determinant is 1."""
    for rows in BENCH.values():
        (a, b, c), (d, e, f), (g, h, i) = rows
        assert a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g) == 1
