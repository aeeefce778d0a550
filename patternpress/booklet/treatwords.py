"""The sentences of a treatment: what is done to which faces, edges and holes, and with what.

In: a `Treatment`.  Out: its sentences, the author's note behind the last.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from markupsafe import Markup

from patternpress.booklet.holewords import groove_words, hole_words
from patternpress.booklet.plain import key_of, lower, short
from patternpress.booklet.sidewords import holes_together
from patternpress.booklet.wording import Wording
from patternpress.design.phrases import Target
from patternpress.design.records.work import Treatment


def treat_words(treatment: Treatment, wording: Wording) -> Iterator[Markup]:
    """The treatment in one sentence, or in several short ones; the note goes with the last."""
    verbs: dict[str, list[Target]] = {}
    for target in treatment.targets:
        verbs.setdefault(_verb(treatment, target, wording), []).append(target)
    made: list[Markup] = []
    for verb, targets in verbs.items():
        done = partial(_done, treatment, verb, wording)
        made += short(holes_together(targets, wording), done, wording)
    note = wording.prose(treatment.note)
    made += [*hole_words(treatment, wording), *groove_words(treatment, wording)]
    yield from made[:-1]
    yield wording.say("two_sentences", first=made[-1], second=note) if note else made[-1]


def _verb(treatment: Treatment, target: Target, wording: Wording) -> str:
    """The verb as a key; a slot or a window is cut out rather than drilled."""
    part = wording.model.worked.part(target.thing)
    holes = part.part.holes if part else ()
    tool = treatment.with_.value if treatment.with_ and treatment.by is None else ""
    saw = "saw" in tool
    sawn = any(each.name.value == target.feature and (each.round is None or saw) for each in holes)
    return "cut_out" if treatment.verb == "drill" and sawn else key_of(treatment.verb)


def _done(treatment: Treatment, verb: str, wording: Wording, what: Markup) -> Markup:
    sentence = wording.say(f"do_{verb}", what=what)
    if treatment.by is not None:
        key = "do_deep" if treatment.verb in ("drill", "groove") else "do_by"
        sentence = wording.say(key, action=sentence, by=wording.said(treatment.by))
    if treatment.with_ is not None:
        sentence = wording.say("do_with", action=sentence, tool=treatment.with_.value)
    if treatment.coats is not None and treatment.coats.value > 1:
        sentence = wording.say("do_coats", action=sentence, coats=treatment.coats.value)
    if treatment.only_if is not None:
        sentence = wording.say("do_only_if", answer=treatment.only_if.value, action=lower(sentence))
    return wording.say("sentence", words=sentence)
