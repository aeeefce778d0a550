"""How one value of a design file is read, shown in the reference, and put in the schema.

In: a node of the tree.  Out: a typed value with its place, or nothing and a problem.  Each
kind of value is one small class; the same object words the reference, the JSON Schema and the
hint in a problem, so the three cannot disagree.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass, field
from typing import Any

from patternpress.design.kinds import form, naming
from patternpress.design.kinds.work import ToolNotListed
from patternpress.design.measured import name_reason
from patternpress.design.names import Names, index, listed
from patternpress.design.problem import Kind, Problem, near_name
from patternpress.design.source import Items, Node, Pairs, Scalar
from patternpress.design.span import Said, Span
from patternpress.measure.errors import MeasureError
from patternpress.measure.formula import check_name

Schema = dict[str, Any]

# A plain text such as 1.0 or yes is a number or a truth to an editor, and a text to us.
PLAIN = ["string", "number", "boolean"]

LANGUAGE = "^[a-z]{2}(-[A-Z]{2})?$"

MOST_SEARCHED = 200
"""So many problems of one file may search for a near name, which costs time."""


@dataclass
class Reader:
    """What is known while one file is read: the names, the languages, the problems so far."""

    names: Names = field(default_factory=lambda: index(()))
    languages: tuple[str, ...] = ("en",)
    problems: list[Problem] = field(default_factory=list)

    def report(self, kind: type[Kind], span: Span, /, **facts: str) -> None:
        """Keep a problem and read on."""
        self.problems.append(Problem(kind, span, facts))

    def near(self, name: str, *kinds: str) -> str:
        """The nearest known name; no longer looked for once very much is wrong."""
        return self.names.near(name, *kinds) if len(self.problems) < MOST_SEARCHED else ""


def article(words: str) -> str:
    """The words with *a* or *an* before them."""
    return f"{'an' if words[:1] in 'aeio' else 'a'} {words}"


class Reads:
    """The parent: how to read one value.  `example` is YAML that stands after the colon."""

    says: str = "a text"
    example: str = "…"

    def read(self, node: Node, name: str, reader: Reader) -> Any:
        """The typed value of a node, or None after reporting why not."""
        scalar = self.scalar(node, name, reader)
        return None if scalar is None else self.typed(scalar, name, reader)

    def typed(self, scalar: Scalar, name: str, reader: Reader) -> Any:
        """The value of one piece of text; each kind of scalar overrides this."""
        return Said(scalar.text, scalar.span, scalar.text)

    def scalar(self, node: Node, name: str, reader: Reader) -> Scalar | None:
        """The node as text that is not empty, or None after reporting."""
        if isinstance(node, Scalar):
            if node.text.strip() or node.quoted:
                return node
            reader.report(form.EmptyField, node.span, name=name)
            return None
        if isinstance(node, Pairs) and len(node.entries) == 1:
            reader.report(form.ColonInSentence, node.entries[0][0].span)
            return None
        wrong_shape(node, name, "one value", f"{name}: {self.example}", reader)
        return None

    def schema(self) -> Schema:
        """This value in JSON Schema (draft 2020-12), as an editor's own reading of YAML has it."""
        return {"type": "string"}


def wrong_shape(node: Node, name: str, wanted: str, example: str, reader: Reader) -> None:
    """Report a list where a text belongs, or the like."""
    if isinstance(node, Scalar) and not node.text.strip():
        reader.report(form.EmptyField, node.span, name=name)
        return
    found = {Scalar: "a plain text", Items: "a list", Pairs: "a group of fields"}[type(node)]
    shown = example.rstrip(".")  # the message ends with a stop of its own
    reader.report(form.WrongShape, node.span, name=name, wanted=wanted, found=found, example=shown)


@dataclass(frozen=True)
class Text(Reads):
    """A short text on one line."""

    example: str = "…"
    most: int = 200
    says: str = "a short text"

    def typed(self, scalar: Scalar, name: str, reader: Reader) -> Said[str] | None:
        """The text with its white space tidied."""
        text = " ".join(scalar.text.split())
        if len(text) > self.most:
            reader.report(form.LongText, scalar.span, size=str(len(text)), most=str(self.most))
            return None
        return Said(text, scalar.span, scalar.text)

    def schema(self) -> Schema:
        """A text of at most so many characters."""
        return {"type": PLAIN, "maxLength": self.most}


