"""Does the wood have room to swell?

In: a `Worked` design and its `Assembly`.  Out: problems of boards that are glued with their grain
crosswise over a width that swells too much.  Plywood and woods that `woods.py` does not know are
passed over.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from patternpress.assembly.body import AXIS_INDEX
from patternpress.assembly.bulks import bulks_of
from patternpress.assembly.contacts import touching_area
from patternpress.assembly.convex import Bulk
from patternpress.assembly.placing import Assembly, Contact, Placed, both_units
from patternpress.assembly.pose import DIRECTION, ONE, ZERO
from patternpress.assembly.sizes import MINIATURE
from patternpress.assembly.woods import wood_of
from patternpress.assembly.worked import Worked
from patternpress.design.kinds.fit import WoodMoves
from patternpress.design.problem import Problem
from patternpress.design.span import Span

# From a heated room in winter (6 %) to a damp summer (10 %): common practice, no source.
POINTS = 4
# What a joint bears, in mm.  A full-size joint gives by about a millimetre (75 mm of oak, the
# width that is commonly glued crosswise without a thought).  In miniature 0.75 mm, which is 57 mm
# of basswood: boards of 1 to 3 mm bend instead of splitting, and every cupboard's partition is
# glued so.  Common practice, no source.
BEARS, BEARS_MINIATURE = Fraction(1), Fraction(3, 4)
CLOSE = 0.01


@dataclass(frozen=True)
class Board:
    """A placed board of solid wood: the axes of the work that it runs and swells along."""

    placed: Placed
    bulk: Bulk
    along: int
    across: int
    swells: Fraction


def check_movement(worked: Worked, assembly: Assembly) -> Iterator[Problem]:
    """Glued joints whose boards swell against each other; told once for two parts."""
    told: set[frozenset[str]] = set()
    called = {name: _by_name(worked, assembly, name) for name in assembly.works}
    for contact in assembly.contacts:
        if not contact.glued or contact.how != "against":
            continue
        boards = called[contact.work]
        for one in boards.get(contact.thing, ()):
            for two in boards.get(contact.other, ()):
                parts = frozenset((one.placed.part, two.placed.part))
                found = _crosswise(one, two, contact, worked) if parts not in told else None
                if found is not None:
                    told.add(parts)
                    yield found


def _by_name(worked: Worked, assembly: Assembly, work: str) -> dict[str, list[Board]]:
    """The boards of a work under each name that a join may call them by."""
    found: dict[str, list[Board]] = {}
    for placed in assembly.works[work]:
        board = _board(placed, worked, assembly)
        if board is not None:
            for name in placed.called:
                found.setdefault(name, []).append(board)
    return found


def _board(placed: Placed, worked: Worked, assembly: Assembly) -> Board | None:
    """A piece as a board; None for what has no grain, leans, or is of a wood not known."""
    part = worked.part(placed.part)
    wood = wood_of(part.stock) if part is not None else None
    if part is None or wood is None or not wood.swells or not part.grain or part.form != "sheet":
        return None
    axes = (_turned(placed, part.along), _turned(placed, part.across))
    bulk = bulks_of(worked, assembly).of(placed)
    if bulk is None or axes[0] is None or axes[1] is None:
        return None
    return Board(placed, bulk, axes[0], axes[1], wood.swells)


def _turned(placed: Placed, axis: str) -> int | None:
    """The axis of the work that an axis of a part has become; None where it leans."""
    local = AXIS_INDEX[axis]
    way = [row[local] for row in placed.pose.matrix]
    return next((i for i in range(3) if abs(way[i]) == ONE), None)


def _crosswise(one: Board, two: Board, contact: Contact, worked: Worked) -> Problem | None:
    """The problem of two boards, where one swells along the other's grain and too far."""
    for moves, holds in ((one, two), (two, one)):
        axis = moves.across
        if axis != holds.along or DIRECTION[contact.side][axis] != ZERO:
            continue
        wide = _shared(moves.bulk, holds.bulk, axis)
        by = wide * moves.swells * POINTS
        if by > _bears(worked) and touching_area(one.bulk, two.bulk, CLOSE) > 0:
            facts = {"piece": one.placed.piece, "other": two.placed.piece}
            facts |= {"moves": moves.placed.piece, "width": both_units(wide), "by": both_units(by)}
            return Problem(WoodMoves, _span(worked, contact), facts)
    return None


def _bears(worked: Worked) -> Fraction:
    scale = worked.book.scale.value if worked.book.scale else Fraction(1)
    return BEARS_MINIATURE if scale <= MINIATURE else BEARS


def _shared(one: Bulk, two: Bulk, axis: int) -> Fraction:
    """How far two boards lie beside each other along an axis."""
    high = min(float(each.high[:, axis].max()) for each in (one, two))
    low = max(float(each.low[:, axis].min()) for each in (one, two))
    return Fraction(round(max(0.0, high - low), 6))


def _span(worked: Worked, contact: Contact) -> Span:
    use = worked.usage.first_use(contact.thing)
    use = use or next((u for u in worked.usage.uses if u.name == contact.thing), None)
    return use.span if use else worked.book.span
