"""Solve for an offset.

In: linear equations a · t = b in the three coordinates of an offset, each with the words it came
from.  Out: the offset, the directions left free, and the equations that contradict earlier ones.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from patternpress.assembly.pose import ZERO, Vector
from patternpress.design.span import NOWHERE, Span

# Turned pieces carry matrices cut at 1e-18, so equal places may differ by far less than this.
SAME_PLACE = Fraction(1, 10**9)


@dataclass(frozen=True, slots=True)
class Equation:
    """normal · t = value: one statement about where a thing is.

    `play`: how far it may be off, mm, where others say where the thing is; it then only stands by.
    """

    normal: Vector
    value: Fraction
    words: str = ""
    span: Span = NOWHERE
    play: Fraction = ZERO


Clash = tuple[Equation, Equation | None, Fraction]


def solve(
    equations: Sequence[Equation],
) -> tuple[Vector | None, tuple[Vector, ...], tuple[Clash, ...]]:
    """The offset (free directions at nought), the free directions, and the contradictions.

    Gaussian elimination in the order said, so that the earlier statement holds; those with play
    come last.
    """
    rows: list[tuple[list[Fraction], Fraction, int, Equation]] = []
    clashes: list[Clash] = []
    for equation in sorted(equations, key=lambda each: bool(each.play)):
        left, right = list(equation.normal), equation.value
        biggest: tuple[Fraction, Equation | None] = (ZERO, None)
        for row, value, pivot, earlier in rows:
            share = left[pivot] / row[pivot]
            if share:
                left = [a - share * b for a, b in zip(left, row, strict=True)]
                right -= share * value
                biggest = max(biggest, (abs(share), earlier), key=lambda each: each[0])
        pivot = max(range(3), key=lambda i: abs(left[i]))
        if abs(left[pivot]) <= SAME_PLACE:
            if abs(right) > max(SAME_PLACE, equation.play):
                clashes.append((equation, biggest[1], right))
            continue
        rows.append((left, right, pivot, equation))
    pivots = {pivot for _, _, pivot, _ in rows}
    free = tuple(_unit(axis) for axis in range(3) if axis not in pivots)
    return _back(rows), free, tuple(clashes)


def _unit(axis: int) -> Vector:
    one = [ZERO, ZERO, ZERO]
    one[axis] = Fraction(1)
    return (one[0], one[1], one[2])


def _back(rows: list[tuple[list[Fraction], Fraction, int, Equation]]) -> Vector:
    """Back substitution; what is free stays at nought."""
    found = [ZERO, ZERO, ZERO]
    for row, value, pivot, _ in reversed(rows):
        rest = sum((row[i] * found[i] for i in range(3) if i != pivot), ZERO)
        found[pivot] = (value - rest) / row[pivot]
    return (found[0], found[1], found[2])
