"""Can every piece be put in, and does what should move come out?

In: a `Worked` design and the solids of one work, in the order of building.  Out: problems of
pieces that cannot be put in past earlier ones, and of moving pieces that jam.  Floats.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from patternpress.assembly.contacts import AXES, ways_out
from patternpress.assembly.convex import Bulk, placed
from patternpress.assembly.moving import Motion, moving_things
from patternpress.assembly.opened import opened
from patternpress.assembly.placing import Placed
from patternpress.assembly.solid import UNTURNED, Vec
from patternpress.assembly.travel import room_ahead
from patternpress.assembly.worked import Worked
from patternpress.design.kinds import fit as kinds
from patternpress.design.problem import Problem
from patternpress.design.span import Span

# A hundredth of a millimetre is beyond what is cut by hand: common practice, no source.
CLOSE = 0.01
HOLES = ("in hole", "through hole")

LEGS = 3  # straight legs of the way round corners by which a hand brings a piece
CORNERS = 60  # places that are tried; a piece that needs more is not one to put in

Solids = list[tuple[Placed, Bulk]]


@dataclass(frozen=True)
class Pins:
    """The pieces that sit leaning in a hole, which is drilled at their angle: what holds each."""

    holders: Mapping[str, frozenset[str]]

    def hold(self, one: Placed, two: Placed) -> bool:
        """Whether one of two pieces sits leaning in a hole of the other."""
        return any(
            bool(self.holders.get(piece.piece, frozenset()) & other.called)
            for piece, other in ((one, two), (two, one))
        )


def pins_of(worked: Worked) -> Pins:
    """The leaning pegs of a design."""
    found: dict[str, frozenset[str]] = {}
    for piece, owner in worked.usage.part_of.items():
        use, part = worked.usage.first_use(piece), worked.part(owner)
        places = use.joined.places if use and use.joined else ()
        leans = (use.joined.leans if use and use.joined else None) or (part and part.part.leans)
        held = frozenset(place.target.thing for _, place in places if place.how in HOLES)
        if leans and held:
            found[piece] = held
    return Pins(found)


def span_of(worked: Worked, piece: str) -> Span:
    """Where a piece or sub-assembly is first brought; the design's own place where never."""
    use = next((u for u in worked.usage.uses if u.name == piece), None)
    use = use or worked.usage.first_use(piece)
    return use.span if use else worked.book.span


def go_in(
    worked: Worked, solids: Solids, pins: Pins, opens: Sequence[Motion], close: float = CLOSE
) -> Iterator[Problem]:
    """Each piece or sub-assembly has a way in past those that are there before it.

    What opens is tried shut, then open.
    """
    groups: dict[str, Solids] = {}
    for piece, bulk in solids:
        groups.setdefault(piece.brought, []).append((piece, bulk))
    earlier: Solids = []
    for name, group in groups.items():
        own = [bulk for _, bulk in group]
        first = group[0][0]
        # A peg that leans in its hole goes in along the hole, which no straight way shows.
        there = [each for each in earlier if not pins.hold(first, each[0])]
        states = _states(there, opens)
        if there and not any(_hand(own, [b for _, b in each], close) for each in states):
            *_, there = _states(there, opens)
            facts = {"piece": name, "step": str(first.step), "other": _closing(own, there, close)}
            yield Problem(kinds.CannotGoIn, span_of(worked, name), facts)
        earlier += group


def _states(there: Solids, opens: Sequence[Motion]) -> Iterator[Solids]:
    """What is there, shut; then with everything open that opens, if there is such a thing."""
    yield there
    turned = {key: motion for motion in opens for key in motion.keys}
    if any(piece.key in turned for piece, _ in there):
        yield [(p, opened(b, turned[p.key]) if p.key in turned else b) for p, b in there]


def _closing(moving: list[Bulk], there: Solids, close: float) -> str:
    """The piece that closed the last way in."""
    for count in range(1, len(there)):
        if not _hand(moving, [bulk for _, bulk in there[:count]], close):
            return there[count - 1][0].key
    return there[-1][0].key


def _way(moving: list[Bulk], others: list[Bulk], close: float) -> bool:
    """Whether things held together slide away somewhere: along an axis, or along their slants."""
    if next(ways_out(moving, others, AXES, close), None):
        return True
    return next(ways_out(moving, others, _slants(moving[0]), close), None) is not None


