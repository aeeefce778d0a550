"""Parts that are easily taken for each other.

In: a `Worked` design.  Out: for each part that is cut, the parts of the same stock that are nearly
as large, or just as large and yet not the same, the most alike first; not those whose outlines
leave clearly less of the blank.
"""

from __future__ import annotations

from fractions import Fraction

from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.flips import NONE, wood
from patternpress.assembly.outlines import area
from patternpress.assembly.shape import Shape
from patternpress.assembly.worked import Worked

# Sizes that differ by less than a tenth, or by less than a millimetre, are hard to tell apart at a
# glance: common practice, no source.
ALIKE, NEAR = Fraction(1, 10), Fraction(1)


_NEARLY = 1e-9  # floats sort out the pairs that fractions need not be asked about


def look_alikes(worked: Worked) -> dict[str, tuple[str, ...]]:
    """Part -> the parts it is taken for; those of which one does for the other do not count."""
    cut = [
        (part, sizes, [float(each) for each in sizes])
        for part in worked.parts
        if part.form != "bought" and (sizes := _sizes(part))
    ]
    found = {}
    for part, sizes, rough in cut:
        others = [
            (apart, other.name)
            for other, theirs, about in cut
            if other.name != part.name
            and other.stock is part.stock
            and _may_be_near(rough, about)
            and _fills_as(worked.shapes.get(part.name), worked.shapes.get(other.name))
            and (apart := _apart(sizes, theirs)) is not None
            and (apart or not _same(part, other, worked))
        ]
        if others:
            found[part.name] = tuple(name for _, name in sorted(others, key=lambda each: each[0]))
    return found


def _same(one: CutPart, two: CutPart, worked: Worked) -> bool:
    """Whether two parts of one size are one and the same when they are cut."""
    axes = [(each.along, each.across, each.thin) for each in (one, two)]
    lengths = [[each.extents[axis].value for axis in on if axis]
               for each, on in zip((one, two), axes, strict=True)]  # fmt: skip
    if (one.grain or two.grain) and lengths[0] != lengths[1]:
        return False
    if _is_plain(one) and _is_plain(two):
        return True
    shapes = [worked.shapes.get(each.name) for each in (one, two)]
    if shapes[0] is None or shapes[1] is None or axes[0] != axes[1]:
        return False
    return wood(one, shapes[0], worked, NONE) == wood(two, shapes[1], worked, NONE)


def _is_plain(part: CutPart) -> bool:
    """Whether a part is sawn square all round, with nothing cut into it."""
    of = part.part
    return not (
        of.outline or of.corners or of.edges or of.ends or of.holes or of.grooves or of.disc
    )


def _fills_as(one: Shape | None, two: Shape | None) -> bool:
    """Whether two outlines leave about as much of their blanks."""
    if one is None or two is None:
        return True
    shares = [area(each.outline) / (each.width * each.height) for each in (one, two)]
    return abs(shares[0] - shares[1]) < ALIKE


def _may_be_near(one: list[float], two: list[float]) -> bool:
    return all(
        abs(a - b) <= max(float(ALIKE) * max(a, b), float(NEAR)) + _NEARLY
        for a, b in zip(one, two, strict=True)
    )


def _apart(one: list[Fraction], two: list[Fraction]) -> Fraction | None:
    """By which share of the larger the sizes of two parts differ most; None unless nearly alike."""
    pairs = [(abs(a - b), max(a, b)) for a, b in zip(one, two, strict=True)]
    if any(by >= max(ALIKE * most, NEAR) for by, most in pairs):
        return None
    return max((by / most for by, most in pairs if most), default=Fraction(0))


def _sizes(part: CutPart) -> list[Fraction]:
    # A loose piece does not tell which way its grain runs, so sizes are compared by length.
    return sorted(each.value for each in part.size)
