"""What stands out far past the board that it is joined to, and what only seems to."""

from __future__ import annotations

from pathlib import Path

import pytest

from patternpress.assembly.model import check
from patternpress.design.read import read_text

FAULT = (Path(__file__).parent / "faults" / "hangs-far-over.yaml").read_text("utf-8")
SHELF = "shelf: {back: against back, top: flush with back, left and right: centred on back}"


def told(*changes: tuple[str, str]) -> list[tuple[str, str]]:
    """The pieces of which it is told and the sides, once the wrong example is changed."""
    text = FAULT
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    found = check(read_text(text, "case.yaml", Path()))
    assert [each.what for each in found if each.is_error] == []
    return [(p.facts["piece"], p.facts["side"]) for p in found if p.code == "hangs-far-over"]


@pytest.mark.parametrize(
    ("changes", "pieces"),
    [
        ([], [("shelf", "left"), ("ledge", "right")]),
        # Just less than a quarter: 29 of 118, and 19 of 79.
        ([("wide: 130 mm", "wide: 118 mm"), ("wide: 90 mm", "wide: 79 mm")], []),
        # Said in the join, it is meant.
        (
            [
                (
                    SHELF,
                    "shelf: {back: against back, top: flush with back, left: 35 mm beyond back}",
                ),
                ("wide: 90 mm", "wide: 60 mm"),
            ],
            [("shelf", "right")],
        ),
        (
            [
                (
                    "left and right: centred on back",
                    "left: 5 mm beyond back, right: 65 mm beyond back",
                ),
                ("wide: 90 mm", "wide: 60 mm"),
            ],
            [],
        ),
        # A post under it is no board on edge: so tables stand.
        (
            [
                ("back: {stock: board, wide: 60 mm, ", "back: {stock: post, "),
                ("board: {sheet: 2 mm}", "board: {sheet: 2 mm}\n  post: {strip: 8 mm}"),
            ],
            [],
        ),
    ],
)
def test_only_what_nobody_meant_and_nothing_carries(
    changes: list[tuple[str, str]], pieces: list[tuple[str, str]]
) -> None:
    assert told(*changes) == pieces


def test_what_lies_on_the_bench_is_carried_by_it() -> None:
    """A ground plate that is far larger than the wall on it."""
    upright = ("hangs: yes\n", "")
    ground = (
        SHELF,
        "shelf: {top: against back, back: flush with back, left and right: centred on back}",
    )
    deep = ("wide: 130 mm, deep: 14 mm", "wide: 130 mm, deep: 40 mm")
    short = ("wide: 90 mm", "wide: 60 mm")
    assert told(upright, ground, deep, short) == []


def test_ends_that_something_carries_are_not_told() -> None:
    """Two brackets under the ends, one of them 20 mm further in."""
    bracket = "  bracket: {stock: board, deep: 14 mm, high: 8 mm, pieces: [left one, right one]}\n"
    joins = "".join(
        f"      {side} one: {{top: against shelf, {side} and back: flush with shelf}}\n"
        for side in ("left", "right")
    )
    parts = ("steps:\n", f"{bracket}steps:\n")
    short = ("wide: 90 mm", "wide: 60 mm")
    ledge = ("left: flush with back}\n", "left: flush with back}\n" + joins)
    assert told(parts, short, ledge) == []
    inner = ledge[1].replace(
        "right and back: flush with shelf", "back: flush with shelf, right: 33 mm inside shelf"
    )
    assert told(parts, short, (ledge[0], inner)) == [("shelf", "right")]
