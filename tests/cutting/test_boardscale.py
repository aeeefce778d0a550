"""The scales of cutting layouts: easily said, and true of what is drawn."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from patternpress.cutting.boardpicture import board_picture
from patternpress.cutting.boardscale import plain_scale, told_scale
from patternpress.cutting.jobs import Sheet
from patternpress.cutting.layouts import lay_out
from patternpress.drawing.style import DrawingStyle
from patternpress.measure.digits import Display
from tests.cutting.test_layouts import item, job


@given(st.floats(0.01, 5))
def test_a_plain_scale_is_hardly_smaller_and_never_larger(largest: float) -> None:
    scale = plain_scale(largest)
    assert largest * 0.86 <= float(scale) <= largest + 1e-6
    assert plain_scale(float(scale)) == scale
    assert re.fullmatch(r"1:\d+(\.\d)?|\d(\.\d)?:1", told_scale(scale))


@pytest.mark.parametrize(
    ("largest", "told"),
    [(136 / 600, "1:4.5"), (136 / 1200, "1:8.9"), (0.5, "1:2"), (1.0, "1:1"), (2.76, "2.7:1")],
)
def test_how_a_scale_is_told(largest: float, told: str) -> None:
    assert told_scale(plain_scale(largest)) == told


@pytest.mark.parametrize("along", ["600", "750", "90"])
def test_a_board_is_as_long_on_paper_as_its_scale_says(along: str) -> None:
    made = job([item("A", "80", "30")], [Sheet(Fraction(along), Fraction(45))])
    (board,) = lay_out(made).boards
    picture = board_picture(board, made, Display(), DrawingStyle())
    one, _, times = picture.scale.partition(":")
    wide = float(re.findall(r'viewBox="0 0 ([\d.]+) ', picture.svg)[0]) - 10  # margins
    assert not picture.shortened
    assert abs(wide * float(times) - float(along) * float(one)) < 0.01 * float(times)
