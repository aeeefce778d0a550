"""Which pieces a small child could swallow.

In: the sizes of a piece in mm, or a `Worked` design.  Out: whether it fits wholly into the test
cylinder of 16 CFR 1501.4, and how many such pieces there are.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import permutations
from math import hypot, sqrt

from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.worked import Worked

# 16 CFR 1501.4, whose inch figures govern: 1.25 in wide; its bottom slants from a depth of 1 in
# on one side to 2.25 in on the other (the shallow side from memory).
WIDE, SHALLOW, DEEP = 31.75, 25.4, 57.15


def fits_cylinder(extents: Sequence[float]) -> bool:
    """Whether a box of these three sizes (mm) stands wholly inside the cylinder.

    It stands upright on two of its sizes, pushed against the deep side, as far as its corners
    let it; the bottom is met at its far edge.  A box that fits only aslant is not found.
    """
    return any(_stands_in(*sizes) for sizes in permutations(extents))


def _stands_in(out: float, across: float, high: float) -> bool:
    """Whether a box stands inside: `out` from the deep side, `across`, and `high`."""
    if hypot(out, across) > WIDE:
        return False
    # The circle is as wide as the box so far from its deepest point; the box begins there.
    radius = WIDE / 2
    start = radius - sqrt(radius**2 - (across / 2) ** 2)
    slope = (DEEP - SHALLOW) / WIDE
    return high <= DEEP - slope * (start + out)


def small_pieces(worked: Worked) -> int:
    """How many pieces of the finished design fit the cylinder.

    Bought fittings without sizes, such as pins and screws, are taken to.
    """
    return sum(
        part.quantity - (part.part.spares.value if part.part.spares else 0)
        for part in small_parts(worked)
    )


def small_parts(worked: Worked) -> tuple[CutPart, ...]:
    """The parts whose pieces fit the cylinder and lie about as a toy's would.

    The bought screws of a piece at full size are driven home, as in any furniture.
    """
    full = worked.book.scale is None or worked.book.scale.value == 1
    small = (part for part in worked.parts if is_small(part))
    return tuple(part for part in small if not full or part.form != "bought")


def is_small(part: CutPart) -> bool:
    """Whether a piece of a part fits the cylinder; a bought one without sizes is taken to."""
    sizes = [float(size.value) for size in part.smallest.values()]
    return len(part.extents) < 3 or fits_cylinder(sizes)
