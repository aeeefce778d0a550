"""The sentences of a step, made from what the step says.

In: a `Step` and a `Wording`.  Out: one sentence for each action, imperative and short, in the
order of the bench: lay down, measure, cut, mark, treat, join, hold.  Where the author wrote
sentences of their own, those stand in place of the ones for joining.
"""

from __future__ import annotations

from collections.abc import Iterator

from markupsafe import Markup, escape

from patternpress.booklet.joinwords import join_words
from patternpress.booklet.markwords import mark_words
from patternpress.booklet.plain import key_of
from patternpress.booklet.treatwords import treat_words
from patternpress.booklet.wording import Wording
from patternpress.design.records.parts import Mark
from patternpress.design.records.work import Step


def actions(step: Step, wording: Wording) -> tuple[Markup, ...]:
    """Every action of a step, one sentence each."""
    return tuple(_all(step, wording))


def _all(step: Step, wording: Wording) -> Iterator[Markup]:
    yield from _ready(step, wording)
    early, late = _marks(step, wording)
    for mark in early:
        yield from mark_words(mark, wording)
    if not step.say:
        yield from _cutting(step, wording)
    for mark in late:
        yield from mark_words(mark, wording)
    for treatment in step.treat:
        yield from treat_words(treatment, wording)
    for prose in step.say:
        yield from wording.paragraphs(prose)
    if not step.say:
        for joined in step.join:
            yield from join_words(joined, wording)
    for treatment in step.afterwards:
        yield from treat_words(treatment, wording)
    for said in step.rub_out:
        yield wording.say("do_rub_out", mark=said.value)
    yield from _again(step, wording)


def _ready(step: Step, wording: Wording) -> Iterator[Markup]:
    """What comes first: the work on the bench, and how it lies."""
    if step.start is not None and step.join:
        yield wording.say("do_start", piece=wording.thing(step.start.value))
    if step.work_lies is not None and not _lies_so(step, wording):
        yield wording.say(f"do_lies_{key_of(step.work_lies.value)}")


def _cutting(step: Step, wording: Wording) -> Iterator[Markup]:
    for said in step.measure:
        yield wording.say("do_measure", opening=said.value)
    if step.cut:
        parts = wording.listed(wording.thing(each.value) for each in step.cut)
        yield wording.say("do_cut", parts=parts)


def _marks(step: Step, wording: Wording) -> tuple[list[Mark], list[Mark]]:
    """The marks that a step draws: first those on pieces that are there, then on those cut now."""
    marks = {each.name.value: each for each in wording.model.worked.book.marks}
    drawn = [marks[said.value] for said in step.mark if said.value in marks]
    cut = {said.value for said in step.cut}
    cut |= {piece for part in cut for piece in wording.model.worked.usage.pieces.get(part, ())}
    late = [m for m in drawn if any(t.thing in cut for group in m.on for t in group)]
    return [mark for mark in drawn if mark not in late], late


def _again(step: Step, wording: Wording) -> Iterator[Markup]:
    """After the last step of a sub-assembly: its other copies, its mirrored twin."""
    book = wording.model.worked.book
    if step.builds is None:
        return
    name = step.builds.value
    last = [each for each in book.steps if each.builds and each.builds.value == name][-1:]
    if not last or last[0] is not step:
        return
    for sub in book.sub_assemblies:
        twin = sub.mirror_of or sub.same_as
        if sub.name.value == name and len(sub.copies) > 1:
            copies = wording.listed(escape(each.value) for each in sub.copies)
            yield wording.say("do_copies", count=len(sub.copies), copies=copies)
        elif twin is not None and twin.value == name:
            yield wording.say("do_twin" if sub.mirror_of else "do_same", twin=sub.name.value)


def _lies_so(step: Step, wording: Wording) -> bool:
    """Whether the last step of the same work left it lying just so."""
    steps = wording.model.worked.usage.steps
    same = [s for s in steps[: steps.index(step)] if s.builds == step.builds and s.work_lies]
    return bool(same) and same[-1].work_lies == step.work_lies
