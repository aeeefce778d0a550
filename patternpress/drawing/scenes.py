"""What each step's picture shows, from the joins alone.

In: a `Model`.  Out: a `StepScene` for each step that joins something: the pieces that are there
already, those that come to them, which way these come, and the faces that they are laid on.
Everything in the frame of the step's work, mm; a view may turn it as it lies on the bench.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np

from patternpress.assembly.model import Model
from patternpress.assembly.placing import Placed
from patternpress.assembly.pose import Pose
from patternpress.assembly.screwed import screwed_on
from patternpress.assembly.solid import Solid, Vec
from patternpress.assembly.thing import Thing as Standing
from patternpress.assembly.thing import end_of
from patternpress.assembly.usage import MAIN, row_of
from patternpress.design.records.work import Joined, Step
from patternpress.drawing.fittings import Fitting, fittings_of
from patternpress.drawing.flatscene import Scene
from patternpress.drawing.groups import GAP, STILL, Group, Thing, grouped
from patternpress.drawing.kept import Kept, once
from patternpress.drawing.marksinspace import Segment, marks_of
from patternpress.drawing.motions import Away, opposite, side_way
from patternpress.drawing.patches import Facing, Patch, patches_between
from patternpress.drawing.things import (
    Bulks,
    Item,
    bulks_of,
    items_of,
    shifted,
    span_of,
    step_bulks,
)

How = tuple[str, float]  # how the work lies, and the air between a piece and its place
# Places that one leaves by going back from the side that is named.
_LEAVING = ("against", "loose against", "in hole", "through hole", "in groove")


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
    fittings: tuple[Fitting, ...] = ()
    seen_from: str = ""  # where the author wants it seen from
    called: tuple[tuple[str, str], ...] = ()  # sub-assemblies that come, and their printed names

    @property
    def items(self) -> tuple[Item, ...]:
        """Everything, where it belongs."""
        return (*self.old, *self.new)

    def printed(self, name: str) -> str:
        """The name of a sub-assembly as it is printed; its own where nothing else is said."""
        return dict(self.called).get(name, name)

    def shift_of(self, key: str) -> Vec:
        """How far a piece is away from its place before it is joined."""
        for group in self.groups:
            if key in group.keys:
                return group.motion.shift
        return STILL

    def farther(self, share: float) -> StepScene:
        """The same step with its things so many times as far from their places."""
        groups = tuple(replace(each, motion=each.motion.farther(share)) for each in self.groups)
        return replace(self, groups=groups)

    def apart(self) -> tuple[tuple[str, Solid], ...]:
        """The pieces before they are joined, as a scene to draw."""
        return self._apart

    @cached_property
    def _apart(self) -> tuple[tuple[str, Solid], ...]:
        return tuple((i.key, shifted(i.bulk, self.shift_of(i.key)).solid) for i in self.items)

    def together(self) -> tuple[tuple[str, Solid], ...]:
        """The pieces once they are joined."""
        return tuple((item.key, item.solid) for item in self.items)


def step_scenes(
    model: Model, bulks: Bulks | None = None, kept: Kept | None = None
) -> tuple[StepScene, ...]:
    """Return the scene of every step that joins pieces with sizes, in the order of work.

    `bulks` are the finished parts; a scene shows edges sharp that are taken off after its step.
    `kept` holds the ways that things were found to come before.
    """
    bulks = bulks_of(model.worked, kept) if bulks is None else bulks
    found = []
    stage: _Stage | None = None
    for number, step, _, lies in model.worked.usage.lying:
        if step.join:
            then = step_bulks(model.worked, bulks, number, kept)
            if stage is None or then != stage.bulks:
                stage = _Stage(model, then, kept)
            scene = _scene(stage, number, step, lies)
            if scene is not None:
                found.append(scene)
    return tuple(found)


@dataclass(frozen=True, eq=False)
class _Stage:
    """What the scenes of a model share while no more edges are taken off."""

    model: Model
    bulks: Bulks
    kept: Kept | None

    @cached_property
    def shapes(self) -> Mapping[str, str]:
        """The digests of the parts' solids."""
        return {name: solids_digest([(name, each.solid)]) for name, each in self.bulks.items()}

    def grouped(
        self, things: Sequence[Thing], old: Sequence[Item], poses: Mapping[str, Pose], how: How
    ) -> tuple[Group, ...]:
        """Which things move together, which way and how far: by what they are and where."""

        def told(items: Iterable[Item]) -> list[object]:
            return [(item.key, self.shapes[item.part], poses[item.key]) for item in items]

        moving = [(t.name, t.owner, t.letter, t.away, told(t.items)) for t in things]
        content = (moving, told(old), how)
        return once(self.kept, "ways", content, lambda: grouped(things, old, *how))


