"""Do sliding pieces rattle?

In: a `Worked` design and its `Assembly`.  Out: problems of sub-assemblies that slide with more
room beside or above them than is usual.  Judged on solids, in floats.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

import numpy as np

from patternpress.assembly.bulks import bulks_of
from patternpress.assembly.convex import Bulk
from patternpress.assembly.placing import Assembly, Placed, both_units
from patternpress.assembly.sizes import MINIATURE
from patternpress.assembly.solid import Vec
from patternpress.assembly.travel import room_ahead
from patternpress.assembly.worked import Worked
from patternpress.design.kinds.fit import MovingPieceSlack
from patternpress.design.problem import Problem
from patternpress.design.span import Span

# The most room that a drawer usually has, left and right together, or above: common practice,
# no source.  In miniature, up to 1:6, boards are thin and a millimetre is much.
USUAL_MINIATURE = Fraction(1)
USUAL = Fraction(3)
FRONT = (0.0, -1.0, 0.0)
CLOSE = 0.01
ACROSS: tuple[tuple[str, Vec, Vec], ...] = (
    ("from left to right", (-1.0, 0.0, 0.0), (1.0, 0.0, 0.0)),
    ("up and down", (0.0, 0.0, -1.0), (0.0, 0.0, 1.0)),
)


def check_slack(worked: Worked, assembly: Assembly) -> Iterator[Problem]:
    """Sub-assemblies that slide and have too much room; told once for all copies of one."""
    moves = {s.name.value: s.moves.value for s in worked.book.sub_assemblies if s.moves}
    slides = {name for name, how in moves.items() if how == "slides"}
    bulks = bulks_of(worked, assembly)
    told: set[tuple[str, str]] = set()
    for pieces in assembly.works.values():
        solids = [(each, bulk) for each in pieces if (bulk := bulks.of(each)) is not None]
        for name in dict.fromkeys(each.brought for each, _ in solids):
            sub = worked.usage.sub_of.get(name, "")
            if sub not in slides and name not in slides:
                continue
            for ways, room, where in _rooms(name, solids):
                usual = _usual(worked)
                if room > usual and (sub, ways) not in told:
                    told.add((sub, ways))
                    facts = {"piece": name, "ways": ways}
                    facts |= {"by": both_units(room), "usual": both_units(usual)}
                    yield Problem(MovingPieceSlack, _span(worked, name), facts, where)


def _usual(worked: Worked) -> Fraction:
    scale = worked.book.scale.value if worked.book.scale else Fraction(1)
    return USUAL_MINIATURE if scale <= MINIATURE else USUAL


def _rooms(name: str, solids: list[tuple[Placed, Bulk]]) -> Iterator[tuple[str, Fraction, Vec]]:
    """How far it goes to and fro in each direction in which both ways end somewhere, and where.

    Where: at its front, on the side with more room.
    """
    moving = [bulk for piece, bulk in solids if piece.brought == name]
    others = [bulk for piece, bulk in solids if piece.brought != name]
    for ways, one, two in ACROSS:
        there, back = (room_ahead(moving, others, way, CLOSE) for way in (one, two))
        if there is not None and back is not None:
            wider = one if there > back else two
            yield ways, Fraction(round(there + back, 6)), _front(moving, wider)


def _front(moving: list[Bulk], way: Vec) -> Vec:
    """The middle of the edge where the front meets the side that looks some way."""
    low = np.min([each.least for each in moving], axis=0)
    high = np.max([each.most for each in moving], axis=0)
    x, y, z = ((low + high) / 2 + (high - low) / 2 * (np.array(way) + FRONT)).tolist()
    return x, y, z


def _span(worked: Worked, name: str) -> Span:
    use = next((each for each in worked.usage.uses if each.name == name), None)
    return use.span if use else worked.book.span
