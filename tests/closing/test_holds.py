"""What an edition must not upset: what is equal, the order of sizes, limits, and marks."""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations
from pathlib import Path

import pytest

from patternpress.closing.close import Closed, close
from patternpress.closing.table import table
from patternpress.closing.traced import form_of
from patternpress.design.read import read_design, read_text
from patternpress.measure.quantity import Kind
from tests.closing.test_carcasses import reading
from tests.closing.test_close import DESIGNS, box

INCH = Fraction(254, 10)
NUMBERS = range(0, 60, 6)


def given(closed: Closed) -> list[tuple[str, Fraction, Fraction]]:
    """Each size that the author typed: its name, designed and closed."""
    figures = closed.figures
    sorts = [each.sort for each in figures.found.survey.lengths]
    return [
        (each.words, Fraction(each.mm), figures.after[key].mm)
        for key, each in figures.before.items()
        if each.group == "size" and [sorts[n] for n in form_of(each.mm)] == ["given"]
    ]


UNUSUAL = sorted((Path(__file__).parents[1] / "assembly" / "unusual").glob("*.yaml"))


@pytest.mark.parametrize("path", UNUSUAL, ids=lambda path: path.stem)
def test_what_lies_on_the_step_stays_where_it_is(path: Path) -> None:
    """Every length, those of grooves and holes too, which were moved as if nothing printed them."""
    text = path.read_text("utf-8") + "\neditions: {e: {units: mm}}\n"
    figures = close(read_text(text, path.name, path.parent), "e").figures
    lengths = figures.found.survey.lengths
    assert lengths
    assert all(each.mm % Fraction(1, 10) == 0 for each in lengths)
    moved = [each.words for each in lengths if figures.choice.values[each.number] != each.mm]
    assert moved == []


def test_a_groove_moves_by_half_a_step_at_most() -> None:
    """A groove of 4 × 1.5 mm without a template was closed to 2 × 0.5 mm, and printed so."""
    text = next(each for each in UNUSUAL if each.stem == "book-trough").read_text("utf-8")
    closed = close(read_text(f"{text}\neditions: {{e: {{units: in}}}}\n", "b.yaml", Path()), "e")
    part = closed.model.worked.part("end")
    assert part is not None
    groove = part.part.grooves[0]
    wide, deep = (closed.model.worked.solver.value(said) for said in (groove.wide, groove.deep))
    assert wide is not None
    assert deep is not None
    assert (wide.value, deep.value) == (INCH * 5 / 32, INCH / 16)
    assert "width of shelf groove" in table(closed)


@pytest.mark.parametrize("number", NUMBERS)
def test_equal_sizes_stay_equal_and_order_is_kept(number: int) -> None:
    for (_, a, x), (_, b, y) in combinations(given(close(reading(number), "inch")), 2):
        assert (x == y) if a == b else (x <= y) == (a < b) or x == y


def test_two_sizes_of_one_figure_are_one_figure_in_every_edition() -> None:
    text = box().sources[0][1].replace("depth: 30 mm", "depth: 28 mm")
    closed = close(read_text(text, "box.yaml", Path()), "inch")
    assert [(name, mm) for name, mm, _ in given(closed)] == [("width", 28), ("depth", 28)]
    assert len({made for _, _, made in given(closed)}) == 1


@pytest.mark.parametrize("design", ["keepers-desk", "net-tote"])
@pytest.mark.parametrize("edition", ["metric", "inch"])
def test_clearances_stay_within_their_least_and_most(design: str, edition: str) -> None:
    source = read_design(DESIGNS / f"{design}.yaml")
    book = source.book
    assert book is not None
    if edition not in {each.name.value for each in book.editions}:
        edition = book.editions[0].name.value
    closed = close(source, edition).figures
    told = {part.name.value: part for part in closed.book.parts}
    seen = 0
    for part in book.parts:
        for axis in ("wide", "deep", "high"):
            said = getattr(part.less, axis) if part.less else None
            if said is None:
                continue
            wanted = closed.worked.solver.measure(said)
            made = closed.worked.solver.measure(getattr(told[part.name.value].less, axis))
            assert wanted is not None
            assert made is not None
            assert made.low.kind is Kind.LENGTH
            low, high = wanted.low.value, (wanted.high or wanted.low).value
            assert low <= made.low.value <= (made.high or made.low).value <= high
            seen += 1
    assert seen


@pytest.mark.parametrize("number", NUMBERS)
def test_a_mark_is_where_the_piece_that_it_stands_for_is(number: int) -> None:
    """The line of shelf n is n bays and n boards up: there its underside lies when placed."""
    closed = close(reading(number), "inch")
    assembly = closed.figures.assembly
    lines = {
        key[1]: each.mm
        for key, each in closed.figures.after.items()
        if key[0] == "marks" and "line" in key
    }
    shelves = [each for each in assembly.placed if each.piece.startswith("shelf")]
    floor = next(each for each in assembly.placed if each.piece == "floor")
    for place, shelf in enumerate(shelves):
        up = shelf.pose.offset[2] - floor.pose.offset[2]
        assert up == lines[place]


def test_the_table_names_names_and_stock_of_the_other_system() -> None:
    assert "Stock: lime board, 2 mm, goes by the name of 5/64 in." in table(close(box(), "inch"))
    told = table(close(box(stock="nearest: 3/32 in"), "inch"))
    assert "Stock: lime board is sold as 2.381 mm in place of 2 mm." in told
