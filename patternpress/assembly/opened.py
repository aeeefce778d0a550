"""Things as they are when they are opened.

In: a `Motion` and how much of it is done.  Out: the turn and shift of its pieces, or a solid
moved by it.  Floats in mm.
"""

from __future__ import annotations

import math

import numpy as np

from patternpress.assembly.convex import Bulk, placed
from patternpress.assembly.moving import Motion
from patternpress.assembly.solid import UNTURNED, Matrix, Vec


def opening(motion: Motion, share: float = 1.0) -> tuple[Matrix, Vec]:
    """The matrix and the shift that open a thing by a share of its motion.

    About a line through p along unit vector u, x goes to R x + (p - R p), where by Rodrigues'
    formula R = I + sin a K + (1 - cos a) K², K being the cross-product matrix of u.
    """
    way = np.array([float(each) for each in motion.way])
    far = float(motion.by.value) * share
    if motion.through is None:
        x, y, z = (float(each) for each in far * way)
        return UNTURNED, (x, y, z)
    cross = np.array([[0, -way[2], way[1]], [way[2], 0, -way[0]], [-way[1], way[0], 0]])
    angle = math.radians(far)
    turn = np.eye(3) + math.sin(angle) * cross + (1 - math.cos(angle)) * (cross @ cross)
    through = np.array([float(each) for each in motion.through])
    x, y, z = (float(each) for each in through - turn @ through)
    first, second, third = ((float(a), float(b), float(c)) for a, b, c in turn)
    return (first, second, third), (x, y, z)


def opened(thing: Bulk, motion: Motion, share: float = 1.0) -> Bulk:
    """A solid of what opens, opened by a share of its motion."""
    return placed(thing, *opening(motion, share))
