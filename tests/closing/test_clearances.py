"""What is left for fitting lies in its author's range in every edition, or a warning tells."""

from __future__ import annotations

from fractions import Fraction
from itertools import pairwise
from pathlib import Path

import pytest

from patternpress.assembly.facts import facts
from patternpress.assembly.fitted import sums
from patternpress.closing.close import check_closing, close
from patternpress.design.problem import Problem
from patternpress.design.read import Reading, read_text

SIXTY_FOURTH = Fraction(254, 640)
CABINET = """design: Cabinet
scale: 1:12
stock:
  board: {sheet: 2 mm, sold: 100 x 300 mm, nearest: {size: 5/64 in, sold: 4 x 12 in}}
parts:
  base: {stock: board, wide: WIDE, deep: 30 mm}
  end: {stock: board, deep: 30 mm, high: 50 mm, pieces: [left end, right end]}
  roof: {stock: board, wide: WIDE, deep: 30 mm}
  door: {stock: board, fitted: doorway, share: {wide: COUNT}, less: LESS, pieces: [DOORS]}
openings:
  doorway:
    between: left end and right end, base and roof
    wide: WIDE - 2 * thickness of board
    high: 50 mm
steps:
  - step: Glue it
    start: base
    join:
      left end: {bottom: against base, left: flush with base, front: flush with base}
      right end: {bottom: against base, right: flush with base, front: flush with base}
      roof: {bottom: against left end, left: flush with base, front: flush with base}
  - step: Measure and fit
    measure: doorway
    cut: door
    join:
      left door: {bottom: loose against base, left: loose against left end, front: flush with base}
editions:
  inch: {units: in}
  both: {units: both}
"""


def cabinet(less: str, wide: str = "70 mm", count: int = 2) -> Reading:
    doors = ["left door", "middle door", "right door"][:count]
    text = CABINET.replace("LESS", less).replace("WIDE", wide).replace("COUNT", str(count))
    text = text.replace("DOORS", ", ".join(doors))
    for before, door in pairwise(doors):
        places = f"bottom: loose against base, left: loose against {before}, front: flush with base"
        text = text.replace("editions:", f"      {door}: {{{places}}}\neditions:")
    return read_text(text, "cabinet.yaml", Path())


def warnings(reading: Reading) -> list[Problem]:
    found = list(check_closing(reading))
    assert [each.what for each in found if each.is_error] == []
    return [each for each in found if each.code == "clearance-missed"]


@pytest.mark.parametrize("count", [2, 3])
@pytest.mark.parametrize("wide", ["70 mm", "71 mm", "72 mm", "73 mm"])
def test_doors_that_share_an_opening_have_what_was_left_for_them(wide: str, count: int) -> None:
    """Of 1.1 to 1.3 mm the card made 1/32 in, and other papers 3/64 in."""
    reading = cabinet("{wide: 1.1 to 1.3 mm, high: 0.5 to 0.8 mm}", wide, count)
    assert [each for each in warnings(reading) if each.facts["edition"] == "inch"] == []
    closed = close(reading, "inch")
    part = closed.model.worked.part("door")
    assert part is not None
    on_card = sums(part, "wide", "in", closed.model.edition.display)
    assert on_card.off == (3 * SIXTY_FOURTH, 3 * SIXTY_FOURTH)
    after = {each.words: each.mm for each in closed.figures.after.values()}
    for end in ("least", "most"):
        assert after[f"clearance in width of door, {end}"] == on_card.off[0]
        assert after[f"taken off the width for door, {end}"] == on_card.off[0]
        assert after[f"width of door, {end}"] == on_card.left[0]
    (told,) = (each for each in facts(closed.model)["parts"] if each["name"] == "door")
    assert Fraction(told["extents"]["wide"]["mm"]) == on_card.left[0]


def test_a_range_without_a_step_is_one_figure_on_every_paper_and_told() -> None:
    reading = cabinet("{wide: 0.7 to 0.9 mm, high: 0.5 to 0.7 mm}")
    found = warnings(reading)
    assert {each.facts["edition"] for each in found} == {"inch", "both"}
    for each in found:
        line = CABINET[: CABINET.index("LESS")].count("\n") + 1
        assert each.span.line == line
        assert (each.facts["axis"], each.facts["said"]) == ("height", "0.5 to 0.7 mm")
        assert each.facts["fits"] == "1/64\u00a0in (0.397 mm) or 1/32\u00a0in (0.794 mm)"
    closed = close(reading, "inch")
    part = closed.model.worked.part("door")
    assert part is not None
    on_card = sums(part, "high", "in", closed.model.edition.display)
    after = {each.words: each.mm for each in closed.figures.after.values()}
    for end in ("least", "most"):
        assert after[f"clearance in height of door, {end}"] == on_card.off[0] == on_card.off[1]
        assert after[f"height of door, {end}"] == on_card.left[0]


def test_in_brackets_too() -> None:
    closed = close(cabinet("{wide: 1.1 to 1.3 mm, high: 0.5 to 0.8 mm}"), "both")
    part = closed.model.worked.part("door")
    assert part is not None
    display = closed.model.edition.display
    assert sums(part, "wide", "in", display).off == (3 * SIXTY_FOURTH, 3 * SIXTY_FOURTH)
    low, high = sums(part, "wide", "mm", display).off
    assert Fraction(11, 10) <= low <= high <= Fraction(13, 10)
