"""The fixed words of the pages, in one language.

In: a language tag.  Out: `Phrases`, which words a key with its values.  `{name}` in a text is a
place for a value.  A language whose words bend has `forms.yaml`: `{side:dat}` sets the value in
its form “dat”.  The trade terms of a language stand in its `terms.yaml`, where they are corrected
for all texts.  `wordfiles.py` reads the files, `catalogues.py` keeps the languages together.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cache
from gettext import c2py
from types import MappingProxyType

from babel import Locale
from markupsafe import Markup, escape

from patternpress.booklet.wordfiles import (
    Forms,
    PhraseError,
    read_forms,
    read_terms,
    read_texts,
)

__all__ = ["PhraseError", "Phrases", "corrected", "read_phrases"]

EVERYWHERE = "everywhere"  # the form that every text of a language takes
GERMANIC = "(n != 1)"  # the plural expression of English, German and many more
LOOKED_AT = 200  # whole numbers among which one like a fraction is sought
_FORMED = re.compile(r"\{(\w+):(\w+)\}")
_chooser = cache(c2py)


@dataclass(frozen=True)
class Phrases:
    """The fixed words of one language."""

    language: str
    texts: Mapping[str, str]
    forms: Forms = field(default_factory=dict)
    plural: str = GERMANIC

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


def corrected(text: str, terms: Mapping[str, str]) -> str:
    """A text with each trade term, as a whole word, as the glossary prints it; places stay."""
    changed = {term: said for term, said in terms.items() if term != said}
    if not changed:
        return text
    any_of = "|".join(re.escape(term) for term in sorted(changed, key=len, reverse=True))
    return re.sub(rf"(?<![\w{{])(?:{any_of})(?![\w}}])", lambda at: changed[at[0]], text)


def _corrected(bent: Mapping[str, str], terms: Mapping[str, str]) -> Mapping[str, str]:
    return {corrected(known, terms): corrected(text, terms) for known, text in bent.items()}
