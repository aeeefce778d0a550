"""The picture of one board: its pieces, offcuts, and where each cut runs.

In: a `LaidBoard` and its job.  Out: SVG in mm, the grain from left to right, and the letters of
pieces too small to be lettered.  Numbers at the cuts are those of the list beside the picture.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from shapely import Polygon

from patternpress.cutting.bareboard import BAR, Drawn, bare_board, box_of, rectangle
from patternpress.cutting.boardscale import plain_scale, told_scale
from patternpress.cutting.cutlines import cut_track, number_cut
from patternpress.cutting.jobs import Job, Sheet
from patternpress.cutting.laid import LaidBoard, worth_keeping
from patternpress.cutting.outlinepicture import outlines, room_in, tracks
from patternpress.cutting.pointed import point_at
from patternpress.cutting.shortened import (
    BAND,
    BEFORE_END,
    TOOTH,
    Scale,
    break_lines,
    shortened,
)
from patternpress.cutting.slicing import Area, Spot
from patternpress.drawing.ink import (
    Anchor,
    Extent,
    Stroke,
    Tone,
    Words,
    extent,
    shifted,
    straight,
    words_extent,
)
from patternpress.drawing.lettering import Lettering, figure_width, reach, words
from patternpress.drawing.lines import Pen, dashed
from patternpress.drawing.style import DrawingStyle
from patternpress.drawing.svg import svg_page
from patternpress.measure.digits import Display
from patternpress.measure.figures import show_size
from patternpress.measure.pieces import Figure, joined, plain
from patternpress.measure.quantity import Kind, Quantity

WIDEST, HIGHEST = 136.0, 78.0  # mm on the paper
LOWER = (36.0, 42.0, 50.0, 58.0, 67.0)  # mm high that are tried before: pages count too
HIGHER = 44.0  # mm that a board may become high where its empty end is shortened
LARGER = (1.0, 1.25, 1.5, 1.75, 2.0, 2.25, 2.5)  # times the largest, for small boards
MARGIN = 5.0  # mm round the board, for numbers of cuts; over and under it no more than they need
AIR = 0.4  # mm over and under all that is drawn
KEPT = 1.0  # the grey of pieces that are only kept aside
GAP = 0.6  # mm round letters
_APART = 4.0  # mm between the word for the grain and the numbers of cuts
WITHIN = 1.1  # mm round letters within an outline

# English.  Other languages hand in a mapping with the same keys.
BOARD_WORDS: Mapping[str, str] = {
    "board": "{letters} on a board of {size}",
    "offcut": "offcut {size}",
    "grain": "grain",
}


@dataclass(frozen=True, slots=True)
class BoardPicture:
    """A picture, and the letters of pieces that it has no room to letter, with their number.

    `shortened`: the offcut at the end is drawn shorter than it is; `scale`: as in 1:4.5, along the
    board, and across it where it is a sheet.
    """

    svg: str
    unlettered: tuple[tuple[str, int], ...]
    shortened: bool = False
    scale: str = ""


@dataclass(frozen=True, slots=True)
class _Tried:
    """A picture, how many letters and numbers found no room in it, and how many offcuts' sizes."""

    missing: int
    unsized: int
    picture: BoardPicture


