"""Templates: nothing overlaps, nothing is left out, and both hands are true mirror images."""

import itertools
from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import LineString

from patternpress.assembly.blank import CutOff, GrooveRun, RoundHole
from patternpress.assembly.flattening import flattened
from patternpress.assembly.shape import Axis, Face, MarkLine, View
from patternpress.assembly.turning import mirrored_shape
from patternpress.drawing.callouts import Callout
from patternpress.drawing.dimensions import leader
from patternpress.drawing.features import Feature, features
from patternpress.drawing.ink import Extent, Stroke, Words, words_extent
from patternpress.drawing.lettering import words as words_of
from patternpress.drawing.levels import levels_of
from patternpress.drawing.outside import beside
from patternpress.drawing.part import Hand, TemplatePart
from patternpress.drawing.room import passes_through
from patternpress.drawing.style import DrawingStyle
from patternpress.drawing.surroundings import Setting
from patternpress.drawing.template import Cell, Way, drawn_once, hands, laid_out
from patternpress.measure.pieces import plain
from tests.drawing import samples

STYLE = DrawingStyle()
ROOM = (171.0, 222.0)


def drawn(part: TemplatePart, scale: Fraction = Fraction(1), dimensioned: bool = True) -> Cell:
    return cells(part, scale=scale, dimensioned=dimensioned)[0]


def cells(
    part: TemplatePart,
    style: DrawingStyle = STYLE,
    scale: Fraction = Fraction(1),
    dimensioned: bool = True,
) -> list[Cell]:
    setting = Setting(style, ROOM)
    way = Way(scale, dimensioned)
    drawn = [drawn_once(each, count, style, way) for each, count in hands(part)]
    return [laid_out(each, setting) for each in drawn]


def texts(cell: Cell) -> list[str]:
    return [plain(ink.figure).replace("\u00a0", " ") for ink in cell.ink if isinstance(ink, Words)]


def collisions(cell: Cell) -> Iterator[str]:
    """Words that touch other words, or that a line runs through."""
    words = [ink for ink in cell.ink if isinstance(ink, Words)]
    for one, two in itertools.combinations(words, 2):
        if words_extent(one).grown(-0.05).meets(words_extent(two).grown(-0.05)):
            yield f"{plain(one.figure)} / {plain(two.figure)}"
    for ink in cell.ink:
        if not isinstance(ink, Stroke):
            continue
        for track in ink.tracks:
            places = [track.start, *((piece.x, piece.y) for piece in track.pieces)]
            for edge in itertools.pairwise(places):
                for word in words:
                    if passes_through(edge, letters(word)):
                        yield f"a line through {plain(word.figure)}"


def letters(word: Words) -> Extent:
    """The body of the words, without the space under the line that few letters use."""
    box = words_extent(word)
    down = word.lettering.descent
    if word.upright:
        return Extent(box.left, box.bottom, box.right - down, box.top).grown(-0.05)
    return Extent(box.left, box.bottom + down, box.right, box.top).grown(-0.05)


def arrows(cell: Cell) -> Iterator[Stroke]:
    """The lines of grain arrows: drawn with the marking pen, and plain parts have no marks."""
    for ink in cell.ink:
        if isinstance(ink, Stroke) and ink.pen == STYLE.mark:
            yield ink


NAMED = [part for part in samples.ALL if part is not samples.HUGE]


@pytest.mark.parametrize("part", NAMED, ids=[part.name for part in NAMED])
def test_nothing_overlaps(part: TemplatePart) -> None:
    for cell in cells(part):
        assert list(collisions(cell)) == []


@settings(max_examples=400)
@given(
    st.fractions(min_value=2, max_value=180, max_denominator=8),
    st.fractions(min_value=2, max_value=180, max_denominator=8),
    st.sampled_from([Axis.X, Axis.Y, None]),
)
def test_nothing_overlaps_on_plain_parts_of_any_size(
    wide: Fraction, high: Fraction, grain: Axis | None
) -> None:
    part = samples.part("M", "Panel", wide, high, grain=grain, notes=("cut after measuring",))
    cell = drawn(part)
    assert list(collisions(cell)) == []
    said = " ".join(texts(cell))
    for words in ("Panel", "make 1", "3 mm walnut sheet", "seen from the front", "top", "right"):
        assert words in said
    assert any(arrows(cell)) is (grain is not None)


