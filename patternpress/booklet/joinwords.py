"""The sentences of a step's joins: what a piece is glued to, then where it sits, each place once.

In: a `Step`.  Out: one sentence for each action.  The glue is named in the first sentence and
where it changes; joins that are alike but for left and right share their sentences.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace
from functools import partial

from markupsafe import Markup

from patternpress.assembly.entering import Entering
from patternpress.assembly.gluing import (
    TOUCHING,
    glue_of,
    has_screws,
    takes_glue,
)
from patternpress.assembly.screwed import is_screw
from patternpress.assembly.usage import row_of
from patternpress.booklet.countwords import count_of_row
from patternpress.booklet.joinparts import (
    Joining,
    glued_or_dry,
    glueing,
    held_sentences,
    listed,
    piece_of,
)
from patternpress.booklet.laidwords import laid, rests_only, slid, slides
from patternpress.booklet.likewords import Alike, alike, driven
from patternpress.booklet.meetwords import (
    entering,
    faces,
    held_seats,
    over_words,
    passes,
    row_faces,
    steadied,
)
from patternpress.booklet.plain import short
from patternpress.booklet.seatwords import Seat, leans, row, seats, turns
from patternpress.booklet.sidewords import holes_named, pieces_named
from patternpress.booklet.wording import NOTHING, Wording
from patternpress.design.records.work import Joined, Step


def joins_words(step: Step, wording: Wording) -> Iterator[Markup]:
    """Every join of a step, like ones together."""
    wording = replace(wording, joining=True)
    worked = wording.model.worked
    number = next((n for n, each in enumerate(worked.usage.steps, 1) if each is step), 0)
    named, counts = "", set[Markup]()
    for group in _groups(step, number, wording):
        glue = ""
        if takes_glue(worked, wording.model.assembly, number, group.first):
            material = glue_of(worked, step, group.first)
            glue = material.name.value if material else ""
        told = wording.name(glue) if glue != named else NOTHING
        named = glue or named
        joining = Joining(step, number, group.first, wording.name(glue) if glue else NOTHING, told)
        if group.holes:
            yield from _fittings(joining, group, wording)
        else:
            yield from _join(joining, wording)
            yield from _others(joining, group, wording)
        said = [p.target for each in (group.first, *group.others) for _, p in each.places]
        fresh = [c for target in said for c in count_of_row(target, wording) if c not in counts]
        yield from dict.fromkeys(fresh)
        counts.update(fresh)


def _groups(step: Step, number: int, wording: Wording) -> Iterator[Alike]:
    """Like joins together, less those that pass other holes and grooves than their fellows do."""
    worked = wording.model.worked
    for group in alike(worked, step.join):
        joins = (group.first, *group.others)
        passed = [passes(number, each, wording) for each in joins]
        apart = group.holes and not _like_holes(joins)
        if apart or (group.holes and any(passed)):
            yield from (Alike(each) for each in joins)
            continue
        like = [each for each, own in zip(joins, passed, strict=True) if own == passed[0]]
        yield Alike(group.first, tuple(like[1:]), group.holes)
        yield from (Alike(each) for each in joins if each not in like)


def _like_holes(joins: Sequence[Joined]) -> bool:
    """Whether every thing that like fittings go into has the same holes for them."""
    holes = [tuple(_holes_of(joins, nth).values()) for nth in (0, -1)]
    return all(len(set(map(tuple, each))) == 1 for each in holes)


def _join(joining: Joining, wording: Wording) -> Iterator[Markup]:
    joined = joining.joined
    yield from turns(joined, piece_of(joined, wording), wording)
    touching = [each for each in joined.places if each[1].how in TOUCHING]
    if slides(joined, wording) and touching:
        yield from slid(joined, touching, wording)
        return
    into, over = entering(joining.number, joined, wording)
    held = held_seats(joining, into, wording)
    seated = [each for each in joined.places if each not in touching and each not in held]
    glued = takes_glue(wording.model.worked, wording.model.assembly, joining.number, joined)
    # Of a sub-assembly, before what says “its”: that is not the piece with the hole.
    whole = joined.kind == "sub-assembly"
    if whole:
        yield from over_words(joining, over, wording)
    if glued:
        seated += [each for each in touching if not each[1].glued]
        yield from _glued(joining, touching, held, over, wording)
    elif touching or held:
        yield from laid(joining, touching, held, wording)
    elif seated:
        yield wording.say("do_set", piece=piece_of(joined, wording))
    if not whole:
        yield from over_words(joining, over, wording)
    yield from seats(seated, wording, joined)
    yield from _turning(joined, wording)
    yield from steadied(joined, into, over, wording)
    if joined.kind == "sub-assembly" or not rests_only(touching):
        yield from leans(joined, wording)
    yield from _rest_of_row(joined, held, wording)
    if glued:
        yield from row_faces(joining, touching, held, wording)


def _rest_of_row(joined: Joined, held: Sequence[Seat], wording: Wording) -> Iterator[Markup]:
    """The other pieces of a row: into the next holes, or so far from each other."""
    if not held:
        yield from row(joined, wording)
    elif joined.row is not None:
        worked = wording.model.worked
        key = "do_row_drive" if is_screw(worked, joined) else "do_row_push"
        key = "do_row_screw_on" if has_screws(worked, joined) else key
        count = len(row_of(joined, worked.usage.pieces)) - 1
        yield wording.say(f"{key}_one" if count == 1 else key, count=count)


def _turning(joined: Joined, wording: Wording) -> Iterator[Markup]:
    """The holes that it turns in, which take no glue."""
    if joined.turns_in:
        holes = wording.listed(listed(joined.turns_in, wording))
        yield wording.say("do_turns_free", piece=piece_of(joined, wording), hole=holes)


def _glued(
    joining: Joining,
    touching: Sequence[Seat],
    held: Sequence[Seat],
    over: Sequence[Entering],
    wording: Wording,
) -> Iterator[Markup]:
    """What takes glue: holes and grooves first, then every face that the piece lies against."""
    yield from held_sentences(joining, held, wording)
    if held:
        joining = replace(joining, told=NOTHING)
    piece = piece_of(joining.joined, wording)
    met = faces(joining, touching, held, over, wording)
    if met:
        told = partial(_glue_to, joining, piece, wording)
        yield from short(met, told, wording, partial(_glue_too, joining, wording))


def _glue_to(joining: Joining, piece: Markup, wording: Wording, against: Markup) -> Markup:
    words = glueing("do_glue", joining, joining.told, wording, piece=piece, against=against)
    return wording.say("sentence", words=words)


def _glue_too(joining: Joining, wording: Wording, against: Markup) -> Markup:
    return glueing("do_glue_too", joining, NOTHING, wording, against=against)


def _others(joining: Joining, group: Alike, wording: Wording) -> Iterator[Markup]:
    """The joins that are like the first but for left and right, or front and back."""
    if not group.others:
        return
    worked, assembly = wording.model.worked, wording.model.assembly
    verb = "glue" if takes_glue(worked, assembly, joining.number, group.first) else "set"
    verb = "slide" if slides(group.first, wording) else verb
    if len(group.others) == 3:
        yield glueing(f"do_corners_{verb}", joining, NOTHING, wording)
        return
    things = wording.listed(
        wording.say("the", thing=wording.thing(each.piece.value)) for each in group.others
    )
    yield glueing(f"do_alike_{verb}", joining, NOTHING, wording, things=things)
    if len(group.others) == 1:
        yield from seats(_other_marks(group.first, group.others[0]), wording, group.others[0])


def _other_marks(first: Joined, other: Joined) -> list[Seat]:
    """The places of a like join on marks of other names, which a mirror image does not tell."""
    known = {place.target.thing for _, place in first.places}
    return [
        (sides, place)
        for sides, place in other.places
        if place.target.kind == "mark" and place.target.thing not in known
    ]


def _fittings(joining: Joining, group: Alike, wording: Wording) -> Iterator[Markup]:
    """Like fittings in like holes: how many into which pieces, then which holes."""
    worked = wording.model.worked
    joins = (group.first, *group.others)
    holes = _holes_of(joins, -1)
    part = worked.part(group.first.piece.value)
    place = driven(group.first)[-1]
    if part is None:
        return
    screw, on = is_screw(worked, group.first), len(group.first.places) > 1
    with_screws = has_screws(worked, group.first)
    key = "do_drive" if screw else "do_peg" if place.distance is None else "do_peg_deep"
    key = "do_screw_all" if with_screws else key
    words = wording.say(
        "do_drive_all" if on and not with_screws else key,
        pieces=pieces_named(group.first.piece.value, len(joins), wording),
        through=_things(_holes_of(joins, 0), wording),
        things=_things(holes, wording),
        far=wording.said(place.distance),
    )
    yield glued_or_dry(words, joining, place.glued, wording)
    features = _features(holes)
    named = holes_named(features, wording)
    if on:
        past = holes_named(_features(_holes_of(joins, 0)), wording)
        yield wording.say("do_holes_on", through=past, holes=named)
    elif len(features) > 1 or not screw:
        each = "do_holes_one" if len(features) == 1 else "do_holes_each"
        yield wording.say(each if len(holes) > 1 else "do_holes", holes=named)


def _holes_of(joins: Sequence[Joined], nth: int) -> dict[str, list[str]]:
    """Piece by piece, the holes that are the first or the last on the way of like fittings."""
    holes: dict[str, list[str]] = {}
    for each in joins:
        target = driven(each)[nth].target
        holes.setdefault(target.thing, []).append(target.feature)
    return holes


def _things(holes: Iterable[str], wording: Wording) -> Markup:
    return wording.listed(wording.say("the", thing=wording.thing(each)) for each in holes)


def _features(holes: Mapping[str, Iterable[str]]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(name for names in holes.values() for name in names))
