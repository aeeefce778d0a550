"""Lines that follow from the joins: on which pieces and faces, how far from which edge, and why.

The places are worked out by hand: two sides of 60 mm on a floor, a back 4 mm higher,
and a shelf 22 mm below the top of the sides.
"""

from __future__ import annotations

import pytest

from patternpress.assembly.facts import facts
from patternpress.assembly.model import Model
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.sentences import actions
from patternpress.booklet.wording import Wording
from patternpress.closing.close import close
from tests.booklet.test_sentences import plainly
from tests.whole.small import TOP, model, read

CASE = """\
languages: en, de, fr
names:
  de:
    board: das Brett
    floor: der Boden
    side: die Seite
    left side: die Seite links
    right side: die Seite rechts
    back: die Rückwand
    shelf: das Fach
    shelf line: die Fachlinie
    wood glue: der Holzleim
  fr:
    board: la planche
    floor: le fond
    side: le côté
    left side: le côté gauche
    right side: le côté droit
    back: le dos
    shelf: la tablette
    shelf line: la ligne de tablette
    wood glue: la colle à bois
stock:
  board: {sheet: 2 mm, sold: 100 x 600 mm}
parts:
  floor: {stock: board, wide: 80 mm, deep: 40 mm}
  side:
    stock: board
    deep: 40 mm
    high: 60 mm
    pieces: {left side: as drawn, right side: mirrored left to right}
  back: {stock: board, wide: 76 mm, high: 56 mm}
  shelf: {stock: board, wide: 76 mm, deep: 38 mm}
marks:
  shelf line:
    on: right of left side, left of right side, front of back
    line: along top of shelf
    keep off: KEEP
materials:
  wood glue: {kind: glue, handle: 30 to 60 min, hard: 24 h}
steps:
  - step: Mark out
    mark: shelf line
  - step: Put it together
    start: floor
    join:
      left side: {bottom: against floor, left: flush with floor, back: flush with floor}
      right side: {bottom: against floor, right: flush with floor, back: flush with floor}
      back: {left: against left side, right: against right side, top: 4 mm beyond left side,
             back: flush with left side}
      shelf: {left: against left side, right: against right side, back: against back,
              top: 22 mm inside left side}
    wait: {for: wood glue, until: hard}
"""
EDITIONS = """\
editions:
  metric: {units: mm, paper: A4}
  inch: {units: in, paper: Letter}
"""


# What is said in millimetres and in inches: 22, 26 and 2 mm.
FIGURES = {"metric": ("22 mm", "26 mm", "2 mm"), "inch": ("55⁄64 in", "1 1⁄64 in", "5⁄64 in")}
SAID = {
    "en": [
        "Draw the shelf line on the inner face of each side (B), {0} from the top.",
        "Draw the shelf line on the front of the back (C), {1} from the top. "
        "This is where the top of the shelf (D) will be.",
        "Stop the line {2} short of the front, where it would show.",
    ],
    "de": [
        "Zeichne die Fachlinie auf die Innenseite jeder Seite (B), {0} von oben.",
        "Zeichne die Fachlinie auf die Vorderseite der Rückwand (C), {1} von oben. "
        "Hier liegt später die Oberseite des Fachs (D).",
        "Lass die Linie {2} vor der Vorderseite enden, wo man sie sehen würde.",
    ],
    "fr": [
        "Tracez la ligne de tablette sur la face intérieure de chaque côté (B), "
        "à {0} du bord supérieur.",
        "Tracez la ligne de tablette sur la face avant du dos (C), à {1} du bord supérieur. "
        "C’est la place pour la face supérieure de la tablette (D).",
        "Arrêtez le trait à {2} de la face avant, où il se verrait.",
    ],
}


def made(language: str = "en", edition: str = "metric", keep: str = "2 mm from front") -> Model:
    """The case closed for an edition, so that its figures are those of the page."""
    editions = EDITIONS.replace("{units", f"{{language: {language}, units")
    return close(read(TOP + CASE.replace("KEEP", keep) + editions), edition).model


def said(model: Model, language: str = "en") -> list[str]:
    """The sentences of its first step."""
    return plainly(actions(model.worked.usage.steps[0], Wording(model, read_phrases(language))))


@pytest.mark.parametrize("edition", FIGURES)
@pytest.mark.parametrize("language", SAID)
def test_a_line_that_follows_from_the_joins_is_told_with_its_reason(
    language: str, edition: str
) -> None:
    told = [each.format(*FIGURES[edition]) for each in SAID[language]]
    if language == "fr":
        told = [each.replace("⁄64 in", "⁄64 po") for each in told]
    assert said(made(language, edition), language) == told


