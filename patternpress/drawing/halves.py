"""Half templates, which are turned over along their centre line.

In: a part whose author asks for half a template.  Out: the half's rectangle, if its two halves
are alike, and the ink of the centre line.
"""

from __future__ import annotations

from patternpress.assembly.shape import Shape
from patternpress.assembly.symmetry import is_symmetrical
from patternpress.drawing.features import reach_of
from patternpress.drawing.ink import Anchor, Extent, Ink, Stroke, Words, straight
from patternpress.drawing.lettering import figure_width, words
from patternpress.drawing.part import Manner, TemplatePart
from patternpress.drawing.signs import Sign
from patternpress.drawing.style import DrawingStyle

_PAST = 4.0  # mm that the centre line passes the outline


def half_window(part: TemplatePart, shape: Shape) -> Extent | None:
    """Return the left half of a shape's box if half a template is wanted and tells everything.

    `shape` is the part's shape as drawn.
    """
    if part.manner is not Manner.HALF or not is_symmetrical(part.shape):
        return None
    box = reach_of(shape)
    return Extent(box.left, box.bottom, (box.left + box.right) / 2, box.top)


def fold_ink(window: Extent, style: DrawingStyle) -> tuple[Ink, ...]:
    """Return the centre line and, beside it, what to do there."""
    x = window.right
    run = straight((x, window.bottom - _PAST), (x, window.top + _PAST))
    line = Stroke((run,), style.centre, sign=Sign.FOLD)
    lettering = style.set_in(style.label)
    figure = words(style.say("fold"))
    if figure_width(figure, lettering) > window.height:
        figure = words(style.say("key fold"))
    at = (x + 1.5 + style.label, (window.bottom + window.top) / 2)
    return line, Words(figure, at, lettering, Anchor.MIDDLE, upright=True)
