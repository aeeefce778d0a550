"""Dimensions, leaders and arrows, after the habits of ISO 129-1.

In: spans and places on the paper in mm, and the figures to write.  Out: ink.  Text stands
above its line, read from below or from the right; where a span is too short for its text the
text moves beside it, and where it is too short for arrows they point in from outside.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from patternpress.drawing.ink import Anchor, Ink, Place, Solid, Stroke, Track, Words, straight
from patternpress.drawing.lettering import Lettering, figure_width
from patternpress.drawing.signs import Sign
from patternpress.drawing.style import DrawingStyle
from patternpress.measure.pieces import Figure

FIRST = 10.0  # mm from the outline to the first dimension line (teaching rule, ISO 129-1)
_ARROW = 2.2
_SLIM = 0.35  # half the width of an arrowhead
_GAP = 0.8  # between outline and extension line, so that the line to cut stays clear
_PAST = 1.5  # about eight line widths beyond the dimension line
_OVER = 1.1  # from a line up to the text on it
_PITCH = 1.5  # line feed of running figures in heights of a capital
_JOG = 2.0  # mm in which an extension line reaches figures that had to move aside
_TICK, _ORIGIN = 0.8, 0.8  # half a slanted stroke; the ring at the edge measured from
_TAIL = 5.0  # of an arrow that points in from outside
_STUB = 3.0  # of an extension line beyond the far edge


def arrow(tip: Place, towards: Place) -> Track:
    """Return a slim solid head whose tip lies at `tip`, pointing along `towards`."""
    length = math.hypot(*towards)
    x, y = towards[0] / length, towards[1] / length
    back = (tip[0] - x * _ARROW, tip[1] - y * _ARROW)
    one = (back[0] - y * _SLIM, back[1] + x * _SLIM)
    two = (back[0] + y * _SLIM, back[1] - x * _SLIM)
    return straight(tip, one, two, closed=True)


def across(
    span: tuple[float, float], edge: float, figure: Figure, style: DrawingStyle, away: float = FIRST
) -> list[Ink]:
    """Return the dimension of a width below an edge at height `edge`, `away` mm off."""
    (low, high), level = span, edge - away
    lettering = style.set_in(style.label)
    inside, length, fits = _room(high - low, figure, lettering)
    lines = [straight((x, edge - _GAP), (x, level - _PAST)) for x in span]
    right = high + (_TAIL if not inside else 0)
    end = right if fits else high + max(right - high, 1.5) + length
    lines.append(straight((low if inside else low - _TAIL, level), (end, level)))
    heads = _heads((low, level), (high, level), inside)
    if fits:
        words = Words(figure, ((low + high) / 2, level + _OVER), lettering, Anchor.MIDDLE)
    else:
        words = Words(figure, (end, level + _OVER), lettering, Anchor.END)
    return [Stroke(tuple(lines), style.fine), Solid(heads), words]


def upwards(
    span: tuple[float, float], edge: float, figure: Figure, style: DrawingStyle, away: float = FIRST
) -> list[Ink]:
    """Return the dimension of a height to the left of an edge at `edge`, `away` mm off."""
    (low, high), level = span, edge - away
    lettering = style.set_in(style.label)
    inside, _, fits = _room(high - low, figure, lettering)
    tail = 0.0 if inside else _TAIL
    lines = [straight((edge - _GAP, y), (level - _PAST, y)) for y in span]
    lines.append(straight((level, low - tail), (level, high + tail)))
    heads = _heads((level, low), (level, high), inside)
    middle = (low + high) / 2
    if fits:
        at = (level - _OVER, middle)
        words = Words(figure, at, lettering, Anchor.MIDDLE, upright=True, over=_OVER)
    else:
        # Too short to be read from the right: set it level, clear of the arrows' tails.
        place = (level - _PAST - 0.8, middle - style.label / 2)
        words = Words(figure, place, lettering, Anchor.END)
    return [Stroke(tuple(lines), style.fine), Solid(heads), words]


def _room(long: float, figure: Figure, lettering: Lettering) -> tuple[bool, float, bool]:
    """Return whether arrows fit between extension lines, a figure's width, and if it fits too."""
    length = figure_width(figure, lettering)
    return long >= 2 * _ARROW + 1, length, long >= length + 2


