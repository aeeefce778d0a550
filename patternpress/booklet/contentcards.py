"""What the pages print where a buyer measures, and where they send them to another page.

In: nothing; these are records, part of `content.Content`.  Out: `MeasureCard`s and `Reference`s.
Text may be markup (`markupsafe.Markup`); pictures are whole `<svg>` elements.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from markupsafe import Markup


@dataclass(frozen=True)
class Reference:
    """Where to look: the anchor of a place, and words that name its page ("page 14")."""

    to: str
    words: str


@dataclass(frozen=True)
class MeasureResult:
    """One size that follows from a measurement: take away `less`; `planned` if all went well.

    `boards`: whose thickness is in what is taken away, and how often.
    """

    name: str
    less: str
    planned: str
    boards: str = ""


@dataclass(frozen=True)
class MeasureRow:
    """One measurement and the sizes that follow from it.

    Measure `what` (`planned` if all went well).  `at`: where to lay the rule.
    """

    what: str
    planned: str
    results: tuple[MeasureResult, ...] = ()
    at: str = ""


@dataclass(frozen=True)
class MeasureCard:
    """Where the buyer writes down an opening, in `columns` several, and works out parts."""

    heading: str
    rows: tuple[MeasureRow, ...]
    words: str = ""
    picture: Markup = field(default_factory=Markup)
    letters: str = ""
    columns: tuple[str, ...] = ()
    anchor: str = ""
