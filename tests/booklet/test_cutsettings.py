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
        # two sides of 42 mm, 1 42/64 in each; 84 mm is 3 19/64 in
        ("lime board", Fraction(84), 106 + 106),
        # a back of 38.7 mm and a side of 38 mm, 1 33/64 and 1 32/64 in
        ("thin board", Fraction(767, 10), 97 + 96),
    ],
)
def test_a_strip_is_as_wide_as_its_pieces_in_brackets(
    stock: str, setting: Fraction, sixty_fourths: int
) -> None:
    found = settings_of("both")[stock, setting]
    assert isinstance(found, InBoth)
    assert found.second == sixty_fourths * SIXTY_FOURTH


def test_an_edition_of_one_system_has_no_second_sum() -> None:
    assert not any(isinstance(each, InBoth) for each in settings_of("metric").values())
