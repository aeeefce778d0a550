"""The step of an edition.

In: an edition.  Out: its `Grid`: the finest step that a figure may fall on, the step that is
asked for, and which of the two a given length is put on.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import gcd

from patternpress.assembly.editions import Published
from patternpress.measure.digits import TOO_SMALL, System
from patternpress.measure.inches import MM_PER_INCH

SIXTY_FOURTH = MM_PER_INCH / 64
TENTH = Fraction(1, 10)
# Below this many steps, the finer step is taken.
FEW = 2


@dataclass(frozen=True)
class Grid:
    """Both steps in mm; `step` is a whole multiple of `unit`.

    `coarser`: from which length on a coarser one is taken, the largest first.
    """

    system: System
    unit: Fraction
    step: Fraction
    coarser: tuple[tuple[Fraction, Fraction], ...] = ()

    def fine(self, mm: Fraction) -> bool:
        """Whether a length is too small for any step; it stays as it is."""
        return mm < TOO_SMALL * self.unit

    def units(self, mm: Fraction) -> int:
        """How many units make the step that a given length is put on."""
        for over, step in self.coarser:
            if mm >= over:
                return int(step / self.unit)
        return int(self.step / self.unit) if mm >= FEW * self.step else 1

    def on(self, mm: Fraction) -> bool:
        """Whether a length is a whole number of units."""
        return (mm / self.unit).denominator == 1


def grid_of(edition: Published, system: System) -> Grid:
    """The grid of an edition for one of its systems."""
    coarser = tuple(
        sorted(((over, step) for over, step, of in edition.coarser if of == system), reverse=True)
    )
    if system == "in":
        return Grid(system, SIXTY_FOURTH, MM_PER_INCH / edition.denominator, coarser)
    unit = TENTH
    for each in (edition.mm_step, *(step for _, step in coarser)):
        unit = _common(unit, each)
    return Grid(system, unit, edition.mm_step, coarser)


def _common(one: Fraction, two: Fraction) -> Fraction:
    """The largest step that both are multiples of."""
    below = one.denominator * two.denominator
    return Fraction(gcd(int(one * below), int(two * below)), below)
