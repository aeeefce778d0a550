"""Is what a step treats there to be treated?

In: a `Worked` design.  Out: problems of treatments that come before their piece is cut, or before
the sub-assembly that they name is built.
"""

from __future__ import annotations

from collections.abc import Iterator

from patternpress.assembly.worked import Worked
from patternpress.design.kinds.work import TreatedTooEarly
from patternpress.design.phrases import Target
from patternpress.design.problem import Problem
from patternpress.design.records.work import Treatment


def check_treatments(worked: Worked) -> Iterator[Problem]:
    """Treatments of pieces that are not cut yet and of sub-assemblies that are not built yet."""
    for number, step in enumerate(worked.usage.steps, 1):
        for treatment, joined in (
            *((each, False) for each in step.treat),
            *((each, True) for each in step.afterwards),
        ):
            yield from _treated(worked, treatment, number, joined)


def _treated(worked: Worked, treatment: Treatment, number: int, joined: bool) -> Iterator[Problem]:
    for target in treatment.targets:
        when = _not_cut(worked, target, number) or _not_built(worked, target, number, joined)
        if when:
            facts = {"step": str(number), "piece": target.thing, "when": when}
            yield Problem(TreatedTooEarly, target.span, facts)


def _not_cut(worked: Worked, target: Target, number: int) -> str:
    part = worked.usage.part_of.get(target.thing, target.thing)
    cut = worked.usage.step_where("cut", part)
    return f"cut only in step {cut}" if cut is not None and cut > number else ""


def _not_built(worked: Worked, target: Target, number: int, joined: bool) -> str:
    """A step first treats, then joins; what it joins itself is there only afterwards."""
    sub = worked.usage.sub_of.get(target.thing)
    steps = enumerate(worked.usage.steps, 1)
    built = next((n for n, step in steps if sub and step.builds and step.builds.value == sub), None)
    if built is None or built < number or (built == number and joined):
        return ""
    return f"built only in step {built}" if built > number else "built only later in that step"
