"""Pencil lines on wood: where a line lies on a part, and from which edge it can be measured.

In: a Shape and a line across it.  Out: stretches in mm on the part as drawn, floats within 0.004,
for drawing and for choosing words; and a side, which is all that a sentence takes from here.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction

import shapely

from patternpress.assembly.flattening import flattened
from patternpress.assembly.outlines import legs
from patternpress.assembly.polygons import Edge, clipped, outside
from patternpress.assembly.shape import EDGES, Line, MarkLine, MarkPoint, Shape
from patternpress.design.phrases import OPPOSITE

ERROR = 0.004  # mm, of curves where a line ends on them
# Of the length of a line: over so much of it an edge must be there for a rule to be laid twice.
_ENOUGH = Fraction(1, 3)
_TOUCHING = 0.01  # mm; what touches wood with no more than its ends does not lie on it


def on_wood(shape: Shape, line: MarkLine, error: float = ERROR) -> list[Edge]:
    """Return the stretches of a line inside the outline and not over what is cut through.

    A blind hole leaves the other face whole, and on its own face the line finds its centre.
    """
    ends = [(float(each.x), float(each.y)) for each in (line.start, line.to)]
    kept = clipped(flattened(shape.outline, error), ends[0], ends[1])
    for hole in shape.holes:
        if hole.depth is None and _crosses(kept, ring := flattened(hole.outline, error)):
            kept = [each for edge in kept for each in outside(ring, *edge)]
    return kept


def _crosses(edges: list[Edge], ring: tuple[tuple[float, float], ...]) -> bool:
    """Whether the boxes of a hole and of a line along the page meet, which most do not."""
    for axis in (0, 1):
        low, high = min(each[axis] for each in ring), max(each[axis] for each in ring)
        ends = [place[axis] for edge in edges for place in edge]
        if not ends or max(ends) <= low or min(ends) >= high:
            return False
    return True


def beside_wood(shape: Shape, mark: MarkLine | MarkPoint) -> bool:
    """Whether a mark lies where its part is cut away, wholly; a point in a hole to be drilled does
    not.
    """
    whole = shapely.Polygon(flattened(shape.outline)).buffer(_TOUCHING)
    if isinstance(mark, MarkPoint):
        return not whole.covers(shapely.Point(float(mark.at.x), float(mark.at.y)))
    ends = [(float(each.x), float(each.y)) for each in (mark.start, mark.to)]
    through = [each for each in shape.holes if each.depth is None]
    cut = shapely.union_all([shapely.Polygon(flattened(hole.outline)) for hole in through])
    left = whole.difference(cut).intersection(shapely.LineString(ends))
    return bool(left.length <= 4 * _TOUCHING)


def side_there(shape: Shape, line: MarkLine, said: str) -> str:
    """Return the side to measure a line from: `said`, the opposite one where the edge on that side
    is cut away there, or none where both are.
    """
    level = line.start.y == line.to.y
    sides = [each.value for each in EDGES[shape.view]][2 if level else 0 :][:2]
    if said not in sides:
        return said
    wood = [_along(edge, level) for edge in on_wood(shape, line)]
    asked = _ENOUGH * Fraction(_reach(wood))
    for side in (said, OPPOSITE[said]):
        there = _shared(_straight(shape, level, high=side == sides[1]), wood)
        if wood and _reach(there) >= asked:
            return side
    return ""


def _along(edge: Edge, level: bool) -> tuple[float, float]:
    one, two = sorted(place[0 if level else 1] for place in edge)
    return one, two


def _straight(shape: Shape, level: bool, high: bool) -> Iterator[tuple[float, float]]:
    """Yield the stretches of the blank's edge that the outline has kept."""
    edge = (shape.height if level else shape.width) if high else Fraction(0)
    for start, segment in legs(shape.outline):
        ends = (start, segment.to)
        if isinstance(segment, Line) and all((p.y if level else p.x) == edge for p in ends):
            low, far = sorted(float(p.x if level else p.y) for p in ends)
            yield low, far


def _shared(
    edges: Iterable[tuple[float, float]], wood: list[tuple[float, float]]
) -> list[tuple[float, float]]:
    found = [(max(a, c), min(b, d)) for a, b in edges for c, d in wood]
    return [(low, high) for low, high in found if high - low > _TOUCHING]


def _reach(stretches: list[tuple[float, float]]) -> float:
    """From where the first begins to where the last ends: a rule is laid at both."""
    if not stretches:
        return 0.0
    return max(high for _, high in stretches) - min(low for low, _ in stretches)


__all__ = ["beside_wood", "on_wood", "side_there"]
