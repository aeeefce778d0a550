"""The ink of a bench plan's picture.

In: rows and a time scale.  Out: bands, bars, hours and a key, in mm; the rows begin at 0 and go
down.  Black alone: solid for the hands (an outline where ink is saved), hatched for
drying, so that it prints on any paper.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction

from patternpress.drawing.ink import Anchor, Ink, Solid, Stroke, Tone, Track, Words, straight
from patternpress.drawing.lettering import words
from patternpress.drawing.lines import Pen
from patternpress.drawing.planrows import FEED, TITLE, Row
from patternpress.drawing.plantime import Panel, TimeScale
from patternpress.drawing.style import DrawingStyle

HEAD = 11.0  # mm above the rows, for the names of sittings
FOOT = 6.5  # mm below, for the hours
_BAR = 3.2  # mm, the height of a bar
_THINNEST = 0.7  # mm; the hands are never drawn shorter
_HATCH = 1.2  # mm between two hatching lines
_TICK = 1.4  # mm
_STUB = 2.4  # mm past the edge of a sitting, for what goes on drying
BESIDE = _STUB + 0.8  # mm past the edge, where its time is told
_HALF_HOURS = 0.35  # mm for a minute, from which half hours get ticks
_HAIR = Fraction("0.13")  # mm, under the rows


def bands(
    scale: TimeScale, foot: float, heads: Sequence[tuple[str, str]], style: DrawingStyle
) -> Iterator[Ink]:
    """The sittings as bands: a heavy edge with name and day, thin lines at both sides."""
    for panel, (name_of, day) in zip(scale.panels, heads, strict=True):
        yield Stroke((straight((panel.left, 0.6), (panel.right, 0.6)),), style.cut)
        sides = (straight((x, 0.6), (x, foot)) for x in (panel.left, panel.right))
        yield Stroke(tuple(sides), style.fine)
        bold, plain = style.set_in(style.label, 600), style.set_in(style.label)
        yield Words(words(name_of), (panel.left, 2.2 + FEED), bold)
        yield Words(words(day), (panel.left, 2.2), plain)


def name(row: Row, scale: TimeScale, style: DrawingStyle) -> Iterator[Ink]:
    """A row's number and title, with a hair line under it."""
    first = row.middle + (len(row.lines) - 1) * FEED / 2 - style.label / 2
    lettering = style.set_in(style.label)
    if row.step.number:
        bold = style.set_in(style.label, 600)
        number = words(str(row.step.number))
        yield Words(number, (TITLE - 1.8, first), bold, Anchor.END)
    for index, line in enumerate(row.lines):
        yield Words(words(line), (TITLE, first - index * FEED), lettering)
    yield Stroke((straight((0.0, row.bottom), (scale.right, row.bottom)),), Pen(_HAIR))


def bars(
    row: Row, scale: TimeScale, told: Callable[[Fraction], str], style: DrawingStyle
) -> Iterator[Ink]:
    """What a step does: its waits hatched, then its hands on top, so that none is hidden.

    What dries longer than its sitting lasts is drawn a little past its edge, always alike, and
    its time, as `told` words minutes, stands beside it.
    """
    panels = {each.sitting.number: each for each in scale.panels}
    here = [(work, panels[work.sitting]) for work in row.step.works if work.sitting in panels]
    for work, panel in here:
        start, end = scale.across(work.ends), scale.across(work.dry)
        if work.dry > panel.sitting.ends and work.dry > work.ends:
            end = panel.right + _STUB
            place = (panel.right + BESIDE, row.middle - style.label / 2)
            yield Words(words(told(work.dry - work.ends)), place, style.set_in(style.label))
        if end > start:
            yield from _drying(start, end, row.middle, style)
    for work, _ in here:
        start, end = scale.across(work.starts), scale.across(work.ends)
        yield from _hands(start, max(end, start + _THINNEST), row.middle, style)


def hours(
    scale: TimeScale, foot: float, pauses: Sequence[str], label: str, style: DrawingStyle
) -> Iterator[Ink]:
    """The hours of each sitting, counted from its start, and the length of each gap."""
    lettering = style.set_in(style.label)
    line = foot - FOOT + 1.2
    left = scale.panels[0].left if scale.panels else 0.0
    yield Words(words(label), (left - 2.0, line), lettering, Anchor.END)
    for index, (panel, pause) in enumerate(zip(scale.panels, pauses, strict=True)):
        yield Stroke(tuple(_ticks(panel, scale.minute, foot)), style.mark)
        for hour in range(int((panel.right - panel.left) // (60 * scale.minute)) + 1):
            at = panel.left + hour * 60 * scale.minute
            anchor = Anchor.MIDDLE if hour else Anchor.START
            yield Words(words(str(hour)), (at, line), lettering, anchor)
        if pause:
            following = scale.panels[index + 1].left if index + 1 < len(pauses) else scale.right
            middle = (panel.right + following) / 2
            yield Stroke(tuple(_break(middle, foot)), style.mark)
            yield Words(words(pause), (middle, line), lettering, Anchor.MIDDLE)


def key(labels: tuple[str, str], style: DrawingStyle) -> Iterator[Ink]:
    """What the two kinds of bars mean, above the titles."""
    lettering = style.set_in(style.label)
    upper, lower = 2.2 + FEED, 2.2
    half = style.label / 2
    yield from _hands(TITLE, TITLE + 9.0, upper + half, style)
    yield from _drying(TITLE, TITLE + 9.0, lower + half, style)
    for label, line in zip(labels, (upper, lower), strict=True):
        yield Words(words(label), (TITLE + 11.0, line), lettering)


def _ticks(panel: Panel, minute: float, foot: float) -> Iterator[Track]:
    yield straight((panel.left, foot), (panel.right, foot))
    step = 30 if minute >= _HALF_HOURS else 60
    for moment in range(0, int((panel.right - panel.left) / minute) + 1, step):
        at = panel.left + moment * minute
        length = _TICK if moment % 60 == 0 else _TICK / 2
        yield straight((at, foot), (at, foot - length))


def _break(middle: float, foot: float) -> Iterator[Track]:
    """The mark where the axis breaks off: two slanted strokes."""
    for x in (middle - 0.5, middle + 0.5):
        yield straight((x - 0.4, foot - 1.0), (x + 0.4, foot + 1.0))


def _hands(start: float, end: float, middle: float, style: DrawingStyle) -> Iterator[Ink]:
    box = _box(start, end, middle)
    if not style.hands:
        yield Solid((box,))
        return
    yield Tone((box,), style.hands)
    yield Stroke((box,), Pen(style.middle))


def _drying(start: float, end: float, middle: float, style: DrawingStyle) -> Iterator[Ink]:
    yield Stroke((_box(start, end, middle),), style.fine)
    lines = tuple(_hatching(start, end, middle - _BAR / 2, middle + _BAR / 2))
    if lines:
        yield Stroke(lines, style.fine)


def _box(start: float, end: float, middle: float) -> Track:
    low, high = middle - _BAR / 2, middle + _BAR / 2
    return straight((start, low), (end, low), (end, high), (start, high), closed=True)


def _hatching(left: float, right: float, low: float, high: float) -> Iterator[Track]:
    """Lines at 45 degrees, cut off at the sides of a box; all boxes share one pattern."""
    first, last = (int((side) // _HATCH) for side in (left - high, right - low))
    for index in range(first + 1, last + 1):
        shift = index * _HATCH  # the line x = y + shift
        bottom, top = max(low, left - shift), min(high, right - shift)
        if top - bottom > _HATCH / 4:
            yield straight((bottom + shift, bottom), (top + shift, top))
