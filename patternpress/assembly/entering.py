"""What goes into which holes and grooves as a thing comes to its place, said or not.

In: a `Worked` design and its `Assembly`.  Out: `Entering`s: the holes and grooves that the thing
goes into, and those of its own that go over what is there.  A join names the hole that places a
piece; a buyer needs all that it passes.  Judged on solids, in floats.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

import numpy as np

from patternpress.assembly.body import SIDE_AXIS
from patternpress.assembly.bulks import bulks_of, floats, offset
from patternpress.assembly.convex import Array, Bulk, boxes_touch, bulk, penetration, placed
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.gluing import loose_things, works_around
from patternpress.assembly.leaning import rounds_of
from patternpress.assembly.marked import extent, hole_axis, hole_centre, hole_side
from patternpress.assembly.placing import Assembly, Placed
from patternpress.assembly.pose import UNIT, Pose, Vector
from patternpress.assembly.screwed import is_screw
from patternpress.assembly.sizes import AXES
from patternpress.assembly.solid import box
from patternpress.assembly.specs import PAGE_AXES, VIEW_OF_THIN
from patternpress.assembly.thing import sign_of
from patternpress.assembly.worked import Worked
from patternpress.design.records.parts import Groove, Hole
from patternpress.design.records.work import Joined

# mm that a thing goes into a hole or a groove at least.
HAIR = 0.05
LEEWAY = 0.01  # mm
# A square within a round hole, as a share of its width: what fills the hole fills that.
WITHIN = Fraction(7, 10)


@dataclass(frozen=True)
class Hollow:
    """A hole or a groove as a box in its part's own frame, mm.

    `axis`: the one across a groove or along a hole; `wide`: how wide it is, a hole at its
    narrowest.  `through`: whether a hole goes right through.
    """

    kind: str
    name: str
    low: Vector
    high: Vector
    axis: int
    wide: Fraction
    through: bool = False


@dataclass(frozen=True)
class Entering:
    """A piece that is in a hole or a groove of another, once both are in their places."""

    holder: Placed
    hollow: Hollow
    guest: Placed
    loose: bool  # whether the one that was there first is not glued


def entered(
    worked: Worked, assembly: Assembly, number: int, joined: Joined
) -> tuple[tuple[Entering, ...], tuple[Entering, ...]]:
    """The holes and grooves that a join's thing goes into, and those of its own that go over what
    is there.  Of a row, those of the first.  Screws make their way by themselves.
    """
    mine, there = works_around(worked, assembly, number, joined)
    if not mine or is_screw(worked, joined):
        return (), ()
    mine = [each for each in mine if each.brought == mine[0].brought]
    finder = _Finder(worked, assembly)
    into = (e for one in mine for other in there for e in finder.between(other, one, other))
    over = (e for one in mine for other in there for e in finder.between(one, other, other))
    return tuple(into), tuple(over)


class _Finder:
    def __init__(self, worked: Worked, assembly: Assembly) -> None:
        self.worked, self.assembly = worked, assembly
        self._bulks = bulks_of(worked, assembly)
        self._loose = loose_things(worked, assembly)

    def between(self, holder: Placed, guest: Placed, first: Placed) -> Iterator[Entering]:
        """The hollows of one piece that another is in; `first` was there before the other."""
        bearer, wood = self._bulks.of(holder), self._bulks.of(guest)
        if bearer is None or wood is None or not boxes_touch(bearer, wood, HAIR):
            return
        loose = first.brought in self._loose
        for hollow, room in self._hollows(holder):
            clash = penetration(room, wood)
            if clash is None or clash.depth < HAIR:
                continue
            if _fits(wood, room, holder, hollow):
                yield Entering(holder, hollow, guest, loose)

    def _hollows(self, holder: Placed) -> Iterator[tuple[Hollow, Bulk]]:
        kept: dict[str, list[tuple[Hollow, Bulk]]] = self.assembly.kept.setdefault("hollows", {})
        part = self._bulks.by_name[holder.part]
        if part.name not in kept:
            kept[part.name] = [(each, room_of(each)) for each in hollows(self.worked, part)]
        for each, room in kept[part.name]:
            yield each, placed(room, floats(holder.pose), offset(holder.pose))


def hollows(worked: Worked, part: CutPart) -> Iterator[Hollow]:
    """The holes and grooves of a part; rebates, which are open to two sides, are left out."""
    for hole in part.part.holes:
        yield from _holes(worked, part, hole)
    for groove in part.part.grooves:
        found = _groove(worked, part, groove)
        if found is not None:
            yield found


def _holes(worked: Worked, part: CutPart, hole: Hole) -> Iterator[Hollow]:
    axis = hole_axis(hole, part)
    deep = worked.solver.value(hole.deep) if hole.deep else None
    if hole.round is not None:
        spots = [
            (each.centre, [each.wide * WITHIN] * 3) for each in rounds_of(worked, part, hole, axis)
        ]
    else:
        said = [worked.solver.value(each) for each in hole.slot or hole.window or ()]
        sizes = [each.value for each in said if each is not None]
        across = [Fraction(0)] * 3
        for name, size in zip(PAGE_AXES[VIEW_OF_THIN[AXES[axis]]], sizes, strict=False):
            across[AXES.index(name)] = size
        spots = [(hole_centre(hole, part, axis, worked), across)]
    for centre, wide in spots:
        low = [at - size / 2 for at, size in zip(centre, wide, strict=True)]
        high = [at + size / 2 for at, size in zip(centre, wide, strict=True)]
        whole = extent(part, axis)
        low[axis], high[axis] = _depth(hole_side(hole, part), deep.value if deep else whole, whole)
        least = min(size for index, size in enumerate(wide) if index != axis)
        yield Hollow(
            "hole", hole.name.value, _vector(low), _vector(high), axis, least, deep is None
        )


def _groove(worked: Worked, part: CutPart, groove: Groove) -> Hollow | None:
    value = worked.solver.value
    far = value(groove.at.distance) if groove.at else None
    wide, deep = value(groove.wide), value(groove.deep)
    if groove.at is None or far is None or wide is None or deep is None:
        return None
    low, high = [Fraction(0)] * 3, [extent(part, axis) for axis in range(3)]
    side, beside = groove.on.value[0], groove.at.side
    into, across = SIDE_AXIS[side], SIDE_AXIS[beside]
    low[into], high[into] = _depth(side, deep.value, high[into])
    near = far.value if sign_of(beside) < 0 else high[across] - far.value - wide.value
    low[across], high[across] = near, near + wide.value
    for stop in groove.stopped:
        short, axis = value(stop.distance), SIDE_AXIS[stop.side]
        if short is not None and sign_of(stop.side) < 0:
            low[axis] = short.value
        elif short is not None:
            high[axis] -= short.value
    name = groove.name.value
    return Hollow("groove", name, _vector(low), _vector(high), across, wide.value)


def _depth(side: str, far: Fraction, whole: Fraction) -> tuple[Fraction, Fraction]:
    """From where to where something reaches that goes so far in from a side."""
    return (Fraction(0), far) if sign_of(side) < 0 else (whole - far, whole)


def _vector(three: list[Fraction]) -> Vector:
    return three[0], three[1], three[2]


def room_of(hollow: Hollow) -> Bulk:
    """A hole or a groove as a solid in its part's own frame."""
    wide, deep, high = (float(b - a) for a, b in zip(hollow.low, hollow.high, strict=True))
    room = bulk(box(wide, deep, high))
    at = Pose(offset=hollow.low)
    return placed(room, floats(at), offset(at))


def _fits(wood: Bulk, room: Bulk, holder: Placed, hollow: Hollow) -> bool:
    """Whether a piece lies within the width of a groove: else it meets the other at a mitred
    corner, or crosses it.  Whether it is longer than a hole is wide: a pane that lies in a
    window does not go in.
    """
    way = np.array([float(each) for each in holder.pose.turn(UNIT[hollow.axis])])
    low, high = _span(wood, way)
    if hollow.kind == "groove":
        least, most = _span(room, way)
        return least - LEEWAY < low and high < most + LEEWAY
    return high - low >= hollow.wide


def _span(thing: Bulk, way: Array) -> tuple[float, float]:
    """From where to where a thing reaches along a direction."""
    along = np.concatenate([each.points for each in thing.hulls]) @ way
    return float(along.min()), float(along.max())
