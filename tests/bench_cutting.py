"""How few sheets a layout takes, against published cases and a general library.

Run by `make bench-cutting CASES=FILE` as `python -m tests.bench_cutting FILE`.  In: cases as in
tests/cutting/data/bin-packing.json (`best_known` may be missing).  Out: build/bench-cutting.json,
every rectangle of every layout with its seconds, each judged by tests/cutting/judge.py first.
"""

from __future__ import annotations

import json
import sys
import time
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import rectpack
from rectpack import guillotine, maxrects

from patternpress.cutting.packing.records import KNIFE, SAW, Board, Kind, Packing
from patternpress.cutting.packing.search import pack
from tests.bench_rows import Row, show
from tests.cutting.judge import stages, wrong_sheets

ROOT = Path(__file__).parents[1]
CASES = Path(__file__).parent / "cutting" / "data" / "bin-packing.json"
OUT = ROOT / "build" / "bench-cutting.json"
MODES = {
    "guillotine3_oriented": (SAW, False),
    "guillotine3_rotated": (SAW, True),
    "free_oriented": (KNIFE, False),
    "free_rotated": (KNIFE, True),
}
# The rules of the library that its reference figures were made with: the best of each counts.
GUILLOTINE = (
    guillotine.GuillotineBssfSas, guillotine.GuillotineBafSas, guillotine.GuillotineBlsfSas,
    guillotine.GuillotineBssfMaxas, guillotine.GuillotineBafMinas,
)  # fmt: skip
FREE = (maxrects.MaxRectsBssf, maxrects.MaxRectsBaf, maxrects.MaxRectsBl)
ORDERS = (rectpack.SORT_AREA, rectpack.SORT_LSIDE, rectpack.SORT_SSIDE)


@dataclass(frozen=True)
class Laid:
    """One case in one mode: its sheets as rows x, y, w, h, item; the bound; the seconds."""

    sheets: list[list[list[int]]]
    bound: int
    seconds: float


def lay(case: dict[str, Any], tool: str, turns: bool) -> Laid:
    """Lay out a case; equal items are one kind to the search."""
    items = [tuple(item) for item in case["items"]]
    start = time.process_time()
    sizes = list(dict.fromkeys(items))
    kinds = [Kind(*size, items.count(size), turns) for size in sizes]
    packing = pack((Board(*case["sheet"]),), kinds, tool)
    seconds = time.process_time() - start
    return Laid(_rows(packing, items, sizes), packing.bound, seconds)


def _rows(
    packing: Packing, items: Sequence[tuple[int, ...]], sizes: Sequence[tuple[int, ...]]
) -> list[list[list[int]]]:
    waiting = {size: [n for n, item in enumerate(items) if item == size] for size in sizes}
    return [
        [[p.x, p.y, p.wide, p.high, waiting[sizes[p.kind]].pop(0)] for p in each.placed]
        for each in packing.filled
    ]


def judged(case: dict[str, Any], mode: str, laid: Laid) -> list[str]:
    """What an independent judge says against a layout."""
    tool, turns = MODES[mode]
    sheet = (case["sheet"][0], case["sheet"][1])
    found = wrong_sheets(laid.sheets, sheet, case["items"], turned=turns)
    if len(laid.sheets) < laid.bound:
        found.append("fewer sheets than the bound")
    if tool == SAW:
        for number, each in enumerate(laid.sheets):
            depth = stages([(x, y, w, h) for x, y, w, h, _ in each])
            if depth is None or depth > 3:
                found.append(f"sheet {number} takes {depth} stages")
    return found


def library(case: dict[str, Any], tool: str, turns: bool) -> int:
    """The fewest sheets of the general library, over its rules and orders."""
    best = len(case["items"])
    for rule in GUILLOTINE if tool == SAW else FREE:
        for order in ORDERS:
            packer = rectpack.newPacker(
                rectpack.PackingMode.Offline, rectpack.PackingBin.BFF, rule, order, turns
            )
            for wide, high in case["items"]:
                packer.add_rect(wide, high)
            packer.add_bin(*case["sheet"], count=float("inf"))
            packer.pack()
            if len(packer.rect_list()) == len(case["items"]):
                best = min(best, len(packer))
    return best


def bench(cases: Sequence[dict[str, Any]]) -> list[dict[str, Any]]:
    """Lay out every case in every mode; raises AssertionError where the judge finds fault."""
    found = []
    for case in cases:
        modes = {}
        for mode, (tool, turns) in MODES.items():
            laid = lay(case, tool, turns)
            faults = judged(case, mode, laid)
            assert not faults, (case["name"], mode, faults)
            modes[mode] = {
                "sheets": laid.sheets, "seconds": round(laid.seconds, 3), "bound": laid.bound,
            }  # fmt: skip
        found.append({"name": case["name"], "modes": modes})
    return found


def rows(cases: Sequence[dict[str, Any]], done: Sequence[dict[str, Any]]) -> list[Row]:
    """Totals, against the best known, the library and the clock, as rows of the bench."""
    table: list[Row] = []
    few = proved = 0
    for mode, (tool, turns) in MODES.items():
        counts = [len(each["modes"][mode]["sheets"]) for each in done]
        bounds = [each["modes"][mode]["bound"] for each in done]
        few += sum(count <= 3 for count in counts)
        proved += sum(c <= 3 and c == b for c, b in zip(counts, bounds, strict=True))
        theirs = [library(case, tool, turns) for case in cases]
        worse = sum(ours > other for ours, other in zip(counts, theirs, strict=True))
        name = mode.replace("_", " ").replace("guillotine3", "edge to edge")
        known = [case.get("best_known", {}).get(mode) for case in cases]
        if all(known):
            table.append(
                Row(f"sheets, {name}, to the best known", sum(counts) / sum(known), goal=1.01)
            )
        table.append(Row(f"sheets, {name}", sum(counts), "sheets"))
        table.append(Row(f"sheets, {name}, bound", sum(bounds), "sheets"))
        table.append(Row(f"sheets, {name}, general library", sum(theirs), "sheets"))
        table.append(Row(f"cases worse than the library, {name}", worse, "cases", goal=0))
        seconds = [each["modes"][mode]["seconds"] for each in done]
        table.append(Row(f"longest case, {name}", max(seconds), "s", goal=1))
    if few:
        table.append(Row("jobs of one to three sheets not proved", 1 - proved / few, goal=0.1))
    return table


def growth() -> list[Row]:
    """A thousand different pieces on large sheets: the seconds, and the gap to the bound."""
    kinds = [
        Kind(20 + n * 7919 % 181, 15 + n * 104729 % 97, 1, n % 2 == 0) for n in range(1000)
    ]  # spread by two primes
    start = time.process_time()
    packing = pack((Board(1220, 610),), kinds, SAW)
    seconds = time.process_time() - start
    return [
        Row("a thousand pieces", seconds, "s", goal=5),
        Row("a thousand pieces, sheets to the bound", packing.cost / packing.bound, goal=1.1),
    ]


def main() -> None:
    """Lay out the cases of a file, write every rectangle down, and show the totals."""
    path = Path(sys.argv[1]) if len(sys.argv) > 1 else CASES
    cases = json.loads(path.read_text(encoding="utf-8"))
    done = bench(cases)
    OUT.parent.mkdir(exist_ok=True)
    OUT.write_text(json.dumps({"cases": done}) + "\n", encoding="utf-8")
    for row in rows(cases, done):
        show(row)
    print(f"Written to {OUT.relative_to(ROOT)}.")


if __name__ == "__main__":
    main()
