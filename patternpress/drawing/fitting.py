"""How one part goes on a page: upright or turned, full size, tiled or reduced.

In: a part and the room of a page, mm.  Out: its cells, or the sheets it is tiled on.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction

from patternpress.assembly.symmetry import is_cornered, is_rectangle
from patternpress.drawing.arranging import fits
from patternpress.drawing.ink import Extent, extent, turned
from patternpress.drawing.part import Manner, TemplatePart
from patternpress.drawing.style import DrawingStyle
from patternpress.drawing.surroundings import Aside, Setting
from patternpress.drawing.template import Cell, Drawn, Way, drawn_once, hands, laid_out
from patternpress.drawing.tiles import sheets_needed, tile_room

# ISO 5455: reductions.
SCALES = tuple(Fraction(1, n) for n in (1, 2, 5, 10, 20, 50, 100))
MOST_SHEETS = 6  # for one template, unless the author asks for more
FOR_CORNERS = 2  # for one that is a rectangle but for its corners


@dataclass(frozen=True, slots=True)
class Room:
    """The room for templates on a page, and what stands in it already, mm."""

    size: tuple[float, float]
    taken: tuple[Extent, ...] = ()

    @property
    def clear(self) -> tuple[float, float]:
        """The part of the room that is free from top to bottom."""
        right = min((box.left for box in self.taken), default=self.size[0])
        return right - 2.0, self.size[1]


@dataclass(frozen=True, slots=True)
class Subject:
    """A part, and what was drawn of it, by the way: each is drawn once."""

    part: TemplatePart
    style: DrawingStyle
    kept: dict[Way, tuple[Drawn, ...]] = field(default_factory=dict)

    def drawn(self, way: Way) -> tuple[Drawn, ...]:
        """Return the part's templates drawn in one way."""
        if way not in self.kept:
            self.kept[way] = tuple(
                drawn_once(each, count, self.style, way) for each, count in hands(self.part)
            )
        return self.kept[way]


Forms = tuple[Cell, ...]  # one template, its words outside standing in different places


def at_full_size(subject: Subject, room: Room) -> tuple[Forms, ...] | None:
    """Return a part's templates at full size, or None if they fit no page or are not wanted."""
    if subject.part.manner is Manner.REDUCED:
        return None
    # Without dimensions at full size rather than with them on several sheets.
    full = [Way(SCALES[0], True), Way(SCALES[0], False), Way(SCALES[0], False, ends=False)]
    return _first(subject, full, room)


def is_tiled(part: TemplatePart, room: Room) -> bool:
    """Say whether a part that does not fit a page is tiled: if asked, or on a few sheets.

    A rectangle is drawn on the wood sooner from figures than from joined sheets, and so are its
    corners than from more than two.
    """
    if part.manner is Manner.REDUCED:
        return False
    if part.manner is Manner.TILED:
        return True
    rows, columns, _ = sheets_needed(part, tile_room(room.clear))
    if part.manner is not Manner.HALF and is_cornered(part.shape.outline):
        return not is_rectangle(part.shape.outline) and rows * columns <= FOR_CORNERS
    return rows * columns <= MOST_SHEETS


def reduced(subject: Subject, room: Room) -> tuple[Forms, ...]:
    """Return a part's templates at the largest scale at which they fit with all their dimensions.

    Raises ValueError if there is no such scale.
    """
    ways = [Way(scale, True, over=over) for scale in SCALES[1:] for over in (False, True)]
    # Holes so many that their names find no room go without: the cutting list names them.
    found = _first(subject, [*ways, *(replace(way, bare=True) for way in ways)], room)
    if found is None:
        letter, (width, height) = subject.part.letter, room.size
        raise ValueError(f"no room for part {letter} on {width:g} by {height:g} mm")
    return found


def _first(subject: Subject, ways: Sequence[Way], room: Room) -> tuple[Forms, ...] | None:
    found = (_at(subject, way, room) for way in ways)
    return next((forms for forms in found if forms is not None), None)


def _at(subject: Subject, way: Way, room: Room) -> tuple[Forms, ...] | None:
    """Return a part's templates in one way, upright or lying, or None if they do not fit."""
    drawn = subject.drawn(way)
    for lies in (False, True):
        forms = tuple(_forms(each, subject.style, room, lies) for each in drawn)
        if all(forms):
            return forms
    return None


def _forms(drawn: Drawn, style: DrawingStyle, room: Room, lies: bool) -> Forms:
    """Return the forms of a template that fit a page, none twice."""
    clear = (room.clear[1], room.clear[0]) if lies else room.clear
    found: dict[tuple[float, float], Cell] = {}
    for words in Aside:
        cell = laid_out(drawn, Setting(style, clear, words))
        cell = _turned(cell) if lies else cell
        if fits(cell.extent, room.size, room.taken):
            found.setdefault((cell.extent.width, cell.extent.height), cell)
    return tuple(found.values())


def _turned(cell: Cell) -> Cell:
    ink = turned(cell.ink)
    return replace(cell, ink=ink, extent=extent(ink), lies=True)
