"""The crowded parts of a board, which are drawn again and larger beside it.

In: a `LaidBoard` and what found no room in its picture.  Out: `Framed`: rectangles of the board,
each with a small letter; the part of the board in one, as a board of its own; the frame as ink.
"""

from __future__ import annotations

import string
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from patternpress.cutting.bareboard import Drawn, box_of, rectangle
from patternpress.cutting.laid import LaidBoard
from patternpress.cutting.slicing import Area, Line, Spot
from patternpress.drawing.ink import Anchor, Extent, Stroke, Tone, Words
from patternpress.drawing.lettering import figure_width, words
from patternpress.drawing.lines import Pen
from patternpress.drawing.style import DrawingStyle

OUT = 0.7  # mm on the paper from what is framed to the frame
_HAIR = Fraction(1, 100)  # mm
_SHARES = (0.5, 0.06, 0.94, 0.25, 0.75)  # of the frame's side: where its letter may stand


@dataclass(frozen=True, slots=True)
class Framed:
    """A part of a board, and the letter that it is called by."""

    letter: str
    area: Area


def frames_round(
    crowded: Iterable[Area],
    laid: LaidBoard,
    apart: Fraction,
    worth: Callable[[Area], bool] = lambda _: True,
) -> tuple[Framed, ...]:
    """Return frames round crowded places, those nearer than `apart` mm in one, from the left.

    A frame holds whole pieces: it grows over those that it would cut.  Only those that are
    `worth` it are lettered and returned.
    """
    found: list[Area] = []
    for each in crowded:
        one = _grown(_beside(each), laid.spots)
        while near := [other for other in found if _meet(one, other, apart)]:
            found = [other for other in found if other not in near]
            one = _grown(_round([one, *near]), laid.spots)
        found.append(one)
    ordered = sorted(filter(worth, found), key=lambda area: (area.x, area.y))
    return tuple(Framed(*each) for each in zip(string.ascii_lowercase, ordered, strict=False))


def holds(framed: Framed, spot: Spot) -> bool:
    """Say whether a piece lies in a frame."""
    return _meet(framed.area, _area(spot), Fraction(0))


def runs_in(framed: Framed, line: Line) -> bool:
    """Say whether a stretch of a cut runs in a frame or along its edge."""
    area = framed.area
    far, up = area.x + area.along, area.y + area.across
    if line.x == line.to_x:
        return area.x <= line.x <= far and max(line.y, area.y) < min(line.to_y, up)
    return area.y <= line.y <= up and max(line.x, area.x) < min(line.to_x, far)


def part_of(laid: LaidBoard, framed: Framed) -> LaidBoard:
    """Return what lies in a frame as a board; its cuts keep their places among all, so that they
    keep their numbers.
    """
    area = framed.area
    spots = tuple(
        replace(each, x=each.x - area.x, y=each.y - area.y)
        for each in laid.spots
        if holds(framed, each)
    )
    cuts = tuple(
        replace(cut, lines=tuple(_clipped(x, area) for x in cut.lines if runs_in(framed, x)))
        for cut in laid.cuts
    )
    sheet = replace(laid.sheet, along=area.along, across=area.across, used=None, defects=())
    return replace(laid, sheet=sheet, spots=spots, cuts=cuts, offcuts=())


def frame_ink(framed: Framed, drawn: Drawn, style: DrawingStyle) -> None:
    """Draw a frame and write its letter over its upper or lower edge, where nothing is written."""
    held = box_of(framed.area, drawn)
    box = held.grown(OUT)
    drawn.lines.append(Stroke((rectangle(box),), Pen(style.thin)))
    lettering = style.set_in(style.name, italic=True)
    figure = words(framed.letter)
    wide, high = figure_width(figure, lettering) + 0.8, lettering.height + 0.6
    spots = [(box.left + share * box.width, y) for y in (box.top, box.bottom) for share in _SHARES]
    boxes = [Extent(x - wide / 2, y - high / 2, x + wide / 2, y + high / 2) for x, y in spots]
    free = [each for each in boxes if not any(each.meets(other) for other in drawn.taken)]
    spot = next(iter(free or boxes))
    low = (spot.bottom + spot.top) / 2 - lettering.height / 2
    drawn.letters.append(Tone((rectangle(spot),), 1.0))
    drawn.letters.append(
        Words(figure, ((spot.left + spot.right) / 2, low), lettering, Anchor.MIDDLE)
    )
    drawn.taken.extend([spot, held])  # what is within is told by the detail


def _beside(area: Area) -> Area:
    """Return a place, or a hair to both sides of a cut, so that it meets the pieces there."""
    if area.along and area.across:
        return area
    x, y = max(area.x - _HAIR, Fraction(0)), max(area.y - _HAIR, Fraction(0))
    return Area(x, y, area.along + 2 * _HAIR, area.across + 2 * _HAIR)


def _area(spot: Spot) -> Area:
    return Area(spot.x, spot.y, spot.along, spot.across)


def _meet(one: Area, other: Area, apart: Fraction) -> bool:
    """Say whether two rectangles share more than an edge, or lie nearer than `apart`."""
    return (
        one.x < other.x + other.along + apart
        and other.x < one.x + one.along + apart
        and one.y < other.y + other.across + apart
        and other.y < one.y + one.across + apart
    )


def _grown(area: Area, spots: Sequence[Spot]) -> Area:
    while True:
        held = [_area(each) for each in spots if _meet(area, _area(each), Fraction(0))]
        larger = _round([area, *held])
        if larger == area:
            return area
        area = larger


def _round(areas: Sequence[Area]) -> Area:
    x, y = min(each.x for each in areas), min(each.y for each in areas)
    along = max(each.x + each.along for each in areas) - x
    return Area(x, y, along, max(each.y + each.across for each in areas) - y)


def _clipped(line: Line, area: Area) -> Line:
    """Return the part of a cut in a rectangle, measured from its corner."""

    def x(value: Fraction) -> Fraction:
        return min(max(value - area.x, Fraction(0)), area.along)

    def y(value: Fraction) -> Fraction:
        return min(max(value - area.y, Fraction(0)), area.across)

    return Line(x(line.x), y(line.y), x(line.to_x), y(line.to_y))
