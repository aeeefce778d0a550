"""YAML text into a tree where every scalar is still text.

In: the text of a design file.  Out: a tree of `Scalar`, `Items` and `Pairs`, each with its
span, and the problems of form.  YAML's own guesses (``1:12`` as 72, ``on`` as true) never
happen, because nothing is typed here.  Sizes, depth and alias expansion are limited, so a
hostile file costs no more than a large one.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, field
from functools import lru_cache

import yaml

from patternpress.design.kinds import form
from patternpress.design.problem import Kind, Problem
from patternpress.design.span import Span

MOST_CHARACTERS = 400_000
MOST_NODES = 20_000
MOST_DEPTH = 24
MOST_REPAIRS = 20

# What YAML 1.2 (5.1) does not let stand in a file may not come in as an escape either.
UNPRINTABLE = re.compile(
    "[^\t\n\r\x20-\x7e\x85\xa0-\ud7ff\ue000-\ufefe\uff00-\ufffd\U00010000-\U0010ffff]"
)
BEYOND = re.compile(r"\\U(?!000|0010)[0-9A-Fa-f]{8}")


@dataclass(frozen=True, slots=True)
class Scalar:
    """A piece of text, and whether the author put it in quotes."""

    text: str
    span: Span
    quoted: bool = False
    lines: tuple[str, ...] = field(default=(), repr=False, compare=False)

    def locate(self, start: int, end: int) -> Span:
        """The place of ``text[start:end]`` in the file; the whole scalar where unsure."""
        wanted = self.text[start:end].strip() or self.text[start : start + 1]
        before = self.text[:start].count(wanted) if wanted else 0
        for line, column in self._finds(wanted):
            if before == 0:
                return Span(self.span.file, line, column, line, column + len(wanted))
            before -= 1
        return self.span

    def _finds(self, wanted: str) -> Iterator[tuple[int, int]]:
        if not wanted or "\n" in wanted:
            return
        for number in range(self.span.line, self.span.end_line + 1):
            if number > len(self.lines):
                return
            text = self.lines[number - 1]
            first = self.span.column - 1 if number == self.span.line else 0
            last = self.span.end_column - 1 if number == self.span.end_line else len(text)
            at = text.find(wanted, first, last)
            while at >= 0:
                yield number, at + 1
                at = text.find(wanted, at + 1, last)


@dataclass(frozen=True, slots=True)
class Items:
    """A list of nodes."""

    nodes: tuple[Node, ...]
    span: Span


@dataclass(frozen=True, slots=True)
class Pairs:
    """Named nodes, in the order written; a name that comes twice is reported, the first kept."""

    entries: tuple[tuple[Scalar, Node], ...]
    span: Span

    def get(self, name: str) -> Node | None:
        """The node under a name, or None."""
        return next((node for key, node in self.entries if key.text == name), None)


Node = Scalar | Items | Pairs


@lru_cache(maxsize=4)  # what designs share is read again at every save of one of them
def read_tree(text: str, file: str) -> tuple[Node | None, tuple[Problem, ...]]:
    """The tree of a YAML text, and what is wrong with its form.

    A colon inside an unquoted sentence is mended in memory and reported, so that the rest
    of the file is still read in the same pass.
    """
    if len(text) > MOST_CHARACTERS:
        return None, (too_large(file),)
    lines = tuple(text.splitlines())
    problems: list[Problem] = []
    for _ in range(MOST_REPAIRS):
        builder = _Builder(file, lines)
        try:
            tree = builder.build(text)
        except _TooMuchError as stop:
            return None, (*problems, *builder.problems, stop.problem)
        except (yaml.MarkedYAMLError, yaml.reader.ReaderError, ValueError, OverflowError) as error:
            problem, mended = _form_problem(error, text, file)
            problems.append(problem)
            if mended is None:
                return None, tuple(problems)
            text = mended
            continue
        return tree, (*problems, *builder.problems)
    return None, tuple(problems)


def too_large(file: str) -> Problem:
    """The problem of a file with more characters than a design may have."""
    return Problem(form.FileTooLarge, Span(file, 1, 1, 1, 1), {"most": f"{MOST_CHARACTERS:,}"})


class _TooMuchError(Exception):
    def __init__(self, problem: Problem) -> None:
        super().__init__(problem.code)
        self.problem = problem


class _Builder:
    """Builds the tree from YAML's events with a stack of its own, so depth cannot hurt."""

    def __init__(self, file: str, lines: tuple[str, ...]) -> None:
        self.file = file
        self.lines = lines
        self.problems: list[Problem] = []
        self._anchors: dict[str, tuple[Node, int, int]] = {}
        self._count = 0

    def build(self, text: str) -> Node | None:
        """The tree of the first document, or None for an empty file."""
        stack: list[tuple[yaml.Event, list[Node]]] = []
        root: Node | None = None
        for event in yaml.parse(text, Loader=yaml.SafeLoader):
            node: Node | None = None
            if isinstance(event, yaml.MappingStartEvent | yaml.SequenceStartEvent):
                self._check_depth(event, len(stack))
                stack.append((event, []))
                continue
            if isinstance(event, yaml.ScalarEvent):
                node = self._scalar(event)
            elif isinstance(event, yaml.AliasEvent):
                node = self._alias(event, len(stack))
            elif isinstance(event, yaml.MappingEndEvent | yaml.SequenceEndEvent):
                start, nodes = stack.pop()
                node = self._collection(start, event, nodes)
            if node is not None:
                if stack:
                    stack[-1][1].append(node)
                elif root is None:
                    root = node
                else:
                    self.problems.append(Problem(form.SecondDesign, node.span))
        return root

    def _check_depth(self, event: yaml.Event, depth: int, spend: int = 1) -> None:
        self._spend(spend, event)
        if depth >= MOST_DEPTH:
            raise _TooMuchError(Problem(form.TooDeep, self._span(event), {"most": str(MOST_DEPTH)}))

    def _spend(self, nodes: int, event: yaml.Event) -> None:
        self._count += nodes
        if self._count > MOST_NODES:
            facts = {"most": f"{MOST_NODES:,}"}
            raise _TooMuchError(Problem(form.TooManyEntries, self._span(event), facts))

    def _span(self, event: yaml.Event) -> Span:
        return _between(self.file, event, event)

    def _scalar(self, event: yaml.ScalarEvent) -> Scalar:
        self._spend(1, event)
        quoted = event.style in ("'", '"', "|", ">")
        text = UNPRINTABLE.sub("", event.value)
        if text != event.value:  # only an escape such as "\\0" can bring one this far
            self.problems.append(Problem(form.StrangeCharacter, self._span(event)))
        node = Scalar(text, self._span(event), quoted, self.lines)
        self._remember(event.anchor, node)
        return node

    def _alias(self, event: yaml.AliasEvent, depth: int) -> Node:
        name = event.anchor or ""
        known = self._anchors.get(name)
        if known is None:
            raise _TooMuchError(Problem(form.UnknownAlias, self._span(event), {"name": name}))
        node, weight, deep = known
        self._check_depth(event, depth + deep - 1, weight)
        return node

    def _remember(self, anchor: str | None, node: Node) -> None:
        if anchor:
            self._anchors[anchor] = (node, _weight(node), _depth(node))

    def _collection(self, start: yaml.Event, end: yaml.Event, nodes: list[Node]) -> Node:
        span = _between(self.file, start, end)
        if isinstance(start, yaml.SequenceStartEvent):
            node: Node = Items(tuple(nodes), span)
        else:
            in_braces = isinstance(start, yaml.MappingStartEvent) and bool(start.flow_style)
            node = Pairs(tuple(self._entries(nodes, in_braces)), span)
        assert isinstance(start, yaml.CollectionStartEvent)
        self._remember(start.anchor, node)
        return node

    def _entries(self, nodes: list[Node], in_braces: bool) -> Iterator[tuple[Scalar, Node]]:
        seen: dict[str, Scalar] = {}
        for key, value in zip(nodes[::2], nodes[1::2], strict=True):
            if not isinstance(key, Scalar):
                self.problems.append(Problem(form.StrangeKey, key.span))
            elif in_braces and _no_colon(key, value):
                self.problems.append(Problem(form.CommaInBraces, key.span, {"text": key.text}))
            elif key.text in seen:
                facts = {"name": key.text, "line": str(seen[key.text].span.line)}
                self.problems.append(Problem(form.FieldTwice, key.span, facts))
            else:
                seen[key.text] = key
                yield key, value


