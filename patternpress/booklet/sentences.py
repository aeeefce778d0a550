"""The sentences of a step, made from what the step says.

In: a `Step` and a `Wording`.  Out: one sentence for each action, imperative and short, in the
order of the bench: lay down, measure, cut, mark, treat, join, hold.  Where the author wrote
sentences of their own, those stand in place of the ones for joining.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from functools import partial

from markupsafe import Markup, escape

from patternpress.assembly.marking import derived_lines
from patternpress.booklet.holewords import groove_words, hole_words
from patternpress.booklet.wording import Wording
from patternpress.design.phrases import Place, Target
from patternpress.design.records.parts import Mark
from patternpress.design.records.work import Joined, Step, Treatment
from patternpress.design.span import Said
from patternpress.measure.pieces import NARROW_NO_BREAK, NO_BREAK

Seat = tuple[Said[tuple[str, ...]], Place]
HELD = ("in hole", "in groove", "through hole")
TOUCHING = ("against", "loose against")
# Common practice in plain writing: a sentence of instruction has at most 20 words.
MOST_WORDS = 20
WAYS = {"right": "left", "back": "front", "top": "bottom"}


def actions(step: Step, wording: Wording) -> tuple[Markup, ...]:
    """Every action of a step, one sentence each."""
    return tuple(_all(step, wording))


def _all(step: Step, wording: Wording) -> Iterator[Markup]:
    yield from _ready(step, wording)
    early, late = _marks(step, wording)
    for mark in early:
        yield from _mark(mark, wording)
    if not step.say:
        yield from _cutting(step, wording)
    for mark in late:
        yield from _mark(mark, wording)
    for treatment in step.treat:
        yield from _treat(treatment, wording)
    for prose in step.say:
        yield from wording.paragraphs(prose)
    if not step.say:
        for joined in step.join:
            yield from _join(joined, wording)
    for treatment in step.afterwards:
        yield from _treat(treatment, wording)
    for said in step.rub_out:
        yield wording.say("do_rub_out", mark=said.value)
    yield from _again(step, wording)


def _ready(step: Step, wording: Wording) -> Iterator[Markup]:
    """What comes first: the work on the bench, and how it lies."""
    if step.start is not None and step.join:
        yield wording.say("do_start", piece=wording.thing(step.start.value))
    if step.work_lies is not None and not _lies_so(step, wording):
        yield wording.say(f"do_lies_{_key(step.work_lies.value)}")


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


def _key(words: str) -> str:
    return words.replace(" ", "_")


def side_of(target: Target, wording: Wording) -> Markup:
    """A thing, with which of its sides where one is said."""
    if not target.thing:
        return wording.say("the_work")
    thing = wording.thing(target.thing)
    if target.kind in ("hole", "groove"):
        return wording.say("hole_of", hole=target.feature, thing=thing)
    if target.feature:
        return wording.say(
            "feature_of", feature=wording.say(f"feature_{target.feature}"), thing=thing
        )
    if not target.sides:
        return wording.say("the", thing=thing)
    sides = Markup(" ").join(wording.say(f"side_{side}") for side in target.sides)
    return wording.say("edge_of" if len(target.sides) > 1 else "side_of", side=sides, thing=thing)


def words_in(sentence: Markup) -> int:
    """How many words a sentence has, a figure with its unit for one, brackets left out."""
    text = re.sub(r"\([^()]*\)", "", sentence.striptags())
    text = re.sub(f"[{NO_BREAK}{NARROW_NO_BREAK}]", "", text)
    return sum(any(letter.isalnum() for letter in word) for word in text.split())


def _short(
    things: Sequence[Markup], made: Callable[[Markup], Markup], wording: Wording
) -> Iterator[Markup]:
    """One sentence of all things, or several with as many each as a short sentence holds."""
    taken: list[Markup] = []
    for thing in things:
        longer = [*taken, thing]
        if taken and words_in(made(wording.listed(longer))) > MOST_WORDS:
            yield made(wording.listed(taken))
            longer = [thing]
        taken = longer
    yield made(wording.listed(taken))


def _mark(mark: Mark, wording: Wording) -> Iterator[Markup]:
    if mark.line is not None and mark.line.target is not None:
        yield from _mark_derived(mark, mark.line.target, wording)
        return
    faces = [side_of(each, wording) for group in mark.on for each in group]
    yield from _short(faces, partial(_drawn, mark, wording), wording)
    if mark.line is None:
        yield wording.say("do_mark_at", where=_where(mark, wording))
    yield from _keep_off(mark, wording)


def _mark_derived(mark: Mark, along: Target, wording: Wording) -> Iterator[Markup]:
    """A line that follows from the joins: where it lies on each piece, like distances together."""
    model = wording.model
    lines = [
        line for line in derived_lines(model.worked, model.assembly) if line.mark == mark.name.value
    ]
    for side, far in dict.fromkeys((line.side, line.far) for line in lines):
        bearers = {line.piece for line in lines if (line.side, line.far) == (side, far)}
        bearers |= {model.worked.usage.part_of.get(each, each) for each in bearers}
        targets = [t for group in mark.on for t in group if t.thing in bearers]
        yield wording.say(
            "do_mark_line",
            mark=mark.name.value,
            faces=wording.listed(side_of(each, wording) for each in targets),
            far=wording.mm(far),
            side=wording.say(f"side_{side}"),
        )
    yield from _keep_off(mark, wording)
    if lines:
        yield wording.say("do_mark_why", along=side_of(along, wording))


def _keep_off(mark: Mark, wording: Wording) -> Iterator[Markup]:
    """What a line stops short of; ends at like distances share a sentence."""
    ends: dict[Markup, list[Markup]] = {}
    for offset in mark.keep_off:
        side = wording.say("the", thing=wording.say(f"side_{offset.side}"))
        ends.setdefault(wording.said(offset.distance), []).append(side)
    for far, sides in ends.items():
        yield wording.say("do_keep_off", far=far, side=wording.listed(sides))


def _drawn(mark: Mark, wording: Wording, faces: Markup) -> Markup:
    if mark.line is not None and mark.line.offset is not None:
        offset = mark.line.offset
        return wording.say(
            "do_mark_line", mark=mark.name.value, faces=faces,
            far=wording.said(offset.distance), side=wording.say(f"side_{offset.side}"),
        )  # fmt: skip
    if mark.line is not None and mark.line.how == "centre":
        way = wording.say(f"way_{mark.line.direction}")
        return wording.say("do_mark_centre", mark=mark.name.value, faces=faces, way=way)
    key = "do_mark_point" if mark.point else "do_mark_dot"
    return wording.say(key, mark=mark.name.value, faces=faces)


def _where(mark: Mark, wording: Wording) -> Markup:
    position = mark.point or mark.dot
    offsets = position.offsets if position else ()
    places = [
        wording.say("far_from", far=wording.said(o.distance), side=wording.say(f"side_{o.side}"))
        for o in offsets
    ]
    return wording.listed(places) if places else wording.say("in_the_middle")


def _treat(treatment: Treatment, wording: Wording) -> Iterator[Markup]:
    """The treatment in one sentence, or in several short ones; the note goes with the last."""
    verbs: dict[str, list[Target]] = {}
    for target in treatment.targets:
        verbs.setdefault(_verb(treatment, target, wording), []).append(target)
    made: list[Markup] = []
    for verb, targets in verbs.items():
        done = partial(_done, treatment, verb, wording)
        made += _short(_grouped(targets, wording), done, wording)
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
    return "cut_out" if treatment.verb == "drill" and sawn else _key(treatment.verb)


def _grouped(targets: Sequence[Target], wording: Wording) -> list[Markup]:
    """What is worked on, the holes of one thing together: “the upper and lower hole of …”."""
    groups: dict[tuple[str, str], list[Target]] = {}
    for number, target in enumerate(targets):
        own = "hole" if target.kind == "hole" else str(number)
        groups.setdefault((target.thing, own), []).append(target)
    found = []
    for group in groups.values():
        if len(group) == 1:
            found.append(side_of(group[0], wording))
            continue
        named = wording.listed(escape(each.feature) for each in group)
        thing = wording.thing(group[0].thing)
        found.append(wording.say("hole_of", hole=named, thing=thing))
    return found


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
        sentence = wording.say(
            "do_only_if", answer=treatment.only_if.value, action=_lower(sentence)
        )
    return wording.say("sentence", words=sentence)


def _lower(sentence: Markup) -> Markup:
    return Markup(sentence[:1].lower() + sentence[1:])


def _join(joined: Joined, wording: Wording) -> Iterator[Markup]:
    """First what the piece touches, then where it sits; each place once."""
    piece = wording.thing(joined.piece.value)
    touching = [each for each in joined.places if each[1].how in TOUCHING]
    holes = [each for each in joined.places if each[1].how in HELD]
    glued = [each for each in touching if each[1].glued]
    contacts = glued or touching
    if contacts:
        against = [side_of(place.target, wording) for _, place in contacts]
        glue = partial(_touch, "do_glue" if glued else "do_lay", piece, wording)
        yield from _short(against, glue, wording)
    for sides, place in holes:
        side = _sides(sides.value, wording)
        held = side_of(place.target, wording)
        key = "do_push_deep" if place.distance else "do_push"
        if place.how != "in hole":
            key = "do_seat" if place.how == "in groove" else "do_through"
        if not place.glued:
            key += "_dry"
        yield wording.say(key, piece=piece, side=side, hole=held, far=wording.said(place.distance))
    seated = [each for each in joined.places if each not in contacts and each not in holes]
    if seated and not contacts and not holes:
        yield wording.say("do_set", piece=piece)
    yield from _seats(seated, wording)
    if joined.leans is not None:
        yield from _lean(joined, wording)
    if joined.row is not None:
        yield from _row(joined, wording)


def _touch(key: str, piece: Markup, wording: Wording, against: Markup) -> Markup:
    return wording.say(key, piece=piece, against=against)


def _sides(sides: tuple[str, ...], wording: Wording) -> Markup:
    return wording.listed(wording.say(f"side_{side}") for side in sides)


def _ways(sides: tuple[str, ...], wording: Wording) -> Markup:
    """The directions of sides, each once: “from left to right and from front to back”."""
    ways = dict.fromkeys(WAYS.get(side, side) for side in sides)
    return wording.listed(wording.say(f"way_{way}") for way in ways)


def _seats(seated: Sequence[Seat], wording: Wording) -> Iterator[Markup]:
    """Places of one kind and one target share a sentence: “its front and top flush with …”."""
    groups: dict[tuple[str, Markup, Markup], list[str]] = {}
    for sides, place in seated:
        key = (place.how, side_of(place.target, wording), wording.said(place.distance))
        groups.setdefault(key, []).extend(sides.value)
    flush = []
    for (how, held, far), sides_of in groups.items():
        named = tuple(dict.fromkeys(sides_of))
        side = _ways(named, wording) if how == "centred" else _sides(named, wording)
        if how == "flush":
            flush.append(wording.say("seat_flush_of", side=side, held=held))
        else:
            yield wording.say(f"seat_{_key(how)}", side=side, held=held, far=far)
    if flush:
        yield from _short(flush, partial(_flush, wording), wording)


def _flush(wording: Wording, sides: Markup) -> Markup:
    return wording.say("seat_flush", sides=sides)


def _lean(joined: Joined, wording: Wording) -> Iterator[Markup]:
    assert joined.leans is not None
    for angle, toward in joined.leans.angles:
        end = joined.leans.end
        yield wording.say(
            "do_tilt" if toward in ("raised", "lowered") else "do_lean",
            end=wording.say(f"side_{end}" if end != "foot" else "end_foot"),
            angle=wording.said(angle),
            way=wording.say(f"lean_{toward}"),
        )


def _row(joined: Joined, wording: Wording) -> Iterator[Markup]:
    row = joined.row
    assert row is not None
    way = wording.say(f"side_{row.toward.value[0]}")
    if row.every is not None:
        yield wording.say("do_row_every", way=way, far=wording.said(row.every))
    elif row.up_to is not None:
        yield wording.say("do_row_even", way=way)
        for seat in _seats([(row.toward, row.up_to)], wording):
            yield wording.say("do_row_last", action=_lower(seat))
