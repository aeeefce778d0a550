"""Do the pieces fit?

In: a `Worked` design and its `Assembly`.  Out: problems of pieces that clash, joints that gape or
hardly hold, pieces that float or cannot be put in, moving pieces that jam.  Judged on solids in
floats: what differs by less than `CLOSE` is called touching.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import combinations

from patternpress.assembly.bulks import bulks_of
from patternpress.assembly.contacts import AXES, touching_area, ways_out
from patternpress.assembly.convex import Bulk, Clash, clashes, penetration, placed
from patternpress.assembly.placing import Assembly, Placed
from patternpress.assembly.solid import UNTURNED
from patternpress.assembly.worked import Worked
from patternpress.design.kinds import fit as kinds
from patternpress.design.problem import Problem
from patternpress.design.span import Span

# A hundredth of a millimetre is beyond what is cut by hand: common practice, no source.
CLOSE = 0.01
# Below this a glued face hardly holds, in mm²: common practice, no source.
LEAST_AREA = 1.0
# Lifting is tried in steps thinner than any board, in mm.
LIFT_STEP = 0.9

Solids = list[tuple[Placed, Bulk]]


def check_fit(worked: Worked, assembly: Assembly) -> Iterator[Problem]:
    """Every fit check of every work, in the order of building."""
    bulks = bulks_of(worked, assembly)
    for name, pieces in assembly.works.items():
        solids = [(each, bulk) for each in pieces if (bulk := bulks.of(each)) is not None]
        found = list(_clash(worked, solids))
        yield from found
        if not found:
            yield from _meet(worked, assembly, solids, name)
            yield from _go_in(worked, solids)
            yield from _move(worked, solids)


def _span(worked: Worked, piece: str) -> Span:
    use = next((u for u in worked.usage.uses if u.name == piece), None)
    use = use or worked.usage.first_use(piece)
    return use.span if use else worked.book.span


def _mm(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".") + f" mm ({value / 25.4:.3f} in)"


def _own(first: Placed, second: Placed) -> bool:
    """Whether two pieces came in together, in one sub-assembly that was checked already."""
    return first.brought == second.brought and first.brought not in (first.piece, second.piece)


def _clash(worked: Worked, solids: Solids) -> Iterator[Problem]:
    """Pieces in each other; told for the one that comes later."""
    for first, second, clash in clashes([bulk for _, bulk in solids], CLOSE):
        one, two = solids[first][0], solids[second][0]
        if _own(one, two) or _pinned(worked, one, two):
            continue
        late, early = (two, one) if (two.step, second) >= (one.step, first) else (one, two)
        facts = {"piece": late.key, "other": early.key, "by": _mm(clash.depth)}
        facts["where"] = _where(clash, solids)
        yield Problem(
            kinds.PiecesClash, _span(worked, late.path[0] if late.path else late.piece), facts
        )


def _pinned(worked: Worked, one: Placed, two: Placed) -> bool:
    """Whether one sits leaning in a hole of the other, which is drilled at its angle."""
    for piece, other in ((one, two), (two, one)):
        use = worked.usage.first_use(piece.piece)
        places = use.joined.places if use and use.joined else ()
        part = worked.part(piece.part)
        leans = (use.joined.leans if use and use.joined else None) or (part and part.part.leans)
        held = {place.target.thing for _, place in places if place.how == "in hole"}
        if leans and held & {other.piece, other.part}:
            return True
    return False


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


def _meet(worked: Worked, assembly: Assembly, solids: Solids, work: str) -> Iterator[Problem]:
    """Joined faces that do not meet, or hardly; pieces that touch nothing."""
    by_name: dict[str, list[Bulk]] = {}
    for piece, bulk in solids:
        for name in {piece.piece, piece.part, *piece.path[:1]}:
            by_name.setdefault(name, []).append(bulk)
    for contact in assembly.contacts:
        mine, theirs = by_name.get(contact.thing, []), by_name.get(contact.other, [])
        in_groove = contact.how == "in groove"  # may have play on its bottom and sides
        if contact.work != work or not contact.glued or in_groove or not mine or not theirs:
            continue
        area = sum(touching_area(a, b, CLOSE) for a in mine for b in theirs)
        facts = {"piece": contact.thing, "other": contact.other}
        span = _span(worked, contact.thing)
        if area == 0.0:
            yield Problem(kinds.JointGapes, span, {**facts, "by": _mm(_apart(mine, theirs))})
        elif area < LEAST_AREA:
            yield Problem(kinds.JointTooSmall, span, {**facts, "area": f"{area:.2f} mm²"})
    yield from _float(worked, solids)


def _apart(mine: list[Bulk], theirs: list[Bulk]) -> float:
    """The least distance between the boxes of two things, along the axis that separates them."""
    least = float("inf")
    for a in mine:
        for b in theirs:
            low = [max(float(a.low[:, i].min()), float(b.low[:, i].min())) for i in range(3)]
            high = [min(float(a.high[:, i].max()), float(b.high[:, i].max())) for i in range(3)]
            least = min(least, max(lo - hi for lo, hi in zip(low, high, strict=True)))
    return max(0.0, least)


def _float(worked: Worked, solids: Solids) -> Iterator[Problem]:
    touched: set[int] = set()
    for (i, (_, a)), (j, (_, b)) in combinations(enumerate(solids), 2):
        if i in touched and j in touched:
            continue
        if _near(a, b) and _touch(a, b):
            touched |= {i, j}
    held = _held(worked)
    for index, (piece, _) in enumerate(solids):
        if index not in touched and len(solids) > 1 and piece.piece not in held:
            yield Problem(kinds.PieceFloats, _span(worked, piece.piece), {"piece": piece.key})


def _held(worked: Worked) -> set[str]:
    """Pieces that sit in a hole or groove, or hold another in one: they may have play."""
    found: set[str] = set()
    for use in worked.usage.uses:
        for _, place in use.joined.places if use.joined else ():
            if place.target.kind in ("hole", "groove"):
                found |= {use.name, place.target.thing}
                found |= set(worked.usage.pieces.get(place.target.thing, ()))
    return found


def _near(a: Bulk, b: Bulk) -> bool:
    return all(
        float(a.low[:, i].min()) <= float(b.high[:, i].max()) + CLOSE
        and float(b.low[:, i].min()) <= float(a.high[:, i].max()) + CLOSE
        for i in range(3)
    )


def _touch(a: Bulk, b: Bulk) -> bool:
    """Whether two things lie against each other, or sit in each other within a hair."""
    return touching_area(a, b, CLOSE) > 0 or penetration(a, b, 0.0) is not None


def _go_in(worked: Worked, solids: Solids) -> Iterator[Problem]:
    """Each piece or sub-assembly has a way in past those that are there before it."""
    groups: dict[str, Solids] = {}
    for piece, bulk in solids:
        groups.setdefault(piece.brought, []).append((piece, bulk))
    earlier: Solids = []
    for name, group in groups.items():
        own = [bulk for _, bulk in group]
        first = group[0][0]
        # A peg that leans in its hole goes in along the hole, which no straight way shows.
        there = [each for each in earlier if not _pinned(worked, first, each[0])]
        if there and not _way(own, [bulk for _, bulk in there]):
            facts = {"piece": name, "step": str(first.step), "other": _closing(own, there)}
            yield Problem(kinds.CannotGoIn, _span(worked, name), facts)
        earlier += group


def _closing(moving: list[Bulk], there: Solids) -> str:
    """The piece that closed the last way in."""
    for count in range(1, len(there)):
        if not _way(moving, [bulk for _, bulk in there[:count]]):
            return there[count - 1][0].key
    return there[-1][0].key


def _way(moving: list[Bulk], others: list[Bulk]) -> bool:
    """Whether things held together slide away somewhere: along an axis, or along their slants."""
    if next(ways_out(moving, others, AXES, CLOSE), None):
        return True
    return next(ways_out(moving, others, _slants(moving[0]), CLOSE), None) is not None


def _slants(bulk: Bulk) -> list[tuple[float, float, float]]:
    """Ways along the piece's own faces, for those that lean."""
    found = []
    for facet in bulk.solid.facets:
        x, y, z = facet.normal
        if max(abs(x), abs(y), abs(z)) < 1 - 1e-9:
            found += [(x, y, z), (-x, -y, -z)]
    return found[:12]


