"""The tree of a formula, and the measure it comes to.

In: nothing. Out: frozen records; every node keeps its span in the text.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from patternpress.measure.values import Quantity

PROPERTIES = frozenset({"width", "depth", "height", "length", "thickness", "diameter"})


class Manner(Enum):
    """How a measure is meant."""

    EXACT = "exact"
    ABOUT = "about"
    AT_MOST = "at most"
    AT_LEAST = "at least"
    RANGE = "range"


@dataclass(frozen=True)
class Measure:
    """One quantity with its manner; `high` only in a range."""

    low: Quantity
    high: Quantity | None = None
    manner: Manner = Manner.EXACT


@dataclass(frozen=True, slots=True)
class Property:
    """`width of post`: what is asked (one of PROPERTIES), and of which thing."""

    what: str
    of: str


Name = str | Property


@dataclass(frozen=True, slots=True)
class Node:
    """Any node: its span in the text."""

    start: int
    end: int


@dataclass(frozen=True, slots=True)
class Literal(Node):
    """A number, with a unit word or without."""

    value: Fraction
    unit: str | None


@dataclass(frozen=True, slots=True)
class Named(Node):
    """A name to be looked up."""

    name: Name


@dataclass(frozen=True, slots=True)
class Negative(Node):
    """A minus before one operand."""

    of: Node


@dataclass(frozen=True, slots=True)
class Share(Node):
    """Half, a third or a quarter of an operand."""

    share: Fraction
    of: Node


@dataclass(frozen=True, slots=True)
class Chain(Node):
    """Operands of + and -, or of * and /, from left to right; the first one's sign is unused.

    A flat tuple, not nested pairs: a long sum must not make a deep tree.
    """

    items: tuple[tuple[str, Node], ...]


@dataclass(frozen=True, slots=True)
class Call(Node):
    """A function and its arguments."""

    function: str
    arguments: tuple[Node, ...]


@dataclass(frozen=True, slots=True)
class Formula:
    """A whole formula: its text, its manner, one tree, and a second one in a range."""

    text: str
    manner: Manner
    low: Node
    high: Node | None = None
