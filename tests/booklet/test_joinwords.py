"""Joins in words: the glue and every face that takes it, like joins together, places with figures.

The piece is a box that really fits together, so that faces which only meet are found.
"""

from __future__ import annotations

import pytest

from patternpress.booklet.fillsteps import step as step_content
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.sentences import actions, later_actions
from patternpress.booklet.wording import Wording
from tests.booklet.test_sentences import plainly
from tests.whole.small import TOP, model

BOX = """\
design: Box
scale: 1:12
units: mm
stock:
  board: {sheet: 2 mm, sold: 100 x 600 mm}
  strip: {strip: 4 x 4 mm, sold: 600 mm}
  screw: {bought: 'a brass screw, 3 x 12 mm', pack: 10}
parts:
  base: {stock: board, wide: 80 mm, deep: 40 mm}
  side:
    stock: board
    deep: 40 mm
    high: 30 mm
    pieces: {left side: as drawn, right side: mirrored left to right}
    holes:
      upper hole: {round: 1 mm, at: 5 mm from front and 5 mm from top}
      lower hole: {round: 1 mm, at: 5 mm from front and 9 mm from top}
  back: {stock: board, wide: 76 mm, high: 28 mm}
  leg:
    stock: strip
    high: 20 mm
    pieces: front left leg, front right leg, back left leg, back right leg
  slat: {stock: strip, wide: 20 mm, quantity: 3}
  tray floor: {stock: board, wide: 70 mm, deep: 30 mm}
  tray end: {stock: board, deep: 30 mm, high: 6 mm, pieces: [left tray end, right tray end]}
  lid: {stock: board, wide: 82 mm, deep: 42 mm}
  fixing:
    stock: screw
    pieces: left upper screw, left lower screw, right upper screw, right lower screw
sub-assemblies:
  tray: {copies: [upper tray, lower tray], moves: slides}
materials:
  wood glue: {kind: glue, handle: 30 to 60 min, hard: 24 h}
  outdoor glue: {kind: glue, handle: 3 h, hard: 24 h}
  paint: {kind: finish, handle: 2 h}
tools: block
steps:
  - step: Sides
    start: base
    glue: wood glue
    join:
      left side: {bottom: against base, left: flush with base, front: flush with base}
      right side: {bottom: against base, right: flush with base, front: flush with base}
      back: {bottom: against base, left and right: centred on base, back: flush with base}
    wait: {for: wood glue}
    afterwards: {sand flush: base, with: block}
  - step: Legs
    work lies: on its top
    glue: outdoor glue
    join:
      front left leg: {top: against base, left: flush with base, front: flush with base}
      front right leg: {top: against base, right: flush with base, front: flush with base}
      back left leg: {top: against base, left: flush with base, back: flush with base}
      back right leg: {top: against base, right: flush with base, back: flush with base}
    check:
      try: Look whether they stand square.
      if: {they do: Go on., one leans: Push it straight.}
      when: before gluing
    wait: {for: outdoor glue}
  - step: Slats
    glue: wood glue
    join:
      slat:
        bottom: against base
        front: 4 mm inside base
        left: 2 mm inside base
        row: {toward: right, up to: 2 mm inside base}
    wait: {for: wood glue}
  - step: Tray
    builds: tray
    start: tray floor
    glue: wood glue
    join:
      left tray end:
        bottom: against tray floor
        left: flush with tray floor
        front: flush with tray floor
      right tray end:
        bottom: against tray floor
        right: flush with tray floor
        front: flush with tray floor
    wait: {for: wood glue}
  - step: Last
    join:
      lower tray: {bottom: loose against base, left: 5 mm inside base, front: flush with base}
      left upper screw: {right: in upper hole of left side}
      left lower screw: {right: in lower hole of left side}
      right upper screw: {left: in upper hole of right side}
      right lower screw: {left: in lower hole of right side}
      lid:
        bottom: loose against left side
        left and right: centred on base
        front: 1 mm beyond base
    treat: {paint: work, with: paint, coats: 2}
editions:
  metric: {units: mm, paper: A4}
"""
MODEL = model(BOX)
STEPS = MODEL.worked.usage.steps
WORDS = Wording(MODEL, read_phrases("en"))


