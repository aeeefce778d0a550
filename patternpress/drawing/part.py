"""A part as its template is asked for.

In: nothing; records only.  Out: `TemplatePart`, all that a template says about one part.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from enum import StrEnum
from fractions import Fraction

from patternpress.assembly.shape import Axis, Face, Shape
from patternpress.design.phrases import Target
from patternpress.measure.pieces import Figure, Text


class Hand(StrEnum):
    """Which hand a handed part's shape describes."""

    LEFT = "left hand"
    RIGHT = "right hand"

    @property
    def other(self) -> "Hand":
        """The other hand."""
        return Hand.RIGHT if self is Hand.LEFT else Hand.LEFT


@dataclass(frozen=True, slots=True)
class Drilled:
    """A round hole's diameter as printed, and the names of the drills for it in both systems.

    `holes`: the names of those that are so wide.
    """

    hole: Figure
    metric: str
    inch: str
    holes: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Treated:
    """Something done to a part: the verb, the edges of the template it is done to, and the target.

    Without `faces` it is done to the whole, to a face, or to something else that is told in words.
    `pieces`: those that it is done to, where not all that the template is for.
    """

    verb: str
    faces: tuple[Face, ...]
    target: Target
    pieces: frozenset[str] = frozenset()


class Manner(StrEnum):
    """How an author wants a part drawn; by itself one that is too large is tiled, within reason."""

    USUAL = "usual"
    HALF = "half"
    TILED = "tiled"
    REDUCED = "reduced"


@dataclass(frozen=True, slots=True)
class Level:
    """A place to dimension: how far it is from the low edge, mm at full size.

    `start` is where its extension line begins, in the shape's other coordinate; `corner` for a
    corner of the outline, not a hole, groove or mark; `near` where that line hardly runs over the
    part.
    """

    at: Fraction
    start: Fraction
    figure: Figure
    corner: bool
    near: bool = True


@dataclass(frozen=True, slots=True)
class Levels:
    """Places to dimension, in order: `across` from the left edge, `up` from the bottom."""

    across: tuple[Level, ...] = ()
    up: tuple[Level, ...] = ()


def in_millimetres(length: Fraction) -> Figure:
    """Return a length as plain millimetres, to a tenth."""
    return Figure((Text(f"{float(round(length, 1)):g}\u00a0mm"),))


@dataclass(frozen=True, slots=True)
class TemplatePart:
    """One part: `shape` is drawn, the figures are written beside it.

    `across` and `up` are the sizes of what is drawn; `size` is the whole size for the label.
    `callouts` holds, by name of hole, groove or mark, what is written there instead of the
    name; an empty figure writes nothing.  A handed part is drawn for both hands, `quantity` of
    this one and `twins` of the other, with `twin_shape`, `twin_treated` and `twin_notes` where
    these are not just its mirror image.  `planned`: it is cut
    only after measuring.  `show` prints a further length.
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
    levels: Levels = field(default_factory=Levels)
    twin_levels: Levels = field(default_factory=Levels)
    manner: Manner = Manner.USUAL
    planned: bool = False
    treated: tuple[Treated, ...] = ()
    drills: tuple[Drilled, ...] = ()
    show: Callable[[Fraction], Figure] = field(default=in_millimetres, compare=False)
    twin_notes: tuple[str, ...] | None = None
    twin_shape: Shape | None = None
    twin_treated: tuple[Treated, ...] | None = None
