"""Pieces laid out by their outlines, judged by Shapely, which knows of no cells."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import replace
from fractions import Fraction
from itertools import combinations
from xml.etree import ElementTree

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely import Point, Polygon, box
from shapely.affinity import rotate, scale, translate

from patternpress.cutting.boardpicture import board_picture
from patternpress.cutting.byshape import by_shape, cost_of, least_of_shapes
from patternpress.cutting.contours import Contour, contour_of
from patternpress.cutting.jobs import Item, Job, Sheet, jobs
from patternpress.cutting.laid import LaidBoard
from patternpress.cutting.layouts import Layout, lay_out
from patternpress.cutting.offcuts import largest_offcut
from patternpress.cutting.outlinepicture import room_in
from patternpress.cutting.packing.masks import clashes, mask_of
from patternpress.cutting.packing.records import KNIFE, SAW
from patternpress.cutting.slicing import Area, Spot
from patternpress.drawing.contract import check_template
from patternpress.drawing.style import DrawingStyle
from patternpress.measure.digits import Display
from tests.cutting.judge import wrong_places
from tests.cutting.test_layouts import item, job, part, some_defects
from tests.whole.small import STEP, TOP, model

NONE = Fraction(0)


def triangle(wide: float, high: float) -> Contour:
    return Contour(((0, 0), (wide, 0), (0, high)))


def ring(wide: float, opening: float) -> Contour:
    rim = Point(wide / 2, wide / 2)
    outer = rim.buffer(wide / 2, quad_segs=24).exterior.coords
    inner = rim.buffer(opening / 2, quad_segs=24).exterior.coords
    return Contour(tuple(outer)[:-1], (tuple(inner)[:-1],))


def angle(wide: float, high: float, thick: float) -> Contour:
    return Contour(
        ((0, 0), (wide, 0), (wide, thick), (thick, thick), (thick, high), (0, high)),
    )


def lies(spot: Spot, of: Item) -> Polygon:
    """A piece where its spot says, worked out with Shapely's own turns."""
    size = (float(of.along), float(of.across))
    shape = of.contour.polygon if of.contour else box(0, 0, *size)
    if spot.mirrored:
        shape = scale(shape, -1, 1, origin=(size[0] / 2, 0))
    middle = (size[0] / 2, size[1] / 2)
    turned = rotate(shape, spot.turn, origin=middle)
    lying = rotate(box(0, 0, *size), spot.turn, origin=middle).bounds
    assert lying[2] - lying[0] == pytest.approx(float(spot.along))
    return translate(turned, float(spot.x) - lying[0], float(spot.y) - lying[1])


def wrong(board: LaidBoard, job: Job) -> list[str]:
    """What is wrong with a board: pieces too near, over the edge, turned, on a corner."""
    pieces = [(job.items[s.item], lies(s, job.items[s.item])) for s in board.spots]
    trim, kerf = float(job.trim), float(job.kerf) - 1e-7
    size = (float(board.sheet.along), float(board.sheet.across))
    usable = box(trim, trim, size[0] - trim, size[1] - trim).buffer(1e-7)
    found = [f"{of.letter} is over the edge" for of, each in pieces if not usable.covers(each)]
    for (of, one), (other, two) in combinations(pieces, 2):
        near = one.distance(two)
        if near < kerf or one.intersection(two).area > 1e-7:
            found.append(f"{of.letter} and {other.letter} are {near} apart")
    kinds = [(spot, job.items[spot.item]) for spot in board.spots]
    found += ["the grain is turned" for s, of in kinds if s.turn % 180 and not of.turns]
    keep_off = [box(*map(float, (o.x, o.y, o.x + o.along, o.y + o.across))) for o in board.offcuts]
    found += ["the offcut is over the edge" for each in keep_off if not usable.covers(each)]
    keep_off += [
        box(*map(float, (o.x, o.y, o.x + o.along, o.y + o.across))) for o in board.sheet.defects
    ]
    if board.sheet.used:
        gone = [float(each) for each in board.sheet.used]
        keep_off.append(box(size[0] - gone[0], size[1] - gone[1], *size))
    found += [
        f"{of.letter} lies in the offcut, the used corner or a defect"
        for of, piece in pieces
        for each in keep_off
        if piece.distance(each) < kerf
    ]
    return found


