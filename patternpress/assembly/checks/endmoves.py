"""Does what goes in, slides and opens still do so with thinner or thicker boards?

In: a design made from the boards at one end of their range, its `Assembly`, and the pieces that
are cut to measured openings.  Out: what is told there of going in, sliding and opening, each with
the kind of problem that tells it of that end only.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import chain

from patternpress.assembly.bulks import bulks_of
from patternpress.assembly.checks.fitmoves import go_in, move, pins_of
from patternpress.assembly.checks.opening import check_opening
from patternpress.assembly.checks.slack import check_slack
from patternpress.assembly.moving import motions_in
from patternpress.assembly.placing import Assembly, Placed
from patternpress.assembly.worked import Worked
from patternpress.design.kinds import fit, thickness
from patternpress.design.problem import Kind, Problem

AT_END: Mapping[type[Kind], type[Kind]] = {
    fit.CannotGoIn: thickness.CannotGoInAtThickness,
    fit.MovingPieceJams: thickness.JamsAtThickness,
    fit.OpensInto: thickness.OpensIntoAtThickness,
    fit.MovingPieceSlack: thickness.SlackAtThickness,
}


def moves_at_end(
    worked: Worked, assembly: Assembly, fitted: set[str]
) -> Iterator[tuple[type[Kind], Problem]]:
    """What is wrong with going in, sliding and opening, each with its kind for an end.

    `fitted` are keys of pieces that are cut to what is really there: they, and what comes in with
    them, are not asked.  What is wrong at the label as well is told here again.
    """
    spared = _spared(assembly, fitted)
    asked = chain(
        _go_in_and_out(worked, assembly, spared),
        check_slack(worked, assembly) if _slides(worked, spared) else (),
        check_opening(worked, assembly) if _opens(worked) else (),
    )
    for problem in asked:
        named = {problem.facts.get("piece", ""), problem.facts.get("other", "")}
        if problem.kind in AT_END and not named & spared:
            yield AT_END[problem.kind], problem


def _spared(assembly: Assembly, fitted: set[str]) -> set[str]:
    """Every name of a fitted piece, and of all that comes in together with one."""
    pieces = [each for work in assembly.works.values() for each in work]
    with_one = {each.brought for each in pieces if each.key in fitted}
    return {name for each in pieces if each.brought in with_one for name in _names(each)}


def _names(piece: Placed) -> tuple[str, ...]:
    return (piece.key, piece.piece, piece.brought)


def _go_in_and_out(worked: Worked, assembly: Assembly, spared: set[str]) -> Iterator[Problem]:
    bulks, pins = bulks_of(worked, assembly), pins_of(worked)
    for name, pieces in assembly.works.items():
        there = [each for each in pieces if each.brought not in spared]
        solids = [(each, bulk) for each in there if (bulk := bulks.of(each)) is not None]
        yield from go_in(worked, solids, pins, motions_in(worked, assembly, name))
        yield from move(worked, solids)


def _slides(worked: Worked, spared: set[str]) -> bool:
    subs = {sub.name.value for sub in worked.book.sub_assemblies if sub.moves}
    brought = {name for name, sub in worked.usage.sub_of.items() if sub in subs}
    return bool((subs | brought) - spared)


def _opens(worked: Worked) -> bool:
    return any(use.joined is not None and use.joined.opens for use in worked.usage.uses)
