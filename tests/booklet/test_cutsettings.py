"""Strips of several pieces are as wide in brackets as the pieces are in brackets, one by one."""

from __future__ import annotations

from fractions import Fraction

import pytest

from patternpress.booklet.cutsettings import setting_of
from patternpress.closing.close import close
from patternpress.cutting.layouts import layouts
from patternpress.design.read import read_design
from patternpress.measure.values import InBoth
from tests.whole.demos import DESIGNS

SIXTY_FOURTH = Fraction(254, 640)


def settings_of(edition: str) -> dict[tuple[str, Fraction], object]:
    model = close(read_design(DESIGNS / "keepers-desk.yaml"), edition).model
    return {
        (layout.job.stock.name.value, cut.setting): setting_of(
            cut, board, layout.job, model.edition.display
        )
        for layout in layouts(model)
        for board in layout.boards
        for cut in board.cuts
    }


@pytest.mark.parametrize(
    ("stock", "setting", "sixty_fourths"),
    [
        ("lime board", 84, 2 * 106),  # two sides of 42 mm, 1 42/64 in each; 84 mm is 3 19/64 in
        ("thin board", 80, 2 * 101),  # two drawer sides of 40 mm, cut 1 37/64 in each
    ],
)
def test_a_strip_of_two_is_twice_the_piece_in_brackets(
    stock: str, setting: int, sixty_fourths: int
) -> None:
    found = settings_of("both")[stock, Fraction(setting)]
    assert isinstance(found, InBoth)
    assert found.second == sixty_fourths * SIXTY_FOURTH


def test_an_edition_of_one_system_has_no_second_sum() -> None:
    assert not any(isinstance(each, InBoth) for each in settings_of("metric").values())
