"""Lettering, ink and room: heights of the ISO series, reading order, and free places."""

import itertools
import math

import pytest

from patternpress.drawing.dimensions import FIRST, upwards
from patternpress.drawing.ink import Anchor, Extent, Words, extent, shifted, turned, words_extent
from patternpress.drawing.lettering import broken, figure_width, runs, source_sans, words
from patternpress.drawing.lines import SERIES, Pen, chain, dashed
from patternpress.drawing.room import Surface, find_room, passes_through
from patternpress.drawing.style import DrawingStyle
from patternpress.measure.pieces import Figure, Stack, Text

STYLE = DrawingStyle()
LABEL = STYLE.set_in(2.5)
MIXED = Figure((Text("2"), Stack(35, 64), Text("\u00a0in")))


def test_a_mixed_number_is_copied_in_order() -> None:
    assert "".join(run.text for run in runs(MIXED, LABEL)) == "2\u00a035⁄64\u00a0in"


def test_small_digits_stay_legible() -> None:
    sizes = [run.size * source_sans().capital for run in runs(MIXED, LABEL)]
    assert min(sizes) == pytest.approx(1.8)  # ISO 3098: 1.8 is the next height below 2.5
    assert max(sizes) == pytest.approx(2.5)
    numerator = next(run for run in runs(MIXED, LABEL) if "35" in run.text)
    assert numerator.up > 0


def test_runs_follow_each_other_without_overlap() -> None:
    placed = list(runs(MIXED, LABEL))
    assert [run.across for run in placed] == sorted(run.across for run in placed)
    assert figure_width(MIXED, LABEL) > placed[-1].across


def test_the_capital_height_is_the_fonts() -> None:
    # 2.5 mm capitals want about 10 pt in a face with capitals of 0.7 em (computed).
    points = LABEL.size / 25.4 * 72
    assert 10 <= points <= 11
    assert source_sans() is source_sans()


def test_notes_are_broken_at_spaces() -> None:
    lines = broken("cut this one only after you have measured the opening", LABEL, 40)
    assert " ".join(lines) == "cut this one only after you have measured the opening"
    assert len(lines) > 1
    assert all(figure_width(words(line), LABEL) <= 40 for line in lines)
    assert broken("unbreakable", LABEL, 1) == ("unbreakable",)


def test_widths_and_dashes_are_of_the_standard() -> None:
    # ISO 128-2:2020: each width is about root 2 times the one before.
    for one, two in itertools.pairwise(SERIES):
        assert float(two / one) == pytest.approx(math.sqrt(2), abs=0.06)
    assert [float(d) for d in dashed(STYLE.narrow).dashes] == [3, 0.75]
    assert [float(d) for d in chain(STYLE.thin).dashes] == [4.32, 0.54, 0.09, 0.54]
    with pytest.raises(ValueError, match="no line width"):
        Pen(STYLE.wide * 3)


@pytest.mark.parametrize("upright", [False, True])
def test_turned_words_keep_their_rectangle(upright: bool) -> None:
    word = Words(words("front"), (10.0, 20.0), LABEL, Anchor.MIDDLE, upright)
    before, after = words_extent(word), extent(turned([word]))
    expected = Extent(-before.top, before.left, -before.bottom, before.right)
    for side in ("left", "bottom", "right", "top"):
        assert getattr(after, side) == pytest.approx(
            getattr(expected, side), abs=LABEL.descent * 1.01
        )
    moved = extent(shifted([word], 3, -4))
    assert moved.left == pytest.approx(before.left + 3)
    assert moved.top == pytest.approx(before.top - 4)


SQUARE = Surface(((0, 0), (20, 0), (20, 20), (0, 20)))


def test_room_is_found_next_to_the_place_preferred() -> None:
    spot = find_room(SQUARE, (6, 4), (10, 10), 1)
    assert spot == Extent(7, 8, 13, 12)
    blocked = find_room(SQUARE.without(Extent(8, 8, 12, 12)), (6, 4), (10, 10), 1)
    assert blocked is not None
    assert not blocked.grown(0.9).meets(Extent(8, 8, 12, 12))
    assert find_room(SQUARE, (19, 4), (10, 10), 1) is None


def test_room_keeps_off_lines_and_slopes() -> None:
    ruled = Surface(SQUARE.ring, (), (((0, 10), (20, 10)),))
    spot = find_room(ruled, (6, 4), (10, 10), 1)
    assert spot is not None
    assert spot.bottom >= 11 - 0.1 or spot.top <= 9 + 0.1
    triangle = Surface(((0, 0), (20, 0), (0, 20)))
    within = find_room(triangle, (5, 5), (15, 15), 0.5)
    assert within is not None
    assert within.right + within.top <= 20 - 0.9
    assert find_room(triangle, (12, 9), (6, 5), 0.5) is None


def test_lines_that_only_touch_a_rectangle_do_not_enter_it() -> None:
    box = Extent(0, 0, 4, 4)
    assert passes_through(((-1, 2), (5, 2)), box)
    assert passes_through(((2, 2), (3, 3)), box)
    assert not passes_through(((-1, 4), (5, 4)), box)
    assert not passes_through(((-1, 5), (5, 6)), box)
    assert not passes_through(((5, 0), (6, 4)), box)


def test_a_turned_dimension_stands_over_its_line_again() -> None:
    """It stood under it with its digits on the line: one could not read them on a grey print."""
    ink = upwards((0.0, 58.0), 0.0, words("58 mm"), STYLE)
    level = -FIRST
    (before,) = (each for each in ink if isinstance(each, Words))
    (after,) = (each for each in turned(ink) if isinstance(each, Words))
    assert before.upright and not after.upright
    assert level - words_extent(before).right > 0  # to the left of the line, read from the right
    assert words_extent(after).bottom > level  # which is level now, and under it
    assert after.at[1] - level == pytest.approx(level - before.at[0])