@settings(max_examples=40)
@given(
    st.integers(20, 160),
    st.integers(16, 160),
    st.integers(1, 9),
    st.integers(1, 9),
    st.integers(2, 8),
)
def test_nothing_overlaps_on_parts_with_a_hole_and_a_line(
    wide: int, high: int, across: int, up: int, diameter: int
) -> None:
    x, y = Fraction(wide * across, 10), Fraction(high * up, 10)
    least = min(x, y, wide - x, high - y)
    if 2 * least <= diameter + 1:
        diameter = 1
    level = Fraction(high, 2)
    part = samples.part(
        "M",
        "Panel",
        wide,
        high,
        holes=(RoundHole("peg", samples.at(x, y), Fraction(diameter)),) if least > 1 else (),
        marks=(MarkLine("shelf line", samples.at(0, level), samples.at(wide, level)),),
    )
    cell = drawn(part)
    assert list(collisions(cell)) == []
    assert "shelf line" in texts(cell)


def test_the_label_moves_out_of_a_part_too_small_for_it() -> None:
    large, strip = drawn(samples.DISC), drawn(samples.STRIP)
    ring = flattened(samples.STRIP.shape.outline)
    top = max(y for _, y in ring)
    for ink in strip.ink:
        if isinstance(ink, Words) and plain(ink.figure) in ("F", "Rail", "make 4"):
            assert words_extent(ink).bottom > top
    inside = {plain(w.figure) for w in large.ink if isinstance(w, Words) and w.at[1] > 0}
    assert {"J", "Table top", "make 1", "grain"} <= inside


def test_a_handed_part_is_drawn_for_both_hands() -> None:
    left, right = cells(samples.SIDE)
    assert "make 1 · left hand" in texts(left)
    assert "make 1 · right hand" in texts(right)
    assert "seen from the right" in texts(left)
    assert "seen from the left" in texts(right)
    assert samples.SIDE.hand is Hand.LEFT
    assert Hand.LEFT.other is Hand.RIGHT

    def outline(cell: Cell) -> set[tuple[float, float]]:
        pen = STYLE.cut
        strokes = [ink for ink in cell.ink if isinstance(ink, Stroke) and ink.pen == pen]
        (track,) = strokes[0].tracks
        return {(round(p.x, 6), round(p.y, 6)) for p in track.pieces}

    assert {(round(44 - x, 6), y) for x, y in outline(left)} == outline(right)


def test_no_extension_line_runs_over_what_is_traced() -> None:
    """A thin line right over the wood would be marked on it as if it were a pencil line."""
    sloped = samples.part(
        "B", "Side", 42, 25, view=View.RIGHT, hand=Hand.LEFT, twins=1,
        corners={(Face.FRONT, Face.TOP): CutOff(Fraction(42), Fraction(9))},
    )  # fmt: skip
    kept = levels_of(sloped.shape, samples.dual, handed=True)
    twin = levels_of(mirrored_shape(sloped.shape), samples.dual, handed=True)
    for hand in cells(replace(sloped, levels=kept, twin_levels=twin)):
        assert "16 mm (5/8 in)" in texts(hand)
        assert not [*collisions(hand)]
        fine = [ink for ink in hand.ink if isinstance(ink, Stroke) and ink.pen == STYLE.fine]
        level = [
            (track.start[0], track.pieces[-1].x)
            for ink in fine
            for track in ink.tracks
            if len(track.pieces) < 3 and track.start[1] == track.pieces[0].y == 16
        ]
        assert level
        assert all(max(ends) <= 0 or min(ends) >= 42 for ends in level)


def test_holes_that_say_the_same_are_called_out_once() -> None:
    said = texts(drawn(samples.SIDE))
    assert [text for text in said if "Ø" in text] == ["2 × Ø 3 mm (1/8 in)"]


