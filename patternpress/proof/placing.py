"""Where a part's own places lie on the sheet, and how lines of both are compared.

In: places and lines in mm.  Out: the same, placed; distances; the lines of a groove, and of the
crosses in a hole and at a point.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy
import shapely
from shapely.geometry.base import BaseGeometry

from patternpress.proof.design import Band, Hole, Mark, Outline, Part
from patternpress.proof.geometry import Points, box_of, dense, farthest_from, together
from patternpress.proof.marks import Place

OUT = 0.01  # mm on the paper: the width of a sharp pencil line is twenty times that
POINT = 1.0  # mm on the paper: half of a line of the cross that marks a point
BEYOND = 1.6  # mm on the paper that the cross in a hole passes its edge
_ON = 0.001  # mm: so near to an edge a line lies on it
SMALL_OPENING = 12.0  # mm on the paper: one that is not round has a cross if it is no larger


@dataclass(frozen=True)
class Placing:
    """Where a part's own places lie on the sheet: mirrored, turned, scaled and moved."""

    mirrored: bool
    turned: bool
    scale: float
    away: tuple[float, float] = (0.0, 0.0)

    def put(self, points: Points) -> Points:
        """Return places of the part as places on the sheet."""
        found: Points = points * ((-1.0, 1.0) if self.mirrored else (1.0, 1.0)) * self.scale
        if self.turned:
            found = numpy.column_stack([-found[:, 1], found[:, 0]])
        moved: Points = found + numpy.array(self.away)
        return moved

    def back(self, points: Points) -> Points:
        """Return places of the sheet as places of the part."""
        found: Points = points - numpy.array(self.away)
        if self.turned:
            found = numpy.column_stack([found[:, 1], -found[:, 0]])
        flipped: Points = found * ((-1.0, 1.0) if self.mirrored else (1.0, 1.0)) / self.scale
        return flipped


def uncovered(lines: Sequence[Points], others: Sequence[Points]) -> tuple[float, Place]:
    """Return the greatest distance of lines from others, and where.

    What the others do not cover is looked at closely, for a gap may be shorter than the spacing.
    """
    shape = together(others)
    places = [dense(line) for line in lines]
    rest = together(lines).difference(shape.buffer(OUT))
    places += [dense(line, OUT / 4) for line in lines_in(rest)]
    return farthest_from(numpy.vstack(places), shape)


def sides_of(band: Band) -> Iterator[list[tuple[float, float]]]:
    """Yield the long sides of a groove, and its ends where it is stopped."""
    (left, low), (right, high) = band.low, band.high
    if band.along == "x":
        yield [(left, low), (right, low)]
        yield [(left, high), (right, high)]
        first, last = [(left, low), (left, high)], [(right, low), (right, high)]
    else:
        yield [(left, low), (left, high)]
        yield [(right, low), (right, high)]
        first, last = [(left, low), (right, low)], [(left, high), (right, high)]
    if not band.open_low:
        yield first
    if not band.open_high:
        yield last


def sides_within(band: Band, outline: Points) -> list[Points]:
    """Return the sides of a groove as far as they lie within the part.

    That of a rebate which runs along an edge is drawn as the edge, once, and measured with it.
    """
    whole = shapely.Polygon(outline)
    edge = whole.boundary.buffer(_ON)
    sides = (whole.intersection(shapely.LineString(side)) for side in sides_of(band))
    return [line for side in sides for line in lines_in(side.difference(edge))]


def wood_of(part: Part, outline: Outline) -> BaseGeometry:
    """Return the face of a part as shapely has it: its outline without what is cut through."""
    through = [shapely.Polygon(hole.outline.points) for hole in part.holes if hole.through]
    return shapely.Polygon(outline.points).difference(shapely.union_all(through))


def lines_in(shape: object) -> Iterator[Points]:
    """Yield the lines in what shapely cut out."""
    for each in getattr(shape, "geoms", [shape]):
        if getattr(each, "geom_type", "") == "LineString" and each.length > 1e-6:
            yield numpy.array(each.coords)


def cross_at(mark: Mark, scale: float) -> list[Points]:
    """Return the lines of the cross that marks a point, on the part drawn at a scale."""
    (x, y), arm = mark.start, POINT / scale
    return [numpy.array([(x - arm, y), (x + arm, y)]), numpy.array([(x, y - arm), (x, y + arm)])]


def cross_of(hole: Hole, scale: float) -> list[Points]:
    """Return the lines of the cross in a hole, on the part; none in a large one that is not round.

    `scale`: at which the part is drawn.
    """
    left, low, right, high = box_of(hole.outline.points)
    if hole.diameter is None and min(right - left, high - low) * scale > SMALL_OPENING:
        return []
    (x, y), beyond = hole.centre, BEYOND / scale
    level = [(left - beyond, y), (right + beyond, y)]
    return [numpy.array(level), numpy.array([(x, low - beyond), (x, high + beyond)])]
