"""What could be set sooner, so that no page holds a strip alone.

In: pages as the engine laid them out.  Out: names such as `laid-3 before laid-1`: the id of an
element, and of that before which it finds room on an earlier page; none where no page is saved.  A
theme marks such elements with `data-packs`, the id of the part that they follow each other in, and
ends each with a comment of its id: `<!--/laid-3-->`.  Their order tells nothing, as that of boards
whose headings say which they are.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from patternpress.booklet.tightening import lowest

PACKS = "data-packs"
PIECE = "board"  # the class of what is never torn in such an element
GAP = 16.0  # CSS pixels, 4 mm: what keeps two of them apart, at most
BEFORE = "before "


@dataclass(frozen=True)
class _Block:
    """An element that may be set sooner: its id, and how high each piece of it is."""

    name: str
    pieces: tuple[float, ...]

    @property
    def high(self) -> float:
        """How high it is where it is not torn."""
        return sum(self.pieces)


def sooner(pages: Sequence[Any]) -> Iterator[str]:
    """Yield what is to be set before what; `pages` are the engine's."""
    boxes = [[*_packing(page._page_box.children[:1])] for page in pages]
    on = [number for number, found in enumerate(boxes) if found]
    if not on or on[-1] != len(pages) - 1:
        return
    blocks = _read(boxes)
    first = _page_with(pages, boxes[on[0]][0].element.get(PACKS))
    page, begun = pages[first]._page_box, boxes[first]
    room = page.content_box_y() + page.height
    used = _top(begun[0]) if begun else lowest(page.children[0])
    order = _packed(blocks, room - used, page.height)
    if order is None or order[1] >= len(pages) - first - 1:
        return
    left = [each.name for each in blocks]
    for name in order[0]:
        if name != left[0]:
            yield f"{name} {BEFORE}{left[0]}"
        left.remove(name)


def moved(html: str, name: str, before: str) -> str:
    """Return `html` with an element set before another, and none of its sort to be moved again."""
    found = re.search(
        rf'<div [^>]*?\bid="{re.escape(name)}".*?<!--/{re.escape(name)}-->', html, re.S
    )
    if found is None:
        return html
    rest = html[: found.start()] + html[found.end() :]
    at = re.search(rf'<div [^>]*?\bid="{re.escape(before)}"', rest)
    whole = rest[: at.start()] + found[0] + rest[at.start() :] if at else html
    return re.sub(rf' {PACKS}="[^"]*"', "", whole)


def _packed(blocks: Sequence[_Block], room: float, whole: float) -> tuple[list[str], int] | None:
    """The order in which blocks fill pages best, and how many pages they begin; the first of them
    has only `room`.  What comes next is torn between its pieces, what comes sooner never is.
    """
    left, order, begun = list(blocks), list[str](), 0
    while left:
        fits = [each for each in left if each.high <= room]
        one = left[0] if left[0].pieces[0] <= room or not fits else fits[0]
        if one.pieces[0] > room:
            room, begun = whole, begun + 1
            if one.pieces[0] > room:
                return None
        for piece in one.pieces:
            if piece > room:
                room, begun = whole, begun + 1
            room -= piece
        room -= GAP
        order.append(one.name)
        left.remove(one)
    return order, begun


def _read(boxes: Iterable[Sequence[Any]]) -> list[_Block]:
    """Blocks in their order, put together of what stands of each on every page."""
    found: dict[str, list[float]] = {}
    for page in boxes:
        for box in page:
            pieces = found.setdefault(box.element.get("id", ""), [])
            at = _top(box)
            for piece in (each for each in box.children if _is_piece(each)):
                foot = piece.position_y + piece.margin_top + piece.border_height()
                pieces.append(foot - at)
                at = foot
    return [_Block(name, tuple(pieces)) for name, pieces in found.items() if pieces]


def _page_with(pages: Sequence[Any], anchor: str) -> int:
    return next(number for number, page in enumerate(pages) if anchor in page.anchors)


def _packing(boxes: Iterable[Any]) -> Iterator[Any]:
    for box in boxes:
        element = getattr(box, "element", None)
        if element is not None and element.get(PACKS):
            yield box
        else:
            yield from _packing(getattr(box, "children", ()))


def _is_piece(box: Any) -> bool:
    element = getattr(box, "element", None)
    return element is not None and PIECE in (element.get("class") or "").split()


def _top(box: Any) -> float:
    first = box.children[0]
    return float(first.position_y + first.margin_top)
