"""What things are called in the language of an edition.

In: a `Book` and a language.  Out: `Calls`, which finds the printed name of whatever the design
names.  Inside, a thing keeps the name that its author works with; only print goes by another.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from types import MappingProxyType

from patternpress.assembly.articles import bare
from patternpress.design.names import LABEL, Named, Names
from patternpress.design.records.book import Book
from patternpress.design.records.called import Called
from patternpress.measure.unitwords import in_language

# What is printed by its name; sizes are printed as figures, and choices as their question.
PRINTED = (
    "part",
    "piece",
    "sub-assembly",
    "opening",
    "hole",
    "groove",
    "mark",
    "stock",
    "tool",
    "material",
    "answer",
    LABEL,
)


@dataclass(frozen=True)
class Calls:
    """The names of one language; `own` is the main language of the design."""

    language: str
    own: str
    said: Mapping[str, Called] = field(default_factory=dict)

    @property
    def foreign(self) -> bool:
        """Whether the author's own names are another language's."""
        return self.language.partition("-")[0] != self.own.partition("-")[0]

    def one(self, name: str) -> str:
        """The name as it is printed, without its article; the author's where there is no other.

        What is counted takes the name of its fellows: “slat 3” is “Latte 3”.
        """
        return bare(self.language, self.given(name))

    def given(self, name: str) -> str:
        """The name as the author gives it for the language, with its article if it has one."""
        found = self._found(name)
        if found is not None:
            return self._in_units(found.one.value)
        head, _, number = name.rpartition(" ")
        fellow = self._found(head) if number.isdecimal() else None
        if fellow is not None:
            return self._in_units(f"{fellow.one.value} {number}")
        return name if self.foreign else self._in_units(name)

    def several(self, name: str) -> str:
        """The name for several of them: as given, or made of an English one, or as for one."""
        found = self._found(name)
        if found is not None and found.several is not None:
            return bare(self.language, self._in_units(found.several.value))
        english = self.language.partition("-")[0] == "en" and not self.foreign
        return plural(self.one(name)) if english else self.one(name)

    def knows(self, name: str) -> bool:
        """Whether a name needs no mark: it is said in the language, or is of the language."""
        head, _, number = name.rpartition(" ")
        counted = number.isdecimal() and self._found(head) is not None
        return not self.foreign or counted or self._found(name) is not None

    @property
    def given_names(self) -> tuple[str, ...]:
        """Every name that the language has, as it was given."""
        every = ((each.one, each.several) for each in self.said.values())
        return tuple(
            self._in_units(said.value) for pair in every for said in pair if said is not None
        )

    def _in_units(self, name: str) -> str:
        """A name of the language, the units typed in it called as the language does."""
        return in_language(name, self.language)

    def _found(self, name: str) -> Called | None:
        return self.said.get(name)


def calls_of(book: Book, language: str) -> Calls:
    """The names that a design gives in a language; those of a region win over the general ones."""
    own = book.languages[0].value if book.languages else "en"
    wanted = [language.partition("-")[0], language]
    said: dict[str, Called] = {}
    for tag in dict.fromkeys(wanted):
        # What stands first wins: a design's own names before those of the file it shares.
        for each, names in reversed(book.names):
            if each.value == tag:
                said.update({name.value: called for name, called in names})
    return Calls(language, own, MappingProxyType(said))


def missing_names(book: Book, names: Names, language: str) -> Iterator[Named]:
    """Every printed name that a language lacks, once; none where the author's are of it."""
    calls = calls_of(book, language)
    told: set[str] = set()
    for each in names.of_kind(*PRINTED):
        counted = each.name.startswith(f"{each.owner} ") and each.name.split()[-1].isdecimal()
        if each.name not in told and not counted and not calls.knows(each.name):
            told.add(each.name)
            yield each


def plural(noun: str) -> str:
    """The plural of an English noun, or of the last of several words."""
    if noun.endswith(("s", "x", "z", "sh", "ch")):
        return f"{noun}es"
    if noun.endswith("y") and noun[-2:-1] not in "aeiou":
        return f"{noun[:-1]}ies"
    return f"{noun}s"
