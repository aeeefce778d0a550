"""What a screen reader would be told: the structure tree with the words of its elements.

In: the catalogue of a PDF and its pages as read.  Out: `Element`s in reading order, with the words
that belong to each (ISO 32000-1, 14.7).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from pikepdf import Array, Dictionary, Name, Object

from patternpress.proof.marks import Page, tag_of
from patternpress.proof.rows import joined_words

_DEEPEST = 60


@dataclass(frozen=True)
class Element:
    """One element: its kind, page, words (of all within) and description, and how deep it lies."""

    kind: str
    page: int
    text: str
    described: str
    depth: int
    head: bool = False


def elements_of(
    root: Object, numbers: Mapping[Any, int], pages: tuple[Page, ...]
) -> tuple[Element, ...]:
    """Return the elements of the structure tree; none if there is no tree."""
    tree = root.get(Name.StructTreeRoot)
    if tree is None or Name.K not in tree:
        return ()
    walk = _Walk(numbers, _texts(pages), [])
    walk.through(tree.K, 0, 0)
    return tuple(walk.found)


def _texts(pages: tuple[Page, ...]) -> dict[tuple[int, str], str]:
    """Return the words of each marked-content number of each page."""
    parts: dict[tuple[int, str], list[Any]] = {}
    for page in pages:
        for words in page.words:
            number = next(
                (t.facts["MCID"] for t in reversed(words.tags) if "MCID" in t.facts), None
            )
            if number is not None and tag_of(words.tags, "Artifact") is None:
                parts.setdefault((page.number, number), []).append(words)
    return {key: joined_words(each) for key, each in parts.items()}


@dataclass
class _Walk:
    numbers: Mapping[Any, int]
    texts: Mapping[tuple[int, str], str]
    found: list[Element]

    def through(self, node: Any, page: int, depth: int) -> str:
        """Walk a node; returns its words."""
        if depth > _DEEPEST:
            return ""
        if isinstance(node, Array):
            parts = [self.through(each, page, depth) for each in node.as_list()]
            return " ".join(part for part in parts if part)
        if not isinstance(node, Dictionary):
            return self.texts.get((page, str(node)), "")
        if Name.Pg in node:
            page = self.numbers.get(node.Pg.objgen, page)
        if Name.S not in node:
            return self.texts.get((page, str(node.get(Name.MCID, ""))), "")
        return self.element(node, page, depth)

    def element(self, node: Any, page: int, depth: int) -> str:
        """Write an element down before those within it; returns its words."""
        place = len(self.found)
        kind = str(node.S).lstrip("/")
        described = str(node.get(Name.Alt, node.get(Name.ActualText, "")))
        self.found.append(Element(kind, page, "", described, depth))
        text = self.through(node.get(Name.K, Array()), page, depth + 1)
        inside = self.found[place + 1 :]
        first = page or next((each.page for each in inside if each.page), 0)
        self.found[place] = Element(kind, first, text, described, depth)
        return text
