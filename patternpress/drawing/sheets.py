"""Arrange templates on pages.

In: parts and the live area of a page in mm.  Out: pages, each with one SVG for each template on
it and for its bars, its key and its bands.  What is larger than a page is tiled or reduced.  The
same parts give the same pages.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import count

from patternpress.drawing.arranging import Spot, arranged
from patternpress.drawing.captions import scale_words
from patternpress.drawing.fitting import Forms, Room, Subject, at_full_size, is_tiled, reduced
from patternpress.drawing.foot import Frame, PageFigure, furniture
from patternpress.drawing.halves import half_window
from patternpress.drawing.ink import Extent, Ink, Tagged, Words, extent, shifted, stretched
from patternpress.drawing.key import signs_in
from patternpress.drawing.part import TemplatePart
from patternpress.drawing.signs import Sign
from patternpress.drawing.style import DrawingStyle
from patternpress.drawing.svg import svg_page
from patternpress.drawing.tags import Tag, template_words
from patternpress.drawing.tags import template as template_tag
from patternpress.drawing.template import Cell
from patternpress.drawing.tiles import tile_room, tiled
from patternpress.drawing.tilesheets import TilePage, tile_pages, words_apart
from patternpress.measure.printers import Correction

LIVE_AREA = (Fraction(190), Fraction(240))


@dataclass(frozen=True, slots=True)
class SheetFigure:
    """One drawing on a page: its SVG and where its upper left corner lies, mm from the page's.

    `letter` is its part's, empty for bars and bands.
    """

    svg: str
    left: float
    top: float
    letter: str


@dataclass(frozen=True, slots=True)
class TemplatePage:
    """One page: its drawings, the letters of its parts in order, and its scale in words.

    `scale_words` is "full size", or the warning if the parts on the page are reduced, as `scale`
    says exactly; `sheet` tells which sheet of a tiled template it is.
    """

    figures: tuple[SheetFigure, ...]
    letters: tuple[str, ...]
    scale_words: str
    scale: Fraction = Fraction(1)
    sheet: str = ""


def sheets(
    parts: Sequence[TemplatePart],
    area: tuple[Fraction, Fraction] = LIVE_AREA,
    style: DrawingStyle | None = None,
    correction: Correction | None = None,
) -> tuple[TemplatePage, ...]:
    """Return the pages that hold all templates: full size, then tiled, then reduced.

    A template too wide for the page but not too tall is turned to be read from the right.
    `correction`: everything is stretched for a printer that prints untrue.  Raises ValueError if
    the area has no room for the bars and any template beside them.
    """
    style = style or DrawingStyle()
    frame = _frame(area, style, correction)
    subjects = [Subject(part, style) for part in parts]
    pages = _pages(subjects, frame)
    return tuple(_written(page, frame) for page in pages)


def _frame(
    area: tuple[Fraction, Fraction], style: DrawingStyle, correction: Correction | None
) -> Frame:
    width, height = float(area[0]), float(area[1])
    if correction is None:
        return Frame(width, height, style)
    across, up = (float(factor) for factor in correction.factors)
    said = style.say("band corrected", across=_plain(correction.across), up=_plain(correction.up))
    return Frame(width / max(1.0, across), height / max(1.0, up), style, (said,), correction)


def _plain(length: Fraction) -> str:
    return f"{float(length):g}"


@dataclass(frozen=True, slots=True)
class _Page:
    """A page before it is written: what stands on it, and what its foot and head must tell."""

    figures: tuple[PageFigure, ...]
    letters: tuple[str, ...]
    scale: Fraction
    sheet: str
    signs: frozenset[Sign]
    advice: tuple[Words, ...]
    bands: tuple[str, ...]


def _room(frame: Frame) -> Room:
    return Room(frame.room, (frame.column,))


def _pages(subjects: Sequence[Subject], frame: Frame) -> list[_Page]:
    """Return the pages, each with a foot as high as its key needs: where there is room over it, or
    where the feet of all leave room for the highest.
    """
    for further in count():
        higher = replace(frame, further=further)
        pages = _arranged(subjects, higher)
        feet = [_foot(page, higher) for page in pages]
        footed = [
            _with_furniture(page, foot) for page, foot in zip(pages, feet, strict=True) if foot
        ]
        if len(footed) == len(pages):
            return footed
    raise AssertionError  # `count` does not end


def _foot(page: _Page, frame: Frame) -> Frame | None:
    """Return the frame with a foot that holds the key of a page; None where that takes more than
    what stands on the page leaves free.
    """
    over = [each.spot for each in page.figures if each.spot.left < frame.column.left]
    free = max(frame.foot, min((spot.bottom for spot in over), default=frame.height))
    higher = frame
    while not higher.holds(page.signs):
        higher = replace(higher, further=higher.further + 1)
        if higher.foot > free:
            return None
    return higher


def _arranged(subjects: Sequence[Subject], frame: Frame) -> list[_Page]:
    room = _room(frame)
    cut_down = replace(frame, bands=(frame.style.say("band reduced"), *frame.bands))
    full: list[Forms] = []
    small: list[Forms] = []
    several: list[_Sheet] = []
    for subject in subjects:
        forms = at_full_size(subject, room)
        if forms is not None:
            full += forms
        elif is_tiled(subject.part, room):
            for each in tiled(subject.part, tile_room(room.clear), frame.style):
                several += [_Sheet(page, subject.part.letter) for page in tile_pages(each, frame)]
                full += [(cell,) for cell in words_apart(each, frame)]
        else:
            small += reduced(subject, _room(cut_down))
    # What is not full size gets pages of its own, so that nobody cuts round it.
    return [*_at_full_size(full, several, frame), *_filled(small, (), cut_down)]


def _with_furniture(page: _Page, frame: Frame) -> _Page:
    around = furniture(replace(frame, bands=page.bands), page.signs, page.advice)
    return replace(page, figures=(*page.figures, *around))


@dataclass(frozen=True, slots=True)
class _Sheet:
    """One sheet of a tiled template, and its part's letter."""

    page: TilePage
    letter: str