def _scene(stage: _Stage, number: int, step: Step, lies: str) -> StepScene | None:
    model, bulks = stage.model, stage.bulks
    work = step.builds.value if step.builds else MAIN
    placed = [each for each in model.assembly.works.get(work, ()) if each.step <= number]
    items = {each.key: each for each in items_of(model, bulks, placed)}
    things = [
        thing for joined in step.join for thing in _things(model, joined, number, placed, items)
    ]
    coming = {item.key for thing in things for item in thing.items}
    fittings = fittings_of(model, step.join, placed, items)
    if not (coming or fittings):
        return None
    old = tuple(item for item in items.values() if item.key not in coming)
    new = tuple(item for thing in things for item in thing.items)
    begun = step.start.value if step.start else ""
    base = tuple(item.key for item in old if item.step == number and item.key == begun)
    whole = span_of(items.values())
    gap = GAP * max(high - low for low, high in zip(*whole, strict=True))
    groups = stage.grouped(things, old, {each.key: each.pose for each in placed}, (lies, gap))
    patches = tuple(_patches(things, old))
    return StepScene(
        number, work, lies, old, new, base, groups, patches,
        tuple(marks_of(model, step, items.values())), fittings,
        step.seen_from.value if step.seen_from else "",
    )  # fmt: skip


# ------------------------------------------------------------------ what comes


def _things(
    model: Model,
    joined: Joined,
    number: int,
    placed: Sequence[Placed],
    items: dict[str, Item],
) -> Iterator[Thing]:
    """Yield the things that one join brings; a row brings several."""
    usage = model.worked.usage
    names = row_of(joined, usage.pieces)
    glues = not screwed_on(model.worked, usage.steps[number - 1], joined)
    for each in names:
        keys = _keys(model, each, number, placed)
        first = next((one for one in placed if one.key in keys), None)
        away = tuple(
            Away(opposite(_way_in(model, first, sides.value[0], place.how)), glues and place.glued)
            for sides, place in joined.places
            if place.how in _LEAVING
        )
        brought = tuple(items[key] for key in keys if key in items)
        if brought:
            owner = usage.part_of.get(each, usage.sub_of.get(each, each))
            letter = brought[0].letter if each in usage.part_of else ""
            free = frozenset(target.thing for target in joined.turns_in)
            yield Thing(each, owner, letter, brought, away, free)


def _way_in(model: Model, placed: Placed | None, side: str, how: str) -> Vec:
    """Return the way to a place from a side; into a hole a thing that leans goes as it leans."""
    body = model.assembly.bodies.get(placed.part) if placed is not None else None
    if placed is None or body is None or how not in ("in hole", "through hole"):
        return side_way(side)
    _, into = end_of(Standing(placed.piece, ((body, placed.pose),), placed.part), side)
    x, y, z = (float(each) for each in into)
    return x, y, z


def _keys(model: Model, name: str, number: int, placed: Sequence[Placed]) -> tuple[str, ...]:
    """Return the keys of the pieces that came with a thing in a step."""
    came = [each for each in placed if each.step == number]
    if name in model.worked.usage.part_of:
        return tuple(each.key for each in came if each.key == name)
    sub = model.worked.usage.sub_of.get(name, "")
    inner = {each.key for each in model.assembly.works.get(sub, ()) if sub}
    inside = tuple(each.key for each in came if each.path[:1] == (name,))
    return inside or tuple(each.key for each in came if each.key in inner)


# ------------------------------------------------------------------ where it goes


def _patches(things: Sequence[Thing], old: Sequence[Item]) -> Iterator[Patch]:
    """Yield the glued patches of everything that the step joins, in the order of the joins."""
    there = list(old)
    for thing in things:
        sides = [opposite(each.way) for each in thing.away if each.glued]
        loose = bool(thing.free) or any(not each.glued for each in thing.away)
        takes = [each for each in there if each.piece not in thing.free]
        for new in thing.items if sides or not loose else ():
            for other in takes:
                yield from patches_between(new, other, Facing(tuple(sides)), True)
        there += thing.items


def called(scene: StepScene, say: Callable[[str], str]) -> StepScene:
    """Return a scene whose sub-assemblies go by other names in print: those that `say` gives."""
    names = {n for g in scene.groups if not g.letter for n in (g.owner, *g.names)}
    other = tuple((name, said) for name in sorted(names) if (said := say(name)) != name)
    return replace(scene, called=other)


def scene_digest(scene: StepScene) -> str:
    """Return a digest of all that a picture of the scene depends on."""
    said = hashlib.sha256(solids_digest(scene.apart()).encode())
    letters = [(item.key, item.letter) for item in scene.items]
    for group in scene.groups:
        shift = tuple(round(each, 6) for each in group.motion.shift)
        said.update(repr((group.owner, group.names, group.things, shift)).encode())
    rest = (scene.number, scene.work, scene.lies, scene.base, scene.marks, scene.patches, letters)
    said.update(repr((scene.fittings, scene.seen_from, scene.called)).encode())
    said.update(repr(rest).encode())
    return said.hexdigest()


def solids_digest(scene: Scene) -> str:
    """Return a digest of keyed solids, to a millionth of a millimetre."""
    said = hashlib.sha256()
    for key, solid in scene:
        loops = [(each.loops, each.smooth) for each in solid.facets]
        said.update(repr((key, loops)).encode())
        said.update(np.round(np.array(solid.points), 6).tobytes())
    return said.hexdigest()
