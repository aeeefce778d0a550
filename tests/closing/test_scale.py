"""Editions at another scale: what grows, what stays, which stock, and what cannot be made."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from patternpress.assembly.sizes import Solver
from patternpress.booklet.build import sections_of
from patternpress.closing.close import Closed, UnclosedError, check_closing, close
from patternpress.closing.facts import closed_facts
from patternpress.closing.scaling import at_scale, ratio_of
from patternpress.closing.table import table
from patternpress.design.read import Reading, read_design, read_text
from patternpress.design.records.book import Book
from tests.assembly.carcass import carcass
from tests.closing.test_carcasses import facts_of, wrong
from tests.closing.test_close import STEP, box, in_steps
from tests.closing.walker import chains

DESIGNS = Path(__file__).parents[2] / "designs"
SCALES = ("1:6", "1:24")
# A quarter of the carcasses is of board that nothing near half as thick is sold for.
FEW, MOST_REFUSED = 24, 8

TRAY = """design: Tray
scale: 1:12
sizes:
  width: 30 mm
  play: {{is: 0.2 mm, scales: no}}
  slope: 10 deg
stock:
  board: {{sheet: 2 mm{STOCK}}}
  pin: {{bought: a brass pin}}
parts:
  base: {{stock: board, wide: width - 2 * play, deep: 20 mm{HOLE}}}
  end: {{stock: board, wide: at most 28 mm, deep: 10 mm}}
  pin: {{stock: pin}}
steps:
  - step: Pin it
    start: base
    join:
      pin: {{bottom: 'in pin hole of base, 1.5 mm deep'}}
      end: {{bottom: against base, left: flush with base, front: 1/4 in inside base}}
editions:
  twice: {{units: mm, scale: 1:6}}
  small: {{units: mm, scale: 1:24}}
