"""Layouts of a stock: followed cut by cut as a buyer would, and judged by Shapely."""

from __future__ import annotations

import re
from collections import Counter
from dataclasses import replace
from fractions import Fraction
from xml.etree import ElementTree

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Polygon, box

from patternpress.assembly.cutparts import CutPart
from patternpress.closing.close import close
from patternpress.cutting.boardpicture import board_picture
from patternpress.cutting.jobs import Item, Job, Sheet
from patternpress.cutting.layouts import LaidBoard, Layout, lay_out, layouts
from patternpress.cutting.packing.records import KNIFE, SAW
from patternpress.cutting.slicing import ACROSS, ALONG, Area, Spot, slice_up
from patternpress.design.read import read_design
from patternpress.drawing.contract import check_template
from patternpress.drawing.style import DrawingStyle
from patternpress.measure.digits import Display
from tests.cutting.judge import kerf_sum, wrong_places
from tests.cutting.replay import Rect, saw, saw_round
from tests.drawing.svg_reader import dots_of
from tests.whole.demos import Demo, demos
from tests.whole.small import model

WORKED = model().worked
BOARD = next(stock for stock in WORKED.book.stock if stock.name.value == "board")
PART = next(part for part in WORKED.parts if part.name == "base")
NONE = Fraction(0)


def part(letter: str, opening: str = "") -> CutPart:
    return replace(PART, letter=letter, opening=opening)


def job(items: list[Item], sheets: list[Sheet], **more: object) -> Job:
    plain = Job(BOARD, True, SAW, Fraction(3, 10), NONE, NONE, tuple(sheets), tuple(items))
    return replace(plain, **more)  # type: ignore[arg-type]


def item(letter: str, along: str, across: str, count: int = 1, **more: object) -> Item:
    made = Item(part(letter), Fraction(along), Fraction(across), count, False)
    return replace(made, **more)  # type: ignore[arg-type]


def followed(board: LaidBoard, job: Job) -> list[str]:
    """What goes wrong when the cuts of a board are made in their order; nothing if all is well."""
    trim = job.trim
    start: Rect = (trim, trim, board.sheet.along - trim, board.sheet.across - trim)
    rects, wrong = [start], []
    freed: Counter[int] = Counter()
    for cut in board.cuts:
        for line in cut.lines:
            run = (line.x, line.y, line.to_x, line.to_y)
            if board.sheet.used:
                rects, setting = saw_round(rects, run, job.kerf, corner_of(board))
            else:
                rects, setting = saw(rects, run, job.kerf)
            if setting != cut.setting:
                wrong.append(f"set to {cut.setting}, cut at {setting}")
        freed.update(cut.frees)
    for spot in board.spots:
        piece = (spot.x, spot.y, spot.x + spot.along, spot.y + spot.across)
        if piece not in rects:
            wrong.append(f"{job.items[spot.item].letter} does not come off")
    if board.cuts and freed != Counter(spot.item for spot in board.spots):
        wrong.append("the list frees other pieces than lie there")
    return wrong


def faults(layout: Layout) -> list[str]:
    """What is wrong with a layout: pieces, grain, places, kerfs, cuts, boards at hand, groups."""
    job = layout.job
    held: Counter[int] = Counter()
    groups: dict[str, set[int]] = {}
    found = []
    for number, board in enumerate(layout.boards):
        for spot in board.spots:
            held[spot.item] += board.copies
            groups.setdefault(job.items[spot.item].board, set()).add(number)
            found += wrong_size(spot, job.items[spot.item])
        rects = [(s.x, s.y, s.along, s.across) for s in board.spots]
        size = (board.sheet.along - job.trim, board.sheet.across - job.trim)
        found += wrong_places(rects, size, job.kerf)
        if board.cuts or job.tool == SAW:
            found += followed(board, job)
        found += on_used_corner(board)
        found += on_defects(board)
    wanted = {n: i.count for n, i in enumerate(job.items) if i not in layout.misfits}
    if held != Counter(wanted):
        found.append(f"{dict(held)} instead of {wanted}")
    found += [f"{g} is on several" for g, b in groups.items() if g and len(b) > 1]
    for sheet in job.sheets:
        used = sum(board.copies for board in layout.boards if board.sheet == sheet)
        if sheet.count is not None and used > sheet.count:
            found.append(f"{used} of {sheet.count} at hand")
    return found


def wrong_size(spot: Spot, item: Item) -> list[str]:
    lies = (spot.along, spot.across)
    allowed = {(item.along, item.across)}
    if item.turns:
        allowed.add((item.across, item.along))
    return [] if lies in allowed else [f"{item.letter} is {lies}"]


def corner_of(board: LaidBoard) -> tuple[Fraction, Fraction]:
    along, across = board.sheet.used or (NONE, NONE)
    return board.sheet.along - along, board.sheet.across - across


