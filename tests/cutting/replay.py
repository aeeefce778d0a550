"""The saw, replayed: a board is cut line by line, and pieces must come off in their sizes.

In: a board's size, the cuts in order, the kerf.  Out: the rectangles that are left.  Shares no
code with what works the cuts out; each cut must run through one rectangle from edge to edge.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

Rect = tuple[Fraction, Fraction, Fraction, Fraction]  # left, low, right, high
Line = tuple[Fraction, Fraction, Fraction, Fraction]  # from, to


def saw(rects: Sequence[Rect], line: Line, kerf: Fraction) -> tuple[list[Rect], Fraction]:
    """Cut the one rectangle that a line runs through; the rectangles, and how much was cut off.

    Raises AssertionError for a line that runs through none from edge to edge, or through several.
    """
    x, y, to_x, _ = line
    upright = x == to_x
    hit = [r for r in rects if (_cuts_upright if upright else _cuts_level)(r, line)]
    assert len(hit) == 1, f"{line} runs through {len(hit)} of {len(rects)}"
    left, low, right, high = hit[0]
    rest = [r for r in rects if r is not hit[0]]
    if upright:
        rest.append((left, low, x, high))
        if x + kerf < right:
            rest.append((x + kerf, low, right, high))
        return rest, x - left
    rest.append((left, low, right, y))
    if y + kerf < high:
        rest.append((left, y + kerf, right, high))
    return rest, y - low


def saw_round(
    rects: Sequence[Rect], line: Line, kerf: Fraction, corner: tuple[Fraction, Fraction]
) -> tuple[list[Rect], Fraction]:
    """Cut a board where all above and right of `corner` is no wood; raises like `saw`.

    Wood ends a kerf before the corner, as pieces do.  A rectangle that goes round the corner
    stands for what is left of it; a cut above or right of the corner ends there.
    """
    x, y = corner
    at_x, at_y, to_x, to_y = line
    for number, (left, low, right, high) in enumerate(rects):
        if not (left < x < right and low < y < high):
            continue
        others = [rect for n, rect in enumerate(rects) if n != number]
        if at_y == to_y and y <= at_y < high and (at_x, to_x) == (left, x - kerf):
            above = (left, at_y + kerf, x - kerf, high)
            return [*others, (left, low, right, at_y), above], at_y - low
        if at_x == to_x and x <= at_x < right and (at_y, to_y) == (low, y - kerf):
            beyond = (at_x + kerf, low, right, y - kerf)
            return [*others, (left, low, at_x, high), beyond], at_x - left
    cut, setting = saw(rects, line, kerf)
    return [_short_of(rect, corner, kerf) for rect in cut], setting


def _short_of(rect: Rect, corner: tuple[Fraction, Fraction], kerf: Fraction) -> Rect:
    """A rectangle that lies wholly above or right of the corner ends a kerf before it."""
    left, low, right, high = rect
    x, y = corner
    if low >= y and right > x:
        return (left, low, x - kerf, high)
    if left >= x and high > y:
        return (left, low, right, y - kerf)
    return rect


def _cuts_upright(rect: Rect, line: Line) -> bool:
    left, low, right, high = rect
    x, y, _, to_y = line
    return left < x < right and low == y and high == to_y


def _cuts_level(rect: Rect, line: Line) -> bool:
    left, low, right, high = rect
    x, y, to_x, _ = line
    return low < y < high and left == x and right == to_x
