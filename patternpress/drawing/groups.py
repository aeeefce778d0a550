"""Which of the things that a step joins move together, which way, and how far.

In: the things of a step, in the order of its joins, and what is there already.  Out: `Group`s:
like things with one motion.  Told backwards, as taking off what was joined last.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from patternpress.assembly.solid import Vec, dot
from patternpress.drawing.motions import Away, Motion, clear_distance, hits, way_off, within
from patternpress.drawing.patches import Facing, patches_between
from patternpress.drawing.things import Item, shifted, span_of

# Air between a piece and its place, as a share of the work's greatest size.
GAP = 0.2
# And how far it may hang in the air at most.
LONGEST = 0.6
# How deep a box may be that a thin thing is drawn clear of, in the same share.
OUT = 0.8
_LEVEL = 1e-6
STILL: Vec = (0.0, 0.0, 0.0)


@dataclass(frozen=True, eq=False)
class Group:
    """What moves alike in a step and gets one arrow: equal pieces, or one sub-assembly.

    `owner` is their part or sub-assembly, `names` what each is called; `letter` is empty for a
    sub-assembly.
    """

    owner: str
    names: tuple[str, ...]
    letter: str
    things: tuple[tuple[str, ...], ...]  # the items' keys, thing by thing
    motion: Motion

    @property
    def keys(self) -> tuple[str, ...]:
        """The keys of all its items."""
        return tuple(key for thing in self.things for key in thing)


@dataclass(frozen=True, eq=False)
class Thing:
    """One thing that a step joins: its items, and the faces that it leaves when taken off."""

    name: str
    owner: str
    letter: str
    items: tuple[Item, ...]
    away: tuple[Away, ...]
    free: frozenset[str] = frozenset()  # pieces with a hole that it turns free in


def grouped(
    things: Sequence[Thing], old: Sequence[Item], lies: str, gap: float
) -> tuple[Group, ...]:
    """Return groups of like things with one motion, in the order of the joins."""
    here = list(old)  # where everything is once it is joined
    ways: list[_Leaving] = []
    for thing in things:
        touched = _touched(thing, here)
        shared = [e.way for e in ways if any(item.key in touched for item in e.thing.items)]
        away = thing.away or (() if touched else tuple(_outward(thing, here)))
        way, free = way_off(thing.items, here, away, lies, shared, 1.5 * gap)
        held = any(each.key in touched for each in old)
        ways.append(_Leaving(thing, way, not free, touched, frozenset() if held else touched))
        here += thing.items
    apart = list(old)  # where it is in the picture
    groups: list[Group] = []
    for like in _alike(ways):
        first = like[0]
        hosts = [g.motion.shift for g in groups if first.hosts & set(g.keys)]
        place = hosts[0] if len(hosts) == 1 else STILL
        moving = _moved([item for each in like for item in each.thing.items], place)
        near = within(moving, apart, first.way, 1.5 * gap)
        far = clear_distance(moving, _in_the_way(first, moving, near, groups), first.way, gap)
        # A long rod need not come out of its holes altogether; a thin floor comes out of its box.
        far = min(far, max(gap, LONGEST * gap / GAP))
        far = max(far, _out_of_box(moving, apart, first, gap))
        motion = Motion(first.way, far, first.blocked, place)
        apart += _moved([item for each in like for item in each.thing.items], motion.shift)
        groups.append(
            Group(
                first.thing.owner,
                tuple(each.thing.name for each in like),
                first.thing.letter,
                tuple(tuple(item.key for item in each.thing.items) for each in like),
                motion,
            )
        )
    return tuple(groups)


def _outward(thing: Thing, here: Sequence[Item]) -> Iterator[Away]:
    """Yield the level way out from the middle of the rest, for what touches nothing of it."""
    if not here:
        return
    (low, high), (near, far) = span_of(thing.items), span_of(here)
    off = [(low[i] + high[i] - near[i] - far[i]) / 2 for i in range(3)]
    axis = max(range(3), key=lambda each: round(abs(off[each]), 6))
    if abs(off[axis]) > _LEVEL:
        sign = 1.0 if off[axis] > 0 else -1.0
        yield Away((sign * (axis == 0), sign * (axis == 1), sign * (axis == 2)), False)


@dataclass(frozen=True, eq=False)
class _Leaving:
    """A thing, the way it leaves, and the new pieces it is joined to if it touches no old one."""

    thing: Thing
    way: Vec
    blocked: bool
    touched: frozenset[str]
    hosts: frozenset[str]


def _in_the_way(
    leaving: _Leaving, moving: Sequence[Item], apart: Sequence[Item], groups: Sequence[Group]
) -> list[Item]:
    """Return what a thing must get past; what leaves in the same way only if it is really hit."""
    alike = {key for group in groups if group.motion.way == leaving.way for key in group.keys}
    return [each for each in apart if each.key not in alike or hits(moving, each, leaving.way)]


def _out_of_box(
    moving: Sequence[Item], apart: Sequence[Item], leaving: _Leaving, gap: float
) -> float:
    """Return how far a thin thing must go to leave those that it fits between, if not too far."""
    low, high = span_of(moving)
    way = leaving.way
    thick = sum(abs(w) * (b - a) for w, a, b in zip(way, low, high, strict=True))
    walls = [each for each in apart if each.key in leaving.touched]
    if thick > gap / 2 or not walls:
        return 0.0
    last = max(dot(way, point) for each in walls for point in each.solid.points)
    first = min(dot(way, point) for each in moving for point in each.solid.points)
    return last - first + gap / 2 if last - first <= OUT * gap / GAP else 0.0


def _touched(thing: Thing, here: Sequence[Item]) -> frozenset[str]:
    """Return the keys of the pieces that a thing lies against once it is joined."""
    return frozenset(
        other.key
        for other in here
        if any(any(patches_between(item, other, Facing(()), True)) for item in thing.items)
    )


def _moved(items: Sequence[Item], by: Vec) -> list[Item]:
    return [replace(each, bulk=shifted(each.bulk, by)) for each in items]


def _alike(ways: Sequence[_Leaving]) -> list[list[_Leaving]]:
    """Put things of one part that leave the same way together, unless others come between."""
    found: list[list[_Leaving]] = []
    for each in ways:
        for place, group in enumerate(found):
            same = (group[0].thing.owner, group[0].way) == (each.thing.owner, each.way)
            keys = {item.key for one in group for item in one.thing.items}
            if same and not any(one.hosts & keys for later in found[place + 1 :] for one in later):
                group.append(each)
                break
        else:
            found.append([each])
    return found
