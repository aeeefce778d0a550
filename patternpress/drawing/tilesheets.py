"""The pages of a tiled template.

In: a `Tiled` template and the frame of a page.  Out: for each sheet its figures: the tile under a
head line, a small map of how the sheets lie, and what every page of templates carries.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from patternpress.drawing.captions import scale_words
from patternpress.drawing.foot import Frame, PageFigure
from patternpress.drawing.halves import half_window
from patternpress.drawing.ink import (
    Anchor,
    Extent,
    Ink,
    Stroke,
    Tagged,
    Tone,
    Words,
    extent,
    shifted,
    straight,
    turned,
)
from patternpress.drawing.lettering import broken, figure_width, words
from patternpress.drawing.seamplaces import OVERLAP
from patternpress.drawing.style import DrawingStyle
from patternpress.drawing.tags import diagonal as diagonal_tag
from patternpress.drawing.tags import said, sheet_map
from patternpress.drawing.tags import template as template_tag
from patternpress.drawing.template import Cell
from patternpress.drawing.tiles import HEAD, Tile, Tiled
from patternpress.drawing.tilewords import INDENT, cells_of_words, on_sheet, words_of

_GREY = 0.78
_MAP_UNDER = 8.0  # mm from the upright bar to the map over it
_MAP_HIGH = 70.0
_LINE_UP = 3.4  # mm from line to line of a head that needs two


@dataclass(frozen=True, slots=True)
class TilePage:
    """One page: its figures, which sheet of how many it is in words, and its advice.

    The bars and the key are left to whoever knows what else stands on the page.
    """

    figures: tuple[PageFigure, ...]
    sheet: str
    advice: tuple[Words, ...]


def tile_pages(tiled: Tiled, frame: Frame) -> Iterator[TilePage]:
    """Yield the pages of a tiled template in the order of reading."""
    style = frame.style
    count = len(tiled.tiles)
    for number, tile in enumerate(tiled.tiles, 1):
        sheet = style.say("sheet", letter=tiled.part.letter, number=number, count=count)
        map_ = _map(tiled, number, sheet, frame)
        further = _beside(tiled, number, frame) or ()
        figures = (_drawing(tiled, tile, (sheet, number), frame, further), map_)
        yield TilePage(figures, sheet, tuple(_advice(tiled, style)))


def words_apart(tiled: Tiled, frame: Frame) -> Iterator[Cell]:
    """Yield cells of the words that have no room on the template, nor beside their sheet."""
    apart = tuple(
        block
        for number in range(1, len(tiled.tiles) + 1)
        if _beside(tiled, number, frame) is None
        for block in words_of(tiled, number)[-1]
    )
    if apart:
        yield from cells_of_words(tiled, apart, frame)


def _beside(tiled: Tiled, number: int, frame: Frame) -> tuple[Ink, ...] | None:
    """Return the words of a sheet where they have room on its page."""
    column = Extent(frame.column.left, 0.0, frame.width, _map(tiled, 1, "", frame).spot.top)
    size = _size(tiled, tiled.tiles[number - 1])
    return on_sheet(words_of(tiled, number), size, frame, (column,))


def _advice(tiled: Tiled, style: DrawingStyle) -> list[Words]:
    lettering = style.set_in(style.label)
    *lines, _ = style.say("check joined").split("|")
    found = [Words(words(line), (0.0, 0.0), lettering) for line in lines]
    tag = diagonal_tag(tiled.part.letter, _hand(tiled))
    return [*found, Words(tiled.diagonal, (0.0, 0.0), lettering, tag=tag)]


def _hand(tiled: Tiled) -> str:
    return tiled.part.hand.name.lower() if tiled.part.hand else ""


def _size(tiled: Tiled, tile: Tile) -> tuple[float, float]:
    """Return how wide and high a sheet is as it lies on the page."""
    window = tile.window
    return (window.height, window.width) if tiled.lies else (window.width, window.height)


def _drawing(
    tiled: Tiled, tile: Tile, which: tuple[str, int], frame: Frame, further: Sequence[Ink]
) -> PageFigure:
    """Return a sheet under its head line, at the top left of the page, and `further` words."""
    style, (sheet, number) = frame.style, which
    low, size = tile.window, _size(tiled, tile)
    ink = shifted(tile.ink, -low.left, -low.bottom)
    if tiled.lies:
        ink = shifted(turned(ink), size[0], 0.0)
    ceiling = frame.height - frame.head - HEAD
    placed = list(shifted(ink, 0.0, ceiling - size[1]))
    placed += _head(tiled, sheet, ceiling + 2.5, frame)
    bottom = ceiling - size[1]
    if further:
        placed += further
        bottom = min(bottom, extent(further).bottom)
    box = extent(placed)
    spot = Extent(0.0, bottom, max(size[0], box.right), ceiling + HEAD - 1.0)
    part = tiled.part
    # Of a half template nothing is drawn beyond its centre line.
    half = half_window(part, part.shape)
    right = min(low.right, half.right) if half else low.right
    window = (low.left, low.bottom, right, low.top)
    of = (number, len(tiled.tiles))
    tag = template_tag(part.letter, part.name, _hand(tiled), Fraction(1), tiled.lies, window, of)
    title = _title(tiled, tile, sheet, style)
    return PageFigure((), spot, title, part.letter, (Tagged(tuple(placed), tag),))


def _head(tiled: Tiled, sheet: str, base: float, frame: Frame) -> list[Ink]:
    """Return the line over a sheet; a very long one in smaller letters, in two where it must."""
    part, style = tiled.part, frame.style
    letter = Words(words(part.letter), (0.0, base), style.set_in(5.0, 700))
    whose = " · ".join([part.name, *([style.say(part.hand.value)] if part.hand else [])]) + " ·"
    room = frame.width - INDENT
    lettering = style.set_in(style.name, 600)
    if figure_width(words(f"{whose} {sheet}"), lettering) > room:
        lettering = style.set_in(style.label, 600)
    long = figure_width(words(f" {sheet}"), lettering)
    *over, last = broken(whose, lettering, room - long)
    found: list[Ink] = [letter]
    for number, line in enumerate(reversed(over), 1):
        found.append(Words(words(line), (INDENT, base + number * _LINE_UP), lettering))
    before = words(f"{last} ")
    at = (INDENT + figure_width(before, lettering), base)
    return [
        *found,
        Words(before, (INDENT, base), lettering),
        Words(words(sheet), at, lettering, tag=said("sheet")),
    ]


def _title(tiled: Tiled, tile: Tile, sheet: str, style: DrawingStyle) -> str:
    part = tiled.part
    low = tile.window
    places = {
        "left": low.left,
        "right": low.right,
        "bottom": low.bottom,
        "top": low.top,
    }
    return style.say(
        "tile title",
        letter=part.letter,
        name=part.name,
        hand=f", {style.say(part.hand.value)}" if part.hand else "",
        scale=scale_words(Fraction(1), style),
        sheet=sheet,
        turned=style.say("turned") if tiled.lies else "",
        **{key: f"{value:.3f}".rstrip("0").rstrip(".") for key, value in places.items()},
    )


def _map(tiled: Tiled, number: int, sheet: str, frame: Frame) -> PageFigure:
    """Return the map over the upright bar: all sheets with their numbers, this one grey."""
    style, column, whole = frame.style, frame.column, tiled.whole
    size = (whole.height, whole.width) if tiled.lies else (whole.width, whole.height)
    scale = min((column.width - 0.5) / size[0], _MAP_HIGH / size[1])
    ink: list[Ink] = []
    lettering = style.set_in(style.label, 600)
    for index, tile in enumerate(tiled.tiles, 1):
        box = _on_map(tile, tiled, scale)
        frame_line = straight(*box.corners, closed=True)
        if index == number:
            ink.insert(0, Tone((frame_line,), _GREY))
        ink.append(Stroke((frame_line,), style.fine))
        if not tiled.lies:
            middle = ((box.left + box.right) / 2, (box.bottom + box.top - style.label) / 2)
            ink.append(Words(words(str(index)), middle, lettering, Anchor.MIDDLE))
        else:
            middle = ((box.left + box.right - style.label) / 2, (box.bottom + box.top) / 2)
            at = (middle[0] + style.label, middle[1])
            ink.append(Words(words(str(index)), at, lettering, Anchor.MIDDLE, upright=True))
    drawn = turned(ink) if tiled.lies else tuple(ink)
    box = extent(drawn)
    left = column.left + (column.width - box.width) / 2 - box.left
    placed = shifted(drawn, left, column.top + frame.foot + _MAP_UNDER - box.bottom)
    title = style.say("map title", letter=tiled.part.letter, sheet=sheet)
    tag = sheet_map(tiled.part.letter, _hand(tiled), (number, len(tiled.tiles)))
    return PageFigure((), extent(placed), title, tagged=(Tagged(placed, tag),))


def _on_map(tile: Tile, tiled: Tiled, scale: float) -> Extent:
    """Return a sheet's rectangle on the map, without what it shares with its neighbours."""
    whole = tiled.whole
    window, half = tile.window, OVERLAP / 2
    left = window.left + (half if tile.column else 0.0)
    right = window.right - (half if tile.column < tiled.columns - 1 else 0.0)
    top = window.top - (half if tile.row else 0.0)
    bottom = window.bottom + (half if tile.row < tiled.rows - 1 else 0.0)
    x, y = whole.left, whole.bottom
    return Extent(*(each * scale for each in (left - x, bottom - y, right - x, top - y)))
