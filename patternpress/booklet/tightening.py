"""What could be set a little tighter, so that no page holds a few lines alone.

In: pages as the engine laid them out.  Out: names such as `plan tight`: the id of an element that a
theme marked with `data-tightens`, and the class that it has for it.  Printers call it taking in a
line: leading and gaps give way by a hair, letters keep their size.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

TIGHT = "tight"
TIGHTENS = "data-tightens"
FEW = 0.3  # of a page: what is filled less holds a few lines
GAIN = 0.025  # of a page: what each page before gives (3 to 5 % of lines, less of pictures)


@dataclass(frozen=True)
class _Stretch:
    """An element: the first and the last of its pages, and how far down that one it reaches."""

    first: int
    last: int
    foot: float


def tightens(pages: Sequence[Any], filled: Sequence[float]) -> Iterator[str]:
    """Yield what is to be set tighter; `pages` are the engine's, `filled` how far down each of them
    something stands, from 0 to 1.  Of two that end on one page the outer one, which gives more.
    """
    ends: set[int] = set()
    for name, found in _stretches(pages).items():
        few = filled[found.last]
        alone = found.foot >= few - 0.01  # nothing else follows on that page
        before = found.last - found.first
        if not before or few >= FEW or not alone or found.last in ends:
            continue
        needed = few - (1 - filled[found.last - 1])
        if needed <= GAIN * before:
            ends.add(found.last)
            yield f"{name} {TIGHT}"


def _stretches(pages: Sequence[Any]) -> Mapping[str, _Stretch]:
    found: dict[str, _Stretch] = {}
    for number, page in enumerate(pages):
        box = page._page_box
        for name, foot in _marked(box.children[:1]):
            first = found[name].first if name in found else number
            found[name] = _Stretch(first, number, (foot - box.content_box_y()) / box.height)
    return found


def _marked(boxes: Sequence[Any]) -> Iterator[tuple[str, float]]:
    """Yield the marked elements on a page and where what is in each ends."""
    for box in boxes:
        element = getattr(box, "element", None)
        if element is not None and element.get(TIGHTENS) is not None:
            yield element.get("id", ""), lowest(box)
        yield from _marked(getattr(box, "children", ()))


def lowest(box: Any) -> float:
    """Return how far down the page what is in a box reaches: the innermost blocks, for others may
    be as high as the page.
    """
    inner = [each for each in getattr(box, "children", ()) if "Block" in type(each).__name__]
    inner = [each for each in inner if each.is_in_normal_flow()]
    if inner:
        return max(lowest(each) for each in inner)
    return float(box.position_y + box.margin_top + box.border_height())
