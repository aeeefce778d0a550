"""What things are called in the other languages of a design.

In: nothing.  Out: record classes; their fields are the tables of the reference.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from patternpress.design.kinds import naming
from patternpress.design.names import KINDS, LABEL
from patternpress.design.reads import CODE, Reader, Reads, Text
from patternpress.design.source import Scalar
from patternpress.design.span import Said
from patternpress.design.table import Group, Map, Record, says


@dataclass(frozen=True)
class LanguageCode(Reads):
    """A language code, as a key."""

    example: str = "de"
    says: str = "languages"

    def typed(self, scalar: Scalar, name: str, reader: Reader) -> Said[str] | None:
        """The code, when it has the form of one."""
        if CODE.fullmatch(scalar.text):
            return Said(scalar.text, scalar.span, scalar.text)
        reader.report(naming.LanguageUnknown, scalar.span, text=scalar.text)
        return None


@dataclass(frozen=True)
class AnyName(Reads):
    """Whatever the design calls by a name, woods and outcomes of checks among them."""

    example: str = "back board"
    says: str = "names of the design"

    def typed(self, scalar: Scalar, name: str, reader: Reader) -> Said[str] | None:
        """The name, when it is known."""
        text = " ".join(scalar.text.split())
        if reader.names.find(text, *KINDS, LABEL):
            return Said(text, scalar.span, text)
        near = reader.near(text, *KINDS, LABEL)
        reader.report(naming.UnknownName, scalar.span, name=text, kind="thing", near=near)
        return None


@dataclass(frozen=True, kw_only=True)
class Called(Record):
    """What something is called in a language."""

    title: ClassVar[str] = "a name in a language"
    short: ClassVar[str] = "one"
    one: Said[str] = says(
        Text("die Rückwand", 80),
        "what it is called, with its article where the language has them",
        needed=True,
    )
    several: Said[str] | None = says(
        Text("Rückwände", 80), "what several of them are called, for parts that are counted"
    )


NAMES = Map(LanguageCode(), Map(AnyName(), Group(Called)))
GivenNames = tuple[tuple[Said[str], tuple[tuple[Said[str], Called], ...]], ...]
