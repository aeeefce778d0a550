"""Names with their articles: what stands in lists, in sentences and after prepositions.

The grammar is from memory.
"""

from __future__ import annotations

import pytest
from markupsafe import Markup

from patternpress.assembly.articles import bare, bent
from patternpress.booklet.phrases import Phrases, read_phrases, with_names


@pytest.mark.parametrize(
    ("language", "given", "listed"),
    [
        ("de", "der kleine Fuß", "kleiner Fuß"),
        ("de", "das dünne Brett", "dünnes Brett"),
        ("de", "die linke hintere Leiste", "linke hintere Leiste"),
        ("de-AT", "die Nut unten", "Nut unten"),
        ("de", "Boden", "Boden"),
        ("de", "dermale Leiste", "dermale Leiste"),
        ("fr", "le fond", "fond"),
        ("fr", "l’abattant", "abattant"),
        ("fr", "l'abattant", "abattant"),
        ("fr", "lattes", "lattes"),
        ("en", "the lid", "the lid"),
    ],
)
def test_a_list_has_the_name_without_its_article(language: str, given: str, listed: str) -> None:
    assert bare(language, given) == listed


def said(language: str, given: str, **texts: str) -> list[str]:
    """Texts that set a bare name, and what is made of each with the article."""
    words = Phrases(language, texts, read_phrases(language).forms)
    named = with_names(words, language, (given, "die Wand" if language == "de" else "la paroi"))
    return [str(named.say(key, thing=f"{bare(language, given)} (A)")) for key in texts]


@pytest.mark.parametrize(
    ("given", "the", "acc", "dat", "each", "of"),
    [
        ("der kleine Fuß", "der kleine Fuß", "den kleinen Fuß", "dem kleinen Fuß",
         "jeder kleine Fuß", "vom kleinen Fuß"),
        ("die linke Nut", "die linke Nut", "die linke Nut", "der linken Nut", "jede linke Nut",
         "von der linken Nut"),
        ("das Brett", "das Brett", "das Brett", "dem Brett", "jedes Brett", "vom Brett"),
        ("Brett", "Brett", "Brett", "Brett", "jedes Teil Brett", "von Brett"),
    ],
)  # fmt: skip
def test_german_names_bend(given: str, the: str, acc: str, dat: str, each: str, of: str) -> None:
    found = said(
        "de",
        given,
        the="{thing:the}",
        acc="{thing:the_acc}",
        dat="{thing:the_dat}",
        each="{thing:each}",
        of="von {thing:the_dat}",
    )
    assert found == [f"{words} (A)" for words in (the, acc, dat, each, of)]


@pytest.mark.parametrize(
    ("given", "whose", "each", "first"),
    [
        ("der Boden", "des Bodens", "jedes Bodens", "des ersten Bodens"),
        ("der kleine Fuß", "des kleinen Fußes", "jedes kleinen Fußes", "des ersten kleinen Fußes"),
        ("die linke Nut", "der linken Nut", "jeder linken Nut", "der ersten linken Nut"),
        ("das Bein vorn links", "des Beins vorn links", "jedes Beins vorn links",
         "des ersten Beins vorn links"),
        ("der Eckklotz", "des Eckklotzes", "jedes Eckklotzes", "des ersten Eckklotzes"),
        ("der Korpus", "des Korpus", "jedes Korpus", "des ersten Korpus"),
        ("das Ergebnis", "des Ergebnisses", "jedes Ergebnisses", "des ersten Ergebnisses"),
        ("Brett", "von Brett", "jedes Teils Brett", "des ersten Teils Brett"),
    ],
)  # fmt: skip
def test_german_says_whose_a_side_is(given: str, whose: str, each: str, first: str) -> None:
    words = with_names(read_phrases("de"), "de", (given,))
    things = [words.formed(bare("de", given), form) for form in ("the", "each", "first")]
    assert [words.formed(thing, "gen") for thing in things] == [whose, each, first]


