"""Can every edition be printed here?

In: a `Reading`.  Out: problems of editions that ask for a theme or a language that is not there.
"""

from __future__ import annotations

from collections.abc import Iterator

from patternpress.assembly.editions import edition_names, published
from patternpress.booklet.photographs import (
    COARSEST,
    COVER_ROOM,
    DARKEST,
    LEAST_SPREAD,
    STEP_ROOM,
    PhotographError,
    read_photograph,
)
from patternpress.booklet.phrases import PhraseError, read_phrases
from patternpress.booklet.themes import ThemeError, load_theme
from patternpress.design.kinds import editions as kinds
from patternpress.design.kinds import photographs as photo
from patternpress.design.problem import Problem
from patternpress.design.read import Reading
from patternpress.design.records.book import Book
from patternpress.design.span import Said


def check_photographs(reading: Reading) -> Iterator[Problem]:
    """Photographs that cannot be printed, or not well; and those that no words describe."""
    book = reading.book
    for said, described, room in named_photographs(book) if book else ():
        facts = {"file": said.value}
        if not described:
            yield Problem(photo.PhotographUndescribed, said.span, facts)
        try:
            found = read_photograph(reading.folder, said.value, room)
        except PhotographError as error:
            yield Problem(photo.PhotographUnreadable, said.span, {**facts, "reason": error.reason})
            continue
        if found.fineness < COARSEST:
            size = f"{found.width:.0f} x {found.height:.0f} mm"
            more = {"fine": f"{found.fineness:.0f}", "least": str(COARSEST), "size": size}
            yield Problem(photo.PhotographCoarse, said.span, facts | more)
        if found.spread < LEAST_SPREAD:
            yield Problem(photo.PhotographFlat, said.span, facts)
        elif found.mean < DARKEST:
            yield Problem(photo.PhotographDark, said.span, facts)


def named_photographs(
    book: Book,
) -> Iterator[tuple[Said[str], bool, tuple[float, float]]]:
    """Each photograph that a design names, whether words describe it, and its room in mm."""
    if book.cover and book.cover.picture:
        yield book.cover.picture, book.cover.shows is not None, COVER_ROOM
    for step in (*book.steps, *book.finishing):
        for each in step.picture:
            yield each.file, True, STEP_ROOM


def check_ready(reading: Reading) -> Iterator[Problem]:
    """Every edition that could not be printed as it is described."""
    yield from check_photographs(reading)
    book = reading.book
    if book is None:
        return
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
