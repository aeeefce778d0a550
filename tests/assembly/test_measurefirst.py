"""What waits until the real board has been measured: which sizes, and by how much they change.

The answers are worked out by hand from the formulas of each design, never by our own solver.
"""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from patternpress.assembly.facts import facts
from patternpress.assembly.measurefirst import Waiting
from patternpress.booklet.fillcards import cards
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.shoptext import plain_words
from patternpress.booklet.wording import Wording
from tests.whole.small import TOP, model

CASE = """\
stock:
  board: {{sheet: 2 mm, sold: 100 x 600 mm{board}}}
  thin: {{sheet: 1 mm, sold: 100 x 600 mm{thin}}}
parts:
  base: {{stock: board, wide: 80 mm, deep: 40 mm, template: yes}}
  side:
    stock: board
    deep: 40 mm
    high: 30 mm
    pieces: left side, right side
    grooves:
      slot:
        on: left
        wide: thickness of thin
        deep: half thickness of board
        at: 5 mm from bottom
  shelf: {{stock: thin, wide: 80 mm - 2 * thickness of board, deep: 36 mm}}
sub-assemblies: {{case: }}
steps:
  - step: Do it
    builds: case
"""


def waiting(board: str = "", thin: str = "") -> dict[tuple[str, str, str], Waiting]:
    made = model(TOP + CASE.format(board=board, thin=thin))
    return {(each.part, each.axis, each.feature): each for each in made.waiting}


def test_nothing_waits_for_a_board_without_a_range() -> None:
    assert waiting() == {}


def test_a_size_between_two_boards_moves_by_both() -> None:
    found = waiting(board=", really: 1.9 to 2.2 mm")
    assert set(found) == {("shelf", "wide", ""), ("side", "deep", "slot")}
    shelf = found["shelf", "wide", ""]
    assert (shelf.stock, shelf.planned) == ("board", 76)
    moved = [(end.thickness, end.size) for end in shelf.ends]
    assert moved == [
        (Fraction("1.9"), Fraction("76.2")),
        (Fraction("2.2"), Fraction("75.6")),
    ]
    slot = found["side", "deep", "slot"]
    assert [end.size for end in slot.ends] == [Fraction("0.95"), Fraction("1.1")]


def test_a_groove_waits_for_the_board_that_goes_into_it() -> None:
    found = waiting(thin=", really: 0.9 to 1.1 mm")
    assert set(found) == {("side", "wide", "slot")}
    slot = found["side", "wide", "slot"]
    assert (slot.stock, slot.planned) == ("thin", 1)
    assert [end.size for end in slot.ends] == [Fraction("0.9"), Fraction("1.1")]


def test_an_end_that_is_the_label_itself_is_not_told() -> None:
    found = waiting(board=", really: 1.8 to 2 mm")
    assert [end.thickness for end in found["shelf", "wide", ""].ends] == [Fraction("1.8")]


@given(less=st.integers(min_value=1, max_value=50), more=st.integers(min_value=1, max_value=50))
def test_the_shelf_takes_up_twice_what_the_board_lacks(less: int, more: int) -> None:
    low, high = Fraction(200 - less, 100), Fraction(200 + more, 100)
    found = waiting(board=f", really: {float(low)} to {float(high)} mm")
    ends = found["shelf", "wide", ""].ends
    assert [(end.thickness, end.size) for end in ends] == [
        (low, 80 - 2 * low),
        (high, 80 - 2 * high),
    ]


def test_what_is_measured_at_an_opening_does_not_wait_for_a_board_too() -> None:
    text = TOP + CASE.format(board=", really: 1.9 to 2.2 mm", thin="")
    text = text.replace(
        "  shelf: {stock: thin, wide: 80 mm - 2 * thickness of board, deep: 36 mm}\n",
        "  shelf: {stock: thin, fitted: bay, less: {wide: 0.5 mm}, deep: 36 mm}\n"
        "openings:\n"
        "  bay: {between: left side and right side, wide: 80 mm - 2 * thickness of board}\n",
    )
    assert [each.part for each in model(text).waiting] == ["side"]


def test_the_facts_tell_each_size_at_either_end() -> None:
    made = model(TOP + CASE.format(board=", really: 1.9 to 2.2 mm", thin=""))
    (told,) = [each for each in facts(made)["measure_first"] if each["part"] == "shelf"]
    assert told["stock"] == "board"
    assert (told["axis"], told["planned"]["mm"]) == ("wide", "76")
    assert [end["size"]["mm"] for end in told["ends"]] == ["381/5", "378/5"]
    assert [end["thickness"]["mm"] for end in told["ends"]] == ["19/10", "11/5"]


@pytest.mark.parametrize("edition", ["metric", "inch", "both"])
def test_every_edition_lists_the_same_parts(edition: str) -> None:
    text = TOP + CASE.format(board=", really: 1.9 to 2.2 mm", thin="")
    assert {each.part for each in model(text, edition).waiting} == {"side", "shelf"}


CARD = """\
stock:
  board: {sheet: 2 mm, sold: 100 x 600 mm, really: 1.8 to 2.1 mm}
  thin: {sheet: 1 mm, sold: 100 x 600 mm, really: 0.9 to 1.2 mm}
sizes:
  inside: 60 mm - 2 * thickness of board
parts:
  base: {stock: board, wide: 60 mm, deep: 40 mm}
  side: {stock: board, deep: 40 mm, high: 20 mm, pieces: [left side, right side]}
  back: {stock: thin, wide: 60 mm, high: 22 mm}
  tray: {stock: board, fitted: bay, less: {wide: 0.5 mm, deep: 0.5 mm}}
openings:
  bay:
    between: left side and right side
    wide: inside
    deep: 41 mm - thickness of thin
    high: 9 mm
steps:
  - step: Walls
    start: base
    join:
      left side: {bottom: against base, left and front: flush with base}
      right side: {bottom: against base, right and front: flush with base}
      back: {front: against base, bottom and left: flush with base}
    wait: 1 h
  - step: Tray
    measure: bay
    cut: tray
    join:
      tray: {bottom: loose against base, left: 0.25 mm inside left side, front: flush with base}
"""


def test_a_planned_opening_tells_between_what_the_boards_move_it() -> None:
    """By hand: 60 mm less two boards of 1.8 to 2.1, and 41 mm less a thin one of 0.9 to 1.2."""
    made = model(TOP + CARD)
    told = facts(made)["openings"]["bay"]
    assert [each["mm"] for each in told["wide"]["between"]] == ["279/5", "282/5"]
    assert [each["mm"] for each in told["deep"]["between"]] == ["199/5", "401/10"]
    assert "between" not in told["high"]
    (card,) = cards(made.worked.usage.steps[1], Wording(made, read_phrases("en")))
    said = plain_words(card.words)
    assert said.endswith("boards: width 55.8 to 56.4 mm; depth 39.8 to 40.1 mm.")
    # An opening is no part: nothing is cut by it before a board is measured.
    assert "bay" not in {each.part for each in made.waiting}
