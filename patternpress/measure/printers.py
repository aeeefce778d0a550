"""Printers that print untrue.

In: what a printer makes of 100 mm, as measured with a rule.  Out: by how much to stretch what it is
given, so that it comes out true.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from patternpress.measure.errors import MeasureError

WORST = Fraction(5)  # mm: a bar further out was printed at another setting, not by a bad printer
_LENGTH = r"\s*(\d{1,3}(?:[.,]\d{1,3})?)\s*(?:mm)?\s*"
_MEASURED = re.compile(f"{_LENGTH}[x×]{_LENGTH}")


@dataclass(frozen=True, slots=True)
class Correction:
    """What a printer makes of 100 mm, across the page and up it.

    Drawings are stretched against it.
    """

    across: Fraction
    up: Fraction

    @property
    def factors(self) -> tuple[Fraction, Fraction]:
        """By how much to stretch what is printed."""
        return 100 / self.across, 100 / self.up


def read_correction(text: str) -> Correction:
    """Return what is said as two lengths in mm, such as ``99.2x99.5``: across, then up.

    Raises MeasureError: `bad-bars` for no such pair, `bars-far-out` for one too far from 100.
    """
    found = _MEASURED.fullmatch(text)
    if not found:
        raise MeasureError("bad-bars", {"text": text})
    across, up = (Fraction(each.replace(",", ".")) for each in found.groups())
    if max(abs(across - 100), abs(up - 100)) > WORST:
        raise MeasureError("bars-far-out", {"text": text, "worst": str(WORST)})
    return Correction(across, up)