def said(number: int) -> list[str]:
    return plainly(actions(STEPS[number - 1], WORDS))


def test_glue_is_named_once_and_every_face_that_meets_with_it() -> None:
    assert said(1) == [
        "Lay the base (A) on the bench.",
        "Glue the left side (B) to the base (A) with wood glue.",
        "Keep its left and front flush with the base (A).",
        "Glue the right side (B) in the same way, as the mirror image.",
        "Glue the back (C) to the base (A), the left side (B) and the right side (B).",
        "Centre it on the base (A), from left to right.",
        "Keep its back flush with the base (A).",
    ]


def test_what_needs_a_dry_joint_stands_after_the_wait() -> None:
    assert plainly(later_actions(STEPS[0], WORDS)) == ["Sand the base (A) flush, with the block."]
    made = step_content(STEPS[0], 1, WORDS)
    assert made.wait == "30 to 60 minutes until the wood glue can be handled."
    assert len(made.after) == 1
    assert made.uses == "Block, wood glue."


def test_four_corners_take_three_sentences_and_a_dry_check_comes_before_the_glue() -> None:
    assert said(2) == [
        "Turn the work over, so that it lies on its top.",
        "Try it first without glue. Look whether they stand square.",
        "If one leans: push it straight.",
        "Glue the front left leg (D) to the base (A) with outdoor glue.",
        "Keep its left and front flush with the base (A).",
        "Glue the other three in the same way, one in each corner.",
    ]
    assert not step_content(STEPS[1], 2, WORDS).checks


def test_a_row_says_its_gaps() -> None:
    # 80 wide, 2 kept at each side, three slats of 20: (76 - 60) / 2 = 8 between them.
    told = said(3)
    assert told[-3:] == [
        "Set the other 2 toward the right, with gaps of 8 mm.",
        "For the last one: set its right 2 mm inside the right of the base (A).",
        "For the last one: glue it to the right side (B) as well.",
    ]
    assert not any("right side" in each for each in told[:-1])  # the first lies 56 mm from it


def test_several_copies_are_told_before_the_first_is_made() -> None:
    made = step_content(STEPS[3], 4, WORDS)
    assert plainly(made.whole) == ["Do this step twice: for the upper tray and the lower tray."]


def test_what_slides_or_rests_is_not_measured_and_screws_are_driven_dry() -> None:
    sentences = said(5)
    assert sentences[:2] == [
        "Paint the whole work, in 2 coats.",
        "Let each coat dry for 2 hours.",
    ]
    assert sentences[2:] == [
        "Slide the lower tray in over the base (A), until it is flush at the front.",
        "Drive 4 fixings (J) into the left side (B) and the right side (B).",
        "In each, they go into the upper and lower holes.",
        "Rest the lid (H) on the left side (B) and the right side (B).",
        "Centre it on the base (A), from left to right.",
        "Let its front stand out 1 mm past the front of the base (A).",
    ]
    assert step_content(STEPS[4], 5, WORDS).wait == "2 hours until the paint can be handled."


def test_the_last_of_a_row_ends_where_it_is_said_to() -> None:
    (last,) = [each for each in MODEL.assembly.placed if each.piece == "slat 3"]
    assert last.pose.offset[0] == 80 - 2 - 20


