"""What units of length are called in the language of a booklet.

In: the language that the file names.  Out: names and what finds them, taken from CLDR's short
forms by way of Babel, not from the words that the booklet was written with.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache

from babel import Locale, UnknownLocaleError
from babel.units import format_unit

# The forms of one, two, five, ten and of a half: languages have several.
_COUNTS = ("1", "2", "5", "10", "0.5")


@dataclass(frozen=True)
class UnitNames:
    """The names of the language itself; `known`: these and the signs that are read anywhere."""

    mm: frozenset[str]
    inch: frozenset[str]

    @property
    def known(self) -> str:
        """A pattern of every name that is read, the longest first."""
        every = self.mm | self.inch | {"mm", "in", "″"}
        return "|".join(re.escape(each) for each in sorted(every, key=lambda e: (-len(e), e)))

    def unit(self, name: str) -> str:
        """`mm` or `in` for a name that was read."""
        return "mm" if name in self.mm or name == "mm" else "in"

    def own(self, name: str) -> bool:
        """Whether the language itself calls a unit so; the sign ″ is of none."""
        return name in self.mm or name in self.inch or name == "″"


@cache
def names_in(language: str) -> UnitNames:
    """The names in a language; the international ones for one that CLDR does not know."""
    return UnitNames(
        _named("length-millimeter", language, "mm"), _named("length-inch", language, "in")
    )


def _named(unit: str, language: str, international: str) -> frozenset[str]:
    try:
        locale = Locale.parse(language.replace("-", "_"))
    except (UnknownLocaleError, ValueError):
        return frozenset({international})
    shown = (format_unit(float(each), unit, "short", locale=locale) for each in _COUNTS)
    names = {re.sub(r"^[\d.,]+\s*", "", each).strip() for each in shown}
    # Where the unit stands before its figure, or goes unnamed, the international sign is used.
    return frozenset({each for each in names if each and not re.search(r"\d", each)}) or frozenset(
        {international}
    )
