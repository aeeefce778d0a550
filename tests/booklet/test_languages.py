"""Languages: all say the same things with the same places, and every demo is worded in them.

The tests of sentences word the demo designs without pictures, so names and prose of the author
are the main language's; English function words that are left must be the author's.
"""

from __future__ import annotations

import re
from importlib.resources import files
from pathlib import Path
from string import Formatter

import pytest

from patternpress.booklet.phrases import read_phrases

ENGLISH = read_phrases("en")
TAGS = sorted(
    each.name for each in (files("patternpress.booklet") / "words").iterdir() if each.is_dir()
)
OTHERS = [tag for tag in TAGS if tag != "en"]


def lists(tag: str) -> dict[str, list[str]]:
    """The keys of each file of a language, in their order."""
    folder = Path(str(files("patternpress.booklet") / "words" / tag))
    return {
        path.name: re.findall(r"^(\w+):", path.read_text(encoding="utf-8"), re.MULTILINE)
        for path in folder.glob("*.yaml")
        if path.name != "forms.yaml"
    }


def places(text: str) -> set[str]:
    """The places of a text, their forms left out."""
    return {name for _, name, _, _ in Formatter().parse(text) if name is not None}


def words(text: str) -> str:
    """The letters of a text without its places."""
    return re.sub(r"\{[^}]*\}|[\W\d_]", "", text)


@pytest.mark.parametrize("tag", OTHERS)
def test_a_language_has_the_files_and_keys_of_english_in_its_order(tag: str) -> None:
    assert lists(tag) == lists("en")


@pytest.mark.parametrize("tag", OTHERS)
def test_a_language_has_the_places_of_english(tag: str) -> None:
    said = read_phrases(tag).texts
    assert {key: places(said[key]) for key in ENGLISH.texts} == {
        key: places(text) for key, text in ENGLISH.texts.items()
    }
