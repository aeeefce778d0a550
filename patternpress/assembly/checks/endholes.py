"""Do holes and grooves still hold what they should with thinner or thicker boards?

In: a sound `Worked` design and its `Assembly`.  Out: warnings of holes and grooves that come out
of the wood, of what is too long or too thick for them, and of what no longer reaches into them, at
one end of a board's range only.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from itertools import chain

import numpy as np

from patternpress.assembly.checks.fitmoves import CLOSE
from patternpress.assembly.checks.freeholes import check_turning
from patternpress.assembly.checks.leaningpegs import check_leaning_holes
from patternpress.assembly.checks.pins import check_edge_holes, check_stems
from patternpress.assembly.checks.places import HELD, check_pins
from patternpress.assembly.checks.thickness import BOARDS, apart_in
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.cuts import in_space, sizes_of
from patternpress.assembly.marked import hole_axis, hole_centre
from patternpress.assembly.placing import Assembly
from patternpress.assembly.pose import Vector
from patternpress.assembly.solid import Vec
from patternpress.assembly.tolerance import at_ends
from patternpress.assembly.worked import Worked
from patternpress.design.kinds import fit, parts, placing, thickness
from patternpress.design.problem import Kind, Problem
from patternpress.design.span import Span

AT_END: Mapping[type[Kind], type[Kind]] = {
    parts.GrooveTooDeep: thickness.TooDeepAtThickness,
    fit.HoleBreaksOut: thickness.BreaksOutAtThickness,
    fit.StemTooLong: thickness.StemTooLongAtThickness,
    placing.TooThickForHole: thickness.TooThickForHoleAtThickness,
}


def check_end_holes(worked: Worked, assembly: Assembly) -> Iterator[Problem]:
    """Holes and grooves with the thinnest and the thickest boards; each problem once."""
    ends = at_ends(worked, assembly)
    told = {(each.kind, each.span) for each in _asked(worked, assembly)} if ends else set()
    for boards, (other, moved) in zip(BOARDS, ends, strict=False):
        for problem in _asked(other, moved):
            key = (problem.kind, problem.span)
            if key not in told:
                told.add(key)
                place = _place(other, moved, problem)
                facts = {**problem.facts, **place[0], "boards": boards}
                yield Problem(AT_END[problem.kind], problem.span, facts, place[1])
        for problem in _come_out(worked, assembly, moved) if not moved.problems else ():
            if (problem.kind, problem.span) not in told:
                told.add((problem.kind, problem.span))
                yield Problem(problem.kind, problem.span, {**problem.facts, "boards": boards})


def _asked(worked: Worked, assembly: Assembly) -> Iterator[Problem]:
    """What is told of holes and grooves with boards of one thickness."""
    found = chain(
        worked.problems,
        check_stems(worked),
        check_edge_holes(worked),
        check_pins(worked, assembly),
        check_turning(worked, assembly) if not assembly.problems else (),
        check_leaning_holes(worked, assembly) if not assembly.problems else (),
    )
    return (each for each in found if each.kind in AT_END)


# ------------------------------------------------------------------ what sits in them


def _come_out(worked: Worked, label: Assembly, moved: Assembly) -> Iterator[Problem]:
    """What is said to sit in a hole or groove, and is in some piece at the label and no more."""
    held = {
        name: use
        for use in worked.usage.uses
        for _, place in (use.joined.places if use.joined else ())
        for name in (use.name, *use.brings)
        if place.how in HELD
    }
    for work, pieces in moved.works.items():
        if len(pieces) < 2 or len(label.works.get(work, ())) != len(pieces):
            continue
        inside = (apart_in(label, work) < -CLOSE).all(axis=2)
        out = inside & (apart_in(moved, work) >= -CLOSE).any(axis=2)
        for i, j in np.argwhere(np.triu(out, 1)):
            one, two = pieces[i], pieces[j]
            mine = next((each for each in (two, one) if each.brought in held), None)
            if mine is not None:
                other = one if mine is two else two
                facts = {"piece": mine.key, "other": other.key, "step": str(mine.step)}
                kind = thickness.OutOfHoleAtThickness
                yield Problem(kind, held[mine.brought].span, facts)


# ------------------------------------------------------------------ where it is


def _place(
    worked: Worked, assembly: Assembly, problem: Problem
) -> tuple[dict[str, str], Vec | None]:
    """The piece that a problem of a part is shown on, and where its hole or groove lies there;
    nothing where the problem names two pieces.
    """
    found = next(_cuts(worked, problem.span), None)
    placed = [each for pieces in assembly.works.values() for each in pieces]
    mine = next((each for each in placed if found and each.part == found[0].name), None)
    if found is None or mine is None:
        return {}, None
    x, y, z = mine.pose.point(found[1])
    return {"piece": mine.key}, (float(x), float(y), float(z))


def _cuts(worked: Worked, span: Span) -> Iterator[tuple[CutPart, Vector]]:
    """The part of which a hole or groove is spoken at a place in the file, and its middle."""
    for part in worked.parts:
        for hole in part.part.holes:
            if span in (hole.span, hole.deep.span if hole.deep else None):
                yield part, hole_centre(hole, part, hole_axis(hole, part), worked)
        shape = worked.shapes.get(part.name)
        named = {each.name: each for each in shape.grooves} if shape else {}
        for said in part.part.grooves:
            cut = named.get(said.name.value)
            if span == said.deep.span and shape is not None and cut is not None:
                across, up = cut.low.x + cut.high.x, cut.low.y + cut.high.y
                wide, deep, high = (float(each) for each in sizes_of(part))
                middle, half = (float(across) / 2, float(up) / 2), float(cut.depth) / 2
                x, y, z = in_space(shape.view, (wide, deep, high), middle, half)
                yield part, (Fraction(x), Fraction(y), Fraction(z))
