"""A design file in the house form: the same meaning, in the order of the reference.

In: the text of a design.  Out: the same lines in another order, comments with the lines they
stand above.  What is named keeps its order (letters and pages follow it); only fields move.  The
result is read again, and where it does not mean exactly the same nothing is changed.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import dropwhile, pairwise
from pathlib import Path

from patternpress.design.read import read_text
from patternpress.design.reads import ListOf, Reads
from patternpress.design.records.book import Book, Shared
from patternpress.design.source import Items, Node, Pairs, Scalar, read_tree
from patternpress.design.span import Span
from patternpress.design.table import Group, Named, Record, fields_of


class NotTidiedError(ValueError):
    """A file cannot be put in order; the message says why, in a maker's words."""


@dataclass(frozen=True)
class _Entry:
    """A field and its lines, those of the comment above it included; lines count from 0."""

    name: str
    first: int  # of the comment, or of the field
    line: int  # of the field itself
    last: int  # exclusive
    node: Node


def tidied(text: str, folder: Path) -> str:
    """Return `text` in the house form; raises NotTidiedError where that cannot be done safely.

    `folder`: where a shared file may lie, for reading the result again.
    """
    tree, problems = read_tree(text, "design")
    if problems or not isinstance(tree, Pairs):
        raise NotTidiedError("it has problems of form; `patternpress check` tells them")
    lines = [line.rstrip() for line in text.expandtabs(2).splitlines()]
    first = tree.entries[0][0].span.line - 1 if tree.entries else len(lines)
    head = [line for line in lines[:first] if line]
    ordered = _fields(tree, _kind(tree), lines, first, len(lines))
    body = "\n".join(_spaced(ordered))
    made = "\n".join([*head, body]) + "\n" if head else body + "\n"
    if _meaning(made, folder) != _meaning(text, folder):
        raise NotTidiedError("in another order it would not mean the same")
    return made


def _kind(tree: Pairs) -> type[Record]:
    names = {key.text for key, _ in tree.entries}
    return Book if "design" in names or "parts" in names else Shared


def _meaning(text: str, folder: Path) -> object:
    """What a text says, places in the file left out."""
    reading = read_text(text, "design", folder)
    return _said(reading.book), sorted(each.code for each in reading.problems)


def _said(value: object) -> object:
    if isinstance(value, Span):
        return None
    if isinstance(value, tuple):
        return tuple(_said(each) for each in value)
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        fields = (each.name for each in dataclasses.fields(value) if each.compare)
        return type(value), tuple(_said(getattr(value, name)) for name in fields)
    return value


def _fields(
    node: Pairs, record: type[Record], lines: list[str], first: int, last: int
) -> list[list[str]]:
    """The fields of a record in the order of its table, each as its lines."""
    entries = list(_entries(node, lines, first, last))
    place = {row.name: number for number, row in enumerate(fields_of(record))}
    rows = {row.name: row.reads for row in fields_of(record)}
    blocks = {each: _inner(each, rows.get(each.name), lines) for each in entries}
    ordered = sorted(entries, key=lambda each: place.get(each.name, len(place)))
    # Blank lines are pauses between places, not parts of what stands there.
    pauses = [_pause(blocks[each]) for each in entries]
    bare = [blocks[each][: len(blocks[each]) - _pause(blocks[each])] for each in ordered]
    made = [[*block, *[""] * pause] for block, pause in zip(bare, pauses, strict=True)]
    if entries and ordered[0] is not entries[0]:
        made = _dash_first(made, ordered.index(entries[0]), lines[entries[0].line], node)
    return made


def _pause(block: list[str]) -> int:
    """How many blank lines stand at the end of a block."""
    return len(block) - max((n for n, line in enumerate(block, 1) if line), default=0)


