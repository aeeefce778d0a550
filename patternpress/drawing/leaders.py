"""Letters beside a picture, on leaders that cross nothing.

In: what is to be named and its visible region on the paper, and everything that is in the way,
mm.  Out: words outside the silhouette, each with a straight leader that ends in a dot on its
piece.  Leaders cross no other leader, no label and no arrow, and foreign pieces only where
there is no way round them.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely

from patternpress.assembly.convex import Array
from patternpress.drawing.ink import Anchor, Extent, Place, Words
from patternpress.drawing.lettering import Lettering, figure_width
from patternpress.drawing.lettering import words as as_figure

_TURNS = 32  # directions tried round an anchor
# mm from an anchor to the end of its leader, tried in turn
_AWAY = (3.0, 4.0, 5.0, 6.2, 7.4, 8.8, 10.4, 12.0, 14.0, 16.0, 18.5, 21.0, 24.0, 28.0, 33.0)
_NOTHING = 1e-6  # mm² on paper: nothing that a dot could stand on
_COARSE = 0.05
_POLYGON = 3  # the polygon library's number for that kind of shape
_INSIDE = 0.8  # how far a dot keeps from the edge of its piece
_OFF = 0.7  # from the end of a leader to its words
_ASIDE = 0.7  # a mm from the middle of its piece to a dot counts as so many
_WORD = 1.5  # heights of a letter between labels that stand side by side
_FOREIGN = 6.0  # a mm over another piece counts as so many


@dataclass(frozen=True, eq=False)
class Naming:
    """Words for something whose visible part on the paper is `region`."""

    text: str
    lettering: Lettering
    region: Any
    spots: tuple[Place, ...] = ()  # where a dot may lie; if none, wherever the region has room


@dataclass(frozen=True, eq=False)
class Label:
    """Words in their place, and the leader from them to the dot."""

    words: Words
    box: Extent
    start: Place
    dot: Place

    @property
    def line(self) -> Any:
        """The leader as a shape."""
        return shapely.LineString([self.start, self.dot])


def place_labels(
    namings: Sequence[Naming], whole: Any, taken: Sequence[Any], clear: float, wide: float
) -> tuple[Label, ...]:
    """Return labels in the order of the namings; what finds no room gets none.

    `whole` is the silhouette of everything, `taken` what words and leaders must keep off, `wide`
    the width that all of it may take.
    """
    low, _, high, _ = whole.bounds
    sides = ((low + high - wide) / 2 + 0.7, (low + high + wide) / 2 - 0.7)
    whole = shapely.simplify(whole, _COARSE)
    outside = shapely.buffer(whole, clear)
    busy = [shapely.buffer(each, clear * 0.6) for each in taken]
    for shape in (outside, *busy):
        shapely.prepare(shape)
    options = {n: _options(each, whole, outside, busy, sides) for n, each in enumerate(namings)}
    # The one with the least choice first.
    order = sorted(options, key=lambda n: (len(options[n]), n))
    found: dict[int, Label] = {}
    for number in order:
        for row in options[number]:
            label = _label(namings[number], row)
            if not any(_clash(label, other, clear) for other in found.values()):
                found[number] = label
                break
    return tuple(found[n] for n in sorted(found))


def _clash(one: Label, other: Label, clear: float) -> bool:
    boxes = _shape(one.box.grown(clear)), _shape(other.box.grown(clear))
    level = min(one.box.top, other.box.top) - max(one.box.bottom, other.box.bottom)
    if level > 0:  # side by side: far enough apart not to be read as one word
        apart = max(one.box.left, other.box.left) - min(one.box.right, other.box.right)
        if apart < _WORD * min(one.box.height, other.box.height):
            return True
    return bool(
        one.box.grown(clear / 2).meets(other.box.grown(clear / 2))
        or one.line.distance(other.line) < clear / 2
        or boxes[0].intersects(other.line)
        or boxes[1].intersects(one.line)
    )


def _options(
    naming: Naming, whole: Any, outside: Any, busy: Sequence[Any], sides: tuple[float, float]
) -> Array:
    """Return where words may stand, the shortest leaders over the least of others first.

    Rows as those of `_rows`.
    """
    anchors = list(naming.spots) or _anchors(naming.region)
    if not anchors:
        return np.empty((0, 8))
    figure = as_figure(naming.text)
    size = (figure_width(figure, naming.lettering), naming.lettering.height)
    rows: Array = _rows(anchors, size)
    rows = rows[(rows[:, 2] >= sides[0]) & (rows[:, 4] <= sides[1])]
    # Most boxes that lie over the silhouette have a corner in it, which is told much sooner.
    for x, y in ((2, 3), (4, 5), (2, 5), (4, 3)):
        rows = rows[~np.asarray(shapely.intersects_xy(outside, rows[:, x], rows[:, y]))]
    boxes = shapely.box(rows[:, 2], rows[:, 3], rows[:, 4], rows[:, 5])
    good = ~np.asarray(shapely.intersects(outside, boxes))
    for each in busy:
        good &= ~shapely.intersects(each, boxes)
    rows = rows[good]
    if not len(rows):
        return rows
    lines = shapely.linestrings(np.stack((rows[:, :2], rows[:, 6:8]), axis=1))
    good = np.ones(len(rows), dtype=bool)
    for each in busy:
        good &= ~shapely.intersects(each, lines)
    rows, lines = rows[good], lines[good]
    # A dot in the middle of its piece is found sooner than one in a corner.
    aside = np.hypot(*(rows[:, :2] - np.array(anchors[0])).T) * (not naming.spots)
    cost = shapely.length(lines) + _ASIDE * aside + _over_others(naming.region, whole, lines)
    order = np.lexsort((np.arange(len(rows)), np.round(cost, 2)))[:400]
    return rows[order]


def _over_others(region: Any, whole: Any, lines: Any) -> Any:
    """Return what each leader costs for the way that it goes over other pieces."""
    others = shapely.difference(whole, shapely.buffer(region, 0.15))
    shapely.prepare(others)
    cost = np.zeros(len(lines))
    over = shapely.intersects(others, lines)
    if over.all():
        cost[:] = _FOREIGN * length_within(shapely.get_coordinates(lines).reshape(-1, 4), others)
    else:
        # There are leaders that cross none: the others are only asked where these clash.
        cost[over] = _FOREIGN * shapely.length(lines[over])
    return cost


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
    away = corners[None, :, :] - lines[:, None, :2]
    side = way[:, None, 0] * away[:, :, 1] - way[:, None, 1] * away[:, :, 0]
    along = (way[:, None, :] * away).sum(axis=2) / (way**2).sum(axis=1)[:, None]
    left = side > 0
    line, start = np.nonzero((left[:, :-1] != left[:, 1:]) & (ring[:-1] == ring[1:]))
    one, two = side[line, start], side[line, start + 1]
    share = along[line, start] + (along[line, start + 1] - along[line, start]) * one / (one - two)
    comes_out = np.where(one > 0, -1.0, 1.0)
    passed = np.bincount(line, comes_out * np.clip(share, 0.0, 1.0), minlength=len(lines))
    return np.asarray(passed * np.hypot(way[:, 0], way[:, 1]))


def _anchors(region: Any) -> list[Place]:
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
    rim = [ring.interpolate(share / 16, normalized=True) for share in range(16)]
    return [(x, y), *((point.x, point.y) for point in rim)]


def _rows(anchors: Sequence[Place], size: tuple[float, float]) -> Array:
    """Return a row for each try: anchor, box (low x, low y, high x, high y), leader's end."""
    wide, high = size
    angles = np.arange(_TURNS) * (2 * math.pi / _TURNS)
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


def _label(naming: Naming, row: Array) -> Label:
    x, y, left, bottom, right, top, end_x, end_y = row.tolist()
    at = ((left + right) / 2, bottom)
    words = Words(as_figure(naming.text), at, naming.lettering, Anchor.MIDDLE)
    return Label(words, Extent(left, bottom, right, top), (end_x, end_y), (x, y))


def _shape(box: Extent) -> Any:
    return shapely.box(box.left, box.bottom, box.right, box.top)


def shape_of(box: Extent) -> Any:
    """Return a rectangle as a shape."""
    return _shape(box)
