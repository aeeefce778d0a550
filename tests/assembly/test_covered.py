"""When a mark or a face lies under another piece, mirrored pieces included."""

from __future__ import annotations

from pathlib import Path

import pytest

from patternpress.assembly.model import check
from patternpress.design.read import read_text

FAULTS = Path(__file__).parent / "faults"


def told(name: str, *changes: tuple[str, str]) -> list[tuple[str, str]]:
    """What of this kind is told of a wrong example with words exchanged, and the piece on top."""
    text = (FAULTS / f"{name}.yaml").read_text("utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    found = check(read_text(text, "design.yaml", FAULTS))
    return [(each.code, each.facts["other"]) for each in found if each.code.endswith("-covered")]


@pytest.mark.parametrize(
    ("changes", "codes"),
    [
        ([], [("mark-covered", "sole")]),
        # Half of the line is still seen.
        ([("sole: {stock: board, wide: 40 mm", "sole: {stock: board, wide: 20 mm")], []),
        # The line lies beside the sole.
        ([("line: 5 mm from front", "line: 13 mm from front")], []),
        # What of it is drawn lies under the sole after all.
        (
            [
                ("sole: {stock: board, wide: 40 mm", "sole: {stock: board, wide: 20 mm"),
                ("line: 5 mm from front}", "line: 5 mm from front, keep off: 21 mm from right}"),
            ],
            [("mark-covered", "sole")],
        ),
        # On the other face of the base.
        ([("rim line: {on: top of base", "rim line: {on: bottom of base")], []),
        # Laid on without glue, it can be lifted off again.
        ([("sole: {bottom: against base", "sole: {bottom: loose against base")], []),
    ],
)
def test_marks(changes: list[tuple[str, str]], codes: list[tuple[str, str]]) -> None:
    assert told("mark-covered", *changes) == codes


def test_a_point_is_covered_as_a_line_is() -> None:
    point = ("line: 'centre, front to back'", "point: 20 mm from left and 6 mm from front")
    centred = ("rim: {bottom: against base, front: against sole", "rim: {bottom: against sole")
    found = told(
        "mark-covered",
        ("line: 5 mm from front", "line: 14 mm from front"),
        point,
        centred,
        ("centred on middle", "centred on middle, front and back: centred on middle"),
        ("rim: {stock: board, deep: 18 mm", "rim: {stock: board, deep: 8 mm"),
    )
    assert found == [("mark-covered", "sole")]


@pytest.mark.parametrize(
    ("changes", "codes"),
    [
        ([], [("face-covered", "lining")] * 2 + [("face-covered", "lip")]),
        # A lining that leaves a tenth of the top open.
        (
            [("lining: {stock: board, wide: 40 mm", "lining: {stock: board, wide: 36 mm")],
            [("face-covered", "lining"), ("face-covered", "lip")],
        ),
        # Laid in loosely, it comes out again for sanding.
        (
            [("lining: {bottom: against base", "lining: {bottom: loose against base")],
            [],
        ),
    ],
)
def test_faces(changes: list[tuple[str, str]], codes: list[tuple[str, str]]) -> None:
    assert told("face-covered", *changes) == codes


PAIR = """design: Pair
stock: {board: {sheet: 2 mm}}
parts:
  base: {stock: board, wide: 40 mm, deep: 30 mm}
  end:
    stock: board
    deep: 30 mm
    high: 12 mm
    pieces: {left end: as drawn, right end: mirrored left to right}
  right cheek: {stock: board, deep: 30 mm, high: 12 mm}
materials: {fine paper: {kind: abrasive}}
steps:
  - step: Ends
    start: base
    join:
      left end: {bottom: against base, left: flush with base, front: flush with base}
      right end: {bottom: against base, right: flush with base, front: flush with base}
      right cheek: {right: against right end, bottom: against base, front: flush with base}
    wait: 1 min
  - step: Sand
    treat: [{sand: FACE, with: fine paper}]
"""


@pytest.mark.parametrize(
    ("face", "codes"),
    [
        ("left of right end", ["face-covered"]),  # as it stands in the finished work
        ("right of right end", []),
        ("right of left end", []),
        # A part of two pieces is told as it is drawn: its right, mirrored, is under the cheek.
        ("right of end", ["face-covered"]),
        ("left of end", []),
        ("bottom of left end", ["face-covered"]),
    ],
)
def test_a_mirrored_piece_is_told_by_its_own_sides(face: str, codes: list[str]) -> None:
    found = check(read_text(PAIR.replace("FACE", face), "pair.yaml", FAULTS))
    assert [each.code for each in found] == codes
