"""The cutting layouts in the booklet: what to buy, the cuts in words, and what to mind."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from markupsafe import Markup

from patternpress.assembly.model import Model, work_out
from patternpress.booklet.contentlayouts import LaidBoard, LaidStock
from patternpress.booklet.fill import content_of
from patternpress.booklet.filllayouts import laid_stocks, quantity_words
from patternpress.booklet.fillneeds import needs
from patternpress.booklet.laidtext import layouts_text
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.wording import Wording, wording_of
from patternpress.closing.close import close
from patternpress.cutting.jobs import jobs
from patternpress.cutting.layouts import layouts
from patternpress.design.read import read_design
from tests.drawing.svg_reader import words_of
from tests.whole.small import BODY, STEP, TOP, model

SHELF = Path(__file__).parents[2] / "designs" / "signal-shelf.yaml"


def worded(made: Model) -> dict[str, LaidStock]:
    wording = Wording(made, read_phrases("en"))
    found = laid_stocks(layouts(made), wording)
    return {str(each.stock).split(",")[0]: each for each in found}


def plain(text: str) -> str:
    return re.sub(r"<[^>]+>", "", text).replace("&nbsp;", " ").replace("\xa0", " ")


def with_stock(words: str) -> Model:
    """The small design, its board sold or kept in another way."""
    old = "board: {sheet: 2 mm, sold: 100 x 600 mm, cut with: fine saw, kerf: 0.3 mm}"
    assert old in BODY
    return model(TOP + BODY.replace(old, f"board: {{sheet: 2 mm, {words}}}") + STEP)


def test_each_stock_says_what_to_buy_and_every_board_has_its_cuts() -> None:
    found = worded(model())
    assert set(found) == {"board", "strip"}
    board = found["board"]
    assert plain(board.words[0]) == "To buy: 1 of 100 × 600 mm."
    assert plain(board.words[1]) == "Counted in: 0.3 mm for each cut."
    assert plain(board.words[2]) == "Drawn at 1:4.5."
    assert plain(found["strip"].words[-1]) == "Lengths at 1:4.5."
    (laid,) = board.boards
    assert laid.picture.startswith("<svg")
    assert all(re.match(r"(Rip|Crosscut) at [\d.]+ mm", plain(cut)) for cut in laid.cuts)


def test_letters_of_all_pieces_are_freed_by_the_cuts() -> None:
    made = model()
    laid = layouts(made)
    pages = laid_stocks(laid, Wording(made, read_phrases("en")))
    for layout, stock in zip(laid, pages, strict=True):
        freed: dict[str, int] = {}
        for board in stock.boards:
            for cut in board.cuts:
                _, _, letters = plain(cut).partition(": ")
                for count, letter in re.findall(r"(?:(\d+) × )?([A-Z]+)", letters):
                    freed[letter] = freed.get(letter, 0) + int(count or 1)
        wanted = {item.letter: item.count for item in layout.job.items}
        assert freed == wanted


def test_what_shops_here_do_not_sell_is_asked_for_as_large_as_it_must_be() -> None:
    """The signal shelf's thin board is known in inches alone: 3 x 24 in; a tenth of it serves."""
    made = close(read_design(SHELF), "metric").model
    laid = {each.job.stock.name.value: each for each in layouts(made)}
    asked = {name: each for name, each in laid.items() if each.to_buy[0][0].about}
    assert len(asked) > 4
    for each in asked.values():
        ((sheet, count),) = each.to_buy
        known = next(job for job in jobs(made) if job.stock is each.job.stock).sheets[0]
        assert count == 1
        assert (
            sheet.along * sheet.across < known.along * known.across or sheet.along < known.along / 2
        )
        assert sheet.along % 10 == 0 and sheet.along >= 100
        for spot in each.boards[0].spots:
            assert spot.x + spot.along <= sheet.along
            assert spot.y + spot.across <= sheet.across
    wording = Wording(made, read_phrases("en"))
    rows = {str(m.name): m for m in needs(wording, layouts(made)).materials[0].materials}
    said = plain(rows["screen board"].size)
    assert said == "1.5 mm thick, at least 50 × 100 mm"
    assert "Nearest thickness serves." in rows["screen board"].note
    assert "3 × 24 in" in plain(rows["screen board"].sold_as[0])
    assert "least" not in rows["lamp board"].size  # which is sold by the millimetre


