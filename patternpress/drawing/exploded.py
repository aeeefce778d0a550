"""All pieces taken apart, as far as the joins say how.

In: the step scenes of a model and its finished pieces.  Out: how far each piece is moved from
its place, mm.  Steps are undone in their order, work within work; of a sub-assembly that is
made several times only the first copy comes apart, the others stay whole.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from patternpress.assembly.convex import penetration
from patternpress.assembly.model import Model
from patternpress.assembly.placing import Placed
from patternpress.assembly.pose import Matrix, Pose, times
from patternpress.assembly.solid import Vec, dot
from patternpress.assembly.usage import MAIN
from patternpress.drawing.groups import STILL
from patternpress.drawing.motions import clear_distance, within
from patternpress.drawing.scenes import StepScene
from patternpress.drawing.things import Item, shifted, span_of

Shifts = dict[str, Vec]
_TRIES = 8
_TOUCH = 0.02


def exploded(model: Model, scenes: Sequence[StepScene], share: float = 0.09) -> Shifts:
    """Return the shift of every piece of the finished work; `share` of its size is air."""
    last = next((each for each in reversed(scenes) if each.work == MAIN), None)
    last = last or (scenes[-1] if scenes else None)
    return _Undoing(model, scenes, share).apart(last.work) if last else {}


class _Undoing:
    """Undoes the steps of works within works; `opened` tells which copy of each comes apart."""

    def __init__(self, model: Model, scenes: Sequence[StepScene], share: float) -> None:
        self.model = model
        self.scenes = scenes
        self.share = share
        self.opened: dict[str, str] = {}

    def apart(self, work: str) -> Shifts:
        """Return the shifts of a work's pieces, its steps undone in their order."""
        mine = [each for each in self.scenes if each.work == work]
        shifts: Shifts = {}
        if not mine:
            return shifts
        low, high = span_of(mine[-1].items)
        gap = self.share * max(b - a for a, b in zip(low, high, strict=True))
        there: dict[str, Item] = {}
        for scene in mine:
            self._come(scene.old, work, there, shifts)
            for group in scene.groups:
                moving = [item for item in scene.new if item.key in group.keys]
                before = _moved(list(there.values()), shifts)
                self._come(moving, work, there, shifts)
                way = group.motion.way
                near = within(moving, before, way, 1.5 * gap)
                far = clear_distance(moving, near, way, gap) + _backwards(moving, shifts, way)
                far = _free_from(_moved(moving, shifts), before, way, far, gap)
                for item in moving:
                    shifts[item.key] = _plus(shifts.get(item.key, STILL), way, far)
        return shifts

    def _come(
        self, items: Iterable[Item], work: str, there: dict[str, Item], shifts: Shifts
    ) -> None:
        """Note pieces as there, those of a sub-assembly as far apart as it comes by itself."""
        placed = {each.key: each for each in self.model.assembly.works[work]}
        inner: dict[str, Shifts] = {}
        for item in items:
            if item.key in there:
                continue
            there[item.key] = item
            sub = self._sub_of(item, work)
            name = item.path[0] if item.path else sub
            if not sub or self.opened.setdefault(sub, name) != name:
                continue
            if sub not in inner:
                inner[sub] = self.apart(sub)
            key = item.key.removeprefix(f"{name}/")
            twin = next((e for e in self.model.assembly.works[sub] if e.key == key), None)
            if key in inner[sub] and twin is not None:
                shifts[item.key] = _turned(placed[item.key], twin, inner[sub][key])

    def _sub_of(self, item: Item, work: str) -> str:
        """Return the sub-assembly that a piece came in, empty if it came by itself."""
        if item.path:
            return self.model.worked.usage.sub_of.get(item.path[0], "")
        for name, pieces in self.model.assembly.works.items():
            if name not in (work, MAIN) and any(each.key == item.key for each in pieces):
                return name
        return ""


def _backwards(moving: Sequence[Item], shifts: Shifts, way: Vec) -> float:
    """Return how far what comes apart by itself gets in its own way back."""
    return max(0.0, *(-dot(shifts.get(each.key, STILL), way) for each in moving))


def _free_from(
    moving: Sequence[Item], before: Sequence[Item], way: Vec, far: float, gap: float
) -> float:
    """Return a distance, `far` or a few gaps more, at which no piece runs through another."""
    for step in range(_TRIES):
        bulks = [shifted(each.bulk, _plus(STILL, way, far + step * gap)) for each in moving]
        if not any(penetration(one, each.bulk, _TOUCH) for one in bulks for each in before):
            return far + step * gap
    return far


def _turned(outer: Placed, inner: Placed, shift: Vec) -> Vec:
    """Return a shift of a sub-assembly's frame in the frame of the work it went into."""
    turn = times(outer.pose.matrix, _transposed(inner.pose.matrix))
    x, y, z = (
        sum(float(row[axis]) * shift[axis] for axis in range(3)) for row in Pose(turn).matrix
    )
    return x, y, z


def _transposed(matrix: Matrix) -> Matrix:
    first, second, third = zip(*matrix, strict=True)
    return first, second, third


def _moved(items: Sequence[Item], shifts: Mapping[str, Vec]) -> list[Item]:
    return [replace(each, bulk=shifted(each.bulk, shifts.get(each.key, STILL))) for each in items]


def _plus(shift: Vec, way: Vec, far: float) -> Vec:
    return shift[0] + far * way[0], shift[1] + far * way[1], shift[2] + far * way[2]
