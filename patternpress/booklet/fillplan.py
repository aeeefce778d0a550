"""The bench plan, as content.

In: a `Plan` and a `Wording`.  Out: `content.Plan` with its pictures, and the two facts about time
for the front of the booklet.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction

from markupsafe import Markup

from patternpress.assembly.needs import CUTTING
from patternpress.assembly.plan import Plan, Sitting, bench_plan
from patternpress.assembly.schedule import DAY
from patternpress.booklet import content as c
from patternpress.booklet.looks import flat_look
from patternpress.booklet.plain import upper
from patternpress.booklet.wording import NOTHING, Wording
from patternpress.drawing.kept import Kept, once
from patternpress.drawing.planchart import PLAN_WORDS, clock, plan_charts
from patternpress.measure.pieces import NO_BREAK

FIVE = Fraction(5)  # minutes; an estimate is told no finer


def bench_page(plan: Plan, wording: Wording, kept: Kept | None = None) -> c.Plan:
    """The page of the bench plan; empty where a design has no steps.

    `kept` holds charts that are drawn already.
    """
    if not plan.sittings:
        return c.Plan()
    look, titles = flat_look(wording.model.edition), work_titles(plan, wording)
    content = (plan, look, titles, chart_words(wording))
    pictures = once(kept, "plan", content, lambda: plan_charts(*content))
    return c.Plan(
        words=tuple(_words(plan, wording)),
        figures=tuple(c.Figure(Markup(picture)) for picture in pictures),
        finish=_finish(plan, wording),
        chain=_chain(plan, wording),
        sittings=tuple(_sitting(each, plan, wording) for each in plan.sittings),
    )


def time_facts(plan: Plan, wording: Wording) -> tuple[c.Fact, ...]:
    """How long it takes at the bench, what must dry in turn, and when it can be done."""
    if not plan.sittings:
        return ()
    drying = _long(plan.chain_waiting, wording)
    waiting = wording.say("waiting_words", time=drying) if plan.chain_waiting else NOTHING
    return (
        c.Fact(wording.say("fact_hands_on"), _hands(plan, wording)),
        c.Fact(wording.say("fact_waiting"), waiting),
        c.Fact(wording.say("fact_finish"), _finish(plan, wording)),
    )


def chart_words(wording: Wording) -> Mapping[str, str]:
    """The words of the picture in the edition's language."""
    texts = wording.phrases.texts
    return {key: str(texts[f"chart_{key.replace(' ', '_')}"]) for key in PLAN_WORDS}


def _time(minutes: Fraction, wording: Wording) -> Markup:
    """A time that is never broken over two lines."""
    return Markup.escape(clock(minutes, chart_words(wording)).replace(" ", NO_BREAK))


def _pause(minutes: Fraction, wording: Wording) -> Markup:
    """A pause as one would say it, never shorter than it is: to full hours from six hours on."""
    step = 60 if minutes > 6 * 60 else 15 if minutes > 60 else int(FIVE)
    return _time(Fraction(math.ceil(minutes / step) * step), wording)


def _hands(plan: Plan, wording: Wording) -> Markup:
    guessed = any(each.estimated for each in plan.steps)
    ends = [plan.hands_on.low, plan.hands_on.high]
    if guessed:
        ends = [max(round(each / FIVE), 1) * FIVE for each in ends]
    low, high = (_time(each, wording) for each in ends)
    shown = low if low == high else wording.say("figure_range_of", low=low, high=high)
    return wording.say("plan_about", time=shown) if guessed else shown


def _words(plan: Plan, wording: Wording) -> Iterator[Markup]:
    yield wording.say("plan_lead", evening=_time(plan.evening, wording))
    yield Markup(" ").join(_remarks(plan, wording))


def _remarks(plan: Plan, wording: Wording) -> Iterator[Markup]:
    """What the plan is made for, and which of its times are the author's."""
    guessed = [each.number for each in plan.steps if each.estimated]
    if guessed:
        yield wording.say("plan_estimated", works=_works(guessed, wording))
    if plan.answers:
        answers = wording.listed(wording.name(each) for each in plan.answers)
        yield wording.say("plan_answers", answers=answers)
    yield from _others(plan, wording)
    if plan.left_out:
        yield wording.say("plan_left_out", works=_works(plan.left_out, wording))


