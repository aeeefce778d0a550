"""A part as its template is asked for.

In: nothing; records only.  Out: `TemplatePart`, all that a template says about one part.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from patternpress.assembly.shape import Axis, Shape
from patternpress.measure.pieces import Figure


class Hand(StrEnum):
    """Which hand a handed part's shape describes."""

    LEFT = "left hand"
    RIGHT = "right hand"

    @property
    def other(self) -> "Hand":
        """The other hand."""
        return Hand.RIGHT if self is Hand.LEFT else Hand.LEFT


@dataclass(frozen=True, slots=True)
class TemplatePart:
    """One part: `shape` is drawn, the figures are written beside it.

    `across` and `up` are the dimensions of the blank on the paper; `size` is the whole size
    for the label.  `callouts` holds, by name of hole, groove or mark, what is written there
    instead of the name; an empty figure writes nothing.  A handed part is drawn for both hands,
    `quantity` of this one and `twins` of the other.
    """

    letter: str
    name: str
    quantity: int
    shape: Shape
    size: Figure
    across: Figure
    up: Figure
    stock: str = ""
    grain: Axis | None = None
    hand: Hand | None = None
    twins: int = 0
    notes: tuple[str, ...] = ()
    callouts: Mapping[str, Figure] = field(default_factory=dict)
