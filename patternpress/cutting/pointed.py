"""Letters of pieces that are too small to be lettered: beside them, with a leader.

In: a board's picture in the making, and the boxes of those pieces.  Out: ink and taken room in the
picture; the letters that found a place are no longer counted as small.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise

from patternpress.assembly.polygons import Edge
from patternpress.cutting.bareboard import Drawn
from patternpress.drawing.dimensions import leader
from patternpress.drawing.ink import Anchor, Extent, Ink, Place, Stroke, Words
from patternpress.drawing.lettering import figure_width, reach, words
from patternpress.drawing.room import passes_through
from patternpress.drawing.style import DrawingStyle

_OFF = (1.5, 2.5, 4.0, 6.0)  # mm from a piece to its letter
_ASIDE = (0.5, 0.3, 0.7, 0.15, 0.85)  # of the piece's length: where its leader ends
_AIR = 0.5  # mm round a letter
_LEAST = 1.5  # mm of a piece on the paper: a smaller one is hardly seen under its leader
_LINE = 0.15  # mm: half of what a leader takes


def point_at(
    small: Sequence[tuple[str, Extent]], pieces: Sequence[Extent], drawn: Drawn, style: DrawingStyle
) -> None:
    """Write the letter of each small piece over it or under it, where nothing else lies."""
    lettering = style.set_in(style.label, 700)
    ruled = [edge for ink in drawn.lines for edge in _edges(ink)]
    for letter, box in small:
        if min(box.width, box.height) < _LEAST:
            continue
        wide = figure_width(words(letter), lettering)
        tail = max(reach(words(letter), lettering))  # of a Q, which its leader keeps off
        for spot, way in _tries(box, wide, lettering.height + tail):
            others = [*drawn.taken, *(each for each in pieces if each != box)]
            if any(spot.grown(_AIR).meets(each) or _path(way).meets(each) for each in others):
                continue
            if any(passes_through(edge, spot.grown(_AIR)) for edge in ruled):
                continue
            text = Words(words(letter), (way[0][0], spot.bottom + tail), lettering, Anchor.MIDDLE)
            drawn.letters.extend([text, *leader(way, style, on_face=True)])
            drawn.taken.extend([spot.grown(_AIR), _path(way)])
            drawn.small[letter] -= 1
            if not drawn.small[letter]:
                del drawn.small[letter]
            break


def _tries(box: Extent, wide: float, high: float) -> Iterator[tuple[Extent, tuple[Place, Place]]]:
    """Yield places for a letter of that size, each with its leader from the letter on."""
    up = (box.bottom + box.top) / 2
    for off in _OFF:
        for share in _ASIDE:
            x = box.left + share * box.width
            for low, start in ((box.top + off, box.top + off - _AIR), (box.bottom - off - high, 0)):
                spot = Extent(x - wide / 2, low, x + wide / 2, low + high)
                yield spot, ((x, start or low + high + _AIR), (x, up))


def _edges(ink: Ink) -> Iterator[Edge]:
    """Yield the straight lines of a stroke."""
    for track in ink.tracks if isinstance(ink, Stroke) else ():
        places = [track.start, *((piece.x, piece.y) for piece in track.pieces)]
        yield from pairwise([*places, places[0]] if track.closed else places)


def _path(way: tuple[Place, Place]) -> Extent:
    (x, one), (_, two) = way
    return Extent(x - _LINE, min(one, two), x + _LINE, max(one, two))