def on_used_corner(board: LaidBoard) -> list[str]:
    if board.sheet.used is None:
        return []
    x, y = corner_of(board)
    over = [s for s in board.spots if s.x + s.along > x and s.y + s.across > y]
    return [f"piece {s.item} lies in the used corner" for s in over]


def on_defects(board: LaidBoard) -> list[str]:
    """Pieces and offcuts that reach into a defect, by Shapely."""
    return [
        f"{each} reaches into the defect {defect.wkt}"
        for defect in map(rect, board.sheet.defects)
        for each in (*board.spots, *board.offcuts)
        if rect(each).intersection(defect).area > 1e-9
    ]


def rect(area: Area | Spot) -> Polygon:
    high = area.across or 1
    return box(*map(float, (area.x, area.y, area.x + area.along, area.y + high)))


LAID = [demo for demo in demos() if demo.edition in ("metric", "inch")]


@pytest.mark.parametrize("demo", LAID, ids=str)
def test_layouts_of_the_designs_can_be_followed(demo: Demo) -> None:
    found = layouts(close(read_design(demo.design), demo.edition).model)
    assert found
    assert [fault for each in found for fault in faults(each)] == []


SIZES = st.fractions(min_value=4, max_value=90, max_denominator=64)
KERFS = st.sampled_from([Fraction(0), Fraction(3, 10), Fraction(127, 40)])


@st.composite
def some_items(draw: st.DrawFn) -> list[Item]:
    return [
        Item(
            part(chr(65 + n)),
            draw(SIZES),
            draw(SIZES),
            draw(st.integers(1, 4)),
            draw(st.booleans()),
        )
        for n in range(draw(st.integers(1, 5)))
    ]


@pytest.mark.parametrize("tool", [SAW, KNIFE])
@settings(max_examples=25)
@given(items=some_items(), kerf=KERFS, trim=st.sampled_from([Fraction(0), Fraction(5, 2)]))
def test_any_layout_can_be_followed_cut_by_cut(
    tool: str, items: list[Item], kerf: Fraction, trim: Fraction
) -> None:
    layout = lay_out(
        job(items, [Sheet(Fraction(240), Fraction(100))], kerf=kerf, trim=trim, tool=tool)
    )
    assert faults(layout) == []
    assert layout.misfits == ()


def test_no_cut_runs_between_pieces_that_lie_askew_nearer_than_a_kerf() -> None:
    """Found by the test above: a cut between them pushed the last piece over the board's end."""
    sizes = [
        (Fraction(59), Fraction(659, 11), 3, False),
        (Fraction(269, 36), Fraction(29), 2, False),
        (Fraction(97, 3), Fraction(523, 21), 2, True),
        (Fraction(17, 4), Fraction(22), 1, False),
    ]
    items = [Item(part(chr(65 + n)), *size) for n, size in enumerate(sizes)]
    kerf = Fraction(127, 40)
    layout = lay_out(job(items, [Sheet(Fraction(240), Fraction(100))], kerf=kerf, tool=KNIFE))
    assert faults(layout) == []
    assert len(layout.boards) == 1


@settings(max_examples=25)
@given(items=some_items(), count=st.integers(1, 2))
def test_boards_at_hand_and_used_corners(items: list[Item], count: int) -> None:
    sheets = [
        Sheet(Fraction(200), Fraction(95), None, count, (Fraction(60), Fraction(40))),
        Sheet(Fraction(110), Fraction(95), None, 1),
        Sheet(Fraction(240), Fraction(100), (Fraction(4), "EUR")),
        Sheet(Fraction(400), Fraction(100), (Fraction(6), "EUR")),
    ]
    layout = lay_out(job(items, sheets))
    assert faults(layout) == []


@st.composite
def some_defects(draw: st.DrawFn, along: int, across: int) -> tuple[Area, ...]:
    found = []
    for _ in range(draw(st.integers(1, 2))):
        long, wide = draw(st.integers(3, 40)), draw(st.integers(3, 30))
        x, y = draw(st.integers(0, along - long)), draw(st.integers(0, across - wide))
        found.append(Area(Fraction(x), Fraction(y), Fraction(long), Fraction(wide)))
    return tuple(found)


@pytest.mark.parametrize("tool", [SAW, KNIFE])
@settings(max_examples=15)
@given(
    items=some_items(),
    defects=some_defects(200, 95),
    kerf=KERFS,
    trim=st.sampled_from([Fraction(0), Fraction(5, 2)]),
    used=st.booleans(),
)
def test_defects_are_cut_round(
    tool: str,
    items: list[Item],
    defects: tuple[Area, ...],
    kerf: Fraction,
    trim: Fraction,
    used: bool,
) -> None:
    """Every cut runs from edge to edge, those round the defects too."""
    corner = (Fraction(60), Fraction(40)) if used else None
    sheets = [
        Sheet(Fraction(200), Fraction(95), None, 1, corner, defects=defects),
        Sheet(Fraction(240), Fraction(100), (Fraction(4), "EUR")),
    ]
    layout = lay_out(job(items, sheets, kerf=kerf, trim=trim, tool=tool))
    assert faults(layout) == []


