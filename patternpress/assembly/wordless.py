"""What of a design does not depend on its words.

In: a `Book`.  Out: the digest of its figures, names and places, so that what was found of them
once, whether pieces fit and how figures close, need not be found again after a changed word; and
`remembered`, which finds such a thing again.  A digest holds where everything stands in the file
too: problems say so, and a line that comes in moves all below it.
"""

from __future__ import annotations

import dataclasses
import hashlib
from collections.abc import Callable, Iterator, MutableMapping
from functools import cache
from typing import Any, TypeVar

from patternpress.assembly.prosework import record_fields
from patternpress.design.reads import Prose
from patternpress.design.records.book import Book

Memory = MutableMapping[str, Any]
_Made = TypeVar("_Made")

# Words that problems of places point at, or that things are printed by.
_TELLING = frozenset({"design", "step", "called"})


def wordless(record: object) -> str:
    """The digest of a record, the author's sentences left out."""
    mixed = hashlib.sha256()
    for each in _walk(record, telling=False):
        mixed.update(each.encode())
        mixed.update(b"\0")
    return mixed.hexdigest()


def digest_of(memory: Memory, book: Book) -> str:
    """The digest of a book; that of the book asked for last is remembered, for a check and the
    closing of each edition ask for the same, and walking through one takes a tenth of a check.
    """
    last: tuple[Book, str] | None = memory.get("digest")
    if last is None or last[0] is not book:
        last = memory["digest"] = (book, wordless(book))
    return last[1]


def _walk(record: object, *, telling: bool) -> Iterator[str]:
    kind: Any = type(record)
    if isinstance(record, Prose) and not telling:
        yield "words"
    elif isinstance(record, tuple):
        yield f"{len(record)}:"
        for each in record:
            yield from _walk(each, telling=telling)
    elif names := _told(kind):
        yield kind.__name__
        for name in names:
            yield from _walk(getattr(record, name), telling=telling or name in _TELLING)
    else:
        yield repr(record)


@cache
def _told(kind: object) -> tuple[str, ...]:
    """The fields of a kind of record that say something; not the whole file that some hold."""
    return tuple(name for name in record_fields(kind) if name not in _silent(kind))


def _silent(kind: object) -> frozenset[str]:
    assert isinstance(kind, type)
    return frozenset(each.name for each in dataclasses.fields(kind) if not each.repr)


def remembered(memory: Memory, name: str, make: Callable[[], _Made]) -> _Made:
    """Return what was made under a name before, or make it; a memory may forget at any time."""
    found: _Made | None = memory.get(name)
    if found is None:
        found = memory[name] = make()
    return found
