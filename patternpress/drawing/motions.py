"""How a piece comes to its place, told backwards: which way it leaves, and how far.

In: items where they sit, the joins' contacts, and how the work lies.  Out: a way (a direction
of length 1 away from the place) and a distance in mm that takes the piece clear of the rest.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from patternpress.assembly.contacts import slide_out
from patternpress.assembly.pose import DIRECTION
from patternpress.assembly.solid import Matrix, Vec, dot
from patternpress.drawing.things import UNTURNED, Item

# What the work's own directions become on the bench: rows are the bench's right, back and up,
# each told in directions of the work.
BENCH: dict[str, Matrix] = {
    "upright": UNTURNED,
    "on its back": ((1, 0, 0), (0, 0, 1), (0, -1, 0)),
    "on its front": ((-1, 0, 0), (0, 0, 1), (0, 1, 0)),
    "on its left": ((0, 0, -1), (0, 1, 0), (1, 0, 0)),
    "on its right": ((0, 0, 1), (0, 1, 0), (-1, 0, 0)),
    "on its top": ((-1, 0, 0), (0, 1, 0), (0, 0, -1)),
}
# Hands come from above first, then from the front; nothing comes up through the bench.
_HANDY: tuple[Vec, ...] = ((0, 0, 1), (0, -1, 0), (-1, 0, 0), (1, 0, 0), (0, 1, 0), (0, 0, -1))
_TOUCH = 1e-6


@dataclass(frozen=True, slots=True)
class Away:
    """A face that a join lays against another: the way off it, and whether there is glue."""

    way: Vec
    glued: bool


@dataclass(frozen=True, slots=True)
class Motion:
    """The way off and its length in mm; `blocked` if no straight way is free."""

    way: Vec
    far: float
    blocked: bool = False

    @property
    def shift(self) -> Vec:
        """The whole displacement."""
        return self.way[0] * self.far, self.way[1] * self.far, self.way[2] * self.far


def side_way(side: str) -> Vec:
    """Return the outward direction of a side."""
    x, y, z = (float(each) for each in DIRECTION[side])
    return x, y, z


def opposite(way: Vec) -> Vec:
    """Return the direction turned round."""
    return -way[0], -way[1], -way[2]


def bench_way(lies: str, way: Vec) -> Vec:
    """Return a direction of the bench as a direction of the work that lies on it."""
    rows = BENCH[lies]
    x, y, z = (sum(way[row] * rows[row][axis] for row in range(3)) for axis in range(3))
    return x, y, z


def way_off(
    moving: Sequence[Item], rest: Sequence[Item], away: Sequence[Away], lies: str
) -> tuple[Vec, bool]:
    """Return the way in which things leave, and whether it is free.

    Among the ways that are free the one that leads off the joined faces; of two such ways the
    one that suits hands better.
    """
    extra = _slanting(away)
    handy = [bench_way(lies, each) for each in _HANDY]
    ways: list[Vec] = [*handy, *extra]
    free = set(ways)
    for item in moving:
        free &= set(slide_out(item.bulk, [each.bulk for each in rest], ways))
    choice = [way for way in ways if way in free] or ways

    def liking(way: Vec) -> tuple[float, float]:
        off = sum(dot(way, each.way) * (1.0 if each.glued else 0.8) for each in away)
        # A little less for each place down the list of handy ways.
        return round(min(off, 1.0), 6), -ways.index(way)

    return max(choice, key=liking), bool(free)


def _slanting(away: Sequence[Away]) -> list[Vec]:
    """Return the mean way off, where it runs along no axis and the faces agree on it."""
    total = [sum(each.way[axis] for each in away) for axis in range(3)]
    length = math.hypot(*total)
    if len(away) != 1 or length < 0.5:
        return []
    mean = (total[0] / length, total[1] / length, total[2] / length)
    return [] if max(abs(each) for each in mean) > 1 - 1e-9 else [mean]


def clear_distance(moving: Sequence[Item], rest: Sequence[Item], way: Vec, gap: float) -> float:
    """Return how far things go along a way until all that lies ahead is a gap behind them."""
    need = 0.0
    for one in moving:
        for other in rest:
            need = max(need, _overlap(one, other, way))
    return need + gap


def _overlap(one: Item, other: Item, way: Vec) -> float:
    """Return how far one box must go along a way to be past another that stands in it."""
    low_a, high_a = one.bulk.low.min(axis=0), one.bulk.high.max(axis=0)
    low_b, high_b = other.bulk.low.min(axis=0), other.bulk.high.max(axis=0)
    direction = np.array(way)
    across = np.abs(direction) < _TOUCH
    shared = np.minimum(high_a, high_b) - np.maximum(low_a, low_b)
    if (shared[across] <= _TOUCH).any():
        return 0.0
    mine = np.where(direction > 0, low_a, high_a) @ direction
    theirs = np.where(direction > 0, high_b, low_b) @ direction
    return max(0.0, float(theirs - mine))
