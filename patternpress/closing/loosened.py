"""What an edition's figures make tight, and where they part what touched.

In: the design with its pieces placed, as it is and as closed for an edition.  Out: warnings: pieces
that run into each other by less than refuses the edition, and glued faces that no longer meet.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from patternpress.assembly.bulks import bulks_of
from patternpress.assembly.checks.fit import clashing
from patternpress.assembly.checks.fitmoves import pins_of, span_of
from patternpress.assembly.convex import least_gap
from patternpress.assembly.gluing import is_glued, meets
from patternpress.assembly.model import with_step
from patternpress.assembly.placing import both_units
from patternpress.closing.grid import Grid
from patternpress.closing.misfits import FINEST, LEANING, Made, step_words
from patternpress.design.kinds.editions import EditionParts, EditionTight
from patternpress.design.problem import Problem

# mm by which wood may be in wood before it is told: a knife's line.  Faces may part by half of
# 1/64 in, which is what any figure may be off; glue fills that.
TIGHT, APART = LEANING, float(FINEST) / 2


def loosened(design: Made, made: Made, edition: str, grid: Grid) -> Iterator[Problem]:
    """Warnings of what goes together worse in an edition than in its design."""
    known = {_key(each) for each in _clashes(design)}
    facts = {"edition": edition, "grain": step_words(grid)}
    tight: dict[tuple[object, object], list[Problem]] = {}
    for each in _clashes(made):
        if _key(each) not in known:
            tight.setdefault((each.facts["piece"], each.facts["by"]), []).append(each)
    for several in tight.values():
        others = " and ".join(f"“{each.facts['other']}”" for each in several)
        told = with_step(several[0], made.worked).facts
        said = {**told, "others": others, **facts}
        yield Problem(EditionTight, several[0].span, said, several[0].at)
    for number, step in enumerate(made.worked.usage.steps, 1):
        for joined in step.join:
            if not is_glued(made.worked, step, joined):
                continue
            there = meets(design.worked, design.assembly, number, joined)
            here = meets(made.worked, made.assembly, number, joined)
            piece = joined.piece.value
            for other in (each for each in there if each not in here):
                gap = _apart(made, piece, other)
                if gap > APART:
                    said = {"piece": piece, "other": other, "step": str(number), **facts}
                    said["by"] = both_units(Fraction(round(gap, 6)))
                    yield Problem(EditionParts, span_of(made.worked, piece), said)


def _apart(made: Made, piece: str, other: str) -> float:
    """How far apart two things are that one join brings together, mm."""
    bulks = bulks_of(made.worked, made.assembly)
    gaps = [
        least_gap(one, two)
        for pieces in made.assembly.works.values()
        for mine in pieces
        for theirs in pieces
        if piece in (mine.piece, mine.brought) and other == theirs.told
        if (one := bulks.of(mine)) is not None and (two := bulks.of(theirs)) is not None
    ]
    return min(gaps, default=0.0)


def _clashes(made: Made) -> Iterator[Problem]:
    bulks, pins = bulks_of(made.worked, made.assembly), pins_of(made.worked)
    for pieces in made.assembly.works.values():
        solids = [(each, bulk) for each in pieces if (bulk := bulks.of(each)) is not None]
        yield from clashing(made.worked, solids, pins, TIGHT)


def _key(problem: Problem) -> tuple[object, object]:
    return problem.facts.get("piece"), problem.facts.get("other")
