"""Half an outline whose author drew the fold as well."""

from __future__ import annotations

import pytest

from patternpress.assembly.model import check
from patternpress.assembly.outlines import area
from tests.whole.small import TOP, errors, model, read

HALF = ("50 mm, 200 mm", "8 mm, 200 mm", "0 mm, 60 mm", "30 mm, 0 mm", "50 mm, 0 mm")
BOARD = """\
stock:
  board: {sheet: 4 mm, sold: 200 x 600 mm}
parts:
  back:
    stock: board
    wide: 100 mm
    high: 200 mm
    symmetrical: left to right
    outline:
OUTLINE
    holes: {peg hole: {round: 6 mm, at: centred and 50 mm from top}}
steps:
  - step: Drill
    treat: {drill: peg hole of back}
    start: back
"""


def board(*points: str) -> str:
    legs = [f"      - {'line' if at else 'start'}: {each}" for at, each in enumerate(points)]
    return TOP + BOARD.replace("OUTLINE", "\n".join(legs))


@pytest.mark.parametrize(
    "points",
    [
        (*HALF, HALF[0]),
        (*HALF, "50 mm, 90 mm", HALF[0]),
        (HALF[-1], *HALF),
    ],
)
def test_the_centre_line_of_a_half_is_no_edge(points: tuple[str, ...]) -> None:
    plain, drawn = model(board(*HALF)), model(board(*points))
    assert errors(read(board(*points))) == ()
    (one,), (two,) = (each.worked.shapes.values() for each in (plain, drawn))
    # A rectangle less, on either side, two triangles: 8 x 140 and 30 x 60 mm.
    assert area(one.outline) == area(two.outline) == 100 * 200 - 8 * 140 - 30 * 60


def test_of_an_outline_that_crosses_itself_no_hole_is_told() -> None:
    crossed = (HALF[0], "0 mm, 100 mm", "50 mm, 100 mm", "50 mm, 150 mm", "0 mm, 0 mm", HALF[-1])
    told = [each.facts["fault"] for each in check(read(board(*crossed))) if each.is_error]
    assert len(told) == 1
    assert "crosses itself" in told[0]
