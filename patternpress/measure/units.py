"""Unit words.

In: a number and the unit word a maker wrote after it. Out: a Quantity in its base unit.
Pint knows the units; its registry is built once, on fractions, so every factor is exact.
"""

from __future__ import annotations

import difflib
from fractions import Fraction
from functools import cache

import pint

from patternpress.measure.errors import MeasureError
from patternpress.measure.inches import MM_PER_INCH
from patternpress.measure.values import Kind, Quantity, settle

SIGNS = {"″": "in", '"': "in", "”": "in", "′": "ft", "'": "ft", "’": "ft", "°": "deg"}
"""Signs that stand for a unit word; keyboards give the straight and curly look-alikes."""

_BASE = {
    Kind.LENGTH: "millimeter",
    Kind.ANGLE: "degree",
    Kind.TIME: "minute",
    Kind.MASS: "gram",
    Kind.VOLUME: "milliliter",
}

# Left: what a maker may write. Right: Pint's own name, so that no word is guessed.
_WORDS: dict[Kind, dict[str, str]] = {
    Kind.LENGTH: {
        **dict.fromkeys(("mm", "millimetre", "millimetres", "millimeter", "millimeters"), "mm"),
        **dict.fromkeys(("cm", "centimetre", "centimetres", "centimeter", "centimeters"), "cm"),
        **dict.fromkeys(("m", "metre", "metres", "meter", "meters"), "meter"),
        **dict.fromkeys(("in", "inch", "inches"), "inch"),
        **dict.fromkeys(("ft", "foot", "feet"), "foot"),
        "thou": "thou",
    },
    Kind.ANGLE: dict.fromkeys(("deg", "degree", "degrees"), "degree"),
    Kind.TIME: {
        **dict.fromkeys(("min", "minute", "minutes"), "minute"),
        **dict.fromkeys(("h", "hour", "hours"), "hour"),
        **dict.fromkeys(("day", "days"), "day"),
    },
    Kind.MASS: {
        **dict.fromkeys(("g", "gram", "grams"), "gram"),
        **dict.fromkeys(("kg", "kilogram", "kilograms"), "kilogram"),
        **dict.fromkeys(("oz", "ounce", "ounces"), "ounce"),
    },
    Kind.VOLUME: {
        **dict.fromkeys(("ml", "millilitre", "millilitres", "milliliter"), "milliliter"),
        **dict.fromkeys(("l", "litre", "litres", "liter", "liters"), "liter"),
    },
}

UNIT_WORDS = frozenset(word for words in _WORDS.values() for word in words)

SYMBOLS = frozenset(
    ["mm", "cm", "m", "in", "ft", "thou", "deg", "min", "h", "g", "kg", "oz", "ml", "l"]
)
"""Short unit words; a size may not be called just that. `foot` may name a part."""


@cache
def _factors() -> dict[str, tuple[Kind, Fraction]]:
    """Word -> its kind and its size in the base unit, from Pint."""
    registry: pint.UnitRegistry[Fraction] = pint.UnitRegistry(non_int_type=Fraction)
    found: dict[str, tuple[Kind, Fraction]] = {}
    for kind, words in _WORDS.items():
        for word, name in words.items():
            found[word] = (kind, registry.Quantity(Fraction(1), name).to(_BASE[kind]).magnitude)
    return found


def is_unit(word: str) -> bool:
    """True for a unit word or sign; capitals do not matter (`MM` is mm)."""
    return word in SIGNS or word.casefold() in UNIT_WORDS


def unknown_unit(word: str) -> MeasureError:
    """The error for a word that is no unit; facts `unit` and `near`, up to three like it."""
    near = difflib.get_close_matches(word.casefold(), sorted(UNIT_WORDS), n=3, cutoff=0.5)
    return MeasureError("unknown-unit", {"unit": word, "near": ", ".join(near)})


def convert(number: Fraction, unit: str) -> Quantity:
    """The quantity of so many of a unit, exactly: 1 in is 25.4 mm, 1 oz is 28.349523125 g.

    Raises MeasureError `unknown-unit` (facts `unit`, `near`) or `too-large`.
    Source of the inch: International yard and pound agreement, 1959, through Pint.
    """
    word = SIGNS.get(unit, unit.casefold())
    if word not in UNIT_WORDS:
        raise unknown_unit(unit)
    kind, factor = _factors()[word]
    return settle(number * factor, kind)


def in_inches(unit: str) -> bool:
    """Whether a unit of length is one of the inch system: whole inches, feet, yards."""
    return not convert(Fraction(1), unit).value % MM_PER_INCH
