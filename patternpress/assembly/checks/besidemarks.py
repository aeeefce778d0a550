"""Do pieces lie on the marks that were typed for them?

In: a `Worked` design and its `Assembly`.  Out: warnings of marks given as figures that lie beside
the piece that they are for: one that is joined at the mark, or that it is called after; and of
lines on which nothing lies while an edge runs right beside them.  Judged on the boxes of square
pieces, in exact fractions; what leans, moves or is only laid on says nothing.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

from patternpress.assembly.body import SIDE_AXIS
from patternpress.assembly.marked import mark_coordinates
from patternpress.assembly.marklines import line_on, square
from patternpress.assembly.moving import moving_things
from patternpress.assembly.placing import Assembly, Placed, both_units
from patternpress.assembly.pose import DIRECTION
from patternpress.assembly.solid import Vec
from patternpress.assembly.thing import sign_of
from patternpress.assembly.worked import Worked
from patternpress.design.kinds.placing import BesideItsMark
from patternpress.design.problem import Problem
from patternpress.design.records.parts import Mark

# mm; a pencil line is about so wide: common practice, no source.
ON_IT = Fraction(1, 4)
# mm; an edge that runs nearer to a line than this is hardly meant to miss it: judgement.
RIGHT_BESIDE = 2
SIDES = (("left", "right"), ("front", "back"), ("bottom", "top"))


@dataclass(frozen=True)
class Drawn:
    """A mark on one side of a piece of a work: the coordinates that it fixes on that face, and its
    two ends.
    """

    mark: str
    bearer: Placed
    side: str
    at: dict[int, Fraction]
    ends: tuple[Vec, Vec]
    work: tuple[Placed, ...]

    @property
    def middle(self) -> Vec:
        """Where a picture shows it; along the face's normal it is the middle of the piece."""
        x, y, z = ((one + two) / 2 for one, two in zip(*self.ends, strict=True))
        return x, y, z


@dataclass(frozen=True)
class Lying:
    """What lies on a marked face: what it is called, and its box."""

    names: frozenset[str]
    piece: str
    low: tuple[Fraction, ...]
    high: tuple[Fraction, ...]

    def off(self, drawn: Drawn) -> Fraction:
        """How far its edges and its middle lie off a mark, whichever is nearest."""
        return max(self._off(*each) for each in drawn.at.items())

    def _off(self, axis: int, at: Fraction) -> Fraction:
        low, high = self.low[axis], self.high[axis]
        return min(abs(at - each) for each in (low, high, (low + high) / 2))

    def nearest(self, drawn: Drawn) -> tuple[Fraction, str]:
        """How far a mark is from the nearer of its sides along which it lies off, and which."""
        axis, at = max(drawn.at.items(), key=lambda each: self._off(*each))
        ends = zip((self.low[axis], self.high[axis]), SIDES[axis], strict=True)
        return min((abs(at - edge), side) for edge, side in ends)


def check_marks_met(worked: Worked, assembly: Assembly) -> Iterator[Problem]:
    """Marks given as figures beside which the piece lies that was to lie on them."""
    loose = {c.thing for c in assembly.contacts if not c.glued} | moving_things(worked)
    for mark in worked.book.marks:
        told: set[str] = set()  # of both sides of a carcass it is told once
        for drawn in _drawn(mark, worked, assembly):
            lying = _beside(drawn, list(_on_face(drawn, loose, assembly)), worked)
            if lying is None or lying.piece in told:
                continue
            told.add(lying.piece)
            by, side = lying.nearest(drawn)
            facts = {"mark": drawn.mark, "piece": lying.piece, "other": drawn.bearer.piece}
            facts |= {"by": both_units(by), "side": side}
            yield Problem(BesideItsMark, mark.name.span, facts, drawn.middle)


def _beside(drawn: Drawn, lies: list[Lying], worked: Worked) -> Lying | None:
    """What was to lie on a mark, or right beside it, where nothing of it does."""
    joined = _joined_at(drawn.mark, worked)
    wanted = joined or {called_after(drawn.mark, worked)}
    mine = [each for each in lies if each.names & wanted]
    if not mine and len(drawn.at) == 1 and not joined:  # a line that no join speaks of
        mine = [each for each in lies if each.off(drawn) < RIGHT_BESIDE]
    nearest = min(mine, key=lambda each: each.off(drawn), default=None)
    return nearest if nearest is not None and nearest.off(drawn) > ON_IT else None


def _joined_at(mark: str, worked: Worked) -> set[str]:
    """What a join puts on a mark."""
    return {
        name
        for use in worked.usage.uses
        if use.joined is not None
        if any(p.target.kind == "mark" and p.target.thing == mark for _, p in use.joined.places)
        for name in (use.name, *use.brings)
    }


def called_after(mark: str, worked: Worked) -> str:
    """The piece or part with whose name a mark's own begins: the shelf, of a shelf line."""
    names = {*worked.usage.pieces, *worked.usage.part_of}
    return max((each for each in names if mark.startswith(f"{each} ")), key=len, default="")


def _drawn(mark: Mark, worked: Worked, assembly: Assembly) -> Iterator[Drawn]:
    """A mark that is given as a figure, on each square piece that bears it."""
    sided = [each for group in mark.on for each in group if each.sides]
    seen: set[tuple[str, str]] = set()
    for work in assembly.works.values():
        for target, placed in ((t, p) for t in sided for p in work if not p.path):
            key = (placed.piece, target.sides[0])
            if target.thing not in (placed.piece, placed.part) or key in seen:
                continue
            seen.add(key)
            part, ends = worked.part(placed.part), line_on(mark, placed, worked, assembly)
            if part is None or ends is None:
                continue
            thing = assembly.thing(placed.piece, placed)
            at = dict(mark_coordinates(mark, part, thing, worked))
            at.pop(SIDE_AXIS[target.sides[0]], None)
            if at:
                yield Drawn(mark.name.value, placed, target.sides[0], at, ends, work)


def _on_face(drawn: Drawn, loose: set[str], assembly: Assembly) -> Iterator[Lying]:
    """What is fixed against the marked face, or goes in through it, somewhere along the mark."""
    normal = SIDE_AXIS[drawn.side]
    face = assembly.bodies[drawn.bearer.part].reach(drawn.bearer.pose, DIRECTION[drawn.side])
    level = face * sign_of(drawn.side)
    for names, pieces in _things(drawn, loose):
        thing = assembly.thing(pieces[0].brought, *pieces)
        if not thing.bodies:
            continue
        low = tuple(-thing.reach(DIRECTION[each]) for each, _ in SIDES)
        high = tuple(thing.reach(DIRECTION[each]) for _, each in SIDES)
        along = [axis for axis in range(3) if axis != normal and axis not in drawn.at]
        passes = all(
            low[axis] < max(e[axis] for e in drawn.ends)
            and min(e[axis] for e in drawn.ends) < high[axis]
            for axis in along
        )
        if low[normal] <= level <= high[normal] and passes:
            yield Lying(names, pieces[0].piece, low, high)


def _things(drawn: Drawn, loose: set[str]) -> Iterator[tuple[frozenset[str], list[Placed]]]:
    """Each square piece beside the bearer, and each sub-assembly that came as a whole."""
    brought: dict[str, list[Placed]] = {}
    for each in drawn.work:
        if each == drawn.bearer or {each.piece, each.brought} & loose or not square(each):
            continue
        if not each.path:
            yield frozenset((each.piece, each.part)), [each]
        if each.brought != each.piece:
            brought.setdefault(each.brought, []).append(each)
    for name, pieces in brought.items():
        if drawn.bearer not in pieces:
            yield frozenset((name,)), pieces
