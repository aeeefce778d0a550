"""What a wood weighs, and how it swells.

In: a `Stock`.  Out: its `Wood`, told by a word in what the shop calls it; None for a wood that
the table does not know, and for stock without a wood.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from patternpress.design.records.goods import Stock


@dataclass(frozen=True, slots=True)
class Wood:
    """A wood: its weight as a share of water's, and by which share of its width it swells for
    each point of moisture, across the grain of a flat-sawn board; 0 for what hardly moves.
    """

    weight: float
    swells: Fraction


def _wood(weight: float, swells: str) -> Wood:
    return Wood(weight, Fraction(swells))


# Swelling: Wood Handbook (FPL-GTR-190), table 13-5, tangential, for 6 to 14 % moisture.
# Weight: the same book, table 5-3, at 12 %, from memory.  Plywood moves about 0.2 % in all
# (the same book), too little to count here; its weight is that of birch plywood.
WOODS: dict[tuple[str, ...], Wood] = {
    ("plywood", "ply", "blockboard", "hardboard", "mdf", "laminated"): _wood(0.68, "0"),
    ("basswood", "lime", "limewood", "linden"): _wood(0.37, "0.00330"),
    ("cherry",): _wood(0.50, "0.00248"),
    ("walnut",): _wood(0.55, "0.00274"),
    ("maple",): _wood(0.63, "0.00353"),
    ("birch",): _wood(0.62, "0.00338"),
    ("oak",): _wood(0.63, "0.00369"),
    ("beech",): _wood(0.64, "0.00431"),
    ("ash",): _wood(0.60, "0.00274"),
    ("alder",): _wood(0.41, "0.00256"),
    ("aspen",): _wood(0.38, "0.00234"),
    ("fir",): _wood(0.39, "0.00245"),
}


def wood_of(stock: Stock) -> Wood | None:
    """The wood of a stock: the first of the table with a word in its name."""
    named = set(re.findall(r"[a-z]+", stock.wood.value.lower())) if stock.wood else set()
    return next((wood for words, wood in WOODS.items() if named & set(words)), None)
