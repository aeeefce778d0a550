"""Holes, slots and windows.

In: an opening as an author asks for it.  Out: a Hole with its exact outline.
"""

from fractions import Fraction

from patternpress.assembly.blank import Opening, RoundHole, Slot, Window
from patternpress.assembly.outlines import circle, polygon, without_stops
from patternpress.assembly.shape import Arc, Axis, Hole, Line, Outline, Point, Segment, ShapeError


def hole(opening: Opening) -> Hole:
    """Return the exact hole.

    Raises ShapeError: "hole-without-size", "slot-wider-than-long", "window-corners-overlap".
    """
    if isinstance(opening, RoundHole):
        _refuse_nothing(opening.name, opening.diameter)
        outline = circle(opening.centre, opening.diameter / 2)
        return Hole(
            opening.name, outline, opening.centre, opening.depth, opening.diameter, opening.far
        )
    if isinstance(opening, Slot):
        return Hole(opening.name, _slot(opening), opening.centre, opening.depth, far=opening.far)
    return Hole(opening.name, _window(opening), opening.centre, opening.depth, far=opening.far)


def round_ends(made: Hole) -> tuple[Point, ...]:
    """Return the centres of a slot's two round ends, the lower or left one first; else nothing."""
    arcs = [each.centre for each in made.outline.segments if isinstance(each, Arc)]
    centres = sorted(set(arcs), key=lambda each: (each.x, each.y))
    return tuple(centres) if made.diameter is None and len(centres) == 2 else ()


def _refuse_nothing(name: str, *sizes: Fraction) -> None:
    for size in sizes:
        if size <= 0:
            raise ShapeError("hole-without-size", hole=name, size=size)


def _slot(slot: Slot) -> Outline:
    _refuse_nothing(slot.name, slot.length, slot.width)
    over = slot.width - slot.length
    if over > 0:
        raise ShapeError("slot-wider-than-long", hole=slot.name, over=over)
    sizes = (slot.length, slot.width) if slot.along is Axis.X else (slot.width, slot.length)
    return rounded_rectangle(slot.centre, *sizes, slot.width / 2)


def _window(window: Window) -> Outline:
    _refuse_nothing(window.name, window.width, window.height)
    over = 2 * window.corner - min(window.width, window.height)
    if over > 0:
        raise ShapeError("window-corners-overlap", hole=window.name, over=over)
    return rounded_rectangle(window.centre, window.width, window.height, window.corner)


def rounded_rectangle(
    centre: Point, width: Fraction, height: Fraction, radius: Fraction
) -> Outline:
    """Return a rectangle about `centre`, its corners rounded by up to half its lesser side."""
    left, right = centre.x - width / 2, centre.x + width / 2
    low, high = centre.y - height / 2, centre.y + height / 2
    if radius == 0:
        return polygon(Point(left, low), Point(right, low), Point(right, high), Point(left, high))
    x0, x1, y0, y1 = left + radius, right - radius, low + radius, high - radius
    segments: list[Segment] = []
    for to, after, middle in (
        (Point(x1, low), Point(right, y0), Point(x1, y0)),
        (Point(right, y1), Point(x1, high), Point(x1, y1)),
        (Point(x0, high), Point(left, y1), Point(x0, y1)),
        (Point(left, y0), Point(x0, low), Point(x0, y0)),
    ):
        segments += [Line(to), Arc(after, middle, anticlockwise=True)]
    return without_stops(Outline(Point(x0, low), tuple(segments)))
