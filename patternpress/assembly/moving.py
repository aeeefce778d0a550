"""What opens: how far, which way, about which line, and what goes with it.

In: a `Worked` design and its `Assembly`, in which everything is placed at rest.  Out: `Motion`s,
exact, in the axes of the work that each belongs to; or located problems.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from patternpress.assembly.body import AXIS_INDEX, SIDE_AXIS, Body
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.marked import hole_axis, hole_centre, hole_of
from patternpress.assembly.placing import Assembly, Placed
from patternpress.assembly.pose import (
    DIRECTION,
    ONE,
    ORIGIN,
    UNIT,
    Matrix,
    Pose,
    Vector,
    cross,
    dot,
    plus,
    root,
    times,
)  # fmt: skip
from patternpress.assembly.thing import Thing, middle_of
from patternpress.assembly.usage import MAIN, Use, row_of
from patternpress.assembly.worked import Worked
from patternpress.design.kinds.fit import NoLineToTurnAbout, TurnsElsewhere
from patternpress.design.phrases import Slide, Target, Turn
from patternpress.design.problem import Problem
from patternpress.design.records.parts import Mark
from patternpress.design.span import NOWHERE, Span
from patternpress.measure.quantity import Kind, Quantity

_EDGE = 2  # sides that name an edge
FAST = ("against", "in hole", "in groove")  # how what is glued is fixed to the other


@dataclass(frozen=True)
class Motion:
    """How one thing of a work is opened.

    `by` is a length along `way`, or an angle about the line through `through` along `way`,
    anticlockwise as seen from where `way` points; `keys` are the pieces that move, those that are
    joined to it alone included; `hinges` are fittings with a leaf on what moves and another on
    what stays.  `toward` and `about` are what the author said.  `way` is of length 1.
    """

    thing: str
    work: str
    step: int
    keys: tuple[str, ...]
    by: Quantity
    toward: str
    way: Vector
    through: Vector | None = None
    about: Target | None = None
    span: Span = NOWHERE
    hinges: tuple[str, ...] = ()

    @property
    def turns(self) -> bool:
        """Whether it turns; else it moves straight on."""
        return self.through is not None


def moving_things(worked: Worked) -> frozenset[str]:
    """What moves in the finished piece: pieces, sub-assemblies and their copies by name."""
    subs = {sub.name.value for sub in worked.book.sub_assemblies if sub.moves}
    found = subs | {name for name, sub in worked.usage.sub_of.items() if sub in subs}
    opened = (use for use in worked.usage.uses if use.joined and use.joined.opens)
    return frozenset(found).union(*((use.name, *use.brings) for use in opened))


def motions_of(worked: Worked, assembly: Assembly) -> tuple[Motion, ...]:
    """Everything that opens, in the order of the joins, each in the work that joins it."""
    return tuple(each for each in all_motions(worked, assembly) if isinstance(each, Motion))


def motions_in(worked: Worked, assembly: Assembly, work: str = MAIN) -> tuple[Motion, ...]:
    """What opens in a work: what was joined there, and what came with a sub-assembly."""
    found: list[Motion] = []
    for each in motions_of(worked, assembly):
        if each.work == work:
            found.append(each)
        elif each.work in assembly.works:
            found += _brought_along(each, assembly.works[each.work], assembly.works.get(work, ()))
    return tuple(found)


def all_motions(worked: Worked, assembly: Assembly) -> Iterator[Motion | Problem]:
    """Everything that opens, and what cannot be worked out of it."""
    for use in worked.usage.uses:
        if use.joined is None or use.joined.opens is None:
            continue
        said = use.joined.opens
        kind = Kind.ANGLE if isinstance(said, Turn) else Kind.LENGTH
        by = worked.solver.value(said.by, kind)
        for name in row_of(use.joined, worked.usage.pieces) if by else ():
            thing = _thing(assembly, use.builds, name)
            if by is not None and thing is not None:
                keys = _carried(worked, assembly, use, name)
                plain = Motion(name, use.builds, use.step, keys, by, said.toward, UNIT[0])
                plain = replace(plain, hinges=_hinges(worked, assembly, plain))
                yield _opened(worked, assembly, replace(plain, span=said.by.span), said, thing)


def _opened(
    worked: Worked, assembly: Assembly, plain: Motion, said: Slide | Turn, thing: Thing
) -> Motion | Problem:
    if isinstance(said, Slide):
        return replace(plain, way=DIRECTION[said.toward])
    line = line_of(worked, assembly, plain.work, said.about)
    if line is None:
        return Problem(NoLineToTurnAbout, said.about.span, {"piece": plain.thing})
    through, along = line
    out = plus(middle_of(thing), through, -1)
    ahead = dot(cross(along, out), DIRECTION[said.toward])
    if abs(ahead) < Fraction(1, 10**6):
        facts = {"piece": plain.thing, "toward": said.toward}
        return Problem(TurnsElsewhere, said.about.span, facts)
    sense = 1 if ahead > 0 else -1
    way = plus(ORIGIN, along, sense)
    return replace(plain, way=way, through=through, about=said.about)


# ------------------------------------------------------------------ the line that it turns about


def line_of(
    worked: Worked, assembly: Assembly, work: str, about: Target
) -> tuple[Vector, Vector] | None:
    """A point on an edge, a hole or a round piece and its direction; None where it is no line."""
    thing = _thing(assembly, work, about.thing)
    if thing is None:
        return None
    if about.kind == "hole":
        return _hole_line(worked, about, thing)
    if len(about.sides) == _EDGE and SIDE_AXIS[about.sides[0]] != SIDE_AXIS[about.sides[1]]:
        return _edge(thing, about.sides[0], about.sides[1])
    part = worked.part(about.thing)
    if part is None or part.form != "rod" or about.sides or about.feature:
        return None
    body, inner = thing.bodies[0]
    return middle_line(body, inner, part)


def middle_line(body: Body, pose: Pose, part: CutPart) -> tuple[Vector, Vector]:
    """The middle of a piece and the direction of its length, where its pose puts them."""
    middle = [max(c[axis] for c in body.corners) / 2 for axis in range(3)]
    return pose.point((middle[0], middle[1], middle[2])), pose.turn(UNIT[AXIS_INDEX[part.along]])


def _hole_line(worked: Worked, about: Target, thing: Thing) -> tuple[Vector, Vector] | None:
    part = worked.part(about.thing)
    hole = hole_of(part, about.feature)
    if part is None or hole is None:
        return None
    axis = hole_axis(hole, part)
    _, pose = thing.bodies[0]
    return pose.point(hole_centre(hole, part, axis, worked, about.feature)), pose.turn(UNIT[axis])


def _edge(thing: Thing, one: str, two: str) -> tuple[Vector, Vector] | None:
    """Where the planes of two sides meet.

    For unit normals m, n with c = m · n, and planes m · x = a, n · x = b, the point of the line
    nearest to the origin is ((a - b c) m + (b - a c) n) / (1 - c²).
    """
    first, second = thing.face(one), thing.face(two)
    m, n = first.normal, second.normal
    c = dot(m, n)
    share = 1 - c * c
    if share < Fraction(1, 10**6):
        return None
    a, b = dot(m, first.point), dot(n, second.point)
    foot = plus(plus(ORIGIN, m, (a - b * c) / share), n, (b - a * c) / share)
    along = cross(m, n)
    long = ONE if share == 1 else root(share)
    return foot, plus(ORIGIN, along, 1 / long)


# ------------------------------------------------------------------ what moves


def _thing(assembly: Assembly, work: str, name: str) -> Thing | None:
    """A piece, a part with one piece, or a sub-assembly, where it sits in a work."""
    pieces = assembly.works.get(work, ())
    own = _of(pieces, name) or [each for each in pieces if each.part == name]
    bodies = [(assembly.bodies[p.part], p.pose) for p in own if p.part in assembly.bodies]
    return Thing(name, tuple(bodies), "") if bodies else None


def _carried(worked: Worked, assembly: Assembly, use: Use, name: str) -> tuple[str, ...]:
    """The pieces of a thing, and those joined later to it alone."""
    pieces = assembly.works.get(use.builds, ())
    marks = {mark.name.value: mark for mark in worked.book.marks}
    things = [name]
    found = _of(pieces, name)
    for later in worked.usage.uses:
        places = later.joined.places if later.joined else ()
        ahead = later.builds == use.builds and later.step >= use.step and later.name not in things
        names = {
            *things,
            *(each for p in found for each in (p.called if p.path else (p.piece, p.part))),
        }
        if ahead and places and all(_on(p.target, names, marks) for _, p in places):
            things += [later.name, *later.brings]
            found += [p for each in dict.fromkeys(later.brings) for p in _of(pieces, each)]
    return tuple(each.key for each in found)


def _hinges(worked: Worked, assembly: Assembly, motion: Motion) -> tuple[str, ...]:
    """The fittings that are fixed both to what moves and to what stays: a leaf goes with it."""
    pieces = assembly.works.get(motion.work, ())
    moving = [each for each in pieces if each.key in motion.keys]
    names = frozenset[str]().union({motion.thing}, *(each.called for each in moving))
    found: list[str] = []
    for use in worked.usage.uses:
        part = worked.part(use.brings[0]) if use.joined and use.brings else None
        if use.joined is None or use.builds != motion.work or part is None:
            continue
        fixed = [p.target.thing in names for _, p in use.joined.places if p.glued and p.how in FAST]
        if part.form == "bought" and any(fixed) and not all(fixed):
            found += [each.key for each in pieces if each.brought in use.brings]
    return tuple(found)


def _of(pieces: tuple[Placed, ...], name: str) -> list[Placed]:
    """The pieces that were brought under a name, or that one piece of a sub-assembly."""
    return [p for p in pieces if name == p.brought or (name == p.piece and not p.path)]


def _on(target: Target, names: set[str], marks: Mapping[str, Mark]) -> bool:
    """Whether a place is on one of some things, or on a mark of theirs."""
    mark = marks.get(target.thing) if target.kind == "mark" else None
    if mark is None:
        return target.thing in names
    return any(each.thing in names for group in mark.on for each in group)


def _brought_along(
    motion: Motion, inner: tuple[Placed, ...], outer: tuple[Placed, ...]
) -> Iterator[Motion]:
    """A motion of a sub-assembly, once for each copy of it in another work."""
    first = next(each for each in inner if each.key == motion.keys[0])
    tail = (*first.path, first.piece)
    for each in outer:
        path = (*each.path, each.piece)
        if path[-len(tail) :] != tail:
            continue
        prefix = path[: -len(tail)]
        matrix = times(each.pose.matrix, _back(first.pose.matrix))
        pose = Pose(matrix, plus(each.pose.offset, Pose(matrix).turn(first.pose.offset), -1))
        yield replace(
            motion,
            thing="/".join((*prefix, motion.thing)),
            keys=tuple("/".join((*prefix, key)) for key in motion.keys),
            hinges=tuple("/".join((*prefix, key)) for key in motion.hinges),
            # A line about which something turns runs the other way in a mirror.
            way=plus(ORIGIN, pose.turn(motion.way), _hand(matrix) if motion.turns else 1),
            through=pose.point(motion.through) if motion.through is not None else None,
        )


def _back(matrix: Matrix) -> Matrix:
    """The turn that undoes a turn or mirroring."""
    first, second, third = zip(*matrix, strict=True)
    return first, second, third


def _hand(matrix: Matrix) -> int:
    """-1 for a mirroring."""
    return 1 if dot(matrix[0], cross(matrix[1], matrix[2])) > 0 else -1


__all__ = ["FAST", "Motion", "all_motions", "line_of", "motions_in", "motions_of", "moving_things"]
