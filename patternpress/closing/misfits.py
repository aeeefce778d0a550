"""Do the pieces of a closed edition still fit each other?

In: the design made from closed figures, and the design as it was.  Out: the problems that only
rounding brings: a rod that meets a second hole beside its middle, a drawer that jams.  Sums of
lengths are kept by the closing itself; two ways to one place that share no sum are not.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Protocol

from patternpress.assembly.checks.fit import check_fit
from patternpress.assembly.checks.fitmoves import CLOSE
from patternpress.assembly.checks.opening import check_opening
from patternpress.assembly.checks.pins import check_edge_holes, check_stems
from patternpress.assembly.checks.places import check_pins
from patternpress.assembly.editions import Published
from patternpress.assembly.model import with_step
from patternpress.assembly.placing import Assembly, assemble
from patternpress.assembly.worked import Worked, work
from patternpress.closing.grid import Grid
from patternpress.design.kinds.editions import EditionMisfits
from patternpress.design.names import Names
from patternpress.design.problem import Problem
from patternpress.design.records.book import Book
from patternpress.measure.digits import Display
from patternpress.measure.figures import plain, show_length
from patternpress.measure.inches import MM_PER_INCH
from patternpress.measure.quantity import Kind, Quantity

FINEST = MM_PER_INCH / 64
# mm that a piece which leans may be off in a closed edition: less than a knife's line is wide
# (common practice, no source).  A gap of 0.02 mm refused whole editions.
LEANING = 0.05


class Made(Protocol):
    """A design with its pieces placed."""

    @property
    def worked(self) -> Worked:
        """The design worked out."""

    @property
    def assembly(self) -> Assembly:
        """Its pieces where they sit."""


def faults(
    made: Made, design: tuple[Book, Names], edition: Published, grid: Grid
) -> tuple[Problem, ...]:
    """What no longer goes together in the closed design, but did before.

    Less than half a step, and of the finest step in inches, is what any figure of the edition may
    be off.  The piece is made by the
    first system; and at another scale, where clearances and fittings stay, more is asked once
    all is closed.  Where something leans, a sum of lengths can hide what no longer meets: there
    all is asked at once, and more closely.
    """
    found = [each for each in (*made.worked.problems, *made.assembly.problems) if each.is_error]
    leans = _leans(made.assembly)
    elsewhere = edition.designed_at is not None or grid.system != edition.display.first
    if found or (elsewhere and not leans):
        return tuple(found)
    close = LEANING if leans else max(CLOSE, float(min(grid.unit, FINEST)) / 2)
    found = list(_misfits(made.worked, made.assembly, close))
    if not found:
        return ()
    book, names = design
    before = work(book, names)
    known = {_key(each) for each in _misfits(before, assemble(before), close)}
    return tuple(each for each in found if _key(each) not in known)


def _misfits(worked: Worked, assembly: Assembly, close: float) -> Iterator[Problem]:
    several = (
        check_pins(worked, assembly),
        check_stems(worked),
        check_edge_holes(worked),
        check_fit(worked, assembly, close),
        # A door that rubs is felt every time it is opened, and nothing else tells of it.
        check_opening(worked, assembly, min(close, LEANING)),
    )
    yield from (
        with_step(problem, worked) for each in several for problem in each if problem.is_error
    )


def _key(problem: Problem) -> tuple[object, ...]:
    facts = problem.facts
    return problem.kind, problem.span, facts.get("piece"), facts.get("other")


def _leans(assembly: Assembly) -> bool:
    """Whether something leans, where a sum of lengths can hide what no longer meets."""
    return any(
        abs(value) not in (0, 1)
        for each in assembly.placed
        for row in each.pose.matrix
        for value in row
    )


def misfit(problem: Problem, edition: Published, grid: Grid) -> Problem:
    """A problem of the closed design, told as one of its edition."""
    facts = {"edition": edition.name, "step": step_words(grid), "what": problem.what}
    facts["demands"] = problem.what  # where it is told of the figures in brackets
    return Problem(EditionMisfits, problem.span, facts, problem.at)


def step_words(grid: Grid) -> str:
    """The step of an edition's figures, as an author types it: `1/64 in`."""
    shown = show_length(Quantity(grid.step, Kind.LENGTH), Display(grid.system, None, grid.unit))
    return plain(shown)
