"""Can marks and faces still be reached when they are asked for?

In: a `Worked` design and its `Assembly`.  Out: problems of marks that lie under a piece before
they are used, and of faces that are treated when another piece is glued over them.  Judged on
solids, in floats.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import shapely

from patternpress.assembly.body import AXIS_INDEX, SIDE_AXIS
from patternpress.assembly.bulks import Bulks, bulks_of, floats, offset
from patternpress.assembly.checks.order import marks_needed
from patternpress.assembly.convex import Bulk, boxes_touch
from patternpress.assembly.covering import flats, own_side, share_covered
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.marked import hole_centre
from patternpress.assembly.marklines import line_on
from patternpress.assembly.moving import moving_things
from patternpress.assembly.placing import Assembly, Placed
from patternpress.assembly.pose import DIRECTION
from patternpress.assembly.solid import Vec, dot
from patternpress.assembly.thing import sign_of
from patternpress.assembly.worked import Worked
from patternpress.design.kinds.covered import EasedUnder, FaceCovered, MarkCovered
from patternpress.design.phrases import OPPOSITE, Target
from patternpress.design.problem import Problem
from patternpress.design.records.parts import Hole, Mark
from patternpress.design.records.work import FINISHES, Treatment

CLOSE = 0.01
# A face of which less than a twentieth is left open cannot be worked: common practice, no source.
GONE = 0.95
EDGES = ("round over", "ease", "chamfer")
VERBS = ("round over", "ease", "chamfer", "drill", "sand", *FINISHES)


@dataclass(frozen=True)
class Bench:
    """What the checks here ask again and again."""

    worked: Worked
    assembly: Assembly
    bulks: Bulks
    loose: frozenset[str]  # what is only laid on, or moves

    def over(self, piece: Placed, work: str, before: int) -> list[tuple[Placed, Bulk]]:
        """The pieces that touch a piece of a work before a step, and may be glued over it."""
        mine = self.bulks.of(piece)
        return [
            (each, bulk)
            for each in self.assembly.works[work]
            if each != piece
            and each.step < before
            and (each.brought == piece.brought or not {each.brought, piece.brought} & self.loose)
            and (bulk := self.bulks.of(each)) is not None
            and mine is not None
            and boxes_touch(mine, bulk, CLOSE)
        ]

    def homes(self, name: str) -> list[Placed]:
        """A piece, or all pieces of a part, where each was brought to the bench."""
        wanted = self.worked.usage.pieces.get(name, (name,))
        found: dict[str, Placed] = {}
        for work in self.assembly.works.values():
            for each in work:
                if each.piece in wanted and not each.path and each.brought == each.piece:
                    found.setdefault(each.piece, each)
        return list(found.values())


def _bench(worked: Worked, assembly: Assembly) -> Bench:
    loose = {c.thing for c in assembly.contacts if not c.glued} | moving_things(worked)
    return Bench(worked, assembly, bulks_of(worked, assembly), frozenset(loose))


# ------------------------------------------------------------------ marks


def check_marks_covered(worked: Worked, assembly: Assembly) -> Iterator[Problem]:
    """Marks that lie wholly under other pieces before the step that needs them."""
    bench = _bench(worked, assembly)
    marks = {each.name.value: each for each in worked.book.marks}
    for name, use, span in marks_needed(worked):
        mark = marks.get(name)
        if mark is None:
            continue
        borne = [
            (_covers(bench, mark, placed, target, use.builds, use.step), placed, target.sides[0])
            for target in (each for group in mark.on for each in group if each.sides)
            for placed in assembly.works.get(use.builds, ())
            if target.thing in (placed.piece, placed.part) and placed.step < use.step
        ]
        hidden = [(other, bearer, side) for other, bearer, side in borne if other is not None]
        if hidden and len(hidden) == len(borne):
            other, bearer, side = hidden[0]
            step = _joined_in(bench, other)
            facts = {"mark": name, "other": other.piece, "step": str(step), "later": str(use.step)}
            facts["piece"] = bearer.key
            yield Problem(MarkCovered, span, facts, _middle(bench, mark, bearer, side))


def _joined_in(bench: Bench, piece: Placed) -> int:
    return min((each.step for each in bench.homes(piece.piece)), default=piece.step)


def _middle(bench: Bench, mark: Mark, bearer: Placed, side: str) -> Vec | None:
    """The middle of a mark on the side of its piece that bears it."""
    line = line_on(mark, bearer, bench.worked, bench.assembly)
    if line is None:
        return None
    at = [(one + two) / 2 for one, two in zip(*line, strict=True)]
    far = float(bench.assembly.bodies[bearer.part].reach(bearer.pose, DIRECTION[side]))
    at[SIDE_AXIS[side]] = far * sign_of(side)
    return at[0], at[1], at[2]


def _covers(
    bench: Bench, mark: Mark, bearer: Placed, target: Target, work: str, step: int
) -> Placed | None:
    """The piece under which a mark lies on one of its bearers."""
    bulk = bench.bulks.of(bearer)
    line = line_on(mark, bearer, bench.worked, bench.assembly)
    if bulk is None or line is None:
        return None
    side = own_side(bearer, bench.assembly.bodies[bearer.part], target.sides[0])
    others = bench.over(bearer, work, step)
    whole = hidden = 0.0
    for flat in flats(bulk, side):
        drawn = shapely.LineString([flat.at(point) for point in line]).buffer(CLOSE)
        on_face = drawn.intersection(flat.face)
        whole += on_face.area
        hidden += on_face.intersection(flat.under((b for _, b in others), CLOSE)).area
    if not whole or hidden < GONE * whole:
        return None
    return _most(bulk, side, others)


def _most(bulk: Bulk, side: str, others: list[tuple[Placed, Bulk]]) -> Placed:
    """The piece that hides most of a side."""
    shares = [(share_covered(bulk, side, [each], CLOSE), piece) for piece, each in others]
    return max(shares, key=lambda each: each[0])[1]


# ------------------------------------------------------------------ treatments


def check_faces_covered(worked: Worked, assembly: Assembly) -> Iterator[Problem]:
    """Faces, edges and holes that are worked on when another piece is glued over them."""
    bench = _bench(worked, assembly)
    for number, step in enumerate(worked.usage.steps, 1):
        for treatment, before in (
            *((each, number) for each in step.treat),
            *((each, number + 1) for each in step.afterwards),
        ):
            if treatment.verb in VERBS:
                yield from _treated(bench, treatment, number, before)
            if treatment.verb in EDGES:
                yield from _eased_under(bench, treatment, number, before)


def _eased_under(bench: Bench, treatment: Treatment, number: int, before: int) -> Iterator[Problem]:
    """Edges that are taken off before another piece is glued flush over them."""
    for target in treatment.targets:
        for home in bench.homes(target.thing) if len(target.sides) == 2 else ():
            found = list(_flush_over(bench, target.sides, home, before))
            if found:
                _, other, at = max(found, key=lambda each: each[0])
                facts = {"piece": home.piece, "edge": " ".join(target.sides), "other": other.piece}
                facts |= {"step": str(number), "verb": treatment.verb}
                facts["later"] = str(_joined_in(bench, other))
                yield Problem(EasedUnder, target.span, facts, at)
                break


def _flush_over(
    bench: Bench, sides: tuple[str, ...], home: Placed, before: int
) -> Iterator[tuple[float, Placed, Vec]]:
    """The pieces that come later, lie on one side of an edge and end level with its other side:
    how much of it they hide, the piece, the middle of the edge beside it.
    """
    body = bench.assembly.bodies[home.part]
    for work, pieces in bench.assembly.works.items():
        for piece in pieces:
            mine = bench.bulks.of(piece) if piece.piece == home.piece else None
            if mine is None:
                continue
            for other, bulk in bench.over(piece, work, len(bench.worked.usage.steps) + 1):
                for under, level in (sides, sides[::-1]):
                    held = share_covered(mine, own_side(home, body, under), [bulk], CLOSE)
                    late = held and _joined_in(bench, other) >= before
                    if late and _level(mine, bulk, level):
                        yield held, other, _edge(mine, bulk, under, level)


def _level(mine: Bulk, other: Bulk, side: str) -> bool:
    return abs(_far(mine, side) - _far(other, side)) <= CLOSE


def _far(bulk: Bulk, side: str) -> float:
    return float((bulk.most if sign_of(side) > 0 else bulk.least)[SIDE_AXIS[side]])


def _edge(mine: Bulk, other: Bulk, *sides: str) -> Vec:
    """The middle of what lies on an edge."""
    at = [float(each) for each in (other.least + other.most) / 2]
    for side in sides:
        at[SIDE_AXIS[side]] = _far(mine, side)
    return at[0], at[1], at[2]


def _treated(bench: Bench, treatment: Treatment, number: int, before: int) -> Iterator[Problem]:
    for target in treatment.targets:
        for home in bench.homes(target.thing):
            found = _hidden(bench, target, home, before)
            if found is not None:
                face, other = found
                facts = {"piece": home.piece, "face": face, "other": other.piece}
                facts |= {"step": str(number), "verb": treatment.verb}
                yield Problem(FaceCovered, target.span, facts)
                break


def _hidden(bench: Bench, target: Target, home: Placed, before: int) -> tuple[str, Placed] | None:
    """What of a piece cannot be reached any more, in words, and the piece that lies on it."""
    part = bench.worked.part(home.part)
    if part is None:
        return None
    hole = next((h for h in part.part.holes if h.name.value == target.feature), None)
    if hole is not None:
        mouths = [_stopped(bench, side, hole, part, home, before) for side in _mouths(hole, part)]
        if mouths and all(mouths) and mouths[0] is not None:
            return hole.name.value, mouths[0]
        return None
    single = len(bench.worked.usage.pieces.get(target.thing, (home.piece,))) == 1
    body = bench.assembly.bodies[home.part]
    for side in target.sides:
        other = _gone(bench, own_side(home, body, side) if single else side, home, before)
        if other is not None:
            return side, other
    return None


def _gone(bench: Bench, side: str, home: Placed, before: int) -> Placed | None:
    """The piece that lies on a side (as its part is drawn) before a step, in any work."""
    for work, pieces in bench.assembly.works.items():
        for piece in pieces:
            bulk = bench.bulks.of(piece) if piece.piece == home.piece else None
            if bulk is None or piece.step >= before:
                continue
            others = bench.over(piece, work, before)
            if others and share_covered(bulk, side, (b for _, b in others), CLOSE) >= GONE:
                return _most(bulk, side, others)
    return None


def _mouths(hole: Hole, part: CutPart) -> tuple[str, ...]:
    """The sides that a hole opens to, as its part is drawn."""
    if hole.on is None:
        low = ("left", "front", "bottom")[AXIS_INDEX.get(part.thin, 2)]
        return (low, OPPOSITE[low])
    side = hole.on.value[0]
    return (side,) if hole.deep is not None else (side, OPPOSITE[side])


def _stopped(
    bench: Bench, side: str, hole: Hole, part: CutPart, home: Placed, before: int
) -> Placed | None:
    """The piece that lies over one mouth of a hole before a step."""
    centre = hole_centre(hole, part, SIDE_AXIS[side], bench.worked)
    local = (float(centre[0]), float(centre[1]), float(centre[2]))
    for work, pieces in bench.assembly.works.items():
        for piece in pieces:
            bulk = bench.bulks.of(piece) if piece.piece == home.piece else None
            if bulk is None or piece.step >= before:
                continue
            point = _moved(piece, local)
            for other, other_bulk in bench.over(piece, work, before):
                for flat in flats(bulk, side):
                    if flat.under([other_bulk], CLOSE).contains(shapely.Point(flat.at(point))):
                        return other
    return None


def _moved(piece: Placed, point: Vec) -> Vec:
    rows, shift = floats(piece.pose), offset(piece.pose)
    x, y, z = (dot(row, point) + far for row, far in zip(rows, shift, strict=True))
    return x, y, z