def _dash_first(blocks: list[list[str]], was: int, opening: str, node: Pairs) -> list[list[str]]:
    """The dash of a list item stands before whatever field comes first."""
    column = node.entries[0][0].span.column - 1
    lead = opening[:column]
    if not lead.strip():
        return blocks
    blank = " " * column
    old = [blank + line[column:] if line[:column] == lead else line for line in blocks[was]]
    first = blocks[0]
    at = next(n for n, line in enumerate(first) if line.strip() and not _is_comment(line))
    new = [*first[:at], lead + first[at][column:], *first[at + 1 :]]
    return [new if n == 0 else old if n == was else each for n, each in enumerate(blocks)]


def _entries(node: Pairs, lines: list[str], first: int, last: int) -> Iterator[_Entry]:
    """The fields of a group with their lines; nothing where two share one line."""
    spans = [key.span for key, _ in node.entries]
    if len({span.line for span in spans}) < len(spans):
        raise NotTidiedError(f"line {spans[0].line} holds several fields outside of braces")
    starts = [first]
    for before, span in pairwise(spans):
        at = span.line - 1
        while at - 1 > before.line - 1 and _belongs(lines[at - 1], span.column - 1):
            at -= 1
        starts.append(at)
    for (key, value), start, end in zip(node.entries, starts, [*starts[1:], last], strict=True):
        yield _Entry(key.text, start, key.span.line - 1, end, value)


def _belongs(line: str, column: int) -> bool:
    """Whether a line above a field is its comment: at least as far to the left as the field."""
    return _is_comment(line) and len(line) - len(line.lstrip()) <= column


def _is_comment(line: str) -> bool:
    return line.lstrip().startswith("#")


def _inner(entry: _Entry, reads: Reads | None, lines: list[str]) -> list[str]:
    """The lines of a field, with what is inside it in order too."""
    plain = lines[entry.first : entry.last]
    if reads is None or isinstance(entry.node, Scalar) or _is_flow(entry.node, lines):
        return plain
    if entry.node.span.line - 1 == entry.line:
        return plain  # it begins on the line of its name
    made = list(_within(entry.node, reads, lines, entry.line + 1, entry.last))
    return [*lines[entry.first : entry.line + 1], *made] if made else plain


def _within(node: Node, reads: Reads, lines: list[str], first: int, last: int) -> Iterator[str]:
    if isinstance(reads, Group) and isinstance(node, Pairs):
        for block in _fields(node, reads.record, lines, first, last):
            yield from block
    elif isinstance(reads, Named) and isinstance(node, Pairs):
        for each in _entries(node, lines, first, last):
            yield from _inner(each, Group(reads.record), lines)
    elif isinstance(reads, ListOf) and isinstance(node, Items):
        yield from _items(node, reads.of, lines, first, last)


def _items(node: Items, reads: Reads, lines: list[str], first: int, last: int) -> Iterator[str]:
    """The items of a list with dashes; each that is a group of fields is put in order."""
    dashes = [each.span.line - 1 for each in node.nodes]
    if not all(lines[dash].lstrip().startswith("-") for dash in dashes):
        return
    starts = [first]
    for before, dash in pairwise(dashes):
        at = dash
        while at - 1 > before and _belongs(lines[at - 1], lines[dash].index("-")):
            at -= 1
        starts.append(at)
    for each, start, dash, end in zip(node.nodes, starts, dashes, [*starts[1:], last], strict=True):
        if isinstance(each, Pairs) and isinstance(reads, Group) and not _is_flow(each, lines):
            yield from lines[start:dash]
            for made in _fields(each, reads.record, lines, dash, end):
                yield from made
        else:
            yield from lines[start:end]


def _is_flow(node: Node, lines: list[str]) -> bool:
    return lines[node.span.line - 1][node.span.column - 1 :].startswith(("{", "[", "*", "&"))


def _spaced(blocks: list[list[str]]) -> Iterator[str]:
    """Sections with a blank line between them; single lines at the head stand together."""
    alone = True
    for number, each in enumerate(blocks):
        block = [*dropwhile(lambda line: not line, each)]
        block = block[: len(block) - _pause(block)]
        if number and not (alone and len(block) == 1):
            yield ""
        alone = len(block) == 1
        yield from block
