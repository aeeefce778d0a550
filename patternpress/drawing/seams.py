"""Where two sheets of a tiled template meet.

In: a seam and one of its two sheets.  Out: that sheet's ink: on the upper and the left one a dotted
line to lay the neighbour to, on the other a dashed line to cut; on both the same crosses on the
line, and on each side of it half of a diamond with the seam's letter.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from patternpress.assembly.polygons import Place
from patternpress.drawing.ink import Anchor, Extent, Ink, Stroke, Track, Words, straight
from patternpress.drawing.lettering import words
from patternpress.drawing.room import Surface, passes_through
from patternpress.drawing.signs import Sign
from patternpress.drawing.style import DrawingStyle
from patternpress.drawing.tags import Tag
from patternpress.drawing.tags import seam as seam_tag

_ARM = 3.0  # mm, half a cross
_HALF = 4.5  # mm, from the line to the tip of half a diamond's base, and half its height
_SHARES = (0.5, 0.4, 0.6, 0.3, 0.7, 0.2, 0.8)
_ENDS = (0.12, 0.16, 0.2, 0.24, 0.28, 0.32)  # along the seam, tried for a cross near each end


@dataclass(frozen=True, slots=True)
class Seam:
    """Two sheets and the strip that they share; `beside`: the seam runs up the page.

    `first` is the sheet whose edge is laid under, `second` the one that is cut and laid over it.
    """

    letter: str
    strip: Extent
    beside: bool
    first: tuple[int, int]
    second: tuple[int, int]

    @property
    def tiles(self) -> tuple[tuple[int, int], tuple[int, int]]:
        """Both sheets."""
        return self.first, self.second

    @property
    def span(self) -> tuple[float, float]:
        """From where to where the seam runs."""
        if self.beside:
            return self.strip.bottom, self.strip.top
        return self.strip.left, self.strip.right

    @property
    def middle(self) -> float:
        """Where the sheets are joined: in the middle of the strip."""
        if self.beside:
            return (self.strip.left + self.strip.right) / 2
        return (self.strip.bottom + self.strip.top) / 2

    def place(self, along: float, off: float) -> Place:
        """Return the place so far along the seam and so far to the right of it, or above it."""
        return (self.middle + off, along) if self.beside else (along, self.middle + off)


def seam_ink(
    seam: Seam, tile: tuple[int, int], surface: Surface, style: DrawingStyle
) -> tuple[Ink, ...]:
    """Return what one of a seam's two sheets shows of it."""
    cut = tile == seam.second
    low, high = seam.span
    line = straight(seam.place(low, 0.0), seam.place(high, 0.0))
    places = _cross_places(seam, surface)
    middles = [seam.place(at, 0.0) for at in places]
    crosses = tuple(track for at in places for track in _cross(seam, at))
    # The sheet at the left of an upright seam, or above a level one.
    side = 1.0 if cut == seam.beside else -1.0
    at = _letter_place(seam, surface)
    tip = seam.place(at, side * _HALF)
    half = straight(seam.place(at - _HALF, 0.0), tip, seam.place(at + _HALF, 0.0))
    lettering = style.set_in(style.label, 600)
    x, y = seam.place(at, side * 1.9)

    def tag(of: str) -> Tag:
        return seam_tag(seam.letter, of, cut, middles)

    base = (x, y - style.label * 0.36)
    pen, sign = (style.trim, Sign.TRIM) if cut else (style.lap, Sign.LAP)
    return (
        Stroke((line,), pen, tag("line"), sign),
        Stroke(crosses, style.fine, tag("crosses"), Sign.MATCH),
        Stroke((half,), style.fine, tag("half"), Sign.MATCH),
        Words(words(seam.letter), base, lettering, Anchor.MIDDLE, tag=tag("letter")),
    )


def _cross(seam: Seam, at: float) -> Iterator[Track]:
    yield straight(seam.place(at - _ARM, 0.0), seam.place(at + _ARM, 0.0))
    yield straight(seam.place(at, -_ARM), seam.place(at, _ARM))


def _cross_places(seam: Seam, surface: Surface) -> tuple[float, float]:
    low, high = seam.span
    long = high - low
    first = [low + share * long for share in _ENDS]
    last = [high - share * long for share in _ENDS]
    return _clearest(seam, first, _ARM, surface), _clearest(seam, last, _ARM, surface)


def _letter_place(seam: Seam, surface: Surface) -> float:
    low, high = seam.span
    return _clearest(seam, [low + share * (high - low) for share in _SHARES], _HALF, surface)


def _clearest(seam: Seam, places: list[float], half: float, surface: Surface) -> float:
    """Return the first place where no line of the template runs, or else the first."""
    ring = surface.ring
    edges = [*zip(ring, (*ring[1:], ring[0]), strict=True), *surface.lines]
    for at in places:
        one, two = seam.place(at - half, -half), seam.place(at + half, half)
        spot = Extent(one[0], one[1], two[0], two[1])
        free = not any(spot.meets(box) for box in surface.blocked)
        if free and not any(passes_through(edge, spot) for edge in edges):
            return at
    return places[0]
