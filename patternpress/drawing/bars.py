"""Bars to check the print with.

In: a style.  Out: one rule of 100 mm and 4 in, lying or upright, as a block: millimetre ticks
on one side of a line, inch ticks on the other; and a square.
"""

from patternpress.drawing.captions import Block
from patternpress.drawing.ink import (
    Anchor,
    Ink,
    Stroke,
    Track,
    Words,
    extent,
    shifted,
    straight,
    turned,
)
from patternpress.drawing.lettering import reach, words
from patternpress.drawing.style import DrawingStyle
from patternpress.measure.unitwords import unit_word

MILLIMETRES = 100
INCHES = 4
SQUARE = 20  # mm
INCH = 25.4
_ONE, _HALF, _SMALL = 2.4, 1.7, 1.0  # mm, lengths of ticks
_LEAST = 106.0  # mm, the rule with its last figures
_LOW, _HIGH = 5.6, 6.6  # mm below and above the line


def lying_bar(style: DrawingStyle) -> Block:
    """Return the bar along the foot of a page."""
    ink = _rule(style)
    low = _low(style)
    return Block(shifted(ink, 1.0, low), max(_LEAST, extent(ink).right + 1.5), low + _HIGH)


def check_square(style: DrawingStyle) -> Block:
    """Return a square to hold a rule and a square against, with its size written in it."""
    side = float(SQUARE)
    corners = ((0.0, 0.0), (side, 0.0), (side, side), (0.0, side))
    line = Stroke((straight(*corners, closed=True),), style.mark)
    lettering = style.set_in(style.label)
    at = (side / 2, side / 2 - style.label / 2)
    size = Words(words(f"{SQUARE} {unit_word('mm', style.locale)}"), at, lettering, Anchor.MIDDLE)
    return Block(shifted((line, size), 0.5, 0.5), side + 1.0, side + 1.0)


def upright_bar(style: DrawingStyle) -> Block:
    """Return the bar along a page's side, read from the right."""
    ink = shifted(turned(_rule(style)), _HIGH, 3.0)
    return Block(ink, _low(style) + _HIGH, extent(ink).top + 0.5)


def _low(style: DrawingStyle) -> float:
    """How far the rule reaches below its line: a “po” further than an “in”."""
    below, _ = reach(words(unit_word("in", style.locale)), style.set_in(style.label))
    return _LOW + below


def _rule(style: DrawingStyle) -> tuple[Ink, ...]:
    lettering = style.set_in(style.label)
    base = straight((0.0, 0.0), (INCHES * INCH, 0.0))
    ticks = (*_millimetre_ticks(), *_inch_ticks())
    ink: list[Ink] = [Stroke((base, *ticks), style.mark)]
    whole = f"{MILLIMETRES} {unit_word('mm', style.locale)}"
    for place, text in ((0, "0"), (50, "50"), (MILLIMETRES, whole)):
        ink.append(Words(words(text), (place, _ONE + 0.8), lettering, Anchor.MIDDLE))
    for inch in range(INCHES + 1):
        text = f"{inch} {unit_word('in', style.locale)}" if inch == INCHES else str(inch)
        at = (inch * INCH, -_ONE - 0.7 - style.label)
        ink.append(Words(words(text), at, lettering, Anchor.MIDDLE))
    return tuple(ink)


def _millimetre_ticks() -> list[Track]:
    lengths = {0: _ONE, 5: _HALF}
    return [
        straight((mm, 0.0), (mm, lengths.get(mm % 10, _SMALL))) for mm in range(MILLIMETRES + 1)
    ]


def _inch_ticks() -> list[Track]:
    """Return a tick each sixteenth."""
    lengths = {0: _ONE, 8: _HALF}
    return [
        straight((n * INCH / 16, 0.0), (n * INCH / 16, -lengths.get(n % 16, _SMALL)))
        for n in range(INCHES * 16 + 1)
    ]
