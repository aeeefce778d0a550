"""How a work lies on the bench.

In: the words of a step's `work lies`.  Out: directions of the bench, told in the work's own.
"""

from __future__ import annotations

from patternpress.assembly.solid import UNTURNED, Matrix, Vec

# What the work's own directions become on the bench: rows are the bench's right, back and up,
# each told in directions of the work.
BENCH: dict[str, Matrix] = {
    "upright": UNTURNED,
    "on its back": ((1, 0, 0), (0, 0, 1), (0, -1, 0)),
    "on its front": ((-1, 0, 0), (0, 0, 1), (0, 1, 0)),
    "on its left": ((0, 0, -1), (0, 1, 0), (1, 0, 0)),
    "on its right": ((0, 0, 1), (0, 1, 0), (-1, 0, 0)),
    "on its top": ((-1, 0, 0), (0, 1, 0), (0, 0, -1)),
}


def bench_way(lies: str, way: Vec) -> Vec:
    """Return a direction of the bench as a direction of the work that lies on it."""
    rows = BENCH[lies]
    x, y, z = (sum(way[row] * rows[row][axis] for row in range(3)) for axis in range(3))
    return x, y, z
