"""How much stock is enough.

In: parts of one stock and the size that it is sold in.  Out: a number of sheets or lengths from
which all can be cut, shown by laying them out; never too few, though perhaps one too many.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from patternpress.assembly.cutparts import CutPart

ZERO = Fraction(0)


def sheets_enough(parts: Sequence[CutPart], sold: tuple[Fraction, Fraction], kerf: Fraction) -> int:
    """Sheets of width × length that hold all parts, grain along the length; 0 if one cannot fit.

    Shelves across the sheet, longest pieces first, each piece on the first shelf with room.
    """
    width, length = sold
    pieces = sorted(
        (
            (p.extents[p.along].value, p.extents[p.across].value)
            for p in parts
            for _ in range(p.quantity)
        ),
        reverse=True,
    )
    shelves: list[list[Fraction]] = []  # each: its sheet, its depth along the length, room left
    sheets: list[Fraction] = []  # length left on each
    for along, across in pieces:
        if along > length or across > width:
            return 0
        shelf = next((s for s in shelves if s[0] >= along and s[1] >= across), None)
        if shelf is None:
            index = next((i for i, left in enumerate(sheets) if left >= along), None)
            if index is None:
                sheets.append(length)
                index = len(sheets) - 1
            sheets[index] -= along + kerf
            shelf = [along, width]
            shelves.append(shelf)
        shelf[1] -= across + kerf
    return len(sheets)


def lengths_enough(parts: Sequence[CutPart], sold: Fraction, kerf: Fraction) -> int:
    """Lengths that hold all pieces, longest first, each in the first with room.

    0 if a piece is longer than what is sold.
    """
    pieces = sorted(
        (p.extents[p.along].value for p in parts for _ in range(p.quantity)), reverse=True
    )
    left: list[Fraction] = []
    for piece in pieces:
        if piece > sold:
            return 0
        index = next((i for i, room in enumerate(left) if room >= piece), None)
        if index is None:
            left.append(sold)
            index = len(left) - 1
        left[index] -= piece + kerf
    return len(left)
