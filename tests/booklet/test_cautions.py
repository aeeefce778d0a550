"""Cautions stand in front, grouped, and again at the work (ISO 3864-2, IEC/IEEE 82079-1).

Which hazard a step has is told by what it does; the rows below are common knowledge of the trade.
"""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from patternpress.assembly.model import work_out
from patternpress.booklet.content import Caution, Step
from patternpress.booklet.fillsteps import finishing, steps
from patternpress.booklet.hazards import HAZARDS
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.usual import caution_groups, cutting_cautions, step_cautions
from patternpress.booklet.wording import Wording, wording_of
from patternpress.design.read import read_design
from tests.whole.small import BODY, STEP, TOP, model, worded

DEMOS = [
    ("keepers-desk", "metric"),
    ("keepers-desk", "one-sixth"),
    ("net-tote", "inch"),
    ("signal-shelf", "inch"),
    ("signal-shelf", "deutsch"),
]
DESIGNS = Path(__file__).parents[2] / "designs"


@cache
def demo(design: str, edition: str) -> Wording:
    return wording_of(work_out(read_design(DESIGNS / f"{design}.yaml"), edition))


def in_front(wording: Wording) -> list[Caution]:
    return [each for group in caution_groups(wording) for each in group.cautions]


def all_steps(wording: Wording) -> list[Step]:
    groups = (*steps(wording), *finishing(wording)[1])
    return [step for group in groups for step in group.steps]


def at_the_work(wording: Wording) -> list[Caution]:
    beside = [each for step in all_steps(wording) for each in step.cautions]
    return [*cutting_cautions(wording), *beside]


@pytest.mark.parametrize("made", DEMOS, ids="-".join)
def test_what_stands_in_front_stands_at_the_work_and_the_other_way_round(
    made: tuple[str, str],
) -> None:
    wording = demo(*made)
    front = {each.kind: each.signal for each in in_front(wording)}
    assert len(front) > 6
    again = {each.kind: each.signal for each in at_the_work(wording) if each.kind}
    assert again == front


@pytest.mark.parametrize("made", DEMOS, ids="-".join)
def test_each_has_a_hazard_what_follows_and_how_to_avoid_it(made: tuple[str, str]) -> None:
    for each in (*in_front(demo(*made)), *at_the_work(demo(*made))):
        if each.kind:  # a step's own notice of spoiled work is a sentence
            assert each.hazard and each.consequence and each.avoidance, each


@pytest.mark.parametrize("language", ["en", "de", "fr"])
def test_the_words_at_a_step_are_sentences_of_nine_words_at_most(language: str) -> None:
    texts = read_phrases(language).texts
    for hazard in HAZARDS:
        for part, most in (("hazard", 1), ("result", 1), ("avoid", 3)):
            said = texts[f"{hazard.key}_here_{part}"]
            assert said.endswith(".") and said.count(".") <= most, said
            assert len(said.split()) <= 9, said


def kinds(lines: str) -> set[str]:
    """What stands at the second step of a small design, whose lines are given."""
    body = BODY.replace("  block:", "  block:\n  craft knife:\n  jigsaw:")
    text = TOP + body + STEP + f"  - step: Work on\n    {lines}\n"
    made = model(text)
    return {each.kind for each in all_steps(wording_of(made))[1].cautions}


@pytest.mark.parametrize(
    ("lines", "kind"),
    [
        ("uses: fine saw", "saw"),
        ("uses: craft knife", "blade"),
        ("uses: jigsaw", "power_saw"),
        ("uses: jigsaw", "dust"),
        ("treat: [{varnish: work, with: oil}]", "varnish"),
        ("treat: [{wax: work, with: oil}]", "wax"),
        ("treat: [{drill: pin hole of side}]", "drill"),
        ("say: Drill on through the base.", "drill"),
        ("treat: [{sand: base}]", "dust"),
        ("uses: fine saw", "dust"),
        ("meanwhile: Sand the slats smooth.", "dust"),
        ("treat: [{dye: base}]", "colour"),
        ("treat: [{oil: work, with: oil}]", "finish"),
        ("wait: {for: wood glue, until: hard}", "glue"),
    ],
)
def test_a_hazard_is_told_from_what_a_step_does(lines: str, kind: str) -> None:
    assert kind in kinds(lines)
    assert kinds("say: Turn it round and look at it.") == set()


