"""Where two solids meet, and which way one comes out.

In: placed solids or bulks.  Out: planes of sides, areas of contact and gaps, and directions in
which a thing slides away without touching wood.  Floats; mm and mm².
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from patternpress.assembly.blocks import across, dot
from patternpress.assembly.convex import (
    TOUCH,
    Array,
    Bulk,
    Hull,
    boxes_touch,
    crossed,
    separating_axes,
)
from patternpress.assembly.pose import DIRECTION
from patternpress.assembly.solid import Facet, Solid, Vec

AXES: tuple[Vec, ...] = tuple(
    (float(x), float(y), float(z)) for x, y, z in DIRECTION.values()
)  # fmt: skip
# How far from opposite two faces may look (sine), and how thin an unmoving axis may be.
_LEVEL = 1e-7
# The same of a slope whose figures are rounded (half a degree), and the gap left there, mm.
_SLOPED, SLIVER = 0.009, 0.2
_STILL = 1e-12


@dataclass(frozen=True, slots=True)
class Contact:
    """Two faces that look at each other: the area in which they face, and the gap between them.

    The gap is negative where they overlap.
    """

    area: float
    gap: float


@dataclass(frozen=True, slots=True, eq=False)
class Met:
    """A facet that lies against others: how far its plane is from the origin, two unit directions
    in that plane, and what it shares with each of the others, told by these.
    """

    facet: Facet
    offset: float
    axes: tuple[Vec, Vec]
    shared: tuple[BaseGeometry, ...]


# ------------------------------------------------------------------ planes


def face_plane(solid: Solid, side: str) -> tuple[Vec, float]:
    """Return the plane of a side: its outward unit normal and its distance from the origin.

    It is the plane of the side's largest flat face.  Where the side is mostly curved it is the
    plane that touches the curve and faces as the side does on the whole.  Raises KeyError if no
    facet has that side.
    """
    planes = _planes(solid, side)
    if not planes:
        raise KeyError(side)
    area, flat, normal, offset = max(planes, key=lambda each: (round(each[0], 6), each[3]))
    if flat or 2 * area >= sum(each[0] for each in planes):
        return normal, offset
    looks = np.sum([each[0] * np.array(each[2]) for each in planes], axis=0)
    looks /= np.linalg.norm(looks)
    wanted = _vec(_snapped(looks))
    return wanted, max(dot(wanted, point) for point in _points(solid, side))


def _planes(solid: Solid, side: str) -> list[tuple[float, bool, Vec, float]]:
    """Return area, flatness, normal and offset of each plane that a side has facets in."""
    found: list[tuple[float, bool, Vec, float]] = []
    for each in solid.facets:
        if each.side != side:
            continue
        area, flat = shadow_of(solid, each, across(each.normal)).area, not each.smooth
        offset = dot(each.normal, solid.points[each.loops[0][0]])
        for index, (other, was_flat, normal, at) in enumerate(found):
            if abs(at - offset) < TOUCH and dot(normal, each.normal) > 1 - _LEVEL:
                found[index] = (other + area, was_flat and flat, normal, at)
                break
        else:
            found.append((area, flat, each.normal, offset))
    return found


def _points(solid: Solid, side: str) -> list[Vec]:
    return [
        solid.points[number]
        for each in solid.facets
        if each.side == side
        for number in each.loops[0]
    ]


def _snapped(looks: Array) -> Array:
    """Return a direction, or the axis that it runs along but for rounding."""
    near = np.round(looks)
    return near if np.abs(looks - near).max() < 1e-6 else looks


def shadow_of(solid: Solid, each: Facet, axes: tuple[Vec, Vec]) -> shapely.Polygon:
    """Return a facet as it lies in its plane, told by two unit directions in that plane."""
    rings = [
        [(dot(axes[0], solid.points[n]), dot(axes[1], solid.points[n])) for n in loop]
        for loop in each.loops
    ]
    return shapely.Polygon(rings[0], rings[1:])


# ------------------------------------------------------------------ contact


def contact_area(a: Solid, side_a: str, b: Solid, side_b: str) -> Contact | None:
    """Return how a flat side of one solid lies to a flat side of another.

    None if the two do not look at each other.  Raises KeyError for a side without facets.
    """
    normal, offset = face_plane(a, side_a)
    other, other_offset = face_plane(b, side_b)
    if not opposite(normal, other):
        return None
    axes = across(normal)
    one = _in_plane(a, (f for f in a.facets if f.side == side_a), (normal, offset), axes)
    two = _in_plane(b, (f for f in b.facets if f.side == side_b), (other, other_offset), axes)
    return Contact(float(one.intersection(two).area), -other_offset - offset)


def touching_area(a: Bulk, b: Bulk, touch: float = TOUCH) -> float:
    """Return the area in which faces of two placed things lie against each other, mm²."""
    if not boxes_touch(a, b, touch):
        return 0.0
    met = faces_met(a, a.solid.facets, b, touch)
    return sum((sum(shape.area for shape in each.shared) for each in met), 0.0)


def faces_met(a: Bulk, facets: Iterable[Facet], b: Bulk, touch: float) -> Iterator[Met]:
    """Yield those of some facets of one placed thing that lie against facets of another."""
    theirs = [(f, dot(f.normal, b.solid.points[f.loops[0][0]])) for f in b.solid.facets]
    normals = np.array([f.normal for f in b.solid.facets])
    for mine in facets:
        offset = dot(mine.normal, a.solid.points[mine.loops[0][0]])
        # Of all pairs of two round things hardly any look at each other: all are asked at once.
        near = np.flatnonzero(np.abs(normals + mine.normal).max(axis=1) < _SLOPED)
        facing = [
            f
            for f, at in (theirs[number] for number in near.tolist())
            if (abs(at + offset) <= touch and opposite(mine.normal, f.normal))
            or lies_on_slope(a.solid, mine, b.solid, f)
        ]
        if facing:
            axes = across(mine.normal)
            shadow = shadow_of(a.solid, mine, axes)
            shared = [shadow.intersection(shadow_of(b.solid, f, axes)) for f in facing]
            yield Met(mine, offset, axes, tuple(shared))


def lies_on_slope(one: Solid, mine: Facet, other: Solid, theirs: Facet) -> bool:
    """Say whether two facets that are not quite parallel lie against each other but for a sliver.

    The figures of an outline are rounded to the step, so the angle of its slope is too.
    """
    if opposite(mine.normal, theirs.normal) or not opposite(mine.normal, theirs.normal, _SLOPED):
        return False
    axes = across(mine.normal)
    shared = shadow_of(one, mine, axes).intersection(shadow_of(other, theirs, axes))
    if shared.area <= 0.0:
        return False
    offset = dot(mine.normal, one.points[mine.loops[0][0]])
    level = dot(theirs.normal, other.points[theirs.loops[0][0]])
    places = (
        tuple(x * u + y * v + offset * n for u, v, n in zip(*axes, mine.normal, strict=True))
        for x, y in shapely.get_coordinates(shared)
    )
    return all(abs(dot(theirs.normal, (p[0], p[1], p[2])) - level) <= SLIVER for p in places)


def opposite(one: Vec, two: Vec, level: float = _LEVEL) -> bool:
    """Say whether two unit directions look at each other."""
    return max(abs(a + b) for a, b in zip(one, two, strict=True)) < level


def _in_plane(
    solid: Solid, facets: Iterable[Facet], plane: tuple[Vec, float], axes: tuple[Vec, Vec]
) -> BaseGeometry:
    normal, offset = plane
    return shapely.union_all(
        [
            shadow_of(solid, each, axes)
            for each in facets
            if dot(normal, each.normal) > 1 - _LEVEL
            and abs(dot(normal, solid.points[each.loops[0][0]]) - offset) < TOUCH
        ]
    )


# ------------------------------------------------------------------ sliding


def ways_out(
    moving: Sequence[Bulk], others: Sequence[Bulk], directions: Sequence[Vec], touch: float = TOUCH
) -> Iterator[Vec]:
    """Yield the ways, one after the other, in which things held together slide away.

    Ask for the first only where one is enough: each way costs as much as the last.
    """
    crowd = Crowd([hull for other in others for hull in other.hulls])
    for way in directions:
        along = np.array(way) / np.linalg.norm(way)
        if not any(_blocks(one, crowd, along, touch) for one in moving):
            yield way


def slide_out(
    moving: Bulk, others: Sequence[Bulk], directions: Sequence[Vec] = (), touch: float = TOUCH
) -> tuple[Vec, ...]:
    """Return the ways, of the six along the axes and those given, in which a thing slides away.

    A way is open if the thing, drawn along it without end, shares no wood with any other; a
    touch, even all the way along, is allowed.
    """
    return tuple(ways_out((moving,), others, (*AXES, *directions), touch))


class Crowd:
    """Many hulls, whose shadows along some axes are found all at once."""

    def __init__(self, hulls: Sequence[Hull]) -> None:
        self.hulls = hulls
        counts = [len(each.points) for each in hulls]
        self._points = np.concatenate([np.empty((0, 3)), *(each.points for each in hulls)])
        self._first = np.concatenate([[0], np.cumsum(counts)[:-1]]).astype(int)
        self.low, self.high = (each.T for each in self.shadows(np.eye(3)))

    def shadows(self, axes: Array) -> tuple[Array, Array]:
        """The least and the greatest places of each hull along each axis (axes × hulls)."""
        if not self.hulls:
            return np.empty((len(axes), 0)), np.empty((len(axes), 0))
        along = axes @ self._points.T
        low: Array = np.minimum.reduceat(along, self._first, axis=1)
        high: Array = np.maximum.reduceat(along, self._first, axis=1)
        return low, high


def _blocks(moving: Bulk, crowd: Crowd, way: Array, touch: float) -> bool:
    """Say whether a thing drawn along a way meets any of many hulls."""
    low = np.where(way < -_STILL, -np.inf, moving.low)
    high = np.where(way > _STILL, np.inf, moving.high)
    for i, hull in enumerate(moving.hulls):
        shared = np.minimum(high[i], crowd.high) - np.maximum(low[i], crowd.low)
        near = np.flatnonzero((shared > touch).all(axis=1))
        if not len(near):
            continue
        # A hull's own faces part it from most others, and are asked of all of them at once.
        own_low, own_high = _drawn(hull, hull.axes, way)
        their_low, their_high = crowd.shadows(hull.axes)
        shared = np.minimum(own_high[:, None], their_high) - np.maximum(own_low[:, None], their_low)
        meets = shared.min(axis=0) > touch
        if any(_swept(hull, crowd.hulls[int(j)], way, touch) for j in near[meets[near]]):
            return True
    return False


def _swept(one: Hull, two: Hull, way: Array, touch: float) -> bool:
    """Say whether a hull drawn along a way without end shares wood with another."""
    # Faces first: they part nearly all that lie apart, and there are few of them.
    return (
        _shared(one, two, two.axes, way) > touch
        and _shared(one, two, separating_axes(one, two, way[None, :]), way) > touch
        and _shared(one, two, _along(one, way), way) > touch
    )


def _along(one: Hull, way: Array) -> Array:
    """Return the normals of the faces that drawing a hull adds: the way × each edge of its own."""
    along = crossed(way[None, :], one.edges)
    lengths = np.linalg.norm(along, axis=1)
    kept: Array = along[lengths > _STILL] / lengths[lengths > _STILL, None]
    return kept


def _drawn(one: Hull, axes: Array, way: Array) -> tuple[Array, Array]:
    """Return from where to where a hull reaches along each axis when it is drawn along a way."""
    mine = axes @ one.points.T
    ahead = axes @ way
    low = np.where(ahead < -_STILL, -np.inf, mine.min(axis=1))
    high = np.where(ahead > _STILL, np.inf, mine.max(axis=1))
    return low, high


def _shared(one: Hull, two: Hull, axes: Array, way: Array) -> float:
    """Return the least stretch that the first, drawn along a way, shares with the second."""
    low, high = _drawn(one, axes, way)
    theirs = axes @ two.points.T
    shared = np.minimum(high, theirs.max(axis=1)) - np.maximum(low, theirs.min(axis=1))
    return float(shared.min(initial=np.inf))


def _vec(values: Array) -> Vec:
    return float(values[0]), float(values[1]), float(values[2])
