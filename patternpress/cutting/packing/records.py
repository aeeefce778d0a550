"""What packing speaks of: boards, kinds of pieces, places, packings.

In: nothing.  Out: records in whole units.  A saw's width is added to boards and pieces alike
before they come here: n pieces side by side then take n - 1 cuts where the end is used up.
"""

from __future__ import annotations

from dataclasses import dataclass

SAW = "saw"  # edge to edge: strips, then columns, then boxes, then one trimming cut
KNIFE = "knife"  # anywhere, as long as nothing overlaps
NO_GROUP = -1


@dataclass(frozen=True, slots=True)
class Kind:
    """Pieces of one size: how many, whether they may be turned, and what they stay together with.

    All pieces of a `group` (a number from 0) lie on one board.
    """

    wide: int
    high: int
    count: int = 1
    turns: bool = False
    group: int = NO_GROUP

    @property
    def area(self) -> int:
        """Of one piece."""
        return self.wide * self.high


@dataclass(frozen=True, slots=True)
class Board:
    """Boards of one size: what one costs, and how many there are (`None`: as many as wanted)."""

    wide: int
    high: int
    price: int = 1
    count: int | None = None

    @property
    def area(self) -> int:
        """Of one board."""
        return self.wide * self.high


@dataclass(frozen=True, slots=True)
class Placed:
    """One piece: of which kind, its lower left corner, and its sizes as it lies."""

    kind: int
    x: int
    y: int
    wide: int
    high: int


@dataclass(frozen=True, slots=True)
class Filled:
    """One board: of which kind, and what lies on it."""

    board: int
    placed: tuple[Placed, ...]


@dataclass(frozen=True, slots=True)
class Packing:
    """Every piece on boards.  No packing costs less than `bound`; `work` counts what was tried."""

    filled: tuple[Filled, ...]
    cost: int
    bound: int
    work: int

    @property
    def proved(self) -> bool:
        """Whether nothing cheaper can exist."""
        return self.cost <= self.bound