# What an author says of a stock, and what the page then says.
SAID = [
    ("sold: 100 x 600 mm, cut with: fine saw, trim: 2 mm", "2 mm is trimmed off each edge first"),
    ("sold: 100 x 600 mm, cut with: fine saw, allowance: 0.5 mm", "0.5 mm is left on each size"),
    ("cut with: fine saw, at hand: [{size: 100 x 600 mm}]", "At hand: 1 of 100 × 600 mm."),
    (
        "sold: 100 x 600 mm, cut with: fine saw, at hand: [{size: 100 x 600 mm}]",
        "To buy: 1 of 100 × 600 mm.",
    ),
    (
        "sold: 100 x 600 mm, price: 4 EUR, cut with: fine saw, "
        "also sold: [{size: 100 x 250 mm, price: 2 EUR}]",
        "To buy: 1 of 100 × 250 mm.",
    ),
]


@pytest.mark.parametrize(("words", "wanted"), SAID)
def test_what_is_said_of_a_stock_is_told(words: str, wanted: str) -> None:
    told = " ".join(plain(each) for each in worded(with_stock(words))["board"].words)
    assert wanted in told


def test_that_fewer_do_not_serve_is_said_of_several_boards_only() -> None:
    one, several = (
        " ".join(plain(each) for each in worded(with_stock(f"sold: {size}"))["board"].words)
        for size in ("100 x 600 mm", "42 x 82 mm")
    )
    assert "To buy: 1 of" in one and "fewer" not in one
    assert "To buy: 1 of" not in several and "No layout needs fewer." in several


def test_a_size_that_is_only_one_of_several_sold_does_not_stand_beside_another_to_buy() -> None:
    made = with_stock(
        "sold: 100 x 600 mm, price: 4 EUR, also sold: [{size: 100 x 250 mm, price: 2 EUR}]"
    )
    wording = Wording(made, read_phrases("en"))
    (row,) = [m for m in needs(wording, layouts(made)).materials[0].materials if m.name == "board"]
    assert plain(row.quantity) == "1 of 100 × 250 mm"
    assert plain(row.size) == "2 mm thick"
    assert plain(worded(made)["board"].stock) == "board, 2 mm thick"


KEPT = [
    ("", "Left over and worth keeping: 600 × 30 mm, 444 × 40 mm, 520 × 30 mm."),
    (", smallest offcut: 35 x 100 mm", "Left over and worth keeping: 444 × 40 mm."),
    (", smallest offcut: 100 x 550 mm", ""),
]


@pytest.mark.parametrize(("words", "wanted"), KEPT)
def test_offcuts_are_told_where_they_are_worth_keeping(words: str, wanted: str) -> None:
    made = with_stock(f"sold: 100 x 600 mm, cut with: fine saw{words}")
    first = laid_stocks(layouts(made), Wording(made, read_phrases("en")), drawn=False)[0]
    (board,) = first.boards
    left = [plain(each) for each in board.notes if "Left over" in plain(each)]
    assert left == ([wanted] if wanted else [])


@pytest.mark.parametrize(
    ("tool", "cut"),
    [("fine saw", r"(Rip|Crosscut) at "), ("craft knife", r"Cut (with|across) the grain at ")],
)
def test_a_knife_has_no_words_of_a_saw(tool: str, cut: str) -> None:
    made = model((TOP + BODY + STEP).replace("fine saw", tool))
    (board,) = laid_stocks(layouts(made), Wording(made, read_phrases("en")), drawn=False)[0].boards
    assert board.cuts and all(re.match(cut, plain(each)) for each in board.cuts)


def test_a_used_corner_is_named_and_cut_off_first() -> None:
    made = with_stock("cut with: fine saw, at hand: [{size: 100 x 300 mm, used: 60 x 40 mm}]")
    (board,) = worded(made)["board"].boards
    assert plain(board.heading) == "100 × 300 mm, at hand, one corner used"
    assert re.match(r"(Rip|Crosscut) at (40|260) mm$", plain(board.cuts[0]))


