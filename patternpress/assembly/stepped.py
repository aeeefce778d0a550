"""Stepped holes: a narrow one that goes on from the floor of a wide one, for a screw's head.

In: a Shape, whose holes are all in its one face or the other.  Out: which two are such a pair.
"""

from __future__ import annotations

from fractions import Fraction

from patternpress.assembly.flattening import flattened
from patternpress.assembly.outlines import bounding_box
from patternpress.assembly.polygons import contains
from patternpress.assembly.shape import Hole, Shape


def goes_on(narrow: Hole, wide: Hole) -> bool:
    """Return whether a hole goes deeper, or through, from the floor of one that is all round it."""
    if wide.depth is None or not _around(wide, narrow):
        return False
    return narrow.depth is None or (narrow.far is wide.far and narrow.depth > wide.depth)


def begins_in(shape: Shape, name: str) -> Hole | None:
    """Return the hole in whose floor the named one begins; of several the narrowest."""
    narrow = next((each for each in shape.holes if each.name == name), None)
    around = [each for each in shape.holes if narrow and goes_on(narrow, each)]
    return min(around, key=_breadth, default=None)


def _breadth(hole: Hole) -> Fraction:
    box = bounding_box(hole.outline)
    return box.right - box.left


def _around(wide: Hole, narrow: Hole) -> bool:
    ring = flattened(wide.outline)
    return all(contains(ring, corner) for corner in flattened(narrow.outline))
