"""Figures as they are printed: read back into millimetres.

In: text such as "3 1/4 × 2 1/2 in (82.6 × 63.5 mm)", the booklet's language, and how finely it
rounds.  Out: `Amount`s, exact fractions of a millimetre with the unit they are printed in.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache

from patternpress.proof.unitnames import names_in

INCH = Fraction(254, 10)
_ONE = r"(?:\d+ )?\d+[/⁄][1-9]\d*|\d+(?:[.,]\d+)?"
_SIZE = rf"(?<![\d.,/⁄])((?:{_ONE})(?:\s*[×x]\s*(?:{_ONE}))*)\s*"
_EACH = re.compile(_ONE)


@dataclass(frozen=True, slots=True)
class Amount:
    """One length: exact mm of what is printed, the unit, and the text of its group.

    `unit`: `mm` or `in`; `called`: as it is printed, such as `po`.
    """

    mm: Fraction
    unit: str
    text: str
    called: str = ""


@dataclass(frozen=True, slots=True)
class Rounding:
    """The steps to which lengths are printed, in mm."""

    mm: Fraction = Fraction(1, 10)
    inch: Fraction = INCH / 64

    def step(self, unit: str) -> Fraction:
        """The step of a unit."""
        return self.mm if unit == "mm" else self.inch


def rounding_of(text: str) -> Rounding:
    """Return the steps in "1/10 mm, 1/64 in"; the usual ones for what cannot be read."""
    found = re.fullmatch(r"(\d+(?:/\d+)?) mm, (\d+/\d+) in", text)
    if not found or "/0" in text:
        return Rounding()
    return Rounding(Fraction(found[1]), Fraction(found[2]) * INCH)


def with_brackets(rounding: Rounding, text: str) -> Rounding:
    """Return the steps with that of figures in brackets, such as "1/16 in"; never a finer one."""
    found = re.fullmatch(r"(\d+(?:/[1-9]\d*)?) (mm|in)", text)
    if not found:
        return rounding
    step = Fraction(found[1])
    if found[2] == "mm":
        return replace(rounding, mm=max(rounding.mm, step))
    return replace(rounding, inch=max(rounding.inch, step * INCH))


def plain(text: str) -> str:
    """Return text with one kind of space and of fraction stroke, words broken at a line end whole.

    The engine breaks words with a hyphen (U+2010) that no keyboard types.
    """
    text = re.sub("[\u00a0\u202f\u2009]", " ", text).replace("⁄", "/")
    return " ".join(text.split()).replace("( ", "(").replace("\u2010 ", "")


@cache
def _sizes(language: str) -> re.Pattern[str]:
    """What finds a size with its unit, as the language or anyone calls it."""
    return re.compile(rf"{_SIZE}({names_in(language).known})(?![\w²³])")


def groups_of(text: str, language: str) -> Iterator[tuple[Amount, ...]]:
    """Yield the lengths of a text, those of one size such as 42 × 25 × 2 mm together."""
    for found in _sizes(language).finditer(plain(text)):
        said, called = found.groups()
        unit = names_in(language).unit(called)
        yield tuple(
            Amount(_length(each, unit), unit, found[0], called) for each in _EACH.findall(said)
        )


def amounts_of(text: str, language: str) -> Iterator[Amount]:
    """Yield every length of a text."""
    for group in groups_of(text, language):
        yield from group


def _length(text: str, unit: str) -> Fraction:
    whole, _, part = text.rpartition(" ")
    value = Fraction(part.replace("⁄", "/").replace(",", ".")) + Fraction(whole or 0)
    return value if unit == "mm" else value * INCH


def agrees(amount: Amount, mm: float, rounding: Rounding, slack: float = 0.01) -> bool:
    """Say whether a printed length may stand for a measured one.

    It may be rounded to the nearest step, or to the one beyond: sizes that are cut only after
    measuring are rounded down, and the figures of a second system are moved so that they add up.
    """
    return abs(float(amount.mm) - mm) <= float(rounding.step(amount.unit)) + slack
