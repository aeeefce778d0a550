"""Do the pieces fit?

In: a `Worked` design and its `Assembly`.  Out: problems of pieces that clash, joints that gape or
hardly hold, pieces that float; then, from `fitmoves`, of those that cannot be put in or jam.
Judged on solids in floats: what differs by less than `CLOSE` is called touching.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

import numpy as np

from patternpress.assembly.bulks import bulks_of
from patternpress.assembly.checks.fitmoves import (
    CLOSE,
    Pins,
    Solids,
    go_in,
    move,
    pins_of,
    span_of,
)
from patternpress.assembly.contacts import touching_area
from patternpress.assembly.convex import Bulk, Clash, clashes, least_gap, near_pairs, penetration
from patternpress.assembly.gluing import HELD
from patternpress.assembly.marked import hole_axis, hole_of
from patternpress.assembly.moving import motions_in
from patternpress.assembly.placing import Assembly, Contact, Placed, both_units
from patternpress.assembly.pose import dot
from patternpress.assembly.sizes import AXES
from patternpress.assembly.worked import Worked
from patternpress.design.kinds import fit as kinds
from patternpress.design.phrases import OPPOSITE
from patternpress.design.problem import Problem

# Below this a glued face hardly holds, in mm²: common practice, no source.
LEAST_AREA = 1.0
TURNED = Fraction(1, 10**6)  # of a cosine, by which two directions are neither along nor across
LOOSE = "loose against"


def check_fit(worked: Worked, assembly: Assembly, close: float = CLOSE) -> Iterator[Problem]:
    """Every fit check of every work, in the order of building.

    What differs by less than `close` mm is called touching.
    """
    bulks = bulks_of(worked, assembly)
    for name, pieces in assembly.works.items():
        solids = [(each, bulk) for each in pieces if (bulk := bulks.of(each)) is not None]
        pins = pins_of(worked)
        joints = list(_joints(worked, assembly, (solids, name), close))
        yield from (each for each in joints if each.is_error)
        # What does not come to its joint is in the way elsewhere: the cause alone is told.
        away = {each.facts["piece"] for each in joints if each.kind is kinds.JointGapes}
        strays = {piece.key for piece, _ in solids if piece.called & away}
        found = list(clashing(worked, solids, pins, close))
        yield from (p for p in found if not {p.facts["piece"], p.facts["other"]} & strays)
        if not found:
            yield from (each for each in joints if not each.is_error)
            if not any(each.is_error for each in joints):
                yield from floating(worked, solids)
            shut = list(go_in(worked, solids, pins, motions_in(worked, assembly, name), close))
            yield from shut
            # What could not even be put in does not come out either: told once.
            out = {each.facts["piece"] for each in shut}
            yield from (p for p in move(worked, solids, close) if p.facts["piece"] not in out)


def _own(first: Placed, second: Placed) -> bool:
    """Whether two pieces came in together, in one sub-assembly that was checked already."""
    return first.brought == second.brought and first.brought not in (first.piece, second.piece)


def clashing(worked: Worked, solids: Solids, pins: Pins, close: float = CLOSE) -> Iterator[Problem]:
    """Pieces in each other; told for the one that comes later."""
    for first, second, clash in clashes([bulk for _, bulk in solids], close):
        one, two = solids[first][0], solids[second][0]
        if _own(one, two) or pins.hold(one, two):
            continue
        late, early = (two, one) if (two.step, second) >= (one.step, first) else (one, two)
        facts = {
            "piece": late.key,
            "other": early.key,
            "by": both_units(Fraction(round(clash.depth, 6))),
        }
        facts["where"] = _where(clash, solids) + _square_into(worked, late, early)
        span = span_of(worked, late.path[0] if late.path else late.piece)
        yield Problem(kinds.PiecesClash, span, facts, clash.where)


def _square_into(worked: Worked, late: Placed, early: Placed) -> str:
    """Why a straight piece clashes with the leaning one whose hole or groove it goes into."""
    use = worked.usage.first_use(late.piece)
    ways = zip(*late.pose.matrix, strict=True)
    askew = [dot(one, two) for one in ways for two in zip(*early.pose.matrix, strict=True)]
    if not any(TURNED < abs(each) < 1 - TURNED for each in askew):
        return ""
    for _, place in use.joined.places if use is not None and use.joined else ():
        if place.how in HELD and place.target.thing in early.called:
            name = place.target.feature
            mend = f"make “{name}” wider"
            if place.how == "in groove":
                mend = "set it against the face, without a groove"
            if _stands_square(early):
                return f"; “{name}” is square to “{early.piece}”, and “{late.piece}” leans: {mend}"
            runs = "runs along" if _lengthwise(worked, early, name) else "is square to"
            return (
                f"; “{name}” {runs} “{early.piece}”, which leans: let “{late.piece}” lean "
                f"as that does (`leans`), or {mend}"
            )
    return ""


def _lengthwise(worked: Worked, bearer: Placed, name: str) -> bool:
    """Whether a hole is drilled into the end of its piece."""
    part = worked.part(bearer.part)
    hole = hole_of(part, name)
    return part is not None and hole is not None and AXES[hole_axis(hole, part)] == part.along


def _stands_square(placed: Placed) -> bool:
    """Whether a piece neither leans nor is turned otherwise than by a quarter."""
    return all(not TURNED < abs(each) < 1 - TURNED for row in placed.pose.matrix for each in row)


def _where(clash: Clash, solids: Solids) -> str:
    """Roughly where, in words of the finished piece."""
    low = [min(float(bulk.low[:, i].min()) for _, bulk in solids) for i in range(3)]
    high = [max(float(bulk.high[:, i].max()) for _, bulk in solids) for i in range(3)]
    words = []
    for axis, (first, second) in enumerate(
        (("left", "right"), ("front", "back"), ("bottom", "top"))
    ):
        share = (clash.where[axis] - low[axis]) / ((high[axis] - low[axis]) or 1)
        if share < 1 / 3 or share > 2 / 3:
            words.append(first if share < 1 / 3 else second)
    return "at the " + " ".join(reversed(words)) if words else "in the middle"


def _joints(
    worked: Worked, assembly: Assembly, of: tuple[Solids, str], close: float
) -> Iterator[Problem]:
    """Joined faces that do not meet, or hardly."""
    solids, work = of
    by_name: dict[str, list[Bulk]] = {}
    for piece, bulk in solids:
        for name in piece.called:
            by_name.setdefault(name, []).append(bulk)
    for contact in assembly.contacts:
        mine, theirs = by_name.get(contact.thing, []), by_name.get(contact.other, [])
        in_groove = contact.how == "in groove"  # may have play on its bottom and sides
        if contact.work != work or in_groove or not mine or not theirs:
            continue
        # What is only laid against something may meet it along an edge; `resting` asks what it is
        # laid on.
        down = worked.usage.lying[contact.step - 1].down
        leans = contact.how == LOOSE and contact.side != down
        if not contact.glued and (not leans or _apart(mine, theirs) <= CLOSE):
            continue
        area = joint_area(assembly, contact, mine, theirs, close)
        facts = {"piece": contact.thing, "other": contact.other}
        span = span_of(worked, contact.thing)
        if area == 0.0:
            by = _apart(mine, theirs)
            if by <= close and any(_touch(a, b) for a in mine for b in theirs):
                yield Problem(kinds.JointOnLine, span, facts)
                continue
            facts |= {"by": both_units(Fraction(round(by, 6))), "hint": _away(worked, contact)}
            yield Problem(kinds.JointGapes, span, facts)
        elif area < LEAST_AREA:
            yield Problem(kinds.JointTooSmall, span, {**facts, "area": f"{area:.2f} mm²"})


def joint_area(
    assembly: Assembly, contact: Contact, mine: list[Bulk], theirs: list[Bulk], close: float = CLOSE
) -> float:
    """In how much, mm², the two things of a joint meet; kept with the assembly."""
    kept: dict[tuple[Contact, float], float] = assembly.kept.setdefault("joints", {})
    if (contact, close) not in kept:
        kept[contact, close] = sum(touching_area(a, b, close) for a in mine for b in theirs)
    return kept[contact, close]


def _away(worked: Worked, contact: Contact) -> str:
    """A hint at the place of a gaping joint that puts a side outside what faces it."""
    use = worked.usage.first_use(contact.thing)
    for sides, place in use.joined.places if use and use.joined else ():
        said, facing = sides.value[0], place.target.sides[:1]
        if place.how == "from" and place.distance and facing == (OPPOSITE[said],):
            far, other = place.distance.text, place.target.thing
            return (
                f" `{said}: {far} from {facing[0]} of {other}` lies outside it, since these sides "
                f"face each other; inside it is `{said}: {far} from {said} of {other}`."
            )
    return ""


def _apart(mine: list[Bulk], theirs: list[Bulk]) -> float:
    """The least distance between two things."""
    return min(least_gap(a, b) for a in mine for b in theirs)


def floating(worked: Worked, solids: Solids) -> Iterator[Problem]:
    """Pieces, or clumps of them, that touch nothing of the rest: told once for each clump."""
    if len(solids) < 2:
        return
    low = np.array([bulk.least for _, bulk in solids])
    high = np.array([bulk.most for _, bulk in solids])
    clumps = list(range(len(solids)))
    for i, j in near_pairs(low, high, CLOSE):
        if clumps[i] != clumps[j] and _touch(solids[i][1], solids[j][1]):
            old, new = max(clumps[i], clumps[j]), min(clumps[i], clumps[j])
            clumps = [new if each == old else each for each in clumps]
    held = _held(worked)
    # The largest clump is the piece that is built; of two alike, the one that was there first.
    rest = max(clumps, key=lambda each: (clumps.count(each), -each))
    for clump in dict.fromkeys(each for each in clumps if each != rest):
        mine = [piece for (piece, _), each in zip(solids, clumps, strict=True) if each == clump]
        # What sits in a hole or groove may have play in it.
        if not any(piece.piece in held for piece in mine):
            facts = {"piece": mine[0].key}
            yield Problem(kinds.PieceFloats, span_of(worked, mine[0].piece), facts)


def _held(worked: Worked) -> set[str]:
    """Pieces that sit in a hole or groove, or hold another in one: they may have play."""
    found: set[str] = set()
    for use in worked.usage.uses:
        for _, place in use.joined.places if use.joined else ():
            if place.target.kind in ("hole", "groove"):
                found |= {use.name, place.target.thing}
                found |= set(worked.usage.pieces.get(place.target.thing, ()))
                found |= {*worked.usage.in_copies.get(place.target.thing, ())[:1]}
    return found


def _touch(a: Bulk, b: Bulk) -> bool:
    """Whether two things lie against each other, if only along a line, or sit in each other."""
    return touching_area(a, b, CLOSE) > 0 or penetration(a, b, -CLOSE) is not None