def test_a_groove_underneath_is_dashed_and_says_so() -> None:
    cell = drawn(samples.SIDE)
    assert "back groove (on the far side)" in texts(cell)
    assert any(isinstance(ink, Stroke) and ink.pen == STYLE.hidden for ink in cell.ink)


def test_a_groove_is_hatched_no_finer_than_a_printer_holds() -> None:
    part = samples.part(
        "M",
        "Panel",
        60,
        40,
        grooves=(GrooveRun("slot", Axis.X, Fraction(10), Fraction(3), Fraction(1)),),
    )
    hatch = next(ink for ink in drawn(part).ink if isinstance(ink, Stroke) and len(ink.tracks) > 9)
    lefts = sorted(track.pieces[0].x for track in hatch.tracks if track.pieces[0].y == 10)
    # ISO 128: parallel lines at least 0.7 mm apart, measured square to them.
    steps = [(two - one) / 2**0.5 for one, two in itertools.pairwise(lefts)]
    assert min(steps) > 0.7


def test_a_reduced_template_says_so_and_keeps_its_true_dimensions() -> None:
    cell = drawn(samples.HUGE, Fraction(1, 2))
    said = texts(cell)
    assert "not full size – drawn at 1:2" in said
    assert "300 mm (11 13/16 in)" in said
    assert cell.extent.width < 300


def test_dimensions_can_be_left_out() -> None:
    with_them, without = drawn(samples.LONG), drawn(samples.LONG, dimensioned=False)
    assert "200 mm (7 7/8 in)" in texts(with_them)
    assert "200 mm (7 7/8 in)" not in texts(without)
    assert without.extent.width < with_them.extent.width


def test_other_languages_come_in_as_words() -> None:
    german = DrawingStyle(
        words={**STYLE.words, "grain": "Faser", "top": "oben", "make": "{count}-mal"}
    )
    (cell,) = cells(samples.DISC, german)
    assert {"Faser", "1-mal"} <= set(texts(cell))


@settings(max_examples=150)
@given(
    st.lists(
        st.tuples(st.integers(2, 38), st.integers(1, 58), st.sampled_from([0.0, 0.8])),
        min_size=2,
        max_size=9,
        unique_by=lambda each: each[:2],
    )
)
def test_leaders_outside_never_cross(spots: list[tuple[int, int, float]]) -> None:
    """Leaders from a column of words to points on a part, some at the same height."""
    wanted = [
        Callout(words_of(f"hole {n}"), Feature(f"hole {n}", (), (x, y), reach, (spot(x, y),)))
        for n, (x, y, reach) in enumerate(spots)
    ]
    ink = beside(wanted, 48.0, STYLE).ink
    lines = [
        (track.start, (track.pieces[-1].x, track.pieces[-1].y))
        for each in ink
        if isinstance(each, Stroke)
        for track in each.tracks
    ]
    assert len(lines) == len(spots)
    for one, two in itertools.combinations(lines, 2):
        first, second = LineString(one), LineString(two)
        assert not first.crosses(second), (one, two)


def spot(x: int, y: int) -> Extent:
    return Extent(x - 0.8, y - 0.8, x + 0.8, y + 0.8)


def test_a_leader_to_a_line_is_no_continuation_of_it() -> None:
    level = MarkLine("shelf line", samples.at(0, 20), samples.at(40, 20))
    shape = samples.part("M", "Panel", 40, 40, marks=(level,)).shape
    (feature,) = features(shape, STYLE)
    (_, line, _) = beside([Callout(words_of("shelf line"), feature)], 48.0, STYLE).ink
    assert isinstance(line, Stroke)
    (track,) = line.tracks
    rise = track.pieces[-1].y - track.start[1]
    run = track.pieces[-1].x - track.start[0]
    assert abs(rise / run) > 0.2  # more than ten degrees


def test_a_leader_shorter_than_an_arrow_has_none() -> None:
    """Its head would lie in the words that it comes from."""
    short, long = (leader(((0, up), (0, 0)), STYLE, on_face=False) for up in (1.5, 4.0))
    assert [type(ink).__name__ for ink in short] == ["Stroke"]
    assert [type(ink).__name__ for ink in long] == ["Stroke", "Solid"]
