"""Drawings that are not full size say everything in figures; halves tell the other half."""

from __future__ import annotations

import itertools
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from patternpress.assembly.blank import Angled, Arched, CutOff, GrooveRun, Round, RoundHole, Slot
from patternpress.assembly.shape import Axis, Face, MarkLine, MarkPoint
from patternpress.assembly.symmetry import is_rectangle, is_symmetrical, unlike
from patternpress.assembly.turning import scaled_shape
from patternpress.drawing.features import features
from patternpress.drawing.fitting import Room, Subject, reduced
from patternpress.drawing.halves import half_window
from patternpress.drawing.ink import Extent, Stroke, Words
from patternpress.drawing.levels import levels_of
from patternpress.drawing.outside import above
from patternpress.drawing.part import Manner, TemplatePart
from patternpress.drawing.room import passes_through
from patternpress.drawing.style import DrawingStyle
from patternpress.drawing.surroundings import Setting
from patternpress.drawing.template import Cell, Way, drawn_once, laid_out, wanted_callouts
from patternpress.measure.pieces import Figure, Text, plain
from tests.drawing import samples
from tests.drawing.samples import F, at

STYLE = DrawingStyle()
HALF, FULL = Fraction(1, 2), Fraction(1)
LEFT, RIGHT, TOP, BOTTOM = Face.LEFT, Face.RIGHT, Face.TOP, Face.BOTTOM


def exact(length: Fraction) -> Figure:
    return Figure((Text(f"{float(length):g}"),))


def cell(part: TemplatePart, scale: Fraction = HALF, dimensioned: bool = True) -> Cell:
    drawn = drawn_once(part, part.quantity, STYLE, Way(scale, dimensioned))
    return laid_out(drawn, Setting(STYLE, (171.0, 222.0)))


def said(drawn: Cell) -> list[str]:
    found = [plain(ink.figure) for ink in drawn.ink if isinstance(ink, Words)]
    return [text.replace("\u00a0", " ") for text in found]


def figured(part: TemplatePart) -> TemplatePart:
    """The part with plain figures, so that a test reads them easily."""
    return replace(part, levels=levels_of(part.shape, exact), show=exact)


TAPERED = figured(
    samples.part(
        "A",
        "End",
        200,
        160,
        corners={(LEFT, TOP): CutOff(F(40), F(55)), (RIGHT, TOP): Round(F(30))},
        angled={RIGHT: Angled(F(10), BOTTOM)},
        holes=(
            RoundHole("rod hole", at(90, 120), F(25)),
            RoundHole("peg", at(21, 35), F(3), F(5)),
        ),
        grooves=(
            GrooveRun("floor groove", Axis.X, F(12), F(9), F(4)),
            GrooveRun("slot", Axis.Y, F(70), F(6), F(2), start=F(31), stop=F(77)),
        ),
        marks=(
            MarkLine("rail line", at(0, 63), at(200, 63)),
            MarkPoint("pin", at(47, 90)),
        ),
        callouts={"rod hole": Figure((Text("rod hole Ø25"),))},
    )
)


def test_every_feature_of_a_reduced_drawing_has_its_figures() -> None:
    text = said(cell(TAPERED))
    # Cut corner 40 x 55; holes; the groove's and the slot's near edges (their
    # callouts tell how wide they are) and the slot's ends; marks.
    across = {"40", "90", "21", "70", "47"}
    up = {"105", "120", "35", "12", "31", "77", "63", "90"}
    assert across | up <= set(text)
    assert any("Ø25" in each for each in text)


def test_figures_stand_where_they_measure() -> None:
    """Each figure below the part stands at, or near, the place it tells, in the part's order."""
    drawn = cell(TAPERED)
    figures = [
        (float(plain(ink.figure)), ink.at[0])
        for ink in drawn.ink
        if isinstance(ink, Words)
        and ink.upright
        and ink.at[1] < 0
        and plain(ink.figure).replace(".", "").isdigit()
    ]
    figures.sort()
    assert [figure for figure, _ in figures] == [21, 40, 47, 70, 90]
    places = [x for _, x in figures]
    assert places == sorted(places)
    assert all(b - a >= STYLE.label * 1.4 for a, b in itertools.pairwise(places))


@settings(max_examples=60)
@given(st.lists(st.tuples(st.integers(5, 290), st.integers(5, 190)), max_size=8, unique=True))
def test_every_hole_is_placed_both_ways(centres: list[tuple[int, int]]) -> None:
    apart = [
        (x, y)
        for index, (x, y) in enumerate(centres)
        if all(abs(x - a) > 4 or abs(y - b) > 4 for a, b in centres[:index])
    ]
    holes = tuple(RoundHole(f"h{x} {y}", at(x, y), F(2)) for x, y in apart)
    part = samples.part("M", "Panel", 300, 200, holes=holes)
    levels = levels_of(part.shape, exact)
    assert {float(level.at) for level in levels.across} == {300.0, *(float(x) for x, _ in apart)}
    assert {float(level.at) for level in levels.up} == {200.0, *(float(y) for _, y in apart)}


