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
from patternpress.assembly.solid import Vec, dot
from patternpress.drawing.flatscene import Scene
from patternpress.drawing.projection import Place, View, depth, project

Span = tuple[float, float]
_EDGE_ON = 1e-6


@dataclass(frozen=True, eq=False)
class Screen:
    """A facet that faces the eye: its outline, and depth = a·x + b·y + c on the paper."""

    shape: Any
    plane: tuple[float, float, float]


@dataclass(frozen=True, eq=False)
class Screens:
    """All facets that can hide something, and their boxes and planes as rows."""

    each: tuple[Screen, ...]
    boxes: Array  # low x, low y, high x, high y
    planes: Array  # a, b, c


def screens_of(scene: Scene, view: View) -> Screens:
    """Return every facet that can hide something."""
    found = []
    for _, solid in scene:
        for facet in solid.facets:
            toward = dot(facet.normal, view.toward)
            if toward <= _EDGE_ON:
                continue
            rings = [[project(view, solid.points[n]) for n in loop] for loop in facet.loops]
            a = -dot(facet.normal, view.right) / toward
            b = -dot(facet.normal, view.up) / toward
            at = solid.points[facet.loops[0][0]]
            x, y = project(view, at)
            plane = (a, b, depth(view, at) - a * x - b * y)
            shape = shapely.Polygon(rings[0], rings[1:])
            found.append(Screen(shape, plane))
    boxes = shapely.bounds([each.shape for each in found]).reshape(-1, 4)
    planes = np.array([each.plane for each in found]).reshape(-1, 3)
    return Screens(tuple(found), boxes, planes)


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
    hidden = sorted(
        span
        for number in _before(screens, (one, two), deep, near)
        for span in _hidden_by(screens.each[number], line, (one, two), deep, near)
    )
    return tuple(
        (_along(one, two, low), _along(one, two, high)) for low, high in _open(hidden, near)
    )


def _before(screens: Screens, ends: tuple[Place, Place], deep: Span, near: float) -> list[int]:
    """Return the screens whose box a line meets and whose plane lies before an end of it."""
    (x, y), (to_x, to_y) = ends
    boxes, planes = screens.boxes, screens.planes
    meets = (boxes[:, 0] <= max(x, to_x)) & (boxes[:, 2] >= min(x, to_x))
    meets &= (boxes[:, 1] <= max(y, to_y)) & (boxes[:, 3] >= min(y, to_y))
    ahead = [planes @ (px, py, 1.0) - d > near for (px, py), d in zip(ends, deep, strict=True)]
    return [int(each) for each in np.flatnonzero(meets & (ahead[0] | ahead[1]))]


def _hidden_by(
    screen: Screen, line: Any, ends: tuple[Place, Place], deep: Span, near: float
) -> Iterator[Span]:
    a, b, c = screen.plane
    ahead = [a * x + b * y + c - d - near for (x, y), d in zip(ends, deep, strict=True)]
    for part in shapely.get_parts(shapely.intersection(line, screen.shape)):
        if part.geom_type != "LineString" or part.is_empty:
            continue
        places = shapely.get_coordinates(part).tolist()
        shares = sorted(line.project(shapely.Point(p), normalized=True) for p in places)
        low, high = shares[0], shares[-1]
        rise = ahead[1] - ahead[0]
        if abs(rise) > 1e-12:
            turn = -ahead[0] / rise
            low, high = (max(low, turn), high) if rise > 0 else (low, min(high, turn))
        elif ahead[0] <= 0:
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
