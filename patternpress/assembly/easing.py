"""Take the sharp edge off wood: rounded over or chamfered.

In: convex blocks of a piece, two of its sides and a size.  Out: blocks without the wood of the
edge where the sides meet.  For straight edges on the outside of a blank, between flat sides that
meet at less than a straight angle.  Floats; a round-over strays by at most the error allowed.
"""

import math
from collections.abc import Sequence

from patternpress.assembly.blocks import Blade, Block, dot, split
from patternpress.assembly.contacts import face_plane
from patternpress.assembly.solid import Solid, Vec

# Two planes: outward unit normal and distance from the origin of each.
Planes = tuple[tuple[Vec, float], tuple[Vec, float]]


def chamfered(
    blocks: Sequence[Block], solid: Solid, sides: tuple[str, str], size: float
) -> tuple[Block, ...]:
    """Return blocks with an edge cut off `size` mm along both of its sides.

    Raises ValueError if the sides do not meet in an edge that sticks out.
    """
    return chamfered_between(blocks, _planes(solid, sides), sides[0], size)


def chamfered_between(
    blocks: Sequence[Block], planes: Planes, side: str, size: float
) -> tuple[Block, ...]:
    """Return blocks with the edge between two planes cut off, as `chamfered` does; the new facet
    belongs to `side`.
    """
    (one, at_one), (two, at_two) = planes
    square = dot(one, two)
    across = math.sqrt(1 - square * square)
    # The way along the first side from the edge into the wood.
    along = _mixed(one, square / across, two, -1 / across)
    normal = _unit(_mixed(one, 1, two, 1))
    through = _mixed(_meeting(one, at_one, two, at_two), 1, along, size)
    return _shaved(blocks, [Blade(normal, dot(normal, through), (side, 0))])


def rounded_over(
    blocks: Sequence[Block], solid: Solid, sides: tuple[str, str], radius: float, error: float,
    smooth: int = 1,
) -> tuple[Block, ...]:  # fmt: skip
    """Return blocks with an edge rounded over to a radius in mm, cut inside the true round.

    Chords of angle 2h lie r·(1 − cos h) <= `error` inside it.  The new facets get the number
    `smooth`.  Raises ValueError if the sides do not meet in an edge that sticks out.
    """
    return rounded_between(blocks, _planes(solid, sides), sides, radius, error, smooth)


def rounded_between(
    blocks: Sequence[Block], planes: Planes, sides: tuple[str, str], radius: float, error: float,
    smooth: int,
) -> tuple[Block, ...]:  # fmt: skip
    """Return blocks with the edge between two planes rounded over, as `rounded_over` does; the
    new facets belong to the side that they are nearer to.
    """
    (one, at_one), (two, at_two) = planes
    angle = math.acos(dot(one, two))
    widest = 2 * math.acos(max(1 - error / radius, math.sqrt(0.5)))
    count = math.ceil(angle / widest)
    middle = _meeting(one, at_one - radius, two, at_two - radius)
    blades = []
    for index in range(count):
        turn = angle * (index + 0.5) / count
        normal = _unit(_mixed(one, math.sin(angle - turn), two, math.sin(turn)))
        near = dot(normal, middle) + radius * math.cos(angle / count / 2)
        side = sides[0] if 2 * index < count else sides[1]
        blades.append(Blade(normal, near, (side, smooth)))
    return _shaved(blocks, blades)


def _shaved(blocks: Sequence[Block], blades: Sequence[Blade]) -> tuple[Block, ...]:
    found = list(blocks)
    for blade in blades:
        found = [under for each in found if (under := split(each, blade)[0]) is not None]
    return tuple(found)


def _planes(solid: Solid, sides: tuple[str, str]) -> Planes:
    """Return the planes of two sides that meet."""
    one, two = face_plane(solid, sides[0]), face_plane(solid, sides[1])
    if abs(dot(one[0], two[0])) > 1 - 1e-9:
        raise ValueError(f"{sides[0]} and {sides[1]} do not meet")
    return one, two


def _meeting(one: Vec, at_one: float, two: Vec, at_two: float) -> Vec:
    """Return the place nearest to the origin that lies in two planes."""
    square = dot(one, two)
    whole = 1 - square * square
    return _mixed(one, (at_one - square * at_two) / whole, two, (at_two - square * at_one) / whole)


def _mixed(one: Vec, much: float, two: Vec, more: float) -> Vec:
    x, y, z = (much * a + more * b for a, b in zip(one, two, strict=True))
    return x, y, z


def _unit(way: Vec) -> Vec:
    long = math.hypot(*way)
    return way[0] / long, way[1] / long, way[2] / long
