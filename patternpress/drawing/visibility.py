"""How much of each facet can be seen, and which part of it.

In: named solids in mm and a View.  Out: areas in mm² on the paper, to choose a view by, and
polygons on the paper, to lay tones under the lines.  Worked out by polygon differences.
"""

from collections.abc import Callable, Collection, Hashable, Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray

from patternpress.assembly.solid import Vec
from patternpress.drawing.flatscene import FlatScene, Floats, Scene, Whole, flatten
from patternpress.drawing.projection import Place, View

# Corners are rounded to a grid this fine (a share of nothing): sides that fall together but
# for the last bits of a float trip polygon differences, which may then lose a whole facet.
_GRID = 0.01
_SINGLY = 12  # covers that are taken off a facet one by one, the largest first

Ring = tuple[Place, ...]
_Shapes = NDArray[Any]


@dataclass(frozen=True, slots=True)
class Seen:
    """Of a facet on the paper: the area that can be seen and the whole area, mm²."""

    visible: float
    whole: float


@dataclass(frozen=True, slots=True)
class VisibleFacet:
    """The part of a facet that can be seen.

    `number` is the facet's in its solid; `normal` points out of it, in space.  Each polygon
    is an outer ring, anticlockwise, and holes, clockwise; rings in mm, not closed.
    """

    key: Hashable
    number: int
    normal: Vec
    side: str
    smooth: int
    polygons: tuple[tuple[Ring, ...], ...]


def facet_visibility(
    scene: Scene, view: View, only: Collection[Hashable] | None = None
) -> Mapping[tuple[Hashable, int], Seen]:
    """Return the visible and the whole area of every facet that faces the eye, mm².

    By key and number of the facet.  `only`: the solids that are asked about; all others
    still stand in the way.  Raises ValueError if two solids have the same key.
    """
    laid = laid_flat(scene, view)
    flat, rows = laid.flat, _asked(laid.flat, only)
    visible = shapely.area(_visible(flat, laid.outlines, rows)).tolist()
    whole = shapely.area(laid.outlines[rows]).tolist()
    names = zip(flat.facets.owner[rows].tolist(), flat.facets.number[rows].tolist(), strict=True)
    return {
        (flat.keys[owner], number): Seen(min(part, area), area)
        for (owner, number), part, area in zip(names, visible, whole, strict=True)
    }


def visible_shares(
    scene: Scene, view: View, only: Collection[Hashable] | None = None
) -> Mapping[Hashable, float]:
    """Return how much of each solid's face towards the eye can be seen, from 0 to 1.

    The whole is what would be seen if nothing else stood in the way, but for the solid itself.
    """
    areas: dict[Hashable, float] = {}
    for (key, _), seen in facet_visibility(scene, view, only).items():
        areas[key] = areas.get(key, 0.0) + seen.visible
    alone = {
        key: sum(seen.visible for seen in facet_visibility([(key, solid)], view).values())
        for key, solid in scene
        if key in areas
    }
    return {key: min(1.0, area / alone[key]) for key, area in areas.items()}


def visible_facets(scene: Scene, view: View) -> tuple[VisibleFacet, ...]:
    """Return the visible part of every facet of which something can be seen.

    In the order of the scene and of the facets.  Slivers thinner than the tolerance are left
    out.  Raises ValueError if two solids have the same key.
    """
    return facets_seen(laid_flat(scene, view))


@dataclass(frozen=True, slots=True, eq=False)
class Flattened:
    """A scene laid flat and its facets as shapes, to ask for some of its solids and then others."""

    scene: Scene
    flat: FlatScene
    outlines: _Shapes


def laid_flat(scene: Scene, view: View) -> Flattened:
    """Return a scene as a view lays it flat.  Raises ValueError if two solids have one key."""
    flat = flatten(scene, view, edged=False)
    return Flattened(scene, flat, _outlines(flat))


def covered(laid: Flattened, only: Collection[Hashable] | None = None) -> Any:
    """Return what all solids cover on the paper, or some when nothing else stands in the way."""
    return united(laid.outlines[_asked(laid.flat, only)], laid.flat.near)


def facets_seen(
    laid: Flattened, only: Collection[Hashable] | None = None
) -> tuple[VisibleFacet, ...]:
    """Return the visible part of every facet of which something can be seen, or only of some
    solids; all others still stand in the way.
    """
    flat = laid.flat
    rows = _asked(flat, only)
    found = []
    for row, shape in zip(rows.tolist(), _visible(flat, laid.outlines, rows), strict=True):
        polygons = _polygons(shape)
        if polygons:
            key, solid = laid.scene[int(flat.facets.owner[row])]
            number = int(flat.facets.number[row])
            facet = solid.facets[number]
            found.append(
                VisibleFacet(key, number, facet.normal, facet.side, facet.smooth, polygons)
            )
    return tuple(found)