def faults(layout: Layout) -> list[str]:
    job = layout.job
    held: Counter[tuple[int, bool]] = Counter()
    found = []
    for board in layout.boards:
        if board.by_shape:
            found += wrong(board, job)
        else:
            rects = [(s.x, s.y, s.along, s.across) for s in board.spots]
            size = (board.sheet.along - job.trim, board.sheet.across - job.trim)
            found += wrong_places(rects, size, job.kerf)
        for spot in board.spots:
            held[spot.item, spot.mirrored] += board.copies
    for n, each in enumerate(job.items):
        want = 0 if each in layout.misfits else each.count
        if held[n, False] + held[n, True] != want:
            found.append(f"{each.letter}: {held} of {want}")
        over = each.contour.mirrored if each.contour else 0
        if any(b.by_shape for b in layout.boards) and held[n, True] != min(over, want):
            found.append(f"{each.letter}: hands {held}")
    return found


SIZES = st.integers(10, 80).map(lambda n: Fraction(n) + Fraction(n % 7, 7))


@st.composite
def outlined(draw: st.DrawFn, letter: str) -> Item:
    """A piece with up to six corners at random round its middle, as star or bulge, or a ring."""
    along, across = draw(SIZES), draw(SIZES)
    sort = draw(st.sampled_from(["star", "ring", "box"]))
    if sort == "ring":
        along = across = max(along, Fraction(20))
        contour = ring(float(along), float(along) * 0.7)
    elif sort == "star":
        reach = draw(st.lists(st.floats(0.2, 1), min_size=3, max_size=7))
        ends = [
            (r * math.cos(6.283 * n / len(reach)), r * math.sin(6.283 * n / len(reach)))
            for n, r in enumerate(reach)
        ]
        low = [min(e[k] for e in ends) for k in (0, 1)]
        wide = [max(e[k] for e in ends) - low[k] for k in (0, 1)]
        contour = Contour(
            tuple(
                ((x - low[0]) / wide[0] * float(along), (y - low[1]) / wide[1] * float(across))
                for x, y in ends
            ),
            mirrored=draw(st.integers(0, 1)),
        )
    else:
        contour = None
    count, turns = draw(st.integers(1, 4)), draw(st.booleans())
    return Item(part(letter), along, across, count, turns, "", contour)


@settings(max_examples=30)
@given(
    data=st.data(),
    kerf=st.sampled_from([NONE, Fraction(3, 10), Fraction(127, 40)]),
    trim=st.sampled_from([NONE, Fraction(5, 2)]),
    corner=st.booleans(),
)
def test_outlines_keep_a_kerf_apart_on_the_board_and_the_grain(
    data: st.DataObject, kerf: Fraction, trim: Fraction, corner: bool
) -> None:
    items = [data.draw(outlined(chr(65 + n))) for n in range(data.draw(st.integers(1, 4)))]
    defects = data.draw(some_defects(150, 95)) if corner else ()
    used = (Fraction(60), Fraction(40))
    hand = Sheet(Fraction(150), Fraction(95), None, 1, used, defects=defects)
    sheets = [*([hand] if corner else []), Sheet(Fraction(200), Fraction(100))]
    made = job(items, sheets, kerf=kerf, trim=trim, tool=KNIFE)
    layout = lay_out(made)
    assert faults(layout) == []
    counts = [0 if each in layout.misfits else each.count for each in items]
    assert cost_of(made, layout.boards) >= least_of_shapes(made, counts)
    # The outlines are also judged where boxes did as well, and were kept.
    held = [0 if each in layout.misfits else each.count for each in items]
    boxes = [LaidBoard(b.sheet, (), (), ()) for b in layout.boards for _ in range(b.copies)]
    forced = by_shape(made, held, boxes) if sum(held) else None
    assert [w for board in forced or () for w in wrong(board, made)] == []


SHEET = Sheet(Fraction(300), Fraction(100))