def _no_colon(key: Scalar, value: Node) -> bool:
    """Whether a name inside braces has no colon at all: its empty value begins where it ends."""
    empty = isinstance(value, Scalar) and not value.text and not value.quoted
    ends = (key.span.end_line, key.span.end_column)
    return empty and (value.span.line, value.span.column) == ends


def _between(file: str, start: yaml.Event, end: yaml.Event) -> Span:
    first, last = start.start_mark, end.end_mark
    if first is None or last is None:
        return Span(file, 1, 1, 1, 1)
    return Span(file, first.line + 1, first.column + 1, last.line + 1, last.column + 1)


def _children(node: Node) -> tuple[Node, ...]:
    if isinstance(node, Scalar):
        return ()
    return node.nodes if isinstance(node, Items) else tuple(value for _, value in node.entries)


def _depth(node: Node) -> int:
    """How many lists and groups lie inside each other."""
    if isinstance(node, Scalar):
        return 0
    return 1 + max((_depth(child) for child in _children(node)), default=0)


def _weight(node: Node) -> int:
    """What repeating a node costs; a long text counts like the entries it could hold."""
    if isinstance(node, Scalar):
        return 1 + len(node.text) // 100
    children = _children(node)
    return (
        1
        + sum(_weight(child) for child in children)
        + (len(node.entries) if isinstance(node, Pairs) else 0)
    )