@pytest.mark.parametrize(("drawn", "how"), [(True, " (hatched)"), (False, "")])
def test_defects_are_told_as_their_author_measured_them(drawn: bool, how: str) -> None:
    knot = "{size: 20 x 30 mm, at: 50 mm from right and 40 mm from bottom}"
    made = with_stock(f"cut with: fine saw, at hand: [{{size: 100 x 300 mm, defects: {knot}}}]")
    found = laid_stocks(layouts(made), Wording(made, read_phrases("en")), drawn=drawn)
    (board,) = found[0].boards
    told = " ".join(map(plain, board.notes))
    place = "20 × 30 mm, the middle 250 mm from the left and 40 mm from the bottom"
    assert f"No piece touches these defects{how}: {place}." in told


CUTS = [("edge to edge", True), ("anywhere", False)]


@pytest.mark.parametrize(("cuts", "wanted"), CUTS)
def test_short_pieces_get_a_caution_at_a_saw_and_none_with_a_knife(cuts: str, wanted: bool) -> None:
    old = "strip: {strip: 4 x 4 mm, sold: 600 mm, cut with: fine saw, kerf: 0.3 mm}"
    assert old in BODY
    new = f"strip: {{strip: 4 x 4 mm, sold: 600 mm, cut with: fine saw, cuts: {cuts}}}"
    made = model(TOP + BODY.replace(old, new) + STEP)
    notes = [note for board in worded(made)["strip"].boards for note in board.notes]
    assert any("Short pieces" in note for note in notes) is wanted


def test_narrow_strips_get_a_caution_at_a_saw() -> None:
    thin = BODY.replace(
        "slat: {stock: strip, wide: 20 mm", "slat: {stock: board, wide: 80 mm, deep: 5 mm"
    )
    assert thin != BODY
    notes = [n for b in worded(model(TOP + thin + STEP))["board"].boards for n in b.notes]
    assert any(plain(note).startswith("Narrow strips (5 mm)") for note in notes)
    plainer = [n for b in worded(model())["board"].boards for n in b.notes]
    assert not any("Narrow strips" in note for note in plainer)


# What shops sell by: inch stock in the inch edition, the nearest equal in the metric one.
LOCAL = [
    ("inch", "To buy: 1 of 3 × 24 in."),
    ("metric", "To buy: 1 of 100 × 600 mm."),
]


@pytest.mark.parametrize(("edition", "bought"), LOCAL)
def test_closed_editions_lay_out_the_local_stock(edition: str, bought: str) -> None:
    made = close(read_design(SHELF), edition).model
    first = laid_stocks(layouts(made), Wording(made, read_phrases("en")))[0]
    assert plain(first.words[0]).startswith(bought)


def test_the_shopping_list_says_the_number_of_the_layouts() -> None:
    made = model()
    wording = Wording(made, read_phrases("en"))
    content = content_of(made)
    bought = {m.name: plain(m.quantity) for g in content.needs.materials for m in g.materials}
    for layout in layouts(made):
        assert bought[layout.job.stock.name.value] == plain(quantity_words(layout, wording))
    assert bought["board"] == "1 sheet"


@pytest.mark.parametrize("language", ["en", "de", "fr"])
def test_the_text_names_every_piece_and_numbers_the_cuts(language: str) -> None:
    made = model()
    phrases = read_phrases(language)
    wording = Wording(made, phrases)
    stocks = laid_stocks(layouts(made), wording, drawn=False)
    text = layouts_text("Wall shelf", layouts(made), wording)
    for each in jobs(made):
        for one in each.items:
            assert f"{one.count} × {one.letter} {one.part.name}" in text
    cuts = [stock.boards[0].cuts for stock in stocks]
    for number, cut in enumerate(cuts[0], 1):
        assert f"\n{number}. {plain(cut)}" in text.replace(" 1/", " 1⁄")
    assert all(len(line) < 400 for line in text.split("\n"))
    assert not re.search(r"[<>{}]|broken|unterbrochen|interrompu", text)


