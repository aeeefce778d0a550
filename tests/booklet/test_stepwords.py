"""What a step lists beside its sentences: cards, waits, tools in use, cautions, headings."""

from __future__ import annotations

import re
from fractions import Fraction
from itertools import pairwise
from pathlib import Path

import pytest
from markupsafe import Markup

from patternpress.assembly.model import work_out
from patternpress.booklet.content import Step, StepGroup
from patternpress.booklet.contentcards import MeasureCard
from patternpress.booklet.fillsteps import finishing, step, steps
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.sentences import actions
from patternpress.booklet.wording import Wording
from patternpress.design.read import read_design, read_text
from tests.booklet.test_sentences import plainly
from tests.whole.demos import DESIGNS
from tests.whole.small import BODY, STEP, TOP, model, worded

FIGURE = re.compile(r"(?:(\d+) )?(\d+)/(\d+)|(\d+(?:\.\d+)?)")


def wording_of(design: str, edition: str) -> Wording:
    made = work_out(read_design(DESIGNS / f"{design}.yaml"), edition)
    return Wording(made, read_phrases("en"))


def groups_of(wording: Wording) -> list[StepGroup]:
    return [*steps(wording), *finishing(wording)[1]]


def steps_of(wording: Wording) -> list[Step]:
    return [each for group in groups_of(wording) for each in group.steps]


def figures(shown: str) -> list[Fraction]:
    """The ends of a figure or a range as a reader sees them, in the unit that leads."""
    plain = Markup(shown).striptags().replace("\u202f", " ").replace("\u2044", "/")
    plain = plain.replace("\u00a0", " ")
    plain = re.sub(r"\(.*?\)", "", plain)
    found = []
    for whole, top, bottom, decimal in FIGURE.findall(plain):
        part = Fraction(int(top), int(bottom)) if top else Fraction(0)
        found.append(Fraction(decimal) if decimal else Fraction(int(whole or 0)) + part)
    return [found[0], found[-1]]


def in_brackets(shown: str) -> str:
    """The figure of the second system."""
    return Markup(shown).striptags().partition("(")[2].rstrip(")")


@pytest.mark.parametrize("design", ["keepers-desk", "net-tote"])
@pytest.mark.parametrize("edition", ["metric", "inch", "both"])
def test_the_sums_of_a_card_add_up_as_printed(design: str, edition: str) -> None:
    cards: list[MeasureCard] = [c for s in steps_of(wording_of(design, edition)) for c in s.measure]
    assert cards
    for row in (row for card in cards for row in card.rows):
        opening = figures(row.planned)[0]
        for result in row.results:
            least, most = figures(result.less)
            assert figures(result.planned) == [opening - most, opening - least]
            if edition == "both":
                whole, off, left = (
                    figures(in_brackets(each))
                    for each in (row.planned, result.less, result.planned)
                )
                assert left == [whole[0] - off[1], whole[0] - off[0]]


PAIR = """design: Tray
scale: 1:12
stock:
  board: {sheet: 2 mm}
parts:
  base: {stock: board, wide: OPENING mm + 4 mm, deep: 30 mm}
  rim: {stock: board, deep: 30 mm, high: 8 mm, pieces: [left rim, right rim]}
  leaf:
    stock: board
    fitted: gap
    less: {wide: 0.9 to 1.6 mm}
    share: {wide: COUNT}
    deep: 10 mm
    quantity: COUNT
openings:
  gap: {between: left rim and right rim, wide: OPENING mm}
steps:
  - step: Measure
    measure: gap
    cut: leaf
editions:
  metric: {units: mm, paper: A4}
  inch: {units: in, paper: Letter}
"""


@pytest.mark.parametrize("opening", ["36", "35.7", "52.35"])
@pytest.mark.parametrize("count", [2, 3])
@pytest.mark.parametrize("edition", ["metric", "inch"])
def test_what_shares_an_opening_is_divided_and_adds_up_as_printed(
    opening: str, count: int, edition: str
) -> None:
    text = PAIR.replace("OPENING", opening).replace("COUNT", str(count))
    wording = Wording(work_out(read_text(text, "tray.yaml", Path()), edition), read_phrases("en"))
    leaf = wording.model.worked.part("leaf")
    assert leaf is not None
    assert leaf.extents["wide"].value == (Fraction(opening) - Fraction("0.9")) / count
    assert leaf.smallest["wide"].value == (Fraction(opening) - Fraction("1.6")) / count
    (card,) = [c for s in steps_of(wording) for c in s.measure]
    (row,) = card.rows
    (result,) = row.results
    off, _, rest = str(result.less).partition(", then divide by")
    assert figures(rest) == [count, count]
    whole, (least, most) = figures(row.planned)[0], figures(off)
    assert figures(result.planned) == [(whole - most) / count, (whole - least) / count]


