"""What a search works with: the job, how boards are filled, and how much work is left.

In: boards, kinds, a tool.  Out: `Plan`, and the few sums that every method needs.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from patternpress.cutting.packing import skyline, staged
from patternpress.cutting.packing.beam import Found
from patternpress.cutting.packing.choices import Floats, Ints
from patternpress.cutting.packing.records import KNIFE, SAW, Board, Filled, Kind

Fill = Callable[..., Found]
FILLS: dict[str, tuple[Fill, ...]] = {SAW: (staged.fill,), KNIFE: (skyline.fill, staged.fill)}


@dataclass(frozen=True, slots=True)
class Plan:
    """The job: boards, kinds, the tool, the least cost that is possible."""

    boards: tuple[Board, ...]
    kinds: tuple[Kind, ...]
    tool: str
    bound: int

    @property
    def fills(self) -> tuple[Fill, ...]:
        """The ways to fill a board with this tool, the better one first."""
        return FILLS[self.tool]

    @property
    def wanted(self) -> Ints:
        """How many of each kind."""
        return np.array([kind.count for kind in self.kinds], np.int64)

    @property
    def areas(self) -> Floats:
        """Of one piece of each kind."""
        return np.array([kind.area for kind in self.kinds], np.float64)

    @property
    def step(self) -> int:
        """Costs differ by whole multiples of this."""
        return math.gcd(*(board.price for board in self.boards)) or 1

    def cost(self, filled: Sequence[Filled]) -> int:
        """What these boards cost together."""
        return sum(self.boards[each.board].price for each in filled)


@dataclass(slots=True)
class Meter:
    """Work, counted: moves weighed.  The one thing here that changes as a search goes on."""

    most: int
    spent: int = 0

    @property
    def left(self) -> int:
        """How much may still be spent."""
        return self.most - self.spent

    def run(self, found: Found) -> Found:
        """Count what a beam did."""
        self.spent += found.work
        return found
