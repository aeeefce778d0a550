"""Lengths that stand for a thickness.

In: lengths with their stock as it is sold, and demands.  Out: the lengths with every typed `1 mm`
that lies between faces that touch at what the board is.  Where no step stands for the board, none
stands for such a length either: it stays what the board is, and what it is added to is cut to
fit, as if the author had written the thickness by its name.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction

from patternpress.closing.demands import Demand
from patternpress.closing.draft import Task
from patternpress.closing.grid import Grid
from patternpress.closing.lengths import Length
from patternpress.closing.traced import worth


def followed(lengths: Sequence[Length], demands: Sequence[Demand]) -> tuple[list[Length], set[int]]:
    """The lengths with those that thicknesses leave only one value for at it; and their numbers."""
    found = list(lengths)
    fixed = {each.number for each in lengths if each.sort == "stock"}
    more = set(_following(found, fixed, demands))
    while more:
        for number, mm in more:
            found[number] = replace(found[number], mm=mm)
        fixed |= {number for number, _ in more}
        more = set(_following(found, fixed, demands))
    return found, {n for n in fixed if found[n].sort != "stock"}


def off_step(lengths: Sequence[Length], numbers: set[int], grid: Grid) -> frozenset[int]:
    """Those of them that no step is found for: they stay what the stock is."""
    return frozenset(n for n in numbers if not grid.on(lengths[n].mm))


def _following(
    lengths: Sequence[Length], fixed: set[int], demands: Sequence[Demand]
) -> Iterator[tuple[int, Fraction]]:
    """The only length in a demand that is not fixed yet, beside some that are."""
    values = {each.number: each.mm for each in lengths}
    taken: set[int] = set()
    for demand in demands:
        must = demand.low == demand.high == 0 and not (demand.soft or demand.whole)
        open_ = [n for n in demand.form if n not in fixed]
        if not must or len(open_) != 1 or len(demand.form) == 1 or open_[0] in taken:
            continue
        (number,) = open_
        rest = {n: share for n, share in demand.form.items() if n != number}
        mm = -worth(rest, values) / demand.form[number]
        if mm > 0 and lengths[number].sort == "given":
            taken.add(number)
            yield number, mm


def with_rest(task: Task) -> Task | None:
    """The task with worked-out figures taking up the rest of thicknesses that are off the step.

    An opening of `(inside - board) / 2` is what its pieces leave, on a step or not; it is measured
    before anything is cut to it.  None where no figure is of that kind.
    """
    step = task.grid.step
    odd = {e.number for e in task.lengths if e.sort == "stock" and (e.mm / step).denominator != 1}
    found = {
        number
        for demand in task.demands
        if demand.low == demand.high == 0 and not (demand.soft or demand.whole)
        if odd & set(demand.form)
        for number in demand.form
        if task.lengths[number].sort == "target"
    }
    more = task.loose | frozenset(found)
    return replace(task, loose=more) if more != task.loose else None