@pytest.mark.parametrize(
    ("items", "boxes", "shapes"),
    [
        # Two right-angled triangles fill one box; by boxes each takes a box of its own.
        ([item("A", "95", "95", 6, contour=triangle(95, 95))], 2, 1),
        # Angles lie in each other's arms.
        ([item("A", "50", "50", 9, turns=True, contour=angle(50, 50, 10))], 2, 1),
        # What lies inside a ring needs no room of its own.
        (
            [
                item("R", "99", "99", 3, turns=True, contour=ring(99, 80)),
                item("Q", "50", "50", 3),
            ],
            2,
            1,
        ),
    ],
)
def test_shapes_need_fewer_boards_than_boxes(items: list[Item], boxes: int, shapes: int) -> None:
    plain = lay_out(job(items, [SHEET], tool=SAW))
    assert sum(board.copies for board in plain.boards) == boxes
    layout = lay_out(job(items, [SHEET], tool=KNIFE))
    assert sum(board.copies for board in layout.boards) == shapes
    assert all(board.by_shape for board in layout.boards)
    assert layout.proved
    assert faults(layout) == []
    assert lay_out(job(items, [SHEET], tool=KNIFE)) == layout


def test_boxes_are_kept_where_outlines_gain_nothing() -> None:
    items = [item("R", "40", "40", 2, turns=True, contour=ring(40, 10))]
    (board,) = lay_out(job(items, [SHEET], tool=KNIFE)).boards
    assert not board.by_shape
    assert board.cuts


def test_a_much_larger_offcut_is_worth_it() -> None:
    items = [item("A", "60", "40", 8, contour=triangle(60, 40))]
    (board,) = lay_out(job(items, [SHEET], tool=KNIFE)).boards
    assert board.by_shape
    assert board.offcuts[0].along > 150
    assert board.offcuts[0].across == 100


def test_an_outline_goes_round_a_knot_where_its_box_fits_on_no_panel() -> None:
    knot = Area(Fraction(62), Fraction(58), Fraction(12), Fraction(12))
    hand = Sheet(Fraction(100), Fraction(100), None, 1, defects=(knot,))
    items = [item("L", "98", "98", contour=angle(98, 98, 40)), item("Q", "20", "30")]
    made = job(items, [hand], tool=SAW)
    assert [each.letter for each in lay_out(made).misfits] == ["L"]
    layout = lay_out(replace(made, tool=KNIFE))
    assert layout.misfits == ()
    assert faults(layout) == []
    hopeless = replace(made, tool=KNIFE, items=(item("L", "98", "98"), items[1]))
    assert [each.letter for each in lay_out(hopeless).misfits] == ["L"]


def test_the_judge_of_this_file_finds_what_is_wrong() -> None:
    items = [item("A", "60", "40", 2, contour=triangle(60, 40)), item("Q", "20", "20")]
    spots = (
        Spot(0, NONE, NONE, Fraction(60), Fraction(40)),
        Spot(0, Fraction(1), Fraction(1), Fraction(60), Fraction(40), 180),
        Spot(1, Fraction(80), Fraction(10), Fraction(20), Fraction(20)),
    )
    made = job(items, [SHEET], tool=KNIFE, kerf=Fraction(1, 2))
    sound = LaidBoard(SHEET, spots, (), (), by_shape=True)
    assert wrong(sound, made) == []

    def moved(number: int, **said: object) -> list[str]:
        changed = replace(spots[number], **said)  # type: ignore[arg-type]
        others = (*spots[:number], changed, *spots[number + 1 :])
        return wrong(replace(sound, spots=others), made)

    assert moved(1, x=Fraction(1, 4), y=Fraction(1, 4))
    assert moved(0, x=-Fraction(1, 8))
    assert moved(2, x=Fraction(281))
    assert moved(2, turn=90) == ["the grain is turned"]
    rest = Area(Fraction(100), NONE, Fraction(10), Fraction(40))
    assert wrong(replace(sound, offcuts=(rest,)), made)
    assert wrong(replace(sound, offcuts=(replace(rest, x=Fraction(101)),)), made) == []


def test_the_cheaper_size_is_bought_where_shapes_fit_on_it() -> None:
    small = Sheet(Fraction(200), Fraction(100), (Fraction(4), "EUR"))
    large = Sheet(Fraction(400), Fraction(100), (Fraction(7), "EUR"))
    items = [item("A", "95", "95", 4, contour=triangle(95, 95))]
    layout = lay_out(job(items, [small, large], tool=KNIFE))
    assert layout.to_buy == ((small, 1),)


