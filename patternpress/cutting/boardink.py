"""One board drawn at a scale: its pieces with their letters, offcuts with their sizes, its cuts.

In: a `LaidBoard`, its job, a scale.  Out: SVG in mm, and what found no room in it.
"""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from shapely import Polygon

from patternpress.cutting.bareboard import BAR, Drawn, bare_board, box_of, rectangle
from patternpress.cutting.boardscale import plain_scale, told_scale
from patternpress.cutting.cutlines import cut_track, number_cut
from patternpress.cutting.framed import Framed, frame_ink, holds, runs_in
from patternpress.cutting.jobs import Job, Sheet
from patternpress.cutting.laid import LaidBoard, worth_keeping
from patternpress.cutting.outlinepicture import outlines, room_in, tracks
from patternpress.cutting.pointed import point_at
from patternpress.cutting.shortened import BAND, BEFORE_END, TOOTH, Scale, break_lines
from patternpress.cutting.slicing import Area, Line, Spot
from patternpress.drawing.ink import (
    Anchor,
    Extent,
    Solid,
    Stroke,
    Tone,
    Words,
    extent,
    shifted,
    straight,
    words_extent,
)
from patternpress.drawing.lettering import Lettering, figure_width, reach, words
from patternpress.drawing.lines import Pen
from patternpress.drawing.style import DrawingStyle
from patternpress.drawing.svg import svg_page
from patternpress.measure.digits import Display
from patternpress.measure.figures import show_size
from patternpress.measure.pieces import Figure, joined, plain
from patternpress.measure.quantity import Kind, Quantity

MARGIN = 5.0  # mm round the board, for numbers of cuts; over and under it no more than they need
AIR = 0.4  # mm over and under all that is drawn
KEPT = 1.0  # the grey of pieces that are only kept aside
# Their two black corners, mm: dashes along saw lines and the board's edge are not seen in print.
CORNER = 2.5
_OF_SIDE = 0.4  # and no more of a side than this
GAP = 0.6  # mm round letters
_APART = 4.0  # mm between the word for the grain and the numbers of cuts
WITHIN = 1.1  # mm round letters within an outline


@dataclass(frozen=True, slots=True)
class BoardPicture:
    """A picture, and the letters of pieces that it has no room to letter, with their number.

    `shortened`: the offcut at the end is drawn shorter than it is; `scale`: as in 1:4.5, along the
    board, and across it where it is a sheet; `details`: crowded parts drawn again, by
    their letters.
    """

    svg: str
    unlettered: tuple[tuple[str, int], ...]
    shortened: bool = False
    scale: str = ""
    details: tuple[tuple[str, BoardPicture], ...] = ()


@dataclass(frozen=True, slots=True)
class Tried:
    """A picture, how many letters and numbers found no room in it, and how many offcuts' sizes.

    `crowded`: where on the board, in mm, that was.
    """

    missing: int
    unsized: int
    picture: BoardPicture
    scale: Scale
    crowded: tuple[Area, ...]


def drawn_at(
    scale: Scale,
    laid: LaidBoard,
    job: Job,
    display: Display,
    how: tuple[DrawingStyle, Mapping[str, str]],
    framed: Sequence[Framed] = (),
    detail: str = "",
) -> Tried:
    """The board at a scale.  What is `framed` is drawn again: its cuts have their numbers there.

    `detail`: the letter of a part of a board, which has no edge of its own.
    """
    style, says = how
    drawn = Drawn(scale, not job.flat, [], [], [], [], {})
    end = scale.far(float(laid.sheet.along))
    high = BAR if drawn.bar else float(laid.sheet.across) * scale.by
    if not detail:
        bare_board(laid, job, drawn, style)
    unlettered = _pieces(laid, job, drawn, (display, style), framed)
    for spot, rooms in outlines(laid, job, scale.by):
        _outlined(spot, rooms, job, drawn, (display, style))
    if scale.out:
        gap, ink = break_lines(end, high, style.thin)
        drawn.taken.append(gap)
    unsized = _offcuts(laid, job, drawn, (display, style, says))
    missing = sum(drawn.small.values())
    for each in framed:
        frame_ink(each, drawn, style)
    unnumbered = _cuts(laid, drawn, style, (end, high), framed)
    if scale.out:
        drawn.letters[:0] = ink  # over the lines, under what is written
    _point_at_small(laid, job, drawn, style, framed)
    if not detail and job.flat and job.items and any(item.part.grain for item in job.items):
        _grain(drawn, end, style, says)
    letters = ", ".join(dict.fromkeys(job.items[s.item].letter for s in laid.spots))
    if detail:
        title = says["detail"].format(letter=detail, letters=letters)
    else:
        title = says["board"].format(letters=letters, size=_sized(laid.sheet, display))
    inks = [drawn.tones, drawn.lines, drawn.letters]
    box = extent([each for ink in inks for each in ink]).grown(AIR)
    page = (end + 2 * MARGIN, box.height)
    moved = [shifted(ink, MARGIN, -box.bottom) for ink in inks if ink]
    svg = svg_page(page, moved, title, style.typeface)
    small = tuple(drawn.small.items())
    picture = BoardPicture(svg, small, bool(scale.out), told_scale(plain_scale(scale.by)))
    missing += len(unnumbered)
    # Letters that found a place beside their pieces are told.
    crowded = [place for letter, place in unlettered if letter in drawn.small]
    return Tried(missing, unsized, picture, scale, (*crowded, *unnumbered))


