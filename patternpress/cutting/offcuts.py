"""The largest rectangle that is left of a board.

In: the usable board, what is taken of it, the kerf.  Out: the largest `Area` that keeps a kerf
from all that is taken, exactly.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from patternpress.cutting.slicing import Area

Span = tuple[Fraction, Fraction]


def largest_offcut(usable: Area, taken: Sequence[Area], kerf: Fraction) -> Area | None:
    """The largest free rectangle; of equal ones the first from the left; nothing if none is left.

    Its sides lie where something taken or the board ends, so all such pairs are tried.
    """
    boxes = [
        (each.x - kerf, each.y - kerf, each.x + each.along + kerf, each.y + each.across + kerf)
        for each in taken
    ]
    left, right = usable.x, usable.x + usable.along
    low, top = usable.y, usable.y + usable.across
    starts = sorted({left, *(b[2] for b in boxes if left < b[2] < right)})
    ends = sorted({right, *(b[0] for b in boxes if left < b[0] < right)}, reverse=True)
    best: Area | None = None
    for start in starts:
        for end in ends:
            most = (end - start) * usable.across
            if end <= start or (best is not None and most <= best.along * best.across):
                break
            spans = [(b[1], b[3]) for b in boxes if b[0] < end and start < b[2]]
            at, high = _widest((low, top), spans)
            if high > 0 and (best is None or (end - start) * high > best.along * best.across):
                best = Area(start, at, end - start, high)
    return best


def _widest(whole: Span, spans: Sequence[Span]) -> Span:
    """Where the widest gap between spans begins, and how wide it is."""
    at, end = whole
    best = (at, Fraction(0))
    for low, top in sorted(spans):
        if min(low, end) - at > best[1]:
            best = (at, min(low, end) - at)
        at = max(at, top)
    return (at, end - at) if end - at > best[1] else best
