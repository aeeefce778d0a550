"""Prove a booklet.

In: the bytes of a PDF, and if there are any the facts of its design.  Out: a `Report`.  From the
PDF alone it is judged by what it says of itself; with the facts, by the design.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Iterator, Mapping
from typing import Any

from patternpress.proof import (
    bars,
    figures,
    joined,
    labels,
    letters,
    lists,
    papers,
    sentencefigures,
    squares,
    truth,
    units,
)
from patternpress.proof.design import Facts, read_facts
from patternpress.proof.findings import Counted, Finding, Judged, Measured, Report, finding
from patternpress.proof.reading import Booklet, UnreadableError, read

ALONE: tuple[Callable[[Booklet], Iterator[Judged]], ...] = (
    papers.sheets,
    papers.blank_pages,
    papers.numbers,
    papers.references,
    papers.fonts,
    papers.descriptions,
    papers.links,
    papers.imprint,
    letters.sizes,
    letters.cut_off,
    letters.overlaps,
    lists.letters,
    lists.heads,
    lists.made,
    lists.cards,
    sentencefigures.figures,
    labels.labels,
    units.units,
    bars.bars,
    squares.squares,
    squares.maps,
    joined.joined,
)
# Of a set of templates for one printer, which has no lists and no steps.
OF_A_SET = (
    papers.one_printer,
    papers.sheets,
    papers.blank_pages,
    papers.numbers,
    papers.fonts,
    papers.descriptions,
    papers.links,
    letters.sizes,
    letters.cut_off,
    letters.overlaps,
    lists.heads,
    sentencefigures.figures,
    labels.labels,
    units.units,
    bars.bars_of_pages,
    squares.squares,
    squares.maps,
    joined.joined,
)
AGAINST: tuple[Callable[[Booklet, Facts], Iterator[Judged]], ...] = (
    truth.templates,
    figures.cutting_list,
    figures.template_sizes,
    figures.overall,
)
WARNINGS: tuple[Callable[[Booklet], Iterator[Judged]], ...] = (papers.unsaid,)


def prove(data: bytes, facts: Mapping[str, Any] | None = None, *, file: str = "") -> Report:
    """Return the report on a PDF.  Raises `FactsError` for facts that cannot be read."""
    known = read_facts(facts) if facts is not None else None
    try:
        booklet = read(data)
    except UnreadableError as error:
        why = str(error) or "it is damaged"
        return _report(data, None, known, [finding("unreadable", why=why)], file)
    if not booklet.pages:
        return _report(data, None, known, [finding("unreadable", why="it has no pages")], file)
    return _report(data, booklet, known, _judged(booklet, known), file)


def edition_of(data: bytes) -> str:
    """Return the name of the edition that a PDF says it is, or nothing."""
    try:
        return read(data).info.get("PatternEdition", "")
    except UnreadableError:
        return ""


def _judged(booklet: Booklet, facts: Facts | None) -> Iterator[Judged]:
    first = list(papers.contract(booklet))
    yield from first
    if any(isinstance(each, Finding) and each.code == "no-contract" for each in first):
        return  # whatever else could be said would be about a file of somebody else's
    alone_set = bool(booklet.info.get("PatternPrinter"))
    for check in OF_A_SET if alone_set else ALONE:
        yield from check(booklet)
    if facts is None:
        return
    other = list(figures.identity(booklet, facts))
    yield from other
    if not other:
        for judge in (truth.templates, figures.template_sizes) if alone_set else AGAINST:
            yield from judge(booklet, facts)


def _report(
    data: bytes,
    booklet: Booklet | None,
    facts: Facts | None,
    judged: Iterable[Judged],
    file: str,
) -> Report:
    found = list(judged)
    info = booklet.info if booklet else {}
    warned = [each for check in WARNINGS for each in check(booklet)] if booklet and info else []
    return Report(
        title=info.get("Title", ""),
        version=info.get("PatternVersion", ""),
        edition=info.get("PatternEdition", ""),
        pages=len(booklet.pages) if booklet else 0,
        against=f"{facts.design}, {facts.edition} edition" if facts else "",
        findings=tuple(each for each in found if isinstance(each, Finding)),
        measured=tuple(each for each in found if isinstance(each, Measured)),
        counted=tuple(each for each in found if isinstance(each, Counted)),
        file=file,
        digest=hashlib.sha256(data).hexdigest(),
        warnings=tuple(each for each in warned if isinstance(each, Finding)),
    )
