"""Can the hands keep up with the glue?

In: a `Worked` design.  Out: problems of steps that glue more at once than the glue allows.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction
from itertools import accumulate

from patternpress.assembly.benchtime import JOINT, glued_joints, hands_of, in_row, material_of
from patternpress.assembly.marked import hole_of
from patternpress.assembly.usage import row_of
from patternpress.assembly.worked import Worked
from patternpress.design.kinds.plan import GlueUpTooLong
from patternpress.design.problem import Problem
from patternpress.design.records.goods import Material
from patternpress.design.records.work import Joined, Step
from patternpress.design.span import Said
from patternpress.measure.quantity import Kind

HELD = ("in hole", "through hole")


@dataclass(frozen=True, slots=True)
class _Glued:
    """One glued piece: its place among those joined, how many faces get glue, and which.

    `rest`: how the pieces of its row that follow are joined in a step of their own.
    """

    name: str
    place: int
    joints: int
    glue: Material
    rest: str = ""


def check_plan(worked: Worked) -> Iterator[Problem]:
    """Steps whose glue-up takes longer than their glue stays workable."""
    for number, step in enumerate(worked.usage.steps, 1):
        glued = list(_glued(worked, step))
        joints = sum(each.joints for each in glued)
        if not joints:
            continue
        time = JOINT * joints
        if step.takes is not None:  # the author's word for the whole step: gluing takes no longer
            time = min(time, hands_of(worked, step, frozenset()).low)
        glue, workable = min(
            ((each.glue, _workable(worked, each.glue)) for each in glued),
            key=lambda found: (found[1] is None, found[1] or 0),
        )
        if workable is not None and time > workable:
            facts = {
                "step": str(number),
                "joints": str(joints),
                "needed": _minutes(time),
                "material": f"“{glue.name.value}”",
                "workable": glue.workable.text if glue.workable else "",
            }
            facts |= _divide(glued, workable * joints / time)
            yield Problem(GlueUpTooLong, step.step.main.span, facts)


def _glued(worked: Worked, step: Step) -> Iterator[_Glued]:
    place = 0
    for joined in step.join:
        glue = material_of(worked, _named(joined, step))
        joints = _joints(worked, joined)
        names = _names(worked, joined)
        for count, (name, following) in enumerate(zip(names, (*names[1:], ""), strict=True), 1):
            place += 1
            if glue is not None and joints:
                rest = _rest(worked, joined, count, following) if following else ""
                yield _Glued(name, place, joints, glue, rest)


def _rest(worked: Worked, joined: Joined, count: int, following: str) -> str:
    """How a row is parted after so many pieces: what changes in it, and where the next one goes."""
    row = joined.row
    if row is None or row.every is None:
        how = "first say `every` in its row in place of `up to`"
        return f" ({how}; then `of: {count}` there, and `{following}` with a row in its own step)"
    side, held = next(
        ((s.value[0], p.target) for s, p in joined.places if p.how in HELD), ("", None)
    )
    hole = hole_of(worked.part(held.thing), held.feature) if held is not None else None
    ahead, apart = worked.solver.value(row.every), hole.row.every if hole and hole.row else None
    holes = worked.solver.value(apart) if apart is not None else None
    every = row.every.text if row.every.text[-1:].isalpha() else f"({row.every.text})"
    where = f"placed {count} * {every} further on"
    if hole is not None and held is not None and ahead is not None and holes is not None:
        at = hole.names.index(held.feature) + round(count * ahead.value / holes.value)
        if holes.value and at < len(hole.names):
            where = f"`{side}: in {hole.names[at]} of {held.thing}`"
    left = f" (`of: {row.of.value - count}`)" if row.of else ""
    own = f"in its own step `{following}` with a row{left}, {where}"
    return f" (`of: {count}` in its row; {own})"


def _named(joined: Joined, step: Step) -> Said[str] | None:
    return joined.glue or step.glue or (step.wait.for_ if step.wait else None)


def _names(worked: Worked, joined: Joined) -> tuple[str, ...]:
    row = row_of(joined, worked.usage.pieces)
    return row if in_row(worked, joined) > 1 else (joined.piece.value,)


def _joints(worked: Worked, joined: Joined) -> int:
    """The faces that get glue; a screw or nail in its hole needs none in a hurry."""
    part = worked.part(joined.piece.value)
    bought = part is not None and part.form == "bought"
    in_holes = sum(len(s.value) for s, place in joined.places if place.how == "in hole")
    return glued_joints(joined) - (in_holes if bought else 0)


def _workable(worked: Worked, glue: Material) -> Fraction | None:
    measure = worked.solver.measure(glue.workable) if glue.workable else None
    return measure.low.value if measure and measure.low.kind is Kind.TIME else None


def _divide(glued: list[_Glued], most: Fraction) -> dict[str, str]:
    """Where to divide the step so that no more than `most` joints are glued in its first part:
    in words, and the pieces of that part, for a picture.
    """
    done = accumulate(each.joints for each in glued)
    first = [each for each, joints in zip(glued, done, strict=True) if joints <= most]
    if not first:
        words = "Not even the first piece is set in that time: glue it to one neighbour at a time, "
        return {"divide": words, "pieces": glued[0].name}
    last = first[-1]
    words = f"Divide it after the {_ordinal(last.place)} piece, “{last.name}”{last.rest}, "
    return {"divide": words, "pieces": ", ".join(each.name for each in first)}


def _ordinal(number: int) -> str:
    special = {1: "st", 2: "nd", 3: "rd"}
    ending = "th" if 10 < number % 100 < 14 else special.get(number % 10, "th")
    return f"{number}{ending}"


def _minutes(time: Fraction) -> str:
    return f"{math.ceil(time * 2) / 2:g} min"
