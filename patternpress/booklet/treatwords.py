"""The sentences of treatments: what is done to which faces, edges and holes, and with what.

In: the treatments of a step.  Out: their sentences, each author's note behind its treatment.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from markupsafe import Markup

from patternpress.assembly.benchtime import material_of
from patternpress.booklet.groovewords import grooves_words
from patternpress.booklet.holewords import holes_words, starts_inside
from patternpress.booklet.plain import key_of, lower, short
from patternpress.booklet.sidewords import Faces, faces_apart, together
from patternpress.booklet.wording import NOTHING, Wording
from patternpress.design.phrases import Target
from patternpress.design.records.work import Treatment

EDGES = ("rounded", "curved", "straight", "shorter", "longer", "rebated", "angled", "notched",
         "long", "short", "all", "inner_edge", "outer_edge")  # fmt: skip


def treats_words(treatments: Sequence[Treatment], wording: Wording) -> Iterator[Markup]:
    """Some treatments in order; neighbours that differ only in what they are done to, together."""
    merged: list[tuple[Treatment, list[Target]]] = []
    for each in treatments:
        if merged and merged[-1][0].note is None and _like(merged[-1][0]) == _like(each):
            merged[-1] = (each, [*merged[-1][1], *each.targets])
        else:
            merged.append((each, list(each.targets)))
    inside = [t for t, targets in merged if starts_inside(t, targets, wording)]
    for treatment, targets in merged:
        if inside and treatment is inside[0] and not _tells_to_drill(treatment, wording):
            yield wording.say("do_thread")
        yield from _treat(treatment, targets, wording)


def _tells_to_drill(treatment: Treatment, wording: Wording) -> bool:
    """Whether the author's note speaks of the hole that a saw begins in."""
    note = treatment.note.main.value.lower() if treatment.note else ""
    return any(word in note for word in wording.meant("work_bore"))


def _like(treatment: Treatment) -> tuple[str, ...]:
    """What two treatments have in common when one sentence serves both."""
    said = (treatment.with_, treatment.only_if)
    by = treatment.by.text if treatment.by else ""
    coats = str(treatment.coats.value) if treatment.coats else ""
    return (treatment.verb, by, coats, *(each.value if each else "" for each in said))


def _treat(treatment: Treatment, targets: Sequence[Target], wording: Wording) -> Iterator[Markup]:
    """The treatment in one sentence, or in several short ones; the note goes with the last.

    How long a coat dries comes behind the note, for the note speaks of the work before that.
    """
    made = [*_made(treatment, targets, wording)]
    note = wording.prose(treatment.note)
    yield from made[:-1]
    yield wording.say("two_sentences", first=made[-1], second=note) if note else made[-1]
    yield from _coats(treatment, wording)


def _made(treatment: Treatment, targets: Sequence[Target], wording: Wording) -> Iterator[Markup]:
    if treatment.verb in ("drill", "groove"):
        cuts = holes_words if treatment.verb == "drill" else grooves_words
        for words, main in cuts(treatment, targets, wording):
            yield _finished(treatment, words, wording) if main else words
        return
    for faces in together(faces_apart(targets, wording), wording):
        yield from short(faces.things, partial(_done, treatment, faces, wording), wording)


def _done(treatment: Treatment, faces: Faces, wording: Wording, things: Markup) -> Markup:
    what = faces.told(things, wording)
    tool = treatment.with_.value if treatment.with_ else ""
    key = f"do_{key_of(treatment.verb)}"
    if treatment.verb == "resist" and tool:
        return wording.say(
            "sentence", words=wording.say("do_resist_with", what=what, tool=wording.name(tool))
        )
    if treatment.verb == "ease" and not _are_edges(faces, wording):
        key = "do_ease_of"
    sentence = wording.say(key, what=what)
    if treatment.by is not None:
        sentence = wording.say("do_by", action=sentence, by=wording.said(treatment.by))
    return _finished(treatment, sentence, wording)


def _are_edges(faces: Faces, wording: Wording) -> bool:
    """Whether what is told of things is edges of theirs, not a face or the whole of them."""
    return faces.key == "edge_of" or faces.side in {
        wording.say(f"feature_{each}") for each in EDGES
    }


def _finished(treatment: Treatment, sentence: Markup, wording: Wording) -> Markup:
    """An action with its tool, its coats and the answer that it is for."""
    if treatment.with_ is not None and treatment.with_.value.lower() != treatment.verb:
        name = treatment.with_.value
        used_up = any(each.name.value == name for each in wording.model.worked.book.materials)
        key = "do_with_material" if used_up else "do_with"
        sentence = wording.say(key, action=sentence, tool=wording.name(name))
    if treatment.coats is not None and treatment.coats.value > 1:
        sentence = wording.say("do_coats", action=sentence, coats=treatment.coats.value)
    if treatment.only_if is not None:
        answer = wording.name(treatment.only_if.value)
        sentence = wording.say("do_only_if", answer=answer, action=lower(sentence, wording))
    return wording.say("sentence", words=sentence)


def _coats(treatment: Treatment, wording: Wording) -> Iterator[Markup]:
    """How long each coat dries before the next."""
    if treatment.coats is None or treatment.coats.value < 2 or treatment.with_ is None:
        return
    material = material_of(wording.model.worked, treatment.with_)
    time = wording.said(material.handle) if material else NOTHING
    if time:
        yield wording.say("do_coats_dry", time=time)
