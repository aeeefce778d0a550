"""What is to be cut from what: tools, allowances, spares, parts that wait; what is wished for."""

from __future__ import annotations

import re
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest

from patternpress.booklet.filllayouts import laid_stocks
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.wording import Wording
from patternpress.closing.close import close
from patternpress.cutting.jobs import KEPT_FOR_FITTING, Job, Sheet, jobs
from patternpress.cutting.laid import LaidBoard, wishes, worth_keeping
from patternpress.cutting.layouts import layouts
from patternpress.cutting.packing.records import KNIFE, SAW
from patternpress.cutting.slicing import ACROSS, ALONG, Area, Cut, Line, Spot
from patternpress.design.read import read_design
from patternpress.drawing.svg import BLACK
from tests.whole.small import STEP, TOP, model

GOODS = model().worked.book.stock[0]
DESK = Path(__file__).parents[2] / "designs" / "keepers-desk.yaml"
NONE = Fraction(0)

TRAY = """\
stock:
  board: {sheet: 2 mm, sold: 60 x 120 mm, SAID}

parts:
  base: {stock: board, wide: 100 mm, deep: 40 mm}
  full: {stock: board, wide: 119.8 mm, deep: 10 mm}
  slat: {stock: board, wide: 30 mm, deep: 4 mm, quantity: 3, spares: 2}

tools:
  TOOL:

sub-assemblies:
  frame:
"""


def tray(said: str, tool: str = "fine saw") -> Job:
    (made,) = jobs(model(TOP + TRAY.replace("SAID", said).replace("TOOL", tool) + STEP))
    return made


@pytest.mark.parametrize(
    ("tool", "said", "wanted"),
    [
        ("fine saw", "cut with: fine saw", SAW),
        ("bandsaw", "cut with: bandsaw", SAW),
        ("craft knife", "cut with: craft knife", KNIFE),
        ("laser", "cut with: laser", KNIFE),
        ("laser", "cut with: laser, cuts: edge to edge", SAW),
        ("fine saw", "cut with: fine saw, cuts: anywhere", KNIFE),
        ("fine saw", "kerf: 1 mm", SAW),
    ],
)
def test_the_tool_says_how_its_cuts_run(tool: str, said: str, wanted: str) -> None:
    assert tray(said, tool).tool == wanted


def test_spares_are_cut_with_the_others() -> None:
    counts = {item.part.name: item.count for item in tray("cut with: fine saw").items}
    assert counts == {"base": 1, "full": 1, "slat": 5}
    (laid,) = layouts(model(TOP + TRAY.replace("SAID", "kerf: 0 mm").replace("TOOL", "saw") + STEP))
    slats = [s for b in laid.boards for s in b.spots if laid.job.items[s.item].count == 5]
    assert len(slats) == 5


def test_the_allowance_is_left_on_as_far_as_the_board_has_room() -> None:
    sizes = {i.part.name: (i.along, i.across) for i in tray("allowance: 0.5 mm").items}
    assert sizes["base"] == (Fraction(201, 2), Fraction(81, 2))
    assert sizes["full"] == (120, Fraction(21, 2))


def test_a_fitted_part_is_kept_aside_with_more_on_it_and_the_page_says_so() -> None:
    made = close(read_design(DESK), "metric").model
    fitted = {i.letter: i for job in jobs(made) for i in job.items if i.fitted}
    assert fitted
    for each in fitted.values():
        axes = each.part.along, each.part.across
        waits = (KEPT_FOR_FITTING if axis in each.part.waits else 0 for axis in axes)
        assert each.fitting == tuple(waits)
        assert each.along == each.part.extents[axes[0]].value + each.fitting[0]
    pages = laid_stocks(layouts(made), Wording(made, read_phrases("en")))
    notes = " ".join(note for page in pages for board in page.boards for note in board.notes)
    assert all(letter in notes.split("Saw oversize", 1)[1] for letter in fitted)


WAITS = """\
stock:
  board: {sheet: 2 mm, sold: 90 x 240 mm, SAID}

parts:
  case: {stock: board, wide: 100 mm, deep: 40 mm}
  wall: {stock: board, fitted: gap, less: {wide: 1 to 2 mm}, high: 10 mm}
  back: {stock: board, fitted: gap, less: {wide: 1 to 2 mm, high: 1 to 2 mm}}

openings:
  gap: {between: case, wide: 50 mm, high: 20 mm}

tools:
  saw:

sub-assemblies:
  frame:
"""


