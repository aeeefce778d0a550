"""Is enough wood left behind, beside and between holes and grooves?

In: a `Worked` design.  Out: warnings of walls so thin that the tool breaks through them.  Where no
wood is left at all there are problems of that; holes that lean are asked elsewhere.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations

import shapely
from shapely.geometry.base import BaseGeometry

from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.cuts import THIN_OF_VIEW, Cut, in_space, named_cuts, sizes_of
from patternpress.assembly.flattening import flattened
from patternpress.assembly.placing import both_units
from patternpress.assembly.shape import Axis, Groove, Hole, View
from patternpress.assembly.sizes import AXES
from patternpress.assembly.solid import Vec
from patternpress.assembly.specs import PAGE_AXES
from patternpress.assembly.worked import Worked
from patternpress.design.kinds.fit import WallThin
from patternpress.design.problem import Problem
from patternpress.design.span import Span

# The thinnest board, strip and wall that can be worked: common practice, no source.
THINNEST = Fraction(1, 2)
# Who works card-thin board is used to less: such a share of its thickness.  No source either.
SHARE = Fraction(1, 4)
_TOUCH = 0.02  # mm: what is no thicker is no wall, but an edge that is cut on purpose

Cutting = Hole | Groove


@dataclass(frozen=True)
class _Hollow:
    """What is cut out: its region on a page, and its depths from the page's near face, mm."""

    cutting: Cutting
    view: View
    region: BaseGeometry
    start: float
    stop: float


@dataclass(frozen=True)
class _Wall:
    """Wood that is left: how thick (mm), beside which hollow, and where it stands to {it}."""

    thick: float
    hollow: _Hollow
    where: str


def check_walls(worked: Worked) -> Iterator[Problem]:
    """Walls thinner than the author works wood, or than can be worked; one for each cutting."""
    for part in worked.parts:
        if len(part.extents) < len(AXES) or not (part.part.holes or part.part.grooves):
            continue
        least = _least(part, worked)
        told: set[Span] = set()
        for wall in sorted(_walls(part, worked), key=lambda each: round(each.thick, 3)):
            it, span = _said(part, wall.hollow.cutting)
            if wall.thick < least - _TOUCH and span not in told:
                told.add(span)
                facts = {"part": f"“{part.name}”", "where": wall.where.format(it=it)}
                facts |= {"wood": both_units(Fraction(wall.thick)), "stock": part.stock.name.value}
                facts["thinnest"] = f"{math.floor(20 * wall.thick + _TOUCH) / 20:g} mm"
                yield Problem(WallThin, span, facts, _place(part, wall.hollow))


def _place(part: CutPart, hollow: _Hollow) -> Vec:
    """The middle of what is cut out, in the part's own frame."""
    wide, deep, high = (float(each) for each in sizes_of(part))
    middle = hollow.region.centroid
    half = (hollow.start + hollow.stop) / 2
    return in_space(hollow.view, (wide, deep, high), (middle.x, middle.y), half)


def _least(part: CutPart, worked: Worked) -> float:
    """How thin a wall of a part may be, mm."""
    said = worked.solver.value(part.stock.thinnest) if part.stock.thinnest else None
    thin = min(each.value for each in part.extents.values())
    return float(said.value if said else min(THINNEST, thin * SHARE))


def _said(part: CutPart, cutting: Cutting) -> tuple[str, Span]:
    """What a hole, or the row it is in, or a groove is called, and where it is described."""
    if isinstance(cutting, Hole):
        hole = next(each for each in part.part.holes if cutting.name in each.names)
        return f"the hole “{hole.name.value}”", hole.span
    groove = next(each for each in part.part.grooves if each.name.value == cutting.name)
    return f"the groove “{cutting.name}”", groove.span


def _walls(part: CutPart, worked: Worked) -> Iterator[_Wall]:
    """Every wall of a part, however thick, page by page."""
    shape = worked.shapes.get(part.name)
    cuts = [each for each in named_cuts(part, shape, worked.solver) if each[1].out is None]
    for view in sorted({cut.view for _, cut in cuts}):
        hollows = [_hollow(*each) for each in cuts if each[1].view is view]
        wide, high = (float(part.extents[axis].value) for axis in PAGE_AXES[view])
        outline: BaseGeometry = shapely.box(0, 0, wide, high)
        if shape is not None and shape.view is view:
            outline = shapely.Polygon(flattened(shape.outline))
        yield from _behind(hollows, float(part.extents[THIN_OF_VIEW[view]].value))
        yield from _beside(hollows, outline)
        yield from _between(hollows, part)


def _hollow(cutting: Cutting, cut: Cut) -> _Hollow:
    region = shapely.Polygon(flattened(cut.outline))
    return _Hollow(cutting, cut.view, region, float(cut.start), float(cut.stop))


def _behind(hollows: list[_Hollow], thick: float) -> Iterator[_Wall]:
    """The floor of what does not go through, or what is left between it and one behind it."""
    for each in hollows:
        floor = thick - each.stop if each.start < _TOUCH else each.start
        if floor > _TOUCH:
            yield _Wall(floor, each, "behind {it}")
    for one, two in combinations(sorted(hollows, key=lambda each: each.start), 2):
        if two.start - one.stop > _TOUCH and shapely.area(one.region & two.region) > _TOUCH:
            where = f"between {{it}} and “{one.cutting.name}” on the other side"
            yield _Wall(two.start - one.stop, two, where)


def _beside(hollows: list[_Hollow], outline: BaseGeometry) -> Iterator[_Wall]:
    """What is left between a cutting and the edge."""
    for each in hollows:
        for line in _sides(each):
            far = line.distance(outline.boundary)
            if far > _TOUCH and outline.contains(line):
                yield _Wall(far, each, "beside {it}")


def _sides(hollow: _Hollow) -> Iterator[BaseGeometry]:
    """The whole outline of a hole, or the two sides of a groove short of its ends."""
    groove = hollow.cutting
    if isinstance(groove, Hole):
        yield hollow.region.boundary
        return
    (left, low), (right, high) = ((float(p.x), float(p.y)) for p in (groove.low, groove.high))
    if groove.along is Axis.X:
        short = (right - left) / 10
        lines = [((left + short, y), (right - short, y)) for y in (low, high)]
    else:
        short = (high - low) / 10
        lines = [((x, low + short), (x, high - short)) for x in (left, right)]
    yield from map(shapely.LineString, lines)


def _between(hollows: list[_Hollow], part: CutPart) -> Iterator[_Wall]:
    """What is left between two cuttings at a common depth."""
    for one, two in combinations(hollows, 2):
        far = one.region.distance(two.region)
        if far > _TOUCH and min(one.stop, two.stop) - max(one.start, two.start) > _TOUCH:
            of_row = _said(part, one.cutting) == _said(part, two.cutting)
            where = (
                "from {it} to the next" if of_row else f"between {{it}} and “{one.cutting.name}”"
            )
            yield _Wall(far, two, where)