def _form_problem(error: Exception, text: str, file: str) -> tuple[Problem, str | None]:
    """The problem behind a YAML error, and the text mended in memory where that is safe."""
    if not isinstance(error, yaml.MarkedYAMLError):
        # An escape such as "\\UFFFFFFFF" names no character; PyYAML does not say where.
        beyond = BEYOND.search(text)
        place = getattr(error, "position", beyond.start() if beyond else 0)
        line, column = _place_of(text, place)
        return Problem(form.StrangeCharacter, Span(file, line, column, line, column + 1)), None
    mark = error.problem_mark or error.context_mark
    line, column = (mark.line, mark.column) if mark else (0, 0)
    span = Span(file, line + 1, column + 1, line + 1, column + 2)
    words = str(error.problem or "")
    source = text.splitlines()
    if "mapping values are not allowed" in words and line < len(source):
        mended = _quote_value(source, line)
        return Problem(form.ColonInSentence, span), mended
    if "expected ',' or" in words and line < len(source) and "?," in source[line]:
        sign = source[line].index("?,") + 1
        span = Span(file, line + 1, sign, line + 1, sign + 1)
        return Problem(form.QuestionInBraces, span), None
    for fragment, kind in _FORM_KINDS:
        if fragment in words:
            start = error.context_mark if kind in _AT_THE_START else mark
            at = start or mark
            if at is not None:
                span = Span(file, at.line + 1, at.column + 1, at.line + 1, at.column + 2)
            return Problem(kind, span, {"words": words}), None
    return Problem(form.CannotRead, span, {"words": words}), None


_FORM_KINDS: tuple[tuple[str, type[Kind]], ...] = (
    (r"character '\t'", form.TabInIndent),
    ("that cannot start any token", form.StrangeStart),
    ("unexpected end of stream", form.QuoteNotClosed),
    ("while scanning a quoted scalar", form.QuoteNotClosed),
    ("expected <block end>", form.BadIndent),
    ("could not find expected ':'", form.ColonMissing),
    ("expected ',' or", form.BracketNotClosed),
)

# Told where the quote, the bracket or the name stands, not where the reader gave up.
_AT_THE_START = (form.QuoteNotClosed, form.BracketNotClosed, form.ColonMissing)


def _quote_value(source: list[str], line: int) -> str | None:
    """The text with the offending line's value in quotes, or None where that cannot help."""
    text = source[line]
    head, mark, value = text.partition(": ")
    dash, _, item = text.partition("- ")
    if not dash.strip() and (not mark or ": " not in value):
        head, mark, value = dash, "- ", item
    value = value.strip()
    if not mark or not value or value[0] in "'\"|>[{&*" or ":" not in value:
        return None
    quoted = value.replace("'", "''")
    return "\n".join([*source[:line], f"{head}{mark}'{quoted}'", *source[line + 1 :]]) + "\n"


def _place_of(text: str, position: int) -> tuple[int, int]:
    before = text[:position]
    return before.count("\n") + 1, position - (before.rfind("\n") + 1) + 1