def _asked(flat: FlatScene, only: Collection[Hashable] | None) -> Whole:
    asked = np.array([only is None or key in only for key in flat.keys], dtype=bool)
    return np.flatnonzero(asked[flat.facets.owner])


def _outlines(flat: FlatScene) -> _Shapes:
    """Return the facets on the paper as Shapely polygons, row by row."""
    facets = flat.facets
    if not len(facets.owner):
        return np.empty(0, dtype=object)
    corners = flat.spots[facets.start]
    if flat.near > 0:
        corners = np.round(corners / (_GRID * flat.near)) * (_GRID * flat.near)
    rings = shapely.linearrings(corners, indices=facets.ring)
    rows = np.repeat(np.arange(len(facets.owner)), np.diff(facets.first))
    _, firsts = np.unique(facets.ring, return_index=True)
    return np.asarray(shapely.polygons(rings, indices=rows[firsts]), dtype=object)


def _visible(flat: FlatScene, outlines: _Shapes, rows: Whole) -> _Shapes:
    """Return what is left of some facets when everything before them is taken off."""
    place, covers = _covers(flat, outlines, rows)
    # The largest first: many facets are then gone after one or two.
    order = np.lexsort((-shapely.area(covers), place))
    place, covers = place[order], covers[order]
    first = np.searchsorted(place, np.arange(len(rows) + 1))
    counts = np.diff(first)
    left = outlines[rows].copy()
    for turn in range(min(_SINGLY, int(counts.max(initial=0)))):
        going = np.flatnonzero((counts > turn) & ~shapely.is_empty(left))
        _take_off(left, going, covers[first[going] + turn], flat.near)
    # What is still there after some has many small things before it: these go all at once.
    going = np.flatnonzero((counts > _SINGLY) & ~shapely.is_empty(left))
    rest = [covers[first[row] + _SINGLY : first[row + 1]] for row in going.tolist()]
    together = np.array([united(each, flat.near) for each in rest], dtype=object)
    _take_off(left, going, together, flat.near)
    return left


def _take_off(left: _Shapes, going: Whole, covers: _Shapes, near: float) -> None:
    """Take a cover off each of some shapes, in place."""
    if len(going):
        rest = _soundly(shapely.difference, left[going], covers, near)
        left[going] = _without_slivers(rest, near)


def united(shapes: _Shapes, near: float) -> Any:
    """Return shapes as one, mended first where they cannot be united as they are."""
    try:
        return shapely.union_all(shapes)
    except shapely.errors.GEOSException:
        return shapely.union_all(shapely.make_valid(shapes), grid_size=_GRID * near)


def _covers(flat: FlatScene, outlines: _Shapes, rows: Whole) -> tuple[Whole, _Shapes]:
    """Return what lies before some facets: places in `rows`, and polygons."""
    found = shapely.STRtree(outlines).query(outlines[rows], predicate="intersects")
    place, other = (np.asarray(each, dtype=np.intp) for each in found)
    order = np.lexsort((other, place))
    place, other = place[order], other[order]
    levels = _levels_between(flat, rows[place], other)
    before = (levels.max(axis=1) > flat.near) & (rows[place] != other)
    place, other, levels = place[before], other[before], levels[before]
    least, most = _reach(flat, rows[place], other)
    reaching = most > flat.near
    place, other = place[reaching], other[reaching]
    levels, least = levels[reaching], least[reaching]
    covers = outlines[other]
    cut = np.flatnonzero((levels.min(axis=1) < -flat.near) & (least < -flat.near))
    near_parts = _near_parts(flat, rows[place[cut]], other[cut])
    covers[cut] = _soundly(shapely.intersection, covers[cut], near_parts, flat.near)
    covers = _without_slivers(covers, flat.near)
    solid = ~shapely.is_empty(covers)
    return place[solid], covers[solid]


def _soundly(of: Callable[..., _Shapes], ours: _Shapes, theirs: _Shapes, near: float) -> _Shapes:
    """Return what an operation makes of pairs of shapes, mended first where it fails.

    Facets that are seen almost edge on may cross themselves by a hair.
    """
    try:
        return of(ours, theirs)
    except shapely.errors.GEOSException:
        one, two = (shapely.make_valid(each) for each in (ours, theirs))
        return of(one, two, grid_size=_GRID * near)


