"""The fixed words of the pages, in one language.

In: a language tag.  Out: `Phrases`, which words a key with its values.  The words lie in
`words/<tag>/`, flat lists of key and text; `{name}` in a text is a place for a value.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files
from types import MappingProxyType

import yaml
from markupsafe import Markup, escape


class PhraseError(LookupError):
    """The pages ask for words that the language does not have."""


@dataclass(frozen=True)
class Phrases:
    """The fixed words of one language."""

    language: str
    texts: Mapping[str, str]

    def say(self, key: str, **values: object) -> Markup:
        """Return the text of `key` with `values` in their places, safe to print.

        Values that are not markup are escaped.  Raises PhraseError for an unknown key or a
        missing value.
        """
        if key not in self.texts:
            raise PhraseError(f"no words for “{key}” in {self.language}")
        try:
            return Markup(escape(self.texts[key])).format(**values)
        except (KeyError, IndexError) as problem:
            raise PhraseError(f"the words “{key}” need a value for {problem}") from problem


@cache
def read_phrases(language: str) -> Phrases:
    """Read the fixed words for a tag such as "en" or "en-GB".

    A regional list adds to the general one and wins over it.  Raises PhraseError if the language
    has no words at all.
    """
    texts: dict[str, str] = {}
    parts = language.split("-")
    for length in range(1, len(parts) + 1):
        texts.update(_read("-".join(parts[:length])))
    if not texts:
        raise PhraseError(f"there are no fixed words for the language “{language}”")
    return Phrases(language, MappingProxyType(texts))


def _read(tag: str) -> dict[str, str]:
    """All words of one tag: every list in its folder, none of which may repeat a key."""
    folder = files("patternpress.booklet") / "words" / tag
    if not (tag.replace("-", "").isalnum() and folder.is_dir()):
        return {}
    words: dict[str, str] = {}
    lists = (each for each in folder.iterdir() if each.name.endswith(".yaml"))
    for path in sorted(lists, key=lambda each: each.name):
        raw = yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)
        if not isinstance(raw, dict) or not all(isinstance(text, str) for text in raw.values()):
            raise PhraseError(f"{path.name} of {tag} must be one flat list of keys and texts")
        if raw.keys() & words.keys():
            twice = ", ".join(sorted(raw.keys() & words.keys()))
            raise PhraseError(f"{path.name} of {tag} says again: {twice}")
        words.update({str(key): str(text) for key, text in raw.items()})
    return words
