"""What is not said in the language of an edition: it stands in the main one, marked and told."""

from __future__ import annotations

import io
from fractions import Fraction
from pathlib import Path

import pdfplumber
import pytest
from markupsafe import Markup

from patternpress.booklet.build import press_model, sections_of
from patternpress.booklet.phrases import corrected, read_phrases
from patternpress.booklet.plain import capital, upper
from patternpress.booklet.wordfiles import english
from patternpress.closing.close import close
from patternpress.design.read import Reading, read_text
from tests.booklet.test_languages import FOLDER, TAGS
from tests.closing.test_close import box

NEAR = 0.5  # points


def tray(tip: str, about: str = "{en: A box., fr: Une boîte.}") -> Reading:
    text = box().sources[0][1].replace("design: Box", "design: {en: Box, fr: Boîte}")
    text = text.replace("step: Join it", f"step: {{en: Join it, fr: Assembler}}\n    tip: {tip}")
    text = text.replace("scale: 1:12", f"scale: 1:12\nlanguages: en, fr\nabout: {about}")
    text += "  français: {language: fr}\n"
    text += "names: {fr: {lime board: tilleul, base: fond, side: flanc,"
    text += " left side: flanc gauche, right side: flanc droit, wood glue: colle à bois,"
    text += " floor: plancher, lid: couvercle}}\n"
    return read_text(text, "box.yaml", Path())


def pages(reading: Reading, edition: str) -> str:
    return "".join(each.html for each in sections_of(close(reading, edition).model))


def test_a_text_in_another_language_is_marked_and_a_line_says_so() -> None:
    found = pages(tray("keep it square"), "français")
    # A capital comes first all the same, and the full stop where the sentence ends.
    assert '<span class="theirs" lang="en">keep it square</span>' in found
    assert "Ce qui est en italique n’est pas encore traduit (anglais)." in found
    assert '<span class="theirs" lang="en">Une' not in found


def test_what_is_said_in_the_language_is_not_marked() -> None:
    found = pages(tray("{en: Keep it square., fr: Gardez l’équerre.}"), "français")
    assert "theirs" not in found.split("</style>")[-1]
    assert "Ce qui est en italique" not in found
    assert "theirs" not in pages(tray("Keep it square."), "metric").split("</style>")[-1]


def test_a_list_is_marked_as_a_whole() -> None:
    found = pages(tray("{en: T., fr: T.}", "|\n  - one\n  - two"), "français")
    assert '<ul class="theirs" lang="en">' in found


@pytest.mark.parametrize(
    ("words", "made"),
    [
        ("keep it", "Keep it."),
        ('<span lang="en">keep it</span>', '<span lang="en">Keep it</span>.'),
        ("<em>keep</em> it!", "<em>Keep</em> it!"),
        ("<b>keep it.</b>", "<b>Keep it.</b>"),
    ],
)
def test_a_mark_is_no_first_letter(words: str, made: str) -> None:
    assert capital(Markup(words)) == made
    assert upper(Markup(words)).rstrip(".!") == made.rstrip(".!")


@pytest.mark.parametrize("language", ["en", "fr"])
def test_a_signal_word_stays_in_its_panel(language: str) -> None:
    """AVERTISSEMENT is half as long again as WARNING."""
    text = box().sources[0][1] + "languages: [en, fr]\n"
    text = text.replace("both: {units: both}", f"both: {{units: both, language: {language}}}")
    booklet = press_model(close(read_text(text, "box.yaml", Path()), "both").model)
    word = str(read_phrases(language).texts["warning"])
    found = 0
    with pdfplumber.open(io.BytesIO(booklet.pdf)) as document:
        for page in document.pages:
            for each in page.extract_words():
                panels = [
                    rect
                    for rect in page.rects
                    if rect["x0"] < each["x0"] < rect["x1"]
                    and rect["top"] < (each["top"] + each["bottom"]) / 2 < rect["bottom"]
                    and rect["height"] < 30  # of two lines where the triangle stands above
                ]
                if each["text"] == word and panels:
                    found += 1
                    assert all(each["x1"] <= rect["x1"] + NEAR for rect in panels)
    assert found


# ------------------------------------------------------------------ the glossary


def terms(tag: str) -> dict[str, str]:
    lines = (FOLDER / tag / "terms.yaml").read_text("utf-8").splitlines()
    return dict(line.split(": ") for line in lines if ": " in line and not line.startswith("#"))


@pytest.mark.parametrize("tag", TAGS)
def test_every_term_stands_in_the_lists_as_it_is_printed(tag: str) -> None:
    texts = read_phrases(tag).texts.values()
    assert len(terms(tag)) > 20
    for term, said in terms(tag).items():
        assert said == term
        changed = [corrected(text, {term: "§"}) for text in texts]
        assert any("§" in text for text in changed), term


def test_a_term_corrected_in_one_file_is_corrected_everywhere(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    wanted = {**terms("de"), "Schablone": "Zeichenvorlage", "Platte": "Tafel"}
    monkeypatch.setattr("patternpress.booklet.phrases.read_terms", lambda tag: wanted)
    found, before = read_phrases.__wrapped__("de"), read_phrases("de")
    joined = "\n".join(found.texts.values())
    assert "Zeichenvorlage" in joined
    assert corrected(joined, {"Schablone": ""}) == joined  # none is left
    assert found.texts.keys() == before.texts.keys()
    assert "Schablonenseite" in joined  # a word of its own, with a line of its own


def test_places_and_parts_of_words_are_no_terms() -> None:
    assert corrected("{rod} rods, rod.", {"rod": "bar"}) == "{rod} rods, bar."
    assert corrected("a b", {"a": "b", "b": "a"}) == "b a"


def test_the_glossary_is_no_list_of_texts() -> None:
    assert {each.file for each in english()} == {
        f"en/{name}.yaml" for name in ("meanings", "pages", "pictures", "sheets", "work")
    }


# ------------------------------------------------------------------ plural forms


@pytest.mark.parametrize(
    ("language", "number", "form"),
    [
        ("en", Fraction(1), 0),
        ("en", Fraction(3, 2), 1),
        ("en", Fraction(0), 1),
        ("de", Fraction(3, 2), 1),
        ("fr", Fraction(3, 2), 0),
        ("fr", Fraction(0), 0),
        ("fr", Fraction(2), 1),
    ],
)
def test_singular_and_plural_are_those_of_cldr(language: str, number: Fraction, form: int) -> None:
    """CLDR plural rules: en and de `i = 1 and v = 0`, fr `i = 0,1`."""
    assert read_phrases(language).form_of(number) == form
