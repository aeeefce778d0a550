"""What the pages print where a buyer measures, and where they send them to another page.

In: nothing; these are records, as those of `content` are, which passes them on.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TypeAlias

from markupsafe import Markup

Text: TypeAlias = str  # markupsafe.Markup is a str: the name says that markup is welcome
Picture: TypeAlias = Markup
NO_PICTURE = Markup()


@dataclass(frozen=True)
class Reference:
    """Where to look: the anchor of a place, and words that name its page ("page 14")."""

    to: str
    words: Text


@dataclass(frozen=True)
class MeasureResult:
    """One size that follows from a measurement: take away `less`; `planned` if all went well."""

    name: Text
    less: Text
    planned: Text


@dataclass(frozen=True)
class MeasureRow:
    """One measurement and the sizes that follow from it.

    Measure `what` (`planned` if all went well).  `at`: where to lay the rule.
    """

    what: Text
    planned: Text
    results: tuple[MeasureResult, ...] = ()
    at: Text = ""


@dataclass(frozen=True)
class MeasureCard:
    """Where the buyer writes down an opening, in `columns` several, and works out parts."""

    heading: Text
    rows: tuple[MeasureRow, ...]
    words: Text = ""
    picture: Picture = NO_PICTURE
    letters: Text = ""
    columns: tuple[Text, ...] = ()
    anchor: str = ""
