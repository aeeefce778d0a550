"""Convex blocks of wood, and the cuts of a flat blade through them.

In: a convex outline and two depths, or a block and a plane.  Out: blocks.  Floats, mm; places
nearer than 1e-9 mm to a plane lie on it.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

from patternpress.assembly.solid import Vec, cross

# The side and the number of a smooth stretch that a face will have; None for a face inside wood.
Label = tuple[str, int] | None
_ON = 1e-9


@dataclass(frozen=True, slots=True)
class Face:
    """A face of a block: numbers of its corners, anticlockwise from outside."""

    loop: tuple[int, ...]
    label: Label = None


@dataclass(frozen=True, slots=True)
class Block:
    """A convex block; a corner may lie in the middle of an edge."""

    points: tuple[Vec, ...]
    faces: tuple[Face, ...]


@dataclass(frozen=True, slots=True)
class Blade:
    """A plane: places p with normal · p = offset; `label` for the wood that it lays bare."""

    normal: Vec
    offset: float
    label: Label = None


def dot(one: Vec, two: Vec) -> float:
    """Return the scalar product."""
    return one[0] * two[0] + one[1] * two[1] + one[2] * two[2]


def prism(near: Sequence[Vec], far: Sequence[Vec], labels: Sequence[Label]) -> Block:
    """Return the block between two loops of equally many corners.

    Both run anticlockwise as one looks at the near face.  Labels: of the wall from each corner
    to the next, then of the near and of the far face.
    """
    count = len(near)
    walls = [
        Face((count + i, count + (i + 1) % count, (i + 1) % count, i), labels[i])
        for i in range(count)
    ]
    caps = [
        Face(tuple(range(count)), labels[count]),
        Face(tuple(reversed(range(count, 2 * count))), labels[count + 1]),
    ]
    return Block((*near, *far), (*walls, *caps))


def split(block: Block, blade: Blade) -> tuple[Block | None, Block | None]:
    """Return what lies under a blade and what lies over it; None for nothing.

    The new faces of both get the blade's label.
    """
    heights = [dot(blade.normal, point) - blade.offset for point in block.points]
    heights = [0.0 if abs(each) < _ON else each for each in heights]
    if max(heights) <= 0:
        return block, None
    if min(heights) >= 0:
        return None, block
    back = (-blade.normal[0], -blade.normal[1], -blade.normal[2])
    under = _kept(block, heights, blade.normal, blade.label)
    over = _kept(block, [-each for each in heights], back, blade.label)
    return under, over


def _kept(block: Block, heights: list[float], normal: Vec, label: Label) -> Block:
    """Return the part below height 0, closed by a face that looks along `normal`."""
    points = list(block.points)
    crossings: dict[tuple[int, int], int] = {}
    faces = []
    for face in block.faces:
        loop = []
        for one, two in pairwise((*face.loop, face.loop[0])):
            if heights[one] <= 0:
                loop.append(one)
            if heights[one] * heights[two] < 0:
                pair = (min(one, two), max(one, two))
                if pair not in crossings:
                    crossings[pair] = len(points)
                    points.append(_crossing(block.points, heights, pair))
                loop.append(crossings[pair])
        if any(number < len(heights) and heights[number] < 0 for number in loop):
            faces.append(Face(tuple(loop), face.label))
    on = [number for number, height in enumerate(heights) if height == 0]
    cap = _around([*on, *crossings.values()], points, normal)
    return _numbered_anew(points, [*faces, Face(cap, label)])


def _crossing(points: Sequence[Vec], heights: list[float], pair: tuple[int, int]) -> Vec:
    one, two = points[pair[0]], points[pair[1]]
    share = heights[pair[0]] / (heights[pair[0]] - heights[pair[1]])
    x, y, z = (a + share * (b - a) for a, b in zip(one, two, strict=True))
    return x, y, z


def _around(numbers: list[int], points: Sequence[Vec], normal: Vec) -> tuple[int, ...]:
    """Return the corners of a convex face in order, anticlockwise about its normal."""
    middle = [sum(points[n][axis] for n in numbers) / len(numbers) for axis in range(3)]
    first, second = across(normal)

    def angle(number: int) -> float:
        x, y, z = (points[number][axis] - middle[axis] for axis in range(3))
        return math.atan2(dot(second, (x, y, z)), dot(first, (x, y, z)))

    return tuple(sorted(numbers, key=angle))


def across(normal: Vec) -> tuple[Vec, Vec]:
    """Return two unit directions in a plane that make a right-handed set with its normal."""
    least = min(range(3), key=lambda axis: abs(normal[axis]))
    helper = tuple(float(axis == least) for axis in range(3))
    x, y, z = cross((helper[0], helper[1], helper[2]), normal)
    long = math.hypot(x, y, z)
    first = (x / long, y / long, z / long)
    return first, cross(normal, first)


def _numbered_anew(points: Sequence[Vec], faces: list[Face]) -> Block:
    used = sorted({number for face in faces for number in face.loop})
    new = {number: index for index, number in enumerate(used)}
    return Block(
        tuple(points[number] for number in used),
        tuple(Face(tuple(new[n] for n in face.loop), face.label) for face in faces),
    )


def hollowed(block: Block, tool: Iterable[Blade]) -> list[Block]:
    """Return what is left of a block when the wood under all of a tool's blades is gone."""
    left: list[Block] = []
    rest: Block | None = block
    for blade in tool:
        if rest is None:
            break
        rest, over = split(rest, blade)
        left += [over] if over is not None else []
    return left if rest is not None else [block]
