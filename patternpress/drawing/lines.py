"""Line widths and dashes.

In: nothing.  Out: pens after ISO 128-2: the widths of its series and its dash lengths as
multiples of the width.
"""

from dataclasses import dataclass
from fractions import Fraction

# ISO 128-2:2020, mm.
SERIES = tuple(
    Fraction(width) for width in ("0.13", "0.18", "0.25", "0.35", "0.5", "0.7", "1", "1.4", "2")
)
# Lengths in line widths (ISO 128-2, from memory): dash 12, gap 3, long dash 24, dot 1/2.
DASHED = (Fraction(12), Fraction(3))
# Dashes round the smallest ring: with fewer it looks like a full line, or like two arcs.
RING = 4
CHAIN = (Fraction(24), Fraction(3), Fraction(1, 2), Fraction(3))


@dataclass(frozen=True, slots=True)
class Pen:
    """A line width in mm and its dashes in mm, none for a full line.

    Raises ValueError for a width that is not in the series.
    """

    width: Fraction
    dashes: tuple[Fraction, ...] = ()

    def __post_init__(self) -> None:
        if self.width not in SERIES:
            raise ValueError(f"{float(self.width)} mm is no line width of ISO 128")


def heavier(pen: Pen) -> Pen:
    """Return a pen one width of the series up, its dashes as they are."""
    return Pen(wider(pen.width), pen.dashes)


def wider(width: Fraction) -> Fraction:
    """Return the next width of the series."""
    return SERIES[SERIES.index(width) + 1]


def dashed(width: Fraction) -> Pen:
    """Return the pen for hidden edges."""
    return Pen(width, tuple(length * width for length in DASHED))


def chain(width: Fraction) -> Pen:
    """Return the pen for centre lines: long dash, dot."""
    return Pen(width, tuple(length * width for length in CHAIN))


def round_a_ring(pen: Pen, length: float) -> Pen:
    """Return a dashed pen for a closed line: round a small one dashes are shorter, so that they
    are dashes, and a whole number of them.
    """
    dash, gap = pen.dashes
    if length > 2 * RING * (dash + gap):
        return pen
    period = Fraction(length) / max(RING, int(length / (dash + gap)))
    gap = min(gap, period / 3)
    return Pen(pen.width, (round(period - gap, 3), round(gap, 3)))
