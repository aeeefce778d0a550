"""Packing on boards: every packing judged by Shapely, by another recursion, and by bounds."""

from __future__ import annotations

import itertools
import json
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from patternpress.cutting.packing.bounds import fewest, least_cost
from patternpress.cutting.packing.records import KNIFE, NO_GROUP, SAW, Board, Kind, Packing
from patternpress.cutting.packing.search import fits, pack
from tests.bench_cutting import MODES, judged, lay
from tests.cutting.judge import Rect, stages, wrong_places

CASES: list[dict[str, Any]] = json.loads(
    (Path(__file__).parent / "data" / "bin-packing.json").read_text(encoding="utf-8")
)
# Cases that the search settles quickly; `make bench` lays out all fifty.
QUICK = [case for case in CASES if len(case["items"]) <= 40][::3]


def rects(packing: Packing, number: int) -> list[Rect]:
    return [(p.x, p.y, p.wide, p.high) for p in packing.filled[number].placed]


def faults(packing: Packing, boards: list[Board], kinds: list[Kind], tool: str) -> list[str]:
    """What is wrong with a packing: pieces, sizes, places, stages, groups, boards, bound."""
    placed = [p for each in packing.filled for p in each.placed]
    found = []
    if Counter(p.kind for p in placed) != Counter({n: k.count for n, k in enumerate(kinds)}):
        found.append("pieces")
    for p in placed:
        kind = kinds[p.kind]
        turned = (p.wide, p.high) == (kind.high, kind.wide)
        if (p.wide, p.high) != (kind.wide, kind.high) and not (kind.turns and turned):
            found.append(f"kind {p.kind} is {p.wide} x {p.high}")
    for number, each in enumerate(packing.filled):
        board = boards[each.board]
        found += wrong_places(rects(packing, number), (board.wide, board.high))
        depth = stages(rects(packing, number))
        if tool == SAW and (depth is None or depth > 3):
            found.append(f"{depth} stages")
    found += split_groups(packing, kinds) + too_many_boards(packing, boards)
    if packing.cost < packing.bound:
        found.append("cheaper than the bound")
    return found


def split_groups(packing: Packing, kinds: list[Kind]) -> list[str]:
    where: dict[int, set[int]] = {}
    for number, each in enumerate(packing.filled):
        for p in each.placed:
            where.setdefault(kinds[p.kind].group, set()).add(number)
    return [f"group {g} is on {w}" for g, w in where.items() if g != NO_GROUP and len(w) > 1]


def too_many_boards(packing: Packing, boards: list[Board]) -> list[str]:
    used = Counter(each.board for each in packing.filled)
    return [
        f"{used[number]} of board {number}"
        for number, board in enumerate(boards)
        if board.count is not None and used[number] > board.count
    ]


SIZE = st.integers(1, 24)
KINDS = st.lists(
    st.builds(Kind, SIZE, SIZE, st.integers(1, 4), st.booleans()), min_size=1, max_size=7
)


@pytest.mark.parametrize("tool", [SAW, KNIFE])
@settings(max_examples=40)
@given(kinds=KINDS)
def test_any_pieces_are_laid_out_soundly(tool: str, kinds: list[Kind]) -> None:
    boards = [Board(24, 30)]
    packing = pack(boards, kinds, tool, most_work=1_000_000)
    assert faults(packing, boards, kinds, tool) == []
    assert pack(boards, kinds, tool, most_work=1_000_000) == packing


@settings(max_examples=30)
@given(kinds=KINDS, owned=st.integers(0, 2))
@example(kinds=[Kind(1, 16), Kind(15, 9, 3), Kind(15, 16, 2, True)], owned=0)
def test_boards_at_hand_are_used_and_never_more_of_them(kinds: list[Kind], owned: int) -> None:
    boards = [Board(16, 24, price=0, count=owned), Board(24, 30, price=3), Board(30, 40, price=5)]
    packing = pack(boards, kinds, SAW, most_work=600_000)
    assert faults(packing, boards, kinds, SAW) == []
    alone = pack(boards[1:2], kinds, SAW, most_work=600_000)
    assert packing.cost <= alone.cost


@settings(max_examples=30)
@given(kinds=KINDS, data=st.data())
def test_pieces_of_a_group_lie_on_one_board(kinds: list[Kind], data: st.DataObject) -> None:
    chosen = data.draw(st.lists(st.booleans(), min_size=len(kinds), max_size=len(kinds)))
    kinds = [
        Kind(min(k.wide, 8), min(k.high, 10), min(k.count, 2), k.turns, 0) if group else k
        for k, group in zip(kinds, chosen, strict=True)
    ]
    grouped = sum(k.area * k.count for k in kinds if k.group == 0)
    boards = [Board(24, 30)]
    try:
        packing = pack(boards, kinds, SAW, most_work=600_000)
    except ValueError:
        assert grouped > 24 * 30 / 2  # a group of half a board always finds room
        return
    assert faults(packing, boards, kinds, SAW) == []


def test_two_groups_that_fill_half_a_board_each_share_one() -> None:
    kinds = [Kind(10, 5, 2, group=0), Kind(10, 5, 2, group=1), Kind(10, 20, 1)]
    packing = pack([Board(10, 20)], kinds, SAW)
    assert len(packing.filled) == 2
    assert packing.proved