"""


def tray(stock: str = "", hole: str = "at: centre") -> Reading:
    text = TRAY.format(
        STOCK=stock and f", {stock}", HOLE=", holes: {pin hole: {round: 1 mm, " + hole + "}}"
    )
    return read_text(text, "tray.yaml", Path())


def sizes(book: Book | None) -> dict[str, Fraction]:
    """Every named length, in mm."""
    assert book is not None
    solver = Solver(book)
    found = {each.name.value: solver.size(each) for each in book.sizes}
    return {name: each.value for name, each in found.items() if each is not None}


def scaled(reading: Reading, scale: str) -> Reading:
    """A reading with one edition more, or alone, at a scale."""
    text = reading.sources[0][1]
    return read_text(text.replace("scale: 1:6", f"scale: {scale}"), "tray.yaml", Path())


def at_scales(number: int, units: str = "mm") -> Reading:
    lines = [f"  e{scale[2:]}: {{units: {units}, scale: {scale}}}" for scale in SCALES]
    text = carcass(number) + "\n".join(["", "editions:", *lines, ""])
    return read_text(text, "carcass.yaml", Path())


def test_typed_lengths_grow_and_names_and_angles_follow() -> None:
    book, left = at_scale(tray().book, Fraction(1, 6))  # type: ignore[arg-type]
    assert sizes(book) == {**sizes(tray().book), "width": 60}
    solver = Solver(book)
    base, end, _ = book.parts
    assert solver.value(base.wide).value == 60 - 2 * Fraction(1, 5)  # type: ignore[union-attr]
    place = book.steps[0].join[1].places[-1][1]
    assert place.distance is not None
    assert place.distance.text == "1/2 in"
    told = {(each.why, each.spot.owner) for each in left}
    assert told == {
        ("author", "play"),
        ("limit", "end"),
        ("fitting", "pin hole"),
        ("fitting", "pin"),
    }
    assert end.wide is not None
    assert end.wide.text == "at most 28 mm"


@pytest.mark.parametrize(
    ("said", "why"), [("at: centre, scales: no", "author"), ("at: centre", "fitting")]
)
def test_a_hole_stays_for_its_fitting_or_at_the_author_s_word(said: str, why: str) -> None:
    _, left = at_scale(tray(hole=said).book, Fraction(1, 6))  # type: ignore[arg-type]
    assert {each.why for each in left if each.spot.owner == "pin hole"} == {why}


@given(st.integers(0, 400), st.fractions(Fraction(1, 40), 40, max_denominator=40))
def test_there_and_back_is_where_it_was(number: int, scale: Fraction) -> None:
    book = read_text(carcass(number), "carcass.yaml", Path()).book
    assert book is not None
    there, _ = at_scale(book, scale)
    back, left = at_scale(there, ratio_of(book))
    factor = scale / ratio_of(book)
    assert sizes(back) == sizes(book)
    stay = {each.spot.owner for each in left if each.spot.section == "sizes"}
    given_ = {each.name.value for each in book.sizes} - stay
    assert not stay
    assert {n: mm for n, mm in sizes(there).items() if n in given_} == {
        n: mm * factor for n, mm in sizes(book).items() if n in given_
    }


@pytest.mark.parametrize("units", ["mm", "in"])
def test_at_other_scales_carcasses_add_up_or_say_that_no_stock_is_sold(units: str) -> None:
    refused = 0
    for number in range(FEW):
        reading = at_scales(number, units)
        for scale in SCALES:
            try:
                closed = close(reading, f"e{scale[2:]}")
            except UnclosedError as error:
                assert {each.code for each in error.problems} == {"no-stock-at-scale"}, number
                refused += 1
                continue
            told = facts_of(closed.model)
            found = chains(told)
            assert found
            assert wrong(closed, found, told) == [], (number, scale)
    assert refused <= MOST_REFUSED


def sold(closed: Closed, name: str = "board") -> str:
    stock = next(each for each in closed.figures.book.stock if each.name.value == name)
    assert stock.sheet is not None
    return stock.sheet.text


def test_stock_is_the_nearest_that_is_sold() -> None:
    assert sold(close(tray(), "twice")) == "4 mm"
    assert sold(close(scaled(tray(), "1:10"), "twice")) == "2.5 mm"  # 2.4 mm would be exact
    inch = read_text(
        tray().sources[0][1].replace("units: mm, scale: 1:6", "units: in, scale: 1:6"), "t", Path()
    )
    assert sold(close(inch, "twice")) == "3/16 in"  # 4 mm is 5/32 in


def test_the_author_s_stock_for_a_scale_comes_first() -> None:
    named = "at scales: [{scale: 1:6, size: 5 mm, sold: 80 x 300 mm, nearest: 3/16 in}]"
    closed = close(tray(named), "twice")
    (stock, _) = closed.figures.book.stock
    assert (sold(closed), [each.text for each in stock.sold or ()]) == ("5 mm", ["80", "300 mm"])
    inch = tray(named).sources[0][1].replace("units: mm, scale: 1:6", "units: in, scale: 1:6")
    assert sold(close(read_text(inch, "t", Path()), "twice")) == "3/16 in"
    assert sold(close(tray(named), "small")) == "1 mm"


@pytest.mark.parametrize(
    ("stock", "scale", "code"),
    [
        ("at scales: [{scale: 1:48, size: 0.4 mm}]", "1:48", "too-thin-at-scale"),
        ("at scales: [{scale: 1:48, size: 0.4 mm}], thinnest: 0.4 mm", "1:16", ""),
        ("may differ: 0.3 mm", "1:10", ""),
        ("may differ: 0.05 mm", "1:10", "no-stock-at-scale"),
        ("thinnest: 1.5 mm", "1:24", "too-thin-at-scale"),
        ("", "1:1000", "no-stock-at-scale"),
    ],
)
def test_what_cannot_be_had_or_worked_is_told_with_its_parts(
    stock: str, scale: str, code: str
) -> None:
    reading = scaled(tray(stock), scale)
    found = [each for each in check_closing(reading, ["twice"]) if each.is_error]
    assert [each.code for each in found] == ([code] if code else [])
    assert all("base, end" in each.what and scale in each.what for each in found)


def test_what_the_scale_spoils_is_told_as_that() -> None:
    """At 1:24 the base is 1 mm thick, and the pin still goes 1.5 mm deep."""
    (problem,) = [each for each in check_closing(tray(), ["small"]) if each.is_error]
    assert problem.code == "fault-at-scale"
    assert problem.what.startswith("at 1:24, in the edition “small”: ")
    assert "pin" in problem.what
    assert problem.mend.endswith("Or leave the edition out.")


DOWEL = """design: Corner
scale: 1:12
stock:
  board: {sheet: 3 mm}
  rod: {rod: 1.5 mm, at scales: {scale: 1:24, size: 1 mm}}
parts:
  end: {stock: board, deep: 20 mm, high: 20 mm, holes: {end hole: {round: diameter of rod,
    on: right, at: thickness of board / 2 from front and 4 mm from bottom, deep: 2 mm}}}
  rail: {stock: board, wide: 20 mm, high: 8 mm, holes: {rail hole: {round: diameter of rod,
    on: left, at: centre, deep: 4 mm}}}
  dowel: {stock: rod, wide: 6 mm}
steps:
  - step: Glue it
    start: end
    treat: {drill: end hole of end and rail hole of rail}
    join:
      dowel: {left: in end hole of end}
      rail: {left: against end, front: flush with end, bottom: flush with end}
editions:
  small: {units: mm, scale: 1:24, STEP}
