"""Exact quantities and their arithmetic.

In: fractions with a kind. Out: new quantities; an irrational result carries a stated error.
Every result is capped in size, so that no sum, however hostile, can grow without end.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum
from fractions import Fraction

from patternpress.measure.errors import MeasureError, MixedKinds

CAP = 10**60
"""No numerator or denominator may be larger."""

GRID = Fraction(1, 10**45)
"""Values that are not exact are kept on this grid, or their denominators would pass CAP."""


class Kind(Enum):
    """What is measured, each with the base unit its values are held in."""

    LENGTH = "length"  # mm
    AREA = "area"  # mm²
    ANGLE = "angle"  # degrees
    NUMBER = "number"  # plain
    TIME = "time"  # minutes
    MASS = "mass"  # g
    VOLUME = "volume"  # ml


@dataclass(frozen=True, slots=True)
class Quantity:
    """A value in the base unit of its kind.

    The true value lies within `error` of `value`, on either side; 0 means exact.
    """

    value: Fraction
    kind: Kind
    error: Fraction = Fraction(0)

    @property
    def exact(self) -> bool:
        """True where the value is the very number, not the middle of an interval."""
        return self.error == 0

    @property
    def low(self) -> Fraction:
        """The least the true value can be."""
        return self.value - self.error

    @property
    def high(self) -> Fraction:
        """The most the true value can be."""
        return self.value + self.error


@dataclass(frozen=True, slots=True)
class Thickness(Quantity):
    """How thick something is as it is sold: a length that is printed, and never cut."""


@dataclass(frozen=True, slots=True)
class InBoth(Quantity):
    """A length that was worked out in each system for itself; `second` stands in brackets."""

    second: Fraction = Fraction(0)


def number(value: Fraction | int) -> Quantity:
    """An exact plain number."""
    return Quantity(Fraction(value), Kind.NUMBER)


def millimetres(value: Fraction | int) -> Quantity:
    """An exact length, given in mm."""
    return Quantity(Fraction(value), Kind.LENGTH)


def settle(value: Fraction, kind: Kind, error: Fraction = Fraction(0)) -> Quantity:
    """A quantity within CAP; inexact values are moved to GRID and their error widened for it.

    Raises MeasureError `too-large`.
    """
    if error:
        value = round(value / GRID) * GRID
        error = (-(-error // GRID) + 1) * GRID
    if max(abs(value.numerator), value.denominator, error.numerator) > CAP:
        raise MeasureError("too-large", {"kind": kind.value})
    return Quantity(value, kind, error)


def between(low: Fraction, high: Fraction, kind: Kind) -> Quantity:
    """The quantity whose interval runs from low to high."""
    return settle((low + high) / 2, kind, (high - low) / 2)


def mixed(doing: str, left: Kind, right: Kind) -> MixedKinds:
    """The error for two kinds that do not go together; facts `doing`, `left`, `right`."""
    facts = {"doing": doing, "left": left.value, "right": right.value}
    return MixedKinds("mixed-kinds", facts)


def add(left: Quantity, right: Quantity) -> Quantity:
    """Left + right, of one kind. Raises MixedKinds."""
    if left.kind is not right.kind:
        raise mixed("add", left.kind, right.kind)
    return settle(left.value + right.value, left.kind, left.error + right.error)


def sub(left: Quantity, right: Quantity) -> Quantity:
    """Left - right, of one kind. Raises MixedKinds."""
    if left.kind is not right.kind:
        raise mixed("subtract", left.kind, right.kind)
    return settle(left.value - right.value, left.kind, left.error + right.error)


def neg(quantity: Quantity) -> Quantity:
    """The same size below zero."""
    return Quantity(-quantity.value, quantity.kind, quantity.error)


def mul(left: Quantity, right: Quantity) -> Quantity:
    """Left × right: a number with anything, or two lengths (an area). Raises MixedKinds."""
    kinds = (left.kind, right.kind)
    if left.kind is Kind.NUMBER:
        kind = right.kind
    elif right.kind is Kind.NUMBER:
        kind = left.kind
    elif kinds == (Kind.LENGTH, Kind.LENGTH):
        kind = Kind.AREA
    else:
        raise mixed("multiply", *kinds)
    # |xy - ab| for x within e of a and y within f of b.
    error = abs(left.value) * right.error + abs(right.value) * left.error
    return settle(left.value * right.value, kind, error + left.error * right.error)


def div(left: Quantity, right: Quantity) -> Quantity:
    """Left ÷ right: by a number, by the same kind (a number), or area by length (a length).

    Raises MixedKinds, or MeasureError `divided-by-zero` where the divisor may be 0.
    """
    if right.kind is Kind.NUMBER:
        kind = left.kind
    elif left.kind is right.kind:
        kind = Kind.NUMBER
    elif (left.kind, right.kind) == (Kind.AREA, Kind.LENGTH):
        kind = Kind.LENGTH
    else:
        raise mixed("divide", left.kind, right.kind)
    if right.low <= 0 <= right.high:
        raise MeasureError("divided-by-zero")
    if left.exact and right.exact:
        return settle(left.value / right.value, kind)
    ends = [a / b for a in (left.low, left.high) for b in (right.low, right.high)]
    return between(min(ends), max(ends), kind)


def least(quantities: list[Quantity]) -> Quantity:
    """The smallest of one kind or more; raises MixedKinds. An interval where unsure."""
    _one_kind(quantities)
    return _span(min(q.low for q in quantities), min(q.high for q in quantities), quantities)


def most(quantities: list[Quantity]) -> Quantity:
    """The largest of one kind or more; raises MixedKinds. An interval where unsure."""
    _one_kind(quantities)
    return _span(max(q.low for q in quantities), max(q.high for q in quantities), quantities)


def _one_kind(quantities: list[Quantity]) -> None:
    first = quantities[0].kind
    for other in quantities:
        if other.kind is not first:
            raise mixed("compare", first, other.kind)


def _span(low: Fraction, high: Fraction, quantities: list[Quantity]) -> Quantity:
    kind = quantities[0].kind
    return Quantity(low, kind) if low == high else between(low, high, kind)
