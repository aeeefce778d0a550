"""What the lists say of pieces whose outline is more than the rectangle of their size."""

from __future__ import annotations

import pytest

from patternpress.booklet.filllayouts import laid_stocks
from patternpress.booklet.lists import as_csv, as_text
from patternpress.booklet.outlinewords import outline_notes
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.shoptext import plain_words
from patternpress.booklet.wording import Wording
from patternpress.cutting.layouts import layouts
from tests.whole.small import BODY, STEP, TOP, model

PLAIN = "  base: {stock: board, wide: 80 mm, deep: 40 mm, template: yes}\n"
ROUND = "  base: {stock: board, wide: 40 mm, deep: 40 mm, disc: yes}\n"


def outlined(*points: str) -> str:
    """The base with straight lines from its lower left corner through these points."""
    lines = "".join(f"      - line: {point}\n" for point in points)
    head = "  base:\n    stock: board\n    wide: 80 mm\n    deep: 40 mm\n    outline:\n"
    return f"{head}      - start: 0 mm, 0 mm\n{lines}"


SLOPED = outlined("80 mm, 0 mm", "80 mm, 40 mm", "0 mm, 20 mm")
HALVED = outlined("80 mm, 0 mm", "0 mm, 40 mm")
TAPERED = PLAIN.replace("template: yes", "ends: {right: '10 deg, longest at front'}")
TOLD = [
    (PLAIN, []),
    (
        PLAIN.replace("template: yes", "corners: {back right: round 5 mm}"),
        ["Curved outline: cut it to its template."],
    ),
    (ROUND, ["Round: cut it to its template."]),
    (SLOPED, ["Not a rectangle: cut it to its template."]),
    (HALVED, ["A triangle, one from each piece of this size: cut it to its template."]),
    (TAPERED, []),  # its note says the angle
]


def worded(base: str, language: str = "en") -> Wording:
    return Wording(model(TOP + BODY.replace(PLAIN, base) + STEP), read_phrases(language))


def notes(base: str, language: str = "en") -> list[str]:
    words = worded(base, language)
    part = words.model.worked.part("base")
    assert part is not None
    return [plain_words(each) for each in outline_notes(part, words)]


@pytest.mark.parametrize(("base", "told"), TOLD)
def test_an_outline_that_is_no_rectangle_is_told(base: str, told: list[str]) -> None:
    assert notes(base) == told


@pytest.mark.parametrize(
    ("language", "told"),
    [
        ("de", "Rund: nach der Schablone zuschneiden."),
        ("fr", "Rond : à découper d’après son gabarit."),
    ],
)
def test_it_is_told_in_every_language(language: str, told: str) -> None:
    assert [each.replace("\N{NO-BREAK SPACE}", " ") for each in notes(ROUND, language)] == [told]


def test_the_lists_as_text_tell_it_too() -> None:
    words = worded(SLOPED)
    assert "Not a rectangle: cut it to its template." in as_text(words)
    assert "Not a rectangle: cut it to its template." in as_csv(words)


@pytest.mark.parametrize(
    ("base", "left"),
    [
        (PLAIN, []),
        (SLOPED, ["Cut square so far. Then cut to their outlines, by the templates: A."]),
        (TAPERED, ["Cut square so far. Then cut to their outlines, by the templates: A."]),
    ],
)
def test_a_layout_ends_with_what_is_still_to_cut(base: str, left: list[str]) -> None:
    words = worded(base)
    board = laid_stocks(layouts(words.model), words)[0].boards[0]
    assert [plain_words(n) for n in board.notes if "square so far" in str(n)] == left


def test_what_a_step_cuts_out_stays_square_until_then() -> None:
    """A disc that is held by its corners while its hole is sawn."""
    made = model(TOP + BODY.replace(PLAIN, SLOPED) + STEP + "    cut: base\n")
    words = Wording(made, read_phrases("en"))
    told = [plain_words(n) for n in laid_stocks(layouts(made), words)[0].boards[0].notes]
    assert "Leave square until step 1: A." in told
    assert not any("Cut square so far" in each for each in told)


def test_mitred_ends_without_a_template_are_left_to_the_cutting_list() -> None:
    mitred = "    ends: {left: '45 deg, longest at front'}\n    template: no\n"
    body = BODY.replace("    pieces: front rail", f"{mitred}    pieces: front rail")
    words = Wording(model(TOP + body + STEP), read_phrases("en"))
    strip = laid_stocks(layouts(words.model), words)[1]
    told = "Cut square so far. Then cut ends and edges as the cutting list says: D."
    assert told in [plain_words(note) for board in strip.boards for note in board.notes]
