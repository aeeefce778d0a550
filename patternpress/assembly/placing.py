"""Place the pieces.

In: a `Worked` design.  Out: an `Assembly`: every piece with its pose, every contact, and the
problems of places that say too little, too much or the impossible.

A work begins with one thing on the bench; each join fixes the next.  A thing keeps its
directions (it stands as the author described it), so a join has three unknowns, its offset.
Each place is one linear equation in them: *flush*, *inside*, *from* and marks compare how far
two things reach along one axis; *against* lays two face planes on each other.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field, replace
from fractions import Fraction
from typing import Any

from patternpress.assembly.body import Body, body_of, lean_matrix
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.equations import Equation, solve
from patternpress.assembly.facing import resolve
from patternpress.assembly.marked import hole_of, row_way
from patternpress.assembly.pose import (
    DIRECTION,
    ORIGIN,
    SAME,
    ZERO,
    Matrix,
    Pose,
    Vector,
    about,
    dot,
    mirror,
    plus,
    times,
)  # fmt: skip
from patternpress.assembly.solids import solid_of
from patternpress.assembly.thing import Thing
from patternpress.assembly.usage import MAIN, Use, row_of
from patternpress.assembly.worked import Worked
from patternpress.design.kinds.placing import SaidTwoWays, TooLittleSaid
from patternpress.design.names import in_copy
from patternpress.design.problem import Problem
from patternpress.design.records.parts import Piece
from patternpress.design.records.work import Joined, Step
from patternpress.measure.quantity import Kind

STANDS: dict[str, Matrix] = {
    "as drawn": SAME,
    "mirrored left to right": mirror(0),
    "mirrored front to back": mirror(1),
    "mirrored both ways": times(mirror(0), mirror(1)),
    "turned a quarter to the left": about(2, Fraction(90)),
    "turned a quarter to the right": about(2, Fraction(-90)),
    "turned half round": about(2, Fraction(180)),
}
WAYS = ("left to right", "front to back", "up and down")
# The cosine from which on a row of holes that leans still runs toward a side.
ROUGHLY = Fraction(1, 2)
PAIRS = ("left or right", "front or back", "top or bottom")


@dataclass(frozen=True)
class Placed:
    """One piece in a work: its name and part, the copies of sub-assemblies it is in, its pose."""

    piece: str
    part: str
    pose: Pose
    step: int
    path: tuple[str, ...] = ()
    brought: str = ""  # the piece or sub-assembly that it came with

    @property
    def key(self) -> str:
        """A name that no other piece has: ``left drawer/knob``."""
        return "/".join((*self.path, self.piece))

    @property
    def told(self) -> str:
        """What a step calls it: “rail of left frame” where a copy of a sub-assembly brought it."""
        return in_copy(self.piece, self.path[0]) if len(self.path) == 1 else self.piece

    @property
    def called(self) -> frozenset[str]:
        """What joins may call it by: itself, its part, what it came with, “rail of left frame”."""
        return frozenset({self.piece, self.part, self.brought, *self.path[:1], self.told})


@dataclass(frozen=True)
class Contact:
    """Two things laid on each other by a join."""

    thing: str
    side: str
    other: str
    glued: bool
    step: int
    work: str
    how: str = "against"


@dataclass(frozen=True)
class Statement:
    """What a place says of a thing, and the offset that all its places came to."""

    thing: str
    equation: Equation
    offset: Vector


@dataclass
class Work:
    """A work in progress: what is in it, by the name that steps call it by."""

    placed: list[Placed] = field(default_factory=list)
    things: dict[str, Thing] = field(default_factory=dict)


@dataclass(frozen=True)
class Assembly:
    """Every piece of the finished design, and of each sub-assembly, where it sits."""

    placed: tuple[Placed, ...]
    works: dict[str, tuple[Placed, ...]]
    contacts: tuple[Contact, ...]
    bodies: dict[str, Body]  # by part
    problems: tuple[Problem, ...]
    loose: dict[str, tuple[str, ...]]  # piece -> directions that its places leave free
    statements: tuple[Statement, ...] = field(default=(), compare=False, repr=False)
    kept: dict[str, Any] = field(
        default_factory=dict, compare=False, repr=False
    )  # solids, once made

    def thing(self, name: str, *placed: Placed) -> Thing:
        """Pieces of a work as one thing, where they sit; those without sizes are left out."""
        known = [each for each in placed if each.part in self.bodies]
        bodies = tuple((self.bodies[each.part], each.pose) for each in known)
        return Thing(name, bodies, known[0].part if len(known) == 1 else "")

    def coming(self, use: Use) -> Iterator[Placed]:
        """The pieces that a use brings to its work."""
        for each in self.works.get(use.builds, ()):
            if each.step == use.step and each.brought in (use.name, *use.brings):
                yield each


def assemble(worked: Worked) -> Assembly:
    """Place every piece that the steps join.  Never raises for what the design says."""
    return _Assembler(worked).run()


class _Assembler:
    """Follows the steps in order; each join adds a thing to its work."""

    def __init__(self, worked: Worked) -> None:
        self.worked = worked
        self.problems: list[Problem] = []
        self.contacts: list[Contact] = []
        self.statements: list[Statement] = []
        self.loose: dict[str, tuple[str, ...]] = {}
        self.works: dict[str, Work] = {MAIN: Work()}
        self.bodies = {part.name: _body(part, worked) for part in worked.parts}
        self._pieces: dict[str, Piece] = {
            piece.name.value: piece for part in worked.book.parts for piece in part.pieces
        }

    def run(self) -> Assembly:
        """Every step in order."""
        for number, step in enumerate(self.worked.usage.steps, 1):
            work = self.works.setdefault(step.builds.value if step.builds else MAIN, Work())
            if step.start is not None and step.start.value not in work.things:
                self._add(work, step.start.value, Pose(self._matrix(step.start.value)), number)
            for joined in step.join:
                self._join(work, joined, step, number)
        finished = self.works[MAIN].placed or next(
            (w.placed for w in reversed(list(self.works.values())) if w.placed), []
        )
        works = {name: tuple(work.placed) for name, work in self.works.items()}
        return Assembly(
            tuple(finished),
            works,
            tuple(self.contacts),
            self.bodies,
            tuple(self.problems),
            self.loose,
            tuple(self.statements),
        )

    def _matrix(self, name: str) -> Matrix:
        """How a piece stands: as its part leans, then mirrored or turned."""
        piece = self._pieces.get(name)
        part = self.worked.part(name)
        lean = lean_matrix(part.part.leans, self.worked.solver) if part else SAME
        if piece is None:
            return lean
        stands = STANDS[piece.stands.value] if piece.stands else SAME
        turned = self.worked.solver.value(piece.turned, Kind.ANGLE) if piece.turned else None
        turn = about(2, turned.value) if turned else SAME
        return times(turn, times(stands, lean))

    def _thing(self, name: str) -> Thing | None:
        """A piece, or a sub-assembly as built so far, in its own frame."""
        usage = self.worked.usage
        owner = usage.part_of.get(name, name)
        if owner in self.bodies:
            return Thing(name, ((self.bodies[owner], Pose()),), owner)
        sub = usage.sub_of.get(name)
        built = self.works.get(sub) if sub is not None else None
        if built is None or not built.placed:
            return None
        bodies = tuple((self.bodies[p.part], p.pose) for p in built.placed if p.part in self.bodies)
        return Thing(name, bodies, "")

    def _twin(self, name: str) -> Matrix:
        """The mirroring of a sub-assembly that mirrors another."""
        subs = self.worked.book.sub_assemblies
        mirrored = any(s.name.value == name and s.mirror_of for s in subs)
        return mirror(0) if mirrored else SAME

    def _add(self, work: Work, name: str, pose: Pose, step: int) -> None:
        thing = self._thing(name)
        if thing is None:
            return
        work.things[name] = thing.at(pose)
        if thing.part:
            work.placed.append(Placed(name, thing.part, pose, step, brought=name))
            self._alias(work, name, thing.part)
            return
        sub = self.worked.usage.sub_of[name]
        copies = any(s.name.value == sub and s.copies for s in self.worked.book.sub_assemblies)
        outer = (name,) if copies or name != sub else ()
        for inner in list(self.works[sub].placed):
            moved = Placed(
                inner.piece, inner.part, pose.after(inner.pose), step, (*outer, *inner.path), name
            )
            work.placed.append(moved)
            if len(moved.path) > 1 or inner.part not in self.bodies:
                continue
            called = in_copy(inner.piece, moved.path[0]) if moved.path else inner.piece
            body = self.bodies[inner.part]
            work.things[called] = Thing(called, ((body, moved.pose),), inner.part)
            if not moved.path:
                self._alias(work, inner.piece, inner.part)

    def _alias(self, work: Work, piece: str, part: str) -> None:
        """A part with one piece may be called by either name."""
        if len(self.worked.usage.pieces.get(part, ())) == 1:
            work.things.setdefault(part, work.things[piece])

    def _join(self, work: Work, joined: Joined, step: Step, number: int) -> None:
        name = joined.piece.value
        first = row_of(joined, self.worked.usage.pieces)[0]
        thing = self._thing(first)
        if thing is None or first in work.things:
            return
        matrix = times(lean_matrix(joined.leans, self.worked.solver), self._matrix(first))
        turn = self.worked.solver.value(joined.turned, Kind.ANGLE) if joined.turned else None
        matrix = times(about(2, turn.value), matrix) if turn else matrix
        turned = thing.at(Pose(times(matrix, self._twin(name))))
        told = len(self.problems)
        equations = list(self._equations(work, joined, turned, number))
        offset, free, clashes = solve(equations)
        for equation, earlier, by in clashes:
            self._disagree(joined, equation, earlier, by)
        if free and equations and not clashes and len(self.problems) == told:
            self._free(joined, free)
        pose = Pose(turned.pose.matrix, offset or ORIGIN)
        firm = (each for each in equations if not each.play)
        self.statements += [Statement(first, each, pose.offset) for each in firm]
        self._add(work, first, pose, number)
        if joined.row is not None:
            self._row(work, joined, pose, number)

    def _row(self, work: Work, joined: Joined, pose: Pose, number: int) -> None:
        """The other pieces of a row, at equal steps from the first."""
        assert joined.row is not None
        others = row_of(joined, self.worked.usage.pieces)[1:]
        way = self._way(work, joined, DIRECTION[joined.row.toward.value[0]])
        every = self.worked.solver.value(joined.row.every) if joined.row.every else None
        gap = every.value if every else self._even(work, joined, len(others))
        for count, name in enumerate(others, 1):
            self._add(work, name, Pose(pose.matrix, plus(pose.offset, way, count * gap)), number)

    def _way(self, work: Work, joined: Joined, toward: Vector) -> Vector:
        """The direction of a row: of pieces in a row of holes, that in which the holes lie."""
        for _, place in joined.places:
            hole = hole_of(self.worked.part(place.target.thing), place.target.feature)
            bearer = work.things.get(place.target.thing)
            along = row_way(hole, bearer) if hole and bearer else toward
            if abs(dot(along, toward)) > ROUGHLY:
                return along if dot(along, toward) > 0 else plus(ORIGIN, along, -1)
        return toward

    def _even(self, work: Work, joined: Joined, others: int) -> Fraction:
        """The step of a row whose last piece ends at a stated place."""
        assert joined.row is not None
        side, place = joined.row.toward.value[0], joined.row.up_to
        first = work.things[row_of(joined, self.worked.usage.pieces)[0]]
        if place is None or not others:
            return ZERO
        resolved = list(resolve(work.things, place, first, (side,), self.worked))
        if len(resolved) != 1 or isinstance(resolved[0], Problem):
            return ZERO
        # The equation tells how far the piece in its place is still away from where the last ends.
        return resolved[0].value * sum(DIRECTION[side]) / others

    def _equations(
        self, work: Work, joined: Joined, thing: Thing, number: int
    ) -> Iterator[Equation]:
        builds = next((n for n, each in self.works.items() if each is work), MAIN)
        for sides, place in joined.places:
            for found in resolve(work.things, place, thing, sides.value, self.worked):
                if isinstance(found, Problem):
                    self.problems.append(found)
                else:
                    yield found
            if place.how in ("against", "loose against", "in groove"):
                self.contacts.append(
                    Contact(
                        thing.name,
                        sides.value[0],
                        place.target.thing,
                        place.glued,
                        number,
                        builds,
                        place.how,
                    )
                )

    def _free(self, joined: Joined, free: tuple[Vector, ...]) -> None:
        axes = sorted({max(range(3), key=lambda i: abs(way[i])) for way in free})
        self.loose[joined.piece.value] = tuple(WAYS[axis] for axis in axes)
        side = ("left", "front", "bottom")[axes[0]]
        other = next((p.target.thing for _, p in joined.places if p.target.thing), "shelf")
        facts = {
            "piece": joined.piece.value,
            "ways": " and ".join(WAYS[axis] for axis in axes),
            "sides": " and its ".join(PAIRS[axis] for axis in axes),
            "example": f"{side}: flush with {other}",
        }
        self.problems.append(Problem(TooLittleSaid, joined.piece.span, facts))

    def _disagree(
        self, joined: Joined, equation: Equation, earlier: Equation | None, by: Fraction
    ) -> None:
        facts = {
            "piece": joined.piece.value,
            "place": equation.words,
            "other": earlier.words if earlier else "where it is",
            "by": both_units(abs(by)),
        }
        self.problems.append(Problem(SaidTwoWays, equation.span, facts))


def _body(part: CutPart, worked: Worked) -> Body:
    """A part's body; the corners of one with cut ends and a shaped outline are the solid's."""
    shape = worked.shapes.get(part.name)
    body = body_of(part, shape, worked.solver)
    said = part.part
    if shape is None or not said.ends or not (said.corners or said.edges or said.outline):
        return body
    # Holes reach no corner, and cost most of the time.
    whole = replace(part, part=replace(said, holes=()))
    points = solid_of(whole, replace(shape, holes=()), worked.solver).points
    corners = tuple((_exact(x), _exact(y), _exact(z)) for x, y, z in points)
    return replace(body, corners=corners)


def _exact(value: float) -> Fraction:
    """A float as a fraction, cut at a millionth of a millimetre."""
    return Fraction(round(value * 10**6), 10**6)


def both_units(value: Fraction) -> str:
    """A difference in millimetres and in thousandths of an inch."""
    mm = _decimal(value, 2).rstrip("0").rstrip(".")
    return f"{mm} mm ({_decimal(value / Fraction(254, 10), 3)} in)"


def _decimal(value: Fraction, places: int) -> str:
    """A figure with so many decimals, halves rounded away from nought."""
    scaled = abs(value) * 10**places + Fraction(1, 2)
    whole, rest = divmod(scaled.numerator // scaled.denominator, 10**places)
    sign = "-" if value < 0 and (whole or rest) else ""
    return f"{sign}{whole}.{rest:0{places}}"