def test_a_knot_in_the_middle_leaves_what_lies_round_it() -> None:
    """Below and above it 100 x 40 and 100 x 40, left and right of it 35 x 18 and 43 x 18."""
    knot = Area(Fraction(36), Fraction(41), Fraction(20), Fraction(18))
    sheets = [Sheet(Fraction(100), Fraction(100), None, 1, defects=(knot,))]
    fits = [item("A", "100", "40", 2), item("B", "35", "18"), item("C", "43", "18")]
    layout = lay_out(job(fits, sheets, kerf=Fraction(1)))
    assert layout.misfits == ()
    assert faults(layout) == []
    (misfit,) = lay_out(job([item("A", "60", "60")], sheets, kerf=Fraction(1))).misfits
    assert misfit.letter == "A"


def test_a_length_is_cut_before_and_behind_a_defect() -> None:
    knot = Area(Fraction(90), NONE, Fraction(10), NONE)
    pieces = [Item(part(c), Fraction(n), NONE, 1, False) for c, n in (("A", 80), ("B", 150))]
    layout = lengths(pieces, [Sheet(Fraction(300), NONE, None, 1, defects=(knot,))], "1")
    (board,) = layout.boards
    assert {(spot.item, spot.x) for spot in board.spots} == {(0, 0), (1, 101)}
    assert [cut.setting for cut in board.cuts][:2] == [89, 10]


@settings(max_examples=12)
@given(items=some_items(), chosen=st.lists(st.booleans(), min_size=5, max_size=5))
def test_pieces_that_belong_together_come_from_one_board(
    items: list[Item], chosen: list[bool]
) -> None:
    items = [replace(i, board="fronts" if c else "") for i, c in zip(items, chosen, strict=False)]
    layout = lay_out(job(items, [Sheet(Fraction(240), Fraction(100))]))
    found = faults(layout)
    assert found == [] or (layout.apart and found == ["fronts is on several"])
    area = sum(i.along * i.across * i.count for i in items if i.board)
    assert not layout.apart or area > 240 * 100 * 0.45


def test_the_grain_is_never_turned() -> None:
    """A piece longer than the sheet is wide would fit across only with its grain turned."""
    (board,) = lay_out(job([item("A", "90", "40", 2)], [Sheet(Fraction(200), Fraction(95))])).boards
    assert {(s.along, s.across) for s in board.spots} == {(90, 40)}
    layout = lay_out(job([item("A", "40", "98")], [Sheet(Fraction(200), Fraction(95))]))
    assert [each.letter for each in layout.misfits] == ["A"]
    loose = lay_out(job([item("A", "40", "98", turns=True)], [Sheet(Fraction(200), Fraction(95))]))
    assert loose.misfits == ()


def test_short_pieces_are_crosscut_from_ripped_strips() -> None:
    """Five equal blocks: one strip, then five crosscuts; never five strips."""
    layout = lay_out(job([item("Q", "22", "22", 5)], [Sheet(Fraction(600), Fraction(180))]))
    (board,) = layout.boards
    assert [(c.runs, c.setting, len(c.lines)) for c in board.cuts] == [
        (ALONG, 22, 1),
        (ACROSS, 22, 5),
    ]
    assert board.cuts[1].frees == (0, 0, 0, 0, 0)


def test_the_largest_offcut_is_kept_whole() -> None:
    items = [item("A", "100", "50", 2), item("B", "50", "50", 2)]
    (board,) = lay_out(job(items, [Sheet(Fraction(300), Fraction(100))], kerf=NONE)).boards
    assert max(o.along * o.across for o in board.offcuts) == 150 * 100


def test_the_cheaper_of_two_sizes_is_bought() -> None:
    small = Sheet(Fraction(300), Fraction(100), (Fraction(4), "EUR"))
    large = Sheet(Fraction(600), Fraction(100), (Fraction(7), "EUR"))
    both = lay_out(job([item("A", "290", "95", 2)], [small, large]))
    assert both.to_buy == ((large, 1),)
    one = lay_out(job([item("A", "290", "95", 1)], [small, large]))
    assert one.to_buy == ((small, 1),)


def test_layouts_that_are_kept_are_those_that_would_be_made_anew() -> None:
    made = model()
    kept: dict[str, object] = {}
    first = layouts(made, kept)
    assert len(kept) == len(first)
    assert layouts(made, kept) == first == layouts(made)
    assert len(kept) == len(first)