@dataclass(frozen=True, slots=True)
class Tick:
    """One place of a running dimension: where it is, where its extension line begins, its words.

    What begins at the far edge of a template that is traced has two short lines that end `outside`
    it, one beyond each edge: one right over the wood would be taken for a line to mark.
    """

    at: float
    start: float
    figure: Figure
    outside: tuple[float, float] | None = None


def running(
    ticks: Sequence[Tick], edge: float, style: DrawingStyle, upright: bool, away: float = FIRST
) -> list[Ink]:
    """Return running dimensions from one edge (ISO 129-1, superimposed running dimensioning).

    The first tick is the edge measured from, marked with a small circle; `edge` is the level of
    the outline's side along which they run: below it, or with `upright` to the left of it.
    """

    def placed(along: float, off: float) -> Place:
        return (off, along) if upright else (along, off)

    level, origin = edge - away, ticks[0].at
    lettering = style.set_in(style.label)
    spread = _spread([tick.at for tick in ticks[1:]], style.label * _PITCH)
    lines = [straight(placed(origin, level), placed(ticks[-1].at, level))]
    lines.append(straight(placed(origin, ticks[0].start - _GAP), placed(origin, level - _PAST)))
    found: list[Ink] = []
    for tick, along in zip(ticks[1:], spread, strict=True):
        knee, foot = level - _PAST, level - _PAST - _JOG
        start = tick.start
        if tick.outside is not None:
            start, far = tick.outside
            stub = (placed(tick.at, far + _GAP), placed(tick.at, far + _GAP + _STUB))
            lines.append(straight(*stub))
        ends = (placed(tick.at, start - _GAP), placed(tick.at, knee), placed(along, foot))
        lines.append(straight(*ends))
        slant = (placed(tick.at - _TICK, level - _TICK), placed(tick.at + _TICK, level + _TICK))
        lines.append(straight(*slant))
        at = placed(along, foot - 0.6)
        down = style.label / 2
        set_at = (at[0], at[1] - down) if upright else (at[0] + down, at[1])
        found.append(Words(tick.figure, set_at, lettering, Anchor.END, upright=not upright))
    return [Stroke(tuple(lines), style.fine), origin_ring(placed(origin, level), style), *found]


def origin_ring(middle: Place, style: DrawingStyle) -> Stroke:
    """Return the ring at the edge that running dimensions are measured from."""
    return Stroke((_ring(middle, _ORIGIN),), style.fine, sign=Sign.ORIGIN)


def _spread(places: Sequence[float], least: float) -> list[float]:
    """Return places in order at least so far apart, moved as little as may be.

    Least squares under an order: neighbours that are too near share their mean.
    """
    groups: list[tuple[float, int]] = []
    for index, place in enumerate(places):
        total, count = place - index * least, 1
        while groups and groups[-1][0] / groups[-1][1] >= total / count:
            before = groups.pop()
            total, count = total + before[0], count + before[1]
        groups.append((total, count))
    means = [total / count for total, count in groups for _ in range(count)]
    return [mean + index * least for index, mean in enumerate(means)]


def _heads(low: Place, high: Place, inside: bool) -> tuple[Track, Track]:
    along = (high[0] - low[0], high[1] - low[1])
    back = (-along[0], -along[1])
    return (
        (arrow(low, back), arrow(high, along)) if inside else (arrow(low, along), arrow(high, back))
    )


def leader(places: tuple[Place, ...], style: DrawingStyle, on_face: bool) -> list[Ink]:
    """Return a leader from words along places to the last: a dot on a face, an arrow on an edge.

    One shorter than an arrow has none: its head would reach into the words.
    """
    *_, before, to = places
    line = Stroke((straight(*places),), style.fine)
    if on_face:
        return [line, Solid((_dot(to),))]
    if len(places) == 2 and math.dist(before, to) < _ARROW:
        return [line]
    return [line, Solid((arrow(to, (to[0] - before[0], to[1] - before[1])),))]


def _dot(middle: Place) -> Track:
    return _ring(middle, 0.45)


def _ring(middle: Place, size: float) -> Track:
    x, y = middle
    corners = [
        (x + size * math.cos(math.radians(a)), y + size * math.sin(math.radians(a)))
        for a in range(0, 360, 30)
    ]
    return straight(*corners, closed=True)
