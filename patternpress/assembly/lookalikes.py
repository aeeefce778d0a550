"""Parts that are easily taken for each other.

In: a `Worked` design.  Out: for each part cut from a sheet, the parts of the same stock that are
nearly as large, the most alike first; not those whose outlines leave clearly less of the blank.
"""

from __future__ import annotations

from fractions import Fraction

from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.outlines import area
from patternpress.assembly.shape import Shape
from patternpress.assembly.worked import Worked

# Sizes that differ by less than a tenth are hard to tell apart at a glance: common practice, no
# source.
ALIKE = Fraction(1, 10)


_NEARLY = 1e-9  # floats sort out the pairs that fractions need not be asked about


def look_alikes(worked: Worked) -> dict[str, tuple[str, ...]]:
    """Part -> the parts it is taken for; parts of exactly the same size do not count."""
    sheets = [
        (part, sizes, [float(each) for each in sizes])
        for part in worked.parts
        if part.form == "sheet" and (sizes := _sizes(part))
    ]
    found = {}
    for part, sizes, rough in sheets:
        others = [
            (apart, other.name)
            for other, theirs, about in sheets
            if other.name != part.name
            and other.stock is part.stock
            and _fills_as(worked.shapes.get(part.name), worked.shapes.get(other.name))
            and _may_be_near(rough, about)
            and (apart := _apart(sizes, theirs)) is not None
        ]
        if others:
            found[part.name] = tuple(name for _, name in sorted(others, key=lambda each: each[0]))
    return found


def _fills_as(one: Shape | None, two: Shape | None) -> bool:
    """Whether two outlines leave about as much of their blanks."""
    if one is None or two is None:
        return True
    shares = [area(each.outline) / (each.width * each.height) for each in (one, two)]
    return abs(shares[0] - shares[1]) < ALIKE


def _may_be_near(one: list[float], two: list[float]) -> bool:
    least = float(ALIKE) + _NEARLY
    return all(abs(a - b) <= least * max(a, b) for a, b in zip(one, two, strict=True))


def _apart(one: list[Fraction], two: list[Fraction]) -> Fraction | None:
    """By which share of the larger the sizes of two parts differ most; None unless nearly alike."""
    shares = [abs(a - b) / max(a, b) for a, b in zip(one, two, strict=True) if max(a, b)]
    most = max(shares, default=Fraction(0))
    return most if 0 < most < ALIKE else None


def _sizes(part: CutPart) -> list[Fraction]:
    # A loose piece does not tell which way its grain runs, so sizes are compared by length.
    return sorted(each.value for each in part.size)
