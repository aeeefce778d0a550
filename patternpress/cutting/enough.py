"""How much stock is enough.

In: parts of one stock and the size that it is sold in.  Out: where each piece lies on how many
sheets or lengths, so that all can be cut; never too few, though perhaps one too many.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from patternpress.assembly.cutparts import CutPart

ZERO = Fraction(0)


@dataclass(frozen=True, slots=True)
class Spot:
    """One piece on the stock: which sheet or length, counted from 0, and where, in mm.

    `start` and `along` run with the grain, `side` and `across` over it; 0 across on a length.
    """

    letter: str
    number: int
    start: Fraction
    along: Fraction
    side: Fraction = ZERO
    across: Fraction = ZERO


@dataclass(slots=True)
class _Shelf:
    """A row of pieces across a sheet: where it starts, how deep it is, how far it is filled."""

    number: int
    start: Fraction
    depth: Fraction
    filled: Fraction = ZERO


def sheets_enough(
    parts: Sequence[CutPart],
    sold: tuple[Fraction, Fraction],
    kerf: Fraction,
    allowance: Fraction = ZERO,
) -> int:
    """Sheets of width × length that hold all parts, grain along the length; 0 if one cannot fit."""
    return _count(sheet_spots(parts, sold, kerf, allowance))


def lengths_enough(
    parts: Sequence[CutPart], sold: Fraction, kerf: Fraction, allowance: Fraction = ZERO
) -> int:
    """Lengths that hold all pieces; 0 if a piece is longer than what is sold."""
    return _count(length_spots(parts, sold, kerf, allowance))


def sheet_spots(
    parts: Sequence[CutPart],
    sold: tuple[Fraction, Fraction],
    kerf: Fraction,
    allowance: Fraction = ZERO,
) -> tuple[Spot, ...]:
    """Where each piece lies on sheets of width × length; empty if one cannot fit.

    Shelves across the sheet, longest pieces first, each piece on the first shelf with room.
    `allowance` is left on each size of a piece, as far as the sheet has room for it.
    """
    width, length = sold
    sized = [(p.letter, *_flat(p, sold, allowance)) for p in parts for _ in range(p.quantity)]
    if any(along > length or across > width for _, along, across in sized):
        return ()
    shelves: list[_Shelf] = []
    used: list[Fraction] = []  # of the length of each sheet, kerfs counted
    spots = []
    for letter, along, across in sorted(sized, key=lambda piece: (-piece[1], -piece[2])):
        room = (s for s in shelves if s.depth >= along and s.filled + across <= width)
        shelf = next(room, None)
        if shelf is None:
            number = _first_with_room(used, along, length)
            shelf = _Shelf(number, used[number], along)
            used[number] += along + kerf
            shelves.append(shelf)
        spots.append(Spot(letter, shelf.number, shelf.start, along, shelf.filled, across))
        shelf.filled += across + kerf
    return tuple(spots)


def length_spots(
    parts: Sequence[CutPart], sold: Fraction, kerf: Fraction, allowance: Fraction = ZERO
) -> tuple[Spot, ...]:
    """Where each piece lies, longest first, each in the first length with room.

    Empty if one cannot fit; `allowance` is left on each piece, as far as the length allows.
    """
    pieces = [
        (p.letter, _with(p.extents[p.along].value, allowance, sold))
        for p in parts
        for _ in range(p.quantity)
    ]
    if any(along > sold for _, along in pieces):
        return ()
    used: list[Fraction] = []
    spots = []
    for letter, along in sorted(pieces, key=lambda piece: -piece[1]):
        number = _first_with_room(used, along, sold)
        spots.append(Spot(letter, number, used[number], along))
        used[number] += along + kerf
    return tuple(spots)


def _flat(
    part: CutPart, sold: tuple[Fraction, Fraction], allowance: Fraction
) -> tuple[Fraction, Fraction]:
    """Length and width of a piece; one without grain is turned where only that fits."""
    width, length = sold
    along, across = part.extents[part.along].value, part.extents[part.across].value
    if not part.grain and (along > length or across > width):
        along, across = across, along
    return _with(along, allowance, length), _with(across, allowance, width)


def _with(size: Fraction, allowance: Fraction, most: Fraction) -> Fraction:
    return max(size, min(size + allowance, most))


def _first_with_room(used: list[Fraction], along: Fraction, length: Fraction) -> int:
    """The first sheet or length with room; a new one where there is none."""
    for number, taken in enumerate(used):
        if taken + along <= length:
            return number
    used.append(ZERO)
    return len(used) - 1


def _count(spots: Sequence[Spot]) -> int:
    return 1 + max((spot.number for spot in spots), default=-1)


__all__ = ["Spot", "length_spots", "lengths_enough", "sheet_spots", "sheets_enough"]
