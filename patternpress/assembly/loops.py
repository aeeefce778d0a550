"""Corners of facets by number, and loops of them tidied up.

In: places in space and loops of them.  Out: numbers, the same for places nearer than 1e-6 mm,
and loops whose edges run from corner to corner, so that neighbours walk the same edges.
"""

import math
from collections import defaultdict
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise, product
from operator import itemgetter

import numpy as np
from numpy.typing import NDArray

from patternpress.assembly.blocks import dot
from patternpress.assembly.solid import Vec

Array = NDArray[np.float64]
NEAR = 1e-6
_CELL = 4 * NEAR  # wide enough that most places lie near one cell only


class Places:
    """All corners, each place once, numbered in the order in which they come."""

    def __init__(self, points: Iterable[Vec]) -> None:
        self.known: list[Vec] = []
        self._exact: dict[Vec, int] = {}
        self._cells: dict[tuple[int, ...], list[int]] = defaultdict(list)
        for point in points:
            self.number(point)

    def number(self, point: Vec) -> int:
        """The number of a place; a new one for a place that is near no other."""
        if point in self._exact:
            return self._exact[point]
        cell = tuple(round(each / _CELL) for each in point)
        near = [
            number
            for beside in _cells_near(point)
            for number in self._cells.get(beside, ())
            if _square(self.known[number], point) < NEAR * NEAR
        ]
        if near:
            self._exact[point] = min(near, key=lambda n: _square(self.known[n], point))
        else:
            self._exact[point] = len(self.known)
            self._cells[cell].append(len(self.known))
            self.known.append(point)
        return self._exact[point]


def _cells_near(point: Vec) -> Iterator[tuple[int, ...]]:
    """Yield the cells that reach nearer than a place may lie: one along each axis, or two."""
    lows = (round((each - NEAR) / _CELL) for each in point)
    highs = (round((each + NEAR) / _CELL) for each in point)
    return product(*((a,) if a == b else (a, b) for a, b in zip(lows, highs, strict=True)))


def _square(one: Vec, two: Vec) -> float:
    return sum((a - b) ** 2 for a, b in zip(one, two, strict=True))


def straightened(places: Places, loop: Sequence[Vec]) -> list[int]:
    """Return a loop's corners by number, without those in the middle of a straight edge."""
    numbers: list[int] = []
    for point in loop:
        number = places.number(point)
        if not numbers or number != numbers[-1]:
            numbers.append(number)
    if len(numbers) > 1 and numbers[0] == numbers[-1]:
        numbers.pop()
    index = 0
    while len(numbers) > 2 and index < len(numbers):
        before, here, after = (numbers[(index + i) % len(numbers)] for i in (-1, 0, 1))
        if _beside(places.known, (before, after), here) < NEAR:
            numbers.pop(index)
            index = max(index - 1, 0)
        else:
            index += 1
    return numbers if len(numbers) > 2 else []


def _beside(known: Sequence[Vec], edge: tuple[int, int], number: int) -> float:
    start, to, point = (known[each] for each in (*edge, number))
    way = (to[0] - start[0], to[1] - start[1], to[2] - start[2])
    off = (point[0] - start[0], point[1] - start[1], point[2] - start[2])
    square = dot(way, way)
    along = dot(way, off) / square if square else 0.0
    return math.dist(off, (way[0] * along, way[1] * along, way[2] * along))


def met(places: Places, loops: Sequence[Sequence[int]], corners: Sequence[int]) -> list[list[int]]:
    """Return loops with the corners of other facets that lie on their edges put in."""
    points = np.array([places.known[number] for number in corners])
    return [_met(places.known, loop, corners, points) for loop in loops if loop]


def _met(
    known: Sequence[Vec], loop: Sequence[int], corners: Sequence[int], points: Array
) -> list[int]:
    starts = np.array([known[number] for number in loop])
    ways = np.roll(starts, -1, axis=0) - starts
    long = np.linalg.norm(ways, axis=1)[:, None]
    ways /= long
    # How far each corner is off each start: a table for each axis, as long rows are summed sooner.
    x, y, z = (points[:, axis] - starts[:, axis, None] for axis in range(3))
    u, v, w = (ways[:, axis, None] for axis in range(3))
    along = x * u + y * v + z * w
    beside = np.sqrt((x - along * u) ** 2 + (y - along * v) ** 2 + (z - along * w) ** 2)
    on = (beside < 2 * NEAR) & (along > NEAR) & (along < long - NEAR)
    found: list[int] = []
    for edge, (start, to) in enumerate(pairwise((*loop, loop[0]))):
        between = [(float(along[edge, i]), corners[i]) for i in np.flatnonzero(on[edge]).tolist()]
        found.append(start)
        ordered = sorted(between, key=itemgetter(0))
        found += [number for _, number in ordered if number not in (start, to)]
    return found
