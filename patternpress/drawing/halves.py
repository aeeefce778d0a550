"""Half templates, which are turned over along their centre line.

In: a part whose author asks for half a template.  Out: the half's rectangle, if its two halves
are alike, and the ink of the centre line.
"""

from __future__ import annotations

import shapely

from patternpress.assembly.flattening import flattened
from patternpress.assembly.outlines import bounding_box
from patternpress.assembly.shape import Outline, Shape
from patternpress.assembly.turning import mirrored_shape
from patternpress.drawing.ink import Anchor, Extent, Ink, Stroke, Words, straight
from patternpress.drawing.lettering import figure_width, words
from patternpress.drawing.part import Manner, TemplatePart
from patternpress.drawing.style import DrawingStyle

_ALIKE = 0.01  # mm² of difference for each mm of outline
_PAST = 4.0  # mm that the centre line passes the outline


def half_window(part: TemplatePart, shape: Shape) -> Extent | None:
    """Return the left half of a shape's box if half a template is wanted and tells everything.

    `shape` is the part's shape as drawn.
    """
    if part.manner is not Manner.HALF or not is_symmetrical(part.shape):
        return None
    box = bounding_box(shape.outline)
    middle = float((box.left + box.right) / 2)
    return Extent(float(box.left), float(box.bottom), middle, float(box.top))


def is_symmetrical(shape: Shape) -> bool:
    """Say whether a shape is its own mirror image, left to right, with all that lies on it."""
    other = mirrored_shape(shape)
    if shape.marks or not _same_line(shape.outline, other.outline):
        return False  # a mark has a name, and a name one side
    holes = [(hole.centre, hole.depth, _sizes(hole.outline)) for hole in shape.holes]
    twins = [(hole.centre, hole.depth, _sizes(hole.outline)) for hole in other.holes]
    bands = [(each.low, each.high, each.depth, each.far) for each in shape.grooves]
    others = [(each.low, each.high, each.depth, each.far) for each in other.grooves]
    return all(each in twins for each in holes) and all(each in others for each in bands)


def is_rectangle(outline: Outline) -> bool:
    """Say whether an outline is a plain rectangle."""
    box = bounding_box(outline)
    area = float((box.right - box.left) * (box.top - box.bottom))
    return bool(area - shapely.Polygon(flattened(outline)).area <= _ALIKE)


def _same_line(one: Outline, two: Outline) -> bool:
    first, second = (shapely.Polygon(flattened(each)) for each in (one, two))
    return bool(first.symmetric_difference(second).area <= _ALIKE * first.length)


def _sizes(outline: Outline) -> tuple[object, ...]:
    box = bounding_box(outline)
    return box.right - box.left, box.top - box.bottom


def fold_ink(window: Extent, style: DrawingStyle) -> tuple[Ink, ...]:
    """Return the centre line and, beside it, what to do there."""
    x = window.right
    line = Stroke((straight((x, window.bottom - _PAST), (x, window.top + _PAST)),), style.centre)
    lettering = style.set_in(style.label)
    figure = words(style.say("fold"))
    if figure_width(figure, lettering) > window.height:
        return (line,)
    at = (x + 1.5 + style.label, (window.bottom + window.top) / 2)
    return line, Words(figure, at, lettering, Anchor.MIDDLE, upright=True)
