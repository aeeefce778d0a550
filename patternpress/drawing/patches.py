"""Where faces meet: the patch of a face that a new piece is laid on.

In: items in their places.  Out: `Patch`es: rings in space on the receiving facet, mm.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely

from patternpress.assembly.blocks import across
from patternpress.assembly.contacts import SLIVER, lies_on_slope
from patternpress.assembly.solid import Facet, Solid, Vec, dot
from patternpress.drawing.things import Item

Ring = tuple[Vec, ...]
Axes = tuple[Vec, Vec]
_LEVEL = 1e-6
_FACING = 0.7
_TOUCH = 1e-4
# Narrower strips, mm, are the hair of an exact fit.
_THIN = 0.05


@dataclass(frozen=True, slots=True)
class Facing:
    """Says whether a face looks to one of some sides.

    A join that names no faces holds wherever it touches, as a shelf in its groove.
    """

    sides: tuple[Vec, ...]

    def wants(self, normal: Vec) -> bool:
        """Say so of a face by its normal."""
        return not self.sides or any(dot(normal, side) > _FACING for side in self.sides)


@dataclass(frozen=True, slots=True)
class Patch:
    """The part of facet `facet` of the piece `on` that the piece `under` comes to cover.

    Each polygon is an outer ring and its holes.
    """

    on: str
    facet: int
    under: str
    normal: Vec
    polygons: tuple[tuple[Ring, ...], ...]
    glued: bool = True

    @property
    def face(self) -> tuple[str, int, str]:
        """What tells it from others: the piece, its facet, and what comes to lie there."""
        return self.on, self.facet, self.under


def patches_between(new: Item, old: Item, facing: Facing, glued: bool) -> Iterator[Patch]:
    """Yield the patches of `old` that lie against facets of `new` that it wants."""
    low = np.maximum(new.bulk.least, old.bulk.least)
    if (low - np.minimum(new.bulk.most, old.bulk.most)).max() > SLIVER:
        return
    mine = [each for each in new.solid.facets if facing.wants(each.normal)]
    for number, theirs in enumerate(old.solid.facets):
        laid_on = [each for each in mine if _touch(new.solid, each, old.solid, theirs)]
        if not laid_on:
            continue
        axes = across(theirs.normal)
        laid = shapely.union_all([_shadow(new.solid, each, axes) for each in laid_on])
        shared = shapely.intersection(_shadow(old.solid, theirs, axes), laid)
        level = dot(theirs.normal, old.solid.points[theirs.loops[0][0]])
        polygons = tuple(_in_space(shared, theirs.normal, level, axes))
        if polygons:
            yield Patch(old.key, number, new.key, theirs.normal, polygons, glued)


def _touch(one: Solid, mine: Facet, other: Solid, theirs: Facet) -> bool:
    if max(abs(a + b) for a, b in zip(mine.normal, theirs.normal, strict=True)) > _LEVEL:
        return lies_on_slope(one, mine, other, theirs)
    at = dot(mine.normal, one.points[mine.loops[0][0]])
    return abs(at + dot(theirs.normal, other.points[theirs.loops[0][0]])) <= _TOUCH


def _shadow(solid: Solid, facet: Facet, axes: Axes) -> Any:
    rings = [
        [(dot(axes[0], solid.points[n]), dot(axes[1], solid.points[n])) for n in loop]
        for loop in facet.loops
    ]
    return shapely.Polygon(rings[0], rings[1:])


def _in_space(shape: Any, normal: Vec, level: float, axes: Axes) -> Iterator[tuple[Ring, ...]]:
    """Yield the polygons of a shape in a plane as rings in space, without slivers."""
    first, second = axes
    for part in shapely.get_parts(shapely.normalize(shape)):
        if part.geom_type != "Polygon" or part.buffer(-_THIN / 2).is_empty:
            continue
        rings = []
        for ring in (part.exterior, *part.interiors):
            points = shapely.get_coordinates(ring).tolist()[:-1]
            rings.append(tuple(_point(x, y, normal, level, first, second) for x, y in points))
        yield tuple(rings)


def _point(x: float, y: float, normal: Vec, level: float, first: Vec, second: Vec) -> Vec:
    return (
        x * first[0] + y * second[0] + level * normal[0],
        x * first[1] + y * second[1] + level * normal[1],
        x * first[2] + y * second[2] + level * normal[2],
    )
