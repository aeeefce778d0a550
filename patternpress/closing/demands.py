"""What must hold when figures move.

In: a design whose figures are `Traced`, its pieces placed.  Out: `Demand`s: what the printed
papers say twice, and what touches, stays apart or stands evenly, each as a sum of lengths.
Whole sums hold by themselves, since they are worked out again; these are the others.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace
from fractions import Fraction
from itertools import groupby

import numpy as np

from patternpress.assembly.extent import overall
from patternpress.assembly.marking import found_opening
from patternpress.assembly.placing import Assembly, Statement
from patternpress.assembly.pose import DIRECTION, dot
from patternpress.assembly.sizes import AXES
from patternpress.assembly.worked import Worked
from patternpress.closing.boxes import HIGH, LOW, TOUCH, Box, boxes
from patternpress.closing.filled import PLACES
from patternpress.closing.grid import Grid
from patternpress.closing.lengths import Survey, traced_sum
from patternpress.closing.traced import CURVED, PLAIN, Form, Traced, explained, form_of, worth
from patternpress.closing.walking import said_at
from patternpress.design.phrases import Place
from patternpress.design.records.work import Joined
from patternpress.design.span import NOWHERE, Span

NONE = Fraction(0)
# Between faces this many steps apart or more, nothing can close up.
FAR = 4


@dataclass(frozen=True)
class Demand:
    """A sum of lengths within limits in mm, or one that comes to whole units and, beyond them, to
    something within the limits.

    A `soft` one is given up where it would move a figure too far; that is told.  `plain` ones
    go without saying: the order of lengths.  `units`: of how many units a whole step is.
    One that `yields` is left out where the author pins the figure.
    """

    form: Form
    words: str
    span: Span = NOWHERE
    low: Fraction | None = NONE
    high: Fraction | None = NONE
    whole: bool = False
    soft: bool = False
    plain: bool = False
    units: int = 1
    yields: bool = False

    def holds(self, values: Mapping[int, Fraction], unit: Fraction) -> bool:
        """Whether it is kept by lengths of these values, exactly."""
        found = worth(self.form, values)
        if self.whole:
            assert self.low is not None
            assert self.high is not None
            step = unit * self.units
            return -(-(found - self.high) // step) <= (found - self.low) // step
        return (self.low is None or found >= self.low) and (self.high is None or found <= self.high)


@dataclass
class Demands:
    """All demands, and the targets that must stay sums because pieces are placed by them."""

    held: list[Demand] = field(default_factory=list)
    stay: set[int] = field(default_factory=set)


def demands(worked: Worked, assembly: Assembly, survey: Survey, grid: Grid) -> Demands:
    """Every demand of a traced design."""
    found = Demands()
    values = survey.values
    for words, residual, span in _said_twice(worked, assembly):
        form = form_of(residual)
        if not form:
            continue
        if explained(residual, form, values) and not worth(form, values):
            found.held.append(Demand(form, words, span))
        else:
            found.stay |= {n for n in form if n != CURVED and values_sort(survey, n) == "target"}
    found.held += _shares(worked, survey, values)
    found.held += _places(worked, survey, values)
    found.held += _neighbours(worked, assembly, values, grid)
    found.held += _overhangs(worked, assembly, values, grid)
    found.held = distinct(found.held)
    return found


def values_sort(survey: Survey, number: int) -> str:
    """What sort of length a number stands for."""
    return survey.lengths[number].sort


def distinct(demands: Iterable[Demand]) -> list[Demand]:
    """Each sum once; what holds by itself is left out."""
    seen: dict[object, Demand] = {}
    for each in demands:
        form = {n: share for n, share in each.form.items() if share}
        if form:
            of = (each.whole, each.units, each.soft, each.low, each.high)
            seen.setdefault((of, tuple(sorted(form.items()))), each)
    return list(seen.values())


def _said_twice(worked: Worked, assembly: Assembly) -> Iterator[tuple[str, Fraction, Span]]:
    """What two statements say of one thing, as a difference that must be nought."""
    for statement in _needless(assembly.statements):
        equation = statement.equation
        residual = dot(equation.normal, statement.offset) - equation.value
        yield f"{statement.thing}: {equation.words}", residual, equation.span
    for said, size, axis in zip(worked.book.overall or (), overall(assembly), AXES, strict=False):
        value = worked.solver.value(said)
        # What pieces at an angle come to is never quite what a sum says of it, but meant to be.
        if value is not None and abs(value.value - size) < TOUCH:
            yield (
                f"the overall size ({axis}) is what the pieces come to",
                value.value - size,
                said.span,
            )
    for opening in worked.book.openings:
        free = found_opening(opening, worked, assembly)
        for axis in AXES:
            said = getattr(opening, axis)
            planned = worked.solver.opening(opening, axis) if said else None
            if planned is not None and axis in free and planned.value == free[axis]:
                words = f"the {opening.name.value} is what its pieces leave ({axis})"
                yield words, planned.value - free[axis], said.span


def _needless(statements: Iterable[Statement]) -> Iterator[Statement]:
    """Those that say again what earlier ones of the same joining have fixed already."""
    for _, said in groupby(statements, key=lambda each: id(each.offset)):
        fixed = np.zeros((0, 3))
        for each in said:
            normal = np.array([[float(share) for share in each.equation.normal]])
            more = np.vstack([fixed, normal])
            if np.linalg.matrix_rank(more, tol=TOUCH) > len(fixed):
                fixed = more
            else:
                yield each


def _shares(worked: Worked, survey: Survey, values: dict[int, Fraction]) -> Iterator[Demand]:
    """Halves and thirds: the figure that stands for a sum is that sum."""
    for way, numbers in survey.instead.items():
        spot = survey.spots[way]
        if spot.section == "stock" or way not in survey.inside:
            continue
        said = traced_sum(survey, way, lambda n: Traced(values[n], {n: Fraction(1)}))
        measure = worked.solver.measure(said)
        ends = [measure.low, measure.high] if measure else []
        for number, end in zip(numbers, ends, strict=False):
            form = form_of(end.value) if end is not None else {}
            if end is not None and form and explained(end.value, form, values):
                whole = {**form}
                whole[number] = whole.get(number, Fraction(0)) - 1
                text = " ".join(spot.said.text.split())
                words = (
                    f"{spot.words} = {text}"
                    if spot.section == "sizes"
                    else f"{spot.words} is exact"
                )
                yield Demand(whole, words, spot.said.span, soft=True)


def _places(worked: Worked, survey: Survey, values: dict[int, Fraction]) -> Iterator[Demand]:
    """Places that are told in halves come to whole steps."""
    for way, spot in survey.spots.items():
        if spot.section not in PLACES or way in survey.instead:
            continue
        measure = worked.solver.measure(said_at(worked.book, way))
        form = form_of(measure.low.value) if measure else {}
        shared = any(share.denominator != 1 for share in form.values())
        if measure and shared and explained(measure.low.value, form, values):
            words = f"{spot.words} comes to a whole step"
            yield Demand(form, words, spot.said.span, whole=True, soft=True)


def _neighbours(
    worked: Worked, assembly: Assembly, values: dict[int, Fraction], grid: Grid
) -> Iterator[Demand]:
    """Faces that touch go on touching; faces that are close stay apart."""
    where = {each.name: each.span for each in reversed(worked.usage.uses)}
    for placed in dict.fromkeys((assembly.placed, *assembly.works.values())):
        found = boxes(placed, assembly.bodies)
        for first in found:
            for second in found:
                for axis in range(3):
                    if first is not second and _faces(first, second, axis, float(grid.unit)):
                        for each in _between(first, second, axis, values, grid):
                            yield replace(each, span=where.get(second.name, NOWHERE))


def _faces(first: Box, second: Box, axis: int, unit: float) -> bool:
    """Whether the high side of one looks at the low side of another, close by."""
    gap = second.near[axis][0] - first.near[axis][1]
    if not -TOUCH <= gap <= FAR * unit:
        return False
    rest = [other for other in range(3) if other != axis]
    return all(
        first.near[i][0] < second.near[i][1] - TOUCH
        and second.near[i][0] < first.near[i][1] - TOUCH
        for i in rest
    )


def _between(
    first: Box, second: Box, axis: int, values: dict[int, Fraction], grid: Grid
) -> Iterator[Demand]:
    gap = second.low[axis] - first.high[axis]
    form = form_of(gap)
    if not form or not explained(gap, form, values):
        return
    sides = f"{HIGH[axis]} of {first.name} and {LOW[axis]} of {second.name}"
    if gap == 0:
        yield Demand(form, f"{sides} touch")
    elif gap > 0:
        least = min(gap, grid.unit) / 2
        yield Demand(form, f"{sides} stay apart", low=least, high=None)


def _overhangs(
    worked: Worked, assembly: Assembly, values: dict[int, Fraction], grid: Grid
) -> Iterator[Demand]:
    """What is centred stands out as far on either side, in whole steps."""
    centred = (
        (joined, sides.value, place)
        for step in worked.usage.steps
        for joined in step.join
        for sides, place in joined.places
        if place.how == "centred" and place.target.kind not in ("mark", "hole")
    )
    for joined, sides, place in centred:
        for axis, side in enumerate(LOW):
            if side in sides:
                yield from _overhang(joined, place, axis, assembly, values)


def _overhang(
    joined: Joined, place: Place, axis: int, assembly: Assembly, values: dict[int, Fraction]
) -> Iterator[Demand]:
    mine = _reach(joined.piece.value, axis, assembly)
    other = _reach(place.target.thing, axis, assembly)
    if mine is None or other is None:
        return
    over = mine - other
    form = form_of(over)
    if form and explained(over, form, values):
        words = f"{joined.piece.value} stands out evenly over {place.target.thing}, by whole steps"
        yield Demand(form, words, place.target.span, whole=True, soft=True)


def _reach(name: str, axis: int, assembly: Assembly) -> Fraction | None:
    """How far a piece or a sub-assembly reaches to its high side."""
    works = assembly.works.get(name, ())
    inside = {each.piece for each in works}
    placed = [
        each
        for each in assembly.placed
        if name in (*each.called, *each.path) or (not each.path and each.piece in inside)
    ]
    found = [
        assembly.bodies[each.part].reach(each.pose, DIRECTION[HIGH[axis]])
        for each in placed
        if each.part in assembly.bodies
    ]
    return max(found, default=None)


__all__ = ["PLAIN", "Demand", "Demands", "demands", "distinct"]
