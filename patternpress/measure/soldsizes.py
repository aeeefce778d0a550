"""Thicknesses that hobby wood is sold in.

In: a thickness in mm. Out: the nearest one a shop has, and how much it differs. All of this is
common practice, no source: metric and inch stock are near each other but never the same.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from patternpress.measure.inches import MM_PER_INCH

System = Literal["mm", "in"]
Stuff = Literal["sheet", "ply", "timber"]

_MM: dict[Stuff, str] = {
    "sheet": "0.5 1 1.5 2 2.5 3 4 5 6 8 10",
    "ply": "0.4 0.6 0.8 1 1.5 2 2.5 3 4 5 6 8 9 12",
    "timber": "12 15 18 20 22 25 28 30 35 40 45 50 60 80 100",
}
_INCH: dict[Stuff, str] = {
    "sheet": "1/32 1/16 3/32 1/8 3/16 1/4 3/8 1/2",
    "ply": "1/64 1/32 1/16 3/32 1/8 5/32 3/16 1/4 5/16 3/8 1/2",
    "timber": "1/2 5/8 3/4 7/8 1 5/4 3/2 7/4 2 5/2 3 7/2 4",
}


@dataclass(frozen=True, slots=True)
class SoldSize:
    """One thickness as it is sold; `differs_mm` is it less the one asked for, in mm."""

    name: str
    mm: Fraction
    differs_mm: Fraction = Fraction(0)


def sold_sizes(system: System, stuff: Stuff = "sheet") -> tuple[SoldSize, ...]:
    """Every thickness of solid sheet and strip (`sheet`) or of plywood (`ply`), thinnest first;
    `timber` is what a timber yard sells for full-size work.
    """
    row, unit = (_MM, Fraction(1)) if system == "mm" else (_INCH, MM_PER_INCH)
    return tuple(
        SoldSize(f"{_mixed(size)} {system}", Fraction(size) * unit) for size in row[stuff].split()
    )


def _mixed(size: str) -> str:
    """5/4 as shops write it: 1 1/4."""
    above, _, below = size.partition("/")
    if not below or int(above) < int(below):
        return size
    return f"{int(above) // int(below)} {int(above) % int(below)}/{below}"


def nearest_sold(thickness_mm: Fraction, system: System, stuff: Stuff = "sheet") -> SoldSize:
    """The thickness in the shops nearest to one in mm; of two equally near, the thinner,
    since it still goes into a groove cut for the other.
    """
    best = min(sold_sizes(system, stuff), key=lambda sold: (abs(sold.mm - thickness_mm), sold.mm))
    return SoldSize(best.name, best.mm, best.mm - thickness_mm)