def test_ends_at_like_distances_share_a_sentence_and_others_have_their_own() -> None:
    alike = said(made(keep="[2 mm from front, 2 mm from back]"))
    assert alike[2:] == [
        "Stop the line 2 mm short of the front and the back, where it would show.",
    ]
    apart = said(made(keep="[2 mm from front, 4 mm from back]"))
    assert apart[2:] == [
        "Stop the line 2 mm short of the front, where it would show.",
        "Stop the line 4 mm short of the back, where it would show.",
    ]


def test_the_facts_tell_it_of_every_piece_exactly() -> None:
    told = [
        (each["mark"], each["piece"], each["side"], each["far"]["mm"])
        for each in facts(made())["derived_marks"]
    ]
    assert told == [
        ("shelf line", "left side", "top", "22"),
        ("shelf line", "right side", "top", "22"),
        ("shelf line", "back", "top", "26"),
    ]


def test_it_is_drawn_on_the_template_where_it_is_told() -> None:
    shapes = {part["name"]: part["shape"] for part in facts(made())["parts"] if "shape" in part}
    line = {name: shapes[name]["marks"][0]["line"] for name in ("side", "back")}
    assert line["side"] == [["2", "38"], ["40", "38"]]
    assert line["back"] == [["0", "30"], ["76", "30"]]


PAIR = """\
stock:
  board: {sheet: 2 mm, sold: 100 x 600 mm}
parts:
  base: {stock: board, wide: 80 mm, deep: 40 mm}
  door:
    stock: board
    wide: 39 mm
    high: 60 mm
    pieces: {left door: as drawn, right door: mirrored left to right}
    holes: {knob hole: {round: 1 mm, at: 30 mm from left and 20 mm from bottom}}
  batten: {stock: board, deep: 4 mm, high: 50 mm, pieces: [left batten, right batten]}
marks:
  MARK
materials:
  wood glue: {kind: glue, handle: 30 to 60 min, hard: 24 h}
steps:
  - step: Mark out
    mark: MARKS
  - step: Put it together
    start: base
    join:
      left door: {bottom: against base, left: flush with base, front: flush with base}
      right door: {bottom: against base, right: flush with base, front: flush with base}
      left batten: {front: against left door, left: 5 mm inside left door,
                    bottom: 5 mm inside left door}
      right batten: {front: against right door, right: 5 mm inside right door,
                     bottom: 5 mm inside right door}
    wait: {for: wood glue, until: hard}
"""
PAIRED = [
    (
        "along right of right batten",
        "back of right door",
        ["5 mm from the right. This is where the right of the right batten (C) will be."],
    ),
    ("5 mm from left", "back of right door", ["5 mm from the right."]),
    ("5 mm from left", "back of left door", ["5 mm from the left."]),
    ("5 mm from left", "back of door", ["5 mm from the left.", "5 mm from the right."]),
    (
        "7 mm from bottom, keep off: 4 mm from left",
        "back of right door",
        ["7 mm from the bottom.", "Stop the line 4 mm short of the right, where it would show."],
    ),
    (
        "7 mm from bottom, keep off: 4 mm from left",
        "[back of left door, back of right door]",
        [
            "7 mm from the bottom.",
            "On the left door (B), stop 4 mm short of the left, where it would show.",
            "On the right door (B), stop 4 mm short of the right, where it would show.",
        ],
    ),
]


@pytest.mark.parametrize(("line", "on", "ends"), PAIRED)
def test_on_a_mirrored_piece_it_is_told_from_the_side_that_it_has_there(
    line: str, on: str, ends: list[str]
) -> None:
    """Both battens are 5 mm from the outer edges; the right door is drawn as its mirror image."""
    text = PAIR.replace("MARKS", "the line").replace(
        "MARK", f"the line: {{on: {on}, line: {line}}}"
    )
    sentences = said(model(TOP + text))
    assert [each.partition(", ")[2] if "Draw" in each else each for each in sentences] == ends


def test_a_point_on_a_mirrored_piece_too() -> None:
    point = "6 mm from left and 5 mm from top"
    text = PAIR.replace("MARKS", "one, two").replace(
        "MARK",
        f"one: {{on: back of right door, point: {point}}}\n"
        f"  two: {{on: back of right door, point: {point.replace('left', 'right')}}}",
    )
    assert said(model(TOP + text)) == [
        "Mark the one on the back of the right door (B).",
        "It goes 6 mm from the right and 5 mm from the top.",
        "Make the two in the same way, counted from the left.",
    ]


def test_a_part_that_is_marked_bears_the_line_on_every_piece() -> None:
    on = "right of left side, left of right side, front of back"
    whole = TOP + CASE.replace("KEEP", "2 mm from front").replace(on, "right of side")
    bare = whole.replace(
        "    pieces: {left side: as drawn, right side: mirrored left to right}\n",
        "    pieces: [left side, right side]\n",
    )
    lines = facts(model(bare))["derived_marks"]
    assert [each["piece"] for each in lines] == ["left side", "right side"]