def _at_full_size(full: Sequence[Forms], several: Sequence[_Sheet], frame: Frame) -> list[_Page]:
    """Return what is full size: small templates stand beside tiles only where that saves pages."""
    apart = [*_filled(full, (), frame), *_filled((), several, frame)]
    together = _filled(full, several, frame)
    return min(apart, together, key=len)


def _filled(things: Sequence[Forms], several: Sequence[_Sheet], frame: Frame) -> list[_Page]:
    room = _room(frame)
    boxes = [[cell.extent for cell in forms] for forms in things]
    started = [[_in_room(figure.spot, frame) for figure in sheet.page.figures] for sheet in several]
    pages = arranged(boxes, room.size, room.taken, started)
    tiles = [*several, *(None for _ in pages[len(several) :])]
    made = [_page(things, page, tile, frame) for page, tile in zip(pages, tiles, strict=True)]
    return [*made[len(several) :], *made[: len(several)]]


def _in_room(spot: Extent, frame: Frame) -> Extent:
    return Extent(spot.left, spot.bottom - frame.foot, spot.right, spot.top - frame.foot)


def _page(
    things: Sequence[Forms], spots: Sequence[Spot], tile: _Sheet | None, frame: Frame
) -> _Page:
    figures: list[PageFigure] = []
    for spot in spots:
        cell = things[spot.index][spot.form]
        where = spot.extent
        place = Extent(where.left, where.bottom + frame.foot, where.right, where.top + frame.foot)
        ink = shifted(cell.ink, place.left - cell.extent.left, place.bottom - cell.extent.bottom)
        title, letter = title_of(cell, frame.style), cell.part.letter
        tagged = (Tagged(ink, _tag(cell)),)
        figures.append(PageFigure((), place, title, letter, tagged))
    shown = [things[spot.index][spot.form] for spot in spots]
    letters = dict.fromkeys(cell.part.letter for cell in shown)
    scale = min((cell.scale for cell in shown), default=Fraction(1))
    sheet = ""
    advice: tuple[Words, ...] = ()
    if tile is not None:
        figures[:0] = tile.page.figures
        letters = {tile.letter: None, **letters}
        scale, sheet, advice = Fraction(1), tile.page.sheet, tile.page.advice
    signs = signs_in(ink for figure in figures for group in figure.tagged for ink in group.ink)
    return _Page(tuple(figures), tuple(letters), scale, sheet, signs, advice, frame.bands)


def _tag(cell: Cell) -> Tag:
    part = cell.part
    hand = part.hand.name.lower() if part.hand else ""
    if cell.words_of:
        return template_words(part.letter, part.name, hand)
    half = half_window(part, part.shape)
    window = (half.left, half.bottom, half.right, half.top) if half else None
    return template_tag(part.letter, part.name, hand, cell.scale, cell.lies, window)


def title_of(cell: Cell, style: DrawingStyle) -> str:
    """Return what a template's drawing is, for those who cannot see it and for the proof."""
    part = cell.part
    hand = style.say(part.hand.value) if part.hand else ""
    if cell.words_of:
        said = {"letter": part.letter, "count": cell.words_of}
        whose = " · ".join(each for each in (part.name, hand) if each)
        return style.say("words title", name=whose, **said)
    key = "handed title" if part.hand else "title"
    scale = scale_words(cell.scale, style)
    return style.say(key, letter=part.letter, name=part.name, scale=scale, hand=hand)


# ------------------------------------------------------------------ writing


def _written(page: _Page, frame: Frame) -> TemplatePage:
    correction = frame.correction
    factors = correction.factors if correction else (Fraction(1), Fraction(1))
    across, up = float(factors[0]), float(factors[1])
    figures = tuple(_svg(each, frame, across, up) for each in page.figures)
    words = scale_words(page.scale, frame.style)
    return TemplatePage(figures, page.letters, words, page.scale, page.sheet)


def _svg(figure: PageFigure, frame: Frame, across: float, up: float) -> SheetFigure:
    """Return one drawing, stretched and with its spot's corner as its origin."""
    spot = figure.spot.grown(0.5)

    def placed(ink: Sequence[Ink]) -> tuple[Ink, ...]:
        return stretched(shifted(ink, -spot.left, -spot.bottom), across, up)

    groups = [Tagged(placed(figure.ink))] if figure.ink else []
    groups += [Tagged(placed(each.ink), each.tag) for each in figure.tagged]
    box = Extent(0.0, 0.0, spot.width * across, spot.height * up)
    left, top = spot.left * across, (frame.height - spot.top) * up
    if min(across, up) < 1:
        box = _all_round(groups, box)
        groups = [Tagged(shifted(each.ink, -box.left, -box.bottom), each.tag) for each in groups]
        left, top = left + box.left, top - (box.top - spot.height * up)
    svg = svg_page((box.width, box.height), groups, figure.title, frame.style.typeface)
    return SheetFigure(svg, left, top, figure.letter)


def _all_round(groups: Sequence[Tagged], box: Extent) -> Extent:
    """Return the box so large that it holds the letters too, which keep their size in any case."""
    ink = extent([ink for each in groups for ink in each.ink])
    return Extent(
        min(box.left, ink.left),
        min(box.bottom, ink.bottom),
        max(box.right, ink.right),
        max(box.top, ink.top),
    )
