"""Arrange templates on pages.

In: parts and the live area of a page in mm.  Out: one SVG for each page, its templates in
rows, full size wherever they fit, with bars to check the print.  The same parts give the same
pages.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction

from patternpress.drawing.bars import lying_bar, upright_bar
from patternpress.drawing.captions import Block, scale_words
from patternpress.drawing.ink import Extent, Tagged, extent, shifted, turned
from patternpress.drawing.part import TemplatePart
from patternpress.drawing.style import DrawingStyle
from patternpress.drawing.surroundings import Setting
from patternpress.drawing.svg import svg_page
from patternpress.drawing.tags import bar as bar_tag
from patternpress.drawing.template import Cell, Drawn, drawings, laid_out
from patternpress.measure.pieces import Figure

LIVE_AREA = (Fraction(190), Fraction(240))
# ISO 5455: reductions.
SCALES = tuple(Fraction(1, n) for n in (1, 2, 5, 10, 20, 50, 100))
_BETWEEN = 7.0  # mm between templates
_ABOVE_BAR = 5.0


@dataclass(frozen=True, slots=True)
class TemplatePage:
    """One page: its SVG, the letters of its parts in order, and its scale in words.

    `scale_words` is "full size", or the warning if any part on the page is reduced.
    """

    svg: str
    letters: tuple[str, ...]
    scale_words: str


@dataclass(frozen=True, slots=True)
class _Placed:
    """A cell on a page, with the lower left corner of its rectangle."""

    cell: Cell
    left: float
    bottom: float

    @property
    def extent(self) -> Extent:
        box = self.cell.extent
        return Extent(self.left, self.bottom, self.left + box.width, self.bottom + box.height)


def sheets(
    parts: Sequence[TemplatePart],
    area: tuple[Fraction, Fraction] = LIVE_AREA,
    style: DrawingStyle | None = None,
) -> tuple[TemplatePage, ...]:
    """Return the pages that hold all templates.

    A template too wide for the page but not too tall is turned to be read from the right; one
    too large either way is drawn at the largest scale of ISO 5455 that fits, and says so.
    Raises ValueError if the area has no room for the bars and any template beside them.
    """
    style = style or DrawingStyle()
    width, height = float(area[0]), float(area[1])
    bar = lying_bar(style)
    room = (width, height - bar.height - _ABOVE_BAR)
    beside = upright_bar(style).width + _BETWEEN
    # Words beside the parts or above them, whichever takes fewer pages.
    subjects = [_Subject(part, style) for part in parts]
    pages = _pages(subjects, room, beside, words_above=False)
    if len(pages) > 1:
        pages = min(pages, _pages(subjects, room, beside, words_above=True), key=len)
    return tuple(_page(page, (width, height), style) for page in pages)


def _pages(
    subjects: Sequence[_Subject], room: tuple[float, float], beside: float, words_above: bool
) -> list[list[_Placed]]:
    drawn = [cell for each in subjects for cell in _fitting(each, room, words_above)]
    # What is not full size gets pages of its own, so that nobody cuts round it.
    full = [cell for cell in drawn if cell.scale == 1]
    reduced = [cell for cell in drawn if cell.scale != 1]
    return [page for same in (full, reduced) if same for page in _fewest(same, room, beside)]


# ------------------------------------------------------------------ fitting one template


@dataclass(frozen=True, slots=True)
class _Way:
    """How a part may be drawn; `bare` goes without the names of its holes."""

    scale: Fraction
    dimensioned: bool
    bare: bool = False


@dataclass(frozen=True, slots=True)
class _Subject:
    """A part, and what was drawn of it, by the way: each is drawn once."""

    part: TemplatePart
    style: DrawingStyle
    kept: dict[_Way, tuple[Drawn, ...]] = field(default_factory=dict)

    def drawn(self, way: _Way) -> tuple[Drawn, ...]:
        part = self.part
        if way not in self.kept:
            if way.bare:
                nothing = {hole.name: Figure(()) for hole in part.shape.holes}
                part = replace(part, callouts=nothing)
            self.kept[way] = drawings(part, self.style, way.scale, way.dimensioned)
        return self.kept[way]


def _fitting(subject: _Subject, room: tuple[float, float], words_above: bool) -> tuple[Cell, ...]:
    """Return a part's cells at the largest scale at which they fit, turned if need be."""
    # Without dimensions at full size rather than with them reduced.
    full = [_Way(SCALES[0], True), _Way(SCALES[0], False)]
    reduced = [_Way(scale, True) for scale in SCALES[1:]]
    # Holes so many that their names find no room go without: the cutting list names them.
    for way in (*full, *_bared(full), *reduced, *_bared(reduced)):
        found = _at(subject, way, room, words_above)
        if found is not None:
            return found
    letter = subject.part.letter
    raise ValueError(f"no room for part {letter} on {room[0]:g} by {room[1]:g} mm")


def _bared(ways: Sequence[_Way]) -> list[_Way]:
    return [replace(way, bare=True) for way in ways]


