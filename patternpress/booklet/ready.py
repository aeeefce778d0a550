"""Can every edition be printed here?

In: a `Book`.  Out: problems of editions that ask for a theme or a language that is not there, or
for a scale that is not worked out.
"""

from __future__ import annotations

from collections.abc import Iterator

from patternpress.assembly.editions import edition_names, published
from patternpress.booklet.phrases import PhraseError, read_phrases
from patternpress.booklet.themes import ThemeError, load_theme
from patternpress.design.kinds import editions as kinds
from patternpress.design.problem import Problem
from patternpress.design.records.book import Book


def check_photographs(book: Book) -> Iterator[Problem]:
    """Photographs that are named: they are not printed yet, and nobody should wait for them."""
    named = [book.cover.picture] if book.cover else []
    named += [each.file for step in (*book.steps, *book.finishing) for each in step.picture]
    for said in named:
        if said is not None:
            yield Problem(kinds.PhotographNotPrinted, said.span, {"file": said.value})


def check_ready(book: Book) -> Iterator[Problem]:
    """Every edition that could not be printed as it is described."""
    yield from check_photographs(book)
    said = {each.name.value: each for each in book.editions}
    for name in edition_names(book):
        edition = published(book, name)
        record = said.get(name)
        span = record.name.span if record else book.span
        try:
            read_phrases(edition.language)
        except PhraseError:
            facts = {"edition": name, "language": edition.language}
            yield Problem(kinds.NoWordsForLanguage, span, facts)
        try:
            load_theme(edition.theme)
        except ThemeError as error:
            facts = {"edition": name, "theme": edition.theme, "there": error.hint}
            yield Problem(kinds.NoSuchTheme, span, facts)
        if record is not None and record.scale is not None and record.scale.value != edition.scale:
            yield Problem(kinds.ScaleNotWorkedOut, record.scale.span, {"scale": record.scale.text})
