"""Write one rounded number.

In: a quantity, and how an edition shows lengths. Out: its digits as a figure, without a unit.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from decimal import Decimal
from fractions import Fraction
from typing import Literal

from babel.numbers import format_decimal

from patternpress.measure.errors import MeasureError
from patternpress.measure.inches import MM_PER_INCH, split_inches
from patternpress.measure.pieces import Figure, Piece, Stack, Text
from patternpress.measure.rounding import Rounder, certain_round, round_half_even
from patternpress.measure.unitwords import locale_of
from patternpress.measure.values import InBoth, Kind, Quantity, Thickness, mixed

System = Literal["mm", "in"]

Ends = tuple[Fraction, Fraction]

MIL = Fraction(1, 1000)
CENT = Fraction(1, 100)
HAIR = Fraction(1, 20)
"""So many mm a hole may be printed narrower or wider than it is drawn: nobody drills closer."""
TOO_SMALL = Fraction(3, 5)
"""Less than so much of a fraction's step is told in thousandths: rounding would change it by
more than two thirds of itself."""
FINER = 4
"""How often a step is made ten times finer before a size counts as nothing."""


@dataclass(frozen=True, slots=True)
class Display:
    """How one edition shows lengths: the system that leads, and one in brackets or none.

    `mm_step` is in mm; inches are shown to 1/`inch_denominator`; `locale` as in `en-GB`.
    `beside`: what stands in brackets for a length, both in mm, where it was worked out before;
    `ranges`: the same for both ends of a range; `bores`: the same for how wide a hole is;
    `unnamed`: thicknesses, in mm, that no fraction of an inch stands for; `hollow`: lengths are
    how wide holes and grooves are, which are told in thousandths where a fraction would be less.
    """

    first: System = "mm"
    second: System | None = None
    mm_step: Fraction = Fraction(1, 10)
    inch_denominator: int = 64
    locale: str = "en-GB"
    beside: tuple[tuple[Fraction, Fraction], ...] = ()
    ranges: tuple[tuple[Ends, Ends], ...] = ()
    bores: tuple[tuple[Fraction, Fraction], ...] = ()
    unnamed: tuple[Fraction, ...] = ()
    hollow: bool = False

    @property
    def bored(self) -> Display:
        """The display of how wide holes are: a width may be rounded up, an equal length not."""
        return replace(self.grooved, beside=(*self.beside, *self.bores), bores=())

    @property
    def grooved(self) -> Display:
        """The display of how wide grooves are."""
        return self if self.hollow else replace(self, hollow=True)

    @property
    def systems(self) -> tuple[System, ...]:
        """The systems that are shown, the leading one first."""
        return (self.first,) if self.second is None else (self.first, self.second)


def in_system(
    quantity: Quantity, system: System, display: Display, rounder: Rounder = round_half_even
) -> Figure:
    """A length without its unit word."""
    value, fraction = _rounded(quantity, system, display, rounder)
    return stacked(value) if fraction else Figure((Text(_written(value, display.locale)),))


def _rounded(
    quantity: Quantity, system: System, display: Display, rounder: Rounder
) -> tuple[Fraction, bool]:
    """What a length is rounded to, in its system's unit, and whether that is told as a fraction.

    A thickness that no fraction names is told in thousandths of an inch: 3/64 in for a board of
    1 mm would not add up with the sizes beside it.  So is what is too small for the fractions.
    """
    if quantity.kind is not Kind.LENGTH:
        raise mixed("show", quantity.kind, Kind.LENGTH)
    if system == "in" and isinstance(quantity, Thickness) and quantity.value in display.unnamed:
        return _finely(inches(quantity), MIL, rounder), False
    quantity = beside(quantity, system, display)
    if system == "mm":
        value = _finely(quantity, display.mm_step, rounder)
        if display.hollow and _misses(value - quantity.value, system, display):
            return _finely(quantity, CENT, rounder), False
        return value, False
    length = inches(quantity)
    step = Fraction(1, display.inch_denominator)
    value = certain_round(length, step, rounder)
    if display.hollow and _misses((value - length.value) * MM_PER_INCH, system, display):
        return _finely(length, MIL, rounder), False
    if length.value and (not value or abs(length.value) < TOO_SMALL * step):
        return _finely(length, MIL, rounder), False
    return value, True


def _misses(more: Fraction, system: System, display: Display) -> bool:
    """Whether a rounded width is another than was drawn: what goes in would not, or would rattle.

    In brackets, where equal figures may be plain conversions, only what is too narrow counts.
    """
    return more < -HAIR or (more > HAIR and system == display.first)


def beside(quantity: Quantity, system: System, display: Display) -> Quantity:
    """What stands in the second system for a length of the first, where that was worked out."""
    if isinstance(quantity, InBoth):
        return Quantity(quantity.second, quantity.kind) if system == display.second else quantity
    if system != display.second or not display.beside:
        return quantity
    known = dict(display.beside).get(quantity.value)
    return quantity if known is None else Quantity(known, quantity.kind)


def as_printed(quantity: Quantity, system: System, display: Display) -> Fraction:
    """What a printed length comes to, mm.  Raises MeasureError `uncertain-rounding`."""
    value, _ = _rounded(quantity, system, display, round_half_even)
    return value if system == "mm" else value * MM_PER_INCH


def inches(quantity: Quantity) -> Quantity:
    """The same length with inches for its unit."""
    return Quantity(quantity.value / MM_PER_INCH, quantity.kind, quantity.error / MM_PER_INCH)


def stacked(value: Fraction) -> Figure:
    """`1 3/8`, never `0 3/8`, and `2` without a fraction."""
    split = split_inches(value)
    minus = "−" if split.negative else ""
    whole = str(abs(split.whole)) if split.whole or not split.numerator else ""
    pieces: tuple[Piece, ...] = (Text(minus + whole),) if minus + whole else ()
    if split.numerator:
        pieces += (Stack(abs(split.numerator), split.denominator),)
    return Figure(pieces)


def decimal(quantity: Quantity, step: Fraction, display: Display, rounder: Rounder) -> Figure:
    """A decimal in the edition's locale, trailing zeros trimmed."""
    return Figure((Text(_written(_finely(quantity, step, rounder), display.locale)),))


def _finely(quantity: Quantity, step: Fraction, rounder: Rounder) -> Fraction:
    """A number rounded to a step, or to a finer one where it would come to nothing."""
    value = certain_round(quantity, step, rounder)
    for _ in range(FINER):
        if value != 0 or quantity.value == 0:
            break
        step /= 10
        value = certain_round(quantity, step, rounder)
    return value


def _written(value: Fraction, locale: str) -> str:
    """Exactly, with the locale's decimal mark; ungrouped, as figures on a plan are."""
    places = 0
    while (value * 10**places).denominator != 1:
        places += 1
        if places > 30:
            raise MeasureError("bad-step", {"value": str(value)})
    scaled = Decimal(int(value * 10**places)).scaleb(-places)
    text = format_decimal(
        scaled, locale=locale_of(locale), decimal_quantization=False, group_separator=False
    )
    return str(text).replace("-", "−")
