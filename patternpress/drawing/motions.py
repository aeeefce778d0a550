"""How a piece comes to its place, told backwards: which way it leaves, and how far.

In: items where they sit, the joins' contacts, and how the work lies.  Out: a way (a direction
of length 1 away from the place) and a distance in mm that takes the piece clear of the rest.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np

from patternpress.assembly.contacts import ways_out
from patternpress.assembly.lying import bench_way
from patternpress.assembly.pose import DIRECTION
from patternpress.assembly.solid import Vec, dot
from patternpress.drawing.things import Item

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
    """The way off and its length in mm; `blocked` if no straight way is free.

    `place` is how far the place itself is away, where the thing comes to another that moves.
    """

    way: Vec
    far: float
    blocked: bool = False
    place: Vec = (0.0, 0.0, 0.0)

    @property
    def shift(self) -> Vec:
        """The whole displacement."""
        x, y, z = (p + w * self.far for p, w in zip(self.place, self.way, strict=True))
        return x, y, z

    def farther(self, share: float) -> Motion:
        """The same way, so many times as long, as that of what it comes to."""
        x, y, z = self.place
        place = (x * share, y * share, z * share)
        return replace(self, far=self.far * share, place=place)


def side_way(side: str) -> Vec:
    """Return the outward direction of a side."""
    x, y, z = (float(each) for each in DIRECTION[side])
    return x, y, z


def opposite(way: Vec) -> Vec:
    """Return the direction turned round."""
    return -way[0], -way[1], -way[2]


def way_off(
    moving: Sequence[Item],
    rest: Sequence[Item],
    away: Sequence[Away],
    lies: str,
    shared: Sequence[Vec] = (),
    room: float = math.inf,
) -> tuple[Vec, bool]:
    """Return the way in which things leave, and whether it is free.

    Among the ways that are free the one that leads off the joined faces; rather not one of
    those `shared` with new pieces that it touches, whose faces it would then cover; where no
    faces are named, the shortest; then the one that suits hands best.  Where none is free, the
    one with the least in its way.  What is more than `room` mm off is not in the way.
    """
    ways = [*(bench_way(lies, each) for each in _HANDY), *_slanting(away)]
    ahead = {way: within(moving, rest, way, room) for way in ways}
    open_ways = [w for w in ways if not any(hits(moving, other, w) for other in ahead[w])]
    least_blocked = open_ways or _least_blocked(moving, ahead)

    def liking(way: Vec) -> tuple[float, bool, float, int]:
        off = sum(dot(way, each.way) * (1.0 if each.glued else 0.8) for each in away)
        short = 0.0 if away else -clear_distance(moving, rest, way, 0.0)
        covers = off > 0 and way in shared
        return round(min(off, 1.0), 6), not covers, round(short, 6), -ways.index(way)

    return max(least_blocked, key=liking), bool(open_ways)


def _least_blocked(moving: Sequence[Item], ahead: Mapping[Vec, Sequence[Item]]) -> list[Vec]:
    """Return the ways in which things meet the fewest others; which these are is known of none
    until all are asked, so it is only asked where no way is open.
    """
    blocks = {way: sum(hits(moving, e, way) for e in others) for way, others in ahead.items()}
    least = min(blocks.values())
    return [way for way, count in blocks.items() if count == least]


def hits(moving: Sequence[Item], other: Item, way: Vec) -> bool:
    """Say whether things that are drawn along a way without end meet the wood of another."""
    moving = [each for each in moving if _may_meet(each, other, way)]
    if not moving:
        return False
    bulks = [each.bulk for each in moving]
    return not any(True for _ in ways_out(bulks, (other.bulk,), (way,)))


def _may_meet(one: Item, other: Item, way: Vec) -> bool:
    """Say whether the box of a thing, drawn along one of the axes, meets that of another."""
    level = np.abs(np.array(way)) < _TOUCH
    if level.sum() != 2:
        return True
    low, high = one.bulk.least, one.bulk.most
    from_, to = other.bulk.least, other.bulk.most
    if (np.minimum(high, to) - np.maximum(low, from_))[level].min() < -_TOUCH:
        return False
    axis = int(np.flatnonzero(~level)[0])
    ahead = to[axis] - low[axis] if way[axis] > 0 else high[axis] - from_[axis]
    return bool(ahead > -_TOUCH)


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


def within(moving: Sequence[Item], rest: Sequence[Item], way: Vec, room: float) -> list[Item]:
    """Return the things that do not lie more than `room` mm ahead along a way."""
    front = max(_foremost(each, way) for each in moving)
    back = opposite(way)
    return [each for each in rest if -_foremost(each, back) < front + room]


def _foremost(item: Item, way: Vec) -> float:
    """Return how far along a way the foremost corner of an item's box lies."""
    direction = np.array(way)
    return float(np.where(direction > 0, item.bulk.most, item.bulk.least) @ direction)


def _overlap(one: Item, other: Item, way: Vec) -> float:
    """Return how far one box must go along a way to be past another that stands in it."""
    low_a, high_a = one.bulk.least, one.bulk.most
    low_b, high_b = other.bulk.least, other.bulk.most
    direction = np.array(way)
    across = np.abs(direction) < _TOUCH
    shared = np.minimum(high_a, high_b) - np.maximum(low_a, low_b)
    if (shared[across] <= _TOUCH).any():
        return 0.0
    mine = np.where(direction > 0, low_a, high_a) @ direction
    theirs = np.where(direction > 0, high_b, low_b) @ direction
    return max(0.0, float(theirs - mine))
