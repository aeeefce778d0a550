"""Which face of a square strip its template shows.

In: a part and its design.  Out: the axis that counts as its thickness.  Of a board it follows from
the sizes; of a square strip either will do, so it is the one whose faces have the most to show.
"""

from __future__ import annotations

from patternpress.assembly.sizes import AXES, SIDE_AXIS
from patternpress.design.records.book import Book
from patternpress.design.records.parts import Part

# What is set out on a face is worth more than an angle, which a few words tell as well.
_SET_OUT = 100
# And a shape that is cut out, more than all that is set out.
_SHAPED = 100_000


def thin_of_square(part: Part, other: str, book: Book) -> str:
    """Return `other` where more is to be seen along it than along the usual axis, else nothing.

    Where a hole names no side, or the outline is shaped, the usual face is meant.
    """
    shaped = (*part.edges, *part.outline, *(h for h in part.holes if h.on is None))
    if shaped or part.disc is not None or part.best_face is not None:
        return ""
    usual = next((a for a in AXES if a != other and getattr(part, a) is None), "")
    return other if _to_see(part, other, book) > _to_see(part, usual, book) else ""


def _to_see(part: Part, thin: str, book: Book) -> int:
    """Return how much there is to see of a part as one looks along an axis."""
    names = {part.name.value, *(each.name.value for each in part.pieces)}
    on = [each.on.value[0] for each in part.holes if each.on is not None]
    on += [each.on.value[0] for each in part.grooves]
    marked = (target for mark in book.marks for group in mark.on for target in group)
    on += [each.sides[0] for each in marked if each.thing in names and each.sides]
    toward: list[str] = []
    for _, cut in part.ends:
        if cut.how == "angles":
            toward += [longest for _, longest in cut.angles]
        elif part.leans is not None:
            toward += [side for _, side in part.leans.angles if side in SIDE_AXIS]
    angles = sum(SIDE_AXIS[side] != thin for side in toward)
    # A corner shows on the one face whose page has both its sides.
    corners = [{SIDE_AXIS[each] for each in sides.value} for sides, _ in part.corners]
    angles += _SHAPED * sum(thin not in axes for axes in corners)
    return _SET_OUT * sum(SIDE_AXIS[side] == thin for side in on) + angles