STAND = """\
design: Stand
scale: 1:12
units: mm
stock:
  board: {sheet: 2 mm, sold: 100 x 600 mm}
parts:
  base: {stock: board, wide: 40 mm, deep: 40 mm}
  wall: {stock: board, wide: 20 mm, high: 16 mm}
  wing: {stock: board, deep: 8 mm, high: 16 mm}
sub-assemblies:
  screen:
materials:
  wood glue: {kind: glue, handle: 30 min, hard: 24 h}
steps:
  - step: Build the screen
    builds: screen
    start: wall
    glue: wood glue
    join:
      wing: {front: against wall, left: flush with wall, bottom: flush with wall}
    wait: {for: wood glue, until: handle}
  - step: Set it up
    start: base
    glue: wood glue
    join:
      screen: {turned: TURN, bottom: against base, right: flush with base, front: flush with base}
    wait: {for: wood glue, until: handle}
"""


@pytest.mark.parametrize(
    ("turn", "told"),
    [
        ("90 deg", "Turn the screen a quarter to the left, seen from above."),
        ("-90 deg", "Turn the screen a quarter to the right, seen from above."),
        ("180 deg", "Turn the screen half round, so that its back comes to the front."),
        ("20 deg", "Turn the screen 20° to the left, seen from above."),
        ("-20 deg", "Turn the screen 20° to the right, seen from above."),
    ],
)
@pytest.mark.parametrize("language", ["en", "de", "fr"])
def test_a_sub_assembly_is_turned_before_it_is_glued(turn: str, told: str, language: str) -> None:
    made = model(STAND.replace("TURN", turn))
    wording = Wording(made, read_phrases(language))
    said = plainly(actions(made.worked.usage.steps[1], wording))
    turned, glued = said[1], said[2]
    assert "wood glue" in glued
    if language == "en":
        assert turned == told
        assert glued.startswith("Glue the screen to the base")
    assert turned.startswith({"en": "Turn ", "de": "Drehe ", "fr": "Tournez "}[language])


SCREWED = """\
design: Foot
scale: 1:1
units: mm
stock:
  board: {sheet: 18 mm, sold: 200 x 600 mm}
  brass screw: {bought: 'a brass wood screw, 4 x 30 mm', pack: 10}
parts:
  base:
    stock: board
    wide: 100 mm
    deep: 200 mm
    holes:
      left hole: {round: 4 mm, at: 30 mm from left and 100 mm from front, for: a screw}
      right hole: {round: 4 mm, at: 30 mm from right and 100 mm from front, for: a screw}
  foot:
    stock: board
    wide: 100 mm
    deep: 40 mm
    holes:
      left pilot: {round: 2 mm, on: top, at: 30 mm from left and centred, deep: 14 mm}
      right pilot: {round: 2 mm, on: top, at: 30 mm from right and centred, deep: 14 mm}
  fixing: {stock: brass screw, pieces: [left screw, right screw]}
tools: drill
steps:
  - step: Drill
    treat:
      - {drill: "left hole of base, right hole of base", with: drill}
      - {drill: "left pilot of foot, right pilot of foot", with: drill}
  - step: Screw
    start: foot
    join:
      base: {bottom: against foot, left and right: centred on foot, front and back: centred on foot}
      left screw: {bottom: in left pilot of foot, top: through left hole of base}
OTHEReditions:
  metric: {units: mm, paper: A4}
"""
OTHER = "      right screw: {top: through right hole of base, bottom: in right pilot of foot}\n"


@pytest.mark.parametrize(
    ("pieces", "other", "told"),
    [
        (
            "[left screw]",
            "",
            [
                "Drive the left screw (C) through the left hole of the base (A) into the left "
                "pilot of the foot (B)."
            ],
        ),
        (
            "[left screw, right screw]",
            OTHER,
            [
                "Drive 2 fixings (C) through the base (A) into the foot (B).",
                "They go through the left and right holes into the left and right pilots.",
            ],
        ),
    ],
)
def test_a_screw_through_one_piece_into_another_is_driven_once(
    pieces: str, other: str, told: list[str]
) -> None:
    """In whichever order its sides are said."""
    made = model(SCREWED.replace("[left screw, right screw]", pieces).replace("OTHER", other))
    words = Wording(made, read_phrases("en"))
    said = plainly(actions(made.worked.usage.steps[1], words))
    assert [each for each in said if "Drive" in each or "They" in each] == told


