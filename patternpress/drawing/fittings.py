"""Bought fittings without sizes: screws, pins, hooks, hangers, at their holes or places.

In: what a step joins, and the items it joins to.  Out: `Fitting`s: where each sits, which way it
comes, and what bears it; the same for the finished work.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

import numpy as np
import shapely

from patternpress.assembly.model import Model
from patternpress.assembly.placing import Placed
from patternpress.assembly.pose import Pose, times
from patternpress.assembly.solid import Solid, Vec, dot
from patternpress.assembly.usage import MAIN, row_of
from patternpress.design.names import in_copy
from patternpress.design.phrases import Place as Said
from patternpress.design.records.work import Joined
from patternpress.drawing.motions import opposite, side_way
from patternpress.drawing.things import Item

HOLES = ("in hole", "through hole")
_FACES = ("against", "loose against", "in groove")
_FACING = 0.7


@dataclass(frozen=True, slots=True)
class Fitting:
    """A fitting at the mouth of its hole, or on its face; `way` leads off, `on` bears it, mm."""

    key: str
    owner: str
    letter: str
    on: str
    at: Vec
    way: Vec
    hole: bool


def fittings_of(
    model: Model, joins: Sequence[Joined], placed: Iterable[Placed], items: Mapping[str, Item]
) -> tuple[Fitting, ...]:
    """Return the fittings without sizes that a step's joins bring."""
    usage = model.worked.usage
    there = {each.piece: each for each in placed if each.key not in items and not each.path}
    letters = {part.name: part.letter for part in model.worked.parts}
    found: list[Fitting] = []
    for joined in joins:
        for each in row_of(joined, usage.pieces):
            if each in there:
                found += _fitting(there[each], joined, letters, items.values())
    return tuple(found)


def _fitting(
    placed: Placed, joined: Joined, letters: Mapping[str, str], items: Iterable[Item]
) -> Iterator[Fitting]:
    """Yield a fitting where its join says which way it goes in, and what bears it is known."""
    x, y, z = (float(each) for each in placed.pose.offset)
    for sides, place in joined.places:
        if place.how not in (*HOLES, *_FACES):
            continue
        way = opposite(side_way(sides.value[0]))
        bearers = [item for item in items if _named(item, place)]
        mouths = [(far, item.key) for item in bearers for far in _mouth(item, (x, y, z), way)]
        if mouths:
            far, on = min(mouths, key=lambda each: round(abs(each[0]), 3))
            at = (x + far * way[0], y + far * way[1], z + far * way[2])
            hole = place.how in HOLES
            yield Fitting(placed.key, placed.part, letters.get(placed.part, ""), on, at, way, hole)
            return


def _named(item: Item, place: Said) -> bool:
    wanted = (place.target.owner, place.target.thing)
    if in_copy(item.piece, "".join(item.path[:1])) == place.target.thing:
        return True
    return item.piece in wanted or item.part in wanted


def _mouth(item: Item, at: Vec, way: Vec) -> Iterator[float]:
    """Yield how far along a way a place is from the last face of an item that it goes out by."""
    far = [reach for reach in _faces_ahead(item.solid, at, way) if reach > -1e-3]
    if far:
        yield max(far)


def _faces_ahead(solid: Solid, at: Vec, way: Vec) -> Iterator[float]:
    for facet in solid.facets:
        slope = dot(facet.normal, way)
        if slope < _FACING:
            continue
        corner = solid.points[facet.loops[0][0]]
        far = (dot(facet.normal, corner) - dot(facet.normal, at)) / slope
        spot = np.array(at) + far * np.array(way)
        axis = max(range(3), key=lambda each: round(abs(facet.normal[each]), 6))
        flat = [each for each in range(3) if each != axis]
        ring = [[solid.points[n][each] for each in flat] for n in facet.loops[0]]
        if shapely.Polygon(ring).buffer(1e-3).contains(shapely.Point(spot[flat])):
            yield float(far)


def in_the_finished(model: Model, found: Iterable[tuple[str, Fitting]]) -> Iterator[Fitting]:
    """Yield fittings, each told with the work it was joined in, where they end up.

    `on` stays the key in the work for those of the last work, and is the whole key for others.
    """
    final = {each.key: each for each in model.assembly.placed}
    for work, fitting in found:
        if work == MAIN:
            yield fitting
            continue
        inner = next(e for e in model.assembly.works[work] if e.key == fitting.key)
        for key, outer in final.items():
            if outer.piece == inner.piece:  # in every copy, and in what is there only once
                first, second, third = zip(*inner.pose.matrix, strict=True)
                turn = Pose(times(outer.pose.matrix, (first, second, third)))
                yield replace(
                    fitting,
                    key=key,
                    on="/".join((*outer.path, fitting.on)),
                    at=_floats(outer, inner, turn, fitting.at),
                    way=_turned(turn, fitting.way),
                )


def _turned(turn: Pose, way: Vec) -> Vec:
    x, y, z = (sum(float(row[axis]) * way[axis] for axis in range(3)) for row in turn.matrix)
    return x, y, z


def _floats(outer: Placed, inner: Placed, turn: Pose, at: Vec) -> Vec:
    """Return a place of the inner work in the frame of the outer one."""
    off = [a - float(o) for a, o in zip(at, inner.pose.offset, strict=True)]
    by = _turned(turn, (off[0], off[1], off[2]))
    x, y, z = (float(o) + b for o, b in zip(outer.pose.offset, by, strict=True))
    return x, y, z
