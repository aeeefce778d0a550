"""Languages: all say the same things in the same places, and word every demo design.

Where a demo is worded, the author's prose is left out, so that whatever English function word
is found was made by us.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from fractions import Fraction
from importlib.resources import files
from pathlib import Path
from string import Formatter
from typing import Any

import pytest
from babel.units import format_unit
from markupsafe import Markup

from patternpress.assembly.articles import BARE_FORMS, CASES
from patternpress.assembly.model import work_out
from patternpress.booklet import fill
from patternpress.booklet.fill import content_of
from patternpress.booklet.fillfinished import Finished
from patternpress.booklet.phrases import PhraseError, Phrases, read_phrases
from patternpress.booklet.stockwords import other_sold
from patternpress.booklet.wording import Wording
from patternpress.design.read import read_design, read_text
from patternpress.drawing.style import WORDS as LETTERED
from patternpress.measure.drills import advise
from tests.whole.demos import demos
from tests.whole.small import BODY, STEP, TOP, model, worded

ENGLISH = read_phrases("en")
FOLDER = Path(str(files("patternpress.booklet") / "words"))
TAGS = sorted(each.name for each in FOLDER.iterdir() if each.is_dir())
OTHERS = [tag for tag in TAGS if tag != "en"]
DESIGNS = sorted({demo.design for demo in demos()})
# Words that are the same in trade use, or are no words: the rest must differ from English.
UNITS = {"chart_h", "chart_min", "chart_h_min"}
ALIKE = {
    "de": UNITS | {"cut_name", "material", "print_mine"},
    "fr": UNITS | {"after_colon", "time_minutes[0]", "time_minutes[1]"},
}
FUNCTION_WORDS = re.compile(r"\b(the|and|with|from|to|of)\b", re.IGNORECASE)


def places(text: str) -> set[str]:
    """The places of a text, their forms left out."""
    return {name for _, name, _, _ in Formatter().parse(text) if name is not None}


def letters(text: str) -> str:
    """The letters of a text without its places."""
    return re.sub(r"\{[^}]*\}|[\W\d_]", "", text)


@pytest.mark.parametrize("tag", OTHERS)
def test_a_language_has_the_keys_and_places_of_english_in_its_order(tag: str) -> None:
    """The order is that in which words of the trade are looked for."""
    said, meant = read_phrases(tag).texts, ENGLISH.texts
    assert [(key, places(text)) for key, text in said.items()] == [
        (key, places(text)) for key, text in meant.items()
    ]


@pytest.mark.parametrize("tag", OTHERS)
def test_nothing_is_left_in_english(tag: str) -> None:
    said = read_phrases(tag).texts
    left = {key for key, text in ENGLISH.texts.items() if letters(text) and said[key] == text}
    assert left == ALIKE[tag]


@pytest.mark.parametrize("tag", TAGS)
def test_fixed_words_call_inches_as_cldr_does(tag: str) -> None:
    """Babel's own format of a length, beside every text that says how long a bar is."""
    inches = format_unit(4, "length-inch", "short", locale=tag)
    inches = re.sub(r"\s", " ", inches)
    said = read_phrases(tag).texts
    bars = [key for key, text in ENGLISH.texts.items() if "4 in" in text]
    assert len(bars) == 5
    assert [key for key in bars if inches not in said[key]] == []
    assert said["print_mine"] == f"{{mm}} mm, {{inches}} {inches[2:]}"


@pytest.mark.parametrize("tag", OTHERS)
def test_every_form_that_a_text_asks_for_is_there_and_used(tag: str) -> None:
    phrases = read_phrases(tag)
    asked = {form for text in phrases.texts.values() for form in re.findall(r":(\w+)\}", text)}
    known = {"everywhere", *BARE_FORMS, *CASES}  # what names ask for in every language
    assert asked - known == phrases.forms.keys() - known


def test_templates_drawn_alone_say_what_they_say_in_the_booklet() -> None:
    said = {key: ENGLISH.texts["sheet_" + key.replace(" ", "_")] for key in LETTERED}
    assert said == dict(LETTERED)


def test_a_value_is_set_in_the_form_that_its_place_asks_for() -> None:
    forms = {"dat": {"die Seite": "der Seite", "die": "den"}, "everywhere": {"de a": "d’a"}}
    texts = {"lies": "{far} vor {side:dat}", "of": "de {thing}"}
    phrases = Phrases("xx", texts, forms)
    assert phrases.say("lies", far="2 mm", side="die Seite & die Ende") == (
        "2 mm vor der Seite &amp; den Ende"
    )
    assert phrases.say("of", thing="appui") == "d’appui"
    assert Phrases("xx", texts).say("lies", far="2 mm", side="die Seite") == "2 mm vor die Seite"
    with pytest.raises(PhraseError, match="adv"):
        Phrases("xx", {"lies": "{side:adv}"}).say("lies", side="die Seite")


