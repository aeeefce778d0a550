"""The figures of the first design that `patternpress new` writes.

In: what the maker said of units, size, board and scale, or nothing.  Out: the figures as text, all
in one system, for a box that can be built.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from patternpress.measure.errors import MeasureError
from patternpress.measure.quantity import length


@dataclass(frozen=True)
class Usual:
    """What is taken where the maker says nothing, in one system."""

    size: str
    board: str
    sold: str
    rise: str  # how much the back stands above the front
    peg: str
    below: str  # from the top of the back to the peg hole
    lift: str  # the floor above the lower edge
    editions: str


MM_EDITIONS = "  metric: {units: mm, paper: A4}\n  inch: {units: in, paper: Letter}\n"
IN_EDITIONS = "  inch: {units: in, paper: Letter}\n  metric: {units: mm, paper: A4}\n"
USUAL = {
    "mm": Usual(
        "30 x 14 x 12 mm", "2 mm", "100 x 600 mm", "9 mm", "2 mm", "4 mm", "1 mm", MM_EDITIONS
    ),
    "in": Usual(
        "1 1/4 x 5/8 x 1/2 in",
        "1/16 in",
        "3 x 24 in",
        "3/8 in",
        "1/16 in",
        "3/16 in",
        "1/32 in",
        IN_EDITIONS,
    ),
}
LEAST_INSIDE = 2  # times the board: less would leave no room for a floor


@dataclass(frozen=True)
class Box:
    """A first box: the system, three sizes and the board as text, and the scale."""

    units: str
    sizes: tuple[str, str, str]
    board: str
    scale: str


def box_of(
    units: str | None = None,
    size: str | None = None,
    board: str | None = None,
    scale: str | None = None,
) -> Box:
    """The box that a maker wants; ValueError, in their words, for one that cannot be made."""
    system = units or "mm"
    usual = USUAL[system]
    parts = [each.strip() for each in re.split(r"[x×X]", size or usual.size)]
    if len(parts) != 3:
        raise ValueError(f"a size is width x depth x height, such as {usual.size}")
    wide, deep, high, thick = (_figure(each, system) for each in (*parts, board or usual.board))
    ratio = scale or "1:12"
    if not re.fullmatch(r"[1-9][0-9]{0,3}:[1-9][0-9]{0,3}", ratio):
        raise ValueError(f"a scale is written 1:12, not “{ratio[:40]}”")
    least = (2 + LEAST_INSIDE) * _mm(thick)
    if min(_mm(wide), _mm(deep)) < least or _mm(high) < 3 * _mm(thick):
        raise ValueError(f"a box of {thick} board needs more room inside; make it larger")
    return Box(system, (wide, deep, high), thick, ratio)


def figures_of(box: Box) -> dict[str, str]:
    """The places of the starter's text and what stands in them."""
    usual = USUAL[box.units]
    return {
        "wide": box.sizes[0],
        "deep": box.sizes[1],
        "high": box.sizes[2],
        "board": box.board,
        "sold": usual.sold,
        "rise": usual.rise,
        "peg": usual.peg,
        "below": usual.below,
        "lift": usual.lift,
        "scale": box.scale,
        "units": "" if box.units == "mm" else "\nunits: in",
        "editions": usual.editions,
    }


def _figure(text: str, system: str) -> str:
    """A length with its unit; what has none gets the maker's system."""
    bare = text.strip()[:40]
    said = bare if re.search(r"[a-z\"″]$", bare) else f"{bare} {system}"
    try:
        if _mm(said) <= 0:
            raise ValueError(said)
    except (MeasureError, ValueError):
        raise ValueError(f"“{bare}” is no length; write it like {USUAL[system].board}") from None
    return said


def _mm(text: str) -> Fraction:
    return length(text)
