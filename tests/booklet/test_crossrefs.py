"""References with pages: what refers to what, and the widths that balance lines."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from patternpress.booklet import content as c
from patternpress.booklet.contentcards import MeasureCard
from patternpress.booklet.crossrefs import referred
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.sizing import balanced_width
from patternpress.booklet.typeset import typeset
from tests.booklet.sample import sample

SAW = c.Caution(c.Signal.WARNING, "Saw teeth catch.", "They cut.", "Use a stop.", kind="saw")
CARD = MeasureCard("opening", (), letters="J")


def made() -> c.Content:
    """Two steps: the first speaks of A and measures for J, the second brings both."""
    steps = (
        c.Step("1", "Mark", ("Mark the end (A).",), measure=(CARD,), cautions=(SAW,)),
        c.Step(
            "2", "Glue", ("Glue it.",), brought=(c.Brought("A", "end"), c.Brought("J", "front"))
        ),
    )
    rows = (
        c.CutRow("A", "end", 1, "9"),
        c.CutRow("J", "front", 1, "8"),
        c.CutRow("K", "lid", 1, "7"),
    )
    return replace(
        sample(),
        cutting=(c.CutGroup("board", rows),),
        cautions=(c.CautionGroup("Cutting", (SAW,)),),
        templates=(
            c.TemplatePage("Sheet 1", c.NO_PICTURE, "B"),
            c.TemplatePage("2", c.NO_PICTURE, "A, J"),
        ),
        steps=(c.StepGroup("", steps),),
    )


def test_the_list_leads_to_templates_and_cards() -> None:
    (group,) = referred(made(), read_phrases("en")).cutting
    assert [[ref.to for ref in row.see] for row in group.rows] == [
        ["template-2"],
        ["card-1-1", "template-2"],
        [],
    ]


def test_a_step_leads_to_a_template_once_and_to_each_card_of_what_it_brings() -> None:
    (group,) = referred(made(), read_phrases("en")).steps
    assert [[ref.to for ref in step.see] for step in group.steps] == [
        ["template-2"],
        ["template-2", "card-1-1"],
    ]
    words = [str(ref.words.striptags()) for ref in group.steps[1].see]
    assert words == [
        "Template of J: page .",
        "Sizes of J: on the card of step 1, page .",
    ]


@pytest.mark.parametrize("language", ["en", "de", "fr"])
def test_a_caution_leads_to_the_step_where_it_stands_again(language: str) -> None:
    content = referred(made(), read_phrases(language))
    (caution,) = content.cautions[0].cautions
    assert [ref.to for ref in caution.see] == ["step-1"]
    assert 'data-page-of="step-1"' in caution.see[0].words
    other = replace(made(), cautions=(c.CautionGroup("", (replace(SAW, kind="glue"),)),))
    assert referred(other, read_phrases(language)).cautions[0].cautions[0].see == ()


def test_a_letter_stays_with_its_name() -> None:
    assert typeset("<p>Glue the shelf (D) on.</p>") == "<p>Glue the shelf&nbsp;(D) on.</p>"
    assert typeset("<p>as it is (or not)</p>") == "<p>as it is (or not)</p>"


@given(st.lists(st.text("abcdefgh", min_size=1, max_size=9), min_size=1, max_size=20))
def test_balanced_lines_are_no_more_and_no_wider(words: list[str]) -> None:
    text = " ".join(words)
    assert balanced_width(text, 90, 12) <= 90
    long = "with a round handle, two hand holds and a tray that lifts out"
    assert 60 < balanced_width(long, 125, 15) < 80
    assert balanced_width("short", 125, 15) == 125
