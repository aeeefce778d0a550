"""What each step's picture shows, from the joins alone.

In: a `Model`.  Out: a `StepScene` for each step that joins something: the pieces that are there
already, those that come to them, which way these come, and the faces that they are laid on.
Everything in the frame of the step's work, mm; a view may turn it as it lies on the bench.
"""

from __future__ import annotations

import hashlib
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from patternpress.assembly.model import Model
from patternpress.assembly.placing import Placed
from patternpress.assembly.solid import Solid, Vec, dot
from patternpress.assembly.usage import MAIN
from patternpress.design.records.work import Joined, Step
from patternpress.drawing.flatscene import Scene
from patternpress.drawing.marksinspace import Segment, marks_of
from patternpress.drawing.motions import (
    Away,
    Motion,
    clear_distance,
    hits,
    opposite,
    side_way,
    way_off,
    within,
)  # fmt: skip
from patternpress.drawing.patches import Patch, patches_between
from patternpress.drawing.things import Bulks, Item, bulks_of, items_of, shifted, span_of

# Air between a piece and its place, as a share of the work's greatest size.
GAP = 0.2
# And how far it may hang in the air at most.
LONGEST = 0.6
_FACING = 0.7
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
class StepScene:
    """One joining step.  `base` are the keys of what the step lays on the bench to begin with."""

    number: int
    work: str
    lies: str
    old: tuple[Item, ...]
    new: tuple[Item, ...]
    base: tuple[str, ...]
    groups: tuple[Group, ...]
    patches: tuple[Patch, ...]
    marks: tuple[Segment, ...]

    @property
    def items(self) -> tuple[Item, ...]:
        """Everything, where it belongs."""
        return (*self.old, *self.new)

    def shift_of(self, key: str) -> Vec:
        """How far a piece is away from its place before it is joined."""
        for group in self.groups:
            if key in group.keys:
                return group.motion.shift
        return STILL

    def apart(self) -> tuple[tuple[str, Solid], ...]:
        """The pieces before they are joined, as a scene to draw."""
        return tuple((i.key, shifted(i.bulk, self.shift_of(i.key)).solid) for i in self.items)

    def together(self) -> tuple[tuple[str, Solid], ...]:
        """The pieces once they are joined."""
        return tuple((item.key, item.solid) for item in self.items)


@dataclass(frozen=True, eq=False)
class _Thing:
    """One thing that a step joins: its items, and the faces that it leaves when taken off."""

    name: str
    owner: str
    letter: str
    items: tuple[Item, ...]
    away: tuple[Away, ...]
    joined: Joined


def step_scenes(model: Model, bulks: Bulks | None = None) -> tuple[StepScene, ...]:
    """Return the scene of every step that joins pieces with sizes, in the order of work."""
    bulks = bulks_of(model.worked) if bulks is None else bulks
    found = []
    lies: dict[str, str] = {}
    for number, step in enumerate(model.worked.usage.steps, 1):
        work = step.builds.value if step.builds else MAIN
        lies[work] = step.work_lies.value if step.work_lies else lies.get(work, "upright")
        if step.join:
            scene = _scene(model, bulks, number, step, lies[work])
            if scene is not None:
                found.append(scene)
    return tuple(found)


def _scene(model: Model, bulks: Bulks, number: int, step: Step, lies: str) -> StepScene | None:
    work = step.builds.value if step.builds else MAIN
    placed = [each for each in model.assembly.works.get(work, ()) if each.step <= number]
    items = {each.key: each for each in items_of(model, bulks, placed)}
    things = [
        thing
        for joined in step.join
        for thing in _things(model, joined, number, work, placed, items)
    ]
    coming = {item.key for thing in things for item in thing.items}
    if not coming:
        return None
    old = tuple(item for item in items.values() if item.key not in coming)
    new = tuple(item for thing in things for item in thing.items)
    begun = step.start.value if step.start else ""
    base = tuple(item.key for item in old if item.step == number and item.key == begun)
    whole = span_of(items.values())
    gap = GAP * max(high - low for low, high in zip(*whole, strict=True))
    groups = _grouped(things, old, lies, gap)
    patches = tuple(_patches(things, old))
    return StepScene(
        number, work, lies, old, new, base, groups, patches,
        tuple(marks_of(model, step, items.values())),
    )  # fmt: skip


# ------------------------------------------------------------------ what comes


