"""Is every mark good for something?

In: a `Worked` design and its `Assembly`.  Out: warnings of marks that no join and no sentence
speaks of, that no step rubs out again, that are called after no piece, and on which neither a
piece comes to lie nor a hole or a groove is cut.  Judged on boxes, so it is silent where something
comes near; in floats.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

import numpy as np

from patternpress.assembly.body import SIDE_AXIS
from patternpress.assembly.bulks import Bulks, bulks_of, floats, offset
from patternpress.assembly.checks.besidemarks import RIGHT_BESIDE, called_after
from patternpress.assembly.checks.lists import referred
from patternpress.assembly.checks.order import marks_needed
from patternpress.assembly.convex import Array, Bulk, placed
from patternpress.assembly.entering import hollows, room_of
from patternpress.assembly.marklines import line_on
from patternpress.assembly.placing import Assembly, Placed
from patternpress.assembly.pose import DIRECTION
from patternpress.assembly.thing import sign_of
from patternpress.assembly.worked import Worked
from patternpress.design.kinds.covered import MarkUnused
from patternpress.design.phrases import Target
from patternpress.design.problem import Problem
from patternpress.design.records.parts import Mark

NEAR = float(RIGHT_BESIDE)  # mm; what misses a mark by less is told as that


def check_marks_used(worked: Worked, assembly: Assembly) -> Iterator[Problem]:
    """Marks that are drawn for nothing that the design knows of."""
    spoken = {name for name, _, _ in marks_needed(worked)} | referred(worked)
    spoken |= {each.value for step in worked.usage.steps for each in step.rub_out}
    bulks = bulks_of(worked, assembly)
    for mark in worked.book.marks:
        follows = mark.line is not None and mark.line.target is not None
        if follows or mark.name.value in spoken or called_after(mark.name.value, worked):
            continue
        found = [_met(worked, bulks, mark, *each) for each in _borne(mark, assembly)]
        if found and not any(found):
            yield Problem(MarkUnused, mark.name.span, {"mark": mark.name.value})


def _borne(mark: Mark, assembly: Assembly) -> Iterator[tuple[Target, Placed, tuple[Placed, ...]]]:
    """The pieces that bear a mark, each in every work that it is in."""
    for target in (each for group in mark.on for each in group if each.sides):
        for work in assembly.works.values():
            yield from ((target, p, work) for p in work if target.thing in (p.piece, p.part))


def _met(
    worked: Worked, bulks: Bulks, mark: Mark, on: Target, bearer: Placed, work: tuple[Placed, ...]
) -> bool:
    """Whether something of a work comes to a mark on one of its pieces, or it cannot be told."""
    line, part = line_on(mark, bearer, worked, bulks.assembly), worked.part(bearer.part)
    if line is None or part is None:
        return True
    level = bulks.assembly.bodies[bearer.part].reach(bearer.pose, DIRECTION[on.sides[0]])
    low, high = np.minimum(*line), np.maximum(*line)
    axis = SIDE_AXIS[on.sides[0]]
    low[axis] = high[axis] = float(level) * sign_of(on.sides[0])
    touches = partial(_touches, low, high)
    if any(touches(b) for each in work if each != bearer and (b := bulks.of(each)) is not None):
        return True
    pose = floats(bearer.pose), offset(bearer.pose)
    return any(touches(placed(room_of(each), *pose)) for each in hollows(worked, part))


def _touches(low: Array, high: Array, other: Bulk) -> bool:
    return bool(np.all(other.least - NEAR < high) and np.all(low < other.most + NEAR))
