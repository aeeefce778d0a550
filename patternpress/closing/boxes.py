"""Placed pieces that stand square, as boxes.

In: placed pieces and their bodies.  Out: `Box`es, exact and in floats, mm.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction

from patternpress.assembly.body import Body
from patternpress.assembly.placing import Placed
from patternpress.assembly.pose import DIRECTION

LOW, HIGH = ("left", "front", "bottom"), ("right", "back", "top")
TOUCH = 1e-9


@dataclass(frozen=True)
class Box:
    """A placed piece whose sides stand square: its low and high corner, and the same rounded."""

    name: str
    low: tuple[Fraction, ...]
    high: tuple[Fraction, ...]
    near: tuple[tuple[float, float], ...]


def boxes(placed: Iterable[Placed], bodies: dict[str, Body]) -> list[Box]:
    """The boxes of the pieces that stand square, in their order; in mm."""
    found = []
    for each in placed:
        if any(abs(value) not in (0, 1) for row in each.pose.matrix for value in row):
            continue
        body = bodies[each.part]
        low = tuple(-body.reach(each.pose, DIRECTION[side]) for side in LOW)
        high = tuple(body.reach(each.pose, DIRECTION[side]) for side in HIGH)
        near = tuple((float(a), float(b)) for a, b in zip(low, high, strict=True))
        found.append(Box(each.piece, low, high, near))
    return found
