"""The model: one design, worked out for one edition.

In: a `Reading` and the name of an edition.  Out: a `Model`, from which everything printed is
made; and, for a whole design, every problem that the checks find in one pass.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from patternpress.assembly.checks import cutting, lists, order, prose
from patternpress.assembly.editions import (
    Published,
    check_editions,
    edition_names,
    published,
)  # fmt: skip
from patternpress.assembly.worked import Worked, work
from patternpress.design.problem import Problem, in_order
from patternpress.design.read import Reading

Check = Callable[[Worked], Iterator[Problem]]

# The checks, in the order of the booklet; each is independent of the others.
CHECKS: tuple[Check, ...] = (
    lists.check_letters,
    cutting.check_stock_figures,
    cutting.check_widths,
    cutting.check_sold,
    cutting.check_bits,
    order.check_pieces,
    order.check_quantities,
    order.check_fitted,
    order.check_openings,
    order.check_marks,
    order.check_joins,
    order.check_sub_assemblies,
    lists.check_holes,
    lists.check_waits,
    lists.check_tools,
    lists.check_stock,
    lists.check_answers,
    prose.check_prose,
    lists.check_sizes,
)


@dataclass(frozen=True)
class Model:
    """One design in one edition."""

    worked: Worked
    edition: Published
    reading: Reading


def check(reading: Reading) -> tuple[Problem, ...]:
    """Every problem of a design, those of its reading included, in the order of the file."""
    if reading.book is None:
        return reading.problems
    worked = work(reading.book, reading.names)
    found = list(reading.problems)
    for each in CHECKS:
        found += each(worked)
    found += check_editions(reading.book)
    # Checks work sizes out as well, so the solver's own problems come last.
    return in_order([*found, *worked.problems, *worked.solver.problems])


def work_out(reading: Reading, edition: str) -> Model:
    """A sound design in one edition.

    Raises KeyError for an unknown edition, ValueError when the design could not be read.
    """
    if reading.book is None:
        raise ValueError("the design could not be read")
    return Model(work(reading.book, reading.names), published(reading.book, edition), reading)


__all__ = ["CHECKS", "Model", "check", "edition_names", "work_out"]
