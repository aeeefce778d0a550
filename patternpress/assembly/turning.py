"""Turn outlines and shapes over, and scale them.

In: an Outline or a Shape.  Out: its mirror image or its copy at a scale, exact.
"""

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from patternpress.assembly.outlines import legs
from patternpress.assembly.shape import (
    Arc,
    Axis,
    Curve,
    Groove,
    Line,
    Mark,
    MarkLine,
    Outline,
    Point,
    Segment,
    Shape,
    View,
)

_OTHER_HAND = {View.RIGHT: View.LEFT, View.LEFT: View.RIGHT}
_BEHIND = {View.FRONT: View.BACK, View.ABOVE: View.BELOW, **_OTHER_HAND}


def reversed_outline(outline: Outline) -> Outline:
    """Return the same line, closed or open, walked the other way."""
    back: list[Segment] = []
    for start, segment in legs(outline):
        if isinstance(segment, Arc):
            back.append(Arc(start, segment.centre, not segment.anticlockwise))
        elif isinstance(segment, Curve):
            back.append(Curve(start, segment.control2, segment.control1))
        else:
            back.append(Line(start))
    return Outline(outline.segments[-1].to, tuple(reversed(back)))


def moved(outline: Outline, place: Callable[[Point], Point], turned_over: bool = False) -> Outline:
    """Return the outline with every point put through `place`.

    `place` must keep circles round; say `turned_over` if it changes left turns into right.
    """
    segments: list[Segment] = []
    for segment in outline.segments:
        to = place(segment.to)
        if isinstance(segment, Arc):
            segments.append(Arc(to, place(segment.centre), segment.anticlockwise != turned_over))
        elif isinstance(segment, Curve):
            segments.append(Curve(to, place(segment.control1), place(segment.control2)))
        else:
            segments.append(Line(to))
    return Outline(place(outline.start), tuple(segments))


def mirrored(outline: Outline, middle: Fraction, across: Axis = Axis.X) -> Outline:
    """Return the mirror image about x = `middle` (or y, across Y), walked the same way round."""

    def place(point: Point) -> Point:
        if across is Axis.X:
            return Point(2 * middle - point.x, point.y)
        return Point(point.x, 2 * middle - point.y)

    return reversed_outline(moved(outline, place, turned_over=True))


def mirrored_shape(shape: Shape) -> Shape:
    """Return the other hand of a shape, as one sees it with the same work face up.

    A template seen from the right becomes one seen from the left: the twin's work lies on
    its other face.
    """
    middle = shape.width / 2

    def flip(point: Point) -> Point:
        return Point(shape.width - point.x, point.y)

    return replace(
        shape,
        view=_OTHER_HAND.get(shape.view, shape.view),
        outline=mirrored(shape.outline, middle),
        holes=tuple(
            replace(hole, outline=mirrored(hole.outline, middle), centre=flip(hole.centre))
            for hole in shape.holes
        ),
        grooves=tuple(_mirrored_groove(groove, flip) for groove in shape.grooves),
        marks=tuple(_placed_mark(mark, flip) for mark in shape.marks),
        far_edges=tuple((flip(one), flip(two)) for one, two in shape.far_edges),
    )


def seen_from_behind(shape: Shape) -> Shape:
    """Return a shape turned over, its far face up; as it is if it is turned already."""
    if shape.view not in _BEHIND:
        return shape
    turned = mirrored_shape(shape)
    return replace(
        turned,
        view=_BEHIND[shape.view],
        holes=tuple(replace(h, far=h.depth is not None and not h.far) for h in turned.holes),
        grooves=tuple(replace(each, far=not each.far) for each in turned.grooves),
        marks=tuple(replace(each, far=not each.far) for each in turned.marks),
    )


def _mirrored_groove(groove: Groove, flip: Callable[[Point], Point]) -> Groove:
    one, two = flip(groove.low), flip(groove.high)
    swapped = replace(groove, low=Point(two.x, one.y), high=Point(one.x, two.y))
    if groove.along is Axis.X:
        return replace(swapped, open_low=groove.open_high, open_high=groove.open_low)
    return swapped


def _placed_mark(mark: Mark, place: Callable[[Point], Point]) -> Mark:
    if isinstance(mark, MarkLine):
        return replace(mark, start=place(mark.start), to=place(mark.to))
    return replace(mark, at=place(mark.at))


def scaled_shape(shape: Shape, scale: Fraction) -> Shape:
    """Return the shape drawn at `scale`; depths are not drawn and stay true."""
    if scale == 1:
        return shape

    def place(point: Point) -> Point:
        return Point(point.x * scale, point.y * scale)

    return replace(
        shape,
        width=shape.width * scale,
        height=shape.height * scale,
        outline=moved(shape.outline, place),
        holes=tuple(
            replace(hole, outline=moved(hole.outline, place), centre=place(hole.centre))
            for hole in shape.holes
        ),
        grooves=tuple(replace(g, low=place(g.low), high=place(g.high)) for g in shape.grooves),
        marks=tuple(_placed_mark(mark, place) for mark in shape.marks),
        far_edges=tuple((place(one), place(two)) for one, two in shape.far_edges),
    )
