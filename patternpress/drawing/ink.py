"""What a drawing is made of before it is written down.

In: nothing; records and their movements.  Out: strokes, solid areas and words in mm, y
upwards.  Only the writer turns the page over.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from enum import StrEnum

from patternpress.assembly.shape import Outline
from patternpress.drawing.curves import Cubic, Piece, Straight, pieces
from patternpress.drawing.lettering import Lettering, figure_width
from patternpress.drawing.lines import Pen
from patternpress.drawing.signs import Sign
from patternpress.drawing.tags import Tag
from patternpress.measure.pieces import Figure

Place = tuple[float, float]
Placing = Callable[[Place], Place]


class Anchor(StrEnum):
    """Which end of the words lies at their place."""

    START = "start"
    MIDDLE = "middle"
    END = "end"


@dataclass(frozen=True, slots=True)
class Track:
    """A line from `start` along pieces."""

    start: Place
    pieces: tuple[Piece, ...]
    closed: bool = False


@dataclass(frozen=True, slots=True)
class Stroke:
    """Tracks drawn with one pen; `sign`: what the key must explain of them."""

    tracks: tuple[Track, ...]
    pen: Pen
    tag: Tag | None = None
    sign: Sign | None = None


@dataclass(frozen=True, slots=True)
class Solid:
    """Areas filled black, such as arrowheads."""

    tracks: tuple[Track, ...]


@dataclass(frozen=True, slots=True)
class Tone:
    """Areas laid under the lines in one grey: from 0, black, to 1, the paper's white."""

    tracks: tuple[Track, ...]
    grey: float


@dataclass(frozen=True, slots=True)
class Words:
    """A figure or plain text set on a line; `upright` words are read from the right.

    `over`: how far they stand off the line of a dimension, over which they are to stand.
    """

    figure: Figure
    at: Place
    lettering: Lettering
    anchor: Anchor = Anchor.START
    upright: bool = False
    tag: Tag | None = None
    over: float | None = None

    @property
    def start(self) -> Place:
        """The place where the first letter begins, on the base line."""
        shares = {Anchor.START: 0.0, Anchor.MIDDLE: 0.5, Anchor.END: 1.0}
        back = shares[self.anchor] * figure_width(self.figure, self.lettering)
        x, y = self.at
        return (x, y - back) if self.upright else (x - back, y)


Ink = Stroke | Solid | Tone | Words


@dataclass(frozen=True, slots=True)
class Tagged:
    """All the ink of one thing on a page; without a tag, what stands for nothing."""

    ink: tuple[Ink, ...]
    tag: Tag | None = None


@dataclass(frozen=True, slots=True)
class Extent:
    """A rectangle on the paper, mm."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """Its width, mm."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Its height, mm."""
        return self.top - self.bottom

    @property
    def corners(self) -> tuple[Place, ...]:
        """Its corners, anticlockwise from the lower left."""
        low, high = (self.left, self.bottom), (self.right, self.top)
        return low, (self.right, self.bottom), high, (self.left, self.top)

    def grown(self, by: float) -> Extent:
        """Return it with a margin all round."""
        return Extent(self.left - by, self.bottom - by, self.right + by, self.top + by)

    def meets(self, other: Extent) -> bool:
        """Say whether the two share more than an edge."""
        return (
            self.left < other.right
            and other.left < self.right
            and self.bottom < other.top
            and other.bottom < self.top
        )


def outline_track(outline: Outline) -> Track:
    """Return an outline as a closed track, its curves true to 0.005 mm."""
    start = (float(outline.start.x), float(outline.start.y))
    return Track(start, pieces(outline), closed=True)


def straight(*places: Place, closed: bool = False) -> Track:
    """Return a track of straight lines through places."""
    return Track(places[0], tuple(Straight(*place) for place in places[1:]), closed)


# ------------------------------------------------------------------ extents