@pytest.mark.parametrize("edition", ["metric", "inch", "both"])
def test_a_card_says_how_often_a_board_is_in_what_is_taken_off(edition: str) -> None:
    """The drawer's floor goes between two sides of thin board, behind a front of lime."""
    (card,) = [c for s in steps_of(wording_of("keepers-desk", edition)) for c in s.measure]
    said = [
        [plainly([each.boards])[0] if each.boards else "" for each in row.results]
        for row in card.rows
    ]
    assert said == [
        ["", "with 2 × thin board", "with 2 × thin board"],
        ["with 1 × lime board", "with 1 × lime board and 1 × thin board"],
        ["", "", ""],
    ]
    assert "as often as the line says" in card.words


def test_no_board_is_named_that_is_in_no_sum() -> None:
    (card,) = [c for s in steps_of(wording_of("smaller/oil-cupboard", "metric")) for c in s.measure]
    assert "reckon" not in card.words


def test_like_openings_share_a_card_with_a_column_each() -> None:
    (card,) = [c for s in steps_of(wording_of("keepers-desk", "metric")) for c in s.measure]
    assert card.columns == ("left drawer", "right drawer")
    # 0.3 off the front and 2.5 off the back are each right, and leave a box 0.2 mm too narrow.
    assert "the smaller figure everywhere or the larger one everywhere" in card.words
    assert [plainly([row.what])[0] for row in card.rows] == [
        "width of the opening",
        "depth of the opening",
        "height of the opening",
    ]
    (card,) = [c for s in steps_of(wording_of("net-tote", "metric")) for c in s.measure]
    assert card.columns == ()


def test_one_range_alone_is_not_told_to_be_taken_everywhere() -> None:
    text = PAIR.replace("OPENING", "36").replace("COUNT", "2")
    wording = Wording(model(text), read_phrases("en"))
    (card,) = step(wording.model.worked.usage.steps[0], 1, wording).measure
    assert card.rows and "everywhere" not in card.words


def test_what_holds_for_a_step_stands_before_it_and_is_no_action() -> None:
    said = {made.title: made for made in steps_of(wording_of("signal-shelf", "metric"))}
    dyed, lamps = said["Dye the parts"], said["Build the lamps"]
    assert plainly(dyed.whole) == ["Only if you chose dyed."]
    assert plainly(lamps.whole) == ["Do this step twice: for the left lamp and the right lamp."]
    for made in (dyed, lamps):
        assert not {*made.whole} & {*made.actions}


@pytest.mark.parametrize("design", ["keepers-desk", "signal-shelf", "net-tote"])
def test_no_check_stands_after_a_wait_unless_it_is_said_to(design: str) -> None:
    wording = wording_of(design, "metric")
    for said, made in zip(wording.model.worked.usage.steps, steps_of(wording), strict=True):
        late = [each for each in said.check if each.when and each.when.value == "after waiting"]
        assert len(made.later_checks) == len(late)


@pytest.mark.parametrize("design", ["keepers-desk", "signal-shelf", "net-tote"])
def test_what_the_lines_use_is_laid_ready(design: str) -> None:
    wording = wording_of(design, "metric")
    for said, made in zip(wording.model.worked.usage.steps, steps_of(wording), strict=True):
        ready = str(made.uses).lower()
        for treatment in (*said.treat, *said.afterwards):
            assert treatment.with_ is None or treatment.with_.value in ready
        for hold in said.hold:
            assert hold.with_.value in ready
        if any(" with wood glue" in each for each in made.actions):
            assert "wood glue" in ready


def test_a_stretch_of_one_step_has_no_heading_of_its_own() -> None:
    for design in ("keepers-desk", "signal-shelf", "net-tote"):
        found = groups_of(wording_of(design, "metric"))
        for before, group in pairwise(found):
            single = len(group.steps) == 1 and not before.heading
            assert not (single and group.heading)
    headed = [str(g.heading) for g in groups_of(wording_of("keepers-desk", "metric")) if g.heading]
    assert "Build the left drawer and the right drawer" in headed


LADDER = """design: Ladder
scale: 1:12
stock:
  strip: {strip: 4 mm, sold: 600 mm, cut with: fine saw}
  board: {sheet: 2 mm, sold: 100 x 600 mm, cut with: fine saw}
parts:
  base: {stock: board, wide: 60 mm, deep: 60 mm}
  string: {stock: strip, high: 40 mm, leans: foot 12 deg to the front, ends: {bottom: level},
           pieces: [left string, right string]}
  low rung: {stock: strip, wide: 20 mm}
  box: {stock: board, wide: 20 mm, deep: 20 mm}
  rim: {stock: board, wide: 20 mm, high: 6 mm}
sub-assemblies: {ladder: {}, tray: {}}
tools: fine saw
materials:
  wood glue: {kind: glue, workable: 5 to 10 min, handle: 30 min, hard: 24 h}
steps:
  - step: Rungs
    builds: ladder
    start: left string
    join:
      low rung: {left: against left string, bottom: 8 mm inside left string,
                 front: 4 mm inside left string}
    wait: {for: wood glue, until: handle}
  - step: Close it
    builds: ladder
    join:
      right string: {left: against low rung, bottom: flush with left string,
                     front: flush with left string}
    wait: {for: wood glue, until: handle}
  - step: Tray
    builds: tray
    start: box
    join: {rim: {bottom: against box, left: flush with box, front: flush with box}}
    wait: {for: wood glue, until: handle}
  - step: Set them
    start: base
    join:
      ladder: {bottom: loose against base, left: flush with base, front: flush with base}
      tray: {bottom: against base, right: flush with base, back: flush with base}
    wait: {for: wood glue, until: hard}
"""


