"""How figures of a design file are read: sums, counts, sizes, days, ratios, prices.

In: a node of the tree.  Out: a typed value with its place, or nothing and a problem.
"""

from __future__ import annotations

import datetime
import re
from dataclasses import dataclass
from fractions import Fraction

from patternpress.design.kinds import figures, form
from patternpress.design.measured import facts_of, kind_of
from patternpress.design.reads import Reader, Reads, Schema, article
from patternpress.design.source import Scalar
from patternpress.design.span import Said
from patternpress.measure.errors import MeasureError
from patternpress.measure.formula import Formula, parse


@dataclass(frozen=True)
class Figure(Reads):
    """A figure or a sum with units; `kind` is what it must come to, or None for any."""

    kind: str | None = "length"
    example: str = "width - 2 * board"

    @property
    def says(self) -> str:  # type: ignore[override]
        """Worded for the reference."""
        return f"{article(self.kind or 'figure')}, given or worked out"

    def typed(self, scalar: Scalar, name: str, reader: Reader) -> Said[Formula] | None:
        """The formula, parsed; its names are looked up when sizes are resolved."""
        try:
            return Said(parse(scalar.text), scalar.span, scalar.text)
        except MeasureError as error:
            report_measure(error, scalar, reader)
            return None

    def schema(self) -> Schema:
        """A string; a bare whole number is what YAML makes of a count."""
        return {"type": ["string", "number"]}


def report_measure(error: MeasureError, scalar: Scalar, reader: Reader) -> None:
    """Turn a failure of the measure room into a problem with a place."""
    span = scalar.locate(error.start, error.end) if error.end else scalar.span
    reader.report(kind_of(error), span, **facts_of(error, scalar.text))


@dataclass(frozen=True)
class Count(Reads):
    """A whole number of things."""

    example: str = "2"
    most: int = 999
    says: str = "a whole number"

    def typed(self, scalar: Scalar, name: str, reader: Reader) -> Said[int] | None:
        """A number from 1 to `most`."""
        text = scalar.text.strip()
        if not text.isascii() or not text.isdecimal() or not 1 <= int(text[:9]) <= self.most:
            reader.report(figures.NotACount, scalar.span, text=text, most=str(self.most))
            return None
        return Said(int(text), scalar.span, text)

    def schema(self) -> Schema:
        """A whole number within its limits, in quotes or not."""
        number = {"type": "integer", "minimum": 1, "maximum": self.most}
        return {"anyOf": [number, {"type": "string", "pattern": r"^\s*\d+\s*$"}]}


@dataclass(frozen=True)
class Date(Reads):
    """A day, as year-month-day."""

    says: str = "a date"
    example: str = "2026-11-25"

    def typed(self, scalar: Scalar, name: str, reader: Reader) -> Said[datetime.date] | None:
        """The day; Python's own reading takes weeks as well, which no maker writes."""
        text = scalar.text.strip()
        try:
            if re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", text):
                return Said(datetime.date.fromisoformat(text), scalar.span, scalar.text)
        except ValueError:
            pass  # the thirtieth of February
        reader.report(form.NotADate, scalar.span, text=scalar.text)
        return None


@dataclass(frozen=True)
class Ratio(Reads):
    """A model ratio such as 1:12."""

    says: str = "a model ratio"
    example: str = "1:12"

    def typed(self, scalar: Scalar, name: str, reader: Reader) -> Said[Fraction] | None:
        """The ratio as a fraction."""
        found = re.fullmatch(r"\s*(\d{1,4})\s*:\s*(\d{1,4})\s*", scalar.text)
        if not found or not int(found[1]) or not int(found[2]):
            reader.report(form.NotAScale, scalar.span, text=scalar.text)
            return None
        return Said(Fraction(int(found[1]), int(found[2])), scalar.span, scalar.text)

    def schema(self) -> Schema:
        """A text; older readers of YAML make 72 of 1:12, as if it were minutes and seconds."""
        return {"type": ["string", "integer"], "pattern": r"^\s*\d{1,4}\s*:\s*\d{1,4}\s*$"}


@dataclass(frozen=True)
class Price(Reads):
    """An amount of money: the figure, then the currency's three letters."""

    says: str = "an amount and its currency"
    example: str = "4.50 EUR"

    def typed(self, scalar: Scalar, name: str, reader: Reader) -> Said[tuple[Fraction, str]] | None:
        """The amount, exact, and the currency."""
        found = re.fullmatch(r"\s*(\d{1,9}(?:\.\d{1,2})?)\s*([A-Z]{3})\s*", scalar.text)
        if not found:
            reader.report(form.NotMoney, scalar.span, text=scalar.text)
            return None
        return Said((Fraction(found[1]), found[2]), scalar.span, scalar.text)


@dataclass(frozen=True)
class Sizes(Reads):
    """Sizes with a times sign between them; a unit at the end serves all."""

    least: int = 1
    most: int = 3
    example: str = "4 x 6 mm"
    says: str = "sizes with `x` between them"

    def typed(self, scalar: Scalar, name: str, reader: Reader) -> tuple[Said[Formula], ...] | None:
        """The sizes, each a formula."""
        pieces = re.split(r"\s+[x×]\s+|(?<=\d)[x×](?=\d)", scalar.text)
        if not self.least <= len(pieces) <= self.most:
            facts = {"text": scalar.text, "example": self.example}
            reader.report(figures.NotSizes, scalar.span, **facts)
            return None
        unit = re.search(r"(?<=[\d\s])(mm|cm|m|in|inch|inches|ft|″|\")\s*$", pieces[-1])
        read: list[Said[Formula]] = []
        for piece in pieces:
            bare = unit and re.fullmatch(r"(?:about )?[\d\s./½¼¾⅛]+", piece)
            at = scalar.text.find(piece.strip())
            part = Scalar(
                piece.strip(), scalar.locate(at, at + len(piece.strip())), lines=scalar.lines
            )
            try:
                text = f"{part.text} {unit[1]}" if bare and unit else part.text
                read.append(Said(parse(text), part.span, part.text))
            except MeasureError as error:
                report_measure(error, part, reader)
        return tuple(read) if len(read) == len(pieces) else None
