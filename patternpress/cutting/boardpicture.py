"""The picture of one board: its pieces, offcuts, and where each cut runs.

In: a `LaidBoard` and its job.  Out: SVG in mm, the grain from left to right, at a scale at which
what is written has room; what is crowded is drawn again, larger.  Numbers at the cuts are those of
the list beside the picture.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Mapping
from dataclasses import replace
from fractions import Fraction

from patternpress.cutting.boardink import GAP, BoardPicture, Tried, drawn_at, size_of
from patternpress.cutting.boardscale import plain_scale
from patternpress.cutting.framed import frames_round, part_of
from patternpress.cutting.jobs import Job, Sheet
from patternpress.cutting.laid import LaidBoard, worth_keeping
from patternpress.cutting.shortened import BAND, BEFORE_END, TOOTH, Scale, shortened
from patternpress.cutting.slicing import Area
from patternpress.drawing.lettering import figure_width
from patternpress.drawing.style import DrawingStyle
from patternpress.measure.digits import Display

WIDEST, HIGHEST = 136.0, 78.0  # mm on the paper
LOWER = (36.0, 42.0, 50.0, 58.0, 67.0)  # mm high that are tried before: pages count too
HIGHER = 44.0  # mm that a board may become high where its empty end is shortened
LARGER = (1.0, 1.25, 1.5, 1.75, 2.0, 2.25, 2.5)  # times the largest, for small boards
LARGEST = 60.0  # mm that a detail may become high
DETAIL = (1.3, 1.6, 2.0, 2.5, 3.0, 4.0, 6.0, 9.0)  # times as large as the board
NEAR = 8.0  # mm on the paper: crowded parts that lie nearer are one detail

# English.  Other languages hand in a mapping with the same keys.
BOARD_WORDS: Mapping[str, str] = {
    "board": "{letters} on a board of {size}",
    "detail": "detail {letter}: {letters}",
    "offcut": "offcut {size}",
    "grain": "grain",
}


def board_picture(
    laid: LaidBoard,
    job: Job,
    display: Display,
    style: DrawingStyle,
    says: Mapping[str, str] = BOARD_WORDS,
) -> BoardPicture:
    """Draw the boards of a job at one scale, as small as letters, sizes and numbers have room.

    Where they find none, a board is drawn larger, at most as wide or as high as the page allows;
    then an empty end is shortened and the rest drawn larger; what is still crowded is drawn again.
    """
    *lower, common = (min(_scale(s, job, high) for s in job.sheets) for high in (*LOWER, HIGHEST))
    widest = _scale(laid.sheet, job, HIGHEST)
    sizes = [*lower, *(min(common * times, widest) for times in LARGER)]
    wholes = [float(plain_scale(each)) for each in sizes]
    tried = []
    for by in dict.fromkeys(wholes):
        tried.append(drawn_at(Scale(by), laid, job, display, (style, says)))
        if not tried[-1].missing and not tried[-1].unsized:
            break
    best = min(tried, key=lambda each: (each.missing, each.unsized))
    if not best.missing:
        return best.picture
    most = HIGHER / float(laid.sheet.across) if job.flat else math.inf
    over = max(worth_keeping(laid, job), key=lambda area: area.x, default=None)
    room = _offcut_room(over, display, style)
    for scale in shortened(laid, wholes[-1], most, room):
        larger = drawn_at(scale, laid, job, display, (style, says))
        best = min(best, larger, key=lambda each: each.missing)
        if not best.missing:
            break
    # One number alone is not worth a picture.
    alone = len(best.crowded) == 1 and not best.picture.unlettered
    if not job.flat or laid.by_shape or alone:
        return best.picture
    return _with_details(best, laid, job, display, (style, says))


def _with_details(
    whole: Tried,
    laid: LaidBoard,
    job: Job,
    display: Display,
    how: tuple[DrawingStyle, Mapping[str, str]],
) -> BoardPicture:
    """The board with its crowded parts framed, and these drawn again so much larger that letters
    and numbers have room.
    """
    by = whole.scale.by
    apart = Fraction(NEAR / by).limit_denominator(1000)
    frames = frames_round(whole.crowded, laid, apart, lambda area: _fitting(area) >= by * DETAIL[0])
    if not frames:
        return whole.picture
    drawn = drawn_at(whole.scale, laid, job, display, how, frames).picture
    small = Counter(dict(drawn.unlettered))
    details = []
    for each in frames:
        part = part_of(laid, each)
        sizes = [min(by * times, _fitting(each.area)) for times in DETAIL]
        tried: list[Tried] = []
        for by_size in dict.fromkeys(float(plain_scale(size)) for size in sizes):
            tried.append(drawn_at(Scale(by_size), part, job, display, how, detail=each.letter))
            if not tried[-1].missing:
                break
        best = min(tried, key=lambda one: one.missing)
        small.update(dict(best.picture.unlettered))
        details.append((each.letter, best.picture))
    return replace(drawn, unlettered=tuple(small.items()), details=tuple(details))


def _fitting(area: Area) -> float:
    """The largest scale that a detail may have."""
    return min(WIDEST / float(area.along), LARGEST / float(area.across))


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
