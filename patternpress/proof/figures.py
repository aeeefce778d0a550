"""Printed figures held against the design: the cutting list, labels, and lengths in sentences.

In: a `Booklet` and the `Facts` it should come from.  Out: findings, and counts.
"""

from __future__ import annotations

from collections.abc import Iterator

from patternpress.proof.amounts import (
    Amount,
    Rounding,
    agrees,
    groups_of,
    plain,
    rounding_of,
)
from patternpress.proof.design import Facts
from patternpress.proof.drawings import Drawing, drawings_of
from patternpress.proof.findings import Counted, Judged, finding
from patternpress.proof.lists import rows_in
from patternpress.proof.reading import Booklet
from patternpress.proof.unitnames import names_in


def identity(booklet: Booklet, facts: Facts) -> Iterator[Judged]:
    """Is this the booklet of this design, in this edition?"""
    edition = booklet.info.get("PatternEdition", "")
    if edition != facts.edition:
        yield finding("edition-differs", found=edition, asked=facts.edition)
    elif facts.digest not in (booklet.info.get("PatternFacts"), booklet.identifier):
        yield finding("facts-differ")


def cutting_list(booklet: Booklet, facts: Facts) -> Iterator[Judged]:
    """Every row of the cutting list says number and size as the design has them."""
    rows = {row.letter: row for row in rows_in(booklet)}
    page = booklet.sections.get("cutting", range(0)).start
    cut = {part.letter: part for part in facts.parts if part.form != "bought"}
    for letter, part in cut.items():
        row = rows.get(letter)
        if row is None:
            yield finding("list-missing", page, part=letter)
            continue
        pairs = (
            (f"to make {row.number}", f"to make {part.quantity}"),
            (row.size, plain(part.printed)),
            (row.name, plain(part.name)),
        )
        for said, wanted in pairs:
            if said != wanted:
                yield finding("list-differs", row.page, part=letter, said=said, wanted=wanted)
    for letter, row in rows.items():
        if letter not in cut:
            yield finding("list-extra", row.page, part=letter)
    yield Counted("rows of the cutting list", len(rows))


def template_sizes(booklet: Booklet, facts: Facts) -> Iterator[Judged]:
    """Every template gives its part's size."""
    parts = {part.letter: part for part in facts.parts}
    count = 0
    sheets: dict[tuple[str, str], list[Drawing]] = {}
    for drawing in drawings_of(booklet):
        sheets.setdefault((drawing.part, drawing.hand), []).append(drawing)
    for (letter, _), several in sheets.items():
        rows = [row for drawing in several for row in drawing.rows]
        said = {
            _values(group)
            for row in rows
            for group in groups_of(row, booklet.language)
            if names_in(booklet.language).own(group[0].called)
        }
        for group in groups_of(parts[letter].printed, booklet.language) if letter in parts else ():
            count += 1
            if _values(group) not in said:
                first = several[0]
                facts_ = {"part": letter, "hand": first.called, "wanted": group[0].text}
                yield finding("size-unsaid", first.page, **facts_)
    yield Counted("sizes at templates", count)


def _values(group: tuple[Amount, ...]) -> tuple[tuple[str, str], ...]:
    return tuple((str(each.mm), each.unit) for each in group)


def overall(booklet: Booklet, facts: Facts) -> Iterator[Judged]:
    """The finished size on the first pages is the design's."""
    rounding = rounding_of(booklet.info.get("PatternRounding", ""))
    for section in ("cover", "make"):
        groups = list(groups_of(booklet.text_of(section), booklet.language))
        said = [group for group in groups if len(group) == len(facts.overall)]
        if said and not any(_agree(group, facts.overall, rounding) for group in said):
            page = booklet.sections[section].start
            wanted = " × ".join(f"{each:.1f}" for each in facts.overall)
            yield finding("overall-differs", page, said=said[0][0].text, wanted=f"{wanted} mm")


def _agree(group: tuple[Amount, ...], lengths: tuple[float, ...], rounding: Rounding) -> bool:
    pairs = zip(group, lengths, strict=True)
    return all(agrees(amount, length, rounding) for amount, length in pairs)
