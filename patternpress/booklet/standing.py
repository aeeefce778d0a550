"""What a step could do with the page it came to stand on.

In: pages as the engine laid them out.  Out: names such as `step-9 roomy`: the id of an element and
a class that the theme has for it there.  A theme marks its steps with `data-stands`, which lists
the classes it has: `roomy` for one that has a page to itself and leaves much of it empty, or as
much as it would take more, which `data-rises` says in mm; `torn` for one without which the heading
before it would be alone on a page.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from patternpress.booklet.sooner import BEFORE, PACKS, moved
from patternpress.booklet.tightening import TIGHT

ROOMY = 0.66  # of a page: what is lower has room to grow
FULL = 0.98  # of a page: what a step would take, as its theme reckons it, may come to this
TOP = 26  # CSS pixels, 7 mm: less than a line of prose and the gap after it
HEAD = "head"  # the class of a part's heading
STANDS = "data-stands"
RISES = "data-rises"
_MM = 96 / 25.4  # CSS pixels


@dataclass(frozen=True)
class _Page:
    """The ids of the steps on a page, each with its classes; whether nothing but a heading stands
    on it at its foot; how far down it is filled, from 0 to 1, and would be if its first step grew.
    """

    steps: tuple[tuple[str, str], ...]
    heading_last: bool
    filled: float
    grown: float


def stands(pages: Iterable[Any]) -> Iterator[str]:
    """Yield what each step should be told of where it stands; `pages` are the engine's."""
    read = [_read(page) for page in pages]
    shared = [name for page in read for name, _ in page.steps]
    for page in read:
        for name, classes in page.steps:
            alone = len(page.steps) == 1 and shared.count(name) == 1
            room = page.filled < ROOMY or page.grown <= FULL
            if alone and room and "roomy" in classes.split():
                yield f"{name} roomy"
    for before, after in pairwise(read):
        if before.heading_last and after.steps:
            name, classes = after.steps[0]
            if "torn" in classes.split():
                yield f"{name} torn"


def tops(pages: Iterable[Any]) -> Iterator[str]:
    """Yield the anchors that begin at the head of a page; `pages` are the engine's."""
    begun: set[str] = set()  # what goes on over a page has its anchor there too
    for page in pages:
        top = page._page_box.content_box_y()
        new = {name: y for name, (_, y, *_) in page.anchors.items() if name not in begun}
        yield from (name for name, y in new.items() if y - top < TOP)
        begun.update(new)


def places(pages: Iterable[Any]) -> dict[str, tuple[tuple[float, ...], ...]]:
    """Return where each step stands: for each page it is on, the page (from 1), how far below the
    top of the page it begins, and how high it is there, in CSS pixels.  `pages` are the engine's.
    """
    found: dict[str, tuple[tuple[float, ...], ...]] = {}
    for number, page in enumerate(pages, start=1):
        for box in filter(_stands, _blocks(page._page_box.children[:1])):
            name = box.element.get("id", "")
            spot = (number, round(box.position_y, 2), round(_foot(box) - box.position_y, 2))
            found[name] = (*found.get(name, ()), spot)
    return found


def told(html: str, names: Iterable[str]) -> str:
    """Return `html` in which elements have the classes that `names` give them: `step-9 roomy`, and
    stand where they give them a place: `laid-3 before laid-1`.
    """
    for name, _, added in (each.partition(" ") for each in names if " " in each):
        if added.startswith(BEFORE):
            html = moved(html, name, added.removeprefix(BEFORE))
            continue
        tag = rf'<\w+ [^>]*?\bid="{re.escape(name)}"[^>]*>'
        found = re.search(tag, html)
        if found:
            classed = re.sub(r'\bclass="[^"]*', rf"\g<0> {added}", found[0], count=1)
            html = html[: found.start()] + classed + html[found.end() :]
    return html


def filled(pages: Iterable[Any]) -> list[float]:
    """Return how far down each page something stands, from 0 to 1; `pages` are the engine's."""
    return [_read(page).filled for page in pages]


def told_later(name: str) -> bool:
    """Say whether this is told of pages that show the numbers of others, as they then are."""
    return BEFORE in name or name.endswith(f" {TIGHT}")


def told_alike(one: str, other: str) -> bool:
    """Say whether two states of a section's HTML were told the same of that."""
    return all(one.count(mark) == other.count(mark) for mark in (PACKS, f' {TIGHT}"'))


def _read(page: Any) -> _Page:
    box = page._page_box
    blocks = [*_blocks(box.children[:1])]
    top, high = box.content_box_y(), box.height
    marks = [
        (each.element.get("id", ""), each.element.get(STANDS)) for each in blocks if _stands(each)
    ]
    last = max(blocks, key=_foot, default=None)
    heading = last is not None and HEAD in (last.element.get("class") or "").split()
    filled = (_foot(last) - top) / high if last is not None else 0.0
    rises = [float(each.element.get(RISES) or "inf") for each in blocks if _stands(each)]
    grown = filled + rises[0] * _MM / high if rises else filled
    return _Page(tuple(marks), heading, filled, grown)


def _blocks(boxes: Sequence[Any]) -> Iterator[Any]:
    """Yield steps and headings whole, and of everything else the innermost blocks."""
    for box in boxes:
        element = getattr(box, "element", None)
        if element is None or not box.is_in_normal_flow():
            continue
        inner = [each for each in getattr(box, "children", ()) if _is_block(each)]
        if _stands(box) or HEAD in (element.get("class") or "").split() or not inner:
            yield box
        else:
            yield from _blocks(inner)


def _stands(box: Any) -> bool:
    return box.element.get(STANDS) is not None


def _is_block(box: Any) -> bool:
    return type(box).__name__ in ("BlockBox", "TableBox", "FlexBox", "GridBox")


def _foot(box: Any) -> float:
    return float(box.position_y + box.margin_top + box.border_height())
