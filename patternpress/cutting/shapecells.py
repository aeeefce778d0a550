"""A job as cells of a grid, for laying outlines between each other, and back.

In: a job and how many pieces of each item are laid.  Out: a `Cells`: its shapes as masks, half a
kerf wider all round, its boards as fields; and from places in cells, boards in mm.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

import numpy as np
from shapely import Polygon, box
from shapely.affinity import affine_transform

from patternpress.cutting.contours import mirrored, turned
from patternpress.cutting.jobs import Item, Job, Sheet
from patternpress.cutting.laid import LaidBoard
from patternpress.cutting.offcuts import largest_offcut
from patternpress.cutting.packing.masks import mask_of
from patternpress.cutting.packing.nesting import Field, Lying, Nest, Sort
from patternpress.cutting.parting import gone_from, usable
from patternpress.cutting.slicing import Area, Spot

GRIDS = (*(Fraction(1, n) for n in (4, 3, 2)), Fraction(1), Fraction(2), Fraction(4))
MOST_CLASHES = 4_000_000  # cells of all pairs of shapes: the finest grid is taken that keeps to it
MOST_CELLS = 6_000_000  # cells of a board, for all shapes in all their turns
GROWN = 0.012  # mm: what flattened outlines may miss


@dataclass(frozen=True, slots=True)
class Way:
    """How a piece may lie: its turn in degrees, whether it is turned over, its outline so."""

    item: int
    turn: int
    mirrored: bool
    shape: Polygon
    along: Fraction
    across: Fraction


@dataclass(frozen=True, slots=True)
class Cells:
    """A job on a grid of so many mm; what each mask of each sort of its nest stands for."""

    job: Job
    grid: Fraction
    nest: Nest
    ways: tuple[tuple[Way, ...], ...]
    groups: tuple[str, ...]

    def spot(self, lying: Lying) -> Spot:
        """A piece in mm on its sheet."""
        way = self.ways[lying.sort][lying.mask]
        x, y = (self.job.trim + self.grid * each for each in (lying.x, lying.y))
        return Spot(way.item, x, y, way.along, way.across, way.turn, way.mirrored)


def cells_of(job: Job, held: Sequence[int]) -> Cells | None:
    """The job on the finest grid that keeps to the limits of work; nothing if none does."""
    sorts = [each for n, item in enumerate(job.items) for each in _sorts(n, item, held[n])]
    ways = [way for each, _ in sorts for way in each]
    pairs = sum(float((a.along + b.along) * (a.across + b.across)) for a in ways for b in ways) / 2
    area = max(float(sheet.along * sheet.across) for sheet in job.sheets) * len(ways)
    for grid in GRIDS:
        if pairs <= MOST_CLASHES * grid**2 and area <= MOST_CELLS * grid**2:
            made = [_sort(each, count, job.kerf, grid) for each, count in sorts]
            groups = tuple(job.items[each[0].item].board for each, _ in sorts)
            return Cells(job, grid, Nest([s for s, _ in made]), tuple(w for _, w in made), groups)
    return None


def _sorts(number: int, item: Item, count: int) -> Iterator[tuple[list[Way], int]]:
    """An item's pieces as they are, and those that are its mirror image, in all their turns."""
    contour = item.contour
    if not count:
        return
    turns = (0, 90, 180, 270) if item.turns else (0, 180)
    if contour is None:
        plain = box(0, 0, float(item.along), float(item.across))
        yield [_way(number, item, plain, turn, False) for turn in turns if turn < 180], count
        return
    over = min(contour.mirrored, count)
    if count > over:
        yield [_way(number, item, contour.polygon, turn, False) for turn in turns], count - over
    if over:
        flipped = mirrored(contour.polygon, float(item.along))
        yield [_way(number, item, flipped, turn, True) for turn in turns], over


def _way(number: int, item: Item, shape: Polygon, turn: int, over: bool) -> Way:
    lies = turned(shape, turn, (float(item.along), float(item.across)))
    along, across = (item.across, item.along) if turn % 180 else (item.along, item.across)
    return Way(number, turn, over, lies, along, across)


def _sort(
    ways: Sequence[Way], count: int, kerf: Fraction, grid: Fraction
) -> tuple[Sort, tuple[Way, ...]]:
    """The masks of a sort; of turns that look the same, only the first."""
    kept: list[Way] = []
    masks: list[np.ndarray] = []
    for way in ways:
        wide, high = (math.ceil((size + kerf) / grid) for size in (way.along, way.across))
        half = float(kerf) / 2
        # Sixteen chords a quarter fall short of the circle by the cosine of half of one.
        reach = half / math.cos(math.pi / 64) + GROWN
        wider = box(-half, -half, float(way.along) + half, float(way.across) + half)
        grown = way.shape.buffer(reach, quad_segs=16).intersection(wider)
        scale = 1 / float(grid)
        in_cells = affine_transform(grown, [scale, 0, 0, scale, half * scale, half * scale])
        mask = mask_of(in_cells, wide, high)
        if not any(np.array_equal(mask, other) for other in masks):
            kept.append(way)
            masks.append(mask)
    return Sort(tuple(masks), count), tuple(kept)


def field_of(sheet: Sheet, cells: Cells) -> Field:
    """A sheet as cells, trimmed; half a kerf may run out over each edge."""
    job, grid = cells.job, cells.grid
    sizes = (sheet.along, sheet.across)
    wide, high = (max(0, math.floor((s - 2 * job.trim + job.kerf) / grid)) for s in sizes)
    gone = []
    for area in (each.area for each in gone_from(sheet)):
        # Both what is gone and the pieces beside it are half a kerf wider.
        left, low = (max(0, math.floor((at - job.trim) / grid)) for at in (area.x, area.y))
        ends = (area.x + area.along, area.y + area.across)
        right, top = (math.ceil((end - job.trim + job.kerf) / grid) for end in ends)
        right, top = min(right, wide), min(top, high)
        if left < right and low < top:
            gone.append((left, low, right - left, top - low))
    return Field(wide, high, tuple(gone))


def board_of(sheet: Sheet, lying: Sequence[Lying], cells: Cells) -> LaidBoard:
    """A sheet with its pieces, and the largest rectangle that is left of it."""
    spots = tuple(cells.spot(each) for each in lying)
    taken = [Area(s.x, s.y, s.along, s.across) for s in spots]
    taken += [each.area for each in gone_from(sheet)]
    rest = largest_offcut(usable(sheet, cells.job), taken, cells.job.kerf)
    return LaidBoard(sheet, spots, (), (rest,) if rest else (), by_shape=True)