def extent(inks: Iterable[Ink]) -> Extent:
    """Return the rectangle that holds all ink.

    A cubic counts with its control points, so the rectangle may be a little too large.
    Raises ValueError without ink.
    """
    boxes = [_extent(ink) for ink in inks if isinstance(ink, Words) or ink.tracks]
    return Extent(
        min(each.left for each in boxes),
        min(each.bottom for each in boxes),
        max(each.right for each in boxes),
        max(each.top for each in boxes),
    )


def track_extent(tracks: Iterable[Track]) -> Extent:
    """Return the rectangle that holds tracks without width; cubics count as in `extent`."""
    return extent((Solid(tuple(tracks)),))


def _extent(ink: Ink) -> Extent:
    if isinstance(ink, Words):
        return words_extent(ink)
    half = float(ink.pen.width) / 2 if isinstance(ink, Stroke) else 0.0
    across, up = zip(*(place for track in ink.tracks for place in _places(track)), strict=True)
    return Extent(min(across) - half, min(up) - half, max(across) + half, max(up) + half)


def _places(track: Track) -> list[Place]:
    places = [track.start]
    for piece in track.pieces:
        if isinstance(piece, Cubic):
            places += [(piece.x1, piece.y1), (piece.x2, piece.y2)]
        places.append((piece.x, piece.y))
    return places


def words_extent(words: Words) -> Extent:
    """Return the rectangle of set words, from below the line to the top of the capitals."""
    length = figure_width(words.figure, words.lettering)
    above, below = words.lettering.height, words.lettering.descent
    x, y = words.start
    if words.upright:
        return Extent(x - above, y, x + below, y + length)
    return Extent(x, y - below, x + length, y + above)


# ------------------------------------------------------------------ movements


def shifted(inks: Iterable[Ink], across: float, up: float) -> tuple[Ink, ...]:
    """Return ink moved over the paper."""
    return tuple(_put(ink, lambda place: (place[0] + across, place[1] + up)) for ink in inks)


def stretched(inks: Iterable[Ink], across: float, up: float) -> tuple[Ink, ...]:
    """Return ink with its places stretched from the origin; letters keep their size."""
    return tuple(_put(ink, lambda place: (place[0] * across, place[1] * up)) for ink in inks)


def turned(inks: Iterable[Ink]) -> tuple[Ink, ...]:
    """Return ink turned a quarter anticlockwise, to be read from the right.

    Raises ValueError for words that would then stand on their heads.
    """
    return tuple(_put(_raised(ink), lambda place: (-place[1], place[0])) for ink in inks)


def _raised(ink: Ink) -> Ink:
    if not isinstance(ink, Words):
        return ink
    if ink.upright:
        return _lying_down(ink)
    return replace(ink, upright=True)


def _lying_down(words: Words) -> Words:
    """Return upright words so that after the turn they are read from below.

    They keep the middle of their rectangle; those over a line stand over it again.
    """
    box = words_extent(words)
    middle_x = (box.left + box.right) / 2
    middle_y = (box.bottom + box.top) / 2
    if words.over is not None:
        beyond = (words.at[0] + 2 * words.over, middle_y)
        return replace(words, at=beyond, anchor=Anchor.MIDDLE, upright=False)
    drop = (words.lettering.height - words.lettering.descent) / 2
    # After the turn (x, y) becomes (-y, x): the base line must lie `drop` under the middle.
    return replace(words, at=(middle_x - drop, middle_y), anchor=Anchor.MIDDLE, upright=False)


def _put(ink: Ink, place: Placing) -> Ink:
    if isinstance(ink, Words):
        return replace(ink, at=place(ink.at))
    tracks = tuple(
        Track(place(t.start), tuple(_put_piece(p, place) for p in t.pieces), t.closed)
        for t in ink.tracks
    )
    return replace(ink, tracks=tracks)


def _put_piece(piece: Piece, place: Placing) -> Piece:
    if isinstance(piece, Straight):
        return Straight(*place((piece.x, piece.y)))
    return Cubic(
        *place((piece.x1, piece.y1)), *place((piece.x2, piece.y2)), *place((piece.x, piece.y))
    )