def test_a_reduced_drawing_names_its_radii() -> None:
    part = replace(TAPERED, callouts={"radius of stretch 4": Figure((Text("R30"),))})
    names = {f"radius of stretch {index + 1}" for index in range(8)}
    given_names = {name: Figure((Text(f"R of {name[-1]}"),)) for name in names}
    text = said(cell(replace(part, callouts=given_names)))
    assert sum("R of" in each for each in text) == 1  # the one rounded corner
    assert not any("R of" in each for each in said(cell(replace(part, callouts=given_names), FULL)))


def test_a_taper_at_full_size_tells_both_heights() -> None:
    ramp = figured(samples.part("K", "Cheek", 42, 25, angled={TOP: Angled(F(12), RIGHT)}))
    low = min(float(level.at) for level in ramp.levels.up)
    assert f"{low:g}" in said(cell(ramp, FULL))


# ------------------------------------------------------------------ halves


def test_a_half_is_half_of_it_and_counts_all_holes() -> None:
    holes = tuple(RoundHole(f"screw {n}", at(x, 20), F(3)) for n, x in enumerate((20, 80, 140)))
    said_alike = {hole.name: Figure((Text("Ø3"),)) for hole in holes}
    whole = samples.part("B", "Side", 160, 60, holes=holes, callouts=said_alike)
    half = figured(replace(whole, manner=Manner.HALF))
    assert half_window(half, half.shape) is not None
    drawn = cell(half, FULL)
    outline = [
        place
        for ink in drawn.ink
        if isinstance(ink, Stroke) and ink.pen == STYLE.cut
        for track in ink.tracks
        for place in (track.start, *((p.x, p.y) for p in track.pieces))
    ]
    assert max(x for x, _ in outline) == pytest.approx(80)
    assert "3 × Ø3" in said(drawn)
    assert "80" in said(drawn)  # the half's own width
    assert any("turn over" in each for each in said(drawn))
    assert "right" not in said(drawn)  # its right-hand side is no edge


@pytest.mark.parametrize(
    ("how", "other"),
    [
        ({}, ""),
        ({"holes": (RoundHole("peg", at(30, 20), F(3)),)}, ""),
        ({"holes": (RoundHole("peg", at(20, 20), F(3)),)}, "peg"),
        (
            {"holes": (RoundHole("a", at(20, 20), F(3)), RoundHole("b", at(40, 20), F(3)))},
            "",
        ),
        (
            {"holes": (RoundHole("a", at(20, 20), F(3)), RoundHole("b", at(40, 20), F(4)))},
            "a",
        ),
        ({"corners": {(LEFT, TOP): Round(F(8))}}, "outline"),
        ({"edges": {TOP: Arched(F(5))}}, ""),
        ({"grooves": (GrooveRun("g", Axis.X, F(5), F(2), F(1)),)}, ""),
        ({"grooves": (GrooveRun("g", Axis.Y, F(5), F(2), F(1)),)}, "g"),
        ({"marks": (MarkLine("line", at(30, 0), at(30, 40)),)}, "line"),
    ],
)
def test_what_makes_two_halves_unlike(how: dict[str, object], other: str) -> None:
    shape = samples.part("M", "Panel", 60, 40, **how).shape
    assert unlike(shape) == other
    assert is_symmetrical(shape) is (other == "")


def test_a_half_that_would_not_tell_the_other_is_drawn_whole() -> None:
    part = samples.part("M", "Panel", 60, 40, corners={(LEFT, TOP): Round(F(8))})
    assert half_window(replace(part, manner=Manner.HALF), part.shape) is None


def test_rectangles_are_told_from_shapes() -> None:
    assert is_rectangle(samples.HUGE.shape.outline)
    assert not is_rectangle(samples.RAMP.shape.outline)
    assert not is_rectangle(samples.DISC.shape.outline)


DRAINED = samples.part(
    "C",
    "Floor",
    444,
    175,
    notes=tuple(f"{side} bevelled by 8° through the thickness" for side in ("front", "back")),
    holes=(
        Slot("front drain", at(222, 45), F(80), F(20), Axis.X),
        Slot("back drain", at(222, 130), F(80), F(20), Axis.X),
    ),
    callouts={
        name: Figure((Text(f"{name} 80 × 20 mm (3 5/32 × 25/32 in)"),))
        for name in ("front drain", "back drain")
    },
)


def test_long_names_stand_above_a_part_that_is_then_drawn_larger() -> None:
    """Beside it they left no room but for a drawing half as large, which nobody could read."""
    forms = reduced(Subject(DRAINED, STYLE), Room((177.0, 198.0)))
    assert {each.scale for each in forms[0]} == {Fraction(1, 5)}


def test_no_leader_from_above_passes_through_another_hole() -> None:
    """Both are named, one behind the other: a leader straight down would point at both."""
    shape = scaled_shape(DRAINED.shape, Fraction(1, 5))
    boxes = [each.blocked[0] for each in features(shape, STYLE)]
    wanted = wanted_callouts(DRAINED, features(shape, STYLE), shape, Fraction(1, 5), STYLE, None)
    ways = above(wanted, Extent(0, 0, 88.8, 35), 45, STYLE).ways
    assert len(ways) == 2
    for (start, end), box in itertools.product(ways, boxes):
        own = box.left <= end[0] <= box.right and box.bottom <= end[1] <= box.top
        assert own or not passes_through((start, end), box)
