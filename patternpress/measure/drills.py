"""Twist drills.

In: a hole's diameter in mm. Out: the drill that is sold for it, and how far off that is.
Sources: number and letter sizes from ASME B94.11M (US drill tables); the metric rhythm from
BS 328; what a hobby shop stocks is common practice, no source.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache
from typing import Literal

from patternpress.measure.errors import MeasureError
from patternpress.measure.inches import MM_PER_INCH

# A bit may differ from its hole by so much before a pin is loose: common practice, no source.
NEAR_ENOUGH = Fraction(6, 100)

Series = Literal["number", "letter", "fractional", "metric", "tenths"]

# Ten-thousandths of an inch, No. 80 first.
_NUMBERS = (
    *(135, 145, 160, 180, 200, 210, 225, 240, 250, 260),  # 80-71
    *(280, 292, 310, 320, 330, 350, 360, 370, 380, 390),  # 70-61
    *(400, 410, 420, 430, 465, 520, 550, 595, 635, 670),  # 60-51
    *(700, 730, 760, 785, 810, 820, 860, 890, 935, 960),  # 50-41
    *(980, 995, 1015, 1040, 1065, 1100, 1110, 1130, 1160, 1200),  # 40-31
    *(1285, 1360, 1405, 1440, 1470, 1495, 1520, 1540, 1570, 1590),  # 30-21
    *(1610, 1660, 1695, 1730, 1770, 1800, 1820, 1850, 1890, 1910),  # 20-11
    *(1935, 1960, 1990, 2010, 2040, 2055, 2090, 2130, 2210, 2280),  # 10-1
)

# Thousandths of an inch, A first.
_LETTERS = (
    *(234, 238, 242, 246, 250, 257, 261, 266, 272, 277, 281, 290, 295),  # A-M
    *(302, 316, 323, 332, 339, 348, 358, 368, 377, 386, 397, 404, 413),  # N-Z
)


@dataclass(frozen=True, slots=True)
class Drill:
    """One drill as it is sold; `error` is its diameter less the one asked for, both in mm."""

    name: str
    diameter_mm: Fraction
    series: Series
    error: Fraction = Fraction(0)


@cache
def drills(series: Series) -> tuple[Drill, ...]:
    """Every drill of a series, thinnest first.

    `number` 80-1, `letter` A-Z, `fractional` 1/64-1/2 in, `metric` 0.3-13 mm in the steps of
    BS 328, `tenths` 0.3-13 mm as hobby shops stock them.
    """
    return tuple(_SERIES[series]())


def nearest_drill(diameter: Fraction, series: Series) -> Drill:
    """The drill of the series nearest to a diameter in mm; of two equally near, the thinner,
    since a hole can be opened out but not closed.

    Raises MeasureError `no-drill` past either end by more than half the step there.
    """
    known = drills(series)
    first, last = known[0].diameter_mm, known[-1].diameter_mm
    under = first - (known[1].diameter_mm - first) / 2
    over = last + (last - known[-2].diameter_mm) / 2
    if not under <= diameter <= over:
        raise MeasureError("no-drill", {"thinnest": known[0].name, "thickest": known[-1].name})
    best = min(known, key=lambda drill: (abs(drill.diameter_mm - diameter), drill.diameter_mm))
    return replace(best, error=best.diameter_mm - diameter)


def advise(diameter: Fraction, system: Literal["mm", "in"]) -> tuple[Drill, ...]:
    """What to buy for a hole of that diameter in mm; nothing where none is sold near it.

    mm: the nearest tenth. in: the nearest fraction, and after it the nearest number drill where
    that is strictly nearer.
    """
    if system == "mm":
        return _found(diameter, "tenths")
    fraction, number = _found(diameter, "fractional"), _found(diameter, "number")
    if fraction and number and abs(number[0].error) >= abs(fraction[0].error):
        return fraction
    return fraction + number


def serving(
    diameter: Fraction, system: Literal["mm", "in"], least: Fraction | None = None
) -> tuple[Drill, ...]:
    """The drills of a system by which a hole comes out as it should.

    None is thinner than `least`, which is what must still go in.  Those are named that are near
    enough; where none is, the nearest.
    """
    series: tuple[Series, ...] = ("tenths",) if system == "mm" else ("fractional", "number")
    found = []
    for each in series:
        if _found(diameter, each):
            wide = [drill for drill in drills(each) if least is None or drill.diameter_mm >= least]
            found += [
                replace(drill, error=drill.diameter_mm - diameter)
                for drill in sorted(wide, key=lambda d: abs(d.diameter_mm - diameter))[:1]
            ]
    near = [each for each in found if abs(each.error) <= NEAR_ENOUGH]
    if not near:
        return tuple(sorted(found, key=lambda each: abs(each.error))[:1])
    first, *more = near
    return (first, *(each for each in more if abs(each.error) < abs(first.error)))


def _found(diameter: Fraction, series: Series) -> tuple[Drill, ...]:
    try:
        return (nearest_drill(diameter, series),)
    except MeasureError:
        return ()


def _number() -> Iterator[Drill]:
    for place, size in enumerate(_NUMBERS):
        yield Drill(f"No. {80 - place}", Fraction(size, 10000) * MM_PER_INCH, "number")


def _letter() -> Iterator[Drill]:
    for letter, size in zip("ABCDEFGHIJKLMNOPQRSTUVWXYZ", _LETTERS, strict=True):
        yield Drill(f"letter {letter}", Fraction(size, 1000) * MM_PER_INCH, "letter")


def _fractional() -> Iterator[Drill]:
    for part in range(1, 33):
        inches = Fraction(part, 64)
        yield Drill(f"{inches} in", inches * MM_PER_INCH, "fractional")


def _metric() -> Iterator[Drill]:
    """BS 328: below 1 mm the endings 0, 2, 5, 8; to 3 mm twentieths; then tenths."""
    small = [tenth * 10 + end for tenth in range(3, 10) for end in (0, 2, 5, 8)]
    for hundredths in (*small, *range(100, 300, 5), *range(300, 1301, 10)):
        yield _millimetres(hundredths, "metric")


def _tenths() -> Iterator[Drill]:
    for hundredths in range(30, 1301, 10):
        yield _millimetres(hundredths, "tenths")


def _millimetres(hundredths: int, series: Series) -> Drill:
    whole, rest = divmod(hundredths, 100)
    written = f"{whole}.{rest:02d}".rstrip("0").rstrip(".")
    return Drill(f"{written} mm", Fraction(hundredths, 100), series)


_SERIES = {
    "number": _number,
    "letter": _letter,
    "fractional": _fractional,
    "metric": _metric,
    "tenths": _tenths,
}
