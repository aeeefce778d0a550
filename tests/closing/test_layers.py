"""Stock glued up from thinner sheets: named by the author, or found where none is sold."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from markupsafe import Markup

from patternpress.booklet.contentneeds import Material
from patternpress.booklet.fillneeds import needs
from patternpress.booklet.wording import wording_of
from patternpress.closing.close import Closed, check_closing, close
from patternpress.closing.facts import closed_facts
from patternpress.closing.table import table
from patternpress.cutting.layouts import layouts
from patternpress.design.read import Reading, read_text

INCH = Fraction(254, 10)


def bench(stock: str, editions: str) -> Reading:
    text = f"""design: Bench
scale: 1:4
languages: en
stock:
  board: {{sheet: 9 mm, sold: 300 x 600 mm, {stock}}}
parts:
  top: {{stock: board, wide: 200 mm, deep: 120 mm}}
  end: {{stock: board, deep: 110 mm, high: 80 mm, quantity: 2}}
steps:
  - step: Glue it
    start: top
    join:
      end 1: {{top: against top, left: flush with top, front: flush with top}}
      end 2: {{top: against top, right: flush with top, front: flush with top}}
editions: {{e: {{{editions}}}}}
"""
    return read_text(text, "bench.yaml", Path())


def thickness(closed: Closed) -> Fraction:
    worked = closed.model.worked
    found = worked.solver.thickness(worked.book.stock[0])
    assert found is not None
    return found.value


def board_row(closed: Closed) -> Material:
    """The board as the buyer's list has it."""
    made = closed.model
    return needs(wording_of(made), layouts(made)).materials[0].materials[0]


def read(words: object) -> str:
    """Words without tags, fractions in a line."""
    return str(Markup(str(words)).striptags()).replace("⁄", "/")


NEAREST = "nearest: {size: 3/16 in, layers: 2, sold: 12 x 24 in}"


def test_the_nearest_may_be_glued_of_two_and_sizes_follow_from_both() -> None:
    closed = close(bench(NEAREST, "units: in"), "e")
    assert thickness(closed) == INCH * 3 / 8
    top = closed.model.worked.parts[0]
    assert top.extents["high"].value == INCH * 3 / 8
    assert "Stock: board is glued up of 2 sheets, one on the other." in table(closed)
    (stock,) = closed_facts(closed)["closing"]["in"]["stock"]
    assert stock["glued"] == 2


@pytest.mark.parametrize(
    ("language", "size", "note"),
    [
        ("en", "2 layers of 3/16", "Glue 2 sheets on each other"),
        ("de", "2 Lagen zu 3/16", "Verleime 2 Platten aufeinander"),
        ("fr", "2 couches de 3/16", "Collez 2 panneaux l’un sur l’autre"),
    ],
)
def test_the_buyer_is_told_how_many_to_buy_and_what_to_do(
    language: str, size: str, note: str
) -> None:
    closed = close(bench(NEAREST, f"units: in, language: {language}"), "e")
    (layout,) = layouts(closed.model)
    (_, count), *_ = layout.to_buy
    assert count == 2 * sum(board.copies for board in layout.boards)
    row = board_row(closed)
    assert size in read(row.size)
    assert note in read(row.note) and "3/8" in read(row.note)
    assert read(row.quantity).startswith(str(count))


def test_the_metric_buyer_reads_what_inch_buyers_glue() -> None:
    row = board_row(close(bench(NEAREST, "units: mm"), "e"))
    assert "2 layers of 3/16" in read(row.sold_as[0])
    assert "Glue" not in read(row.note)


def test_at_another_scale_sheets_are_glued_where_no_single_one_is_near() -> None:
    """9 mm at 1:1 is 36 mm; 35 mm is sold, and is farther off than the author allows."""
    single = bench("may differ: 0.5 mm", "units: mm, scale: 1:1")
    (problem,) = [each for each in check_closing(single, ["e"]) if each.is_error]
    assert problem.code == "no-stock-at-scale"
    allowed = bench("may differ: 0.5 mm, laminated: yes", "units: mm, scale: 1:1")
    closed = close(allowed, "e")
    assert thickness(closed) == 36
    assert closed.model.worked.book.stock[0].glued == 2


def test_layers_for_a_scale_are_the_author_s() -> None:
    said = "at scales: [{scale: 1:2, size: 6 mm, layers: 3}]"
    closed = close(bench(said, "units: mm, scale: 1:2"), "e")
    assert (thickness(closed), closed.model.worked.book.stock[0].glued) == (18, 3)