def board_picture(
    laid: LaidBoard,
    job: Job,
    display: Display,
    style: DrawingStyle,
    says: Mapping[str, str] = BOARD_WORDS,
) -> BoardPicture:
    """Draw the boards of a job at one scale, as small as letters, sizes and numbers have room.

    Where they find none, a board is drawn larger, at most as wide or as high as the page allows;
    then an empty end is shortened and the rest drawn larger.
    """
    *lower, common = (min(_scale(s, job, high) for s in job.sheets) for high in (*LOWER, HIGHEST))
    widest = _scale(laid.sheet, job, HIGHEST)
    sizes = [*lower, *(min(common * times, widest) for times in LARGER)]
    wholes = [float(plain_scale(each)) for each in sizes]
    tried = []
    for by in dict.fromkeys(wholes):
        tried.append(_drawn_at(Scale(by), laid, job, display, (style, says)))
        if not tried[-1].missing and not tried[-1].unsized:
            break
    best = min(tried, key=lambda each: (each.missing, each.unsized))
    if not best.missing:
        return best.picture
    most = HIGHER / float(laid.sheet.across) if job.flat else math.inf
    over = max(worth_keeping(laid, job), key=lambda area: area.x, default=None)
    room = _offcut_room(over, display, style)
    for scale in shortened(laid, wholes[-1], most, room):
        larger = _drawn_at(scale, laid, job, display, (style, says))
        best = min(best, larger, key=lambda each: each.missing)
        if not best.missing:
            break
    return best.picture


def _drawn_at(
    scale: Scale,
    laid: LaidBoard,
    job: Job,
    display: Display,
    how: tuple[DrawingStyle, Mapping[str, str]],
) -> _Tried:
    """The board at a scale."""
    style, says = how
    drawn = Drawn(scale, not job.flat, [], [], [], [], {})
    end = scale.far(float(laid.sheet.along))
    high = BAR if drawn.bar else float(laid.sheet.across) * scale.by
    bare_board(laid, job, drawn, style)
    for spot in laid.spots:
        if not laid.by_shape or job.items[spot.item].contour is None:
            _piece(spot, job, drawn, display, style)
    for spot, rooms in outlines(laid, job, scale.by):
        _outlined(spot, rooms, job, drawn, (display, style))
    if scale.out:
        gap, ink = break_lines(end, high, style.thin)
        drawn.taken.append(gap)
    unsized = 0
    for area in worth_keeping(laid, job):
        told = _offcut(area, drawn, display, style, says)
        unsized += not told
        if told and laid.by_shape:  # no cut shows where it ends
            drawn.lines.append(Stroke((rectangle(box_of(area, drawn)),), Pen(style.thin)))
    missing = sum(drawn.small.values())
    for number, cut in enumerate(laid.cuts, 1):
        drawn.lines.append(
            Stroke(tuple(cut_track(line, drawn) for line in cut.lines), Pen(style.thin))
        )
        missing += not number_cut(str(number), cut.lines, drawn, style, (end, high))
    if scale.out:
        drawn.letters[:0] = ink  # over the lines, under what is written
    _point_at_small(laid, job, drawn, style)
    if job.flat and job.items and any(item.part.grain for item in job.items):
        _grain(drawn, end, style, says)
    letters = ", ".join(dict.fromkeys(job.items[s.item].letter for s in laid.spots))
    title = says["board"].format(letters=letters, size=_sized(laid.sheet, display))
    inks = [drawn.tones, drawn.lines, drawn.letters]
    box = extent([each for ink in inks for each in ink]).grown(AIR)
    page = (end + 2 * MARGIN, box.height)
    moved = [shifted(ink, MARGIN, -box.bottom) for ink in inks if ink]
    svg = svg_page(page, moved, title, style.typeface)
    small = tuple(drawn.small.items())
    picture = BoardPicture(svg, small, bool(scale.out), told_scale(plain_scale(scale.by)))
    return _Tried(missing, unsized, picture)


def _offcut_room(area: Area | None, display: Display, style: DrawingStyle) -> float:
    """How long an empty end is drawn at least: its size and the break lines have room, in mm."""
    least = BAND + BEFORE_END + 2 * TOOTH
    if area is None:
        return least
    size = size_of(area.along, area.across, display)
    return figure_width(size, style.set_in(style.label, italic=True)) + least + 3 * GAP


def _scale(sheet: Sheet, job: Job, high: float) -> float:
    scale = WIDEST / float(sheet.along)
    return min(scale, high / float(sheet.across)) if job.flat else scale


