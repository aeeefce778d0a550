"""The templates and bars of a booklet, gathered from what their lines say they are.

In: the pages of a booklet.  Out: a `Drawing` for each part drawn and a `Ruler` for each bar, still
in mm of the sheet; `Printer` tells what a set for one printer is stretched by.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction
from functools import lru_cache

from patternpress.proof.geometry import Points, flat
from patternpress.proof.marks import Box, Line, Page, Tag, Track, Words, tag_of
from patternpress.proof.reading import Booklet
from patternpress.proof.rows import rows_of

WIDE = 0.45  # mm: a line this wide is to be cut along
_PRINTER = r"(\d+(?:\.\d+)?)x(\d+(?:\.\d+)?)"


@dataclass(frozen=True, slots=True)
class Printer:
    """How much longer lines are drawn across and up, to come out true on one printer."""

    across: float = 1.0
    up: float = 1.0

    def undone(self, points: Points) -> Points:
        """Return places as that printer will print them."""
        return points / (self.across, self.up)


def printer_of(booklet: Booklet) -> Printer:
    """Return the printer that the booklet says it is for; usually one that is true."""
    measured = measured_by(booklet)
    if measured is None:
        return Printer()
    across, up = measured
    return Printer(float(100 / across), float(100 / up))


def measured_by(booklet: Booklet) -> tuple[Fraction, Fraction] | None:
    """Return what 100 mm measure on the one printer of a set, across and up: "99.2x99.5"."""
    found = re.fullmatch(_PRINTER, booklet.info.get("PatternPrinter", ""))
    if not found:
        return None
    across, up = Fraction(found[1]), Fraction(found[2])
    return (across, up) if across > 1 and up > 1 else None


@dataclass
class Drawing:
    """One part as drawn: what its tag says, and its lines by what they are.

    `window`: left, bottom, right and top of the stretch of the part that it shows, if not all;
    `sheet`: which of how many to be joined; `joins`: the lines that serve to join them.
    `alone`: words of a template on several sheets that found no room there, says its tag.
    """

    part: str
    name: str
    hand: str
    scale: Fraction
    turned: bool
    page: int
    printer: Printer = field(default_factory=Printer)
    tracks: dict[tuple[str, str], list[Track]] = field(default_factory=dict)
    unnamed: int = 0
    covers: int = 0
    window: Box | None = None
    words: list[Words] = field(default_factory=list)
    sheet: tuple[int, int] | None = None
    joins: list[Line] = field(default_factory=list)
    alone: bool = False

    def lines(self, kind: str, name: str = "") -> list[Points]:
        """Return the lines of a kind and name, as places on the printed sheet."""
        return [self.printer.undone(flat(track)) for track in self.tracks.get((kind, name), ())]

    def names(self, kind: str) -> list[str]:
        """Return the names of the things of a kind that are drawn."""
        return [name for found, name in self.tracks if found == kind]

    @property
    def only_words(self) -> bool:
        """Whether it says that it is words alone, and is."""
        return self.alone and not (self.tracks or self.joins or self.unnamed)

    @property
    def rows(self) -> list[str]:
        """All words at the drawing, row by row."""
        return [row.text for row in rows_of(self.words)]

    def said(self, of: str) -> list[str]:
        """Return the words that give a size, a number or the letter."""
        found: dict[int, list[Words]] = {}
        for words in self.words:
            tag = tag_of(words.tags, "Said")
            if tag is not None and tag.facts.get("Of") == of:
                found.setdefault(id(tag), []).append(words)
        return [" ".join(row.text for row in rows_of(each)) for each in found.values()]

    @property
    def called(self) -> str:
        """The hand in words, for a report; nothing for a part without hands."""
        return f", {self.hand} hand" if self.hand else ""


@dataclass
class Ruler:
    """One bar to check the print with: its lines, and the words at it."""

    along: str
    page: int
    printer: Printer
    tracks: list[Track] = field(default_factory=list)
    words: list[Words] = field(default_factory=list)


@lru_cache(maxsize=1)  # many checks ask for those of one booklet, one after the other
def drawings_of(booklet: Booklet) -> tuple[Drawing, ...]:
    """Return every template, page by page."""
    printer = printer_of(booklet)
    return tuple(each for page in booklet.pages for each in _on_page(page, printer))


def _on_page(page: Page, printer: Printer) -> list[Drawing]:
    found: dict[int, Drawing] = {}

    def drawing(tag: Tag) -> Drawing:
        if id(tag) not in found:
            found[id(tag)] = _drawing(tag, page.number, printer)
        return found[id(tag)]

    for line in page.lines:
        if (tag := tag_of(line.tags, "Template")) is not None:
            _add(drawing(tag), line)
    for words in page.words:
        if (tag := tag_of(words.tags, "Template")) is not None:
            drawing(tag).words.append(words)
    return list(found.values())


def _drawing(tag: Tag, page: int, printer: Printer) -> Drawing:
    scale = re.fullmatch(r"(\d+):([1-9]\d*)", tag.facts.get("Scale", ""))
    return Drawing(
        part=tag.facts.get("Part", ""),
        name=tag.facts.get("Name", ""),
        hand=tag.facts.get("Hand", ""),
        scale=Fraction(int(scale[1]) or 1, int(scale[2])) if scale else Fraction(1),
        turned=tag.facts.get("Turned") == "yes",
        page=page,
        printer=printer,
        window=_window(tag.facts.get("Window", "")),
        sheet=sheet_of(tag),
        alone=tag.facts.get("Words") == "alone",
    )


def sheet_of(tag: Tag) -> tuple[int, int] | None:
    """Return which sheet of how many a tag says, as "2 of 4" is written: 2 4."""
    found = re.fullmatch(r"(\d+) (\d+)", tag.facts.get("Sheet", ""))
    return (int(found[1]), int(found[2])) if found else None


def _window(said: str) -> Box | None:
    found = re.fullmatch(r"(-?[\d.]+) (-?[\d.]+) (-?[\d.]+) (-?[\d.]+)", said)
    if not found:
        return None
    left, bottom, right, top = (float(each) for each in found.groups())
    return (left, bottom, right, top) if left < right and bottom < top else None


def _add(drawing: Drawing, line: Line) -> None:
    tag = tag_of(line.tags, "Drawn")
    if line.unseen:
        drawing.covers += line.filled
        return
    if tag is None:
        drawing.unnamed += line.width >= WIDE
        if tag_of(line.tags, "Seam") or tag_of(line.tags, "Corner"):
            drawing.joins.append(line)
        return
    key = (tag.facts.get("As", ""), tag.facts.get("Name", ""))
    drawing.tracks.setdefault(key, []).extend(line.tracks)


def rulers_of(booklet: Booklet) -> list[Ruler]:
    """Return every bar, page by page."""
    printer = printer_of(booklet)
    found: dict[int, Ruler] = {}

    def ruler(tag: Tag, page: Page) -> Ruler:
        new = Ruler(tag.facts.get("Along", ""), page.number, printer)
        return found.setdefault(id(tag), new)

    for page in booklet.pages:
        for line in page.lines:
            if (tag := tag_of(line.tags, "Bar")) is not None:
                ruler(tag, page).tracks.extend(line.tracks)
        for words in page.words:
            if (tag := tag_of(words.tags, "Bar")) is not None:
                ruler(tag, page).words.append(words)
    return list(found.values())


def strangers(booklet: Booklet) -> Iterator[tuple[Page, Points]]:
    """Yield wide closed lines on pages of templates that belong to no part and no bar."""
    for number in booklet.sections.get("templates", range(0)):
        page = booklet.pages[number - 1]
        for line in page.lines:
            named = tag_of(line.tags, "Template") or tag_of(line.tags, "Bar")
            if named is None and line.width >= WIDE:
                for track in line.tracks:
                    if track.closed:
                        yield page, flat(track)


def covers(booklet: Booklet) -> Iterator[tuple[Page, Points]]:
    """Yield white areas on pages of templates that belong to no part: they may hide one."""
    for number in booklet.sections.get("templates", range(0)):
        page = booklet.pages[number - 1]
        for line in page.lines:
            if line.unseen and line.filled and tag_of(line.tags, "Template") is None:
                for track in line.tracks:
                    yield page, flat(track)