def test_what_belongs_together_may_fit_by_shapes_where_boxes_do_not() -> None:
    items = [item("A", "95", "95", 6, contour=triangle(95, 95), board="fronts")]
    assert lay_out(job(items, [SHEET], tool=SAW)).apart
    layout = lay_out(job(items, [SHEET], tool=KNIFE))
    assert not layout.apart
    assert len(layout.boards) == 1


# ------------------------------------------------------------------ from a design to contours

SHAPED = """\
stock:
  board: {sheet: 2 mm, sold: 100 x 300 mm, cut with: craft knife, allowance: 1 mm}

parts:
  hook:
    stock: board
    deep: 20 mm
    high: 40 mm
    BEST
    corners: {top front: cut off 12 mm}
    pieces: {left hook: as drawn, right hook: mirrored left to right}
    HOLES
  plate: {stock: board, wide: 60 mm, deep: 30 mm}
  rim:
    stock: board
    wide: 50 mm
    deep: 50 mm
    disc: yes
    holes: {eye: {round: EYE, at: centre}}

tools:
  craft knife:

sub-assemblies:
  frame:
"""


def shaped_items(**said: str) -> dict[str, Item]:
    text = SHAPED
    for key, value in {"BEST": "", "HOLES": "", "EYE": "30 mm", **said}.items():
        text = text.replace(key, value)
    (made,) = jobs(model(TOP + text + STEP))
    return {each.part.name: each for each in made.items}


def corner_missing(contour: Contour, made: Item) -> str:
    """Which corner of a hook's box its outline leaves empty, at 1/8 of its sizes."""
    far = {"right": 7 / 8, "left": 1 / 8}, {"top": 7 / 8, "bottom": 1 / 8}
    (found,) = [
        f"{up} {side}"
        for side, x in far[0].items()
        for up, y in far[1].items()
        if not contour.polygon.covers(Point(x * float(made.along), y * float(made.across)))
    ]
    return found


def test_a_contour_has_the_allowance_all_round_and_lies_along_the_grain() -> None:
    """A hook from the right: front at the left, high is its length.  The top goes to the right."""
    hook = shaped_items()["hook"]
    assert hook.contour is not None
    assert (hook.along, hook.across) == (41, 21)
    assert hook.contour.polygon.bounds == pytest.approx((0, 0, 41, 21))
    # Half a millimetre all round the hook: 20 x 40 less the corner, by Shapely.
    true = Polygon([(0, 0), (20, 0), (20, 40), (12, 40), (0, 28)])
    assert hook.contour.polygon.area == pytest.approx(true.buffer(0.5, join_style="mitre").area)
    # Turned a quarter to the right, the top is at the right and the front is at the top.
    assert corner_missing(hook.contour, hook) == "top right"


def test_a_rectangle_and_a_board_for_the_saw_have_no_contour_to_lay() -> None:
    items = shaped_items()
    assert items["plate"].contour is None
    assert items["rim"].contour is not None


def test_what_a_drill_takes_leaves_no_piece_behind() -> None:
    assert len(shaped_items()["rim"].contour.openings) == 1
    assert shaped_items(EYE="12 mm")["rim"].contour.openings == ()


@pytest.mark.parametrize(
    ("best", "missing"), [("best face: right", "top right"), ("best face: left", "bottom right")]
)
def test_the_best_face_lies_up_and_the_other_hand_is_mirrored(best: str, missing: str) -> None:
    hook = shaped_items(BEST=best)["hook"]
    assert corner_missing(hook.contour, hook) == missing
    assert hook.contour.mirrored == 1


def test_a_hand_without_work_on_one_face_is_the_same_piece_turned_over() -> None:
    assert shaped_items()["hook"].contour.mirrored == 0
    blind = "holes: {pin: {round: 1 mm, at: 5 mm from back and 5 mm from bottom, deep: 1 mm}}"
    assert shaped_items(HOLES=blind)["hook"].contour.mirrored == 1


def test_a_piece_that_is_only_kept_aside_is_a_box() -> None:
    worked = model(TOP + SHAPED.replace("BEST", "").replace("HOLES", "").replace("EYE", "9 mm")
                   + STEP).worked  # fmt: skip
    hook, size = worked.part("hook"), (Fraction(40), Fraction(20))
    assert hook is not None
    assert contour_of(hook, worked.shapes["hook"], "high", size) is not None
    waits = replace(hook, opening="gap")
    assert contour_of(waits, worked.shapes["hook"], "high", size) is None


