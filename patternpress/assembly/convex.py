"""Exact-enough clash tests between solids.

In: convex blocks of two or more things, placed.  Out: whether they share wood, how thick the
shared wood is, where, and which way out.  Two convex blocks share none if and only if they lie
apart along the normal of a face or across two edges (separating axes).  Floats: lengths hold to
about 1e-12 of the piece's size; what overlaps by no more than `TOUCH` mm touches.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache, partial
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from patternpress.assembly.blocks import Blade, Block, Face, split
from patternpress.assembly.solid import UNTURNED, Matrix, Solid, Vec, facet, handedness, moved

Array = NDArray[np.float64]
TOUCH = 1e-6
# Two edges whose sine is below this are parallel, and make no axis of their own.
_PARALLEL = 1e-9


@dataclass(frozen=True, eq=False)
class Hull:
    """A convex block ready for testing: corners, outward normals of its faces with a corner of
    each, and each direction of a face or an edge once (rows of 3).
    """

    points: Array
    loops: tuple[tuple[int, ...], ...]
    outward: Array
    axes: Array
    edges: Array


@dataclass(frozen=True, eq=False)
class Bulk:
    """A solid and the convex hulls that fill it, with each hull's least and greatest x, y, z.

    `made` returns the solid: joining blocks takes longer than most that is asked of the hulls.
    """

    made: Callable[[], Solid]
    hulls: tuple[Hull, ...]
    low: Array
    high: Array

    @cached_property
    def solid(self) -> Solid:
        """The solid, made when it is first asked for."""
        return self.made()

    @cached_property
    def least(self) -> Array:
        """The least x, y, z of the whole."""
        found: Array = self.low.min(axis=0)
        return found

    @cached_property
    def most(self) -> Array:
        """The greatest x, y, z of the whole."""
        found: Array = self.high.max(axis=0)
        return found


@dataclass(frozen=True, slots=True)
class Clash:
    """Wood that two things share: its thickness in mm where it is thickest, a place inside it,
    and the direction of length 1 in which the first thing would have to move.
    """

    depth: float
    where: Vec
    direction: Vec


# ------------------------------------------------------------------ making and placing


def bulk(solid: Solid, blocks: Sequence[Block] = ()) -> Bulk:
    """Return a solid with its hulls.  Without `blocks` the solid must be convex.

    Raises ValueError if it is not.
    """
    return bulk_from(partial(_given, solid), blocks or (_as_block(solid),))


def bulk_from(made: Callable[[], Solid], blocks: Sequence[Block]) -> Bulk:
    """Return the hulls of blocks, and the solid that `made` makes of them once it is asked for."""
    return _bounded(made, tuple(_hull(block) for block in blocks))


def placed(thing: Bulk, matrix: Matrix, offset: Vec) -> Bulk:
    """Return a thing turned (or mirrored) by the matrix's rows, then shifted by `offset` mm.

    Raises ValueError if the matrix does more than turn and mirror.
    """
    turn, by = np.array(matrix), np.array(offset)
    made = partial(_moved, thing, matrix, offset)
    if matrix == UNTURNED:
        hulls = tuple(replace(each, points=each.points + by) for each in thing.hulls)
        return Bulk(made, hulls, thing.low + by, thing.high + by)
    handedness(matrix)
    hulls = tuple(
        replace(
            each,
            points=each.points @ turn.T + by,
            outward=each.outward @ turn.T,
            axes=each.axes @ turn.T,
            edges=each.edges @ turn.T,
        )
        for each in thing.hulls
    )
    return _bounded(made, hulls)


def _given(solid: Solid) -> Solid:
    return solid


def _moved(thing: Bulk, matrix: Matrix, offset: Vec) -> Solid:
    return moved(thing.solid, matrix, offset)


def _bounded(made: Callable[[], Solid], hulls: tuple[Hull, ...]) -> Bulk:
    low = np.array([each.points.min(axis=0) for each in hulls])
    high = np.array([each.points.max(axis=0) for each in hulls])
    return Bulk(made, hulls, low, high)


def _as_block(solid: Solid) -> Block:
    faces = tuple(Face(each.loops[0], (each.side, each.smooth)) for each in solid.facets)
    points = np.array(solid.points)
    for each in solid.facets:
        heights = (points - points[each.loops[0][0]]) @ np.array(each.normal)
        if len(each.loops) > 1 or heights.max() > TOUCH:
            raise ValueError("a solid that is not convex needs its blocks")
    return Block(solid.points, faces)


@lru_cache(maxsize=4096)
def _hull(block: Block) -> Hull:
    """Return the hull of a block; most blocks are the same in all editions of a design."""
    points = np.array(block.points)
    loops = tuple(face.loop for face in block.faces)
    outward = np.array([facet(block.points, (loop,)).normal for loop in loops])
    steps = [step for loop in loops for step in pairwise((*loop, loop[0]))]
    pairs = {(min(step), max(step)) for step in steps}
    ends = np.array(sorted(pairs))
    ways = points[ends[:, 1]] - points[ends[:, 0]]
    ways /= np.linalg.norm(ways, axis=1)[:, None]
    return Hull(points, loops, outward, _each_once(outward), _each_once(ways))


def _each_once(ways: Array) -> Array:
    """Return directions without those that are parallel to an earlier one."""
    sines = np.linalg.norm(crossed(ways[:, None, :], ways[None, :, :]), axis=2)
    first: Array = ways[~np.triu(sines < _PARALLEL, 1).any(axis=0)]
    return first


# ------------------------------------------------------------------ clashes


def penetration(a: Bulk, b: Bulk, touch: float = TOUCH) -> Clash | None:
    """Return the clash of two placed things, or None if they share no wood or only touch.

    The depth is the least width of the shared wood of the two hulls that overlap most, over all
    separating axes; it is a lower bound where hulls split the shared wood between them.
    """
    worst: tuple[float, Array, Hull, Hull] | None = None
    for i, j in _near(a, b, touch):
        one, two = a.hulls[i], b.hulls[j]
        found = _overlap(one, two, touch)
        if found is not None and (worst is None or found[0] > worst[0]):
            worst = (*found, one, two)
    if worst is None:
        return None
    depth, way, one, two = worst
    return Clash(depth, _inside_both(one, two), _vec(way))


def least_gap(a: Bulk, b: Bulk) -> float:
    """Return how far two placed things are apart at least, mm; nought where they touch or clash."""
    low, high = np.maximum(a.low[:, None], b.low[None]), np.minimum(a.high[:, None], b.high[None])
    apart = (low - high).max(axis=2)
    best = np.inf
    # The nearest boxes first: hulls are no nearer than their boxes.
    for number in np.argsort(apart, axis=None, kind="stable").tolist():
        i, j = divmod(number, len(b.hulls))
        if best <= max(0.0, float(apart[i, j])):
            break
        shared = _overlap(a.hulls[i], b.hulls[j], -np.inf)
        best = min(best, -shared[0] if shared is not None else 0.0)
    return max(0.0, best) if best < np.inf else 0.0


def clashes(things: Sequence[Bulk], touch: float = TOUCH) -> tuple[tuple[int, int, Clash], ...]:
    """Return every clash between two of some placed things, with their numbers in order."""
    if len(things) < 2:
        return ()
    low = np.array([each.least for each in things])
    high = np.array([each.most for each in things])
    found = []
    for i, j in _boxes_meet(low, high, low, high, touch):
        clash = penetration(things[i], things[j], touch) if i < j else None
        if clash is not None:
            found.append((i, j, clash))
    return tuple(found)


def boxes_touch(a: Bulk, b: Bulk, close: float) -> bool:
    """Say whether the boxes of two things overlap or lie within `close` mm of each other."""
    apart = np.maximum(a.least, b.least)
    apart = apart - np.minimum(a.most, b.most)
    return bool(apart.max() <= close)


def near_pairs(low: Array, high: Array, close: float) -> Iterator[tuple[int, int]]:
    """Yield each pair of boxes that overlap or lie within `close` mm of each other, once."""
    for i, j in _boxes_meet(low, high, low, high, -close - TOUCH):
        if i < j:
            yield i, j


def _near(a: Bulk, b: Bulk, touch: float) -> Iterator[tuple[int, int]]:
    return _boxes_meet(a.low, a.high, b.low, b.high, touch)


def _boxes_meet(
    low_a: Array, high_a: Array, low_b: Array, high_b: Array, touch: float
) -> Iterator[tuple[int, int]]:
    """Yield the pairs of boxes that overlap by more than `touch` along all three axes."""
    meet = np.ones((len(low_a), len(low_b)), dtype=bool)
    for axis in range(3):
        least = np.minimum(high_a[:, None, axis], high_b[None, :, axis])
        most = np.maximum(low_a[:, None, axis], low_b[None, :, axis])
        meet &= least - most > touch
    for i, j in np.argwhere(meet):
        yield int(i), int(j)


def crossed(a: Array, b: Array) -> Array:
    """The vector products of rows of 3, as numpy's `cross` in a fifth of its time."""
    x, y, z = a[..., 0], a[..., 1], a[..., 2]
    u, v, w = b[..., 0], b[..., 1], b[..., 2]
    return np.stack((y * w - z * v, z * u - x * w, x * v - y * u), axis=-1)


