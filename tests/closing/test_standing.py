"""Figures that stand for a thickness, and figures in brackets that cannot add up."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from patternpress.assembly.shown import printed_size
from patternpress.booklet.build import sections_of
from patternpress.closing.close import Closed, UnclosedError, check_closing, close
from patternpress.closing.facts import closed_facts
from patternpress.closing.table import table
from patternpress.design.read import Reading, read_design, read_text
from patternpress.measure.figures import plain, show_length
from patternpress.measure.quantity import Kind, Quantity
from tests.closing.test_close import DESIGNS, STEP, box, in_steps

TRAY = """design: Tray of three
stock:
  board: {{sheet: {BOARD}}}
sizes:
  cell: 9 mm
  step: cell + {TYPED}
parts:
  base: {{stock: board, wide: 3 * step - {TYPED}, deep: 20 mm}}
  rib: {{stock: board, deep: 20 mm, high: 5 mm, pieces: [rib 1, rib 2]}}
  bar: {{stock: board, wide: cell, high: 5 mm, pieces: [bar 1, bar 2]}}
steps:
  - step: Ribs
    start: base
    join:
      rib 1: {{bottom: against base, front: flush with base, left: step - {TYPED} inside base}}
      rib 2: {{bottom: against base, front: flush with base, left: 2 * step - {TYPED} inside base}}
  - step: Bars
    join:
      bar 1: {{bottom: against base, left: against rib 1, front: flush with base}}
      bar 2: {{bottom: against base, left: against rib 1, back: flush with base}}
editions:
  inch: {{units: in}}
  both: {{units: both}}
"""


def tray(board: str = "1 mm", typed: str = "1 mm") -> Reading:
    """Three cells between ribs; the thickness of the board is typed, not named."""
    return read_text(TRAY.format(BOARD=board, TYPED=typed), "tray.yaml", Path())


@pytest.mark.parametrize("edition", ["inch", "both"])
def test_a_typed_thickness_between_faces_that_touch_is_the_board(edition: str) -> None:
    """1 mm is 2.52 sixty-fourths: no fraction stands for it, typed or not."""
    closed = close(tray(), edition)
    figures = closed.second or closed.figures
    cell, step, base = (
        next(each.mm for each in figures.after.values() if each.words == words)
        for words in ("cell", "step", "width of base")
    )
    assert (cell / STEP).denominator == 1
    assert (step - cell, base - 3 * cell) == (1, 2)
    assert "cut to fit" in table(closed)
    assert closed.rounded == ()


def test_a_typed_thickness_follows_other_stock() -> None:
    closed = close(tray("2 mm, nearest: 3/32 in", "2 mm"), "inch")
    assert in_steps(closed, "step") - in_steps(closed, "cell") == 6
    assert in_steps(closed, "cell") == 23  # as near as if the board had been named


def both_held() -> Reading:
    """A width that may not move so far as to the next half inch."""
    text = box("{is: 28 mm, tolerance: 0.3 mm}").sources[0][1]
    return read_text(
        text.replace("units: both", "units: both, fraction: 1/2 in"), "box.yaml", Path()
    )


def shown(closed: Closed, mm: Fraction) -> str:
    figure = show_length(Quantity(mm, Kind.LENGTH), closed.model.edition.display)
    return plain(figure).replace("\u00a0", " ")


def test_brackets_that_cannot_add_up_are_plain_conversions_and_told() -> None:
    """28 mm is 1.10 in: neither 1 nor 1 1/2 is within 0.3 mm.  The millimetres do close."""
    reading = both_held()
    closed = close(reading, "both")
    (problem,) = closed.rounded
    assert not problem.is_error
    assert "in brackets" in problem.what
    assert "width moves by its tolerance at most" in problem.what
    assert closed.second is None
    assert shown(closed, Fraction(28)) == "28 mm (1 in)"
    assert closed_facts(closed)["rounded"] == [problem.what]
    assert "Figures in brackets are rounded one by one: " in table(closed)
    assert [each.what for each in check_closing(reading, ["both"])] == [problem.what]
    first = next(each for each in sections_of(closed.model) if "Figures in brackets" in each.html)
    assert "measure by the figures in front of them" in first.html


def test_an_edition_of_that_system_alone_is_refused() -> None:
    text = both_held().sources[0][1].replace("units: both,", "units: in,")
    with pytest.raises(UnclosedError):
        close(read_text(text, "box.yaml", Path()), "both")


def test_brackets_that_add_up_are_no_plain_conversions() -> None:
    closed = close(box(), "both")
    assert (closed.rounded, closed.second is None) == ((), False)
    first = next(each for each in sections_of(closed.model) if "Figures in brackets" in each.html)
    assert "Work by one of the two only" in first.html
    assert "rounded one by one" not in first.html
    alone = sections_of(close(box(), "metric").model)
    assert not any("Figures in brackets" in each.html for each in alone)


def test_an_opening_takes_up_the_rest_of_board_that_is_off_the_step() -> None:
    """At 1:24 the desk is of 1 mm board: half of what three boards leave is on no sixty-fourth."""
    text = (DESIGNS / "keepers-desk.yaml").read_text("utf-8")
    text = text.replace(
        "one-sixth: {like: metric, scale: 1:6, pins: {shank: 2 mm, shank length: 8 mm}}",
        "small: {units: in, stock: mm, scale: 1:24}",
    )
    reading = read_text(text, "keepers-desk.yaml", DESIGNS)
    closed = close(reading, "small")
    found = {each.words: each.mm for each in closed.figures.after.values()}
    wide = found["width of drawer opening"]
    assert 2 * wide == found["width"] - 3
    assert (wide / STEP).denominator > 1
    assert (found["width"] / STEP).denominator == 1
    assert [each for each in check_closing(reading, ["small"]) if each.is_error] == []


def test_a_thickness_that_no_fraction_stands_for_is_told_so_that_its_sums_hold() -> None:
    """A drawer's back and two sides are as wide as its front, also for who adds the brackets.

    The board is 1 mm: 3/64 in (1.19 mm) for it made the drawer as wide as its opening.
    """
    model = close(read_design(DESIGNS / "keepers-desk.yaml"), "both").model
    sizes = {
        part.name: [
            sum(map(Fraction, size.split()))
            for size in printed_size(part, model.edition).partition("(")[2][:-4].split(" × ")
        ]
        for part in model.worked.parts
        if part.name.startswith("drawer")
    }
    back, side, front = (sizes[f"drawer {each}"] for each in ("back", "side", "front"))
    assert side[2] == Fraction("0.039")
    assert abs(back[0] + 2 * side[2] - front[0]) <= Fraction("0.001")
