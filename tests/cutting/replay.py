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


def _cuts_upright(rect: Rect, line: Line) -> bool:
    left, low, right, high = rect
    x, y, _, to_y = line
    return left < x < right and low == y and high == to_y


def _cuts_level(rect: Rect, line: Line) -> bool:
    left, low, right, high = rect
    x, y, to_x, _ = line
    return low < y < high and left == x and right == to_x
