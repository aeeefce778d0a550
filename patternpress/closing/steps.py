"""Figures that want a coarser step than their edition's.

In: a design that was looked through, what each length is aimed at, and a grid.  Out: demands: a
size or part with a step of its own comes to a multiple of it; a large figure comes to the
edition's coarser step where no figure has to move too far for it.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction

from patternpress.assembly.editions import system_of
from patternpress.assembly.sizes import Solver
from patternpress.closing.analysed import Analysed
from patternpress.closing.demands import Demand
from patternpress.closing.grid import Grid
from patternpress.closing.quoting import Quoted
from patternpress.closing.traced import Form, form_of, worth
from patternpress.measure.figures import Display, plain, show_length
from patternpress.measure.quantity import Kind, Quantity

CUT = ("size", "part")


def stepped(
    of: Analysed, values: Mapping[int, Fraction], solver: Solver, grid: Grid
) -> Iterator[Demand]:
    """The demands of steps that are coarser than a length's own."""
    for each in of.plain.values():
        form = form_of(each.mm)
        moves = any(of.survey.lengths[n].sort not in ("stock", "drawn", "limit") for n in form)
        if each.group not in CUT or not moves:
            continue
        own = solver.value(each.step) if each.step is not None else None
        if each.step is not None and own is not None and system_of(each.step) == grid.system:
            yield _demand(each, form, own.value, grid, soft=False)
        elif len(form) > 1 and any(worth(form, values) >= over for over, _ in grid.coarser):
            step = grid.unit * grid.units(worth(form, values))
            yield _demand(each, form, step, grid, soft=True)


def _demand(each: Quoted, form: Form, step: Fraction, grid: Grid, *, soft: bool) -> Demand:
    display = Display(grid.system, None, grid.unit)
    shown = plain(show_length(Quantity(step, Kind.LENGTH), display)).replace("\u00a0", " ")
    words = f"{each.words} comes to steps of {shown}"
    return Demand(form, words, each.span, whole=True, soft=soft, units=int(step / grid.unit))
