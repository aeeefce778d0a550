"""Letters and numbers: the cutting list, the templates and the steps must speak of the same parts.

In: a `Booklet`.  Out: findings, and counts.  Rows are read from the structure of the file: the
first cell of a row of the cutting list is the letter, the second the number.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from patternpress.proof.amounts import amounts_of, plain
from patternpress.proof.drawings import Drawing, drawings_of
from patternpress.proof.findings import Counted, Judged, finding
from patternpress.proof.reading import Booklet
from patternpress.proof.structure import Element

LETTER = r"[A-HJ-NP-Z]{1,2}"
IN_BRACKETS = re.compile(rf"\(({LETTER})\)")
SEVERAL = re.compile(rf"{LETTER}(?:, {LETTER})*")


@dataclass(frozen=True, slots=True)
class Row:
    """A row of the cutting list."""

    letter: str
    number: int
    name: str
    size: str
    page: int


def rows_in(booklet: Booklet) -> list[Row]:
    """Return the rows of the cutting list, in its order."""
    found = []
    for cells in _table_rows(booklet, "cutting"):
        texts = [plain(each.text) for each in cells]
        if len(texts) >= 4 and re.fullmatch(LETTER, texts[0]) and texts[1].isdigit():
            found.append(Row(texts[0], int(texts[1]), texts[2], texts[3], cells[0].page))
    return found


def _table_rows(booklet: Booklet, section: str) -> Iterator[list[Element]]:
    pages = booklet.sections.get(section, range(0))
    cells: list[Element] = []
    for each in booklet.elements:
        if each.kind == "TR":
            if cells:
                yield cells
            cells = []
        elif each.kind in ("TD", "TH") and each.page in pages:
            cells.append(each)
    if cells:
        yield cells


def bought_in(booklet: Booklet) -> set[str]:
    """Return the letters that the list of what is needed gives to materials and fittings."""
    found: set[str] = set()
    for cells in _table_rows(booklet, "needs"):
        text = plain(cells[-1].text)
        if SEVERAL.fullmatch(text):
            found.update(text.split(", "))
    return found


def letters(booklet: Booklet) -> Iterator[Judged]:
    """Every letter that is used is in a list, and every letter of the list is used."""
    rows = rows_in(booklet)
    listed = {row.letter for row in rows}
    known = listed | bought_in(booklet)
    used = _used(booklet, rows)
    for letter, page in sorted(used.items()):
        if letter not in known:
            yield finding("letter-unknown", page, letter=letter)
    for row in rows:
        if row.letter not in used:
            yield finding("letter-unused", row.page, letter=row.letter)
    yield Counted("parts that lists, templates and steps agree on", len(known & used.keys()))


def cards(booklet: Booklet) -> Iterator[Judged]:
    """What a part comes to on a measure card, as planned, is a size that its list gives.

    A row of a card names one part and says what is taken off and what is left, at most; a figure
    of it that the list lacks would be cut from a board that was set out for another.
    """
    listed = {row.letter: _sizes(row.size, booklet) for row in rows_in(booklet)}
    count = 0
    for section in ("steps", "finishing"):
        for cells in _table_rows(booklet, section):
            texts = [plain(each.text) for each in cells[:3]]
            named = IN_BRACKETS.findall(texts[0])
            if len(texts) < 3 or len(named) != 1 or named[0] not in listed:
                continue
            said, wanted = _sizes(texts[2], booklet), listed[named[0]]
            if not said or not _sizes(texts[1], booklet):
                continue
            count += 1
            for unit, sizes in said.items():
                if unit in wanted and not sizes <= wanted[unit]:
                    facts = {"part": named[0], "said": texts[2]}
                    yield finding("card-differs", cells[0].page, **facts)
    yield Counted("planned sizes on measure cards", count)


def _sizes(text: str, booklet: Booklet) -> dict[str, set[Fraction]]:
    """The lengths in a text, by unit; of a range the larger end, which has the unit."""
    found: dict[str, set[Fraction]] = {}
    for each in amounts_of(text, booklet.language):
        found.setdefault(each.unit, set()).add(each.mm)
    return found


def _used(booklet: Booklet, rows: list[Row]) -> dict[str, int]:
    """Return each letter that templates and steps name, with the first page that does."""
    found: dict[str, int] = {}
    for drawing in drawings_of(booklet):
        found.setdefault(drawing.part, drawing.page)
    for section in ("steps", "finishing"):
        for number in booklet.sections.get(section, range(0)):
            text = plain(booklet.pages[number - 1].text)
            for letter in IN_BRACKETS.findall(text):
                found.setdefault(letter, number)
            for row in rows:
                if re.search(rf"(?<!\w){row.letter} {re.escape(row.name)}", text):
                    found.setdefault(row.letter, number)
    for each in booklet.elements:
        if each.kind == "Figure" and booklet.section_of(each.page) in ("steps", "finishing"):
            for letter in IN_BRACKETS.findall(each.described):
                found.setdefault(letter, each.page)
    return found


def heads(booklet: Booklet) -> Iterator[Judged]:
    """The head of a page of templates promises the parts that are on it."""
    drawings = drawings_of(booklet)
    for number in booklet.sections.get("templates", range(0)):
        drawn = {each.part for each in drawings if each.page == number}
        for each in booklet.elements:
            said = re.search(rf"\b({LETTER}(?:, {LETTER})*)$", plain(each.text))
            if each.kind == "P" and each.page == number and said and drawn:
                promised = set(said[1].split(", "))
                if promised != drawn:
                    yield finding(
                        "head-differs",
                        number,
                        said=", ".join(sorted(promised)),
                        drawn=", ".join(sorted(drawn)),
                    )


def made(booklet: Booklet) -> Iterator[Judged]:
    """The templates of a part say together how many pieces the list counts."""
    listed = {row.letter: row.number for row in rows_in(booklet)}
    several: dict[str, dict[str, int]] = {}
    pages: dict[str, int] = {}
    for drawing in drawings_of(booklet):
        pages.setdefault(drawing.part, drawing.page)
        number = _number(drawing)
        if number is not None:
            several.setdefault(drawing.part, {})[drawing.hand] = number
    for part, hands in sorted(several.items()):
        total = sum(hands.values())
        if part in listed and total != listed[part]:
            facts = {"said": total, "listed": listed[part]}
            yield finding("number-differs", pages[part], part=part, **facts)
    yield Counted("parts whose templates say how many to make", len(several))


def _number(drawing: Drawing) -> int | None:
    said = [int(each) for text in drawing.said("number") for each in re.findall(r"\d+", text)[-1:]]
    return said[0] if said else None
