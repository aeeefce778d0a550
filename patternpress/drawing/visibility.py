"""How much of each facet can be seen, and which part of it.

In: named solids in mm and a View.  Out: areas in mm² on the paper, to choose a view by, and
polygons on the paper, to lay tones under the lines.  Worked out by polygon differences.
"""

from collections.abc import Callable, Collection, Hashable, Mapping
from dataclasses import dataclass, field
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
    visible = shapely.area(_visible(laid, rows)).tolist()
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
    solids = dict(scene)
    found = []
    for each in facets_seen(laid_flat(scene, view)):
        facet = solids[each.key].facets[each.number]
        polygons = _polygons(each.shape)
        found.append(
            VisibleFacet(each.key, each.number, each.normal, facet.side, facet.smooth, polygons)
        )
    return tuple(found)


@dataclass(frozen=True, slots=True, eq=False)
class SeenFacet:
    """The part of a facet that can be seen, as a shape on the paper, mm; normal in space."""

    key: Hashable
    number: int
    normal: Vec
    shape: Any


@dataclass(frozen=True, slots=True, eq=False)
class Flattened:
    """A scene laid flat and its facets as shapes, to ask for some of its solids and then others.

    `fronts`: what solids cover, by their place in the scene: those that were asked for.
    """

    scene: Scene
    flat: FlatScene
    outlines: _Shapes
    fronts: dict[int, Any] = field(default_factory=dict)


def laid_flat(scene: Scene, view: View) -> Flattened:
    """Return a scene as a view lays it flat.  Raises ValueError if two solids have one key."""
    flat = flatten(scene, view, edged=False)
    return Flattened(scene, flat, _outlines(flat))


def covered(laid: Flattened, only: Collection[Hashable] | None = None) -> Any:
    """Return what all solids cover on the paper, or some when nothing else stands in the way.

    Made of what each covers, most of which is known, and which leaves no slits between facets.
    """
    keys = laid.flat.keys
    fronts = [_front(laid, at) for at, key in enumerate(keys) if only is None or key in only]
    return fronts[0] if len(fronts) == 1 else united(np.array(fronts, dtype=object), laid.flat.near)


def _front(laid: Flattened, owner: int) -> Any:
    """Return what one solid covers."""
    if owner not in laid.fronts:
        mine = laid.outlines[laid.flat.facets.owner == owner]
        laid.fronts[owner] = united(mine, laid.flat.near)
    return laid.fronts[owner]


def facets_seen(laid: Flattened, only: Collection[Hashable] | None = None) -> tuple[SeenFacet, ...]:
    """Return the visible part of every facet of which something can be seen, or only of some
    solids; all others still stand in the way.
    """
    rows = _asked(laid.flat, only)
    shapes = _visible(laid, rows)
    there = np.flatnonzero(~shapely.is_empty(shapes))
    owners, numbers = (of[rows[there]].tolist() for of in _names(laid.flat))
    found = []
    for owner, number, shape in zip(owners, numbers, shapes[there].tolist(), strict=True):
        key, solid = laid.scene[owner]
        found.append(SeenFacet(key, number, solid.facets[number].normal, shape))
    return tuple(found)


def _names(flat: FlatScene) -> tuple[Whole, Whole]:
    return flat.facets.owner, flat.facets.number


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


def _visible(laid: Flattened, rows: Whole) -> _Shapes:
    """Return what is left of some facets when everything before them is taken off."""
    flat, outlines = laid.flat, laid.outlines
    place, covers = _covers(laid, rows)
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
        return shapely.disjoint_subset_union_all(shapes)
    except shapely.errors.GEOSException:
        return shapely.union_all(shapely.make_valid(shapes), grid_size=_GRID * near)


def _covers(laid: Flattened, rows: Whole) -> tuple[Whole, _Shapes]:
    """Return what lies before some facets: places in `rows`, and polygons."""
    flat, outlines = laid.flat, laid.outlines
    found = shapely.STRtree(outlines).query(outlines[rows])
    place, other = (np.asarray(each, dtype=np.intp) for each in found)
    order = np.lexsort((other, place))
    place, other = place[order], other[order]
    beside = _group(flat, place, other)
    levels = _levels_between(flat, rows[place], other)
    before = (levels.max(axis=1) > flat.near) & (rows[place] != other)
    place, other, below = place[before], other[before], levels[before].min(axis=1)
    least, most = _reach(flat, rows[place], other)
    # The same at the corners of what may be covered, where levels turn round.
    highs, lows = (-each for each in _reach(flat, other, rows[place]))
    reaching = (most > flat.near) & (highs > flat.near)
    place, other = place[reaching], other[reaching]
    cut = np.maximum(np.maximum(below, least), lows)[reaching] < -flat.near
    single, solids, fronts = _as_wholes(laid, (place, other), cut, beside)
    place, other, cut = place[single], other[single], cut[single]
    mine, covers = outlines[rows[place]], outlines[other]
    shapely.prepare(mine)
    meets = shapely.intersects(mine, covers)
    place, other, cut, covers = place[meets], other[meets], cut[meets], covers[meets]
    some = np.flatnonzero(cut)
    near_parts = _near_parts(flat, rows[place[some]], other[some])
    covers[some] = _without_slivers(
        _soundly(shapely.intersection, covers[some], near_parts, flat.near), flat.near
    )
    solid = ~shapely.is_empty(covers)
    return np.concatenate((place[solid], solids)), np.concatenate((covers[solid], fronts))


def _group(flat: FlatScene, place: Whole, other: Whole) -> Whole:
    """Return a number for each pair of a facet and a solid that may lie before it."""
    return place * len(flat.keys) + flat.facets.owner[other]


def _as_wholes(
    laid: Flattened, pairs: tuple[Whole, Whole], cut: NDArray[np.bool_], beside: Whole
) -> tuple[NDArray[np.bool_], Whole, _Shapes]:
    """Take solids whose every facet near a facet lies before it as one cover each.

    Say of which pairs each cover is still taken by itself, and return the places and the shapes
    of the solids.  `beside`: the groups of all pairs whose boxes meet.
    """
    place, other = pairs
    flat, owner = laid.flat, laid.flat.facets.owner
    group = _group(flat, place, other)
    size = int(beside.max(initial=-1)) + 1
    counts = np.bincount(group[~cut], minlength=size)
    whole = (counts > 1) & (counts == np.bincount(beside, minlength=size))
    groups = np.flatnonzero(whole)
    solids = groups % len(flat.keys)
    # A silhouette is worth making where it stands for more facets than it is made of.
    spared = np.bincount(solids, counts[groups] - 1, minlength=len(flat.keys))
    known = np.array([each in laid.fronts for each in range(len(flat.keys))], dtype=bool)
    worth = known | (spared > np.bincount(owner, minlength=len(flat.keys)))
    groups = groups[worth[solids]]
    whole[:] = False
    whole[groups] = True
    fronts = [_front(laid, each) for each in (groups % len(flat.keys)).tolist()]
    return ~whole[group], groups // len(flat.keys), np.array(fronts, dtype=object)


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
    counts = facets.first[other + 1] - facets.first[other]
    starts = np.cumsum(counts) - counts
    side = np.arange(counts.sum()) + np.repeat(facets.first[other] - starts, counts)
    x, y = (flat.spots[facets.start[side], axis] for axis in (0, 1))
    step = facets.plane[other] - facets.plane[one]
    a, b, c = (np.repeat(each, counts) for each in step.T)
    levels = a * x + b * y + c
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