def _at(
    subject: _Subject, way: _Way, room: tuple[float, float], words_above: bool
) -> tuple[Cell, ...] | None:
    """Return a part's cells in one way, upright or lying, or None if they do not fit."""
    drawn = subject.drawn(way)
    setting = Setting(subject.style, room, words_above)
    upright = tuple(laid_out(each, setting) for each in drawn)
    if all(_fits(each.extent, room) for each in upright):
        return upright
    setting = replace(setting, room=(room[1], room[0]))
    lying = tuple(_turned(laid_out(each, setting)) for each in drawn)
    return lying if all(_fits(each.extent, room) for each in lying) else None


def _fits(box: Extent, room: tuple[float, float]) -> bool:
    return box.width <= room[0] and box.height <= room[1]


def _turned(cell: Cell) -> Cell:
    ink = turned(cell.ink)
    tag = replace(cell.tag, facts=(*cell.tag.facts, ("Turned", "yes")))
    return replace(cell, ink=ink, extent=extent(ink), tag=tag)


# ------------------------------------------------------------------ arranging pages


def _fewest(drawn: list[Cell], room: tuple[float, float], beside: float) -> list[list[_Placed]]:
    """Return the arrangement with the fewest pages.

    Among equals it is one that leaves a column `beside` the templates free for the upright
    bar, and then one in the order of the parts.
    """
    narrow = (room[0] - beside, room[1])
    tall = sorted(drawn, key=lambda cell: -cell.extent.height)
    large = sorted(drawn, key=lambda cell: -cell.extent.height * cell.extent.width)
    tries = [
        _arranged(order, space)
        for space in (narrow, room)
        for order in (drawn, tall, large)
        if all(_fits(cell.extent, space) for cell in drawn)
    ]
    pages = [
        sorted(page, key=lambda placed: drawn.index(placed.cell)) for page in min(tries, key=len)
    ]
    return sorted(pages, key=lambda page: drawn.index(page[0].cell))


def _arranged(order: list[Cell], room: tuple[float, float]) -> list[list[_Placed]]:
    """Return pages, each cell on the first that has a place for it."""
    pages: list[list[_Placed]] = []
    for cell in order:
        for page in pages:
            if (placed := _first_place(page, cell, room)) is not None:
                page.append(placed)
                break
        else:
            pages.append([_Placed(cell, 0.0, room[1] - cell.extent.height)])
    return pages


def _first_place(page: list[_Placed], cell: Cell, room: tuple[float, float]) -> _Placed | None:
    """Return the highest and then leftmost place level with an edge of the page or a template."""
    box = cell.extent
    spots = [placed.extent for placed in page]
    tops = {room[1], *(spot.bottom - _BETWEEN for spot in spots)}
    lefts = {0.0, *(spot.right + _BETWEEN for spot in spots)}
    for top in sorted(tops, reverse=True):
        for left in sorted(lefts):
            placed = _Placed(cell, left, top - box.height)
            inside = placed.bottom >= 0 and left + box.width <= room[0]
            around = placed.extent.grown(_BETWEEN * 0.99)
            if inside and not any(around.meets(spot) for spot in spots):
                return placed
    return None


# ------------------------------------------------------------------ one page


def _page(page: list[_Placed], size: tuple[float, float], style: DrawingStyle) -> TemplatePage:
    bar = lying_bar(style)
    lift = bar.height + _ABOVE_BAR
    groups = [Tagged(bar.ink, bar_tag("across"))]
    taken = [Extent(0, 0, bar.width, bar.height)]
    for placed in page:
        box = placed.cell.extent
        away = (placed.left - box.left, placed.bottom + lift - box.bottom)
        groups.append(Tagged(shifted(placed.cell.ink, *away), placed.cell.tag))
        spot = placed.extent
        taken.append(Extent(spot.left, spot.bottom + lift, spot.right, spot.top + lift))
    upright = upright_bar(style)
    if (at := _room_beside(taken, size, upright)) is not None:
        groups.insert(1, Tagged(shifted(upright.ink, *at), bar_tag("up")))
    names = [
        style.say("titled part", letter=c.letter, name=c.name, scale=scale_words(c.scale, style))
        for c in (placed.cell for placed in page)
    ]
    title = style.say("title", parts="; ".join(dict.fromkeys(names)))
    letters = tuple(dict.fromkeys(placed.cell.letter for placed in page))
    least = min(placed.cell.scale for placed in page)
    svg = svg_page(size, groups, title, style.typeface)
    return TemplatePage(svg, letters, scale_words(least, style))


def _room_beside(
    taken: list[Extent], size: tuple[float, float], bar: Block
) -> tuple[float, float] | None:
    """Return a free place for the upright bar, as far down and to the right as there is one."""
    for low in range(0, int(size[1] - bar.height) + 1, 4):
        left = size[0] - bar.width
        spot = Extent(left, low, left + bar.width, low + bar.height)
        if not any(spot.meets(other) for other in taken):
            return left, float(low)
    return None