def test_a_saw_with_a_motor_is_none_that_catches_short_pieces() -> None:
    assert "saw" not in kinds("uses: jigsaw")
    assert {"saw", "power_saw"} <= kinds("uses: jigsaw, fine saw")
    assert "power_saw" not in kinds("uses: fine saw")


def test_instant_glue_has_its_own_words_and_is_no_glue_that_only_sticks() -> None:
    assert kinds("wait: {for: wood glue, until: hard}") == {"glue"}
    body = BODY.replace("wood glue", "instant glue")
    text = TOP + body + STEP.replace("wood glue", "instant glue")
    text += "  - step: On\n    wait: {for: instant glue, until: hard}\n"
    wording = wording_of(model(text))
    assert {each.kind for each in all_steps(wording)[1].cautions} == {"instant"}
    found = {each.kind: each for each in in_front(wording)}
    assert "glue" not in found
    assert "soapy water" in found["instant"].avoidance


def test_bought_screws_of_a_piece_at_full_size_are_no_toys() -> None:
    """In a miniature as large, they are."""
    body = BODY.replace("mm", "cm").replace("35/64 in", "5 mm")
    step = STEP + "    join:\n      knob: {bottom: in pin hole of left side}\n"
    kinds_of = {
        scale: {
            each.kind
            for each in in_front(wording_of(model(TOP.replace("1:12", scale) + body + step)))
        }
        for scale in ("1:12", "1:1")
    }
    assert kinds_of["1:12"] - kinds_of["1:1"] == {"small"}


SAWN = "{drill: pin hole of side, with: fine saw}"


def test_a_hole_that_is_sawn_is_begun_with_a_drill_and_has_no_stop() -> None:
    lines = f"treat: [{SAWN}]"
    assert kinds(lines) == {"saw", "dust", "drill"}
    step, words = worded(lines)
    (saw,) = (each for each in step_cautions(step, 1, words) if each.kind == "saw")
    assert saw.hazard == "A thin saw blade can snap."


def test_what_a_knife_cuts_out_round_a_sawn_hole_leaves_the_saw_without_a_stop() -> None:
    text = TOP + BODY.replace("cut with: fine saw", "cut with: block", 1) + STEP
    words = Wording(model(f"{text}    treat: [{SAWN}]\n    cut: side\n"), read_phrases("en"))
    cautions = step_cautions(words.model.worked.usage.steps[0], 1, words)
    (saw,) = (each for each in cautions if each.kind == "saw")
    assert saw.hazard == "A thin saw blade can snap."


def test_a_step_says_how_grave_its_own_caution_is() -> None:
    step, words = worded("caution: [{word: warning, hazard: It burns.}, It stains.]")
    told = [(each.signal.value, each.hazard) for each in step_cautions(step, 1, words)]
    assert told == [("warning", "It burns."), ("notice", "It stains.")]


def test_small_pieces_are_told_at_the_first_step_that_brings_one() -> None:
    beside = [[each.kind for each in s.cautions] for s in all_steps(demo("keepers-desk", "metric"))]
    assert [n for n, found in enumerate(beside, 1) if "small" in found] == [2]


def test_what_cuts_parts_out_is_told_at_the_cutting_list() -> None:
    tote = [each.kind for each in cutting_cautions(demo("net-tote", "metric"))]
    assert tote == ["saw", "dust", "small", "author 1"]  # its mitre saw throws offcuts
    desk = [each.kind for each in cutting_cautions(demo("keepers-desk", "metric"))]
    assert desk == ["blade", "saw", "dust", "small"]


def test_the_gravest_stands_first() -> None:
    order = ["warning", "caution", "notice"]
    for step in all_steps(demo("signal-shelf", "metric")):
        found = [order.index(each.signal.value) for each in step.cautions]
        assert found == sorted(found), step.title


def test_an_authors_caution_ends_its_sentences() -> None:
    """They stand in a row: “… too far forward You can fall.”"""
    said = "cautions:\n  - {hazard: it tips forward, result: You can fall., avoid: Hold on}\n"
    wording = wording_of(model(TOP + said + BODY + STEP + "    say: Stand on it.\n"))
    found = (each for group in caution_groups(wording) for each in group.cautions)
    (own,) = (each for each in found if each.kind == "author 1")
    assert [str(each) for each in (own.hazard, own.consequence, own.avoidance)] == [
        "It tips forward.",
        "You can fall.",
        "Hold on.",
    ]
