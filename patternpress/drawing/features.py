"""What lies on a part's face: holes, grooves and marks.

In: a Shape at the scale of the drawing.  Out: their ink, the rectangles and lines that words
must keep clear of, and where a callout points.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import shapely

from patternpress.assembly.flattening import flattened
from patternpress.assembly.onwood import ERROR, on_wood
from patternpress.assembly.openings import round_ends
from patternpress.assembly.outlines import bounding_box, legs, turn_of
from patternpress.assembly.polygons import Edge, Place, Polygon, clipped
from patternpress.assembly.shape import Arc, Axis, Groove, Hole, MarkLine, Outline, Point, Shape
from patternpress.drawing.ink import Extent, Ink, Stroke, outline_track, straight
from patternpress.drawing.lines import round_a_ring
from patternpress.drawing.signs import Sign
from patternpress.drawing.style import DrawingStyle
from patternpress.drawing.tags import drawn

FLAT = 0.05  # mm, for placing words
_HATCH = 1.4  # mm between hatching lines; ISO 128 asks for 0.7 at least
_SHARES = (0.5, 0.35, 0.65, 0.2, 0.8)  # of an arc, to where it is named
_APART = 0.39  # mm on the paper, from a line 0.5 mm wide to a narrow one beside it
_BEYOND = 1.6  # mm that a centre line passes the hole's edge
_END_CROSS = 2.5  # mm that a cross in a slot's round end reaches from its centre, at most


@dataclass(frozen=True, slots=True)
class Feature:
    """A named thing on the face; `reach` is the radius at which a leader stops.

    `underneath` for what lies on the far face, `upright` for what runs up the page.
    """

    name: str
    ink: tuple[Ink, ...]
    points_to: Place
    reach: float = 0.0
    blocked: tuple[Extent, ...] = ()
    lines: tuple[Edge, ...] = ()
    underneath: bool = False
    upright: bool = False


def features(shape: Shape, style: DrawingStyle) -> tuple[Feature, ...]:
    """Return everything on a face, in the order grooves, holes, marks."""
    ring = flattened(shape.outline, ERROR)
    return (
        *(_groove(groove, ring, style) for groove in shape.grooves),
        *(_hole(hole, style) for hole in shape.holes),
        *_marks(shape, style),
    )


def radii(shape: Shape, strips: Sequence[Extent] = ()) -> tuple[Feature, ...]:
    """Return each arc of the outline as something to name; its name is `radius_name` of its place.

    They have no ink of their own: a reduced drawing needs only their figures.  They are named in
    their middle, or beside it where that lies in one of the `strips` that sheets share.
    """
    found = []
    for index, (start, segment) in enumerate(legs(shape.outline)):
        if isinstance(segment, Arc):
            places = [_on_arc(start, segment, share) for share in _SHARES]
            spots = [Extent(*place, *place) for place in places]
            clear = (s for s in spots if not any(strip.meets(s.grown(0.1)) for strip in strips))
            spot = next(clear, spots[0])
            place = (spot.left, spot.bottom)
            found.append(Feature(radius_name(index), (), place, blocked=(spot,)))
    return tuple(found)


def _on_arc(start: Point, arc: Arc, share: float) -> Place:
    spoke = complex(start.x - arc.centre.x, start.y - arc.centre.y)
    turn = turn_of(start, arc) * share
    place = complex(arc.centre.x, arc.centre.y) + spoke * complex(math.cos(turn), math.sin(turn))
    return place.real, place.imag


def radius_name(index: int) -> str:
    """Return the name of an outline's segment of that number, for its callout."""
    return f"radius of stretch {index + 1}"


def extent_of(outline: Outline) -> Extent:
    """Return an outline's box as a rectangle on the paper."""
    box = bounding_box(outline)
    return Extent(float(box.left), float(box.bottom), float(box.right), float(box.top))


def reach_of(shape: Shape) -> Extent:
    """Return a shape's box with what its far face stands out over its outline."""
    box = extent_of(shape.outline)
    xs = [float(each.x) for edge in shape.far_edges for each in edge]
    ys = [float(each.y) for edge in shape.far_edges for each in edge]
    return Extent(
        min(box.left, *xs, box.right),
        min(box.bottom, *ys, box.top),
        max(box.right, *xs, box.left),
        max(box.top, *ys, box.bottom),
    )


def behind(shape: Shape, style: DrawingStyle) -> tuple[tuple[Ink, ...], tuple[Edge, ...]]:
    """Return the edges of the far face as ink, and as lines."""
    edges = tuple(
        ((float(one.x), float(one.y)), (float(two.x), float(two.y))) for one, two in shape.far_edges
    )
    ring = shapely.LinearRing(flattened(shape.outline, FLAT))
    # In a small drawing they would run into the outline.
    edges = tuple(each for each in edges if ring.distance(shapely.LineString(each)) > _APART)
    tracks = tuple(straight(*edge) for edge in edges)
    return ((Stroke(tracks, style.hidden, sign=Sign.FAR),) if edges else ()), edges


