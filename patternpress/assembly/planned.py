"""What a bench plan says.

In: nothing; records, filled by `plan.bench_plan`.  Out: `Plan`, and its facts for other tools.
All times are exact minutes from the first cut.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from patternpress.assembly.benchtime import NONE, Minutes


@dataclass(frozen=True, slots=True)
class Work:
    """One stretch at the bench: when the hands start and end, and when the work is dry."""

    starts: Fraction
    ends: Fraction
    dry: Fraction
    sitting: int


@dataclass(frozen=True)
class PlanStep:
    """One step in time.  Number 0 is cutting out, before step 1.

    `hands_on` is estimated where the author does not say; `waiting` adds all its waits; `works`
    are its stretches (a second one after drying); `needs` are the steps that must come first.
    """

    number: int
    title: str
    hands_on: Minutes
    estimated: bool
    waiting: Minutes
    works: tuple[Work, ...]
    needs: tuple[int, ...]

    @property
    def starts(self) -> Fraction:
        """When the hands take it up."""
        return self.works[0].starts

    @property
    def ends(self) -> Fraction:
        """When it is done and dry."""
        return self.works[-1].dry


@dataclass(frozen=True, slots=True)
class Sitting:
    """One evening: its steps in the order in which they are begun.

    `day` counts from 1; `hands_on` is the most that the hands do; `pause` is what must still dry
    when the sitting ends, before the next one can begin or, after the last, before all is done.
    """

    number: int
    day: int
    starts: Fraction
    ends: Fraction
    steps: tuple[int, ...]
    hands_on: Fraction
    pause: Fraction


@dataclass(frozen=True)
class Plan:
    """The plan of a whole design.  `chain` is the longest run of steps that need each other.

    `finish` is when all is done and dry in sittings of `evening` minutes, one a day; `soonest`
    is the same without any pause but drying.  `answers` are the choices that it is made for, and
    `left_out` the steps that belong to others.
    """

    steps: tuple[PlanStep, ...]
    finish: Fraction
    soonest: Fraction
    chain: tuple[int, ...]
    chain_hands: Fraction
    chain_waiting: Fraction
    sittings: tuple[Sitting, ...]
    evening: Fraction
    answers: tuple[str, ...]
    left_out: tuple[int, ...]

    @property
    def hands_on(self) -> Minutes:
        """The time of the hands in all steps together."""
        return sum((each.hands_on for each in self.steps), NONE)

    @property
    def days(self) -> int:
        """The day on which the last work is done, counted from 1."""
        return self.sittings[-1].day if self.sittings else 0


def plan_facts(plan: Plan) -> dict[str, Any]:
    """The plan ready for JSON; times are exact minutes as text."""
    return {
        "hands_on": _shown(plan.hands_on),
        "finish": str(plan.finish),
        "soonest": str(plan.soonest),
        "days": plan.days,
        "evening": str(plan.evening),
        "answers": list(plan.answers),
        "left_out": list(plan.left_out),
        "chain": {
            "steps": list(plan.chain),
            "hands_on": str(plan.chain_hands),
            "waiting": str(plan.chain_waiting),
        },
        "steps": [_step_facts(each) for each in plan.steps],
        "sittings": [
            {
                "number": each.number,
                "day": each.day,
                "starts": str(each.starts),
                "ends": str(each.ends),
                "steps": list(each.steps),
                "hands_on": str(each.hands_on),
                "pause": str(each.pause),
            }
            for each in plan.sittings
        ],
    }


def _step_facts(step: PlanStep) -> dict[str, Any]:
    return {
        "number": step.number,
        "title": step.title,
        "hands_on": {**_shown(step.hands_on), "estimated": step.estimated},
        "waiting": _shown(step.waiting),
        "starts": str(step.starts),
        "ends": str(step.ends),
        "needs": list(step.needs),
        "works": [
            {"starts": str(w.starts), "ends": str(w.ends), "dry": str(w.dry), "sitting": w.sitting}
            for w in step.works
        ],
    }


def _shown(time: Minutes) -> dict[str, str]:
    return {"least": str(time.low), "most": str(time.high)}
