"""The size of the finished piece.

In: an `Assembly`.  Out: its extents from left to right, front to back and bottom to top; and a
problem where the author says another size.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from patternpress.assembly.placing import Assembly, both_units
from patternpress.assembly.pose import DIRECTION
from patternpress.assembly.worked import Worked
from patternpress.design.kinds.placing import OverallDiffers
from patternpress.design.problem import Problem
from patternpress.measure.nodes import Manner

CLOSE = Fraction(1, 10**6)
PAIRS = (("left", "right"), ("front", "back"), ("bottom", "top"))
WORDS = ("wide", "deep", "high")


def overall(assembly: Assembly) -> tuple[Fraction, ...]:
    """Width, depth and height in mm of all pieces together; nothing where none is placed."""
    if not assembly.placed:
        return ()
    return tuple(_reach(assembly, low) + _reach(assembly, high) for low, high in PAIRS)


def _reach(assembly: Assembly, side: str) -> Fraction:
    way = DIRECTION[side]
    return max(assembly.bodies[p.part].reach(p.pose, way) for p in assembly.placed)


def check_overall(worked: Worked, assembly: Assembly) -> Iterator[Problem]:
    """A finished size that is said and is not the one that the joins give."""
    found = overall(assembly)
    for said, size, axis in zip(worked.book.overall or (), found, WORDS, strict=False):
        measure = worked.solver.measure(said)
        value = worked.solver.value(said)
        if value is None or (measure and measure.manner is Manner.ABOUT):
            continue
        if abs(value.value - size) > CLOSE:
            facts = {"said": said.text, "found": both_units(size), "axis": axis}
            yield Problem(OverallDiffers, said.span, facts)
