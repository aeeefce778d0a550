"""Where the real edge of a part is behind its outermost one: in a notch, a hollow, a cut corner.

In: a part with its Shape, and a place on one of its edges.  Out: how far the wood begins behind
the edge of the blank there, in mm; exact where the outline is straight there, else within 0.001.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

from patternpress.assembly.body import SIDE_AXIS, body_of
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.flattening import flattened
from patternpress.assembly.outlines import legs
from patternpress.assembly.pose import ZERO, Vector
from patternpress.assembly.shape import EDGES, Line, Outline, Shape, View
from patternpress.assembly.sizes import AXES, Solver
from patternpress.assembly.specs import PAGE_AXES

_DIGITS = 3


def set_back(part: CutPart, shape: Shape | None, side: str, at: Vector) -> Fraction:
    """How far the wood begins behind a side of the blank, at a place in the part's own frame.

    Nought where the side is a broad face, and where no wood lies behind the place at all.
    """
    if shape is None or side not in EDGES[shape.view]:
        return ZERO
    sizes = [part.extents[axis].value for axis in AXES]
    page = [AXES.index(axis) for axis in PAGE_AXES[shape.view]]
    x, y = (at[index] for index in page)
    if shape.view is View.LEFT:
        x = sizes[page[0]] - x
    number = [each.value for each in EDGES[shape.view]].index(side)
    along, across = (y, 0) if number < len(page) else (x, 1)
    far = number % 2 == 1
    edge = sizes[page[across]] if far else ZERO
    met = _met(shape.outline, along, across)
    return min((edge - each if far else each - edge for each in met), default=ZERO)


def mouth_behind(
    part: CutPart, shape: Shape | None, solver: Solver, side: str, at: Vector
) -> Fraction:
    """How far the mouth of a hole in a side lies behind the blank's: as `set_back`, and in an end
    that is bevelled or cut level where that lies in the middle of the hole.
    """
    if all(side not in sides.value for sides, _ in part.part.ends):
        return set_back(part, shape, side, at)
    face, axis = body_of(part, None, solver).faces[side], SIDE_AXIS[side]
    off = sum(
        (face.normal[i] * (at[i] - face.point[i]) for i in range(len(AXES)) if i != axis), ZERO
    )
    far = face.point[axis] - off / face.normal[axis]
    high = side in ("right", "back", "top")
    return part.extents[AXES[axis]].value - far if high else far


def _met(outline: Outline, along: Fraction, across: int) -> Iterator[Fraction]:
    """Where a line across the page (0) or up it (1) meets an outline."""
    for start, segment in legs(outline):
        if isinstance(segment, Line):
            ends = [(each.x, each.y) for each in (start, segment.to)]
            yield from _crossed(ends[0], ends[1], along, across)
            continue
        chain = flattened(Outline(start, (segment,)))
        points = [(Fraction(x), Fraction(y)) for x, y in chain] + [(segment.to.x, segment.to.y)]
        for one, two in pairwise(points):
            yield from (round(each, _DIGITS) for each in _crossed(one, two, along, across))


def _crossed(
    one: tuple[Fraction, Fraction], two: tuple[Fraction, Fraction], along: Fraction, across: int
) -> Iterator[Fraction]:
    """Where a stretch crosses the line; a stretch on the line itself does not."""
    low, high = sorted((one, two), key=lambda each: each[1 - across])
    run = high[1 - across] - low[1 - across]
    if run and low[1 - across] <= along <= high[1 - across]:
        share = (along - low[1 - across]) / run
        yield low[across] + share * (high[across] - low[across])


def corner_is_cut(part: CutPart, shape: Shape | None, one: str, two: str) -> bool:
    """Whether the corner of the blank where two of its edges meet is not there any more."""
    if shape is None or not {one, two} <= {each.value for each in EDGES[shape.view]}:
        return False
    at = [part.extents[axis].value / 2 for axis in AXES]
    axis, size = SIDE_AXIS[two], part.extents[AXES[SIDE_AXIS[two]]].value
    at[axis] = ZERO if two in ("left", "front", "bottom") else size
    return set_back(part, shape, one, (at[0], at[1], at[2])) != 0


__all__ = ["corner_is_cut", "mouth_behind", "set_back"]