def _move(worked: Worked, solids: Solids) -> Iterator[Problem]:
    """Sub-assemblies that slide or lift off have a way out of the finished piece."""
    subs = worked.usage.sub_of
    how = {sub.name.value: sub.moves.value for sub in worked.book.sub_assemblies if sub.moves}
    free = {p.brought: how[subs[p.brought]] for p, _ in solids if subs.get(p.brought) in how}
    for name, moves in free.items():
        own = [bulk for piece, bulk in solids if piece.brought == name]
        # Other loose things can be taken away first.
        rest = [(piece, bulk) for piece, bulk in solids if piece.brought not in free]
        others = [bulk for _, bulk in rest]
        if moves == "swings" or not rest or _way(own, others) or _lifted(own, others):
            continue
        blocking = next((p for p, b in rest if not _way(own, [b])), rest[-1][0])
        facts = {"piece": name, "moves": moves, "other": blocking.key}
        yield Problem(kinds.MovingPieceJams, _span(worked, name), facts)


def _lifted(moving: list[Bulk], others: list[Bulk]) -> bool:
    """Whether things come out when they are first lifted, then drawn away level."""
    foot = min(float(bulk.low[:, 2].min()) for bulk in moving)
    tops = sorted({float(bulk.high[:, 2].max()) - foot for bulk in others})
    lift = 0.0
    for top in (each for each in tops if each > 0):
        while lift < top:
            lift = min(lift + LIFT_STEP, top)
            raised = [placed(bulk, UNTURNED, (0.0, 0.0, lift)) for bulk in moving]
            if any(penetration(a, b, CLOSE) for a in raised for b in others):
                return False
        if next(ways_out(raised, others, AXES, CLOSE), None):
            return True
    return False
