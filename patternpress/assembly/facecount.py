"""From which edge of a broad face a distance counts, where an end slants through the thickness.

In: a part with its Shape, a face of it, and a distance from a side of its blank.  Out: a side and a
distance that a rule laid on that face tells.  Sizes count to the end's longest side, or to the
middle of one that is cut level; the edge of the face may lie millimetres behind or before that.
"""

from __future__ import annotations

from fractions import Fraction

from patternpress.assembly.body import SIDE_AXIS
from patternpress.assembly.broadface import NEAR_FACE
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.faceoutline import slanted_ends
from patternpress.assembly.pose import ZERO
from patternpress.assembly.shape import EDGES, Shape
from patternpress.assembly.sizes import AXES, Solver
from patternpress.design.phrases import OPPOSITE

HAIR = Fraction(1, 20)  # mm that no rule tells apart
Edges = dict[str, Fraction]


def edges_off(part: CutPart, shape: Shape, solver: Solver, face: str) -> Edges:
    """How far the edge of a face lies inside the blank's, for each side whose end slants, mm;
    below nought where it stands out.  One that is no parallel counts in its middle.
    """
    near = NEAR_FACE[shape.view]
    if face not in (near, OPPOSITE[near]):
        return {}
    found = {}
    sides = [each.value for each in EDGES[shape.view]]
    size = shape.width, shape.height
    for end in slanted_ends(part, shape, solver):
        axis, high = divmod(sides.index(end.side), 2)
        line = end.near if face == near else end.far
        across, along = (line.x, line.y) if axis == 0 else (line.y, line.x)
        at = (line.at - along * size[1 - axis] / 2) / across
        off = size[axis] - at if high else at
        if abs(off) > HAIR:
            found[end.side] = off
    return found


def counted_from(
    part: CutPart, off: Edges, side: str, far: Fraction
) -> tuple[str, Fraction] | None:
    """The side and the distance that a rule on the face tells; None where it is as said.

    From the opposite side, where that end is square; else from the face's own edge.
    """
    axis = AXES[SIDE_AXIS[side]]
    if side not in off or axis in part.waits:
        return None
    if any(OPPOSITE[side] in sides.value for sides, _ in part.part.ends):
        return side, far - off[side]
    return OPPOSITE[side], part.extents[axis].value - far


def edge_of(off: Edges, side: str, far: Fraction) -> Fraction:
    """A distance from a side of the blank, from the edge of the face."""
    return far - off.get(side, ZERO)


__all__ = ["HAIR", "counted_from", "edge_of", "edges_off"]