def lengths(items: list[Item], sheets: list[Sheet], kerf: str) -> Layout:
    return lay_out(job(items, sheets, flat=False, kerf=Fraction(kerf)))


@settings(max_examples=30)
@given(st.lists(st.tuples(SIZES, st.integers(1, 5)), min_size=1, max_size=5), KERFS)
def test_lengths_are_sawn_in_order(pieces: list[tuple[Fraction, int]], kerf: Fraction) -> None:
    items = [Item(part(chr(65 + n)), s, NONE, c, False) for n, (s, c) in enumerate(pieces)]
    layout = lengths(items, [Sheet(Fraction(200), NONE)], str(kerf))
    assert layout.proved
    held: Counter[int] = Counter()
    for board in layout.boards:
        ends = [(s.x, s.along) for s in board.spots]
        assert kerf_sum(ends, kerf, board.sheet.along) == []
        held.update({n: c * board.copies for n, c in Counter(s.item for s in board.spots).items()})
        for cut in board.cuts:
            assert all(line.x in {x + size for x, size in ends} for line in cut.lines)
    assert held == Counter({n: i.count for n, i in enumerate(items)})


def test_a_pinwheel_has_no_order_of_cuts() -> None:
    ends = [(0, 0, 20, 10), (20, 0, 10, 20), (10, 20, 20, 10), (0, 10, 10, 20), (10, 10, 10, 10)]
    spots = [Spot(n, *(Fraction(each) for each in rect)) for n, rect in enumerate(ends)]
    assert slice_up(spots, Area(NONE, NONE, Fraction(30), Fraction(30)), NONE) is None


# ------------------------------------------------------------------ pictures and text


def test_a_defect_is_hatched_within_its_place() -> None:
    knot = Area(Fraction(100), Fraction(30), Fraction(40), Fraction(20))
    hand = Sheet(Fraction(200), Fraction(100), None, 1, defects=(knot,))
    made = job([item("A", "90", "90")], [hand])
    (board,) = lay_out(made).boards
    svg = board_picture(board, made, Display(), DrawingStyle()).svg
    assert check_template(svg) == []
    number = r"([\d.]+)"
    found = re.findall(rf"M{number} {number}L{number} {number}", svg)
    lines = [tuple(map(float, each)) for each in found]
    slanted = [each for each in lines if each[0] != each[2] and each[1] != each[3]]
    # In a margin of 5 mm; a line begins every 1.4 mm along two of the knot's sides.
    scale = (float(svg.split('viewBox="')[1].split()[2]) - 10) / 200
    left, right = 5 + 100 * scale, 5 + 140 * scale
    inside = [e for e in slanted if left - 0.01 <= e[0] <= e[2] <= right + 0.01]
    assert len(inside) == int((40 + 20) * scale / 1.4)
    assert max(e[1] for e in inside) - min(e[3] for e in inside) <= 20 * scale + 0.01


def test_a_picture_keeps_the_contract_and_letters_every_piece() -> None:
    items = [item("A", "200", "60"), item("B", "60", "30", 2), item("C", "5", "4", 3)]
    made = job(items, [Sheet(Fraction(400), Fraction(100))])
    (board,) = lay_out(made).boards
    picture = board_picture(board, made, Display(), DrawingStyle())
    assert check_template(picture.svg) == []
    drawn = [picture.svg, *(each.svg for _, each in picture.details)]
    spans = [e for svg in drawn for e in ElementTree.fromstring(svg).iter() if e.text]
    seen = Counter(e.text for e in spans if e.text in {"A", "B", "C"})
    small = Counter(dict(picture.unlettered))
    assert seen + small == Counter(A=1, B=2, C=3)
    assert len(picture.details) == 1 and not small


def test_a_piece_that_is_too_low_for_its_letter_has_it_beside_it_on_a_leader() -> None:
    items = [item("A", "80", "25", 2), item("B", "56", "24", 3), item("D", "56", "21")]
    items += [item("G", "61.3", "29.4", 2), item("M", "57.6", "10"), item("N", "200", "24")]
    made = job(items, [Sheet(Fraction(600), Fraction(100))])
    (board,) = lay_out(made).boards
    picture = board_picture(board, made, Display(), DrawingStyle())
    assert picture.unlettered == ()
    root = ElementTree.fromstring(picture.svg)
    letters = [e for e in root.iter() if e.tag.endswith("tspan") and e.text == "M"]
    assert len(letters) == 1
    x, y = (float(letters[0].get(key, "nan")) for key in ("x", "y"))
    # A leader ends in a dot on the piece, straight over or under the letter.
    assert any(abs(dot.x - x) < 2 and 1.5 < abs(dot.y - y) < 9 for dot in dots_of(picture.svg))
