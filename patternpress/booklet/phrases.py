"""The fixed words of the pages, in one language.

In: a language tag.  Out: `Phrases`, which words a key with its values.  The words lie in
`words/<tag>/`, flat lists of key and text; `{name}` in a text is a place for a value.  A language
whose words bend has `forms.yaml` beside them: `{side:dat}` sets the value in its form “dat”.
The trade terms of a language stand in its `terms.yaml`, where they are corrected for all lists.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cache
from importlib.resources import files
from types import MappingProxyType

import yaml
from babel import Locale
from markupsafe import Markup, escape

FORMS = "forms.yaml"
TERMS = "terms.yaml"
Forms = Mapping[str, Mapping[str, str]]
EVERYWHERE = "everywhere"  # the form that every text of a language takes
_FORMED = re.compile(r"\{(\w+):(\w+)\}")


class PhraseError(LookupError):
    """The pages ask for words that the language does not have."""


@dataclass(frozen=True)
class Phrases:
    """The fixed words of one language."""

    language: str
    texts: Mapping[str, str]
    forms: Forms = field(default_factory=dict)

    def say(self, key: str, **values: object) -> Markup:
        """Return the text of `key` with `values` in their places, safe to print.

        Values that are not markup are escaped.  Raises PhraseError for an unknown key or a
        missing value.
        """
        if key not in self.texts:
            raise PhraseError(f"no words for “{key}” in {self.language}")
        text = self.texts[key]
        try:
            for name, form in _FORMED.findall(text):
                values[f"{name}_{form}"] = self.formed(values[name], form)
            said = Markup(escape(_FORMED.sub(r"{\1_\2}", text))).format(**values)
        except (KeyError, IndexError) as problem:
            raise PhraseError(f"the words “{key}” need a value for {problem}") from problem
        return self.formed(said, EVERYWHERE) if EVERYWHERE in self.forms else said

    def listed(self, things: Iterable[Markup], key: str = "list_and") -> Markup:
        """Things with commas and a last “and”, or with `list_or` a last “or”."""
        several = list(things)
        if len(several) < 2:
            return several[0] if several else Markup()
        head = Markup(", ").join(several[:-1])
        return self.say(key, first=head, last=several[-1])

    def one(self, number: Fraction | int) -> bool:
        """Whether the language says a number of things in the singular, by CLDR's plural rules.

        In French 1.5 hours are singular as well.
        """
        whole = Fraction(number).denominator == 1
        rule = Locale.parse(self.language, sep="-").plural_form
        return str(rule(int(number) if whole else float(number))) == "one"

    def formed(self, words: object, form: str) -> Markup:
        """Words in one of the language's forms: each group of words that the form knows, bent.

        Raises KeyError for a form that the language does not have.
        """
        bent = {str(escape(known)): str(escape(text)) for known, text in self.forms[form].items()}
        longest = sorted(bent, key=len, reverse=True)
        any_of = "|".join(re.escape(known) for known in longest)
        return Markup(re.sub(rf"(?<!\w)(?:{any_of})", lambda at: bent[at[0]], escape(words)))


@cache
def read_phrases(language: str) -> Phrases:
    """Read the fixed words for a tag such as "en" or "en-GB".

    A regional list adds to the general one and wins over it.  Raises PhraseError if the language
    has no words at all.
    """
    texts: dict[str, str] = {}
    forms: dict[str, Mapping[str, str]] = {}
    parts = language.split("-")
    for length in range(1, len(parts) + 1):
        tag = "-".join(parts[:length])
        texts.update(_read(tag))
        forms.update(_read_forms(tag))
        # What is corrected for a region holds for the general words as well.
        terms = _read_terms(tag)
        texts = {key: corrected(text, terms) for key, text in texts.items()}
        forms = {form: _corrected(bent, terms) for form, bent in forms.items()}
    if not texts:
        raise PhraseError(f"there are no fixed words for the language “{language}”")
    return Phrases(language, MappingProxyType(texts), MappingProxyType(forms))


def _read(tag: str) -> dict[str, str]:
    """All words of one tag: every list in its folder, none of which may repeat a key."""
    folder = files("patternpress.booklet") / "words" / tag
    if not (tag.replace("-", "").isalnum() and folder.is_dir()):
        return {}
    words: dict[str, str] = {}
    lists = (
        e for e in folder.iterdir() if e.name.endswith(".yaml") and e.name not in (FORMS, TERMS)
    )
    for path in sorted(lists, key=lambda each: each.name):
        raw = yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)
        if not isinstance(raw, dict) or not all(isinstance(text, str) for text in raw.values()):
            raise PhraseError(f"{path.name} of {tag} must be one flat list of keys and texts")
        if raw.keys() & words.keys():
            twice = ", ".join(sorted(raw.keys() & words.keys()))
            raise PhraseError(f"{path.name} of {tag} says again: {twice}")
        words.update({str(key): str(text) for key, text in raw.items()})
    return words


def corrected(text: str, terms: Mapping[str, str]) -> str:
    """A text with each trade term, as a whole word, as the glossary prints it; places stay."""
    changed = {term: said for term, said in terms.items() if term != said}
    if not changed:
        return text
    any_of = "|".join(re.escape(term) for term in sorted(changed, key=len, reverse=True))
    return re.sub(rf"(?<![\w{{])(?:{any_of})(?![\w}}])", lambda at: changed[at[0]], text)


def _corrected(bent: Mapping[str, str], terms: Mapping[str, str]) -> Mapping[str, str]:
    return {corrected(known, terms): corrected(text, terms) for known, text in bent.items()}


def _read_terms(tag: str) -> Mapping[str, str]:
    """The glossary of one tag: each term as the lists have it, and as it is to be printed."""
    raw = _beside(tag, TERMS)
    if not all(isinstance(said, str) and said for said in raw.values()):
        raise PhraseError(f"{TERMS} of {tag} must be a flat list of terms and their words")
    return {str(term): str(said) for term, said in raw.items()}


def _beside(tag: str, name: str) -> dict[str, object]:
    """A file that may lie beside a language's lists; nothing where there is none."""
    path = files("patternpress.booklet") / "words" / tag / name
    if not (tag.replace("-", "").isalnum() and path.is_file()):
        return {}
    raw = yaml.load(path.read_text(encoding="utf-8"), Loader=yaml.BaseLoader)
    if not isinstance(raw, dict):
        raise PhraseError(f"{name} of {tag} must be a list of words")
    return raw


def _read_forms(tag: str) -> Forms:
    """The forms of one tag: for each, groups of words and what they become."""
    raw = _beside(tag, FORMS)
    found: dict[str, Mapping[str, str]] = {}
    for form, bent in raw.items():
        if not isinstance(bent, dict):
            raise PhraseError(f"{FORMS} of {tag} must be lists of words and their forms")
        found[form] = {str(known): str(text) for known, text in bent.items()}
    return found
