"""Words of the trade are explained where the booklet first uses them, and nowhere again."""

from __future__ import annotations

import re
from collections import Counter
from functools import cache

import pytest
from markupsafe import Markup

from patternpress.booklet.content import Content, CutGroup, Step, StepGroup, Term
from patternpress.booklet.fillsteps import finishing, steps
from patternpress.booklet.fillterms import explained
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.wording import wording_of
from tests.booklet.sample import sample
from tests.whole.small import BODY, STEP, TOP, model

LANGUAGES = ["en", "de", "fr"]


def words_of(terms: tuple[Term, ...]) -> list[str]:
    return [Markup(each.word).striptags() for each in terms]


@cache
def worked(more: str = "", second: str = "say: Chamfer it, then chamfer on.") -> Content:
    """A small booklet of two steps; `more`: further fields of the design."""
    text = TOP + more + BODY + STEP + f"  - step: Work on\n    {second}\n"
    wording = wording_of(model(text))
    bare = Content(
        cover=sample().cover,
        imprint=sample().imprint,
        cutting=(CutGroup("Lime", ()),),
        steps=(*steps(wording), *finishing(wording)[1]),
    )
    return explained(bare, wording)


def in_steps(content: Content) -> list[list[str]]:
    return [words_of(step.terms) for group in content.steps for step in group.steps]


def test_a_word_is_explained_at_its_first_place_only() -> None:
    content = worked(second="say: Chamfer the edges along the grain, then chamfer on.")
    assert words_of(content.cutting_terms) == ["Grain"]  # its lead speaks of the grain
    assert in_steps(content)[1] == ["Chamfer"]
    told = Counter(word for step in in_steps(content) for word in step)
    assert max(told.values()) == 1


def test_a_booklet_explains_no_word_that_it_does_not_use() -> None:
    assert in_steps(worked(second="say: Look at it."))[1] == []
    assert words_of(worked().layout_terms) == []  # it has no layouts


def test_a_part_of_a_word_is_no_word() -> None:
    assert in_steps(worked(second="say: Look at the regrooved chamfering."))[1] == []


def test_the_author_has_the_last_word() -> None:
    mine = "terms:\n  Chamfer: A slope of our own.\n  gull: {means: A bird., also: gulls}\n"
    content = worked(mine, "say: Chamfer it and mind the gulls.")
    found = [step for group in content.steps for step in group.steps][1].terms
    assert [(str(t.word), str(t.meaning)) for t in found] == [
        ("Chamfer", "A slope of our own."),
        ("Gull", "A bird."),
    ]


def test_a_word_goes_by_its_name_in_the_edition_s_language() -> None:
    more = (
        "languages: en, de\nterms:\n  gull: {means: {en: A bird., de: Ein Vogel.}}\n"
        "names: {de: {gull: {one: Möwe, several: Möwen}}}\n"
    )
    said = "say: {en: Mind the gulls., de: Achte auf die Möwen.}"
    text = TOP + more + BODY + STEP + f"  - step: Work on\n    {said}\n"
    text += "editions:\n  german: {language: de}\n"
    wording = wording_of(model(text, "german"))
    bare = Content(cover=sample().cover, imprint=sample().imprint, steps=steps(wording))
    found = [t for g in explained(bare, wording).steps for s in g.steps for t in s.terms]
    assert ("Möwe", "Ein Vogel.") in [(str(t.word), str(t.meaning)) for t in found]


@pytest.mark.parametrize("language", LANGUAGES)
def test_each_of_our_words_is_found_in_all_of_its_forms(language: str) -> None:
    texts = read_phrases(language).texts
    keys = [found[1] for key in texts if (found := re.fullmatch(r"word_(\w+)_means", key))]
    assert len(keys) >= 10
    forms = [form for key in keys for form in texts[f"word_{key}"].split(", ")]
    assert len(set(forms)) == len(forms)
    edition = wording_of(model())
    wording = type(edition)(edition.model, read_phrases(language))
    for key in keys:
        for form in texts[f"word_{key}"].split(", "):
            step = Step("1", Markup("Work"), (Markup(f"Look at: {form.upper()}."),))
            bare = Content(
                cover=sample().cover,
                imprint=sample().imprint,
                steps=(StepGroup(Markup(), (step,)),),
            )
            ((told,),) = (group.steps for group in explained(bare, wording).steps)
            first = texts[f"word_{key}"].split(", ")[0]
            assert first.casefold() in [each.casefold() for each in words_of(told.terms)], form


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_meaning_is_short_and_does_not_explain_a_word_by_itself(language: str) -> None:
    texts = read_phrases(language).texts
    for key, text in texts.items():
        found = re.fullmatch(r"word_(\w+)_means", key)
        if found:
            assert text.endswith(".") and len(text.split()) <= 16, text
            for form in texts[f"word_{found[1]}"].split(", "):
                assert not re.search(rf"\b{form}\b", text, re.IGNORECASE), text


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_show_face_is_explained(language: str) -> None:
    texts = read_phrases(language).texts
    first = texts["word_show_face"].split(", ")[0]
    assert first.casefold() in texts["lay_best"].casefold()
    assert first.casefold() in texts["template_best"].casefold()
