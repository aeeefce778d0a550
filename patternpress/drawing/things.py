"""The pieces of a model as solids, where they sit.

In: a `Model`.  Out: an `Item` for each placed piece that has sizes; bought fittings without
sizes are left out.  Floats in mm: nothing here is printed as a figure.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial, reduce

import numpy as np

from patternpress.assembly.blocks import Block
from patternpress.assembly.convex import Array, Bulk, bulk, placed
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.easings import Easing, eased, easings_of
from patternpress.assembly.joining import joined
from patternpress.assembly.model import Model
from patternpress.assembly.moving import Motion
from patternpress.assembly.opened import opened
from patternpress.assembly.placing import Placed
from patternpress.assembly.pose import Pose
from patternpress.assembly.shape import ShapeError
from patternpress.assembly.solid import UNTURNED, Solid, Vec
from patternpress.assembly.solids import blocks_of
from patternpress.assembly.worked import Worked
from patternpress.drawing.flatscene import Scene
from patternpress.drawing.kept import Kept, once

# How far curves may stray in a picture, as a share of the design's largest piece, and of the
# part itself, which may fill a picture of its own.
_STRAY = 0.001
_OWN = 0.003
_LEAST = 0.005
# Edges that lose less than this share of the largest piece are drawn sharp: in a picture as wide
# as a hand two lines that near run into one.  By eye, no source.
_SEEN = 0.0075


@dataclass(frozen=True, eq=False)
class Item:
    """One piece where it sits in its work; `key` is unique in it, `letter` its part's.

    `path` names the copies of sub-assemblies it is in; `step` is when it came into the work.
    """

    key: str
    piece: str
    part: str
    letter: str
    path: tuple[str, ...]
    step: int
    bulk: Bulk

    @property
    def solid(self) -> Solid:
        """Its solid where it sits."""
        return self.bulk.solid


Bulks = dict[str, Bulk]


def bulks_of(worked: Worked, kept: Kept | None = None) -> Bulks:
    """Return each part as it stands on the drawing board, with the edges rounded and chamfered
    that one sees; parts without sizes are left out.

    `kept` holds what was made of the same blocks before.
    """
    return _made(worked, worked.parts, seen_easings(worked), kept)


def step_bulks(worked: Worked, bulks: Bulks, number: int, kept: Kept | None = None) -> Bulks:
    """Return the finished parts with those edges still sharp that only later steps take off."""
    then, at_last = seen_easings(worked, number), seen_easings(worked)
    sharper = [p for p in worked.parts if then.get(p.name) != at_last.get(p.name)]
    return {**bulks, **_made(worked, sharper, then, kept)} if sharper else bulks


def seen_easings(worked: Worked, until: int | None = None) -> Mapping[str, tuple[Easing, ...]]:
    """Return the easings of each part after a step, or at last, that are large enough to see."""
    least = _SEEN * _widest(worked)
    found = easings_of(worked, until)
    return {name: seen for name, each in found.items() if (seen := _over(each, least))}


def _over(easings: Iterable[Easing], least: float) -> tuple[Easing, ...]:
    return tuple(each for each in easings if each.by >= least)


def _made(
    worked: Worked,
    parts: Iterable[CutPart],
    easings: Mapping[str, tuple[Easing, ...]],
    kept: Kept | None,
) -> Bulks:
    found: Bulks = {}
    for part in parts:
        own = max((float(each.value) for each in part.extents.values()), default=0.0)
        error = max(_LEAST, min(_STRAY * _widest(worked), _OWN * own))
        try:
            shape, bores = worked.shapes.get(part.name), worked.bores.get(part.name, ())
            blocks = blocks_of(part, shape, worked.solver, error, bores)
        except ShapeError:
            continue
        if part.name in easings:
            blocks = eased(blocks, easings[part.name], error)
        found[part.name] = once(kept, "bulk", blocks, partial(_bulk, blocks))
    return found


def _widest(worked: Worked) -> float:
    """Return the longest size of all parts in mm, 0 where none is known."""
    sizes = [float(each.value) for part in worked.parts for each in part.extents.values()]
    return max(sizes, default=0.0)


def _bulk(blocks: Sequence[Block]) -> Bulk:
    return bulk(joined(blocks), blocks)


def items_of(model: Model, bulks: Bulks, pieces: Iterable[Placed]) -> tuple[Item, ...]:
    """Return placed pieces as items, in their order."""
    return placed_items(model.worked, bulks, pieces)


def placed_items(worked: Worked, bulks: Bulks, pieces: Iterable[Placed]) -> tuple[Item, ...]:
    """Return placed pieces as items, in their order, for a design that need not be sound."""
    letters = {part.name: part.letter for part in worked.parts}
    return tuple(
        Item(
            each.key,
            each.piece,
            each.part,
            letters.get(each.part, ""),
            each.path,
            each.step,
            posed(bulks[each.part], each.pose),
        )
        for each in pieces
        if each.part in bulks
    )


def posed(thing: Bulk, pose: Pose) -> Bulk:
    """Return a thing where its pose puts it."""
    first, second, third = ((float(x), float(y), float(z)) for x, y, z in pose.matrix)
    x, y, z = (float(each) for each in pose.offset)
    return placed(thing, (first, second, third), (x, y, z))


def shifted(thing: Bulk, by: Vec) -> Bulk:
    """Return a thing moved in space."""
    return placed(thing, UNTURNED, by) if any(by) else thing


def opened_scene(items: Iterable[Item], motions: Iterable[Motion]) -> Scene:
    """Return pieces with what opens opened."""
    ways = {key: each for each in motions for key in each.keys}
    return [(i.key, opened(i.bulk, ways[i.key]).solid if i.key in ways else i.solid) for i in items]


def span_of(items: Iterable[Item]) -> tuple[Vec, Vec]:
    """Return the lowest and the highest x, y and z of all items.  Raises ValueError for none."""
    bulks = [each.bulk for each in items]
    low = reduce(np.minimum, [each.least for each in bulks])
    high = reduce(np.maximum, [each.most for each in bulks])
    return _vec(low), _vec(high)


def _vec(values: Array) -> Vec:
    return float(values[0]), float(values[1]), float(values[2])
