"""What is left for fitting, between the least and the most that its author said.

In: a design whose figures are `Traced`, or one as it is with its model in an edition.  Out: demands
that parts which share an opening have something on the step for each when that is taken off; and
warnings where no step lies in the author's range, or none that can be shared.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from patternpress.assembly.checks.fitmoves import CLOSE
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.editions import Published
from patternpress.assembly.fitted import step_of, sums, taken_off
from patternpress.assembly.sizes import shared
from patternpress.assembly.worked import Worked
from patternpress.closing.demands import Demand
from patternpress.closing.lengths import Survey
from patternpress.closing.traced import explained, form_of
from patternpress.closing.walking import CALLED
from patternpress.design.kinds.editions import ClearanceMissed
from patternpress.design.problem import Problem
from patternpress.design.span import Span
from patternpress.measure.digits import Display, System
from patternpress.measure.figures import plain, show_length
from patternpress.measure.quantity import Kind, Quantity
from patternpress.measure.rounding import round_half_even


def parted(worked: Worked, found: Survey) -> Iterator[Demand]:
    """For each opening that parts share, that less its clearance it is a whole step for each."""
    for part, axis in _clearances(worked):
        count = shared(part.part, axis)
        least, most = taken_off(part, axis)
        # Of a range any step will do; one figure moves with the opening.
        whole = part.planned[axis] if least < most else part.planned[axis] - least
        form = form_of(whole)
        if count > 1 and form and explained(whole, form, found.values):
            ends = (least, most) if least < most else (Fraction(0), Fraction(0))
            low, high = (Fraction(each.numerator, each.denominator) for each in ends)
            words = f"{CALLED[axis]} of {part.name} is a whole step"
            demand = Demand(form, words, _span(part, axis), low, high, whole=True, soft=True)
            yield replace(demand, plain=True, units=count)


def missed(design: Worked, made: Worked, edition: Published) -> Iterator[Problem]:
    """Warnings of clearances that an edition prints outside the range that was said."""
    closed = {each.name: each for each in made.parts}
    for part, axis in _clearances(design):
        said = taken_off(part, axis)
        for system in dict.fromkeys(edition.display.systems) if said[0] < said[1] else ():
            low, high = sums(closed[part.name], axis, system, edition.display).off
            # 1/64 in is 0.397 mm: nobody measures what it is less than 0.4.
            if low < said[0] - CLOSE or high > said[1] + CLOSE:
                facts = {"part": part.name, "axis": CALLED[axis], "edition": edition.name}
                facts["said"] = f"{_decimal(said[0])} to {_decimal(said[1])} mm"
                printed = low if low < said[0] - CLOSE else high
                facts["printed"] = _shown(printed, system, edition.display)
                near = _nearest(closed[part.name], axis, said, step_of(edition.display, system))
                facts["fits"] = " or ".join(_shown(each, system, edition.display) for each in near)
                yield Problem(ClearanceMissed, _span(part, axis), facts)


def _clearances(worked: Worked) -> Iterator[tuple[CutPart, str]]:
    """The parts that something is left for at a measured opening, with the axes along which."""
    for part in worked.parts:
        said = worked.solver.less(part.part)
        yield from ((part, axis) for axis in part.waits if axis in said and axis in part.planned)


def _nearest(
    part: CutPart, axis: str, said: tuple[Fraction, Fraction], step: Fraction
) -> list[Fraction]:
    """What can be taken off that is next to a range: it leaves a whole step for each."""
    each = shared(part.part, axis) * step
    over = round_half_even(part.planned[axis], step) % each
    below = over + (said[0] - over) // each * each
    above = over - (over - said[1]) // each * each
    return [mm for mm in (below, above) if mm > 0]


def _span(part: CutPart, axis: str) -> Span:
    said = getattr(part.part.less, axis) if part.part.less else None
    at = said or part.part.fitted or part.part.name
    return at.span


def _decimal(mm: Fraction) -> str:
    return f"{float(mm):.3f}".rstrip("0").rstrip(".")


def _shown(mm: Fraction, system: System, display: Display) -> str:
    words = plain(
        show_length(Quantity(mm, Kind.LENGTH), replace(display, first=system, second=None))
    )
    return words if system == "mm" else f"{words} ({_decimal(mm)} mm)"
