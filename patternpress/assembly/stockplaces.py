"""Where a defect lies on a board.

In: what the author says of it, the board's length and width, a solver.  Out: a rectangle in mm, x
along the board from its left end, y across it from its bottom edge.
"""

from __future__ import annotations

from fractions import Fraction

from patternpress.assembly.sizes import Solver
from patternpress.design.records.goods import Defect

Rectangle = tuple[Fraction, Fraction, Fraction, Fraction]  # x, y, along, across

# The board lies on the bench, its length from left to right.
FROM_LOW = {"left": (0, True), "right": (0, False), "bottom": (1, True), "top": (1, False)}


def defect_place(
    defect: Defect, board: tuple[Fraction, Fraction], solver: Solver
) -> Rectangle | None:
    """The rectangle of a defect on a board (length, width); nothing where a figure is missing.

    A length has no width, and its defects reach all across it.  A direction without a distance is
    centred.
    """
    sizes = [solver.value(each) for each in defect.size]
    far = [solver.value(each.distance) for each in defect.at.offsets]
    if None in sizes or None in far:
        return None
    found = [each.value for each in sizes if each]
    size = [found[-1], found[0] if board[1] else Fraction(0)]
    middle = [each / 2 for each in board]
    for offset, distance in zip(defect.at.offsets, far, strict=True):
        axis, low = FROM_LOW[offset.side]
        if distance is not None and (axis == 0 or board[1]):
            middle[axis] = distance.value if low else board[axis] - distance.value
    return middle[0] - size[0] / 2, middle[1] - size[1] / 2, size[0], size[1]
