"""What of a face is hidden by the pieces that lie against it.

In: a placed piece with its bulk, one of its sides, and the bulks of others.  Out: the share of
the face, or of a line on it, that lies under them.  Floats.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

import shapely
from shapely.geometry.base import BaseGeometry

from patternpress.assembly.blocks import across, dot
from patternpress.assembly.body import Body
from patternpress.assembly.contacts import opposite, shadow_of
from patternpress.assembly.convex import Bulk
from patternpress.assembly.placing import Placed
from patternpress.assembly.pose import DIRECTION, Vector
from patternpress.assembly.pose import dot as exactly
from patternpress.assembly.solid import Vec


@dataclass(frozen=True)
class Flat:
    """A plane of a face: its outward normal, its distance from the origin, two directions in it,
    and the face as it lies there.
    """

    normal: Vec
    offset: float
    axes: tuple[Vec, Vec]
    face: BaseGeometry

    def at(self, point: Vec) -> tuple[float, float]:
        """Where a point lies in the plane."""
        return dot(self.axes[0], point), dot(self.axes[1], point)

    def under(self, others: Iterable[Bulk], close: float) -> BaseGeometry:
        """What of the plane lies under faces of others that look at it, within `close` mm."""
        found = [
            shadow_of(other.solid, each, self.axes)
            for other in others
            for each in other.solid.facets
            if opposite(self.normal, each.normal)
            and abs(dot(each.normal, other.solid.points[each.loops[0][0]]) + self.offset) <= close
        ]
        return shapely.union_all(found)


def own_side(placed: Placed, body: Body, side: str) -> str:
    """The side of a piece, as its part is drawn, that looks to a side of the work."""
    way: Vector = DIRECTION[side]
    looks = {name: exactly(placed.pose.turn(face.normal), way) for name, face in body.faces.items()}
    return max(looks, key=lambda name: (looks[name], name == side))


def flats(bulk: Bulk, side: str) -> Iterator[Flat]:
    """The planes of a side (as the part is drawn), one for each facet."""
    for each in bulk.solid.facets:
        if each.side == side:
            axes = across(each.normal)
            offset = dot(each.normal, bulk.solid.points[each.loops[0][0]])
            yield Flat(each.normal, offset, axes, shadow_of(bulk.solid, each, axes))


def share_covered(bulk: Bulk, side: str, others: Iterable[Bulk], close: float) -> float:
    """The share of a face, from 0 to 1, that lies under others."""
    there = list(others)
    whole = hidden = 0.0
    for flat in flats(bulk, side):
        whole += float(flat.face.area)
        hidden += float(flat.face.intersection(flat.under(there, close)).area)
    return hidden / whole if whole else 0.0