def _things(
    model: Model,
    joined: Joined,
    number: int,
    work: str,
    placed: Sequence[Placed],
    items: dict[str, Item],
) -> Iterator[_Thing]:
    """Yield the things that one join brings; a row brings several."""
    usage = model.worked.usage
    name = joined.piece.value
    names = usage.pieces.get(name, (name,)) if joined.kind == "part" else (name,)
    away = tuple(
        Away(opposite(side_way(sides.value[0])), place.glued)
        for sides, place in joined.places
        if place.how in ("against", "loose against", "in hole")
    )
    for each in names:
        keys = _keys(model, each, number, placed)
        brought = tuple(items[key] for key in keys if key in items)
        if brought:
            owner = usage.part_of.get(each, usage.sub_of.get(each, each))
            letter = brought[0].letter if each in usage.part_of else ""
            yield _Thing(each, owner, letter, brought, away, joined)


def _keys(model: Model, name: str, number: int, placed: Sequence[Placed]) -> tuple[str, ...]:
    """Return the keys of the pieces that came with a thing in a step."""
    came = [each for each in placed if each.step == number]
    if name in model.worked.usage.part_of:
        return tuple(each.key for each in came if each.key == name)
    inner = {each.key for each in model.assembly.works.get(model.worked.usage.sub_of[name], ())}
    inside = tuple(each.key for each in came if each.path[:1] == (name,))
    return inside or tuple(each.key for each in came if each.key in inner)


# ------------------------------------------------------------------ which way


def _grouped(
    things: Sequence[_Thing], old: Sequence[Item], lies: str, gap: float
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
        ways.append(_Leaving(thing, way, not free, frozenset() if held else touched))
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
        # A long rod need not come out of its holes altogether.
        far = min(far, max(gap, LONGEST * gap / GAP))
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


def _outward(thing: _Thing, here: Sequence[Item]) -> Iterator[Away]:
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

    thing: _Thing
    way: Vec
    blocked: bool
    hosts: frozenset[str]


def _in_the_way(
    leaving: _Leaving, moving: Sequence[Item], apart: Sequence[Item], groups: Sequence[Group]
) -> list[Item]:
    """Return what a thing must get past; what leaves in the same way only if it is really hit."""
    alike = {key for group in groups if group.motion.way == leaving.way for key in group.keys}
    return [each for each in apart if each.key not in alike or hits(moving, each, leaving.way)]


def _touched(thing: _Thing, here: Sequence[Item]) -> frozenset[str]:
    """Return the keys of the pieces that a thing lies against once it is joined."""
    return frozenset(
        other.key
        for other in here
        if any(any(patches_between(item, other, _Wanted(()), True)) for item in thing.items)
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


# ------------------------------------------------------------------ where it goes


def _patches(things: Sequence[_Thing], old: Sequence[Item]) -> Iterator[Patch]:
    """Yield the glued patches of everything that the step joins, in the order of the joins."""
    there = list(old)
    for thing in things:
        sides = [opposite(each.way) for each in thing.away if each.glued]
        loose = any(not each.glued for each in thing.away)
        for new in thing.items if sides or not loose else ():
            for other in there:
                yield from patches_between(new, other, _Wanted(tuple(sides)), True)
        there += thing.items


@dataclass(frozen=True, slots=True)
class _Wanted:
    """Says whether a face looks to one of some sides.

    A join that names no faces holds wherever it touches, as a shelf in its groove.
    """

    sides: tuple[Vec, ...]

    def __call__(self, normal: Vec) -> bool:
        return not self.sides or any(dot(normal, side) > _FACING for side in self.sides)


def scene_digest(scene: StepScene) -> str:
    """Return a digest of all that a picture of the scene depends on."""
    said = hashlib.sha256(solids_digest(scene.apart()).encode())
    letters = [(item.key, item.letter) for item in scene.items]
    for group in scene.groups:
        shift = tuple(round(each, 6) for each in group.motion.shift)
        said.update(repr((group.owner, group.names, group.things, shift)).encode())
    rest = (scene.number, scene.work, scene.lies, scene.base, scene.marks, scene.patches, letters)
    said.update(repr(rest).encode())
    return said.hexdigest()


def solids_digest(scene: Scene) -> str:
    """Return a digest of keyed solids, to a millionth of a millimetre."""
    said = hashlib.sha256()
    for key, solid in scene:
        points = [tuple(round(each, 6) for each in point) for point in solid.points]
        loops = [(each.loops, each.smooth) for each in solid.facets]
        said.update(repr((key, points, loops)).encode())
    return said.hexdigest()
