"""Closed editions of small designs: what moves, what stays, what is refused."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from patternpress.assembly.facts import facts
from patternpress.assembly.model import PLACE_CHECKS, check, work_out
from patternpress.booklet.build import make_edition
from patternpress.closing.close import Closed, UnclosedError, check_closing, close
from patternpress.closing.facts import closed_facts
from patternpress.closing.table import rows, table
from patternpress.design.read import Reading, read_design, read_text
from patternpress.measure.figures import plain, show_length
from patternpress.measure.quantity import Kind, Quantity
from tests.closing.walker import chains, missed, printed, read

STEP = Fraction(254, 640)
DESIGNS = Path(__file__).parents[2] / "designs"

BOX = """design: Box
scale: 1:12
sizes:
  width: {WIDTH}
  depth: 30 mm
  board: thickness of lime board
stock:
  lime board: {{sheet: 2 mm{STOCK}}}
parts:
  side: {{stock: lime board, deep: depth, high: 12 mm, pieces: [left side, right side]}}
  floor: {{stock: lime board, wide: width - 2 * board, deep: depth}}
  lid: {{stock: lime board, wide: width + 1 mm, deep: depth}}
materials:
  wood glue: {{kind: glue, handle: 30 min}}
steps:
  - step: Join it
    start: floor
    join:
      left side: {{right: against floor, bottom: flush with floor, front: flush with floor}}
      right side: {{left: against floor, bottom: flush with floor, front: flush with floor}}
      lid:
        bottom: against left side
        front: flush with floor
        left and right: centred on floor
    wait: {{for: wood glue, until: handle}}
editions:
  metric: {{units: mm}}
  inch: {{units: in{INCH}}}
  both: {{units: both}}