@pytest.mark.parametrize(
    ("said", "length", "width", "told"),
    [
        ("allowance: 0.5 mm", "51.5", "10.5", "0.5 mm is left on each size for sanding. "
         "For fitting, another 2 mm is left on: length of B; length and width of C."),
        ("kerf: 0 mm", "51", "10",
         "For fitting, 2 mm is left on: length of B; length and width of C."),
    ],
)  # fmt: skip
def test_what_is_left_for_fitting_is_on_the_sizes_that_are_measured_and_is_told(
    said: str, length: str, width: str, told: str
) -> None:
    """Tray strips whose width is known were ripped 2.5 mm wider, and only 0.5 mm of it was told."""
    made = model(TOP + WAITS.replace("SAID", said) + STEP)
    sizes = {i.letter: (i.along, i.across) for job in jobs(made) for i in job.items}
    assert sizes["B"] == (Fraction(length), Fraction(width))
    (page,) = laid_stocks(layouts(made), Wording(made, read_phrases("en")))
    assert page.words[1].striptags() == told.replace(" mm", "\xa0mm")
    (board,) = page.boards
    assert any("keep aside: C, B (white with black corners)." in note for note in board.notes)
    marks = re.findall(rf'<path d="([^"]+)" fill="{BLACK}" stroke="none"', board.picture)
    assert [mark.count("Z") for mark in marks] == [2, 2]
    assert "stroke-dasharray" not in board.picture


def board(**said: object) -> LaidBoard:
    """A board of 200 x 100 with two pieces, a rip and a crosscut, and an offcut of a half."""
    rip = Cut(1, ALONG, Fraction(20), (Line(NONE, Fraction(20), Fraction(200), Fraction(20)),), ())
    cut = Cut(2, ACROSS, Fraction(40), (Line(Fraction(40), NONE, Fraction(40), Fraction(20)),), ())
    spots = tuple(Spot(0, Fraction(x), NONE, Fraction(40), Fraction(20)) for x in (0, 41))
    rest = (Area(NONE, Fraction(50), Fraction(200), Fraction(50)),)
    plain = LaidBoard(Sheet(Fraction(200), Fraction(100)), spots, (rip, cut), rest)
    return replace(plain, **said)  # type: ignore[arg-type]


def test_wishes_come_in_their_order() -> None:
    """An order of cuts, no short stock ripped, the largest offcut, fewest settings, fewest cuts."""
    good = board()
    rip, cut = good.cuts
    short = replace(rip, lines=(Line(NONE, Fraction(20), Fraction(90), Fraction(20)),))
    more_cuts = board(cuts=(rip, replace(cut, lines=cut.lines * 3)))
    more_settings = board(cuts=(rip, cut, replace(cut, setting=Fraction(41))))
    small_offcut = board(offcuts=(Area(NONE, NONE, Fraction(40), Fraction(100)),))
    ripped_short = board(cuts=(short, cut))
    no_order = board(cuts=())
    ranked = [good, more_cuts, more_settings, small_offcut, ripped_short, no_order]
    job = Job(GOODS, True, SAW, NONE, NONE, NONE, (), ())
    rated = [wishes([each], job) for each in ranked]
    assert rated == sorted(rated)
    assert len(set(rated)) == len(rated)


def test_an_offcut_that_is_too_small_to_keep_is_not_wished_for() -> None:
    keeps = Job(GOODS, True, SAW, NONE, NONE, NONE, (), (), (Fraction(120), Fraction(40)))
    long = Area(NONE, NONE, Fraction(200), Fraction(39))
    short = Area(NONE, Fraction(50), Fraction(119), Fraction(50))
    both = Area(NONE, Fraction(50), Fraction(120), Fraction(40))
    assert worth_keeping(board(offcuts=(long, short)), keeps) == ()
    assert worth_keeping(board(offcuts=(both, long)), keeps) == (both,)
    one, none = board(offcuts=(both,)), board(offcuts=(long, short))
    assert wishes([one], keeps) < wishes([none], keeps)