def in_language(tag: str, made: Wording) -> Wording:
    edition = replace(made.model.edition, language=tag)
    return Wording(replace(made.model, edition=edition), read_phrases(tag))


@pytest.mark.parametrize(("tag", "shown"), [("en", "2.5"), ("de", "2,5"), ("fr", "2,5")])
def test_figures_and_names_of_sizes_have_the_decimal_sign_of_the_language(
    tag: str, shown: str
) -> None:
    wording = in_language(tag, worded()[1])
    assert wording.local("2.5 mm, page 3. 5") == f"{shown} mm, page 3. 5"


FRENCH = """
  strap: {bought: {en: "brass, 3/16 in wide", fr: "laiton, large de 3/16 in"}}
  lath: {strip: 4 x 4 mm, nearest: {size: 5/32 in, note: {en: 3/16 in serves, fr: 3/16 in va}}}
  bare: {bought: 1/2 in in the hand}
"""


def test_typed_inches_are_called_as_the_edition_s_language_calls_them() -> None:
    """Texts of the language, stock as it is sold, drills; what nobody translated stays."""
    design = (TOP + BODY + STEP).replace("units: mm", "units: mm\nlanguages: en, fr")
    book = read_text(design.replace("stock:", f"stock:{FRENCH}", 1), "t.yaml", Path()).book
    assert book is not None
    stock = {each.name.value: each for each in book.stock}
    french = in_language("fr", worded()[1])
    assert french.prose(stock["strap"].bought) == "laiton, large de 3/16 po"
    assert other_sold(stock["lath"], french) == "5/32\u00a0po (3/16 po va)"
    assert french.prose(stock["bare"].bought).striptags() == "1/2 in in the hand"
    assert french.local(advise(Fraction(3, 2), "in")[0].name) == "1/16 po"
    assert other_sold(stock["lath"], in_language("en", worded()[1])) == (
        "5/32\u00a0in (3/16 in serves)"
    )


def test_a_sentence_after_a_colon_begins_as_the_language_writes_it() -> None:
    assert [read_phrases(tag).texts["after_colon"] for tag in ("de", "en", "fr")] == [
        "capital",
        "lower",
        "lower",
    ]


def test_names_are_put_in_the_plural_only_by_english_words() -> None:
    assert [in_language(tag, worded()[1]).plurals for tag in ("en", "en-US", "de")] == [
        True,
        True,
        False,
    ]


def test_the_date_is_in_the_language() -> None:
    made = model()
    edition = replace(made.edition, language="fr")
    assert content_of(replace(made, edition=edition)).cover.date == "25 novembre 2026"


# ------------------------------------------------------------------ the demo designs


def texts(thing: object, *, whole: bool = False) -> Iterator[str]:
    """Every text of a content, of its pictures the titles; or the pictures `whole`."""
    if isinstance(thing, str):
        titles = "<svg" in thing and not whole
        yield from re.findall(r"<title>(.*?)</title>", thing) if titles else [thing]
    elif is_dataclass(thing):
        for field in fields(thing):
            yield from texts(getattr(thing, field.name), whole=whole)
    elif isinstance(thing, tuple):
        for each in thing:
            yield from texts(each, whole=whole)


@pytest.mark.parametrize("tag", OTHERS)
@pytest.mark.parametrize("design", DESIGNS, ids=lambda path: path.stem)
def test_a_demo_is_worded_without_a_word_of_english(
    design: Path, tag: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(Wording, "text", lambda self, text: Markup("…"))
    monkeypatch.setattr(Wording, "paragraphs", lambda self, prose: ())
    if design != min(DESIGNS):  # one design's pictures say all that pictures say, and cost time
        monkeypatch.setattr(fill, "step_figures", lambda place: {})
        monkeypatch.setattr(fill, "finished_pictures", lambda place: Finished())
    made = work_out(read_design(design), "metric")
    made = replace(made, edition=replace(made.edition, language=tag))
    content = replace(content_of(made), imprint=None)  # type: ignore[arg-type]
    found = [str(Markup(each).striptags()) for each in texts(content)]
    own = {name for name in _names(made) if FUNCTION_WORDS.search(name)}
    left = [each for each in found if FUNCTION_WORDS.search(_without(each, own))]
    assert not left
    assert len(found) > 100


def _names(made: Any) -> set[str]:
    """What the author calls things: they are names in every language."""
    book = made.worked.book
    goods = (*book.stock, *book.tools, *book.materials, *book.parts, *book.marks, *book.openings)
    return {each.name.value for each in goods}


def _without(text: str, names: set[str]) -> str:
    for name in sorted(names, key=len, reverse=True):
        text = re.sub(re.escape(name), "", text, flags=re.IGNORECASE)
    return text