@dataclass(frozen=True, slots=True)
class Prose:
    """An author's own words, in one language or several; the first is the main one."""

    by_language: tuple[tuple[str, Said[str]], ...]
    source: Scalar | None = field(default=None, compare=False, repr=False)

    @property
    def main(self) -> Said[str]:
        """The words in the main language."""
        return self.by_language[0][1]

    def within(self, language: str) -> Said[str] | None:
        """The words in a language, or None where they are missing."""
        return next((said for each, said in self.by_language if each == language), None)


CODE = re.compile(r"[a-z]{2}(-[A-Z]{2})?")


def in_languages(node: Pairs, reader: Reader) -> bool:
    """Whether a group gives one text in several languages.

    Its keys are language codes, the main one among them; so `is` and `of` stay fields.  A shared
    file may give more languages than one design prints.
    """
    keys = {key.text for key, _ in node.entries}
    codes = all(CODE.fullmatch(key) for key in keys)
    return codes and (reader.languages[0] in keys or (bool(keys) and keys <= {*reader.languages}))


@dataclass(frozen=True)
class Words(Reads):
    """Author's prose; may name things in angle brackets; may be given for each language."""

    example: str = "Rub the edges with <sanding block>."
    most: int = 2000
    says: str = "words"

    def read(self, node: Node, name: str, reader: Reader) -> Prose | None:
        """Prose in the main language or, as a group, in each language."""
        if isinstance(node, Pairs) and in_languages(node, reader):
            return self._languages(node, name, reader)
        scalar = self.scalar(node, name, reader)
        said = scalar and self._one(scalar, reader)
        return Prose(((reader.languages[0], said),), scalar) if said else None

    def _languages(self, node: Pairs, name: str, reader: Reader) -> Prose | None:
        found: dict[str, Said[str]] = {}
        first: Scalar | None = None
        for key, inner in node.entries:
            scalar = self.scalar(inner, f"{name}, {key.text}", reader)
            said = scalar and self._one(scalar, reader)
            if said:
                found[key.text] = said
                first = first or scalar
        main = reader.languages[0]
        if main not in found:
            reader.report(naming.MainLanguageMissing, node.span, name=name, language=main)
            return None
        order = (main, *(each for each in reader.languages[1:] if each in found))
        return Prose(tuple((each, found[each]) for each in order), first)

    def _one(self, scalar: Scalar, reader: Reader) -> Said[str] | None:
        text = re.sub(r"\n{2,}", "\0", scalar.text.strip())
        text = "\n\n".join(" ".join(block.split()) for block in text.split("\0"))
        if len(text) > self.most:
            reader.report(form.LongText, scalar.span, size=str(len(text)), most=str(self.most))
            return None
        return Said(text, scalar.span, scalar.text)

    def schema(self) -> Schema:
        """A text, or an object of texts by language."""
        text = {"type": PLAIN, "maxLength": self.most}
        languages = {"propertyNames": {"pattern": LANGUAGE}, "additionalProperties": text}
        return {"anyOf": [text, {"type": "object", **languages}]}


@dataclass(frozen=True)
class Word(Reads):
    """One of a few words; synonyms map to the house's word."""

    words: tuple[str, ...] = ()
    synonyms: tuple[tuple[str, str], ...] = ()

    @property
    def says(self) -> str:  # type: ignore[override]
        """Worded for the reference."""
        return "one of " + ", ".join(f"`{word}`" for word in self.words)

    @property
    def example(self) -> str:  # type: ignore[override]
        """The first of the words."""
        return self.words[0]

    def typed(self, scalar: Scalar, name: str, reader: Reader) -> Said[str] | None:
        """The house's word for what was said."""
        text = " ".join(scalar.text.split())
        word = dict(self.synonyms).get(text, text)
        if word in self.words:
            return Said(word, scalar.span, text)
        near = near_name(text, (*self.words, *dict(self.synonyms)))
        words = ", ".join(self.words)
        reader.report(form.NotAWord, scalar.span, text=text, name=name, words=words, near=near)
        return None

    def schema(self) -> Schema:
        """An enumeration, synonyms included, and what older readers of YAML make of yes and no."""
        words: list[str | bool] = [*self.words, *dict(self.synonyms)]
        known = {"yes": True, "no": False, "on": True, "off": False}
        return {"enum": words + sorted({known[each] for each in self.words if each in known})}


