"""From a design file to a `Book`.

In: the path of a design file.  Out: a `Reading`: the book (None where too much is broken), the
names it gives, and every problem found in one pass.  Only this module of the room opens files,
and only in the design's own folder.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, MutableMapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from patternpress.design.kinds import files, form, naming
from patternpress.design.names import KINDS, Named, Names, collect, index, listed
from patternpress.design.problem import Problem, in_order
from patternpress.design.reads import CODE, Prose, Reader
from patternpress.design.records.book import Book, Shared
from patternpress.design.source import MOST_CHARACTERS, Node, Pairs, Scalar, read_tree, too_large
from patternpress.design.span import Said, Span
from patternpress.design.table import NO_NAME, fields_of, read_record

# Kinds of things that may not share a name, because a sentence could mean either.
RIVALS = tuple(kind for kind in KINDS if kind not in ("hole", "groove", "answer"))


@dataclass(frozen=True)
class Reading:
    """What came of reading one design file."""

    book: Book | None
    names: Names
    problems: tuple[Problem, ...]
    folder: Path
    sources: tuple[tuple[str, str], ...] = ()  # file name and its text, for showing lines
    kept: dict[str, Any] = field(
        default_factory=dict, compare=False, repr=False
    )  # editions, once closed
    memory: MutableMapping[str, Any] = field(
        default_factory=dict, compare=False, repr=False
    )  # what was found of figures and places, by their digest; readings of one design may share it

    @property
    def sound(self) -> bool:
        """True when nothing found so far stops the booklet."""
        return self.book is not None and not any(each.is_error for each in self.problems)


def read_design(path: Path) -> Reading:
    """Read a design file and the file it shares.  Never raises for what the files hold."""
    text, problems = open_text(path, path.name)
    if text is None:
        return Reading(None, index(()), problems, path.parent)
    return read_text(text, path.name, path.parent)


def read_text(
    text: str, file: str, folder: Path, memory: MutableMapping[str, Any] | None = None
) -> Reading:
    """Read a design from its text; `folder` is where a shared file may lie.

    `memory`: what earlier readings of the design left, so that less is worked out again.
    """
    reading = _read_text(text, file, folder)
    return reading if memory is None else dataclasses.replace(reading, memory=memory)


def _read_text(text: str, file: str, folder: Path) -> Reading:
    tree, problems = read_tree(text, file)
    sources = [(file, text)]
    if not isinstance(tree, Pairs):
        if not problems:
            problems = (Problem(form.EmptyDesign, Span(file, 1, 1, 1, 1)),)
        return Reading(None, index(()), problems, folder, tuple(sources))
    reader = Reader(problems=list(problems))
    if _holds_no_design(tree):
        return _shared_alone(tree, reader, folder, (file, text))
    shared_tree = _shared(tree, folder, reader, sources)
    reader.names = index((*collect(tree), *collect(shared_tree)))
    reader.languages = _languages(tree, reader)
    _check_names(reader)
    book = read_record(Book, tree, NO_NAME, reader)
    if shared_tree is not None:
        shared = read_record(Shared, shared_tree, NO_NAME, reader)
        book = _merge(book, shared, reader) if book and shared else book
    return Reading(book, reader.names, in_order(reader.problems), folder, tuple(sources))


def _holds_no_design(tree: Pairs) -> bool:
    shareable = {row.name for row in fields_of(Shared)}
    return bool(tree.entries) and all(key.text in shareable for key, _ in tree.entries)


def _shared_alone(tree: Pairs, reader: Reader, folder: Path, source: tuple[str, str]) -> Reading:
    """A shared file read by itself; names that only its designs know are let pass."""
    reader.names = index(collect(tree))
    _check_names(reader)
    read_record(Shared, tree, NO_NAME, reader)
    found = [each for each in reader.problems if each.kind is not naming.UnknownName]
    start = tree.entries[0][0].span
    found.append(Problem(files.NoDesign, start, {"file": source[0]}))
    return Reading(None, reader.names, in_order(found), folder, (source,))


def open_text(path: Path, shown: str) -> tuple[str | None, tuple[Problem, ...]]:
    """The text of a file, or None and the reason; at most as much as a design may hold."""
    span = Span(shown, 1, 1, 1, 1)
    try:
        with path.open("rb") as file:
            data = file.read(4 * MOST_CHARACTERS + 1)
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or "no such file"
        return None, (Problem(files.FileMissing, span, {"file": shown, "reason": reason}),)
    if len(data) > 4 * MOST_CHARACTERS:  # no character takes more than four bytes
        return None, (too_large(shown),)
    try:
        return data.decode("utf-8-sig"), ()
    except UnicodeDecodeError:
        return None, (Problem(files.NotText, span, {"file": shown}),)


def inside(folder: Path, name: str) -> Path | None:
    """The path of a file in a folder, or None when it would lie outside, links followed."""
    try:
        home = folder.resolve()
        path = (home / name).resolve()
    except (OSError, ValueError, RuntimeError):
        return None
    return path if path.is_relative_to(home) and not Path(name).is_absolute() else None


def _shared(
    tree: Pairs, folder: Path, reader: Reader, sources: list[tuple[str, str]]
) -> Pairs | None:
    node = tree.get("shares")
    if not isinstance(node, Scalar) or not node.text.strip():
        return None
    name = node.text.strip()
    path = inside(folder, name)
    if path is None:
        reader.report(files.OutsideFolder, node.span, file=name)
        return None
    text, problems = open_text(path, name)
    if text is None:
        reader.problems += [dataclasses.replace(each, span=node.span) for each in problems]
        return None
    sources.append((name, text))
    shared, problems = read_tree(text, name)
    reader.problems += problems
    return shared if isinstance(shared, Pairs) else None


def _languages(tree: Pairs, reader: Reader) -> tuple[str, ...]:
    codes = []
    for each in listed(tree.get("languages")):
        if CODE.fullmatch(each.text):
            codes.append(each.text)
        else:
            reader.report(naming.LanguageUnknown, each.span, text=each.text)
    return tuple(codes) or ("en",)


def _check_names(reader: Reader) -> None:
    """Two things of one name: a part and its only piece share theirs; sides of holes may."""
    for name, first, second in _doubles(reader.names.of_kind(*RIVALS)):
        facts = {"name": name, "other": first.kind, "line": str(first.span.line)}
        reader.report(naming.NameTwice, second.span, **facts)


def _doubles(given: Iterable[Named]) -> Iterable[tuple[str, Named, Named]]:
    seen: dict[str, Named] = {}
    for each in given:
        first = seen.setdefault(each.name, each)
        own_piece = first.kind == "part" and each.kind == "piece" and each.owner == first.name
        if first is not each and not own_piece:
            yield each.name, first, each


def _merge(book: Book, shared: Shared, reader: Reader) -> Book:
    """The book with the shared file's entries behind its own."""
    changed: dict[str, object] = {}
    for each in dataclasses.fields(shared):
        theirs, ours = getattr(shared, each.name), getattr(book, each.name)
        if "reads" not in each.metadata or not theirs:
            continue
        if isinstance(theirs, tuple):
            changed[each.name] = (*ours, *theirs)
        elif ours is None:
            changed[each.name] = theirs
        else:
            facts = {"name": each.name, "other": shared.span.file}
            span = ours.main.span if isinstance(ours, Prose) else ours.span
            reader.report(files.SharedTwice, span, **facts)
    return dataclasses.replace(book, **changed)  # type: ignore[arg-type]


__all__ = ["Node", "Reading", "Said", "inside", "open_text", "read_design", "read_text"]
