"""Do pieces still fit when boards come thinner or thicker than their label?

In: a `Worked` design and its `Assembly`.  Out: warnings of pieces that clash, or between which a
gap opens, at one end of a board's range only; then, from `endmoves`, of those that do not go in or
move there.  Boxes tell which pieces lie otherwise to each other: the first two are asked of those.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from patternpress.assembly.bulks import Bulks, bulks_of
from patternpress.assembly.checks.endmoves import moves_at_end
from patternpress.assembly.checks.fit import clashing
from patternpress.assembly.checks.fitmoves import CLOSE, pins_of, span_of
from patternpress.assembly.checks.gaps import check_gaps
from patternpress.assembly.convex import Array, penetration
from patternpress.assembly.placing import Assembly, Placed
from patternpress.assembly.pose import DIRECTION
from patternpress.assembly.tolerance import at_ends
from patternpress.assembly.worked import Worked
from patternpress.design.kinds.thickness import ClashAtThickness, GapAtThickness
from patternpress.design.problem import Kind, Problem

# The thinnest boards, then the thickest: the order of `at_ends`.
BOARDS = ("thinnest", "thickest")

Pairs = set[frozenset[str]]


def check_thickness(worked: Worked, assembly: Assembly) -> Iterator[Problem]:
    """Clashes and gaps that only the thinnest or the thickest boards have."""
    told: set[tuple[type, str]] = set()
    # What is cut to a measured opening follows the real boards by itself.
    measured = {part.name for part in worked.parts if part.opening}
    works = assembly.works.values()
    fitted = {each.key for pieces in works for each in pieces if each.part in measured}
    for boards, (other, moved) in zip(BOARDS, at_ends(worked, assembly), strict=False):
        if moved.problems:
            continue  # told as places that hold at the label only
        opens, clash = False, False
        for name, pieces in moved.works.items():
            closer, apart = _changed(assembly, moved, name)
            opens |= apart
            for problem in _clashes(((worked, assembly), (other, moved)), pieces, closer, fitted):
                clash = True
                yield from _once(told, ClashAtThickness, problem, boards, worked)
        before = {_pair(each) for each in check_gaps(worked, assembly)} if opens else set()
        for problem in check_gaps(other, moved) if opens else ():
            if _pair(problem) not in before and not _pair(problem) & fitted:
                yield from _once(told, GapAtThickness, problem, boards, worked)
        # What runs into something goes in and moves no better: told once.
        for kind, problem in moves_at_end(other, moved, fitted) if not clash else ():
            yield from _once(told, kind, problem, boards, worked)


def _pair(problem: Problem) -> frozenset[str]:
    return frozenset((problem.facts["piece"], problem.facts["other"]))


def _once(
    told: set[tuple[type, str]],
    kind: type[Kind],
    problem: Problem,
    boards: str,
    worked: Worked,
) -> Iterator[Problem]:
    """The problem as one of thickness; for each piece and kind once."""
    piece = problem.facts["piece"]
    if (kind, piece) not in told:
        told.add((kind, piece))
        facts = {**problem.facts, "boards": boards}
        yield Problem(kind, span_of(worked, piece.partition("/")[0]), facts, problem.at)


def _clashes(
    both: tuple[tuple[Worked, Assembly], tuple[Worked, Assembly]],
    pieces: Sequence[Placed],
    closer: Pairs,
    fitted: set[str],
) -> Iterator[Problem]:
    """Clashes between pieces that lie otherwise to each other than at the label, and are none
    there.
    """
    (worked, label), (other, moved) = both
    bulks = Bulks(other, moved, rough=True)
    near = {key for pair in closer for key in pair}
    solids = [(p, bulk) for p in pieces if p.key in near and (bulk := bulks.of(p)) is not None]
    plain = {each.key: each for work in label.works.values() for each in work}
    usual = bulks_of(worked, label)
    for problem in clashing(other, solids, pins_of(other)):
        pair = _pair(problem)
        if pair not in closer or pair & fitted:
            continue
        there = [bulk for key in pair if (bulk := usual.of(plain[key])) is not None]
        if len(there) < len(pair) or not penetration(there[0], there[1], CLOSE):
            yield problem


def _changed(label: Assembly, moved: Assembly, work: str) -> tuple[Pairs, bool]:
    """The pairs of a work whose boxes overlap otherwise than at the label, and whether boxes that
    touched no longer do.
    """
    pieces = moved.works[work]
    if len(pieces) < 2 or len(label.works.get(work, ())) != len(pieces):
        return set(), False
    before, after = apart_in(label, work), apart_in(moved, work)
    changed = (np.abs(after - before) > CLOSE).any(axis=2)
    inside = changed & (after < -CLOSE).all(axis=2)
    met = (before <= CLOSE).all(axis=2) & (after > CLOSE).any(axis=2)
    pairs = {frozenset((pieces[i].key, pieces[j].key)) for i, j in np.argwhere(np.triu(inside, 1))}
    return pairs, bool(np.triu(met, 1).any())


def apart_in(assembly: Assembly, work: str) -> Array:
    """How far the boxes of each two pieces of a work are apart along each axis; less than nought
    where they overlap.  Worked out once for an assembly: it is held against both ends.
    """
    kept: dict[str, Array] = assembly.kept.setdefault("apart", {})
    if work not in kept:
        kept[work] = _apart_in(assembly, work)
    return kept[work]


def _apart_in(assembly: Assembly, work: str) -> Array:
    ways = list(DIRECTION.values())
    far = np.array(
        [
            [float(assembly.bodies[p.part].reach(p.pose, way)) for way in ways]
            for p in assembly.works[work]
        ]
    )
    low, high = -far[:, 0::2], far[:, 1::2]
    apart: Array = np.maximum(low[:, None], low[None]) - np.minimum(high[:, None], high[None])
    return apart