def _reach(flat: FlatScene, one: Whole, other: Whole) -> tuple[Floats, Floats]:
    """Return how far other facets come before the planes of some at their own corners: at
    least, and at most.

    A level between two planes is least and greatest at a corner; so one facet of a convex solid
    never reaches before another of it, though at the corners of its box it might.
    """
    if not len(other):
        return np.zeros(0), np.zeros(0)
    facets = flat.facets
    step = facets.plane[other] - facets.plane[one]
    counts = facets.first[other + 1] - facets.first[other]
    starts = np.cumsum(counts) - counts
    pair = np.repeat(np.arange(len(other)), counts)
    turn = np.arange(len(pair)) - starts[pair]
    spots = flat.spots[facets.start[facets.first[other][pair] + turn]]
    levels = step[pair, 0] * spots[:, 0] + step[pair, 1] * spots[:, 1] + step[pair, 2]
    return np.minimum.reduceat(levels, starts), np.maximum.reduceat(levels, starts)


def _without_slivers(shapes: _Shapes, near: float) -> _Shapes:
    """Return shapes without polygons that are thinner than nothing, and without lines."""
    thin = shapely.area(shapes) <= near * shapely.length(shapes)
    kept = np.where(thin, shapely.Polygon(), shapes)
    for index in np.flatnonzero(shapely.get_num_geometries(kept) > 1).tolist():
        parts = shapely.get_parts(kept[index])
        parts = parts[shapely.area(parts) > near * shapely.length(parts)]
        kept[index] = parts[0] if len(parts) == 1 else shapely.multipolygons(parts)
    return kept


def _levels_between(flat: FlatScene, one: Whole, other: Whole) -> Floats:
    """Return how far other facets' planes lie before some, at the corners of both's boxes."""
    facets = flat.facets
    low = np.maximum(facets.box[one, :2], facets.box[other, :2])
    high = np.minimum(facets.box[one, 2:], facets.box[other, 2:])
    step = facets.plane[other] - facets.plane[one]
    columns = [
        step[:, 0] * x + step[:, 1] * y + step[:, 2]
        for x in (low[:, 0], high[:, 0])
        for y in (low[:, 1], high[:, 1])
    ]
    return np.column_stack(columns)


def _near_parts(flat: FlatScene, one: Whole, other: Whole) -> _Shapes:
    """Return the parts of some facets' boxes where other facets' planes lie before them."""
    low_x, low_y, high_x, high_y = flat.facets.box[one].T
    step = flat.facets.plane[other] - flat.facets.plane[one]
    x = np.column_stack((low_x, high_x, high_x, low_x))
    y = np.column_stack((low_y, low_y, high_y, high_y))
    here = step[:, 0, None] * x + step[:, 1, None] * y + step[:, 2, None]
    there, next_x, next_y = (np.roll(each, -1, axis=1) for each in (here, x, y))
    crosses = (here > 0) != (there > 0)
    share = here / np.where(crosses, here - there, 1.0)
    # Each corner, then the place on the way to the next where the level is 0.
    kept = np.stack((here > 0, crosses), axis=2).reshape(-1, 8)
    places = np.stack(
        (
            np.stack((x, y), axis=2),
            np.stack((x + share * (next_x - x), y + share * (next_y - y)), 2),
        ),
        axis=2,
    ).reshape(-1, 8, 2)
    shapes = np.full(len(one), shapely.Polygon(), dtype=object)
    whole = kept.sum(axis=1) > 2
    row, _ = np.nonzero(kept & whole[:, None])
    if len(row):
        shapes[whole] = shapely.polygons(
            shapely.linearrings(places[kept & whole[:, None]], indices=_numbered(row))
        )
    return shapes


def _numbered(rows: Whole) -> Whole:
    """Return sorted rows counted from 0 without gaps."""
    return np.asarray(np.unique(rows, return_inverse=True)[1], dtype=np.intp)


def _polygons(shape: Any) -> tuple[tuple[Ring, ...], ...]:
    """Return a shape's polygons as rings, in a fixed order."""
    parts = shapely.get_parts(shapely.normalize(shape))
    parts = shapely.orient_polygons(parts[~shapely.is_empty(parts)])
    return tuple(tuple(_ring(ring) for ring in (part.exterior, *part.interiors)) for part in parts)


def _ring(ring: Any) -> Ring:
    return tuple((x, y) for x, y in shapely.get_coordinates(ring).tolist()[:-1])