def best_by_trying_all(board: Board, kinds: list[Kind]) -> int:
    """The fewest boards, by every way of dealing the pieces out and a full search on each."""
    pieces = [(k.wide, k.high) for k in kinds for _ in range(k.count)]
    for count in range(1, len(pieces) + 1):
        for dealt in itertools.product(range(count), repeat=len(pieces)):
            hands = [
                [p for p, d in zip(pieces, dealt, strict=True) if d == n] for n in range(count)
            ]
            if all(in_strips(hand, board.wide, board.high) for hand in hands):
                return count
    raise AssertionError


def in_strips(pieces: list[tuple[int, int]], wide: int, high: int) -> bool:
    """Whether pieces fit in strips of columns of boxes; by every way to split them."""
    return any(
        sum(max(sum(h for _, h in column) for column in strip) for strip in strips) <= high
        and all(sum(max(w for w, _ in column) for column in strip) <= wide for strip in strips)
        for strips in nested(pieces)
    )


def nested(pieces: list[tuple[int, int]]) -> list[list[list[list[tuple[int, int]]]]]:
    """Every partition into strips, and of each strip into columns."""
    return [
        list(strips)
        for outer in partitions(pieces)
        for strips in itertools.product(*(partitions(strip) for strip in outer))
    ]


def partitions(pieces: list[Any]) -> list[list[list[Any]]]:
    if not pieces:
        return [[]]
    first, rest = pieces[0], pieces[1:]
    found = []
    for part in partitions(rest):
        found.append([[first], *part])
        found += [[*part[:n], [first, *part[n]], *part[n + 1 :]] for n in range(len(part))]
    return found


@settings(max_examples=25)
@given(st.lists(st.builds(Kind, st.integers(2, 9), st.integers(2, 9)), min_size=1, max_size=5))
@example([Kind(2, 5), Kind(2, 6), Kind(7, 5)])
def test_small_jobs_are_as_good_as_trying_everything(kinds: list[Kind]) -> None:
    board = Board(10, 10)
    assert len(pack([board], kinds, SAW).filled) == best_by_trying_all(board, kinds)


# A handful of the published cases; their best known values are in the file beside its sources.
@pytest.mark.parametrize("case", QUICK, ids=lambda case: case["name"])
@pytest.mark.parametrize("mode", MODES)
def test_published_cases(case: dict[str, Any], mode: str) -> None:
    laid = lay(case, *MODES[mode])
    assert judged(case, mode, laid) == []
    assert len(laid.sheets) <= case["best_known"][mode] + 1
    assert laid.bound <= case["best_known"][mode]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_bounds_never_exceed_the_best_known(case: dict[str, Any]) -> None:
    for turns, modes in ((False, "oriented"), (True, "rotated")):
        kinds = [Kind(*item, 1, turns) for item in case["items"]]
        bound = fewest(Board(*case["sheet"]), kinds)
        best = min(v for mode, v in case["best_known"].items() if mode.endswith(modes))
        area = -(-sum(k.area for k in kinds) // Board(*case["sheet"]).area)
        assert area <= bound <= best


# Martello & Vigo (1998): items over half the board both ways cannot share one; from memory.
def test_bound_of_large_pieces() -> None:
    assert fewest(Board(10, 10), [Kind(6, 6, 7)]) == 7
    assert fewest(Board(10, 10), [Kind(6, 4, 7)]) == 4
    assert fewest(Board(10, 10), []) == 0
    assert least_cost([Board(10, 10, 3)], [Kind(6, 6, 7)]) == 21


def test_kerf_is_added_once_between_pieces() -> None:
    """Five pieces of 195 and four cuts of 2 make 983; of 6, 999; of 7, 1003."""
    for kerf, boards in ((2, 1), (6, 1), (7, 2)):
        kinds = [Kind(195 + kerf, 50 + kerf, 5)]
        assert len(pack([Board(1000 + kerf, 50 + kerf)], kinds, SAW).filled) == boards


def test_what_fits_nowhere_is_refused() -> None:
    with pytest.raises(ValueError, match="kind 1"):
        pack([Board(10, 20)], [Kind(5, 5), Kind(11, 5)], SAW)
    with pytest.raises(ValueError, match="suffice"):
        pack([Board(10, 10, count=1)], [Kind(6, 6, 2)], SAW)
    assert fits(Kind(20, 10, turns=True), Board(10, 20))
    assert not fits(Kind(20, 10), Board(10, 20))


def test_a_thousand_pieces_take_bounded_work() -> None:
    kinds = [Kind(40 + 7 * n % 61, 30 + 11 * n % 53, 10, n % 2 == 0) for n in range(100)]
    packing = pack([Board(600, 400)], kinds, SAW, most_work=6_000_000)
    assert faults(packing, [Board(600, 400)], kinds, SAW) == []
    assert packing.work < 16_000_000
    assert packing.cost <= packing.bound * 1.15


def test_the_judge_finds_what_is_wrong() -> None:
    assert list(wrong_places([(0, 0, 5, 5), (4, 4, 5, 5)], (10, 10)))
    assert list(wrong_places([(0, 0, 5, 5), (5, 0, 5, 5)], (10, 10), kerf=1))
    assert list(wrong_places([(6, 0, 5, 5)], (10, 10)))
    pinwheel: list[Rect] = [(0, 0, 2, 1), (2, 0, 1, 2), (1, 2, 2, 1), (0, 1, 1, 2), (1, 1, 1, 1)]
    assert stages(pinwheel) is None
    assert stages([(0, 0, 2, 2), (2, 0, 2, 1), (2, 1, 1, 1), (3, 1, 1, 1)]) == 4
    assert stages([(0, 0, 3, 2), (0, 2, 1, 1), (1, 2, 2, 1)]) == 2
