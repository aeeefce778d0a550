"""A board whose empty end is drawn shorter than it is, so that what lies on the rest is legible.

In: a laid board and the scale at which it would be drawn whole.  Out: larger scales to try, each
with what is left out of the empty end, and the ink where it is left out: two long-break lines
(ISO 128, line 01.1 with zigzags; from memory), and nothing between them.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from patternpress.cutting.boardscale import plain_scale
from patternpress.cutting.laid import LaidBoard
from patternpress.cutting.parting import gone_from
from patternpress.drawing.ink import Extent, Ink, Stroke, Tone, Track, straight
from patternpress.drawing.lines import Pen

LARGER = (1.2, 1.4, 1.6, 1.8, 2.0, 2.25, 2.5)  # times as large as the whole board would be drawn
BAND = 2.0  # mm between the two lines
BEFORE_END = 6.0  # mm from the lines to the end of the board
OVER = 1.2  # mm that the lines run out over the board's edges
TOOTH = 0.9  # mm that a zigzag reaches to either side


@dataclass(frozen=True, slots=True)
class Scale:
    """How far along the board, in mm, something is drawn, in mm: `by` times as far.

    From `empty` on, `out` mm of the drawing are left out.
    """

    by: float
    empty: float = 0.0
    out: float = 0.0

    def far(self, along: float) -> float:
        """Where something along the board is drawn."""
        if along <= self.empty:
            return along * self.by
        return max(self.empty * self.by, along * self.by - self.out)


def shortened(laid: LaidBoard, whole: float, most: float, room: float) -> Iterator[Scale]:
    """The board larger than at the scale `whole` in the same width, at most at the scale `most`.

    `room`: the drawn length, mm, that the empty end keeps.
    """
    end = float(laid.sheet.along)
    held = [(spot.x, spot.along) for spot in laid.spots]
    held += [(each.area.x, each.area.along) for each in gone_from(laid.sheet)]
    empty = max((float(x + along) for x, along in held), default=0.0)
    largest = min(most, (end * whole - room) / empty) if empty else most
    sizes = [whole * times for times in LARGER]
    for size in (*(each for each in sizes if each < largest), min(largest, sizes[-1])):
        by = float(plain_scale(size)) if size > 0 else 0.0
        if by > whole:
            yield Scale(by, empty, end * (by - whole))


def break_lines(end: float, high: float, thin: Fraction) -> tuple[Extent, list[Ink]]:
    """Where something is left out of a board that is drawn `end` long, and the ink there."""
    right = end - BEFORE_END
    box = Extent(right - BAND, -OVER, right, high + OVER)
    inner = (
        (box.left, box.bottom),
        (box.left, box.top),
        (box.right, box.top),
        (box.right, box.bottom),
    )
    white = Tone((straight(*inner, closed=True),), 1.0)
    lines = tuple(_zigzag(x, box.bottom, box.top) for x in (box.left, box.right))
    return box, [white, Stroke(lines, Pen(thin))]


def _zigzag(x: float, low: float, top: float) -> Track:
    middle = (low + top) / 2
    tooth = [(x - TOOTH, middle - TOOTH / 2), (x + TOOTH, middle + TOOTH / 2)]
    return straight((x, low), (x, middle - TOOTH), *tooth, (x, middle + TOOTH), (x, top))
