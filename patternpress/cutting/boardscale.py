"""The scales that boards are drawn at: plain ones, which can be told beside the board.

In: how large a board may be drawn at most.  Out: the next smaller scale that is easily said, such
as 1:4.5, and its words.  ISO 5455 has few scales, too far apart for a board that must be legible.
"""

from __future__ import annotations

import math
from fractions import Fraction

# Up to 1:10 in tenths, then in halves, and so on: no board loses more than a tenth.
_STEPS = ((10, Fraction(1, 10)), (30, Fraction(1, 2)), (1000, Fraction(5)))


def plain_scale(largest: float) -> Fraction:
    """The largest plain scale that is no larger than `largest`: 1/4.5 of 0.223."""
    if largest >= 1:
        return Fraction(math.floor(largest * 10 + 1e-9), 10)
    times = 1 / largest
    step = next((step for below, step in _STEPS if times <= below), Fraction(50))
    return 1 / (math.ceil(times / float(step) - 1e-9) * step)


def told_scale(scale: Fraction) -> str:
    """A scale in words: 1:4.5, or 2:1 where it is drawn larger than it is."""
    if scale >= 1:
        return f"{_figure(scale)}:1"
    return f"1:{_figure(1 / scale)}"


def _figure(times: Fraction) -> str:
    return f"{float(times):g}"
