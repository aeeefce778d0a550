"""What a design costs: sums worked out by hand from prices, boards and packs."""

from __future__ import annotations

from fractions import Fraction

from patternpress.assembly.model import Model
from patternpress.cutting.costs import added, costs
from patternpress.cutting.layouts import layout_of, layouts
from patternpress.cutting.together import shared
from tests.whole.small import BODY, STEP, TOP, model


def priced(board: str = "", strip: str = "", pin: str = "", glue: str = "") -> Model:
    """The small design with prices: two sides, base and shelf, two rails and four slats, a pin."""
    body = BODY
    for old, price in (
        ("sheet: 2 mm, sold: 100 x 600 mm", board),
        ("strip: 4 x 4 mm, sold: 600 mm", strip),
        ("pack: 10", pin),
        ("kind: glue", glue),
    ):
        assert old in body
        body = body.replace(old, f"{old}, price: {price}" if price else old)
    return model(TOP + body + STEP + "    uses: wood glue\n")


def of(made: Model) -> tuple[dict[str, Fraction], tuple[str, ...]]:
    found = costs(made, layouts(made))
    return {code: amount for amount, code in found.sums}, found.without


def test_one_board_one_length_one_pack_and_the_glue() -> None:
    made = priced("4.20 EUR", "1.10 EUR", "2.40 EUR", "3.95 EUR")
    assert of(made) == ({"EUR": Fraction("11.65")}, ())


def test_what_has_no_price_is_named_and_not_counted() -> None:
    found = of(priced("4.20 EUR", "1.10 EUR", "2.40 EUR"))
    assert found == ({"EUR": Fraction("7.70")}, ("wood glue",))


def test_there_is_no_sum_while_wood_or_fittings_have_no_price() -> None:
    """“Together about 11.40” of one length and a bottle of glue, five things uncounted."""
    assert of(priced("4.20 EUR")) == ({}, ("strip", "pin", "wood glue"))
    assert of(priced("4.20 EUR", "1.10 EUR", glue="3 EUR")) == ({}, ("pin",))


def test_currencies_are_not_added_to_each_other() -> None:
    sums, _ = of(priced("4.20 EUR", "1.10 USD", "0.80 EUR", "1 EUR"))
    assert sums == {"EUR": Fraction(6), "USD": Fraction("1.10")}


def test_what_is_at_hand_costs_nothing_and_only_its_owner_has_it() -> None:
    body = BODY.replace(
        "sheet: 2 mm, sold: 100 x 600 mm",
        "sheet: 2 mm, sold: 100 x 600 mm, price: 4.20 EUR, at hand: 100 x 600 mm",
    )
    body = body.replace("pack: 10", "pack: 10, price: 1 EUR")
    made = model(TOP + body.replace("sold: 600 mm", "sold: 600 mm, price: 1 EUR") + STEP)
    assert of(made) == ({"EUR": Fraction("6.20")}, ())
    board = next(each for each in shared([made]) if each.stock.name.value == "board")
    assert board.job is not None
    assert [each.sheet.count for each in layout_of(board.job, None).boards] == [1]


def test_packs_are_whole() -> None:
    body = BODY.replace("pack: 10", "pack: 4, price: 1.50 EUR")
    body = body.replace("sold: 600 mm", "sold: 600 mm, price: 1 EUR")
    body = body.replace("sold: 100 x 600 mm", "sold: 100 x 600 mm, price: 1 EUR")
    body = body.replace("knob: {stock: pin}", "knob: {stock: pin, quantity: 9}")
    sums, _ = of(model(TOP + body + STEP))
    assert sums == {"EUR": Fraction("6.50")}


def test_nothing_to_buy_is_not_missing_a_price() -> None:
    assert added([("board", None, 0), ("strip", (Fraction(2), "EUR"), 3)]).without == ()
