"""Build a flat piece of wood from convex blocks, layer by layer through its thickness.

In: a `Slab` (an outline on a page and what is taken out of it).  Out: blocks that fill the wood
and nothing else, their faces labelled.  Between two depths at which anything begins or ends the
wood has one outline, which is divided into convex polygons.
"""

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np
import shapely
from shapely.geometry.base import BaseGeometry

from patternpress.assembly.blocks import Blade, Block, Label, dot, prism
from patternpress.assembly.convexparts import convex_parts
from patternpress.assembly.cuts import Cut, in_space
from patternpress.assembly.hugging import Chord, chords
from patternpress.assembly.polygons import Place, Polygon
from patternpress.assembly.shape import View
from patternpress.assembly.solid import Vec, cross

Ring = Sequence[Chord]
Naming = Callable[[Place, Place], Label]
_NEAR = 1e-6


@dataclass(frozen=True, slots=True)
class Slab:
    """Flat wood: chords of its outline with their labels, and the sizes of its part.

    It runs from depth `start` to `stop` under the page's near face; `faces` names the near
    face and the far one.
    """

    view: View
    sizes: Vec
    ring: tuple[tuple[Chord, Label], ...]
    start: float
    stop: float
    faces: tuple[str, str]


@dataclass(frozen=True, slots=True)
class _Hole:
    """A cut as a polygon with its chords, and its two depths."""

    region: BaseGeometry
    ring: list[Chord]
    start: float
    stop: float


def layered(slab: Slab, cuts: Sequence[Cut], error: float) -> list[Block]:
    """Return the blocks of a slab less the cuts made from its own page.

    `error` (mm) is how far curves of the cuts may stray.  The result is empty if nothing is left.
    """
    holes = [_flattened(cut, error, 1000 * (index + 1)) for index, cut in enumerate(cuts)]
    whole = shapely.Polygon([chord.start for chord, _ in slab.ring])
    named = _Names(slab, holes)
    found: list[Block] = []
    for top, bottom in pairwise(_depths(slab, holes)):
        middle = (top + bottom) / 2
        out = [each.region for each in holes if each.start < middle < each.stop]
        wood = shapely.difference(whole, shapely.union_all(out)) if out else whole
        caps = (named.cap(top), named.cap(bottom))
        for part in convex_parts(wood):
            labels = [named.wall(one, two) for one, two in pairwise((*part, part[0]))]
            found.append(_prism(slab, part, (top, bottom), [*labels, *caps]))
    return found


def _flattened(cut: Cut, error: float, first: int) -> _Hole:
    ring = chords(cut.outline, error, hole=True, first=first)
    region = shapely.Polygon([chord.start for chord in ring])
    return _Hole(region, ring, float(cut.start), float(cut.stop))


def _depths(slab: Slab, holes: Sequence[_Hole]) -> list[float]:
    """Return the depths at which anything begins or ends, each once."""
    stops = sorted({slab.start, slab.stop, *(d for each in holes for d in (each.start, each.stop))})
    inside = [each for each in stops if slab.start + _NEAR < each < slab.stop - _NEAR]
    kept = [slab.start]
    kept += [each for each, before in zip(inside, [slab.start, *inside], strict=False)
             if each - before > _NEAR]  # fmt: skip
    return [*kept, slab.stop]


def _prism(
    slab: Slab, part: Polygon, depths: tuple[float, float], labels: Sequence[Label]
) -> Block:
    near, far = ([in_space(slab.view, slab.sizes, at, depth) for at in part] for depth in depths)
    return prism(near, far, labels)


class _Names:
    """Finds the label of a wall or a cap by its place."""

    def __init__(self, slab: Slab, holes: Sequence[_Hole]) -> None:
        self.slab = slab
        inner: list[tuple[Chord, Label]] = [
            (chord, ("", chord.smooth)) for each in holes for chord in each.ring
        ]
        named = [*slab.ring, *inner]
        self.labels = [label for _, label in named]
        self.starts = np.array([chord.start for chord, _ in named])
        self.ways = np.array([chord.to for chord, _ in named]) - self.starts
        self.lengths = np.hypot(self.ways[:, 0], self.ways[:, 1])
        self.ways /= self.lengths[:, None]

    def wall(self, one: Place, two: Place) -> Label:
        """The label of a wall from its two ends; None inside the wood."""
        on = np.ones(len(self.labels), dtype=bool)
        for place in (one, two):
            off = np.array(place) - self.starts
            along = off[:, 0] * self.ways[:, 0] + off[:, 1] * self.ways[:, 1]
            beside = off[:, 0] * self.ways[:, 1] - off[:, 1] * self.ways[:, 0]
            on &= (np.abs(beside) < _NEAR) & (along > -_NEAR) & (along < self.lengths + _NEAR)
        found = np.flatnonzero(on)
        return self.labels[int(found[0])] if len(found) else None

    def cap(self, depth: float) -> Label:
        """The label of a cap at a depth."""
        if abs(depth - self.slab.start) < _NEAR:
            return self.slab.faces[0], 0
        return (self.slab.faces[1], 0) if abs(depth - self.slab.stop) < _NEAR else None


