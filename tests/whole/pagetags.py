"""What the structure of a booklet tells of its pages: headings that stand alone at a page's foot,
figures away from the words they serve.

In: a PDF opened by pikepdf.  Out: complaints in words, none for a sound booklet.  It goes by what
is marked as a heading, not by the size of letters, so it holds for large print too.  Key names are
those of ISO 32000-1, 14.7.  A paragraph that runs over a page's end is two in the structure.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import pikepdf

Mark = tuple[int, int]  # page, counted from 1, and the number of marked content on it


@dataclass(frozen=True)
class Told:
    """An element of the structure and the marked contents in it, in reading order.

    `alt`: what is read to those who cannot see it.
    """

    kind: str
    marks: tuple[Mark, ...]
    alt: str = ""


def elements(pdf: pikepdf.Pdf) -> list[Told]:
    """Headings and paragraphs, and whatever holds words by itself, in reading order."""
    numbers = {page.obj.objgen: number for number, page in enumerate(pdf.pages, 1)}
    return [*_walk(pdf.Root.StructTreeRoot.K, numbers, 0)]


def _walk(node: Any, numbers: Mapping[Any, int], page: int) -> Iterator[Told]:
    if isinstance(node, pikepdf.Array):
        for each in node:
            yield from _walk(each, numbers, page)
        return
    if not isinstance(node, pikepdf.Dictionary) or "/S" not in node:
        return
    page = numbers.get(node.Pg.objgen, page) if "/Pg" in node else page
    kind = str(node.S).lstrip("/")
    if re.fullmatch(r"H[1-6]?|P|Figure", kind):
        yield Told(kind, tuple(_marks(node, numbers, page)), str(node.get("/Alt", "")))
        return
    own = [each for each in _kids(node) if not _is_element(each)]
    if own:
        yield Told(kind, tuple(mark for each in own for mark in _mark(each, numbers, page)))
    yield from _walk(node.get("/K", pikepdf.Array()), numbers, page)


def _kids(node: pikepdf.Object) -> list[Any]:
    kids = node.get("/K", pikepdf.Array())
    return list(kids) if isinstance(kids, pikepdf.Array) else [kids]


def _is_element(node: Any) -> bool:
    return isinstance(node, pikepdf.Dictionary) and "/S" in node


def _marks(node: Any, numbers: Mapping[Any, int], page: int) -> Iterator[Mark]:
    page = numbers.get(node.Pg.objgen, page) if "/Pg" in node else page
    for each in _kids(node):
        yield from _marks(each, numbers, page) if _is_element(each) else _mark(each, numbers, page)


def _mark(node: Any, numbers: Mapping[Any, int], page: int) -> Iterator[Mark]:
    if isinstance(node, pikepdf.Dictionary):
        if "/MCID" in node:
            yield (numbers.get(node.Pg.objgen, page) if "/Pg" in node else page), int(node.MCID)
    else:
        yield page, int(node)


def headings_alone(told: Sequence[Told]) -> Iterator[str]:
    """Headings after which their page says nothing more, and the next one goes on."""
    with_marks = [each for each in told if each.marks]
    for one, other in pairwise(with_marks):
        last = max(page for page, _ in one.marks)
        if one.kind.startswith("H") and min(page for page, _ in other.marks) > last:
            yield f"a heading is the last thing on page {last}"


def figures_apart(told: Sequence[Told]) -> Iterator[str]:
    """Figures on a page that says nothing else under their heading; a caption does not count."""
    groups: list[list[Told]] = [[]]
    for each in told:
        if each.kind.startswith("H"):
            groups.append([])
        groups[-1].append(each)
    for group in groups:
        after = [None, *group]
        words = [
            each
            for before, each in zip(after, group, strict=False)
            if each.kind != "Figure" and not (before and before.kind == "Figure")
        ]
        said = {page for each in words for page, _ in each.marks}
        drawn = {page for each in group if each.kind == "Figure" for page, _ in each.marks}
        yield from (f"a figure is alone on page {page}" for page in sorted(drawn - said))