"""


@pytest.mark.parametrize(("step", "codes"), [("", ["fault-at-scale"]), ("mm step: 0.05 mm", [])])
def test_what_only_the_step_spoils_at_a_scale_asks_for_a_finer_one(
    step: str, codes: list[str]
) -> None:
    """Half of 1.5 mm is no tenth; the middle of the rail is half of it all the same."""
    reading = read_text(DOWEL.replace("STEP", step), "corner.yaml", Path())
    found = [each for each in check_closing(reading) if each.is_error]
    assert [each.code for each in found] == codes
    assert all("only as rounded to 0.1" in each.what for each in found)
    assert all("(`mm step`)" in each.mend for each in found)


def test_guesses_are_warned_of_and_all_is_in_the_table_and_the_facts() -> None:
    (warning,) = check_closing(tray(), ["twice"])
    assert warning.code == "left-at-scale"
    assert "1 mm (pin hole) (for the pin)" in warning.what
    assert "play" not in warning.what  # that is the author's own word
    closed = close(tray(), "twice")
    assert "At 1:6, in place of 1:12." in table(closed)
    assert "play (`scales: no`)" in table(closed)
    told = closed_facts(closed)["scaled"]
    assert told["from"] == "1:12"
    assert {"figure": "play", "why": "author"} in told["left"]


def test_the_buyer_is_told_of_the_scale_and_of_fittings_that_are_the_same() -> None:
    pages = "".join(each.html for each in sections_of(close(tray(), "twice").model))
    assert "Worked out at 1:6; the piece was designed at 1:12." in pages
    assert "So are the fittings: pin" in pages
    assert "1:6 miniature" in pages


def test_the_size_at_full_scale_is_the_design_s_and_not_that_of_the_nearest_board() -> None:
    """The board of 5 mm would be 2.5 mm thick and is of 2 or 3 mm."""
    text = tray().sources[0][1].replace("scale: 1:12", "scale: 1:1").replace("2 mm", "5 mm")
    text = text.replace("scale: 1:24", "scale: 1:2")
    pages = "".join(
        each.html for each in sections_of(close(read_text(text, "t.yaml", Path()), "small").model)
    )
    assert "Worked out at 1:2; the piece was designed at full size." in pages
    told = pages.partition("At full scale")[2][:200]
    assert "29 × 20 × 10&nbsp;mm" in told


def test_an_edition_at_the_design_s_own_scale_is_no_other() -> None:
    closed = close(scaled(tray(), "1:12"), "twice")
    assert closed.model.edition.designed_at is None
    assert "scaled" not in closed_facts(closed)


def test_the_desk_at_twice_its_size_has_board_knob_and_hole_of_its_own() -> None:
    reading = read_design(DESIGNS / "keepers-desk.yaml")
    closed, plain = close(reading, "one-sixth"), close(reading, "metric")
    twice, once = (
        {each.words: each.mm for each in of.figures.after.values()} for of in (closed, plain)
    )
    for words in ("leg height", "box height", "depth of side"):
        assert twice[words] == 2 * once[words]
    assert (twice["drawer play"], twice["shank"]) == (once["drawer play"], 2)
    assert sold(closed, "lime board") == "4 mm"
    assert list(check_closing(reading)) == []


def test_kept_sizes_are_kept_though_stock_is_off() -> None:
    """The board comes to 5 mm in place of 4: the inside stays 48 mm wide, the outside gives."""
    text = box(stock="at scales: [{scale: 1:6, size: 5 mm}]").sources[0][1]
    text = text.replace("metric: {units: mm}", "metric: {units: mm, scale: 1:6}")
    free = close(read_text(text, "b", Path()), "metric")
    text = text.replace("wide: width - 2 * board", "wide: inside").replace(
        "  depth: 30", "  inside: width - 2 * board\n  depth: 30"
    )
    held = close(read_text(f"{text}keep: inside\n", "b", Path()), "metric")
    assert in_steps(free, "width of floor") * STEP == 46
    assert in_steps(held, "width of floor") * STEP == 48


@pytest.mark.parametrize(
    ("stock", "told"),
    [
        ("nearest: 3/32 in, may differ: 0.4 mm", ""),
        ("nearest: 3/32 in, may differ: 0.3 mm", "3/32 in is sold"),
        ("may differ: 0.3 mm", "nothing is named as nearest"),
    ],
)
def test_stock_of_the_other_system_keeps_to_the_author_s_limit(stock: str, told: str) -> None:
    """3/32 in is 2.38 mm."""
    reading = box(stock=stock)
    found = [each for each in check_closing(reading, ["inch"]) if each.is_error]
    assert [told in each.what for each in found] == ([True] if told else [])
    assert list(check_closing(reading, ["metric"])) == []