FACED = """\
stock:
  board: {sheet: 2 mm, sold: 50 x 60 mm, cut with: craft knife}

parts:
  gable: {stock: board, wide: 48 mm, high: 48 mm, quantity: 2, corners: {top right: cut off 47 mm}}
  panel: {stock: board, wide: 9 mm, high: 2 mm, best face: FACE, quantity: 1}

tools:
  craft knife:

sub-assemblies:
  frame:
"""


@pytest.mark.parametrize(("drawn", "how"), [(True, "trace them as drawn"), (False, "draws them")])
def test_pieces_laid_between_each_other_are_told(drawn: bool, how: str) -> None:
    """Two triangles in the two halves of a board."""
    made = model(TOP + FACED.replace("FACE", "front") + STEP)
    (stock,) = laid_stocks(layouts(made), Wording(made, read_phrases("en")), drawn=drawn)
    assert plain(stock.words[0]) == "To buy: 1 of 50 × 60 mm."
    (board,) = stock.boards
    assert board.cuts == ()
    told = " ".join(map(plain, board.notes))
    assert "The pieces lie between each other" in told
    assert how in told
    assert "with the craft knife." in told


@pytest.mark.parametrize(("face", "told"), [("back", True), ("top", False)])
def test_the_best_face_is_told_where_it_is_a_broad_one(face: str, told: bool) -> None:
    made = model(TOP + FACED.replace("FACE", face) + STEP)
    (stock,) = laid_stocks(layouts(made), Wording(made, read_phrases("en")))
    notes = [plain(note) for board in stock.boards for note in board.notes]
    assert ("Show face up: B." in notes) is told


@pytest.mark.parametrize(
    ("face", "groove", "turned"), [("front", "back", True), ("back", "back", False)]
)
def test_a_template_that_shows_the_other_face_is_told_beside_the_show_face(
    face: str, groove: str, turned: bool
) -> None:
    """“Show face up” stood against a template seen from behind."""
    rim = f"grooves: {{rim: {{on: {groove}, wide: 2 mm, deep: 1 mm, at: 5 mm from top}}}}"
    panel = FACED.replace(
        "high: 2 mm, best face: FACE", f"high: 20 mm, template: yes, {rim}, best face: {face}"
    )
    made = model(
        TOP + panel.replace("craft knife", "fine saw").replace("50 x 60", "100 x 600") + STEP
    )
    (stock,) = laid_stocks(layouts(made), Wording(made, read_phrases("en")))
    notes = [plain(note) for board in stock.boards for note in board.notes]
    assert "Show face up: B." in notes
    told = "Turn over to lay the template on the other face, which it shows: B."
    assert (told in notes) is turned


def test_the_word_for_the_grain_is_never_read_as_part_of_a_cut_s_number() -> None:
    shelf = wording_of(work_out(read_design(SHELF), "inch"))
    told = laid_stocks(layouts(shelf.model), shelf)
    pictures = [board.picture for stock in told for board in stock.boards]
    seen = 0
    for texts in map(words_of, pictures):
        grains = [box for text, box, _ in texts if text == "grain"]
        numbers = [box for text, box, _ in texts if text.isdigit()]
        for grain in grains:
            seen += 1
            low, high = grain.bounds[1], grain.bounds[3]
            beside = [b for b in numbers if b.bounds[3] > low and b.bounds[1] < high]
            assert all(grain.distance(each) > 3.0 for each in beside)
    assert seen == 2


def test_the_cuts_stand_in_two_lists_as_high_as_each_other() -> None:
    long = "Cut across the grain at 80 mm (3 9/64 in), 3 times: A, C, D"  # takes two lines
    board = LaidBoard("", Markup(), (*"abcd", long, long))
    assert board.abreast() == (((*"abcd",), (long, long)),)
    assert LaidBoard("", Markup(), ("one",)).abreast() == ((("one",),),)
    assert LaidBoard("", Markup()).abreast() == ()


def test_many_cuts_are_parted_where_a_page_may_end() -> None:
    cuts = tuple(f"cut {number}" for number in range(90))
    parted = LaidBoard("", Markup(), cuts).abreast()
    assert [[len(half) for half in few] for few in parted] == [[20, 20], [20, 20], [5, 5]]
    assert tuple(cut for few in parted for half in few for cut in half) == cuts
