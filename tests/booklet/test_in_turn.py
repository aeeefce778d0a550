"""Rows of pictures of single pieces stand over the sentences that speak of them."""

from __future__ import annotations

import pytest
from markupsafe import Markup

from patternpress.booklet.content import Figure
from patternpress.booklet.inturn import in_turn


def row(*letters: str) -> Figure:
    return Figure(Markup("<svg/>"), letters=letters)


A, B, AC, PLAIN = row("A"), row("B"), row("A", "C"), row()


@pytest.mark.parametrize(
    ("rows", "actions", "told"),
    [
        # A row before the first sentence about it; sentences keep their order and numbers.
        ([A, B], ["Drill A (A).", "Turn it.", "Drill B (B)."], [("A", 0, 2), ("B", 2, 1)]),
        # A sentence about a later row brings all rows before it.
        ([A, B], ["Drill B (B).", "Drill A (A)."], [("A B", 0, 2)]),
        # Words come first that speak of no row; what no sentence names comes with the last.
        ([A, B], ["Sweep.", "Drill A (A)."], [("", 0, 1), ("A B", 1, 1)]),
        ([A, AC], ["Drill <b>A (A)</b>."], [("A A C", 0, 1)]),
        ([A, PLAIN], ["Drill A (A).", "Drill B (B)."], [("A", 0, 2)]),
        ([A], [], [("A", 0, 0)]),
        ([], ["Sweep."], [("", 0, 1)]),
    ],
)
def test_rows_and_sentences_take_turns(
    rows: list[Figure], actions: list[str], told: list[tuple[str, int, int]]
) -> None:
    found = in_turn(rows, actions)
    shown = [
        (" ".join(x for f in t.figures for x in f.letters), t.before, len(t.actions)) for t in found
    ]
    assert shown == told
    assert [f for t in found for f in t.figures] == rows
    assert [a for t in found for a in t.actions] == actions
