"""The outline of a piece in the picture of a board, and where in it its letter has room.

In: a board laid by outlines.  Out: the polygon of each piece where it lies, closed tracks, and the
place of a small rectangle inside an outline.  All in mm, as floats.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterator

from shapely import Polygon, STRtree, box, prepare
from shapely.affinity import scale, translate

from patternpress.cutting.contours import Contour, mirrored, turned
from patternpress.cutting.jobs import Item, Job
from patternpress.cutting.laid import LaidBoard
from patternpress.cutting.slicing import Spot
from patternpress.drawing.ink import Extent, Track, straight

TRIED = 16  # places along each side of an outline's box that a letter is tried in


def lying(contour: Contour, spot: Spot, item: Item) -> Polygon:
    """A piece's outline where it lies on its board, in mm of the board."""
    size = (float(item.along), float(item.across))
    shape = mirrored(contour.drawn, size[0]) if spot.mirrored else contour.drawn
    return translate(turned(shape, spot.turn, size), float(spot.x), float(spot.y))


def outlines(laid: LaidBoard, job: Job, by: float) -> Iterator[tuple[Spot, list[Polygon]]]:
    """Each piece laid by its outline: its spot, its shape on paper, and openings left empty."""
    if not laid.by_shape:
        return
    plain = [box(*_box(spot)) for spot in laid.spots if not job.items[spot.item].contour]
    found = {
        spot: lying(contour, spot, job.items[spot.item])
        for spot in laid.spots
        if (contour := job.items[spot.item].contour)
    }
    inside = STRtree([each.representative_point() for each in (*plain, *found.values())])
    for spot, shape in found.items():
        openings = [Polygon(ring) for ring in shape.interiors]
        empty = [each for each in openings if not inside.query(each, "contains").size]
        yield spot, [_on_paper(each, by) for each in (shape, *empty)]


def _box(spot: Spot) -> tuple[float, float, float, float]:
    x, y = float(spot.x), float(spot.y)
    return x, y, x + float(spot.along), y + float(spot.across)


def _on_paper(shape: Polygon, by: float) -> Polygon:
    """Scaled; its openings run the other way round, so that they stay open."""
    return scale(shape, by, by, origin=(0, 0)).normalize()


def tracks(shape: Polygon) -> tuple[Track, ...]:
    """Its outline and its openings as closed lines."""
    rings = (shape.exterior, *shape.interiors)
    return tuple(straight(*[(x, y) for x, y in ring.coords[:-1]], closed=True) for ring in rings)


def room_in(shape: Polygon, wide: float, high: float) -> Extent | None:
    """Where a rectangle of this size lies wholly inside, as near to the middle as can be."""
    left, low, right, top = shape.bounds
    middle = shape.centroid
    shares = [(n + 0.5) / TRIED for n in range(TRIED)]
    places = [
        (left + across * (right - left), low + up * (top - low))
        for across, up in itertools.product(shares, shares)
    ]
    prepare(shape)
    far = {at: (at[0] - middle.x) ** 2 + (at[1] - middle.y) ** 2 for at in places}
    for x, y in [(middle.x, middle.y), *sorted(places, key=lambda at: (round(far[at], 6), at))]:
        found = Extent(x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)
        if shape.covers(box(found.left, found.bottom, found.right, found.top)):
            return found
    return None
