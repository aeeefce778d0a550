"""The sentences of a join: what a piece touches, then where it sits, each place once.

In: a `Joined`.  Out: one sentence for each action.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from markupsafe import Markup

from patternpress.booklet.plain import key_of, lower, short
from patternpress.booklet.sidewords import side_list, side_of, way_list
from patternpress.booklet.wording import Wording
from patternpress.design.phrases import Place
from patternpress.design.records.work import Joined
from patternpress.design.span import Said

Seat = tuple[Said[tuple[str, ...]], Place]
HELD = ("in hole", "in groove", "through hole")
TOUCHING = ("against", "loose against")


def join_words(joined: Joined, wording: Wording) -> Iterator[Markup]:
    """First what the piece touches, then where it sits; each place once."""
    piece = wording.thing(joined.piece.value)
    touching = [each for each in joined.places if each[1].how in TOUCHING]
    holes = [each for each in joined.places if each[1].how in HELD]
    glued = [each for each in touching if each[1].glued]
    contacts = glued or touching
    if contacts:
        against = [side_of(place.target, wording) for _, place in contacts]
        glue = partial(_touch, "do_glue" if glued else "do_lay", piece, wording)
        yield from short(against, glue, wording)
    for sides, place in holes:
        side = side_list(sides.value, wording)
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


def _seats(seated: Sequence[Seat], wording: Wording) -> Iterator[Markup]:
    """Places of one kind and one target share a sentence: “its front and top flush with …”."""
    groups: dict[tuple[str, Markup, Markup], list[str]] = {}
    for sides, place in seated:
        key = (place.how, side_of(place.target, wording), wording.said(place.distance))
        groups.setdefault(key, []).extend(sides.value)
    flush = []
    for (how, held, far), sides_of in groups.items():
        named = tuple(dict.fromkeys(sides_of))
        side = way_list(named, wording) if how == "centred" else side_list(named, wording)
        if how == "flush":
            flush.append(wording.say("seat_flush_of", side=side, held=held))
        else:
            yield wording.say(f"seat_{key_of(how)}", side=side, held=held, far=far)
    if flush:
        yield from short(flush, partial(_flush, wording), wording)


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
            yield wording.say("do_row_last", action=lower(seat))
