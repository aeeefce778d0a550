"""What `figures` says of each figure, and that the finished size is one figure."""

from __future__ import annotations

import pytest

from patternpress.closing.close import Closed, close
from patternpress.closing.table import rows, table
from tests.whole.small import read

DESIGN = """\
design: Stand
overall: spread x 40 mm x 50 mm + board
sizes:
  board: thickness of lime board
  gap: 1 mm
  splay: 9 deg
  spread: 30 mm + 2 * 50 mm * tan(splay) + 4 mm / cos(splay) - 4 mm
stock:
  lime board: {sheet: 2 mm, sold: 100 x 600 mm}
  strip: {strip: 4 mm, sold: 600 mm}
  rod: {rod: 3 mm, sold: 300 mm}
parts:
  top: {stock: lime board, wide: 30 mm, deep: 40 mm}
  leg:
    stock: strip
    high: 50 mm / cos(splay)
    leans: foot 9 deg to the left
    ends: {top: level, bottom: level}
    pieces: {left leg: as drawn, right leg: mirrored left to right}
  strut: {stock: rod, high: board + 1 mm + 1 mm}
steps:
  - step: Make it
    start: top
    work lies: on its top
    join:
      left leg: {top: against top, left and right: centred on left point, front: 4 mm inside top}
      right leg: {top: against top, left and right: centred on right point, front: 4 mm inside top}
      strut: {top: against top, left and right: centred on top, back: 2 mm inside top}
marks:
  left point: {on: bottom of top, point: 2 mm from left and centred}
  right point: {on: bottom of top, point: 2 mm from right and centred}
editions:
  metric: {units: mm, paper: A4}
  inch: {units: in, paper: Letter}
  coarse: {units: in, paper: Letter, fraction: 1/16 in}
"""


def closed(edition: str) -> Closed:
    return close(read(DESIGN), edition)


@pytest.mark.parametrize("edition", ["metric", "inch", "coarse"])
def test_the_finished_size_is_the_figure_that_says_it(edition: str) -> None:
    made = closed(edition)
    shown = {each.words: each.printed for each in rows(made.figures, made.model.edition.display)}
    assert shown["finished width"] == shown["spread"]


def test_a_figure_names_what_was_typed_into_it() -> None:
    text = table(closed("inch"))
    (line,) = (each for each in text.splitlines() if each.startswith("height of strut"))
    assert "1 mm (moved with gap)" in line


def test_what_was_given_up_says_what_it_comes_to() -> None:
    text = table(closed("inch"))
    assert "Given up: strut stands out evenly over top, by whole steps (it comes to 13" in text
    (line,) = (each for each in text.splitlines() if "Given up" in each)
    assert line.endswith(" steps).")


@pytest.mark.parametrize("edition", ["metric", "inch", "coarse"])
def test_what_stands_only_in_sums_with_angles_stays_near_the_design(edition: str) -> None:
    """The 50 mm of the legs are printed nowhere by themselves."""
    made = closed(edition)
    step = {"metric": 0.1, "inch": 25.4 / 64, "coarse": 25.4 / 16}[edition]
    for each in rows(made.figures, made.model.edition.display):
        if each.words in ("spread", "height of leg", "finished height"):
            assert abs(float(each.closed - each.mm)) <= 1.5 * step, each