def _others(plan: Plan, wording: Wording) -> Iterator[Markup]:
    """When all is done with another answer, for each answer that the plan is not drawn for."""
    worked = wording.model.worked
    for place, choice in enumerate(worked.book.choices if plan.answers else ()):
        for answer in choice.answers[1:]:
            name = answer.name.value
            answers = tuple(
                name if index == place else each for index, each in enumerate(plan.answers)
            )
            other = bench_plan(worked, plan.evening, answers)
            said, hands = wording.name(name), _hands(other, wording)
            yield wording.say("plan_other", answer=said, day=other.days, hands=hands)


def early_steps(plan: Plan) -> frozenset[int]:
    """The steps that the plan begins before one with a smaller number."""
    begun = {each.number: each.works[0].starts for each in plan.steps if each.works}
    return frozenset(
        number
        for number, starts in begun.items()
        if any(other < number and later > starts for other, later in begun.items())
    )


def work_titles(plan: Plan, wording: Wording) -> Mapping[int, str]:
    """What each work of the plan is called, by its number, in plain words."""
    return {each.number: str(_title(each.number, wording).striptags()) for each in plan.steps}


def _title(number: int, wording: Wording) -> Markup:
    if number == CUTTING:
        return wording.say("plan_cutting_title")
    return wording.prose(wording.model.worked.usage.steps[number - 1].step)


def _finish(plan: Plan, wording: Wording) -> Markup:
    last = plan.sittings[-1].pause
    words = wording.say(
        "plan_finish" if len(plan.sittings) > 1 else "plan_finish_one",
        day=plan.days,
        evening=_time(plan.evening, wording),
        soonest=_long(plan.soonest, wording),
    )
    if last:
        words = wording.say("plan_finish_dry", finish=words, time=_pause(last, wording))
    return words


def _long(minutes: Fraction, wording: Wording) -> Markup:
    """A time of days in days and hours."""
    if minutes < 2 * DAY:
        return _pause(minutes, wording)
    days, hours = divmod(round(minutes / 60), 24)
    if not hours:
        return wording.counted("time_days", days, figure=days)
    return wording.say("plan_days_hours", days=days, hours=hours)


def _chain(plan: Plan, wording: Wording) -> Markup:
    return wording.say(
        "plan_chain",
        works=upper(_works(plan.chain, wording)),
        hands=_time(plan.chain_hands, wording),
        waiting=_long(plan.chain_waiting, wording),
    )


def _sitting(sitting: Sitting, plan: Plan, wording: Wording) -> c.SittingRow:
    time = _time(sitting.hands_on, wording)
    works = upper(_works(sitting.steps, wording))
    day = upper(wording.say("chart_day", day=sitting.day))
    long = sitting.hands_on > plan.evening
    pause = _pause(sitting.pause, wording)
    key = "plan_then_last" if sitting == plan.sittings[-1] else "plan_then"
    return c.SittingRow(
        name=wording.say("chart_sitting", number=sitting.number),
        works=wording.say(
            "plan_sitting_long" if long else "plan_sitting", works=works, time=time, day=day
        ),
        pause=wording.say(key, time=pause) if sitting.pause else NOTHING,
        meanwhile=Markup(" ").join(_meanwhile(sitting, plan, wording)),
    )


def _meanwhile(sitting: Sitting, plan: Plan, wording: Wording) -> Iterator[Markup]:
    """What the author says to do while a step of this sitting dries, once each."""
    for step in plan.steps:
        if step.number != CUTTING and step.works[0].sitting == sitting.number:
            said = wording.model.worked.usage.steps[step.number - 1].meanwhile
            yield from (wording.prose(each) for each in said)


def _works(numbers: Sequence[int], wording: Wording) -> Markup:
    """Cutting out and steps in words: “cutting out and steps 1 to 3, 5 and 7”."""
    steps = [number for number in numbers if number != CUTTING]
    runs: list[list[int]] = []
    for number in steps:
        if runs and number == runs[-1][-1] + 1:
            runs[-1].append(number)
        else:
            runs.append([number])
    # A run of two is said as two: “steps 4 and 5”.
    shown = [part for run in runs for part in _run(run, wording)]
    found = [wording.say("plan_cutting")] if len(steps) < len(numbers) else []
    if steps:
        key = "plan_steps" if len(steps) > 1 else "plan_step"
        found.append(wording.say(key, steps=wording.listed(shown)))
    return wording.listed(found)


def _run(run: list[int], wording: Wording) -> list[Markup]:
    if len(run) < 3:
        return [Markup(str(number)) for number in run]
    return [wording.say("figure_range_of", low=run[0], high=run[-1])]