def test_a_single_step_says_what_it_builds_and_a_ladder_leans_in_its_place() -> None:
    wording = Wording(model(LADDER), read_phrases("en"))
    assert [str(each.heading) for each in steps(wording)] == [
        "Build the ladder", "Build the tray", "On the whole piece",
    ]  # fmt: skip
    told = [plainly(each.actions) for each in steps_of(wording)]
    lean = "Let its foot lean 12° to the front."
    assert [lean in each for each in told] == [False, False, False, True]


def test_a_caution_of_the_authors_stands_beside_its_step_and_no_other() -> None:
    told = {
        made.title: [str(each.hazard) for each in made.cautions]
        for made in steps_of(wording_of("net-tote", "metric"))
    }
    spade = [title for title, hazards in told.items() if any("spade bit" in h for h in hazards)]
    assert spade == ["Groove and drill the ends", "Drill the sides and cut the hand holds"]


def test_a_finish_waits_for_each_answer() -> None:
    lines = (
        "finishing:\n  - step: Finish\n    treat:\n"
        "    - {oil: work, with: oil, only if: oiled}\n"
        "    - {paint: work, with: paint, coats: 2}\n"
    )
    body = BODY.replace("oil: {kind: finish, only", "oil: {kind: finish, handle: 12 h, only")
    body += "  paint: {kind: finish, handle: 2 h}\n"
    wording = Wording(model(TOP + body + STEP + lines), read_phrases("en"))
    said = wording.model.worked.usage.steps[1]
    assert step(said, 2, wording).wait == (
        "If you chose oiled: 12 hours until the oil can be handled."
        " 2 hours until the paint can be handled."
    )
    assert "Let each coat dry for 2 hours." in plainly(actions(said, wording))


def test_what_is_noted_at_a_coat_comes_before_the_time_it_dries() -> None:
    lines = "treat: [{paint: work, with: paint, coats: 2, note: Brush it out thinly.}]"
    step, words = worded(lines, body=BODY + "  paint: {kind: finish, handle: 2 h}\n")
    assert plainly(actions(step, words)) == [
        "Paint the whole work, in 2 coats. Brush it out thinly.",
        "Let each coat dry for 2 hours.",
    ]


def test_a_row_of_holes_says_first_how_many() -> None:
    rowed = "from top, row: {toward: back, every: 6 mm, quantity: 5}}"
    body = BODY.replace("from top}", rowed)
    step, words = worded("treat: [{drill: pin hole of side}]", body=body)
    assert plainly(actions(step, words)) == [
        "Drill 5 pin holes in each side (B), 1 mm across.",
        "The centre of the first is 5 mm from the front and 5 mm from the top.",
        "The others follow in a row toward the back, 6 mm apart.",
    ]


def test_grooves_say_width_depth_length_and_place() -> None:
    """Grooves stopped 1/8 in short of both ends of 2 1/2 in are 2 1/4 in long."""
    wording = wording_of("signal-shelf", "inch")
    said = [each for each in wording.model.worked.usage.steps if "Groove" in each.step.main.value]
    shown = [
        each.replace("\u2044", "/").replace("\u202f", " ")
        for each in plainly(actions(said[0], wording))
    ]
    assert shown[3:6] == [
        "They are 3/32 in wide and 1/32 in deep.",
        "Each is 2 1/4 in long and stops 1/8 in short of the left and the right.",
        "The near edge of the lower groove is 3/4 in from the bottom.",
    ]
    assert "with the mini drill" in shown[8]
    assert shown[8].startswith("Drill the left, middle and right peg holes of the backboard (B)")


MIRRORED = BODY.replace(
    "pin hole: {round: 1 mm, at: 5 mm from front and 5 mm from top}",
    "pin hole: {round: 1 mm, on: top, at: 1.5 mm from left and 5 mm from front, deep: 3 mm}",
)


@pytest.mark.parametrize(
    ("target", "told"),
    [
        ("pin hole of left side", ["1.5 mm from the left and 5 mm from the front, on the top."]),
        ("pin hole of right side", ["1.5 mm from the right and 5 mm from the front, on the top."]),
        (
            "pin hole of side",
            [
                "1.5 mm from the left and 5 mm from the front, on the top.",
                "Drill the pin hole of the right side (B), 1 mm across and 3 mm deep.",
                "1.5 mm from the right and 5 mm from the front, on the top.",
            ],
        ),
    ],
)
def test_on_a_mirrored_piece_a_hole_is_told_from_the_side_that_it_has(
    target: str, told: list[str]
) -> None:
    step, words = worded(f"treat: [{{drill: {target}}}]", body=MIRRORED)
    said = plainly(actions(step, words))
    assert [each.removeprefix("Its centre is ") for each in said[1:]] == told
