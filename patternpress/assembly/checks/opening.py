"""Does what opens get as far as it should?

In: a `Worked` design and its `Assembly`.  Out: problems of things that turn about no line, that
are glued fast, that touch another piece on their way, or that come out.  Judged on solids, in
floats.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

import numpy as np

from patternpress.assembly.bulks import bulks_of
from patternpress.assembly.checks.fit import LOOSE
from patternpress.assembly.checks.fitmoves import CLOSE, Solids
from patternpress.assembly.convex import Bulk, boxes_touch, penetration
from patternpress.assembly.moving import FAST, Motion, all_motions, motions_in, moving_things
from patternpress.assembly.opened import opened
from patternpress.assembly.placing import Assembly, both_units
from patternpress.assembly.solid import Vec
from patternpress.assembly.travel import room_ahead
from patternpress.assembly.worked import Worked
from patternpress.design.kinds import fit as kinds
from patternpress.design.problem import Problem

# A turn is tried in steps in which no point goes further than what turns is thick, but in no
# more than so many.
_MOST_STEPS = 400
_FINE = 0.05  # degrees


@dataclass(frozen=True, eq=False)
class Found:
    """Where a motion ends: the share of it that is free, and what is touched then, as it lies."""

    share: float
    key: str
    other: Bulk


def _share(found: Found) -> tuple[float, str]:
    return found.share, found.key


def check_opening(worked: Worked, assembly: Assembly, close: float = CLOSE) -> Iterator[Problem]:
    """Things that do not open as they should; each is told once.

    By less than `close` mm wood may go into wood on the way.
    """
    found = list(all_motions(worked, assembly))
    wrong = [each for each in found if isinstance(each, Problem)]
    yield from wrong
    glued = list(_glued(worked, assembly))
    yield from glued
    told = {each.facts["piece"] for each in glued}
    lies = {each.number: each.lies for each in worked.usage.lying}
    for motion in found:
        if isinstance(motion, Motion) and lies.get(motion.step) == f"on its {motion.toward}":
            facts = {"piece": motion.thing, "step": str(motion.step), "toward": motion.toward}
            yield Problem(kinds.OpensOnBench, motion.span, facts)
    bulks = bulks_of(worked, assembly)
    for work, pieces in assembly.works.items():
        motions = motions_in(worked, assembly, work)
        if not motions:
            continue
        solids = [(each, bulk) for each in pieces if (bulk := bulks.of(each)) is not None]
        for motion in motions:
            name = motion.thing.rpartition("/")[2]
            away = _away_first(worked, assembly, motion)
            free = _free(away, motion, motions, solids, close) if name not in told else None
            if free is not None:
                told.add(name)
                mine = [bulk for piece, bulk in solids if piece.key in motion.keys]
                where = _place(motion, mine, free)
                yield Problem(kinds.OpensInto, motion.span, _facts(motion, free), where)
            elif name not in told and _is_out(motion, solids):
                told.add(name)
                facts = {"piece": motion.thing, "step": str(motion.step), "toward": motion.toward}
                facts["by"] = both_units(motion.by.value)
                yield Problem(kinds.ComesOut, motion.span, facts)


def _facts(motion: Motion, free: Found) -> dict[str, str]:
    far = Fraction(round(float(motion.by.value) * free.share, 6))
    facts = {"piece": motion.thing, "step": str(motion.step), "toward": motion.toward}
    if motion.turns:
        shown = {"far": f"{math.floor(far)} degrees", "by": f"{float(motion.by.value):g}"}
    else:
        shown = {"far": both_units(far), "by": both_units(motion.by.value)}
    return {**facts, **shown, "other": free.key}


def _is_out(motion: Motion, solids: Solids) -> bool:
    """Whether a thing drawn level has left the stretch that all the rest takes up along its way."""
    axis = next((i for i in range(2) if motion.way[i]), None)
    if motion.turns or axis is None or motion.way[2]:
        return False
    ahead = float(motion.way[axis])
    ends: dict[bool, list[float]] = {True: [], False: []}
    for piece, bulk in solids:
        for each in (bulk.low[:, axis].min(), bulk.high[:, axis].max()):
            ends[piece.key in motion.keys].append(float(each) * ahead)
    if not ends[True] or not ends[False]:
        return False
    return min(ends[True]) + float(motion.by.value) >= max(ends[False]) - CLOSE


def _place(motion: Motion, mine: Sequence[Bulk], free: Found) -> Vec | None:
    """Where it touches: the middle of what it shares with the other a hair further on."""
    hair = _FINE if motion.turns else 2 * CLOSE
    share = free.share + hair / float(motion.by.value)
    shared = (penetration(opened(each, motion, share), free.other, 0.0) for each in mine)
    deepest = max((each for each in shared if each), key=lambda each: each.depth, default=None)
    return deepest.where if deepest else None


def _glued(worked: Worked, assembly: Assembly) -> Iterator[Problem]:
    """Things that open and are glued to what stays."""
    for use in worked.usage.uses:
        if use.joined is None or use.joined.opens is None:
            continue
        for _, place in use.joined.places:
            if place.glued and place.how in FAST:
                facts = {"piece": use.name, "other": place.target.thing}
                yield Problem(kinds.GluedThoughOpens, place.target.span, facts)
                break


def _away_first(worked: Worked, assembly: Assembly, motion: Motion) -> frozenset[str]:
    """What is taken away before a thing is opened: what moves, and before what goes to the top,
    such as a tray under a lid, also what is only laid on.
    """
    moving = moving_things(worked)
    if motion.toward != "top":
        return moving
    laid = {each.thing for each in assembly.contacts if each.how == LOOSE}
    return moving | (laid - {each.thing for each in assembly.contacts if each.glued})


def _free(
    away: frozenset[str], motion: Motion, motions: Sequence[Motion], solids: Solids, close: float
) -> Found | None:
    """How much of a motion is free and what ends it; None where all of it is.

    Other things that open are in its way only if they are so shut and open; what is `away` first
    is not.
    """
    mine = [bulk for piece, bulk in solids if piece.key in motion.keys]
    others = [each for each in motions if not set(each.keys) & set(motion.keys)]
    moved = {key for each in others for key in each.keys} | {*motion.keys, *motion.hinges}
    still = [
        (piece.key, bulk)
        for piece, bulk in solids
        if piece.key not in moved and not {piece.brought, *piece.path, piece.piece} & away
    ]
    ends = [found for key, bulk in still if (found := _until(motion, mine, bulk, key, close))]
    for each in others:
        shut = [(p.key, bulk) for p, bulk in solids if p.key in each.keys]
        ways = [shut, [(key, opened(bulk, each)) for key, bulk in shut]]
        stops = [
            min(
                (f for key, bulk in way if (f := _until(motion, mine, bulk, key, close))),
                key=_share,
                default=None,
            )
            for way in ways
        ]
        ends += [max((stop for stop in stops if stop), key=_share)] if all(stops) else []
    return min(ends, key=_share, default=None)


def _until(
    motion: Motion, mine: Sequence[Bulk], other: Bulk, key: str, close: float
) -> Found | None:
    """The share of a motion until one piece is touched; None where it is not, or is from the start
    (which is told as a clash).
    """
    asked = _turned if motion.turns else _slid
    share = asked(motion, mine, other, close)
    return None if share is None else Found(share, key, other)


def _slid(motion: Motion, mine: Sequence[Bulk], other: Bulk, close: float) -> float | None:
    x, y, z = (float(each) for each in motion.way)
    room, by = room_ahead(mine, [other], (x, y, z), close), float(motion.by.value)
    return room / by if room is not None and room < by - close else None


def _turned(motion: Motion, mine: Sequence[Bulk], other: Bulk, close: float) -> float | None:
    """The share of a turn until a piece is touched, to a twentieth of a degree."""
    near = [each for each in mine if _sweeps(motion, each, other)]
    if not near or any(penetration(each, other, close) for each in near):
        return None

    def hits(share: float) -> bool:
        turned = (opened(each, motion, share) for each in near)
        return any(boxes_touch(e, other, 0.0) and penetration(e, other, close) for e in turned)

    steps = _steps(motion, near)
    first = next((n for n in range(1, steps + 1) if hits(n / steps)), None)
    if first is None:
        return None
    low, high = (first - 1) / steps, first / steps
    while (high - low) * float(motion.by.value) > _FINE:
        middle = (low + high) / 2
        low, high = (low, middle) if hits(middle) else (middle, high)
    return low


def _radii(motion: Motion, bulk: Bulk) -> tuple[float, float, float]:
    """How far a solid reaches along the line that it turns about (low, high), and from it."""
    assert motion.through is not None
    along = np.array([float(each) for each in motion.way])
    points = np.concatenate([hull.points for hull in bulk.hulls])
    points = points - np.array([float(each) for each in motion.through])
    level = points @ along
    off = np.linalg.norm(points - np.outer(level, along), axis=1)
    return float(level.min()), float(level.max()), float(off.max())


def _sweeps(motion: Motion, mine: Bulk, other: Bulk) -> bool:
    """Whether two solids could meet on the way: by how far they reach along the line and off it."""
    low, high, far = _radii(motion, mine)
    under, over, _ = _radii(motion, other)
    if min(high, over) - max(low, under) <= CLOSE:
        return False
    middle = (other.least + other.most) / 2
    half = float(np.linalg.norm(other.most - middle))
    along = np.array([float(each) for each in motion.way])
    off = middle - np.array([float(each) for each in motion.through or ()])
    return float(np.linalg.norm(off - (off @ along) * along)) - half < far


def _steps(motion: Motion, mine: Sequence[Bulk]) -> int:
    far = max(_radii(motion, each)[2] for each in mine)
    thin = min(float((e.most - e.least).min()) for e in mine)
    arc = math.radians(float(motion.by.value)) * far
    return max(4, min(_MOST_STEPS, math.ceil(arc / max(thin, CLOSE))))


__all__ = ["check_opening"]