@pytest.mark.parametrize(
    ("wide", "said"),
    [
        (152, "Set the other 8 at equal gaps toward the right, of about 7.2 mm."),
        (154, "Set the other 8 toward the right, with gaps of 7.5 mm."),
    ],
)
def test_gaps_that_do_not_add_up_as_printed_are_about_so_much(wide: int, said: str) -> None:
    """Eight gaps of 7.25 mm: told as 7.2 they would end 0.4 mm short."""
    body = f"""stock: {{board: {{sheet: 2 mm, sold: 200 x 600 mm}}}}
parts:
  base: {{stock: board, wide: {wide} mm, deep: 30 mm}}
  slat: {{stock: board, wide: 10 mm, deep: 30 mm, quantity: 9}}
steps:
  - step: Lay them
    start: base
    join:
      slat: {{bottom: against base, left: 2 mm inside base, front: flush with base, ROW}}
"""
    row = "row: {toward: right, up to: 2 mm inside base}"
    made = model(TOP + body.replace("ROW", row))
    (step,) = made.worked.usage.steps
    assert said in plainly(actions(step, Wording(made, read_phrases("en"))))


HUNG = """design: Hung board
stock:
  board: {sheet: 15 mm, sold: 200 x 1000 mm, cut with: saw}
  hinge: {bought: brass butt hinge 40 mm long with its screws, pack: 2}
  screw: {bought: wood screw 4 x 10 mm, pack: 10}
parts:
  panel:
    stock: board
    wide: 150 mm
    high: 100 mm
    holes:
      hinge hole: {round: 2 mm, at: 30 mm from left, deep: 10 mm, row: {ROW}}
      screw hole: {round: 2 mm, at: 30 mm from left and 10 mm from top, deep: 10 mm, row: {ROW}}
  hinge part: {stock: hinge, quantity: 2}
  screw part: {stock: screw, quantity: 2}
tools: saw, drill
steps:
  - step: Put them on
    start: panel
    treat: {drill: panel, with: drill}
    join:
      hinge part: {back: in hinge hole of panel, row: {toward: right, every: 80 mm}}
      screw part: {back: in screw hole of panel, row: {toward: right, every: 80 mm}}
"""


def test_what_comes_with_its_screws_is_screwed_on_and_one_more_is_the_other_one() -> None:
    """A hinge was driven into its hole, and then “the other 1 into the next holes”."""
    made = model(HUNG.replace("ROW", "toward: right, every: 80 mm, quantity: 2"))
    told = plainly(actions(made.worked.usage.steps[0], Wording(made, read_phrases("en"))))
    assert told[-4:] == [
        "Screw the first hinge part (B) on at the hinge hole of the panel (A).",
        "Screw the other one on at the next hole in the same way.",
        "Drive the first screw part (C) into the screw hole of the panel (A).",
        "Drive the other one into the next hole in the same way.",
    ]


def test_a_mirror_image_on_a_mark_of_its_own_is_told_which() -> None:
    marks = (
        "marks:\n"
        "  left line: {on: top of base, line: 10 mm from left}\n"
        "  right line: {on: top of base, line: 10 mm from right}\n"
    )
    text = BOX.replace("materials:\n", marks + "materials:\n", 1)
    text = text.replace(
        "    start: base\n", "    start: base\n    mark: left line, right line\n", 1
    )
    for side in ("left", "right"):
        text = text.replace(f"{side}: flush with base", f"{side}: at {side} line", 1)
    made = model(text)
    sentences = plainly(actions(made.worked.usage.steps[0], Wording(made, read_phrases("en"))))
    alike = sentences.index("Glue the right side (B) in the same way, as the mirror image.")
    assert sentences[alike + 1] == "Set its right at the right line."
