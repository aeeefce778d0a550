"""Which edges of parts the steps take off, and the parts' wood without them.

In: a `Worked` design and a step.  Out: for each part the `Easing`s that it has after that step, as
the part stands on the drawing board; and blocks with those edges off.  Only for what is seen: a
joint is checked on the wood with its edges sharp.

An edge is left sharp here where the design does not make it sure: on some pieces of a part only,
at a hole, along a side that is hollow or that other wood stands before, and without `by`.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import combinations

from patternpress.assembly.blocks import Block, Face, dot
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.easing import chamfered_between, rounded_between
from patternpress.assembly.joining import joined
from patternpress.assembly.sizes import AXES, SIDE_AXIS
from patternpress.assembly.solid import Facet, Solid, Vec, edges
from patternpress.assembly.worked import Worked
from patternpress.design.phrases import OPPOSITE, Target
from patternpress.design.records.work import Treatment
from patternpress.measure.quantity import Kind

# Numbers of the smooth stretches of eased edges, beyond those of outlines and cuts.
_SMOOTH = 10**9
_LEVEL = 1e-6
_SIDES = tuple(OPPOSITE)
_Plane = tuple[Vec, float]  # outward normal, distance from the origin


@dataclass(frozen=True, slots=True)
class Easing:
    """One edge of a part, where two sides meet: rounded to a radius of `by` mm, or
    chamfered `by` mm along both sides.
    """

    verb: str
    sides: tuple[str, str]
    by: float


def easings_of(worked: Worked, until: int | None = None) -> dict[str, tuple[Easing, ...]]:
    """Return the easings of each part that has any once step `until` has joined its pieces (its
    own `afterwards` comes later), or in the finished work.  What only some buyers do is left out.
    """
    done: dict[str, dict[Easing, set[str]]] = {}
    for treatment in _treatments(worked, until):
        for target in treatment.targets if treatment.verb in ("round over", "chamfer") else ():
            part = worked.part(worked.usage.part_of.get(target.thing, target.thing))
            for easing in _easings(treatment, target, part, worked) if part else ():
                found = done.setdefault(part.name if part else "", {}).setdefault(easing, set())
                found |= set(worked.usage.pieces.get(target.thing, (target.thing,)))
    whole = {
        name: tuple(e for e, on in each.items() if on >= set(worked.usage.pieces.get(name, ())))
        for name, each in done.items()
    }
    return {name: each for name, each in whole.items() if each}


def _treatments(worked: Worked, until: int | None) -> Iterator[Treatment]:
    for number, step in enumerate(worked.usage.steps, 1):
        over = until is not None and number >= until
        if step.only_if is None and (until is None or number <= until):
            said = step.treat if over else (*step.treat, *step.afterwards)
            yield from (each for each in said if each.only_if is None)


def _easings(
    treatment: Treatment, target: Target, part: CutPart, worked: Worked
) -> Iterator[Easing]:
    by = worked.solver.value(treatment.by, Kind.LENGTH) if treatment.by else None
    if by is None or len(part.extents) < len(AXES):
        return
    size = float(by.value)
    for sides in _edges(target, part.along if part.form == "rod" else part.thin, part.form):
        # The edge must leave wood on both of its sides.
        axes = {SIDE_AXIS[each] for each in sides}
        if 0 < size < min(float(part.extents[axis].value) for axis in axes):
            yield Easing(treatment.verb, sides, size)


def _edges(target: Target, thin: str, form: str) -> Iterator[tuple[str, str]]:
    """Yield the edges that a target names: where two sides meet, all round a broad side, both of
    a narrow one's long edges, or all.

    `thin` is the way through a flat part's thickness, or along a rod, whose ends alone have edges.
    """
    pairs = [(a, b) for a, b in combinations(_SIDES, 2) if OPPOSITE[a] != b]
    if target.kind not in ("part", "piece") or target.feature not in ("", "all"):
        return
    for pair in pairs:
        named = set(target.sides) <= set(pair)
        narrow = form == "rod" or (len(target.sides) == 1 and SIDE_AXIS[target.sides[0]] != thin)
        if named and (not narrow or any(SIDE_AXIS[each] == thin for each in pair)):
            yield pair


# ------------------------------------------------------------------ the wood


def eased(blocks: Sequence[Block], easings: Sequence[Easing], error: float) -> tuple[Block, ...]:
    """Return the blocks of a part without the wood of its eased edges.

    Round-overs stray by at most `error` mm.  Sides that run into a round-over are smooth with it,
    so that no line is drawn where it begins.
    """
    solid, found = joined(blocks), tuple(blocks)
    rounded: set[_Plane] = set()
    for each in easings:
        for planes in _meetings(solid, each.sides):
            if each.verb == "chamfer":
                found = chamfered_between(found, planes, each.sides[0], each.by)
            else:
                found = rounded_between(found, planes, each.sides, each.by, error, _SMOOTH)
                rounded |= set(planes)
    return (_run_in(found, rounded) if rounded else found) or tuple(blocks)


def _meetings(solid: Solid, sides: tuple[str, str]) -> tuple[tuple[_Plane, _Plane], ...]:
    """Return the planes that meet in the edges between two sides: several where one is bowed.

    None where wood stands before one of them, as in a hollow: a blade there would take it too.
    """
    found: dict[tuple[_Plane, _Plane], None] = {}
    for edge in edges(solid):
        facets = [solid.facets[i] for i in (edge.left, edge.right) if i is not None]
        for one, two in (facets, facets[::-1]) if len(facets) == 2 else ():
            if (one.side, two.side) == sides:
                found[_plane(solid, one), _plane(solid, two)] = None
    used = {plane for each in found for plane in each}
    clear = all(dot(way, p) <= at + _LEVEL for way, at in used for p in solid.points)
    return tuple(found) if clear else ()


def _plane(solid: Solid, facet: Facet) -> _Plane:
    x, y, z = (round(each, 9) for each in facet.normal)
    return (x, y, z), round(dot(facet.normal, solid.points[facet.loops[0][0]]), 6)


def _run_in(blocks: Sequence[Block], rounded: set[_Plane]) -> tuple[Block, ...]:
    """Return blocks whose faces in rounded planes are smooth with the round-overs.

    A curve that goes on beyond those planes keeps its own number: its other edges are sharp.
    """
    inside: dict[int, bool] = {0: True}
    for block, face in ((b, f) for b in blocks for f in b.faces):
        _, smooth = face.label or ("", 0)
        if smooth:
            inside[smooth] = inside.get(smooth, True) and _lies(block, face, rounded)

    def run_in(block: Block, face: Face) -> Face:
        side, smooth = face.label or ("", 0)
        if side and inside.get(smooth) and _lies(block, face, rounded):
            return replace(face, label=(side, _SMOOTH))
        return face

    return tuple(replace(b, faces=tuple(run_in(b, each) for each in b.faces)) for b in blocks)


def _lies(block: Block, face: Face, planes: Iterable[_Plane]) -> bool:
    """Whether a face of a block lies in one of some planes."""
    points = [block.points[index] for index in face.loop]
    return any(all(abs(dot(way, p) - at) < 2 * _LEVEL for p in points) for way, at in planes)
