"""The grain arrow.

In: the direction of the grain.  Out: double-headed arrows with the word on them, long to
short, each a block from the origin.
"""

from patternpress.assembly.shape import Axis
from patternpress.drawing.captions import Block
from patternpress.drawing.dimensions import arrow
from patternpress.drawing.ink import Anchor, Ink, Place, Solid, Stroke, Words, straight
from patternpress.drawing.lettering import figure_width, words
from patternpress.drawing.signs import Sign
from patternpress.drawing.style import DrawingStyle

_HALF = 0.5  # mm that the arrow needs below its line
_OVER = 0.9


def grain_arrows(along: Axis, room: float, style: DrawingStyle) -> tuple[Block, ...]:
    """Return arrows with the word, for an extent of `room` mm along the grain."""
    figure = words(style.say("grain"))
    lettering = style.set_in(style.label)
    least = figure_width(figure, lettering) + 4
    lengths = sorted({max(least, min(45.0, room * 0.5)), max(least, 22.0), least}, reverse=True)
    return tuple(_arrow(along, length, style) for length in lengths if length <= room - 2)


def bare_arrows(along: Axis, room: float, style: DrawingStyle) -> tuple[Block, ...]:
    """Return arrows without the word, for parts that have no room for it; the key explains it."""
    lengths = (min(20.0, room * 0.6), 8.0, 6.0, 4.5)
    return tuple(_bare(along, length, style) for length in lengths if length <= room - 1.2)


def _bare(along: Axis, length: float, style: DrawingStyle) -> Block:
    high = 2 * _HALF
    ends = ((0.0, _HALF), (length, _HALF)) if along is Axis.X else ((_HALF, 0.0), (_HALF, length))
    size = (length, high) if along is Axis.X else (high, length)
    return Block(_double(ends, style), *size)


def loose_arrow(along: Axis, style: DrawingStyle) -> Block:
    """Return an arrow to stand beside a part that cannot hold one."""
    return _arrow(along, 14.0, style)


def _arrow(along: Axis, length: float, style: DrawingStyle) -> Block:
    lettering = style.set_in(style.label)
    figure = words(style.say("grain"))
    deep = _HALF + _OVER + lettering.descent + style.label
    up = _HALF
    over = up + _OVER + lettering.descent * 0.6
    if along is Axis.X:
        ends = (0.0, up), (length, up)
        label = Words(figure, (length / 2, over), lettering, Anchor.MIDDLE)
        size = (length, deep)
    else:
        ends = (deep - up, 0.0), (deep - up, length)
        label = Words(figure, (deep - over, length / 2), lettering, Anchor.MIDDLE, upright=True)
        size = (deep, length)
    return Block((*_double(ends, style), label), *size)


def _double(ends: tuple[Place, Place], style: DrawingStyle) -> tuple[Ink, ...]:
    run = (ends[1][0] - ends[0][0], ends[1][1] - ends[0][1])
    heads = arrow(ends[0], (-run[0], -run[1])), arrow(ends[1], run)
    return (Stroke((straight(*ends),), style.mark, sign=Sign.GRAIN), Solid(heads))