"""


def box(width: str = "28 mm", stock: str = "", inch: str = "") -> Reading:
    text = BOX.format(WIDTH=width, STOCK=stock and f", {stock}", INCH=inch and f", {inch}")
    return read_text(text, "box.yaml", Path())


def in_steps(closed: Closed, words: str) -> Fraction:
    found = [each.mm for each in closed.figures.after.values() if each.words == words]
    return found[0] / STEP


def test_where_plain_rounding_fails_closing_holds() -> None:
    """28 mm is 70.55 sixty-fourths, 24 mm 60.47 and a board 5.04: plainly 71, 60 and 5."""
    naive = facts(work_out(box(), "inch"))
    width = read(naive["sizes"]["width"]["printed"])
    floor, side = (printed(naive, part, "wide") for part in ("floor", "side"))
    assert floor + 2 * side == width - STEP
    closed = close(box(), "inch")
    assert in_steps(closed, "width") == in_steps(closed, "width of floor") + 10
    told = closed_facts(closed)
    assert [missed(each, told) for each in chains(told)] == [0, 0]  # side and lid, twice


def test_a_lid_stands_out_evenly() -> None:
    closed = close(box(), "inch")
    over = in_steps(closed, "width of lid") - in_steps(closed, "width of floor")
    assert over % 2 == 0
    assert over / 2 > 5  # beyond the sides as well


def test_figures_on_the_step_stay_where_they_are() -> None:
    closed = close(box(), "metric")
    assert all(row.steps == 0 for row in rows(closed.figures, closed.model.edition.display))
    assert closed.figures.choice.worst == 0


def test_a_pinned_size_is_that_size_and_the_others_follow() -> None:
    closed = close(box(inch="pins: {width: 1 1/8 in}"), "inch")
    assert in_steps(closed, "width") == 72
    assert in_steps(closed, "width of floor") == 62


def test_a_pin_beyond_a_tolerance_is_refused_with_both_named() -> None:
    reading = box("{is: 28 mm, tolerance: 0.3 mm}", inch="pins: {width: 1 1/8 in}")
    with pytest.raises(UnclosedError) as caught:
        close(reading, "inch")
    (problem,) = caught.value.problems
    assert problem.is_error
    assert "width moves by its tolerance at most; width is pinned to 1 1/8 in" in problem.what
    assert problem.span.line == 28
    assert list(check_closing(reading, ["metric"])) == []
    assert [each.what for each in check_closing(reading)] == [problem.what]


def test_a_tolerance_holds_a_size_though_others_move() -> None:
    free, held = (
        close(box(width), "inch") for width in ("28 mm", "{is: 28 mm, tolerance: 0.2 mm}")
    )
    assert abs(in_steps(held, "width") * STEP - 28) <= Fraction(1, 5)
    assert abs(in_steps(free, "width") * STEP - 28) <= Fraction(3, 2) * STEP


def test_without_a_fraction_for_the_board_one_size_is_cut_to_fit() -> None:
    """3 mm is 7.56 sixty-fourths: no name is within a tenth of a millimetre."""
    reading = box(stock="really: 2.95 to 3.05 mm")
    text = reading.sources[0][1].replace("sheet: 2 mm", "sheet: 3 mm")
    closed = close(read_text(text, "box.yaml", Path()), "inch")
    (stock,) = closed.figures.stock
    assert not stock.named
    told = {
        part.name.value: [each.value for each in part.cut_to_fit]
        for part in closed.figures.book.parts
    }
    assert told == {"side": [], "floor": ["wide"], "lid": []}
    assert in_steps(closed, "width").denominator == 1
    texts = "cut to fit" in table(closed)
    assert texts


def test_a_board_named_within_its_real_range_goes_by_the_name() -> None:
    closed = close(box(stock="really: 1.9 to 2.1 mm"), "inch")
    (stock,) = closed.figures.stock
    assert (stock.sold, stock.taken, stock.named) == (2, 5 * STEP, True)


def test_stock_of_the_other_system_is_worked_with_where_it_is_sold() -> None:
    closed = close(box(stock="nearest: 3/32 in"), "inch")
    (stock,) = closed.figures.stock
    assert (stock.sold, stock.instead_of) == (6 * STEP, 2)
    assert in_steps(closed, "width") == in_steps(closed, "width of floor") + 12
    same = close(box(stock="nearest: 3/32 in", inch="stock: mm"), "inch")
    assert same.figures.stock[0].instead_of is None


def test_what_is_to_be_kept_is_kept_when_the_stock_changes() -> None:
    plain_text = box(stock="nearest: 3/32 in").sources[0][1]
    text = plain_text.replace("  board:", "  inside: width - 2 * board\n  board:")
    text = text.replace("wide: width - 2 * board", "wide: inside")
    changed = close(read_text(text, "box.yaml", Path()), "inch")
    kept = close(read_text(text + "keep: inside\n", "box.yaml", Path()), "inch")
    far = {name: abs(in_steps(each, "inside") * STEP - 24) for name, each in
           (("changed", changed), ("kept", kept))}  # fmt: skip
    assert far["kept"] <= STEP < far["changed"] + STEP
    assert far["kept"] < far["changed"]


def test_both_systems_add_up_on_one_page() -> None:
    closed = close(box(), "both")
    assert closed.second is not None
    display = closed.model.edition.display
    told = {}
    for words in ("width", "width of floor", "board"):
        (mm,) = {each.mm for each in closed.figures.after.values() if each.words == words}
        shown = plain(show_length(Quantity(mm, Kind.LENGTH), display)).replace("\u00a0", " ")
        first, second = shown.removesuffix(")").split(" (")
        told[words] = (read(first), read(second))
    for system in (0, 1):
        board, floor, width = (told[w][system] for w in ("board", "width of floor", "width"))
        assert floor + 2 * board == width


def test_a_share_that_can_be_exact_is_exact() -> None:
    text = (
        box("29 mm").sources[0][1].replace("  board:", "  bay: (width - 2 * board) / 2\n  board:")
    )
    closed = close(read_text(text, "box.yaml", Path()), "inch")
    assert closed.figures.choice.given_up == ()
    assert 2 * in_steps(closed, "bay") == in_steps(closed, "width of floor")


def test_a_share_that_would_move_others_too_far_is_given_up_and_told() -> None:
    text = box("{is: 29 mm, tolerance: 0.05 mm}").sources[0][1]
    text = text.replace("  board:", "  bay: (width - 2 * board) / 8\n  board:")
    closed = close(read_text(text, "box.yaml", Path()), "inch")
    assert [each.words for each in closed.figures.choice.given_up] == [
        "bay = (width - 2 * board) / 8"
    ]
    assert "Given up: bay = (width - 2 * board) / 8" in table(closed)


def test_every_figure_is_told_with_a_reason() -> None:
    told = closed_facts(close(box(), "inch"))["closing"]["in"]
    assert told["step"] == "127/320"
    assert {each["figure"] for each in told["figures"]} >= {"width", "width of floor", "board"}
    assert all(each["why"] for each in told["figures"])
    assert any(each["what"].startswith("lid stands out evenly") for each in told["kept"])
    lines = table(close(box(), "inch")).splitlines()
    assert lines[0].split() == ["figure", "design", "printed", "moved", "why"]


def test_the_same_design_closes_the_same_way() -> None:
    first, second = (closed_facts(close(box(), "inch")) for _ in range(2))
    assert first == second


@pytest.mark.parametrize("design", ["keepers-desk", "signal-shelf", "net-tote"])
@pytest.mark.parametrize("edition", ["inch", "metric"])
def test_closed_demos_pass_every_check_of_places(design: str, edition: str) -> None:
    """The check of the open design is silent; that of the closed one has to be as well."""
    reading = read_design(DESIGNS / f"{design}.yaml")
    told = {(each.kind, each.facts.get("piece")) for each in check(reading)}
    model = close(reading, edition).model
    found = [
        each
        for check_places in PLACE_CHECKS
        for each in check_places(model.worked, model.assembly)
        if (each.kind, each.facts.get("piece")) not in told
    ]
    assert [each.what for each in found] == []


def test_an_edition_that_cannot_close_is_not_made() -> None:
    reading = box("{is: 28 mm, tolerance: 0.3 mm}", inch="pins: {width: 1 1/8 in}")
    with pytest.raises(UnclosedError):
        make_edition(reading, "inch")


def test_a_size_that_no_figure_can_stand_for_cannot_be_pinned() -> None:
    text = box(inch="pins: {tilt: 1 in}").sources[0][1]
    text = text.replace("  board:", "  tilt: 12 deg\n  board:").replace(
        "high: 12 mm,", "high: 12 mm, note: Leave <tilt> alone.,"
    )
    with pytest.raises(UnclosedError, match="tilt is pinned to 1 in, and angles fix it"):
        close(read_text(text, "box.yaml", Path()), "inch")


def test_what_is_cut_after_measuring_has_no_template_in_any_edition() -> None:
    """In inches the clearance is one step, so that least and most are alike."""
    reading = read_design(DESIGNS / "net-tote.yaml")
    models = [close(reading, edition).model for edition in ("metric", "inch")]
    waiting = [{p.name for p in model.worked.parts if p.opening} for model in models]
    assert waiting[0] == waiting[1] != set()
    assert [model.worked.templates & waiting[0] for model in models] == [set(), set()]


def test_a_half_that_falls_between_two_steps_is_named_as_the_cause() -> None:
    text = """design: Tray