def separating_axes(one: Hull, two: Hull, *extra: Array) -> Array:
    """Return the axes along which two hulls lie apart if they share no wood, of length 1.

    `extra` are further edge directions of the first hull (rows of 3).
    """
    mine = np.concatenate([one.edges, *extra])
    across = crossed(mine[:, None, :], two.edges[None, :, :]).reshape(-1, 3)
    lengths = np.sqrt(np.einsum("ij,ij->i", across, across))
    kept = lengths > _PARALLEL
    return np.concatenate([one.axes, two.axes, across[kept] / lengths[kept, None]])


def _overlap(one: Hull, two: Hull, touch: float) -> tuple[float, Array] | None:
    """Return the least width of what two hulls share and the way out of it for the first."""
    best: tuple[float, Array] | None = None
    # Faces first: they separate most pairs, and there are few of them.
    faces = np.concatenate([one.axes, two.axes])
    for axes in (faces, separating_axes(one, two)[len(faces) :]):
        if not len(axes):
            continue
        mine, theirs = axes @ one.points.T, axes @ two.points.T
        to_right = theirs.max(axis=1) - mine.min(axis=1)
        to_left = mine.max(axis=1) - theirs.min(axis=1)
        shared = np.minimum(
            np.minimum(to_right, to_left),
            np.minimum(np.ptp(mine, axis=1), np.ptp(theirs, axis=1)),
        )
        index = int(np.argmin(shared))
        if shared[index] <= touch:
            return None
        if best is None or shared[index] < best[0]:
            way = axes[index] if to_right[index] <= to_left[index] else -axes[index]
            best = (float(shared[index]), way)
    return best


def _inside_both(one: Hull, two: Hull) -> Vec:
    """Return the middle of the corners of what two hulls share."""
    faces = tuple(Face(loop) for loop in one.loops)
    rest: Block | None = Block(tuple(_vec(point) for point in one.points), faces)
    for loop, normal in zip(two.loops, two.outward, strict=True):
        blade = Blade(_vec(normal), float(normal @ two.points[loop[0]]))
        under = split(rest, blade)[0] if rest is not None else None
        rest = under or rest
    points = np.array(rest.points if rest is not None else one.points)
    return _vec(points.mean(axis=0))


def _vec(values: Array) -> Vec:
    return float(values[0]), float(values[1]), float(values[2])
