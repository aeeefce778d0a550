"""Join blocks to one solid.

In: convex blocks that touch only along their faces.  Out: a `Solid` whose facets are the faces
that are left when faces of touching blocks have cancelled out; neighbours in one plane with the
same label become one facet.  Places nearer than 1e-6 mm are one place.
"""

from collections import Counter, defaultdict
from collections.abc import Iterable, Iterator, Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry
from shapely.geometry.polygon import orient

from patternpress.assembly.blocks import Block, Label, dot
from patternpress.assembly.loops import NEAR, Places, met, straightened
from patternpress.assembly.polygons import Place
from patternpress.assembly.solid import Facet, Solid, Vec, facet

Array = NDArray[np.float64]
# Polygons are worked out on this grid, mm.
_GRID = 1e-8


class _Sheet:
    """A plane with all the faces that lie in it, seen along the axis that it faces most.

    Faces that look the way of `normal` are in front, others behind.
    """

    def __init__(self, normal: Vec, offset: float) -> None:
        self.normal = normal
        self.offset = offset
        self.axis = max(range(3), key=lambda axis: abs(normal[axis]))
        flat = [axis for axis in range(3) if axis != self.axis]
        # The two other axes, in the order that keeps anticlockwise loops anticlockwise.
        swapped = (normal[self.axis] < 0) != (self.axis == 1)
        self.across, self.up = reversed(flat) if swapped else flat
        self.front: dict[Label, list[shapely.Polygon]] = defaultdict(list)
        self.behind: dict[Label, list[shapely.Polygon]] = defaultdict(list)

    def take(self, points: Sequence[Vec], normal: Vec, label: Label) -> None:
        """Put a face in."""
        polygon = shapely.Polygon([(p[self.across], p[self.up]) for p in points])
        side = self.front if dot(normal, self.normal) > 0 else self.behind
        side[label].append(polygon)

    def lifted(self, place: Place) -> Vec:
        """The point of the plane that shows at a place."""
        at = [0.0, 0.0, 0.0]
        at[self.across], at[self.up] = place
        rest = self.offset - dot(self.normal, (at[0], at[1], at[2]))
        at[self.axis] = rest / self.normal[self.axis]
        return at[0], at[1], at[2]

    def bare(self) -> Iterator[tuple[list[list[Vec]], Label]]:
        """The loops and the label of each facet that no other block covers."""
        for ours, theirs, turned in (
            (self.front, self.behind, False),
            (self.behind, self.front, True),
        ):
            cover = [each for faces in theirs.values() for each in faces]
            for label in sorted(ours, key=lambda each: each or ("", -1)):
                faces = ours[label]
                # Faces of blocks are convex: one that stands alone is sound as it is.
                alone = len(faces) == 1 and not cover
                wood = faces[0] if alone else shapely.union_all(faces, grid_size=_GRID)
                if cover:
                    covered = shapely.union_all(cover, grid_size=_GRID)
                    wood = shapely.difference(wood, covered, grid_size=_GRID)
                for polygon in _whole(wood):
                    rings = [polygon.exterior, *polygon.interiors]
                    loops = [[self.lifted(at) for at in ring.coords[:-1]] for ring in rings]
                    yield [loop[::-1] for loop in loops] if turned else loops, label


def joined(blocks: Iterable[Block]) -> Solid:
    """Return the solid that blocks make together.

    A face without a label that stays bare (the floor of a cut) gets the side ''.
    """
    blocks = list(blocks)
    places = Places([point for block in blocks for point in block.points])
    sheets = _sheets(_uncovered(blocks, places))
    raw = [
        ([straightened(places, loop) for loop in loops], label or ("", 0))
        for sheet in sheets
        for loops, label in sheet.bare()
    ]
    kept = [(loops, label) for loops, label in raw if loops[0]]
    corners = sorted({number for loops, _ in kept for loop in loops for number in loop})
    return _numbered(places, [(met(places, loops, corners), label) for loops, label in kept])


def _uncovered(blocks: Sequence[Block], places: Places) -> Iterator[tuple[list[Vec], Vec, Label]]:
    """Yield corners, normal and label of each face that is not the same as a neighbour's face."""
    found = []
    for block in blocks:
        numbers = [places.number(point) for point in block.points]
        found += [(block, face, frozenset(numbers[n] for n in face.loop)) for face in block.faces]
    count = Counter(corners for _, _, corners in found)
    for block, face, corners in found:
        if count[corners] == 1:
            points = [block.points[number] for number in face.loop]
            yield points, facet(block.points, (face.loop,)).normal, face.label


def _sheets(faces: Iterable[tuple[list[Vec], Vec, Label]]) -> list[_Sheet]:
    faces = list(faces)
    found: list[_Sheet] = []
    normals, offsets = np.empty((len(faces), 3)), np.empty(len(faces))
    for points, normal, label in faces:
        index = _in_plane(normals[: len(found)], offsets[: len(found)], points, normal)
        if index is None:
            index = len(found)
            offset = sum(dot(normal, point) for point in points) / len(points)
            found.append(_Sheet(normal, offset))
            normals[index], offsets[index] = normal, offset
        found[index].take(points, normal, label)
    return found


def _in_plane(normals: Array, offsets: Array, points: Sequence[Vec], normal: Vec) -> int | None:
    """Return which of the known planes holds all points of a face."""
    if not len(offsets):
        return None
    off = np.abs(normals @ np.array(points).T - offsets[:, None]).max(axis=1)
    found = np.flatnonzero((off < NEAR) & (np.abs(normals @ np.array(normal)) > 0.99))
    return int(found[np.argmin(off[found])]) if len(found) else None


def _whole(wood: BaseGeometry) -> Iterator[shapely.Polygon]:
    """Yield the polygons of some wood, anticlockwise, without the slivers that rounding leaves."""
    for each in getattr(wood, "geoms", [wood]):
        if isinstance(each, shapely.Polygon) and each.area > NEAR * each.length:
            holes = [h for h in each.interiors if shapely.Polygon(h).area > NEAR * h.length]
            yield orient(shapely.Polygon(each.exterior, holes))


def _numbered(places: Places, loops: Sequence[tuple[list[list[int]], tuple[str, int]]]) -> Solid:
    """Return the solid, its points numbered anew in the order of their use."""
    new: dict[int, int] = {}
    for rings, _ in loops:
        for ring in rings:
            for number in ring:
                new.setdefault(number, len(new))
    points = tuple(places.known[number] for number in new)
    facets: list[Facet] = []
    for rings, (side, smooth) in loops:
        facets.append(facet(points, [[new[n] for n in ring] for ring in rings], side, smooth))
    return Solid(points, tuple(facets))
