"""The sentences of a step: one for each way of placing and each treatment, short, one action each.

The limit of 20 words is common practice in plain writing of instructions; no standard asks for it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable

import pytest
from hypothesis import given
from hypothesis import strategies as st
from markupsafe import Markup

from patternpress.assembly.checks.prose import MOST_WORDS
from patternpress.booklet.plain import short, words_in
from patternpress.booklet.sentences import actions
from patternpress.design.phrases import PLACING
from patternpress.design.records.work import Treatment
from tests.whole.small import BODY, worded


def said(lines: str, edition: str = "metric") -> list[str]:
    """The sentences of a step, without their markup."""
    step, wording = worded(lines, edition)
    return plainly(actions(step, wording))


def plainly(sentences: Iterable[Markup]) -> list[str]:
    return [each.striptags().replace("\u00a0", " ") for each in sentences]


def joined(place: str) -> list[str]:
    return said(f"join:\n  shelf: {{left: '{place}'}}")


ANY = worded()[1]
SET = "Set the shelf (C) in its place."
PIN_HOLE = "pin hole of the left side (B)"
PLACES = {
    "against": ("against base", ["Glue the shelf (C) to the base (A) with wood glue."]),
    "loose against": (
        "loose against base",
        ["Lay the shelf (C) against the base (A)."],
    ),
    "flush": ("flush with base", [SET, "Keep its left flush with the base (A)."]),
    "inside": ("2 mm inside base", [SET, "Set its left 2 mm inside the left of the base (A)."]),
    "beyond": (
        "1 mm beyond base",
        [SET, "Let its left stand out 1 mm past the left of the base (A)."],
    ),
    "centred": ("centred on base", [SET, "Centre it on the base (A), from left to right."]),
    "from": (
        "12 mm from left of base",
        [SET, "Set its left 12 mm from the left of the base (A)."],
    ),
    "in hole": (
        "in pin hole of left side, 2 mm deep",
        [f"Push the left of the shelf (C) 2 mm deep into the {PIN_HOLE} with wood glue."],
    ),
    "loose through hole": (
        "loose through pin hole of left side",
        [f"Push the shelf (C) through the {PIN_HOLE}, without glue."],
    ),
    "through hole": (
        "through pin hole of left side",
        [f"Push the shelf (C) through the {PIN_HOLE} with wood glue."],
    ),
    "loose in hole": (
        "loose in pin hole of left side",
        [f"Push the left of the shelf (C) into the {PIN_HOLE}, without glue."],
    ),
    "on mark": ("on shelf line", [SET, "Set its left on the shelf line."]),
    "under mark": ("under shelf line", [SET, "Set its left just under the shelf line."]),
    "over mark": ("over shelf line", [SET, "Set its left just over the shelf line."]),
    "at mark": ("at shelf line", [SET, "Set its left at the shelf line."]),
}


def test_every_way_of_placing_is_tried_here() -> None:
    assert set(PLACES) == {how for how, _ in PLACING}


@pytest.mark.parametrize("how", PLACES)
def test_a_place(how: str) -> None:
    phrase, sentences = PLACES[how]
    assert joined(phrase) == sentences


TREATMENTS = {
    "round over": (
        "top edge of base\n  by: 0.5 mm",
        "Round over the top of the base (A) by 0.5 mm.",
    ),
    "ease": ("all edges of base", "Take the sharpness off the edges of the base (A)."),
    "chamfer": (
        "top front edge of base\n  by: 1 mm",
        "Chamfer the top front edge of the base (A) by 1 mm.",
    ),
    "drill": (
        "pin hole of left side\n  by: 2 mm\n  with: fine saw",
        "Drill the pin hole of the left side (B), 1 mm across and 2 mm deep, with the fine saw.",
    ),
    "groove": ("base", "Cut the grooves in the base (A)."),
    "sand": ("top of base\n  with: block", "Sand the top of the base (A) smooth, with the block."),
    "sand flush": ("frame", "Sand the frame flush."),
    "sand off": ("base", "Sand the marks off the base (A)."),
    "dye": ("work", "Dye the whole work."),
    "paint": (
        "work\n  coats: 2\n  only if: oiled",
        "If you chose oiled: paint the whole work, in 2 coats.",
    ),
    "varnish": ("work\n  with: oil", "Varnish the whole work, with oil."),
    "wax": ("work\n  with: oil", "Wax the whole work, with oil."),
    "oil": ("work\n  with: oil", "Oil the whole work."),
    "leave bare": ("top of base", "Leave the top of the base (A) bare."),
    "resist": ("top of base", "Smear glue on the top of the base (A), so that no dye takes there."),
    "bend": ("shelf", "Bend the shelf (C)."),
    "fill": ("base\n  note: Wipe at once.", "Fill the gaps in the base (A). Wipe at once."),
}


def test_every_treatment_is_tried_here() -> None:
    assert set(TREATMENTS) == set(Treatment.one_of)


@pytest.mark.parametrize("verb", TREATMENTS)
@pytest.mark.parametrize("when", ["treat", "afterwards"])
def test_a_treatment(verb: str, when: str) -> None:
    rest, sentence = TREATMENTS[verb]
    assert said(f"{when}:\n- {verb}: {rest}") == [sentence]


OTHERS = [
    ("start: base\njoin: {shelf: {left: against left side}}", "Lay the base (A) on the bench."),
    ("work lies: on its top", "Turn the work over, so that it lies on its top."),
    ("work lies: on its left", "Lay the work on its left side."),
    ("rub out: shelf line", "Rub out the shelf line."),
    ("cut: shelf, slat", "Cut the shelf (C) and 4 slats (F)."),
    (
        "mark: shelf line",
        "Draw the shelf line on the right of the left side (B), 12 mm from the bottom.",
    ),
    (
        "join: {shelf: {bottom: against base, leans: back raised by 12 deg}}",
        "Let its back be raised by 12°.",
    ),
    (
        "join: {shelf: {bottom: against base, leans: top 8.5 deg to the left}}",
        "Let its top lean 8.5° to the left.",
    ),
    (
        "join: {slat: {left: against base, row: {toward: right, every: 8 mm}}}",
        "Set the other 3 in a row toward the right, 8 mm from one to the next.",
    ),
    (
        "join: {slat: {left: against base, row: {toward: right, up to: 4 mm inside base}}}",
        "For the last one: set its right 4 mm inside the right of the base (A).",
    ),
]


@pytest.mark.parametrize(("lines", "sentence"), OTHERS)
def test_the_other_sentences(lines: str, sentence: str) -> None:
    assert sentence in said(lines)


@pytest.mark.parametrize(
    ("edges", "sentences"),
    [
        (
            "bottom: arched 4 mm",
            ["Draw the shelf line on the right of the left side (B), 18 mm from the top."],
        ),
        (
            "bottom: arched 4 mm, top: hollowed 4 mm",
            [
                "Draw the shelf line on the right of the left side (B), 12 mm from the bottom.",
                "Take it from the template: no straight edge is left there to measure from.",
            ],
        ),
    ],
)
def test_a_line_is_measured_from_an_edge_that_is_there(edges: str, sentences: list[str]) -> None:
    body = BODY.replace("    high: 30 mm\n", f"    high: 30 mm\n    edges: {{{edges}}}\n")
    step, wording = worded("mark: shelf line", body=body)
    assert plainly(actions(step, wording)) == sentences


def test_contacts_come_first_and_each_place_once() -> None:
    lines = (
        "join:\n  shelf: {bottom: on shelf line, left: against left side, right: against right"
        " side, front: flush with left side, back: flush with left side}"
    )
    assert said(lines) == [
        "Glue the shelf (C) to the left side (B) and the right side (B) with wood glue.",
        "Set its bottom on the shelf line.",
        "Keep its front and back flush with the left side (B).",
    ]


def test_what_is_not_glued_says_so() -> None:
    lines = "join: {shelf: {left: against left side, bottom: loose against base}}"
    assert said(lines)[1] == "Let its bottom only touch the base (A)."


def test_the_authors_own_sentences_stand_in_place_of_the_made_ones() -> None:
    lines = "say: [Do this with <shelf>., And that.]\njoin: {shelf: {left: against base}}"
    assert said(lines) == ["Do this with shelf (C).", "And that."]


def test_what_the_author_also_says_follows_the_made_ones() -> None:
    lines = "join: {shelf: {left: against base}}\nalso say: Nail through the <base>."
    made = said("join: {shelf: {left: against base}}")
    assert said(lines) == [*made, "Nail through the base (A)."]
    assert said("also say: Look at the <base>.") == ["Look at the base (A)."]


def test_the_order_is_the_order_at_the_bench() -> None:
    lines = (
        "start: base\nmark: shelf line\ntreat:\n- sand: base\n"
        "join: {shelf: {left: against base}}\nafterwards:\n- sand flush: frame"
    )
    verbs = [sentence.split()[0] for sentence in said(lines)]
    assert verbs == ["Lay", "Sand", "Draw", "Glue", "Sand"]


def test_holes_of_one_piece_share_a_sentence_and_windows_are_cut_out() -> None:
    holes = (
        "      pin hole: {round: 1 mm, at: 5 mm from front and 5 mm from top}\n"
        "      low hole: {round: 1 mm, at: 5 mm from front and 5 mm from bottom}\n"
        "      port: {window: 8 x 6 mm, at: centre}\n"
    )
    first = "      pin hole: {round: 1 mm, at: 5 mm from front and 5 mm from top}\n"
    step, wording = worded(
        "treat:\n- drill: pin hole of side, low hole of side, port of side",
        body=BODY.replace(first, holes),
    )
    assert plainly(actions(step, wording)) == [
        "Drill the pin and low holes of each side (B), 1 mm across.",
        "Saw out the port of each side (B), 8 × 6 mm.",
    ]


@pytest.mark.parametrize(
    ("deep", "more"),
    [("", []), (", deep: 1.5 mm", ["Its depth counts from the face, not from that floor."])],
)
def test_the_wide_hole_is_made_before_the_narrow_one_in_its_floor(
    deep: str, more: list[str]
) -> None:
    first = "      pin hole: {round: 1 mm, at: 5 mm from front and 5 mm from top}\n"
    narrow = "      low hole: {round: 1 mm, at: 5 mm from front and 5 mm from bottomDEEP}\n"
    narrow = (narrow + first.replace("}", "DEEP}")).replace("DEEP", deep)
    wide = "      recess: {round: 3 mm, at: 5 mm from front and 5 mm from top, deep: 0.8 mm}\n"
    treat = "treat:\n- drill: low hole of side, pin hole of side, recess of side"
    step, wording = worded(treat, body=BODY.replace(first, narrow + wide))
    across = "1 mm across and 1.5 mm deep." if deep else "1 mm across."
    assert plainly(actions(step, wording)) == [
        f"Drill the low hole of each side (B), {across}",
        "Drill the recess of each side (B), 3 mm across and 0.8 mm deep.",
        f"Drill the pin hole of each side (B), {across}",
        "Make the recess first, then go on from the middle of its floor.",
        *more,
    ]


def test_a_hole_beside_a_corner_that_is_cut_away_says_how_to_measure() -> None:
    plain = "  shelf: {stock: board, wide: 76 mm, deep: 36 mm}\n"
    hole = "holes: {peg hole: {round: 1 mm, on: back, at: 5 mm from left, deep: 4 mm}}"
    for corner, more in (("right", []), ("left", ["Measure as if the corner were still there: "])):
        shaped = f"corners: {{back {corner}: notch 8 x 6 mm}}, {hole}}}\n"
        shelf = plain.replace("}\n", f", {shaped}")
        step, wording = worded(
            "treat:\n- drill: peg hole of shelf", body=BODY.replace(plain, shelf)
        )
        words = plainly(actions(step, wording))
        assert words[0] == "Drill the peg hole of the shelf (C), 1 mm across and 4 mm deep."
        assert words[1] == "Its centre is 5 mm from the left and half way up, on the back."
        assert [each.partition("it is cut")[0] for each in words[2:]] == more


def test_a_mark_by_points_says_where_in_a_sentence_of_its_own() -> None:
    marks = "  hook dot: {on: top of base, dot: 5 mm from left and 8 mm from back}\nchoices:"
    step, wording = worded("mark: hook dot", body=BODY.replace("\nchoices:", marks))
    assert plainly(actions(step, wording)) == [
        "Make the hook dot, a small dot, on the top of the base (A).",
        "It goes 5 mm from the left and 8 mm from the back.",
    ]


@given(st.lists(st.sampled_from(("the lid", "the left runner", "it")), min_size=1, max_size=12))
def test_long_lists_are_told_in_several_short_sentences(names: list[str]) -> None:
    things = [Markup(name) for name in names]
    sentences = list(short(things, lambda held: Markup("Sand {}.").format(held), ANY))
    assert all(words_in(each) <= MOST_WORDS for each in sentences)
    told = [re.split(", | and ", each[len("Sand ") : -1]) for each in sentences]
    assert [name for each in told for name in each] == names


@pytest.mark.parametrize(
    ("sentence", "words"),
    [
        ("Glue the shelf (C) against the base (A).", 6),
        ("Set it 3 5⁄32 in (80 mm) from the left.", 8),
        ("Lay it down; wait.", 4),
    ],
)
def test_words_are_counted_as_one_reads_them(sentence: str, words: int) -> None:
    shown = (
        sentence.replace("3 5", "3\u202f5").replace(" in", "\u00a0in").replace(" mm", "\u00a0mm")
    )
    assert words_in(Markup(shown)) == words
