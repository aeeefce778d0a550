"""Several designs together: every piece is cut once, nothing is bought twice."""

from __future__ import annotations

import re
from collections import Counter
from pathlib import Path

import pytest

from patternpress.assembly.model import Model, work_out
from patternpress.booklet.series import series_text, together
from patternpress.cutting.layouts import Layout, layouts
from patternpress.design.read import read_design
from tests.whole.small import BODY, STEP, TOP, model

DESIGNS = Path(__file__).parents[2] / "designs"
SOLD = "board: {sheet: 2 mm, sold: 100 x 600 mm, cut with: fine saw, kerf: 0.3 mm}"


def boards(laid: tuple[Layout, ...]) -> Counter[str]:
    """How many are bought of each stock; what is at hand is not."""
    return Counter(
        {
            each.job.stock.name.value: sum(b.copies for b in each.boards if b.sheet.count is None)
            for each in laid
        }
    )


def pieces(laid: tuple[Layout, ...]) -> Counter[str]:
    return Counter(
        each.job.items[spot.item].letter
        for each in laid
        for board in each.boards
        for spot in board.spots
        for _ in range(board.copies)
    )


def other(board: str = SOLD) -> Model:
    """A second design of the same stock, unless another board is asked for."""
    assert SOLD in BODY
    return model(TOP.replace("Wall shelf", "Corner shelf") + BODY.replace(SOLD, board) + STEP)


def test_every_piece_of_every_design_is_cut_once() -> None:
    one, two = model(), other()
    each = pieces(layouts(one))
    both = pieces(together([one, two]).layouts)
    wanted = {f"{n}{letter}": count for n in (1, 2) for letter, count in each.items()}
    assert both == Counter(wanted)


def test_two_designs_share_a_board() -> None:
    """Both come out of one board of 100 x 600 mm, which holds 60,000 mm² of their 22,272."""
    one, two = model(), other()
    assert boards(layouts(one)) == boards(layouts(two)) == Counter(board=1, strip=1)
    assert boards(together([one, two]).layouts) == Counter(board=1, strip=1)


@pytest.mark.parametrize(
    "board",
    [
        SOLD.replace("sheet: 2 mm", "sheet: 2 mm, wood: birch"),
        SOLD.replace("kerf: 0.3 mm", "kerf: 0.4 mm"),
    ],
    ids=["another wood", "another kerf"],
)
def test_what_is_not_the_same_is_not_mixed(board: str) -> None:
    laid = together([model(), other(board)]).layouts
    assert [each.job.stock.name.value for each in laid] == ["board", "strip", "board"]
    for each in laid:
        if each.job.stock.name.value == "board":
            assert len({item.letter[0] for item in each.job.items}) == 1


def test_the_same_offcut_lies_there_once() -> None:
    kept = SOLD.replace("sold: 100 x 600 mm", "sold: 100 x 600 mm, at hand: 60 x 200 mm")
    one = model(TOP + BODY.replace(SOLD, kept) + STEP)
    job = next(each.job for each in together([one, other(kept)]).goods if each.job)
    assert [sheet.count for sheet in job.sheets] == [1, None]


def test_the_text_names_what_to_buy_once() -> None:
    text = series_text([model(), other()])
    assert text.startswith("Wall shelf and Corner shelf: what is needed\n\n1  Wall shelf\n")
    materials = text.partition("MATERIALS\n")[2].partition("\n\n")[0].splitlines()
    assert [line.partition(":")[0] for line in materials[:2]] == ["board", "strip"]
    assert len(materials) == len(set(materials))
    tools = text.partition("TOOLS\n")[2].partition("\n\n")[0].splitlines()
    assert len(tools) == len(set(tools))
    assert "2 × 2B" in text or "2 × 2B side" in text


def test_packs_hold_the_fittings_of_all() -> None:
    text = series_text([model(), other()])
    assert re.search(r"^a brass pin: 2, sold in packs of 10$", text, re.MULTILINE)


def test_the_demo_series_buys_fewer_boards_together() -> None:
    names = ("keepers-desk", "signal-shelf", "net-tote")
    models = [work_out(read_design(DESIGNS / f"{name}.yaml"), "metric") for name in names]
    apart = sum((boards(layouts(each)) for each in models), Counter())
    joint = boards(together(models).layouts)
    assert sum(joint.values()) <= sum(apart.values())
    assert len(pieces(together(models).layouts)) == sum(len(pieces(layouts(m))) for m in models)


def test_one_design_alone_has_its_own_letters_and_no_key() -> None:
    text = series_text([model()])
    assert "design 2" not in text
    assert pieces(together([model()]).layouts) == pieces(layouts(model()))