def tool_of(cut: Cut, sizes: Vec, thick: float, error: float, first: int) -> list[Blade]:
    """Return the blades around a convex cut, for wood that is not built from its page.

    The blades look out of the cut.  There is none where the cut runs out of the wood.
    """
    ring = chords(cut.outline, error, hole=True, first=first)
    if cut.out is not None:
        return _slanting_tool(cut, sizes, [*_straightened(ring)], cut.out)
    blades = [_blade(cut.view, sizes, (c.start, c.to), ("", c.smooth)) for c in _straightened(ring)]
    origin = in_space(cut.view, sizes, (0, 0), 0)
    deeper = in_space(cut.view, sizes, (0, 0), 1)
    inward = (deeper[0] - origin[0], deeper[1] - origin[1], deeper[2] - origin[2])
    base = sum(a * b for a, b in zip(inward, origin, strict=True))
    if cut.stop < thick:
        blades.append(Blade(inward, base + float(cut.stop), ("", 0)))
    if cut.start > 0:
        outward = (-inward[0], -inward[1], -inward[2])
        blades.append(Blade(outward, -base - float(cut.start), ("", 0)))
    return blades


def _slanting_tool(cut: Cut, sizes: Vec, ring: Sequence[Chord], out: Vec) -> list[Blade]:
    """Return the blades of a bore: through the chords of its mouth, along the way out of it."""
    depth = float(cut.stop if cut.far else cut.start)
    blades = []
    for chord in ring:
        upright = _blade(cut.view, sizes, (chord.start, chord.to), ("", chord.smooth))
        start, to = (in_space(cut.view, sizes, at, depth) for at in (chord.start, chord.to))
        normal = cross((to[0] - start[0], to[1] - start[1], to[2] - start[2]), out)
        long = math.copysign(math.hypot(*normal), dot(normal, upright.normal))
        looks = (normal[0] / long, normal[1] / long, normal[2] / long)
        blades.append(Blade(looks, dot(looks, start), upright.label))
    if cut.depth is not None:
        places = [in_space(cut.view, sizes, chord.start, depth) for chord in ring]
        x, y, z = (sum(axis) / len(places) for axis in zip(*places, strict=True))
        inward = (-out[0], -out[1], -out[2])
        blades.append(Blade(inward, dot(inward, (x, y, z)) + float(cut.depth), ("", 0)))
    return blades


def _straightened(ring: Sequence[Chord]) -> Iterator[Chord]:
    """Yield the chords that turn from the chord before; one blade does for a straight run."""
    for before, chord in zip((ring[-1], *ring[:-1]), ring, strict=True):
        ax, ay = before.to[0] - before.start[0], before.to[1] - before.start[1]
        bx, by = chord.to[0] - chord.start[0], chord.to[1] - chord.start[1]
        if abs(ax * by - ay * bx) > 1e-9 * (abs(ax) + abs(ay)) * (abs(bx) + abs(by)):
            yield chord


def _blade(view: View, sizes: Vec, ends: tuple[Place, Place], label: Label) -> Blade:
    """Return the plane through a chord, square to the page, looking to the chord's right."""
    (x1, y1), (x2, y2) = ends
    long = ((x2 - x1) ** 2 + (y2 - y1) ** 2) ** 0.5
    start = in_space(view, sizes, (x1, y1), 0)
    out = in_space(view, sizes, (x1 + (y2 - y1) / long, y1 - (x2 - x1) / long), 0)
    normal = (out[0] - start[0], out[1] - start[1], out[2] - start[2])
    return Blade(normal, sum(a * b for a, b in zip(normal, start, strict=True)), label)