def _sized(sheet: Sheet, display: Display) -> str:
    return plain(sold_size(sheet, display))


def sold_size(sheet: Sheet, display: Display) -> Figure:
    """A sheet as shops name it: width and length; the length alone on a strip."""
    if not sheet.across:
        return size_of(sheet.along, sheet.across, display)
    return size_of(sheet.across, sheet.along, display)


def size_of(along: Fraction, across: Fraction, display: Display) -> Figure:
    """Length and width as printed; the length alone on a strip."""
    sizes = [along, across] if across else [along]
    return show_size([Quantity(each, Kind.LENGTH) for each in sizes], display)


def _piece(spot: Spot, job: Job, drawn: Drawn, display: Display, style: DrawingStyle) -> None:
    item = job.items[spot.item]
    box = box_of(spot, drawn)
    drawn.tones.append(Tone((rectangle(box),), KEPT if item.fitted else style.piece))
    pen = dashed(style.middle) if item.fitted else Pen(style.middle)
    drawn.lines.append(Stroke((rectangle(box),), pen))
    letter = words(item.letter)
    for height in (style.name, style.label):
        lettering = style.set_in(height, 700)
        if _fits(letter, lettering, box):
            size = size_of(spot.along, spot.across if job.flat else Fraction(0), display)
            _label(letter, lettering, size, box, drawn, style)
            return
    drawn.small[item.letter] = drawn.small.get(item.letter, 0) + 1


def _outlined(
    spot: Spot, rooms: Sequence[Polygon], job: Job, drawn: Drawn, how: tuple[Display, DrawingStyle]
) -> None:
    """A piece as its outline; its letter in it, or in an opening where nothing lies."""
    display, style = how
    drawn.tones.append(Tone(tracks(rooms[0]), style.piece))
    drawn.lines.append(Stroke(tracks(rooms[0]), Pen(style.middle)))
    item = job.items[spot.item]
    letter, size = words(item.letter), size_of(spot.along, spot.across, display)
    small = style.set_in(style.label)
    line = figure_width(size, small)
    for room, height in itertools.product(rooms, (style.name, style.label)):
        lettering = style.set_in(height, 700)
        wide = figure_width(letter, lettering)
        pair = lettering.height + 1.2 + small.height + small.descent
        tries = [(max(wide, line), pair), (wide + 1.5 + line, lettering.height)]
        for across, up in (*tries, (wide, lettering.height)):
            box = room_in(room, across + 2 * WITHIN, up + 2 * WITHIN)
            if box is not None:
                _label(letter, lettering, size, box, drawn, style)
                return
    drawn.small[item.letter] = drawn.small.get(item.letter, 0) + 1


def _point_at_small(laid: LaidBoard, job: Job, drawn: Drawn, style: DrawingStyle) -> None:
    """Write the letters that have no room in their pieces beside them.

    They count as missing all the same: a larger picture with the letter on its piece is better.
    """
    if not laid.by_shape and not drawn.bar:
        boxes = [(job.items[spot.item].letter, box_of(spot, drawn)) for spot in laid.spots]
        small = [(letter, box) for letter, box in boxes if not _lettered(letter, box, style)]
        point_at(small, [box for _, box in boxes], drawn, style)


def _lettered(letter: str, box: Extent, style: DrawingStyle) -> bool:
    """Whether a piece has room for its letter."""
    return any(
        _fits(words(letter), style.set_in(height, 700), box) for height in (style.name, style.label)
    )


def _fits(figure: Figure, lettering: Lettering, box: Extent) -> bool:
    wide = figure_width(figure, lettering)
    # In the middle of its height, so what reaches below the line needs as much above it.
    high = lettering.height + 2 * max(reach(figure, lettering))
    return wide + 2 * GAP <= box.width and high + 2 * GAP <= box.height


