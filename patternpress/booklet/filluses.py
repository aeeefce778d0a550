"""What lies on the bench for a step: the tools and materials that its lines use.

In: a `Step`.  Out: their names, tools first, in the order of the lists.
"""

from __future__ import annotations

from collections.abc import Iterator

from patternpress.assembly.gluing import glue_of, is_glued
from patternpress.assembly.prosework import all_prose
from patternpress.booklet.wording import Wording
from patternpress.design.records.work import Step, Treatment
from patternpress.design.references import Ref, split


def uses(step: Step, wording: Wording) -> tuple[str, ...]:
    """Every tool and material that a step uses, each once."""
    named = set(_named(step, wording))
    book = wording.model.worked.book
    order = [each.name.value for each in (*book.tools, *book.materials)]
    return tuple(each for each in order if each in named)


def _named(step: Step, wording: Wording) -> Iterator[str]:
    worked = wording.model.worked
    yield from (each.value for each in step.uses)
    for said in step.cut:
        part = worked.part(said.value)
        if part is not None and part.stock.cut_with is not None:
            yield part.stock.cut_with.value
    for treatment in (*step.treat, *step.afterwards):
        yield from _with(treatment)
    yield from (each.with_.value for each in step.hold)
    for joined in step.join:
        glue = glue_of(worked, step, joined) if is_glued(worked, step, joined) else None
        if glue is not None:
            yield glue.name.value
    for prose in all_prose((step.say, step.also_say, step.tip, step.check, step.caution)):
        yield from (each.name for each in split(prose.main.value) if isinstance(each, Ref))


def _with(treatment: Treatment) -> Iterator[str]:
    if treatment.with_ is not None:
        yield treatment.with_.value
    for prose in all_prose(treatment.note):
        yield from (each.name for each in split(prose.main.value) if isinstance(each, Ref))
