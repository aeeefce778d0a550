"""The sentences of what takes no glue: it rests on something, is pushed in dry, or slides home.

In: a `Joining`.  Out: one sentence for each action.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from markupsafe import Markup

from patternpress.assembly.gluing import meets
from patternpress.booklet.joinparts import Joining, held_sentences, listed, piece_of
from patternpress.booklet.plain import short
from patternpress.booklet.seatwords import Seat
from patternpress.booklet.sidewords import side_list
from patternpress.booklet.wording import Wording
from patternpress.design.phrases import Target
from patternpress.design.records.work import Joined


def rests_only(touching: Sequence[Seat]) -> bool:
    """Whether a piece only lies there: then what it lies on gives it its slope."""
    return bool(touching) and not any(place.glued for _, place in touching)


def laid(
    joining: Joining, touching: Sequence[Seat], held: Sequence[Seat], wording: Wording
) -> Iterator[Markup]:
    """What only lies there: on what it rests, or against what it is laid."""
    joined = joining.joined
    piece = piece_of(joined, wording)
    yield from held_sentences(joining, held, wording)
    rests = [place.target for sides, place in touching if sides.value == ("bottom",)]
    named = [place.target for sides, place in touching if place.target not in rests]
    if rests:
        part_of = wording.model.worked.usage.part_of
        said = {each.thing for each in (*rests, *named)}
        alike_parts = {part_of.get(each.thing) for each in rests}
        met = meets(wording.model.worked, wording.model.assembly, joining.number, joined)
        first = rests[0]
        rests += [
            Target(name, "piece", first.sides, first.feature)
            for name in met
            if name not in said and part_of.get(name) in alike_parts
        ]
        beside = wording.listed(listed(named, wording))
        on = partial(_lay_on, piece, beside, wording)
        yield from short(listed(rests, wording), on, wording)
    elif named:
        yield from short(listed(named, wording), partial(_lay, piece, wording), wording)


def _lay(piece: Markup, wording: Wording, against: Markup) -> Markup:
    return wording.say("sentence", words=wording.say("do_lay", piece=piece, against=against))


def _lay_on(piece: Markup, beside: Markup, wording: Wording, on: Markup) -> Markup:
    if not beside:
        words = wording.say("do_rest", piece=piece, against=on)
    else:
        words = wording.say("do_rest_against", piece=piece, on=on, against=beside)
    return wording.say("sentence", words=words)


def slides(joined: Joined, wording: Wording) -> bool:
    """Whether a join brings a sub-assembly that slides in the finished piece."""
    worked = wording.model.worked
    sub = worked.usage.sub_of.get(joined.piece.value)
    subs = {each.name.value: each for each in worked.book.sub_assemblies}
    moves = subs[sub].moves if sub in subs else None
    return moves is not None and moves.value == "slides"


def slid(joined: Joined, touching: Sequence[Seat], wording: Wording) -> Iterator[Markup]:
    """What slides is pushed home; how much play it has at its sides is not measured."""
    piece = wording.say("the", thing=wording.thing(joined.piece.value))
    flush = [side for sides, place in joined.places if place.how == "flush" for side in sides.value]
    on = wording.listed(listed([place.target for _, place in touching], wording))
    key = "do_slide_flush" if flush else "do_slide"
    sides = side_list(tuple(dict.fromkeys(flush)), wording)
    yield wording.say(key, piece=piece, against=on, sides=sides)
