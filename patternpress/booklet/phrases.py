"""The fixed words of the pages, in one language.

In: a language tag.  Out: `Phrases`, which words a key with its values.  `{name}` in a text is a
place for a value.  A language whose words bend has `forms.yaml`: `{side:dat}` sets the value in
its form “dat”.  The trade terms of a language stand in its `terms.yaml`, where they are corrected
for all texts.  `wordfiles.py` reads the files, `catalogues.py` keeps the languages together.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from functools import cache, cached_property, lru_cache
from gettext import c2py
from types import MappingProxyType

from babel import Locale
from markupsafe import Markup, escape

from patternpress.assembly.articles import BARE_FORMS, CASES, EVERYWHERE, bent
from patternpress.booklet.wordfiles import (
    Forms,
    PhraseError,
    read_forms,
    read_terms,
    read_texts,
)

__all__ = ["PhraseError", "Phrases", "corrected", "read_phrases"]

GERMANIC = "(n != 1)"  # the plural expression of English, German and many more
LOOKED_AT = 200  # whole numbers among which one like a fraction is sought
_FORMED = re.compile(r"\{(\w+):(\w+)\}")
_START = r"(?<!\w)"
_chooser = cache(c2py)
_Bending = tuple[re.Pattern[str] | None, Mapping[str, str]]


@dataclass(frozen=True, eq=False)
class Phrases:
    """The fixed words of one language."""

    language: str
    texts: Mapping[str, str]
    forms: Forms = field(default_factory=dict)
    plural: str = GERMANIC
    names: Forms = field(default_factory=dict)  # what names become, where they have articles

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
        return self.formed(said, EVERYWHERE)

    def listed(self, things: Iterable[Markup], key: str = "list_and") -> Markup:
        """Things with commas and a last “and”, or with `list_or` a last “or”."""
        several = list(things)
        if len(several) < 2:
            return several[0] if several else Markup()
        head = Markup(", ").join(several[:-1])
        return self.say(key, first=head, last=several[-1])

    def counted(self, key: str, number: Fraction | int, **values: object) -> Markup:
        """The text of `key` in the plural form that a number of things takes.

        Raises PhraseError as `say` does.
        """
        return self.say(f"{key}[{self.form_of(number)}]", **values)

    def form_of(self, number: Fraction | int) -> int:
        """Which plural form a number takes, by the catalogue's Plural-Forms.

        That rule knows whole numbers only: a fraction takes the form of a whole number that is
        of its kind in CLDR's plural rules, if there is one.  In French 1.5 hours are singular.
        """
        choose = _chooser(self.plural)
        if Fraction(number).denominator == 1:
            return choose(int(number))
        rule = Locale.parse(self.language, sep="-").plural_form
        kind = rule(float(number))
        alike = (each for each in range(LOOKED_AT) if rule(each) == kind)
        return choose(next(alike, int(number)))

    def formed(self, words: object, form: str) -> Markup:
        """Words in one of the language's forms: each group of words that the form knows, bent.

        A bare name takes its article, or what stands for one, where it begins the words; what does
        not bend has before it what the form says for “” (“von” for a genitive).  Raises KeyError
        for a form that the language does not have.
        """
        said = escape(words)
        known, bent = self._bending(form)
        if form in BARE_FORMS:
            found = known.match(said) if known else None
            start = Markup(bent[found[0]] if found else bent.get("", ""))
            return start + (said[found.end() :] if found else said)
        if "" in bent and said and not (known and known.match(said)):
            said = Markup(bent[""]) + said
        return Markup(known.sub(lambda at: bent[at[0]], said)) if known else said

    def _bending(self, form: str) -> _Bending:
        """What a form bends: names as whole words, groups of the language where words begin."""
        if form not in self._known:
            names = _escaped(self.names.get(form, {}))
            always = form in (*BARE_FORMS, *CASES, EVERYWHERE)
            own = _escaped(self.forms.get(form, {}) if always else self.forms[form])
            groups = [_any_of(names, r"(?!\w)"), _any_of(own.keys() - {""}, "")]
            any_of = "|".join(each for each in groups if each)
            known = re.compile(any_of) if any_of else None
            self._known[form] = known, {**own, **names}
        return self._known[form]

    @cached_property
    def _known(self) -> dict[str, _Bending]:
        """The forms that were asked for before: made once, for a booklet asks a thousand times."""
        return {}


@cache
def read_phrases(language: str) -> Phrases:
    """Read the fixed words for a tag such as "en" or "en-GB".

    A regional list adds to the general one and wins over it.  Raises PhraseError if the language
    has no words at all.
    """
    texts: dict[str, str] = {}
    forms: dict[str, Mapping[str, str]] = {}
    plural = GERMANIC
    parts = language.split("-")
    for length in range(1, len(parts) + 1):
        tag = "-".join(parts[:length])
        own = read_texts(tag)
        texts.update(own.texts)
        plural = own.plural or plural
        forms.update(read_forms(tag))
        # What is corrected for a region holds for the general words as well.
        terms = read_terms(tag)
        texts = {key: corrected(text, terms) for key, text in texts.items()}
        forms = {form: _corrected(bent, terms) for form, bent in forms.items()}
    if not texts:
        raise PhraseError(f"there are no fixed words for the language “{language}”")
    return Phrases(language, MappingProxyType(texts), MappingProxyType(forms), plural)


def _any_of(known: Iterable[str], end: str) -> str:
    """An expression for any of some groups of words, the longest first; nothing for none."""
    longest = sorted(known, key=len, reverse=True)
    words = "|".join(rf"{_START if each[0].isalnum() else ''}{re.escape(each)}" for each in longest)
    return f"(?:{words}){end}" if words else ""


def _escaped(forms: Mapping[str, str]) -> dict[str, str]:
    return {str(escape(known)): str(escape(text)) for known, text in forms.items()}


@lru_cache(maxsize=64)
def with_names(phrases: Phrases, language: str, given: tuple[str, ...]) -> Phrases:
    """The words with names as authors give them for a language, some with their articles."""
    return replace(phrases, names=bent(language, given))


def corrected(text: str, terms: Mapping[str, str]) -> str:
    """A text with each trade term, as a whole word, as the glossary prints it; places stay."""
    changed = {term: said for term, said in terms.items() if term != said}
    if not changed:
        return text
    any_of = "|".join(re.escape(term) for term in sorted(changed, key=len, reverse=True))
    return re.sub(rf"(?<![\w{{])(?:{any_of})(?![\w}}])", lambda at: changed[at[0]], text)


def _corrected(bent: Mapping[str, str], terms: Mapping[str, str]) -> Mapping[str, str]:
    return {corrected(known, terms): corrected(text, terms) for known, text in bent.items()}
