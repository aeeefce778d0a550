"""The sentences of a step, made from what the step says.

In: a `Step` and a `Wording`.  Out: one sentence for each action, imperative and short, in the
order of the bench: lay down, measure, cut, mark, treat, join, hold.  Where the author wrote
sentences of their own, those stand in place of the ones for joining.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from markupsafe import Markup

from patternpress.booklet.wording import Wording
from patternpress.design.phrases import Place, Target
from patternpress.design.records.parts import Mark
from patternpress.design.records.work import Joined, Step, Treatment
from patternpress.design.span import Said

Seat = tuple[Said[tuple[str, ...]], Place]
TOUCHING = ("against", "loose against")


def actions(step: Step, wording: Wording) -> tuple[Markup, ...]:
    """Every action of a step, one sentence each."""
    return tuple(_all(step, wording))


def _all(step: Step, wording: Wording) -> Iterator[Markup]:
    yield from _ready(step, wording)
    marks = {each.name.value: each for each in wording.model.worked.book.marks}
    for said in step.mark:
        if said.value in marks:
            yield from _mark(marks[said.value], wording)
    for treatment in step.treat:
        yield _treat(treatment, wording)
    for prose in step.say:
        yield from wording.paragraphs(prose)
    if not step.say:
        for joined in step.join:
            yield from _join(joined, wording)
    for treatment in step.afterwards:
        yield _treat(treatment, wording)


def _ready(step: Step, wording: Wording) -> Iterator[Markup]:
    """What comes first: the work on the bench, measuring, cutting."""
    say, thing = wording.say, wording.thing
    if step.start is not None and step.join:
        yield say("do_start", piece=thing(step.start.value))
    if step.work_lies is not None:
        yield say(f"do_lies_{_key(step.work_lies.value)}")
    for said in step.rub_out:
        yield say("do_rub_out", mark=said.value)
    if step.say:
        return
    for said in step.measure:
        yield say("do_measure", opening=said.value)
    if step.cut:
        yield say("do_cut", parts=wording.listed(thing(each.value) for each in step.cut))


def _key(words: str) -> str:
    return words.replace(" ", "_")


def side_of(target: Target, wording: Wording) -> Markup:
    """A thing, with which of its sides where one is said."""
    thing = wording.thing(target.thing) if target.thing else wording.say("the_work")
    if target.kind == "hole":
        return wording.say("hole_of", hole=target.feature, thing=thing)
    if target.feature:
        return wording.say(
            "feature_of", feature=wording.say(f"feature_{target.feature}"), thing=thing
        )
    if not target.sides:
        return wording.say("the", thing=thing)
    sides = Markup(" ").join(wording.say(f"side_{side}") for side in target.sides)
    return wording.say("edge_of" if len(target.sides) > 1 else "side_of", side=sides, thing=thing)


def _mark(mark: Mark, wording: Wording) -> Iterator[Markup]:
    faces = wording.listed(side_of(each, wording) for group in mark.on for each in group)
    if mark.line is not None and mark.line.offset is not None:
        offset = mark.line.offset
        yield wording.say(
            "do_mark_line", mark=mark.name.value, faces=faces,
            far=wording.said(offset.distance), side=wording.say(f"side_{offset.side}"),
        )  # fmt: skip
    elif mark.line is not None and mark.line.how == "centre":
        way = wording.say(f"way_{mark.line.direction}")
        yield wording.say("do_mark_centre", mark=mark.name.value, faces=faces, way=way)
    elif mark.line is not None and mark.line.target is not None:
        along = side_of(mark.line.target, wording)
        yield wording.say("do_mark_along", mark=mark.name.value, faces=faces, along=along)
    else:
        yield _mark_point(mark, faces, wording)
    for offset in mark.keep_off:
        side = wording.say(f"side_{offset.side}")
        yield wording.say("do_keep_off", far=wording.said(offset.distance), side=side)


def _mark_point(mark: Mark, faces: Markup, wording: Wording) -> Markup:
    position = mark.point or mark.dot
    key = "do_mark_point" if mark.point else "do_mark_dot"
    offsets = position.offsets if position else ()
    places = [
        wording.say("far_from", far=wording.said(o.distance), side=wording.say(f"side_{o.side}"))
        for o in offsets
    ]
    where = wording.listed(places) if places else wording.say("in_the_middle")
    return wording.say(key, mark=mark.name.value, faces=faces, where=where)


def _treat(treatment: Treatment, wording: Wording) -> Markup:
    verb = _key(treatment.verb)
    what = wording.listed(side_of(each, wording) for each in treatment.targets)
    sentence = wording.say(f"do_{verb}", what=what)
    if treatment.by is not None:
        sentence = wording.say("do_by", action=sentence, by=wording.said(treatment.by))
    if treatment.with_ is not None:
        sentence = wording.say("do_with", action=sentence, tool=treatment.with_.value)
    if treatment.coats is not None and treatment.coats.value > 1:
        sentence = wording.say("do_coats", action=sentence, coats=treatment.coats.value)
    if treatment.only_if is not None:
        sentence = wording.say(
            "do_only_if", answer=treatment.only_if.value, action=_lower(sentence)
        )
    whole = wording.say("sentence", words=sentence)
    note = wording.prose(treatment.note)
    return wording.say("two_sentences", first=whole, second=note) if note else whole


def _lower(sentence: Markup) -> Markup:
    return Markup(sentence[:1].lower() + sentence[1:])


def _join(joined: Joined, wording: Wording) -> Iterator[Markup]:
    """First what the piece touches, then where it sits; each place once."""
    piece = wording.thing(joined.piece.value)
    touching = [each for each in joined.places if each[1].how in TOUCHING]
    holes = [each for each in joined.places if each[1].how == "in hole"]
    glued = [each for each in touching if each[1].glued]
    contacts = glued or touching
    if contacts:
        against = wording.listed(side_of(place.target, wording) for _, place in contacts)
        yield wording.say("do_glue" if glued else "do_lay", piece=piece, against=against)
    for sides, place in holes:
        side = _sides(sides.value, wording)
        held = side_of(place.target, wording)
        key = "do_push_deep" if place.distance else "do_push"
        yield wording.say(key, piece=piece, side=side, hole=held, far=wording.said(place.distance))
    seated = [each for each in joined.places if each not in contacts and each not in holes]
    if seated and not contacts and not holes:
        yield wording.say("do_set", piece=piece)
    yield from _seats(seated, wording)
    if joined.leans is not None:
        yield from _lean(joined, wording)
    if joined.row is not None:
        yield from _row(joined, wording)


def _sides(sides: tuple[str, ...], wording: Wording) -> Markup:
    return wording.listed(wording.say(f"side_{side}") for side in sides)


def _seats(seated: Sequence[Seat], wording: Wording) -> Iterator[Markup]:
    """Places of one kind and one target share a sentence: “its front and top flush with …”."""
    groups: dict[tuple[str, Markup, Markup], list[str]] = {}
    for sides, place in seated:
        key = (place.how, side_of(place.target, wording), wording.said(place.distance))
        groups.setdefault(key, []).extend(sides.value)
    for (how, held, far), sides_of in groups.items():
        side = _sides(tuple(dict.fromkeys(sides_of)), wording)
        yield wording.say(f"seat_{_key(how)}", side=side, held=held, far=far)


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
        held = side_of(row.up_to.target, wording)
        yield wording.say("do_row_even", way=way, held=held, far=wording.said(row.up_to.distance))
