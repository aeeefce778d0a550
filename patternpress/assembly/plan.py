"""The bench plan: when each step is done, what it waits for, and how many evenings it takes.

In: a `Worked` design.  Out: a `Plan` for one maker, in exact minutes from the first cut.  Times
with a range are planned at their longest, so that the plan holds for slow glue and slow hands;
`soonest` says when everything could be done at their shortest, without a pause for the night.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from patternpress.assembly.benchtime import (
    NONE,
    Minutes,
    Spell,
    cutting_time,
    hands_of,
    spells_of,
)  # fmt: skip
from patternpress.assembly.needs import CUTTING, Need, is_chosen, needs_of, parts_cut_first
from patternpress.assembly.planned import Plan, PlanStep, Sitting, Work, plan_facts
from patternpress.assembly.schedule import DAY, Slot, Task, schedule
from patternpress.assembly.worked import Worked

EVENING = Fraction(120)
TITLE_OF_CUTTING = "Cut out the parts"


@dataclass(frozen=True)
class _Planned:
    """A step before it has a time: its spells and its needs."""

    number: int
    title: str
    hands: Minutes
    estimated: bool
    spells: tuple[Spell, ...]
    needs: tuple[Need, ...]


def bench_plan(
    worked: Worked, evening: Fraction = EVENING, answers: tuple[str, ...] | None = None
) -> Plan:
    """The plan for the buyer who picks `answers`, by default the first one of each choice.

    Raises ValueError for an evening of no length.
    """
    if evening <= 0:
        raise ValueError("an evening must have some minutes")
    if answers is None:
        answers = first_answers(worked)
    chosen = frozenset(answers)
    planned = tuple(_planned(worked, chosen))
    tasks = _tasks(planned, longest=True)
    slots = schedule(tasks, evening)
    fastest = _tasks(planned, longest=False)
    soonest = max((each.dry for each in schedule(fastest, None)), default=Fraction(0))
    chain = _chain(planned, tasks)
    steps = tuple(_placed(planned, slots))
    inside = {each.number for each in planned}
    return Plan(
        steps=steps,
        finish=max((each.ends for each in steps), default=Fraction(0)),
        soonest=soonest,
        chain=tuple(dict.fromkeys(_owners(planned)[index] for index in chain)),
        chain_hands=sum((tasks[index].hands for index in chain), Fraction(0)),
        chain_waiting=sum((tasks[index].wait for index in chain), Fraction(0)),
        sittings=tuple(_sittings(steps)),
        evening=evening,
        answers=answers if _depends(worked) else (),
        left_out=tuple(n for n, _ in enumerate(worked.usage.steps, 1) if n not in inside),
    )


def first_answers(worked: Worked) -> tuple[str, ...]:
    """The first answer of each choice."""
    return tuple(each.answers[0].name.value for each in worked.book.choices if each.answers)


def _planned(worked: Worked, chosen: frozenset[str]) -> Iterator[_Planned]:
    cut = parts_cut_first(worked, chosen)
    if cut:
        time = sum((cutting_time(part) for part in cut), Fraction(0))
        hands = Minutes(time, time)
        yield _Planned(CUTTING, TITLE_OF_CUTTING, hands, True, (Spell(hands),), ())
    steps = worked.usage.steps
    numbers = [n for n, step in enumerate(steps, 1) if is_chosen(step.only_if, chosen)]
    needs = needs_of(worked, numbers, chosen)
    for number in numbers:
        step = steps[number - 1]
        yield _Planned(
            number,
            step.step.main.value,
            hands_of(worked, step, chosen),
            step.takes is None,
            spells_of(worked, step, chosen),
            needs[number],
        )


def _tasks(planned: Sequence[_Planned], *, longest: bool) -> tuple[Task, ...]:
    """A task for each spell: the first has the step's needs, each other needs the one before."""
    tasks: list[Task] = []
    last: dict[int, int] = {}
    for each in planned:
        needs = tuple((last[need.step], need.dry) for need in each.needs)
        for spell in each.spells:
            times = [t.high if longest else t.low for t in (spell.hands, spell.wait)]
            tasks.append(Task(times[0], times[1], needs))
            needs = ((len(tasks) - 1, True),)
        last[each.number] = len(tasks) - 1
    return tuple(tasks)


def _owners(planned: Sequence[_Planned]) -> tuple[int, ...]:
    """The step of each task."""
    return tuple(each.number for each in planned for _ in each.spells)


def _placed(planned: Sequence[_Planned], slots: Sequence[Slot]) -> Iterator[PlanStep]:
    at = 0
    for each in planned:
        mine = slots[at : at + len(each.spells)]
        at += len(each.spells)
        works = tuple(Work(s.starts, s.ends, s.dry, s.sitting) for s in mine)
        waiting = sum((spell.wait for spell in each.spells), NONE)
        needs = tuple(need.step for need in each.needs)
        yield PlanStep(each.number, each.title, each.hands, each.estimated, waiting, works, needs)


def _chain(planned: Sequence[_Planned], tasks: Sequence[Task]) -> tuple[int, ...]:
    """The longest run of tasks that need each other, hands and waits together."""
    length: list[Fraction] = []
    before: list[int | None] = []
    for task in tasks:
        reached = [
            (length[n] - (Fraction(0) if dry else tasks[n].wait), -n) for n, dry in task.needs
        ]
        most, index = max(reached, default=(Fraction(0), 1))
        length.append(most + task.hands + task.wait)
        before.append(-index if reached else None)
    at = max(range(len(tasks)), key=lambda i: (length[i], -i), default=None)
    found: list[int] = []
    while at is not None:
        found.append(at)
        at = before[at]
    return tuple(reversed(found))


def _sittings(steps: Sequence[PlanStep]) -> Iterator[Sitting]:
    found: dict[int, list[tuple[Work, int]]] = {}
    for step in steps:
        for work in step.works:
            found.setdefault(work.sitting, []).append((work, step.number))
    order = sorted(found)
    for number in order:
        works = sorted(found[number], key=lambda each: (each[0].starts, each[1]))
        starts, ends = works[0][0].starts, max(work.ends for work, _ in works)
        dry = max(w.dry for step in steps for w in step.works if w.sitting <= number)
        yield Sitting(
            number=number,
            day=int(starts // DAY) + 1,
            starts=starts,
            ends=ends,
            steps=tuple(dict.fromkeys(step for _, step in works)),
            hands_on=sum((work.ends - work.starts for work, _ in works), Fraction(0)),
            pause=max(dry - ends, Fraction(0)),
        )


def _depends(worked: Worked) -> bool:
    """Whether any step or treatment is only for one answer."""
    steps = worked.usage.steps
    treatments = (each for step in steps for each in (*step.treat, *step.afterwards))
    return any(step.only_if for step in steps) or any(each.only_if for each in treatments)


__all__ = [
    "EVENING",
    "Plan",
    "PlanStep",
    "Sitting",
    "Work",
    "bench_plan",
    "first_answers",
    "plan_facts",
]
