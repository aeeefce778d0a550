"""A design looked through for what a closing has to keep.

In: a `Book`, its names and a grid.  Out: `Analysed`: its lengths, its printed figures with the
lengths that they are made of, and the demands on them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction

from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.fitted import planned_for
from patternpress.assembly.placing import assemble
from patternpress.assembly.sizes import Solver
from patternpress.assembly.worked import Worked, work
from patternpress.closing.bored import bored
from patternpress.closing.clearances import parted
from patternpress.closing.demands import Demand, demands, distinct
from patternpress.closing.grid import Grid
from patternpress.closing.lengths import Survey, Valued, rewritten, survey
from patternpress.closing.lined import lined
from patternpress.closing.quoting import Key, Quoted, quoted
from patternpress.closing.traced import Traced, explained, form_of
from patternpress.closing.typed import Typed, typed
from patternpress.closing.walking import Way
from patternpress.design.names import Names
from patternpress.design.records.book import Book

# Part -> the opening that it waits for, the axes that wait, those that the opening has a size for.
Waits = Mapping[str, tuple[str, tuple[str, ...], tuple[str, ...]]]


@dataclass(frozen=True)
class Analysed:
    """A design with its figures traced: all of them, those that are plain sums, the demands,
    and typed lengths that stand for a board.
    """

    survey: Survey
    figures: dict[Key, Quoted]
    plain: dict[Key, Quoted]
    held: list[Demand]
    waits: Waits
    typed: tuple[Typed, ...]


def waiting(worked: Worked, waits: Waits) -> Worked:
    """Parts wait for their openings even where least and most have come to be the same."""
    parts = tuple(_waiting(each, *waits[each.name], worked.solver) for each in worked.parts)
    # What is cut only after measuring has no template unless the author asks for one.
    unasked = {each.name for each in parts if each.opening and each.part.template is None}
    return replace(worked, parts=parts, templates=worked.templates - unasked)


def _waiting(
    part: CutPart, opening: str, axes: tuple[str, ...], planned: tuple[str, ...], solver: Solver
) -> CutPart:
    return planned_for(replace(part, opening=opening, waits=axes), planned, solver)


def analysed(book: Book, names: Names, grid: Grid) -> Analysed:
    """A book looked through, with the thicknesses that it asks for."""
    solver = Solver(book, names)
    stay: frozenset[Way] = frozenset()
    while True:
        found = survey(book, solver, stay)
        worked = work(rewritten(book, found, _tracing(found)), names)
        assembly = assemble(worked)
        wanted = demands(worked, assembly, found, grid)
        ways = frozenset(w for w, ns in found.instead.items() if wanted.stay & set(ns))
        if ways <= stay:
            break
        stay |= ways  # these targets have to stay sums: pieces are placed by them
    figures = quoted(worked, assembly, found)
    plain = {k: each for k, each in figures.items() if _plain(each, found)}
    waits = {each.name: (each.opening, each.waits, tuple(each.planned)) for each in worked.parts}
    held = distinct(
        [
            *parted(worked, found),  # of what clashes the earlier is kept: doors must not meet
            *wanted.held,
            *lined(worked, assembly, found.values),
            *bored(worked, found, book, grid),
        ]
    )
    return Analysed(found, figures, plain, held, waits, tuple(typed(assembly, found)))


def _tracing(found: Survey) -> Valued:
    values = found.values
    return lambda number: Traced(values[number], {number: Fraction(1)})


def _plain(each: Quoted, found: Survey) -> bool:
    return explained(each.mm, form_of(each.mm), found.values)
