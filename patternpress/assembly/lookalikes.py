"""Parts that are easily taken for each other.

In: a `Worked` design.  Out: for each part cut from a sheet, the parts of the same stock that are
nearly as large, the most alike first.
"""

from __future__ import annotations

from fractions import Fraction

from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.worked import Worked

# Sizes that differ by less than a tenth are hard to tell apart at a glance: common practice, no
# source.
ALIKE = Fraction(1, 10)


def look_alikes(worked: Worked) -> dict[str, tuple[str, ...]]:
    """Part -> the parts it is taken for; parts of exactly the same size do not count."""
    sheets = [part for part in worked.parts if part.form == "sheet" and part.size]
    found = {}
    for part in sheets:
        others = [(apart, o.name) for o in sheets if (apart := _apart(part, o)) is not None]
        if others:
            found[part.name] = tuple(name for _, name in sorted(others, key=lambda each: each[0]))
    return found


def _apart(one: CutPart, two: CutPart) -> Fraction | None:
    """By which share of the larger the sizes of two parts differ most; None unless nearly alike."""
    if one.name == two.name or one.stock is not two.stock:
        return None
    # A loose piece does not tell which way its grain runs, so sizes are compared by length.
    pairs = zip(_sizes(one), _sizes(two), strict=True)
    shares = [abs(a - b) / max(a, b) for a, b in pairs if max(a, b)]
    most = max(shares, default=Fraction(0))
    return most if 0 < most < ALIKE else None


def _sizes(part: CutPart) -> list[Fraction]:
    return sorted(each.value for each in part.size)