def _label(
    letter: Figure,
    lettering: Lettering,
    size: Figure,
    box: Extent,
    drawn: Drawn,
    style: DrawingStyle,
) -> None:
    """The letter in the middle, with the size under or beside it where there is room."""
    middle = (box.left + box.right) / 2
    small = style.set_in(style.label)
    pair = lettering.height + 1.2 + small.height + small.descent
    line = figure_width(size, small)
    up = (box.bottom + box.top) / 2
    if pair + 2 * GAP <= box.height and line + 2 * GAP <= box.width:
        low = up - pair / 2 + small.descent
        _write(Words(size, (middle, low), small, Anchor.MIDDLE), drawn)
        _write(Words(letter, (middle, low + small.height + 1.2), lettering, Anchor.MIDDLE), drawn)
        return
    wide = figure_width(letter, lettering) + 1.5 + line
    low = up - lettering.height / 2
    if wide + 2 * GAP <= box.width:
        start = middle - wide / 2
        _write(Words(letter, (start, low), lettering), drawn)
        _write(Words(size, (start + wide, low), small, Anchor.END), drawn)
        return
    _write(Words(letter, (middle, low), lettering, Anchor.MIDDLE), drawn)


def _write(text: Words, drawn: Drawn) -> None:
    drawn.letters.append(text)
    drawn.taken.append(words_extent(text).grown(0.3))


def _offcut(
    area: Area, drawn: Drawn, display: Display, style: DrawingStyle, says: Mapping[str, str]
) -> bool:
    """Write an offcut's size into it; whether there was room."""
    box = box_of(area, drawn)
    lettering = style.set_in(style.label, italic=True)
    if drawn.scale.out and box.right > drawn.scale.far(drawn.scale.empty):
        box = replace(box, right=box.right - BAND - BEFORE_END - TOOTH)
    shown = size_of(area.along, area.across, display)
    for figure in (_offcut_words(area, display, says), shown):
        if _fits(figure, lettering, box):
            low = (box.bottom + box.top) / 2 - lettering.height / 2
            middle = (box.left + box.right) / 2
            _write(Words(figure, (middle, low), lettering, Anchor.MIDDLE), drawn)
            return True
    return False


def _offcut_words(area: Area, display: Display, says: Mapping[str, str]) -> Figure:
    before, _, after = says["offcut"].partition("{size}")
    return joined(before, size_of(area.along, area.across, display), after)


def _clear_under(drawn: Drawn, wide: float, end: float) -> Extent | None:
    """Room under the board, as far to the left as there is; None where there is none.

    Apart from the numbers of cuts, or “4 grain” is read as one; close to them if need be.
    """
    for air in (_APART, 0.0):
        box = Extent(0.0, -MARGIN, wide, -0.6)
        while box.right <= end:
            aired = replace(box, left=box.left - air, right=box.right + air)
            if not any(aired.meets(other) for other in drawn.taken):
                return box
            box = replace(box, left=box.left + 2.0, right=box.right + 2.0)
    return None


def _grain(drawn: Drawn, end: float, style: DrawingStyle, says: Mapping[str, str]) -> None:
    """An arrow under the board, at its left or else as near to it as there is room."""
    lettering = style.set_in(style.label)
    figure = words(says["grain"])
    wide = figure_width(figure, lettering)
    low = -MARGIN + lettering.descent + 0.3
    box = _clear_under(drawn, wide + 14.0, end)
    if box is None:
        return
    drawn.letters.append(Words(figure, (box.left, low), lettering))
    up = low + lettering.height / 2
    left, right = box.left + wide + 1.5, box.right - 1.0
    heads = [
        straight((left + 1.4, up + 0.6), (left, up), (left + 1.4, up - 0.6)),
        straight((right - 1.4, up + 0.6), (right, up), (right - 1.4, up - 0.6)),
    ]
    shaft = straight((left, up), (right, up))
    drawn.lines.append(Stroke((shaft, *heads), Pen(style.thin)))
