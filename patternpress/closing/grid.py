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
    """Both steps in mm; `step` is a whole multiple of `unit`."""

    system: System
    unit: Fraction
    step: Fraction

    def fine(self, mm: Fraction) -> bool:
        """Whether a length is too small for any step; it stays as it is."""
        return mm < TOO_SMALL * self.unit

    def units(self, mm: Fraction) -> int:
        """How many units make the step that a given length is put on."""
        return int(self.step / self.unit) if mm >= FEW * self.step else 1

    def on(self, mm: Fraction) -> bool:
        """Whether a length is a whole number of units."""
        return (mm / self.unit).denominator == 1


def grid_of(edition: Published, system: System) -> Grid:
    """The grid of an edition for one of its systems."""
    if system == "in":
        return Grid(system, SIXTY_FOURTH, MM_PER_INCH / edition.denominator)
    step = edition.mm_step
    below = step.denominator * TENTH.denominator
    unit = Fraction(gcd(int(step * below), int(TENTH * below)), below)
    return Grid(system, unit, step)
