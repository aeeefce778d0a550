"""The grain arrow.

In: the direction of the grain.  Out: double-headed arrows with the word on them, long to
short, each a block from the origin.
"""

from patternpress.assembly.shape import Axis
from patternpress.drawing.captions import Block
from patternpress.drawing.dimensions import arrow
from patternpress.drawing.ink import Anchor, Solid, Stroke, Words, straight
from patternpress.drawing.lettering import figure_width, words
from patternpress.drawing.style import DrawingStyle

_HALF = 0.5  # mm that the arrow needs below its line
_OVER = 0.9


def grain_arrows(along: Axis, room: float, style: DrawingStyle) -> tuple[Block, ...]:
    """Return arrows for an extent of `room` mm along the grain."""
    figure = words(style.say("grain"))
    lettering = style.set_in(style.label)
    least = figure_width(figure, lettering) + 4
    lengths = sorted({max(least, min(45.0, room * 0.5)), max(least, 22.0), least}, reverse=True)
    return tuple(_arrow(along, length, style) for length in lengths if length <= room - 2)


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
    run = (ends[1][0] - ends[0][0], ends[1][1] - ends[0][1])
    heads = arrow(ends[0], (-run[0], -run[1])), arrow(ends[1], run)
    return Block((Stroke((straight(*ends),), style.mark), Solid(heads), label), *size)