# ------------------------------------------------------------------ pictures


def test_outlines_are_drawn_and_lettered_inside() -> None:
    """The letter of a ring stands in its opening, where that is empty."""
    items = [
        item("A", "95", "95", 4, contour=triangle(95, 95)),
        item("R", "40", "40", 1, turns=True, contour=ring(40, 32)),
        item("S", "60", "60", 1, turns=True, contour=ring(60, 54)),
        item("Q", "15", "15", 2),
    ]
    made = job(items, [SHEET], tool=KNIFE)
    (board,) = lay_out(made).boards
    assert board.by_shape
    picture = board_picture(board, made, Display(), DrawingStyle())
    assert check_template(picture.svg) == []
    page = ElementTree.fromstring(picture.svg)
    spans = [each.text for each in page.iter() if each.tag.endswith("tspan")]
    seen = Counter(each for each in spans if each in {"A", "R", "S", "Q"})
    assert seen + Counter(dict(picture.unlettered)) == Counter(A=4, R=1, S=1, Q=2)
    assert seen["A"] == 4


@pytest.mark.parametrize(("wide", "high"), [(12, 6), (30, 9), (9, 30)])
def test_room_in_an_outline_lies_inside_it(wide: float, high: float) -> None:
    shape = angle(50, 50, 10).polygon
    found = room_in(shape, wide, high)
    assert found is not None
    assert shape.covers(box(found.left, found.bottom, found.right, found.top))
    assert room_in(shape, 12, 12) is None


# ------------------------------------------------------------------ the parts of it


@settings(max_examples=60)
@given(outlined("A"), st.sampled_from([1, 0.5, 0.3]))
def test_a_mask_holds_every_cell_that_the_inside_reaches(made: Item, grid: float) -> None:
    plain = box(0, 0, float(made.along), float(made.across))
    whole = made.contour.polygon if made.contour else plain
    shape = scale(whole, grid / 4, grid / 4, origin=(0, 0))
    wide, high = math.ceil(shape.bounds[2] - 1e-9), math.ceil(shape.bounds[3] - 1e-9)
    mask = mask_of(shape, wide, high)
    for x in range(wide):
        for y in range(high):
            shared = box(x, y, x + 1, y + 1).intersection(shape).area
            assert mask[x, y] == (shared > 0) or shared < 1e-6


@settings(max_examples=60)
@given(st.data())
def test_clashes_are_those_of_trying_every_place(data: st.DataObject) -> None:
    sizes = st.tuples(st.integers(1, 5), st.integers(1, 5))
    one, two = (
        np.array(
            data.draw(st.lists(st.booleans(), min_size=w * h, max_size=w * h)), dtype=np.bool_
        ).reshape(w, h)
        for w, h in (data.draw(sizes), data.draw(sizes))
    )
    found = clashes(one, two)
    lying = {(int(x), int(y)) for x, y in np.argwhere(one)}
    for i in range(found.shape[0]):
        for j in range(found.shape[1]):
            at = (i - two.shape[0] + 1, j - two.shape[1] + 1)
            coming = {(int(x) + at[0], int(y) + at[1]) for x, y in np.argwhere(two)}
            assert found[i, j] == bool(lying & coming)


@settings(max_examples=40)
@given(st.lists(st.tuples(*[st.integers(0, 9)] * 2, *[st.integers(1, 5)] * 2), max_size=5))
def test_the_largest_offcut_is_that_of_trying_every_rectangle(
    taken: list[tuple[int, int, int, int]],
) -> None:
    board = Area(NONE, NONE, Fraction(10), Fraction(8))
    areas = [Area(*map(Fraction, each)) for each in taken]
    found = largest_offcut(board, areas, NONE)
    most = 0
    for x, to in combinations(range(11), 2):
        for y, up in combinations(range(9), 2):
            clear = all(
                to <= a or a + w <= x or up <= b or b + h <= y for a, b, w, h in taken
            )  # fmt: skip
            most = max(most, (to - x) * (up - y)) if clear else most
    assert (found.along * found.across if found else 0) == most