def _pieces(
    laid: LaidBoard,
    job: Job,
    drawn: Drawn,
    how: tuple[Display, DrawingStyle],
    framed: Sequence[Framed],
) -> list[tuple[str, Area]]:
    """Draw the pieces that are no outlines; return those that have no room for their letter."""
    unlettered = []
    for spot in laid.spots:
        item = job.items[spot.item]
        if laid.by_shape and item.contour is not None:
            continue
        lettered = _piece(spot, job, drawn, *how)
        if not lettered and not any(holds(each, spot) for each in framed):
            drawn.small[item.letter] = drawn.small.get(item.letter, 0) + 1
            unlettered.append((item.letter, Area(spot.x, spot.y, spot.along, spot.across)))
    return unlettered


def _offcuts(
    laid: LaidBoard,
    job: Job,
    drawn: Drawn,
    how: tuple[Display, DrawingStyle, Mapping[str, str]],
) -> int:
    """Write the offcuts' sizes; return how many have no room for theirs."""
    unsized = 0
    for area in worth_keeping(laid, job):
        told = _offcut(area, drawn, *how)
        unsized += not told
        if told and laid.by_shape:  # no cut shows where it ends
            drawn.lines.append(Stroke((rectangle(box_of(area, drawn)),), Pen(how[1].thin)))
    return unsized


def _cuts(
    laid: LaidBoard,
    drawn: Drawn,
    style: DrawingStyle,
    board: tuple[float, float],
    framed: Sequence[Framed],
) -> list[Area]:
    """Draw the cuts and number them; return where there is no room to, but in frames."""
    crowded = []
    for number, cut in enumerate(laid.cuts, 1):
        if cut.lines:
            tracks = tuple(cut_track(line, drawn) for line in cut.lines)
            drawn.lines.append(Stroke(tracks, Pen(style.thin)))
        numbered = number_cut(str(number), cut.lines, drawn, style, board)
        shown = [x for x in cut.lines if not any(runs_in(each, x) for each in framed)]
        if shown and not numbered:
            crowded.append(_shortest(shown))
    return crowded


def _shortest(lines: Sequence[Line]) -> Area:
    """Where the shortest of some cuts runs."""
    line = min(lines, key=lambda each: abs(each.to_x - each.x) + abs(each.to_y - each.y))
    x, y = min(line.x, line.to_x), min(line.y, line.to_y)
    return Area(x, y, abs(line.to_x - line.x), abs(line.to_y - line.y))


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


def _piece(spot: Spot, job: Job, drawn: Drawn, display: Display, style: DrawingStyle) -> bool:
    """Draw a piece with its letter; whether there was room for it."""
    item = job.items[spot.item]
    box = box_of(spot, drawn)
    drawn.tones.append(Tone((rectangle(box),), KEPT if item.fitted else style.piece))
    drawn.lines.append(Stroke((rectangle(box),), Pen(style.middle)))
    if item.fitted:
        drawn.lines.append(_black_corners(box))
    letter = words(item.letter)
    for height in (style.name, style.label):
        lettering = style.set_in(height, 700)
        if _fits(letter, lettering, box):
            size = size_of(spot.along, spot.across if job.flat else Fraction(0), display)
            _label(letter, lettering, size, box, drawn, style)
            return True
    return False


def _black_corners(box: Extent) -> Solid:
    """The mark of a piece that is kept aside, at its top left and its bottom right."""
    leg = min(CORNER, _OF_SIDE * box.width, _OF_SIDE * box.height)
    left = ((box.left, box.top), (box.left, box.top - leg), (box.left + leg, box.top))
    right = ((box.right, box.bottom), (box.right, box.bottom + leg), (box.right - leg, box.bottom))
    return Solid((straight(*left, closed=True), straight(*right, closed=True)))


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


def _point_at_small(
    laid: LaidBoard, job: Job, drawn: Drawn, style: DrawingStyle, framed: Sequence[Framed]
) -> None:
    """Write the letters that have no room in their pieces beside them.

    They count as missing all the same: a larger picture with the letter on its piece is better.
    """
    if not laid.by_shape and not drawn.bar:
        alone = [each for each in laid.spots if not any(holds(one, each) for one in framed)]
        boxes = [(job.items[spot.item].letter, box_of(spot, drawn)) for spot in alone]
        small = [(letter, box) for letter, box in boxes if not _lettered(letter, box, style)]
        point_at(small, [box_of(spot, drawn) for spot in laid.spots], drawn, style)


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
