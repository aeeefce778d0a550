"""Paper.

In: a name, or the margin a cheap printer needs. Out: exact sizes in mm, upright.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from patternpress.measure.errors import MeasureError
from patternpress.measure.inches import MM_PER_INCH

_ISO = "ISO 216:2007"
_ASME = "ASME Y14.1"
_US = "US trade size, 8.5 × 14 in"


@dataclass(frozen=True, slots=True)
class Paper:
    """One sheet, upright; width and height in mm, and where the size is laid down."""

    name: str
    width: Fraction
    height: Fraction
    source: str


def _iso(name: str, width: int, height: int) -> Paper:
    return Paper(name, Fraction(width), Fraction(height), _ISO)


def _inch(name: str, width: str, height: str, source: str) -> Paper:
    return Paper(name, Fraction(width) * MM_PER_INCH, Fraction(height) * MM_PER_INCH, source)


PAPERS = {
    paper.name: paper
    for paper in (
        _iso("A3", 297, 420),
        _iso("A4", 210, 297),
        _iso("A5", 148, 210),
        _inch("Letter", "8.5", "11", _ASME),
        _inch("Legal", "8.5", "14", _US),
        _inch("Tabloid", "11", "17", _ASME),
    )
}
"""By name."""


def paper(name: str) -> Paper:
    """The paper of that name, capitals or not. Raises MeasureError `unknown-paper`."""
    for known in PAPERS.values():
        if known.name.casefold() == name.casefold():
            return known
    raise MeasureError("unknown-paper", {"paper": name, "known": ", ".join(PAPERS)})


def common_area(margin: Fraction) -> tuple[Fraction, Fraction]:
    """Width and height in mm that A4 and Letter both hold inside a margin in mm.

    Raises MeasureError `bad-margin` where nothing is left, or the margin is below 0.
    """
    both = (PAPERS["A4"], PAPERS["Letter"])
    width = min(sheet.width for sheet in both) - 2 * margin
    height = min(sheet.height for sheet in both) - 2 * margin
    if margin < 0 or width <= 0:
        raise MeasureError("bad-margin", {"margin": str(margin)})
    return width, height