YES_NO = Word(("yes", "no"), (("true", "yes"), ("false", "no"), ("Yes", "yes"), ("No", "no")))


@dataclass(frozen=True)
class NameOf(Reads):
    """The name of something that the design describes elsewhere."""

    kinds: tuple[str, ...] = ("part",)
    example: str = "shelf"

    @property
    def says(self) -> str:  # type: ignore[override]
        """Worded for the reference."""
        return f"the name of {article(' or '.join(self.kinds))}"

    def typed(self, scalar: Scalar, name: str, reader: Reader) -> Said[str] | None:
        """The name, when it is known."""
        text = " ".join(scalar.text.split())
        if reader.names.find(text, *self.kinds):
            return Said(text, scalar.span, text)
        near = reader.near(text, *self.kinds)
        kind = " or ".join(self.kinds)
        unknown = ToolNotListed if set(self.kinds) <= {"tool", "material"} else naming.UnknownName
        reader.report(unknown, scalar.span, name=text, kind=kind, near=near)
        return None


@dataclass(frozen=True)
class ListOf(Reads):
    """Several values: lines with dashes, or (for short ones) one line with commas."""

    of: Reads = field(default_factory=Text)
    in_one_line: bool = False
    all_or_none: bool = False  # an outline with a stretch left out would be another outline

    @property
    def says(self) -> str:  # type: ignore[override]
        """Worded for the reference."""
        return f"one or several: {self.of.says}"

    @property
    def example(self) -> str:  # type: ignore[override]
        """One of them."""
        return self.of.example

    def read(self, node: Node, name: str, reader: Reader) -> tuple[Any, ...] | None:
        """A tuple of what could be read; a single value counts as a list of one."""
        if isinstance(node, Items):
            nodes: tuple[Node, ...] = node.nodes
        elif isinstance(node, Scalar) and self.in_one_line:
            nodes = tuple(listed(node)) or (node,)
        else:
            nodes = (node,)
        read = [self.of.read(each, name, reader) for each in nodes]
        kept = tuple(each for each in read if each is not None)
        return None if self.all_or_none and len(kept) < len(read) else kept

    def schema(self) -> Schema:
        """One value or an array of them; several in one line where they may stand so."""
        one = self.of.schema()
        line = [{"type": "string", "pattern": ","}] if self.in_one_line else []
        return {"anyOf": [one, *line, {"type": "array", "items": one}]}


@dataclass(frozen=True)
class Phrase(Reads):
    """A phrase with a small grammar of its own; `grammar` reads it or reports."""

    grammar: Callable[[Scalar, Reader], Any] = lambda scalar, reader: None
    example: str = ""
    says: str = "a phrase"

    def typed(self, scalar: Scalar, name: str, reader: Reader) -> Any:
        """What the grammar makes of it."""
        return self.grammar(scalar, reader)


@dataclass(frozen=True)
class Phrases(Phrase):
    """A phrase that reads to a tuple; several stand in one line or in a list."""

    def read(self, node: Node, name: str, reader: Reader) -> tuple[Any, ...] | None:
        """All that the phrase or the phrases of a list name, or None after reporting."""
        nodes = node.nodes if isinstance(node, Items) and node.nodes else (node,)
        read = [super(Phrases, self).read(each, name, reader) for each in nodes]
        if any(each is None for each in read):
            return None
        return tuple(one for each in read for one in each)

    def schema(self) -> Schema:
        """One phrase, or an array of them."""
        one = super().schema()
        return {"anyOf": [one, {"type": "array", "items": one}]}


def good_name(scalar: Scalar, reader: Reader) -> bool:
    """Whether a text may name a thing; reports why not."""
    try:
        check_name(scalar.text)
    except MeasureError as error:
        reason = name_reason(error)
        reader.report(form.BadName, scalar.span, text=scalar.text, reason=reason)
        return False
    for word in (" of ", " and ", " to ", " with ", " from ", " x "):
        if word in f" {scalar.text} ":
            reason = f"the word “{word.strip()}” joins names in sentences"
            reader.report(form.BadName, scalar.span, text=scalar.text, reason=reason)
            return False
    return True
