"""Waits, in words: what dries, for how long, and after which answer.

In: a `Step`.  Out: one sentence for each material that dries; nothing where nothing does.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from markupsafe import Markup

from patternpress.assembly.benchtime import WET, material_of
from patternpress.booklet.plain import capital, lower
from patternpress.booklet.sentences import dries_first
from patternpress.booklet.wording import NOTHING, Wording
from patternpress.design.records.work import Step, Treatment


def wait_words(said: Step, wording: Wording) -> Markup:
    """How long to wait at the end of a step, and for what; before what needs the joint dry."""
    wait = said.wait
    if wait is None:
        return dry_words((*said.treat, *said.afterwards), wording)
    until = wait.until.value if wait.until else "handle"
    if wait.time is not None:
        return capital(wording.said(wait.time))
    material = material_of(wording.model.worked, wait.for_ or said.glue)
    time = getattr(material, until) if material else None
    if material is None or time is None:
        return NOTHING
    return capital(
        wording.say(
            f"wait_{until}", time=wording.said(time), material=wording.name(material.name.value)
        )
    )


def after_wait_words(said: Step, wording: Wording) -> Markup:
    """How long what is done after the wait dries in its turn."""
    return dry_words(said.afterwards, wording) if dries_first(said, wording) else NOTHING


def dry_words(treatments: Iterable[Treatment], wording: Wording) -> Markup:
    """How long the finish of some treatments dries; for each answer where it is a choice."""
    return Markup(" ").join(dict.fromkeys(_dried(treatments, wording)))


def _dried(treatments: Iterable[Treatment], wording: Wording) -> Iterator[Markup]:
    for each in treatments:
        if each.verb not in WET or each.with_ is None:
            continue
        material = material_of(wording.model.worked, each.with_)
        if material is None or material.handle is None:
            continue
        words = wording.say(
            "wait_handle",
            time=wording.said(material.handle),
            material=wording.name(material.name.value),
        )
        if each.only_if is not None:
            answer = wording.name(each.only_if.value)
            words = wording.say("do_only_if", answer=answer, action=lower(words, wording))
        yield capital(words)