def _hand(moving: list[Bulk], others: list[Bulk], close: float) -> bool:
    """Whether things held together come out straight, or round corners as a hand takes them."""
    return _way(moving, others, close) or _round_corners(moving, others, close)


def _round_corners(moving: list[Bulk], others: list[Bulk], close: float) -> bool:
    """Whether things come out in at most three straight legs along the axes, unturned.

    A leg ends where something is just passed, or where something stands in the way: a peg under
    a shelf is drawn from its hole until it is clear of it, then away to the front.
    """
    seen: set[Vec] = {(0.0, 0.0, 0.0)}
    ends = [*seen]
    for _ in range(LEGS - 1):
        starts, ends = ends, []
        for at in starts:
            moved = [placed(bulk, UNTURNED, at) for bulk in moving]
            for way in AXES:
                for far in _stops(moved, others, way, close):
                    to = _moved(at, way, far)
                    if to in seen or len(seen) > CORNERS:
                        continue
                    seen.add(to)
                    ends.append(to)
                    there = [placed(bulk, UNTURNED, to) for bulk in moving]
                    if next(ways_out(there, others, AXES, close), None):
                        return True
    return False


def _moved(at: Vec, way: Vec, far: float) -> Vec:
    x, y, z = (round(a + far * w, 6) for a, w in zip(at, way, strict=True))
    return x, y, z


def _stops(moving: list[Bulk], others: list[Bulk], way: Vec, close: float) -> list[float]:
    """How far things go along an axis until they are past another, or touch one."""
    room = room_ahead(moving, others, way, close)
    if room is None or room <= close:
        return []
    axis, sign = next((i, w) for i, w in enumerate(way) if w)
    if sign > 0:
        foot = min(float(bulk.low[:, axis].min()) for bulk in moving)
        heads = {float(bulk.high[:, axis].max()) - foot for bulk in others}
    else:
        foot = max(float(bulk.high[:, axis].max()) for bulk in moving)
        heads = {foot - float(bulk.low[:, axis].min()) for bulk in others}
    return [*sorted(far for far in heads if close < far <= room), room]


def _slants(bulk: Bulk) -> list[tuple[float, float, float]]:
    """Ways along the piece's own faces, for those that lean: of a round one first its length."""
    found = []
    for facet in sorted(bulk.solid.facets, key=lambda each: each.smooth > 0):
        x, y, z = facet.normal
        if max(abs(x), abs(y), abs(z)) < 1 - 1e-9:
            found += [(x, y, z), (-x, -y, -z)]
    return found[:12]


def move(worked: Worked, solids: Solids, close: float = CLOSE) -> Iterator[Problem]:
    """Sub-assemblies that slide or lift off have a way out of the finished piece."""
    subs = worked.usage.sub_of
    how = {sub.name.value: sub.moves.value for sub in worked.book.sub_assemblies if sub.moves}
    free = {p.brought: how[subs[p.brought]] for p, _ in solids if subs.get(p.brought) in how}
    loose = moving_things(worked)
    for name, moves in free.items():
        own = [bulk for piece, bulk in solids if piece.brought == name]
        # Other loose things can be taken away first, and doors be opened.
        rest = [(piece, bulk) for piece, bulk in solids if piece.brought not in loose]
        others = [bulk for _, bulk in rest]
        if moves == "swings" or not rest or _way(own, others, close) or _lifted(own, others, close):
            continue
        facts = {"piece": name, "moves": moves, "other": _closing(own, rest, close)}
        yield Problem(kinds.MovingPieceJams, span_of(worked, name), facts)


def _lifted(moving: list[Bulk], others: list[Bulk], close: float) -> bool:
    """Whether things come out when they are first lifted, then drawn away level."""
    foot = min(float(bulk.low[:, 2].min()) for bulk in moving)
    tops = sorted({float(bulk.high[:, 2].max()) - foot for bulk in others})
    room = room_ahead(moving, others, (0.0, 0.0, 1.0), close)
    for top in (each for each in tops if each > 0 and (room is None or each <= room + close)):
        raised = [placed(bulk, UNTURNED, (0.0, 0.0, top)) for bulk in moving]
        if next(ways_out(raised, others, AXES, close), None):
            return True
    return False