def test_whose_a_side_is_of_several_things() -> None:
    words = with_names(read_phrases("de"), "de", ("der Boden", "die Wand"))
    side = words.say("side_of", side="die Rückseite", things="der Boden (A) und jede Wand (B)")
    assert side == "die Rückseite des Bodens (A) und jeder Wand (B)"
    assert words.formed(side, "dat") == "der Rückseite des Bodens (A) und jeder Wand (B)"


def test_an_english_name_with_a_number_has_no_article() -> None:
    words = with_names(read_phrases("en"), "en", ("divider 1", "divider 12", "lid"))
    parts = {"piece": "the divider 12 (E)", "against": "the lid (G)"}
    assert words.say("do_glue", verb="Glue", **parts) == ("Glue divider 12 (E) to the lid (G)")


@pytest.mark.parametrize(
    ("given", "after_with"),
    [
        ("der Holzleim", "Holzleim"),
        ("das dünne Öl", "dünnem Öl"),
        ("die weiße Farbe", "weißer Farbe"),
        ("der feine Schleifstaub", "feinem Schleifstaub"),
        ("Holzleim", "Holzleim"),
    ],
)
def test_a_material_stands_after_with_without_its_article(given: str, after_with: str) -> None:
    assert said("de", given, form="mit {thing:bare_dat}") == [f"mit {after_with} (A)"]


def test_what_has_its_article_is_put_in_a_case_once() -> None:
    words = with_names(read_phrases("de"), "de", ("der Boden", "der Korpus", "die Wand"))
    side = Markup("die Oberseite vom Boden (A) und der Korpus")
    assert words.formed(side, "dat") == "der Oberseite vom Boden (A) und dem Korpus"
    assert words.formed("der Bodenleger", "acc") == "der Bodenleger"
    assert words.formed("der erste Boden (A)", "acc") == "den ersten Boden (A)"
    assert (
        words.say("groove_stop", far="2 mm", side="der erste Boden") == "2 mm vor dem ersten Boden"
    )


@pytest.mark.parametrize(
    ("given", "of", "each", "first"),
    [
        ("le fond", "du fond", "chaque fond", "le premier fond"),
        ("la paroi", "de la paroi", "chaque paroi", "la première paroi"),
        ("l’abattant", "de l’abattant", "chaque abattant", "la première pièce abattant"),
        ("les pinces", "des pinces", "chaque pièce pinces", "la première pièce pinces"),
        ("fond", "de fond", "chaque pièce fond", "la première pièce fond"),
    ],
)
def test_french_names_are_contracted(given: str, of: str, each: str, first: str) -> None:
    found = said("fr", given, of="de {thing:the}", each="{thing:each}", first="{thing:first}")
    assert found == [f"{words} (A)" for words in (of, each, first)]


def test_only_before_a_name_is_a_preposition_contracted() -> None:
    words = with_names(read_phrases("fr"), "fr", ("le fond",))
    said = words.say("do_try", question="Essayez de le poser à côté de le fond.")
    assert said.endswith("Essayez de le poser à côté du fond.")


def test_a_name_in_another_language_keeps_its_mark() -> None:
    words = with_names(read_phrases("de"), "de", ("der Boden",))
    marked = Markup('<span class="theirs" lang="en">lid</span>')
    assert words.say("the", thing=marked) == marked
    assert words.say("each", thing=marked) == "jedes Teil " + marked


def test_names_are_taken_whole_and_the_longest_first() -> None:
    words = with_names(read_phrases("fr"), "fr", ("le côté", "la face", "le côté de tiroir"))
    assert words.formed("côté de tiroir (K)", "the") == "le côté de tiroir (K)"
    assert words.formed("côtés", "the") == "côtés"
    assert words.formed("face & dos", "the") == "la face &amp; dos"


def test_a_language_without_a_row_is_left_as_it_is() -> None:
    assert all(not known for known in bent("nl", ("de bodem",)).values())
