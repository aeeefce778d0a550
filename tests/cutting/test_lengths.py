"""Lengths: optima proved, held against published cases, brute force and the sums of kerfs."""

from __future__ import annotations

import functools
import json
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from patternpress.cutting.packing.lengths import cut_lengths
from patternpress.cutting.packing.records import Board, Kind, Packing
from tests.cutting.judge import kerf_sum

CASES: list[dict[str, Any]] = json.loads(
    (Path(__file__).parent / "data" / "lengths.json").read_text(encoding="utf-8")
)


def faults(packing: Packing, boards: list[Board], kinds: list[Kind]) -> list[str]:
    """What is wrong: pieces, places, boards that are not there, cost and bound."""
    placed = Counter(p.kind for each in packing.filled for p in each.placed)
    found = [] if placed == Counter({n: k.count for n, k in enumerate(kinds)}) else ["pieces"]
    for each in packing.filled:
        ends = [(p.y, kinds[p.kind].high) for p in each.placed]
        found += kerf_sum(ends, 0, boards[each.board].high)
    used = Counter(each.board for each in packing.filled)
    found += [
        f"{used[n]} of board {n}"
        for n, board in enumerate(boards)
        if board.count is not None and used[n] > board.count
    ]
    if packing.cost != sum(boards[each.board].price for each in packing.filled):
        found.append("cost")
    return found


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_published_cases_are_optimal(case: dict[str, Any]) -> None:
    """The best known values are in the file beside their sources."""
    pieces = case["pieces"]
    counted = Counter(dict(pieces) if isinstance(pieces[0], list) else pieces)
    kinds = [Kind(1, size, count) for size, count in counted.items()]
    boards = [Board(1, case["length"])]
    packing = cut_lengths(boards, kinds)
    assert faults(packing, boards, kinds) == []
    assert (packing.cost, packing.bound) == (case["best_known"], case["best_known"])


def least_cost(boards: list[Board], pieces: tuple[int, ...]) -> float:
    """The least cost, by dynamic programming over all subsets of the pieces."""
    whole = (1 << len(pieces)) - 1

    @functools.cache
    def total(held: int) -> int:
        return sum(size for n, size in enumerate(pieces) if held >> n & 1)

    @functools.cache
    def cost(left: int, limited: tuple[int, ...]) -> float:
        if not left:
            return 0
        lowest = left & -left
        best = float("inf")
        held = left
        while held:
            if held & lowest:
                for n, board in enumerate(boards):
                    if total(held) <= board.high and (board.count is None or limited[n]):
                        rest = tuple(c - (m == n) for m, c in enumerate(limited))
                        best = min(best, board.price + cost(left & ~held, rest))
            held = (held - 1) & left
        return best

    return cost(whole, tuple(board.count or 0 for board in boards))


@settings(max_examples=60)
@given(
    st.lists(st.integers(3, 20), min_size=1, max_size=7),
    st.integers(0, 2),
    st.integers(1, 9),
    st.integers(1, 9),
)
def test_small_jobs_are_the_cheapest_there_are(
    pieces: list[int], owned: int, short: int, long: int
) -> None:
    boards = [Board(1, 14, 0, owned), Board(1, 20, short), Board(1, 33, long)]
    kinds = [Kind(1, size, count) for size, count in Counter(pieces).items()]
    packing = cut_lengths(boards, kinds)
    assert faults(packing, boards, kinds) == []
    assert packing.cost == packing.bound == least_cost(boards, tuple(pieces))


# Kerf: n pieces take n - 1 cuts where the end is used up (5 × 195 + 4 × 2 = 983 ≤ 1000).
KERFS = [(5, 195, 2, 1000, 1), (5, 195, 6, 1000, 1), (5, 195, 7, 1000, 2), (4, 25, 0, 100, 1)]


@pytest.mark.parametrize(("count", "size", "kerf", "length", "wanted"), KERFS)
def test_kerf(count: int, size: int, kerf: int, length: int, wanted: int) -> None:
    packing = cut_lengths([Board(1, length + kerf)], [Kind(1, size + kerf, count)])
    assert packing.cost == wanted
    assert not any(
        kerf_sum([(p.y, size) for p in each.placed], kerf, length) for each in packing.filled
    )


def test_one_long_offcut_is_better_than_two_short_ones() -> None:
    packing = cut_lengths([Board(1, 100)], [Kind(1, 40, 2), Kind(1, 30, 1), Kind(1, 20, 1)])
    free = sorted(100 - sum(p.high for p in each.placed) for each in packing.filled)
    assert free == [0, 70]


def test_what_fits_nowhere_is_refused() -> None:
    with pytest.raises(ValueError, match="kind 1"):
        cut_lengths([Board(1, 100)], [Kind(1, 40), Kind(1, 101)])
    with pytest.raises(ValueError, match="suffice"):
        cut_lengths([Board(1, 100, 1, 1)], [Kind(1, 60, 2)])
    assert cut_lengths([Board(1, 100)], [Kind(1, 40, 0)]).filled == ()
