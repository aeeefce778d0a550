"""One value of a design file changed, and not a sign of it besides.

In: the text of a design, the place of a value, what is to stand there.  Out: the new text.
Comments, order and layout of everything else stay; the result is read again, and a change that
would touch anything but the one value is refused.
"""

from __future__ import annotations

import json
import textwrap
from collections.abc import Iterator

from patternpress.design.source import Items, Node, Pairs, Scalar, read_tree
from patternpress.design.span import Span

WIDE = 80  # columns that folded words are wrapped to
LONGEST = 8000  # characters of a value typed in the page


class SpliceError(ValueError):
    """A change that cannot be written; the message says why, in a maker's words."""


def figure_changed(text: str, span: Span, new: str) -> str:
    """Return `text` with the figure or sum at `span` replaced, as it was typed."""
    typed = " ".join(new.split())
    if not typed or len(typed) > LONGEST:
        raise SpliceError("type a figure or a sum, such as 84 mm or width / 2")
    made = _put(text, span, typed)
    _check_one_changed(text, made, None)
    return made


def words_changed(text: str, span: Span, new: str) -> str:
    """Return `text` with the words at `span` replaced, in the way that they were written before.

    Folded words are wrapped anew; words in one line are put in quotes only where they must be.
    """
    said = new.strip()
    if not said or len(said) > LONGEST or any(ord(each) < 32 and each != "\n" for each in said):
        raise SpliceError("type a few plain words")
    raw = _cut(text, span)
    for written in _ways(raw, said, text, span):
        made = _put(text, span, written)
        try:
            _check_one_changed(text, made, said)
        except SpliceError:
            continue
        return made
    raise SpliceError("these words cannot be written there; change them in the file")


def _ways(raw: str, said: str, text: str, span: Span) -> Iterator[str]:
    if raw[:1] in (">", "|"):
        head, _, body = raw.partition("\n")
        lines = [line for line in body.split("\n") if line.strip()]
        indent = len(lines[0]) - len(lines[0].lstrip()) if lines else _indent(text, span) + 2
        tail = raw[len(raw.rstrip()) :]
        yield f"{head}\n{_wrapped(said, indent, fold=head.startswith('>'))}{tail}"
    if "\n" not in said:
        if raw[:1] not in ("'", '"'):
            yield said
        yield (
            f"'{said.replace(chr(39), chr(39) * 2)}'"
            if raw[:1] == "'"
            else json.dumps(said, ensure_ascii=False)
        )
        yield json.dumps(said, ensure_ascii=False)


def _wrapped(said: str, indent: int, *, fold: bool) -> str:
    lead = " " * indent
    paragraphs = [each.strip() for each in said.split("\n")]
    if not fold:
        return "\n".join(lead + each if each else "" for each in paragraphs)
    # A blank line in folded words is one line break.
    blocks = [
        textwrap.fill(
            each,
            WIDE,
            initial_indent=lead,
            subsequent_indent=lead,
            break_long_words=False,
            break_on_hyphens=False,
        )
        for each in paragraphs
    ]
    return "\n\n".join(blocks)


def _indent(text: str, span: Span) -> int:
    line = text.splitlines()[span.line - 1]
    return len(line) - len(line.lstrip())


def field_set(text: str, node: Pairs, name: str, value: str) -> str:
    """Return `text` with a field of a group set to one plain word or more.

    A field that is there is changed where it stands; a new one follows the group's first line.
    """
    there = next((each for key, each in node.entries if key.text == name), None)
    if isinstance(there, Scalar):
        return words_changed(text, there.span, value)
    key = node.entries[0][0].span
    following = node.entries[1][0].span if len(node.entries) > 1 else None
    if there is not None or (following is not None and following.line == key.line):
        raise SpliceError(f"write “{name}: {value}” into the file yourself")
    lines = text.splitlines(keepends=True)
    end = "\r\n" if lines[key.line - 1].endswith("\r\n") else "\n"
    at = following.line - 1 if following else node.span.end_line - 1
    while at > key.line and lines[at - 1].lstrip().startswith("#"):
        at -= 1
    made = [*lines[:at], f"{' ' * (key.column - 1)}{name}: {value}{end}", *lines[at:]]
    new, problems = read_tree("".join(made), "after")
    old, before = read_tree(text, "before")
    if new is None or old is None or len(problems) > len(before):
        raise SpliceError(f"write “{name}: {value}” into the file yourself")
    if len(list(_flat(new))) != len(list(_flat(old))) + 1:
        raise SpliceError(f"write “{name}: {value}” into the file yourself")
    return "".join(made)


def place_in(text: str, line: int, column: int) -> int:
    """Return where a line and column (counted from 1) lie in a text, counted from 0."""
    lines = text.splitlines(keepends=True)
    return sum(len(each) for each in lines[: line - 1]) + column - 1


def _cut(text: str, span: Span) -> str:
    begin, end = (
        place_in(text, span.line, span.column),
        place_in(text, span.end_line, span.end_column),
    )
    return text[begin:end]


def _put(text: str, span: Span, new: str) -> str:
    begin, end = (
        place_in(text, span.line, span.column),
        place_in(text, span.end_line, span.end_column),
    )
    return text[:begin] + new + text[end:]


def _check_one_changed(before: str, after: str, said: str | None) -> None:
    """Raise SpliceError unless the two trees differ in one value at most (and it is `said`)."""
    old, problems = read_tree(before, "before")
    new, found = read_tree(after, "after")
    if old is None or new is None or len(found) > len(problems):
        raise SpliceError("with that, the file could not be read any more")
    olds, news = list(_flat(old)), list(_flat(new))
    if [place for place, _ in olds] != [place for place, _ in news]:
        raise SpliceError("with that, other fields would change as well")
    changed = [b for (_, a), (_, b) in zip(olds, news, strict=True) if a != b]
    if len(changed) > 1:
        raise SpliceError("with that, other values would change as well")
    if said is not None and changed and changed[0].strip() != said:
        raise SpliceError("the words would be read as something else")


def _flat(node: Node, place: str = "") -> Iterator[tuple[str, str]]:
    """Every value of a tree with its path."""
    if isinstance(node, Scalar):
        yield place, node.text
    elif isinstance(node, Items):
        yield f"{place}[{len(node.nodes)}]", ""
        for number, each in enumerate(node.nodes):
            yield from _flat(each, f"{place}/{number}")
    elif isinstance(node, Pairs):
        yield f"{place}{{{','.join(key.text for key, _ in node.entries)}}}", ""
        for key, each in node.entries:
            yield from _flat(each, f"{place}/{key.text}")
