"""Steps, measure cards and finishing, as content.

In: a `Wording`.  Out: groups of steps in the order of work.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace
from types import MappingProxyType

from markupsafe import Markup

from patternpress.assembly.shown import shown_size
from patternpress.booklet.content import (
    Brought,
    Check,
    Choice,
    Figure,
    Finishing,
    Outcome,
    Step,
    StepGroup,
)  # fmt: skip
from patternpress.booklet.cutfirst import cut_first_words
from patternpress.booklet.fillcards import cards
from patternpress.booklet.filluses import uses
from patternpress.booklet.fillwaits import after_wait_words, dry_words, wait_words
from patternpress.booklet.plain import capital
from patternpress.booklet.sentences import actions, later_actions, times, twins_of
from patternpress.booklet.usual import step_cautions
from patternpress.booklet.wording import NOTHING, Wording
from patternpress.design.records.work import Step as SaidStep

Pictures = Mapping[int, tuple[Figure, ...]]  # by the step's number
NO_PICTURES: Pictures = MappingProxyType({})


def steps(
    wording: Wording, pictures: Pictures = NO_PICTURES, early: frozenset[int] = frozenset()
) -> tuple[StepGroup, ...]:
    """Groups of steps: one for each stretch that builds the same sub-assembly.

    `early` are the numbers of steps that the bench plan brings forward.
    """
    book = wording.model.worked.book
    groups: list[tuple[str, list[Step]]] = []
    for number, said in enumerate(book.steps, 1):
        builds = said.builds.value if said.builds else ""
        if not groups or groups[-1][0] != builds:
            groups.append((builds, []))
        made = step(said, number, wording, pictures.get(number, ()))
        groups[-1][1].append(_forward(made, number in early, wording))
    found: list[StepGroup] = []
    for name, inside in groups:
        under = found[-1].heading if found else NOTHING
        words = NOTHING if found else cut_first_words(wording)
        heading = _heading(name, len(inside), bool(under), wording)
        found.append(StepGroup(heading, tuple(inside), words))
    return tuple(found)


def _forward(made: Step, early: bool, wording: Wording) -> Step:
    return replace(made, tips=(wording.say("step_early"), *made.tips)) if early else made


def _heading(sub: str, count: int, under: bool, wording: Wording) -> Markup:
    """The heading of a stretch; a single step has its own, unless it follows another's stretch."""
    if sub and (count > 1 or under):
        names = wording.listed(
            wording.say("the", thing=wording.name(name)) for name in twins_of(sub, wording)[0]
        )
        return wording.say("stage_sub", sub=names)
    return wording.say("stage_main") if under else NOTHING


def step(said: SaidStep, number: int, wording: Wording, figures: tuple[Figure, ...] = ()) -> Step:
    """One step as content."""
    return Step(
        number=str(number),
        title=wording.prose(said.step),
        actions=actions(said, wording),
        whole=(*_only_if(said, wording), *times(said, wording)),
        brought=tuple(_brought(number, wording)),
        uses=capital(Markup(", ").join(wording.name(each) for each in uses(said, wording))),
        figures=figures,
        cautions=step_cautions(said, number, wording),
        measure=tuple(cards(said, wording)),
        hold=_hold(said, wording),
        wait=wait_words(said, wording),
        meanwhile=Markup(" ").join(wording.prose(each) for each in said.meanwhile),
        checks=tuple(_checks(said, wording, late=False)),
        tips=tuple(wording.prose(each) for each in said.tip),
        after=later_actions(said, wording),
        after_wait=after_wait_words(said, wording),
        later_checks=tuple(_checks(said, wording, late=True)),
    )


def _only_if(said: SaidStep, wording: Wording) -> Iterator[Markup]:
    """A step for one choice says so before anything else."""
    if said.only_if is not None:
        yield wording.say("do_if_chosen", answer=wording.name(said.only_if.value))


def _brought(number: int, wording: Wording) -> Iterator[Brought]:
    """The pieces that come to the bench, pieces of one part together."""
    usage = wording.model.worked.usage
    counted: dict[str, list[str]] = {}
    subs: list[str] = []
    for use in usage.uses:
        if use.step != number:
            continue
        if use.kind == "sub-assembly":
            subs.append(use.name)
            continue
        owner = usage.part_of.get(use.name, use.name)
        counted.setdefault(owner, []).extend(use.brings)
    for owner, pieces in counted.items():
        first = usage.first_use(pieces[0])
        part = wording.model.worked.part(owner)
        if part is None or first is None or first.step != number:
            continue
        name = pieces[0] if len(pieces) == 1 else part.name
        size = wording.size(*shown_size(part, wording.model.edition))
        yield Brought(part.letter, wording.name(name), size, len(pieces))
    for sub in subs:
        yield Brought("", wording.name(sub))


def _hold(said: SaidStep, wording: Wording) -> Markup:
    holds = []
    for hold in said.hold:
        where = wording.prose(hold.where)
        key = "hold_where" if where else "hold_with"
        holds.append(capital(wording.say(key, tool=wording.name(hold.with_.value), where=where)))
        note = wording.prose(hold.note)
        holds += [capital(note)] if note else []
    return Markup(" ").join(holds)


def _checks(said: SaidStep, wording: Wording, *, late: bool) -> Iterator[Check]:
    """The checks before the wait, or those after it; what is tried dry is among the actions."""
    for check in said.check:
        when = check.when.value if check.when else "before waiting"
        if when == "before gluing" or (when == "after waiting") is not late:
            continue
        outcomes = tuple(
            Outcome(capital(wording.label(found.value)).rstrip("."), wording.prose(remedy))
            for found, remedy in check.if_
        )
        yield Check(wording.prose(check.try_), outcomes)


def finishing(
    wording: Wording, pictures: Pictures = NO_PICTURES, early: frozenset[int] = frozenset()
) -> tuple[Finishing, tuple[StepGroup, ...]]:
    """The buyer's choices, and the finishing steps as a group of their own."""
    book = wording.model.worked.book
    first = len(book.steps) + 1
    made = tuple(
        _forward(step(said, number, wording, pictures.get(number, ())), number in early, wording)
        for number, said in enumerate(book.finishing, first)
    )
    heading = wording.say("stage_finish") if len(made) > 1 else NOTHING
    groups = (StepGroup(heading, made),) if made else ()
    choices = tuple(_choices(wording))
    words = (wording.say("choose_lead"),) if choices else ()
    return Finishing(words, choices), groups


def _choices(wording: Wording) -> Iterator[Choice]:
    """Every answer, the question before the first one to it."""
    for choice in wording.model.worked.book.choices:
        ask = wording.prose(choice.ask)
        for answer in choice.answers:
            name = answer.name.value
            yield Choice(
                capital(wording.name(name)).rstrip("."),
                wording.prose(answer.means),
                needs=tuple(_needed(name, wording)),
                wait=_finish_waits(name, wording),
                ask=ask,
            )
            ask = NOTHING


def _needed(answer: str, wording: Wording) -> Iterator[str]:
    book = wording.model.worked.book
    listed = [(each.name.value, each.only_if) for each in book.materials]
    listed += [(each.name.value, each.only_if) for each in book.tools]
    for name, only in listed:
        if only is not None and only.value == answer:
            yield wording.name(name)


def _finish_waits(answer: str, wording: Wording) -> Markup:
    """How long what only this answer brings dries."""
    found = []
    for said in wording.model.worked.usage.steps:
        for each in (*said.treat, *said.afterwards):
            only = said.only_if or each.only_if
            if only is not None and only.value == answer:
                found.append(replace(each, only_if=None))
    return dry_words(found, wording)
