"""Lay lines that fall together over each other, and join what continues.

In: straight pieces of lines on the paper in mm, each with its owners.  Out: the same ink with
every line once.  Where pieces overlap, seen beats hidden, then contour beats crease, and
owners are put together; where nothing changes, pieces are joined.
"""

import math
from bisect import bisect_right
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import groupby
from operator import itemgetter
from typing import TypeVar

from patternpress.drawing.projection import Place

T = TypeVar("T")
# Lines whose directions differ by less (radians) may be one line.
_PARALLEL = 1e-7


@dataclass(frozen=True, slots=True)
class Piece:
    """A straight piece of a line, mm; `owners` are sorted numbers."""

    owners: tuple[int, ...]
    contour: bool
    hidden: bool
    start: Place
    end: Place


@dataclass(frozen=True, slots=True)
class _Laid:
    """A piece on a line: places along it in mm, and the piece from low to high."""

    low: float
    high: float
    piece: Piece


def overlaid(pieces: Iterable[Piece], near: float) -> list[Piece]:
    """Return the pieces with overlaps taken out, sorted by owners, then by place.

    Places closer than `near` mm are one place.
    """
    found = [
        joined
        for line in _lines([_rightward(piece) for piece in pieces], near)
        for joined in _overlaid_on(line, near)
    ]
    grid = 10 * near or 1.0
    return sorted(found, key=lambda piece: _order(piece, grid))


def _order(piece: Piece, grid: float) -> tuple[object, ...]:
    """Order by owners and place; places in steps, so that rounding changes no order."""
    ends = (*piece.start, *piece.end)
    return piece.hidden, piece.owners, *(round(value / grid) for value in ends), ends


def _rightward(piece: Piece) -> Piece:
    """Return a piece that runs to the right; upright ones run upwards."""
    across, up = piece.end[0] - piece.start[0], piece.end[1] - piece.start[1]
    if across > _PARALLEL * abs(up) or (up > 0 and across > -_PARALLEL * up):
        return piece
    return Piece(piece.owners, piece.contour, piece.hidden, piece.end, piece.start)


def _lines(pieces: Sequence[Piece], near: float) -> Iterator[list[_Laid]]:
    """Return the pieces line by line, each line's sorted along it."""
    for parallel in _runs([(_angle(each), each) for each in pieces], _PARALLEL):
        if len(parallel) == 1:
            yield [_Laid(0.0, 0.0, parallel[0])]
            continue
        longest = max(parallel, key=_length)
        size = _length(longest)
        x = (longest.end[0] - longest.start[0]) / size
        y = (longest.end[1] - longest.start[1]) / size
        offs = [(x * each.start[1] - y * each.start[0], each) for each in parallel]
        for line in _runs(offs, near):
            laid = [_Laid(_along(each.start, x, y), _along(each.end, x, y), each) for each in line]
            yield sorted(laid, key=lambda each: (each.low, each.high))


def _overlaid_on(line: Sequence[_Laid], near: float) -> Iterator[Piece]:
    """Return what is drawn along one line: cut at every end, chosen, joined again."""
    if len(line) == 1:
        yield line[0].piece
        return
    ends = [(each.low, (each.low, each.piece.start)) for each in line]
    ends += [(each.high, (each.high, each.piece.end)) for each in line]
    marks = [run[0] for run in _runs(ends, near)]
    values = [value for value, _ in marks]
    cells: list[list[Piece]] = [[] for _ in marks]
    for each in line:
        first, last = bisect_right(values, each.low) - 1, bisect_right(values, each.high) - 1
        for cell in cells[first:last]:
            cell.append(each.piece)
    start = 0
    for looks, group in groupby(_looks(cell) for cell in cells):
        end = start + len(list(group))
        if looks is not None:
            owners, contour, hidden = looks
            yield Piece(owners, contour, hidden, marks[start][1], marks[end][1])
        start = end


def _looks(pieces: Sequence[Piece]) -> tuple[tuple[int, ...], bool, bool] | None:
    """Return owners, contour and hidden of pieces that lie over each other; None for none."""
    if not pieces:
        return None
    hidden = all(piece.hidden for piece in pieces)
    shown = [piece for piece in pieces if piece.hidden is hidden]
    owners = sorted({owner for piece in shown for owner in piece.owners})
    return tuple(owners), any(piece.contour for piece in shown), hidden


def _runs(valued: Iterable[tuple[float, T]], gap: float) -> Iterator[list[T]]:
    """Sort by value and part wherever two values differ by more than a gap."""
    ordered = sorted(valued, key=itemgetter(0))
    run: list[T] = []
    before = -math.inf
    for value, item in ordered:
        if run and value - before > gap:
            yield run
            run = []
        run.append(item)
        before = value
    if run:
        yield run


def _angle(piece: Piece) -> float:
    return math.atan2(piece.end[1] - piece.start[1], piece.end[0] - piece.start[0])


def _length(piece: Piece) -> float:
    return math.dist(piece.start, piece.end)


def _along(place: Place, x: float, y: float) -> float:
    return x * place[0] + y * place[1]