sizes:
  width: {is: 28.3 mm, tolerance: 0 mm}
stock:
  board: {sheet: 2 mm}
parts:
  base: {stock: board, wide: width, deep: 30 mm}
  flap: {stock: board, wide: width / 2, deep: 30 mm, pieces: [left flap, right flap]}
steps:
  - step: Glue it
    start: base
    join:
      left flap: {bottom: against base, left: flush with base, front: flush with base}
      right flap: {bottom: against base, left: against left flap, right: flush with base,
        front: flush with base}
editions:
  metric: {units: mm}
"""
    (problem,) = check_closing(read_text(text, "tray.yaml", Path()))
    assert "width of flap is a sum with a share or an angle in it" in problem.what


def test_faces_that_cannot_go_on_touching_are_told_at_their_piece() -> None:
    """A deduction typed as a figure, not from the thickness of the boards it leaves room for."""
    text = """design: Tray
stock:
  board: {sheet: 1 mm}
parts:
  floor: {stock: board, wide: 30 mm, deep: 20 mm}
  side: {stock: board, deep: 20 mm, high: 8 mm, pieces: [left side, right side]}
  back: {stock: board, wide: 28 mm, high: 8 mm}
steps:
  - step: Glue it
    start: floor
    join:
      left side: {bottom: against floor, left: flush with floor, front: flush with floor}
      back: {bottom: against floor, left: against left side, back: flush with floor}
      right side: {bottom: against floor, right: flush with floor, front: flush with floor}
editions:
  inch: {units: in, fraction: 1/64 in}
"""
    found = list(check_closing(read_text(text, "tray.yaml", DESIGNS)))
    assert [(each.code, each.span.line, each.span.column) for each in found] == [
        ("edition-open", 14, 7)
    ]
    assert found[0].facts["demands"] == "right of back and left of right side touch"
    mended = text.replace("wide: 28 mm", "wide: 30 mm - 2 * thickness of board")
    assert not list(check_closing(read_text(mended, "tray.yaml", DESIGNS)))
