"""What the cutting list says of sizes that wait for a board to be measured."""

from __future__ import annotations

import pytest

from patternpress.booklet.boardwords import board_notes, measured_before
from patternpress.booklet.fillcutting import cutting
from patternpress.booklet.lists import as_columns, as_csv, as_text
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.shoptext import plain_words
from patternpress.booklet.wording import Wording
from patternpress.closing.close import close
from tests.whole.small import BODY, STEP, TOP, model, read

RANGED = BODY.replace(
    "board: {sheet: 2 mm,", "board: {sheet: 2 mm, really: 1.8 to 2.1 mm,"
).replace(
    "shelf: {stock: board, wide: 76 mm",
    "shelf: {stock: board, wide: 80 mm - 2 * thickness of board",
)


def wording(edition: str = "metric", language: str = "en", body: str = RANGED) -> Wording:
    return Wording(model(TOP + body + STEP, edition), read_phrases(language))


def notes(edition: str = "metric", language: str = "en", body: str = RANGED) -> list[str]:
    words = wording(edition, language, body)
    part = words.model.worked.part("shelf")
    assert part is not None
    return [plain_words(each) for each in board_notes(part, words)]


@pytest.mark.parametrize(
    ("language", "told"),
    [
        (
            "en",
            "Measure your board before you cut: "
            "the length is 0.4 mm more at 1.8 mm thick, 0.2 mm less at 2.1 mm thick.",
        ),
        (
            "de",
            "Vor dem Zuschneiden messen, wie dick board wirklich ist: "
            "Länge 0.4 mm mehr bei 1.8 mm Dicke, 0.2 mm weniger bei 2.1 mm Dicke.",
        ),
        (
            "fr",
            "Mesurez votre board avant de couper : "
            "longueur 0.4 mm de plus pour 1.8 mm d’épaisseur, "
            "0.2 mm de moins pour 2.1 mm d’épaisseur.",
        ),
    ],
)
def test_a_part_says_by_how_much_it_would_be_off(language: str, told: str) -> None:
    assert notes(language=language) == [told]


def test_both_systems_are_told_where_their_steps_can_show_it() -> None:
    body = RANGED.replace("1.8 to 2.1 mm", "1.5 to 2.1 mm")
    # In thousandths of an inch: 1/64 in is 0.4 mm, and beside 0.2 mm would be twice as much.
    assert notes("both", body=body) == [
        "Measure your board before you cut: the length is 1 mm (0.039 in) more at "
        "1.5 mm (0.059 in) thick, 0.2 mm (0.008 in) less at 2.1 mm (0.083 in) thick."
    ]


def test_ends_that_print_like_the_label_are_not_figures() -> None:
    body = RANGED.replace("1.8 to 2.1 mm", "1.98 to 2.02 mm").replace(
        "2 * thickness", "9 * thickness"
    )
    # 0.18 mm is printed (0.2), 1.98 mm is not told from 2 mm at a step of 0.1 mm.
    assert notes(body=body) == [
        "Measure your board before you cut. For each 0.1 mm that it is thicker than 2 mm: "
        "make the length 0.9 mm less. Where it is thinner, do the opposite."
    ]


# A board that shops sell by the inch and whose range is not known there: 1/64 in on the rule, and
# twice as much off what stands between two such boards.
INCH = RANGED.replace("really:", "nearest: {size: 3/32 in, sold: 4 x 24 in}, really:")
RATES = [
    (
        "en",
        "Measure your board before you cut. For each 1/64 in that it is thicker than 3/32 in: "
        "make the length 1/32 in less. Where it is thinner, do the opposite.",
    ),
    (
        "de",
        "Vor dem Zuschneiden messen, wie dick board wirklich ist. "
        "Je 1/64 in dicker als 3/32 in: Länge 1/32 in weniger. Wo dünner, umgekehrt.",
    ),
    (
        "fr",
        "Mesurez votre board avant de couper. Pour chaque 1/64 po d’épaisseur au-delà de "
        "3/32 po : longueur 1/32 po de moins. En deçà, faites l’inverse.",
    ),
]


@pytest.mark.parametrize(("language", "told"), RATES)
def test_where_no_range_is_known_the_rule_is_told_with_its_figures(
    language: str, told: str
) -> None:
    reading = read(TOP + INCH + STEP + f"editions:\n  shop: {{units: in, language: {language}}}\n")
    words = Wording(close(reading, "shop").model, read_phrases(language))
    part = words.model.worked.part("shelf")
    assert part is not None
    assert [plain_words(each) for each in board_notes(part, words)] == [told]


def test_what_no_printed_figure_shows_is_not_said() -> None:
    body = RANGED.replace("1.8 to 2.1 mm", "1.99 to 2.01 mm")
    assert notes(body=body) == []
    assert "easure your board" not in as_text(wording(body=body))


def test_what_is_cut_to_fit_says_so_once() -> None:
    body = RANGED.replace("deep: 36 mm}", "deep: 36 mm, cut to fit: wide}")
    assert notes(body=body) == []


def test_the_board_itself_names_the_parts_that_wait() -> None:
    words = wording()
    stock = words.model.worked.book.stock[0]
    told = "Measure your board before you cut C: sizes there follow from its real thickness."
    assert plain_words(measured_before(stock, words)) == told
    groups = cutting(words)
    assert plain_words(groups[0].note or "").endswith(told)
    assert measured_before(words.model.worked.book.stock[1], words) == ""


def test_every_list_carries_the_note() -> None:
    (note,) = notes()
    words = wording()
    (row,) = [row for row in cutting(words)[0].rows if row.name == "shelf"]
    assert note in plain_words(row.note)
    assert note in as_text(words)
    assert note in as_csv(words)


def test_the_lists_as_text_hold_no_marks_of_the_page() -> None:
    words = wording("both")
    for written in (as_text(words), as_columns(words), as_csv(words)):
        assert "<" not in written
        assert "&" not in written
