"""Which parts of a straight line in space can be seen between solids.

In: two places, the solids and a View.  Out: stretches on the paper.  Worked out exactly, facet
by facet: where the line runs behind a facet's plane within the facet's outline it is hidden.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely

from patternpress.assembly.convex import Array
from patternpress.assembly.solid import Vec
from patternpress.drawing.flatscene import Scene, Whole
from patternpress.drawing.projection import Place, View, depth, project
from patternpress.drawing.visibility import Flattened, laid_flat

Span = tuple[float, float]
_LINE = 1  # the polygon library's number for that kind of shape


@dataclass(frozen=True, eq=False)
class Screens:
    """All facets that can hide something, row by row: outlines, boxes and planes.

    Planes (a, b, c) are depth = a·x + b·y + c on the paper.
    """

    shapes: Any
    boxes: Array  # low x, low y, high x, high y
    planes: Array  # a, b, c


def screens_of(scene: Scene, view: View) -> Screens:
    """Return every facet of a scene that can hide something."""
    return screens_from(laid_flat(scene, view))


def screens_from(laid: Flattened) -> Screens:
    """Return every facet that can hide something of a scene that is laid flat."""
    return Screens(laid.outlines, laid.flat.facets.box, laid.flat.facets.plane)


def in_sight(
    start: Vec, end: Vec, view: View, screens: Screens, near: float
) -> tuple[tuple[Place, Place], ...]:
    """Return the parts of the line from start to end that nothing hides, in order.

    What lies less than `near` mm before the line does not hide it.
    """
    one, two = project(view, start), project(view, end)
    deep = depth(view, start), depth(view, end)
    line = shapely.LineString([one, two])
    if line.length <= near:
        return ()
    before = _before(screens, (one, two), deep, near)
    hidden = sorted(_hidden(screens, before, line, ((one, two), deep), near))
    return tuple(
        (_along(one, two, low), _along(one, two, high)) for low, high in _open(hidden, near)
    )


def _before(screens: Screens, ends: tuple[Place, Place], deep: Span, near: float) -> Whole:
    """Return the screens whose box a line meets and whose plane lies before an end of it."""
    (x, y), (to_x, to_y) = ends
    boxes, planes = screens.boxes, screens.planes
    meets = (boxes[:, 0] <= max(x, to_x)) & (boxes[:, 2] >= min(x, to_x))
    meets &= (boxes[:, 1] <= max(y, to_y)) & (boxes[:, 3] >= min(y, to_y))
    ahead = [planes @ (px, py, 1.0) - d > near for (px, py), d in zip(ends, deep, strict=True)]
    return np.flatnonzero(meets & (ahead[0] | ahead[1]))


def _hidden(
    screens: Screens, numbers: Whole, line: Any, ends: tuple[tuple[Place, Place], Span], near: float
) -> Iterator[Span]:
    """Yield the stretches of a line that some screens hide, as shares of it."""
    places, deep = np.array(ends[0]), np.array(ends[1])
    slopes, levels = screens.planes[numbers, :2], screens.planes[numbers, 2:]
    ahead = (slopes @ places.T + levels - deep - near).tolist()
    parts, owners = shapely.get_parts(
        shapely.intersection(line, screens.shapes[numbers]), return_index=True
    )
    lines = (shapely.get_type_id(parts) == _LINE) & ~shapely.is_empty(parts)
    for part, owner in zip(parts[lines].tolist(), owners[lines].tolist(), strict=True):
        shares = shapely.line_locate_point(
            line, shapely.points(shapely.get_coordinates(part)), normalized=True
        )
        low, high = float(shares.min()), float(shares.max())
        first, last = ahead[owner]
        rise = last - first
        if abs(rise) > 1e-12:
            turn = -first / rise
            low, high = (max(low, turn), high) if rise > 0 else (low, min(high, turn))
        elif first <= 0:
            continue
        if high > low:
            yield low, high


def _open(hidden: list[Span], near: float) -> Iterator[Span]:
    reach = 0.0
    for low, high in hidden:
        if low > reach + 1e-6:
            yield reach, low
        reach = max(reach, high)
    if reach < 1 - 1e-6:
        yield reach, 1.0


def _along(one: Place, two: Place, share: float) -> Place:
    return one[0] + share * (two[0] - one[0]), one[1] + share * (two[1] - one[1])