def _hole(hole: Hole, style: DrawingStyle) -> Feature:
    box = extent_of(hole.outline)
    x, y = float(hole.centre.x), float(hole.centre.y)
    pen, sign = (style.hidden, Sign.FAR) if hole.far else (style.opening, Sign.OPENING)
    if hole.far:
        # Full-length dashes would close round a small one.
        pen = round_a_ring(pen, shapely.LinearRing(flattened(hole.outline, FLAT)).length)
    edge = Stroke((outline_track(hole.outline),), pen, drawn("hole", hole.name), sign)
    ink: list[Ink] = [edge]
    cross = Extent(x, y, x, y)
    if hole.diameter is not None or min(box.width, box.height) <= 12:
        cross = box.grown(_BEYOND)
        # Chain dashes are 4 mm long at this width; a short centre line is drawn full.
        for start, to in (((cross.left, y), (cross.right, y)), ((x, cross.bottom), (x, cross.top))):
            pen = style.centre if math.dist(start, to) > 14 else style.fine
            tag = drawn("centre", hole.name)
            ink.append(Stroke((straight(start, to),), pen, tag, Sign.CENTRE))
    ink += _end_crosses(hole, min(_END_CROSS, box.width / 2, box.height / 2), style)
    reach = box.width / 2 if hole.diameter is not None else 0.0
    lines = (((cross.left, y), (cross.right, y)), ((x, cross.bottom), (x, cross.top)))
    return Feature(hole.name, tuple(ink), (x, y), reach, (box,), lines, hole.far)


def _end_crosses(hole: Hole, reach: float, style: DrawingStyle) -> Iterator[Ink]:
    """Yield crosses where the round ends of a slot are bored."""
    for centre in round_ends(hole):
        x, y = float(centre.x), float(centre.y)
        level, upright = (
            straight((x - reach, y), (x + reach, y)),
            straight((x, y - reach), (x, y + reach)),
        )
        yield Stroke((level, upright), style.fine, sign=Sign.CENTRE)


def _groove(groove: Groove, ring: Polygon, style: DrawingStyle) -> Feature:
    low = (float(groove.low.x), float(groove.low.y))
    high = (float(groove.high.x), float(groove.high.y))
    band = Extent(low[0], low[1], high[0], high[1])
    inside = [edge for side in _sides(groove, band) for edge in clipped(ring, *side)]
    # The side of a rebate that is the part's edge is drawn already: as that, and to be cut.
    bounds = shapely.LinearRing(ring).buffer(ERROR)
    sides = [edge for edge in inside if not bounds.covers(shapely.LineString(edge))]
    pen, sign = (style.hidden, Sign.FAR) if groove.far else (style.mark, Sign.GROOVE)
    tag = drawn("groove", groove.name)
    ink: list[Ink] = [Stroke(tuple(straight(*side) for side in sides), pen, tag, sign)]
    if not groove.far:
        hatch = [edge for line in _hatching(band) for edge in clipped(ring, *line)]
        if hatch:
            ink.append(Stroke(tuple(straight(*edge) for edge in hatch), style.fine))
    middle = ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2)
    upright = groove.along is Axis.Y
    return Feature(groove.name, tuple(ink), middle, 0.0, (band,), (), groove.far, upright)


def _sides(groove: Groove, band: Extent) -> Iterator[Edge]:
    """Yield the long sides of a groove, and its ends where it is stopped."""
    corners = [
        (band.left, band.bottom),
        (band.right, band.bottom),
        (band.right, band.top),
        (band.left, band.top),
    ]
    bottom, right, top, left = zip(corners, [*corners[1:], corners[0]], strict=True)
    if groove.along is Axis.X:
        first, last, low, high = bottom, top, left, right
    else:
        first, last, low, high = left, right, bottom, top
    yield from (first, last)
    if not groove.open_low:
        yield low
    if not groove.open_high:
        yield high


def _hatching(band: Extent) -> Iterator[Edge]:
    """Yield lines at 45 degrees over a band, each from side to side."""
    step = _HATCH * math.sqrt(2)
    count = int((band.width + band.height) / step)
    for index in range(1, count + 1):
        offset = index * step
        start = (band.left + max(0.0, offset - band.height), band.bottom + min(offset, band.height))
        to = (band.left + min(offset, band.width), band.bottom + max(0.0, offset - band.width))
        if math.dist(start, to) > 0.2:
            yield start, to


def _marks(shape: Shape, style: DrawingStyle) -> Iterator[Feature]:
    for mark in shape.marks:
        pen = style.hidden if mark.far else style.mark
        if isinstance(mark, MarkLine):
            ends = [(float(each.x), float(each.y)) for each in (mark.start, mark.to)]
            edges = on_wood(shape, mark) or [(ends[0], ends[1])]
            tracks = tuple(straight(*edge) for edge in edges)
            sign = Sign.FAR if mark.far else Sign.MARK
            ink = Stroke(tracks, pen, drawn("mark", mark.name), sign)
            start, to = max(edges, key=lambda edge: round(math.dist(*edge), 6))
            middle = ((start[0] + to[0]) / 2, (start[1] + to[1]) / 2)
            upright = abs(to[1] - start[1]) > abs(to[0] - start[0])
            yield Feature(mark.name, (ink,), middle, 0.0, (), tuple(edges), mark.far, upright)
        else:
            x, y = float(mark.at.x), float(mark.at.y)
            lines: tuple[Edge, ...] = (((x - 1, y), (x + 1, y)), ((x, y - 1), (x, y + 1)))
            tracks = tuple(straight(*edge) for edge in lines)
            sign = Sign.FAR if mark.far else Sign.POINT
            cross = Stroke(tracks, pen, drawn("point", mark.name), sign)
            around = (Extent(x - 1, y - 1, x + 1, y + 1),)
            yield Feature(mark.name, (cross,), (x, y), 1.0, around, underneath=mark.far)
