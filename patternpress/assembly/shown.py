"""The sizes of a part as they are shown.

In: a `CutPart` and an edition.  Out: its sizes for print.  A size that is cut only after
measuring is shown as its measure card has it: what is left of the planned opening.
"""

from __future__ import annotations

from fractions import Fraction

from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.editions import Published
from patternpress.assembly.fitted import step_of, sums
from patternpress.measure.figures import plain, show_size
from patternpress.measure.quantity import Quantity, Thickness
from patternpress.measure.rounding import step_down
from patternpress.measure.values import InBoth


def shown_extent(part: CutPart, axis: str, edition: Published) -> Quantity:
    """One size along wide, deep or high, in mm."""
    size = part.blank(axis)
    if axis not in part.waits and axis not in part.planned:
        sold = axis == part.thin or (axis != part.along and part.stock.strip is not None)
        return Thickness(size.value, size.kind, size.error) if sold else size
    display = edition.display
    if axis not in part.planned:  # the next step up would be larger than its clearance allows
        return Quantity(step_down(Fraction(size.value), step_of(display, display.first)), size.kind)
    _, first = sums(part, axis, display.first, display).left
    _, second = sums(part, axis, display.second or display.first, display).left
    return InBoth(first, size.kind, second=second)


def is_largest(part: CutPart, edition: Published) -> bool:
    """Whether the sizes that are shown of a fitted part are the largest of a range on its card."""
    display = edition.display
    planned = (sums(part, axis, display.first, display).left for axis in part.planned)
    waits = (part.smallest[a] != part.extents[a] for a in part.waits if a not in part.planned)
    return any(low != high for low, high in planned) or any(waits)


def printed_size(part: CutPart, edition: Published) -> str:
    """The sizes of a part as plain text; nothing for a fitting without sizes."""
    return plain(show_size(shown_size(part, edition), edition.display)) if part.size else ""


def shown_size(part: CutPart, edition: Published) -> tuple[Quantity, ...]:
    """Length, width and thickness, as far as the part has them."""
    axes = (part.along, part.across, part.thin)
    return tuple(shown_extent(part, axis, edition) for axis in axes if axis)
