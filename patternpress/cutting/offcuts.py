"""The largest rectangle that is left of a board.

In: the usable board, what is taken of it, the kerf.  Out: the largest `Area` that keeps a kerf
from all that is taken, exactly.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from fractions import Fraction

from patternpress.cutting.slicing import Area

Span = tuple[int, int]


def largest_offcut(usable: Area, taken: Sequence[Area], kerf: Fraction) -> Area | None:
    """The largest free rectangle; of equal ones the first from the left; nothing if none is left.

    Its sides lie where something taken or the board ends, so all such pairs are tried.
    """
    figures = [kerf, *(f for each in (usable, *taken) for f in _figures(each))]
    # Whole numbers: as exact as fractions, and ten times as quick to compare.
    scale = math.lcm(*(figure.denominator for figure in figures))
    left, low, along, across = (int(f * scale) for f in _figures(usable))
    off = int(kerf * scale)
    boxes = []
    for each in taken:
        x, y, wide, high = (int(f * scale) for f in _figures(each))
        boxes.append((x - off, y - off, x + wide + off, y + high + off))
    best = _largest((left, low, left + along, low + across), boxes)
    return Area(*(Fraction(each, scale) for each in best)) if best else None


def _figures(area: Area) -> tuple[Fraction, Fraction, Fraction, Fraction]:
    return area.x, area.y, area.along, area.across


def _largest(
    board: tuple[int, int, int, int], boxes: Sequence[tuple[int, int, int, int]]
) -> tuple[int, int, int, int] | None:
    """x, y, width and height of the largest rectangle of a board that no box reaches into."""
    left, low, right, top = board
    starts = sorted({left, *(b[2] for b in boxes if left < b[2] < right)})
    ends = sorted({right, *(b[0] for b in boxes if left < b[0] < right)}, reverse=True)
    best, most = None, 0
    for start in starts:
        for end in ends:
            if (end - start) * (top - low) <= most:
                break
            spans = [(b[1], b[3]) for b in boxes if b[0] < end and start < b[2]]
            at, high = _widest((low, top), spans)
            if (end - start) * high > most:
                best, most = (start, at, end - start, high), (end - start) * high
    return best


def _widest(whole: Span, spans: Sequence[Span]) -> Span:
    """Where the widest gap between spans begins, and how wide it is."""
    at, end = whole
    best = (at, 0)
    for low, top in sorted(spans):
        if min(low, end) - at > best[1]:
            best = (at, min(low, end) - at)
        at = max(at, top)
    return (at, end - at) if end - at > best[1] else best
