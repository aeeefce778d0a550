"""A board with a long empty end is drawn larger, its end shortened, so that all is lettered."""

from __future__ import annotations

import re
from fractions import Fraction
from xml.etree import ElementTree

from hypothesis import given
from hypothesis import strategies as st

from patternpress.cutting.boardink import BoardPicture
from patternpress.cutting.boardpicture import board_picture
from patternpress.cutting.jobs import Item, Job, Sheet
from patternpress.cutting.laid import LaidBoard
from patternpress.cutting.layouts import lay_out
from patternpress.cutting.shortened import BAND, BEFORE_END, Scale, shortened
from patternpress.cutting.slicing import Area
from patternpress.drawing.contract import check_template
from patternpress.drawing.style import DrawingStyle
from patternpress.measure.digits import Display
from tests.cutting.test_layouts import item, job

SMALL = [item("A", "40", "20", 3), item("B", "12", "9", 4)]


def laid(made: Job) -> LaidBoard:
    (board,) = lay_out(made).boards
    return board


def on_board(items: list[Item], along: str = "600") -> tuple[LaidBoard, BoardPicture]:
    made = job(items, [Sheet(Fraction(along), Fraction(45))])
    return laid(made), board_picture(laid(made), made, Display(), DrawingStyle())


def numbered(svg: str) -> set[str]:
    """The numbers of cuts that stand in a picture."""
    spans = [e.text or "" for e in ElementTree.fromstring(svg).iter() if e.tag.endswith("tspan")]
    return {text for text in spans if text.isdigit()}


def test_small_pieces_on_a_long_board_are_all_lettered_and_all_cuts_numbered() -> None:
    board, picture = on_board(SMALL)
    assert picture.shortened
    assert picture.unlettered == ()
    assert numbered(picture.svg) == {str(n) for n in range(1, len(board.cuts) + 1)}
    assert check_template(picture.svg) == []


def test_each_number_of_a_cut_stands_in_a_ring() -> None:
    """Eight sides, about the middle of the number: bare ones were read with the letters beside."""
    _, picture = on_board(SMALL)
    rings = re.findall(r'd="M[^"ML]*(?:L[^"LZ]*){7}Z?"', picture.svg)
    spans = [e.text or "" for e in ElementTree.fromstring(picture.svg).iter() if e.text]
    assert len(rings) >= sum(text.isdigit() for text in spans) > 4


def test_a_board_that_is_legible_as_it_is_stays_whole() -> None:
    _, picture = on_board([item("A", "250", "40", 2)])
    assert not picture.shortened


def test_the_end_is_not_shortened_over_a_defect() -> None:
    knot = Area(Fraction(500), Fraction(30), Fraction(40), Fraction(20))
    hand = Sheet(Fraction(600), Fraction(100), None, 1, defects=(knot,))
    for scale in shortened(laid(job(SMALL, [hand])), 0.2, 5.0, 30.0):
        assert scale.far(540) - scale.far(500) == 40 * scale.by


def test_what_is_shortened_keeps_its_width_and_room_for_its_size() -> None:
    board, whole = laid(job(SMALL, [Sheet(Fraction(600), Fraction(100))])), 0.2
    found = list(shortened(board, whole, 5.0, 40.0))
    assert len(found) > 1
    for scale in found:
        assert abs(scale.far(600) - 600 * whole) < 1e-9
        assert scale.far(600) - scale.far(scale.empty) >= 40.0 > BAND + BEFORE_END


def test_no_scale_is_larger_than_the_paper_is_high() -> None:
    board = laid(job(SMALL, [Sheet(Fraction(600), Fraction(100))]))
    assert {round(1 / scale.by, 9) for scale in shortened(board, 0.2, 0.25, 10.0)} == {4.0, 4.2}


def test_a_small_board_is_drawn_at_the_scale_of_the_others_where_that_is_legible() -> None:
    sheets = [Sheet(Fraction(600), Fraction(60)), Sheet(Fraction(200), Fraction(60), None, 1)]

    def wide(items: list[Item], length: int) -> float:
        made = job(items, sheets)
        found = [b for b in lay_out(made).boards if b.sheet.along == length]
        svg = board_picture(found[0], made, Display(), DrawingStyle()).svg
        return float(ElementTree.fromstring(svg).get("viewBox", "").split()[2]) - 10

    large, small = [item("A", "590", "55")], [item("B", "80", "55")]
    whole = 600 / 4.5  # mm: what the page is wide, 136 mm, less what a plain scale costs
    assert abs(wide([*large, *small], 600) - whole) < 0.01
    assert abs(wide([*large, *small], 200) - whole / 3) < 0.01
    assert wide([*large, item("B", "12", "9", 4)], 200) > whole / 2


@given(
    by=st.floats(0.1, 5), empty=st.floats(0, 400), out=st.floats(0, 100), a=st.floats(0, 600),
    b=st.floats(0, 600),
)  # fmt: skip
def test_nothing_changes_its_order(by: float, empty: float, out: float, a: float, b: float) -> None:
    scale = Scale(by, empty, out)
    first, then = sorted((a, b))
    assert scale.far(first) <= scale.far(then)


def test_the_zigzags_stand_before_the_boards_end() -> None:
    _, picture = on_board(SMALL)
    paths = re.findall(r"M([\d.]+) [\d.]+L([\d.]+) [\d.]+L([\d.]+) ", picture.svg)
    zigzags = [tuple(map(float, p)) for p in paths if p[0] == p[1] != p[2]]
    end = 5 + 600 / 4.5  # 5 mm of margin, then the board
    assert any(abs(z[0] - (end - BEFORE_END - BAND)) < 0.01 for z in zigzags)
    assert any(abs(z[0] - (end - BEFORE_END)) < 0.01 for z in zigzags)
