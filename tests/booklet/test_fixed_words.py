"""The fixed words in all languages: at most 20 words a sentence, one action each.

What fills a place is counted as the longest usual filling: `FILLED` has one such filling for each
place that is not a figure or one short word, which count for one.  Lists of names are cut to
length where they are made (`plain.short`), so they stand for two names here.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from string import Formatter

import pytest
from markupsafe import Markup

from patternpress.assembly.checks.prose import MOST_WORDS
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.plain import words_in

LANGUAGES = ("en", "de", "fr")
NAME = "the drawer front"
NAMES = f"{NAME} and the back"
FILLED: Mapping[str, str] = {
    **dict.fromkeys(("piece", "part", "thing", "hollow", "mark", "groove", "opening", "sub"), NAME),
    **dict.fromkeys(("copy", "parts", "marks", "title", "noun", "name", "along", "through"), NAME),
    **dict.fromkeys(("stock", "tool", "material", "glue", "hole", "feature"), "wood glue"),
    **dict.fromkeys(("things", "against", "held", "faces", "holes", "on"), NAMES),
    **dict.fromkeys(("fittings", "boards", "board", "copies", "titles", "names", "named"), NAMES),
    **dict.fromkeys(("letters", "steps", "works", "full", "reduced", "sizes"), "A, B and C"),
    **dict.fromkeys(("evening", "time", "hands", "waiting", "soonest", "sold"), "3 hours"),
    **dict.fromkeys(("range", "changes", "ways", "angles"), "1 mm more and 2 mm less"),
    **dict.fromkeys(("action", "words"), "Glue the drawer front to the back"),
    **dict.fromkeys(("where", "run"), "3 mm from the left and 4 mm from the top"),
    "what": "the edges of the drawer front",
    "work": "the whole work",
    "pieces": "2 brass screws",
    "answer": "dyed and oiled",
    "eye": "the front, the right and above",
    "ends": "bottom cut at 3° from square, longest at the front",
    "scale": "drawn at 1:4",
}
# These hold a side, as each language calls it: some with an article.
SIDES = ("side", "sides", "way", "longest", "one", "two", "end", "face", "axis")
# Not read as sentences: what is looked for in an author's words, and the forms of a term.
LOOKED_FOR = re.compile(r"tool_\w+|glue_(?:instant|wood)|work_\w+|go_on|word_\w+(?<!_means)")


def filled(text: str, side: str) -> str:
    """A text with its places filled; a figure or a short word is “7”."""
    fillings = {**FILLED, **dict.fromkeys(SIDES, side)}
    pairs = ((said, name) for said, name, *_ in Formatter().parse(text))
    return "".join(s + ("" if name is None else fillings.get(name, "7")) for s, name in pairs)


def sentences(text: str) -> Iterator[str]:
    """The sentences of a text: they end at a stop, a question or a colon that a blank follows."""
    yield from (each for each in re.split(r"(?<=[.!?:])[”“»]?\s", text) if each.strip())


def too_long(texts: Mapping[str, str]) -> Iterator[str]:
    """Keys of texts with a sentence of more than 20 words, and the sentence."""
    for key, text in texts.items():
        if not LOOKED_FOR.fullmatch(key):
            for each in sentences(filled(text, texts["side_back"])):
                if words_in(Markup(each)) > MOST_WORDS:
                    yield f"{key}: {each}"


@pytest.mark.parametrize("language", LANGUAGES)
def test_no_sentence_is_longer_than_twenty_words(language: str) -> None:
    assert [*too_long(read_phrases(language).texts)] == []


@pytest.mark.parametrize("end", ["it.", "{size}.", "it? Look.", "it: look.", "it! {letters}"])
def test_a_sentence_of_twenty_one_words_is_found(end: str) -> None:
    sound = {"side_back": "back", "print_1": f"Look. {'Cut ' * 19}{end}"}
    assert [*too_long(sound)] == []
    spoiled = {**sound, "print_1": f"Look. {'Cut ' * 20}{end}"}
    assert [each.partition(":")[0] for each in too_long(spoiled)] == ["print_1"]


# The verbs of the instructions, as they stand in a sentence; French ones end alike.
VERBS = {
    "en": "air|allow|change|choose|clamp|count|cut|do|drill|glue|hold|join|keep|lay|lean|let|look|"
    "make|mark|measure|open|plane|prick|print|protect|push|put|read|rinse|rout|sand|see|set|slide|"
    "soak|spread|start|stick|tape|take|tie|trace|turn|unplug|wash|wear|wipe|work|write",
    "de": "beachte|bohre|breite|drehe|drucke|geh|halte|hoble|klebe|lass|lege|leime|lies|lüfte|miss|"
    "neige|öffne|prüfe|rechne|säge|schiebe|schleife|schneide|schreibe|schütze|setze|spanne|spüle|"
    "stelle|stich|trage|übertrage|verbinde|verleime|wähle|wasche|weiche|wische|zeichne|zieh|ziehe|"
    "ändere|teile|arbeite|binde|fräse",
    "fr": r"(?!avez|chez|assez|devez)\w+ez|faites|dites",
}
FIRST = {
    "en": r"(?:then |or |do not |if [^,]*, )?",
    "de": r"(?:oder |weicht [^,]*, )?",
    "fr": r"(?:ou |ne |si [^,]*, )?",
}
AND = {"en": "and|then", "de": "und|dann", "fr": "et|puis|ensuite"}


def joined(texts: Mapping[str, str], language: str) -> Iterator[str]:
    """Keys of texts that ask for two actions in one sentence; “or” joins choices, not actions."""
    verbs = VERBS[language]
    and_ = rf"(?:[,;–]| (?:{AND[language]}))+ (?:{AND[language]} )?"
    two = re.compile(rf"\W*{FIRST[language]}(?:{verbs})\b.*?{and_}(?:ne )?(?:{verbs})\b")
    for key, text in texts.items():
        for each in sentences(text):
            if two.match(each[:1].lower() + each[1:]):
                yield f"{key}: {each}"


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_sentence_asks_for_one_action(language: str) -> None:
    assert [*joined(read_phrases(language).texts, language)] == []


@pytest.mark.parametrize("language", LANGUAGES)
def test_the_verbs_are_those_of_the_instructions(language: str) -> None:
    """What begins with another word would never be found to ask for two actions."""
    texts = read_phrases(language).texts
    keys = [key for key in texts if re.fullmatch(r"\w+_avoid|print_[1-5]", key)]
    told = [each.lower() for key in keys for each in sentences(texts[key])]
    verbs = re.compile(rf"{FIRST[language]}(?:{VERBS[language]})\b")
    assert [each for each in told if not verbs.match(each)] == []
    assert len(told) > 40


@pytest.mark.parametrize(
    ("language", "text"),
    [
        ("en", "Measure the {opening} and write it on the card."),
        ("en", "Stand well. Or lay it on, prick the corners through, and join the pricks."),
        ("en", "Short pieces: cut them while it is long, and let the offcut be next to the blade."),
        ("en", "If a bar is out, change the setting, then print again."),
        ("en", "Do not pull bonded skin; soak it in warm water."),
        ("de", "Lüfte den Raum, trage Handschuhe und halte Flammen fern."),
        ("fr", "Aérez ; étalez les chiffons dehors."),
        ("fr", "Si une barre est fausse, changez le réglage et réimprimez."),
    ],
)
def test_two_actions_in_a_sentence_are_found(language: str, text: str) -> None:
    assert [*joined({"spoiled": text}, language)] != []


def test_a_choice_is_one_action() -> None:
    said = "Stick or tie one to each piece. Sand or plane to the line, with glue and water at hand."
    assert [*joined({"sound": said}, "en")] == []
