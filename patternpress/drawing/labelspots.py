"""Where a label may stand round its piece, before anything is asked of what lies there.

In: the visible region of a piece on the paper, and the size of the words, mm.  Out: rows of
numbers: where the leader ends in a dot, the box of the words, where the leader begins.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from typing import Any

import numpy as np
import shapely

from patternpress.assembly.convex import Array
from patternpress.drawing.ink import Place

TURNS = 32  # directions tried round an anchor
# mm from an anchor to the end of its leader, tried in turn
_AWAY = (3.0, 4.0, 5.0, 6.2, 7.4, 8.8, 10.4, 12.0, 14.0, 16.0, 18.5, 21.0, 24.0, 28.0, 33.0)
_NOTHING = 1e-6  # mm² on paper: nothing that a dot could stand on
_RIM = 10  # places for a dot near the edge of a piece
_INSIDE = 0.8  # how far a dot keeps from the edge of its piece
_OFF = 0.7  # from the end of a leader to its words
_POLYGON = 3  # the polygon library's number for that kind of shape


def anchors_in(region: Any) -> list[Place]:
    """Return places for a dot well inside a region: its middle, and some nearer to its edge."""
    inner = region
    for inset in (_INSIDE, _INSIDE / 2, 0.15):
        inner = shapely.buffer(region, -inset)
        if not inner.is_empty:
            break
    pieces = shapely.get_parts(inner)
    parts = [each for each in pieces if each.geom_type == "Polygon" and each.area > _NOTHING]
    if not parts:
        return []
    largest = max(parts, key=lambda each: round(each.area, 4))
    middle = shapely.maximum_inscribed_circle(largest, tolerance=0.2)
    x, y = shapely.get_coordinates(middle).tolist()[0]
    ring = largest.exterior
    rim = [ring.interpolate(share / _RIM, normalized=True) for share in range(_RIM)]
    return [(x, y), *((point.x, point.y) for point in rim)]


def rows_round(anchors: Sequence[Place], size: tuple[float, float]) -> Array:
    """Return a row for each try: anchor, box (low x, low y, high x, high y), leader's end."""
    wide, high = size
    angles = np.arange(TURNS) * (2 * math.pi / TURNS)
    away = np.array(_AWAY)
    at, turn, far = (
        each.ravel() for each in np.meshgrid(np.arange(len(anchors)), angles, away, indexing="ij")
    )
    places = np.array(anchors)[at.astype(int)]
    way = np.column_stack((np.cos(turn), np.sin(turn)))
    # How far the box reaches from its middle back along the ray.
    with np.errstate(divide="ignore"):
        back = np.minimum(
            (wide / 2 + _OFF) / np.abs(way[:, 0]), (high / 2 + _OFF) / np.abs(way[:, 1])
        )
    end = places + way * far[:, None]
    middle = end + way * back[:, None]
    half = np.array([wide / 2, high / 2])
    return np.hstack((places, middle - half, middle + half, end))


def length_within(lines: Array, shape: Any) -> Array:
    """Return how much of each line (x, y, to x, to y) lies in a shape of polygons, mm.

    With the shape on the left of its sides, a line comes out of it at every side that crosses
    from the line's right to its left, and goes in where one crosses to its right: the places
    of the first less those of the second.  (All lines at once; overlays take ten times as long.)
    """
    polygons = shapely.orient_polygons(shapely.get_parts(shape))
    rings = shapely.get_rings(polygons[shapely.get_type_id(polygons) == _POLYGON])
    corners, ring = shapely.get_coordinates(rings, return_index=True)
    way = lines[:, 2:] - lines[:, :2]
    right = corners[:, 0] - lines[:, None, 0]
    up = corners[:, 1] - lines[:, None, 1]
    side = way[:, None, 0] * up - way[:, None, 1] * right
    left = side > 0
    line, start = np.nonzero((left[:, :-1] != left[:, 1:]) & (ring[:-1] == ring[1:]))
    one, two = side[line, start], side[line, start + 1]
    # How far along its line each end of a side lies, of those sides that cross it.
    square = (way**2).sum(axis=1)[line]
    first, last = (
        (way[line, 0] * right[line, at] + way[line, 1] * up[line, at]) / square
        for at in (start, start + 1)
    )
    share = first + (last - first) * one / (one - two)
    comes_out = np.where(one > 0, -1.0, 1.0)
    passed = np.bincount(line, comes_out * np.clip(share, 0.0, 1.0), minlength=len(lines))
    return np.asarray(passed * np.hypot(way[:, 0], way[:, 1]))
