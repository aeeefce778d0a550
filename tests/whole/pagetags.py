"""What the structure of a booklet tells of its pages: headings that stand alone at a page's foot,
figures away from the words they serve,
lines of paragraphs that stand alone, and what a page begins with.

In: a PDF opened by pikepdf, and its marks.  Out: complaints in words, none for a sound booklet.  It
goes by what is marked as a heading, not by the size of letters, so it holds for large print too.
Key names are those of ISO 32000-1, 14.7.  A paragraph that runs over a page's end is two there.
"""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import pikepdf

from tests.whole import plumbed
from tests.whole.pagechecks import MM, Line, lines

Place = tuple[int, int]  # page, counted from 1, and the number of marked content on it


@dataclass(frozen=True)
class Told:
    """An element of the structure and the marked contents in it, in reading order.

    `alt`: what is read to those who cannot see it.
    """

    kind: str
    marks: tuple[Place, ...]
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


def _marks(node: Any, numbers: Mapping[Any, int], page: int) -> Iterator[Place]:
    page = numbers.get(node.Pg.objgen, page) if "/Pg" in node else page
    for each in _kids(node):
        yield from _marks(each, numbers, page) if _is_element(each) else _mark(each, numbers, page)


def _mark(node: Any, numbers: Mapping[Any, int], page: int) -> Iterator[Place]:
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


Marks = Mapping[Place, Sequence[plumbed.Mark]]
ENDED = re.compile(r"[.!?:;…][”»)’]?\s*$")
LEAST_LINES = 2  # of a paragraph, on each of its pages


def marks_of(pages: Sequence[plumbed.Page]) -> Marks:
    """What is printed by each marked content."""
    found = defaultdict(list)
    for page in pages:
        for each in (*page.chars, *page.rects, *page.lines, *page.curves, *page.images):
            found[page.page_number, each["mcid"]].append(each)
    return found


def lines_alone(told: Sequence[Told], marks: Marks) -> Iterator[str]:
    """Paragraphs of which one line stands on a page and the rest on the next, or before."""
    with_marks = [each for each in told if each.marks]
    for one, other in pairwise(with_marks):
        last, first = one.marks[-1][0], other.marks[0][0]
        if one.kind == other.kind == "P" and last < first:
            above, below = (_lines(each, marks) for each in (one, other))
            if above and below and _goes_on(above, below):
                count = min(len(above), len(below))
                if count < LEAST_LINES:
                    yield f"a line alone on page {last if len(above) == count else first}"


def words_alone(told: Sequence[Told], marks: Marks) -> Iterator[str]:
    """Lines of a single word in a paragraph though the next word would fit beside it.

    Only a plain word is looked at: figures, signs and addresses have breaks of their own.
    """
    for each in told:
        if each.kind not in ("P", "LBody"):
            continue
        found = _lines(each, marks)
        widest = max((line.right for line in found), default=0.0)
        for one, other in pairwise(found):
            word = one.text.strip()
            first = other.text.split()[0]
            letter = (other.right - other.left) / len(other.text)
            fits = widest - one.right > letter * (len(first) + 2)
            under = other.top > one.top + 1.0  # not beside it, past a gap
            if word.isalpha() and under and fits and one.bold == other.bold:
                yield f"“{word}” is alone before “{other.text.strip()}” on page {each.marks[0][0]}"


def _lines(told: Told, marks: Marks) -> list[Line]:
    return lines([mark for place in told.marks for mark in marks[place] if "text" in mark])


def _goes_on(above: Sequence[Line], below: Sequence[Line]) -> bool:
    """Whether lines on the next page are of the same paragraph: they look alike, and the last one
    before them has no room for their first word and does not end a sentence."""
    looks = [(each.size, each.bold, round(each.left)) for each in (above[-1], below[0])]
    end, word = above[-1], below[0].text.split()[0]
    letter = (below[0].right - below[0].left) / len(below[0].text)
    room = max(each.right for each in (*above, *below)) - end.right
    return looks[0] == looks[1] and not ENDED.search(end.text) and room < letter * (len(word) + 1)


def first_block(told: Sequence[Told], marks: Marks, page: int, *, board: bool = False) -> float:
    """How far down a page, in mm from its top, the picture ends that it begins with, a heading and
    a few words above it; else 0: what is no picture may be torn between its lines.

    `board`: with its cuts, to the next heading.
    """
    low, said, drawn = 0.0, 0.0, False
    for each in told:
        inked = [m for place in each.marks if place[0] == page for m in marks[place]]
        if inked:
            top, bottom = (f(m[k] for m in inked) * MM for f, k in ((min, "top"), (max, "bottom")))
            heading = each.kind.startswith("H")
            if drawn and (heading or not board):
                break
            drawn = drawn or each.kind == "Figure"
            said += 0 if heading or drawn else bottom - top
            if said > MOST_SAID:
                break
            low = max(low, bottom)
    return low if drawn else 0.0


MOST_SAID = 30.0  # mm: more words under a heading may be torn off the picture
