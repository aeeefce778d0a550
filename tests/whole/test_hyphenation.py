"""Words are broken in the language that they are of, read back from a pressed page.

Held against the lists of pyphen as they come, which the press asks too, but in one language only.
"""

from __future__ import annotations

import re
from functools import cache
from itertools import accumulate, groupby

import pyphen
import pytest

from tests.whole.test_spoiled import page

# Of one spelling in three languages, which break them at different places.
WORDS = ("catastrophe", "horoscope", "magnetisme", "manuscript", "microscope")
NARROW = "p, h2 { width: 13mm; margin: 0 } section { text-align: left }"
LEAST = 4  # letters before and after a break: booklet.css, hyphenate-limit-chars


@cache
def listed(language: str) -> pyphen.Pyphen:
    """The list of a language, apart from the one that the press has mended."""
    return pyphen.Pyphen(lang=pyphen.language_fallback(language), cache=False)


def allowed(word: str, language: str) -> set[int]:
    """Where a word may be broken, counted in letters from its start."""
    return {at for at in listed(language).positions(word) if LEAST <= at <= len(word) - LEAST}


@cache
def breaks(body: str) -> dict[str, set[int]]:
    """The words of a page that is pressed narrow, and where each of them is broken."""
    chars = page(f'<div class="prose">{body}</div>', NARROW).chars
    rows = ["".join(c["text"] for c in row) for _, row in groupby(chars, lambda c: round(c["top"]))]
    found: dict[str, set[int]] = {}
    for word in re.sub(r"\n?[-\u2010]\n", "|", "\n".join(rows)).split():
        pieces = word.split("|")
        found["".join(pieces)] = {*accumulate(map(len, pieces[:-1]))}
    return found


def broken_wrong(body: str, languages: dict[str, str]) -> list[str]:
    """The words that are broken where their language does not; all stand on the page."""
    found = breaks(body)
    assert set(found) == set(languages)
    return [word for word, at in found.items() if not at <= allowed(word, languages[word])]


def paragraphs(language: str) -> str:
    return "".join(f'<p lang="{language}">{word}</p>' for word in WORDS)


@pytest.mark.parametrize("language", ["en", "de", "fr"])
def test_words_are_broken_by_the_rules_of_their_language(language: str) -> None:
    assert broken_wrong(paragraphs(language), dict.fromkeys(WORDS, language)) == []
    found = breaks(paragraphs(language))
    assert all(at for word, at in found.items() if allowed(word, language)), found


@pytest.mark.parametrize(
    ("spoken", "other"),
    [("en", "de"), ("de", "en"), ("de", "fr"), ("fr", "de"), ("en", "fr"), ("fr", "en")],
)
def test_a_break_of_another_language_is_found(spoken: str, other: str) -> None:
    assert broken_wrong(paragraphs(spoken), dict.fromkeys(WORDS, other)) != []


@pytest.mark.parametrize("language", ["de", "fr"])
def test_words_that_are_not_translated_keep_their_own_rules(language: str) -> None:
    """As `Wording` marks them; the same words around them are broken as the booklet's language."""
    body = "".join(f'<p><span class="theirs" lang="en">{word}</span></p>' for word in WORDS)
    section = f'<section lang="{language}">{body}</section>'
    assert broken_wrong(section, dict.fromkeys(WORDS, "en")) == []


def test_a_heading_is_not_broken() -> None:
    body = "".join(f'<h2 lang="de">{word}</h2>' for word in WORDS)
    assert breaks(body) == {word: set() for word in WORDS}
