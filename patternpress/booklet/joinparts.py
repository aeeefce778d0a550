"""What the sentences of joins are made of: the thing, what it goes into, what it goes against.

In: a `Joined`.  Out: markup for parts of sentences, the glue named where it is told.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import partial

from markupsafe import Markup

from patternpress.assembly.body import SIDE_AXIS
from patternpress.assembly.checks.prose import MOST_WORDS
from patternpress.assembly.gluing import has_screws
from patternpress.assembly.screwed import is_screw
from patternpress.assembly.sizes import AXES
from patternpress.booklet.plain import short, words_in
from patternpress.booklet.seatwords import Seat
from patternpress.booklet.sidewords import side_list, side_of, together
from patternpress.booklet.wording import NOTHING, Wording
from patternpress.design.phrases import Place, Target
from patternpress.design.records.work import Joined, Step


@dataclass(frozen=True)
class Joining:
    """One join while it is worded: its step, its glue, and what is told of it.

    `told` is empty where the glue was named just before; what goes into a hole names it always.
    """

    step: Step
    number: int
    joined: Joined
    glue: Markup
    told: Markup


def glueing(key: str, joining: Joining, told: Markup, wording: Wording, **parts: Markup) -> Markup:
    """An action that glues, with the glue where it is `told`, and the verb that goes with it."""
    wood = any(each in joining.glue.lower() for each in wording.listed_in("glue_wood"))
    verb = wording.say("verb_glue" if wood or not joining.glue else "verb_glue_other")
    if told:
        return wording.say(f"{key}_with", verb=verb, glue=told, **parts)
    return wording.say(key, verb=verb, **parts)


def with_glue(words: Markup, glue: Markup, wording: Wording) -> Markup:
    """An action with the glue that it takes, where one is to be named."""
    return wording.say("with_glue", words=words, glue=glue) if glue else words


def listed(targets: Sequence[Target], wording: Wording) -> list[Markup]:
    """Targets for a sentence, like sides of several things told once."""
    found: list[Markup] = []
    for faces in together(targets, wording):
        plain = not faces.key
        found += faces.things if plain else [faces.told(wording.listed(faces.things), wording)]
    return found


def held_sentences(joining: Joining, held: Sequence[Seat], wording: Wording) -> Iterator[Markup]:
    """What goes into holes and grooves, with its glue or without; several grooves at once.

    A screw that goes through one piece into another is driven once, through the one first.
    """
    if is_screw(wording.model.worked, joining.joined) and held:
        if has_screws(wording.model.worked, joining.joined):
            at = wording.listed(listed([place.target for _, place in held], wording))
            words = wording.say("do_screw_on", piece=piece_of(joining.joined, wording), hole=at)
        else:
            words = _driven(joining.joined, held, wording)
        yield wording.say("sentence", words=words)
        return
    several = [each for each in held if each[1].how == "in groove"]
    at_once = len(several) > 1 or any(not sides.value for sides, _ in several)
    for glued in (True, False):
        grooves = [place.target for _, place in several if place.glued is glued]
        if at_once and grooves:
            told = partial(_into_grooves, joining, glued, wording)
            yield from short(listed(grooves, wording), told, wording)
    rest = [each for each in held if not (at_once and each in several)]
    for glued in (True, False):
        same = [each for each in rest if each[1].glued is glued]
        past = [place.target for _, place in same if place.how == "through hole"]
        for sides, place in same:
            if place.how == "in groove":
                yield from _into(joining, sides.value, place, (), wording)
        into = [each for each in same if each[1].how == "in hole"]
        for number, (sides, place) in enumerate(into):
            yield from _into(joining, sides.value, place, () if number else past, wording)
        if past and not into:
            place = Place("through hole", past[0], glued=glued)
            yield from _into(joining, (), place, past[1:], wording)


def _driven(joined: Joined, held: Sequence[Seat], wording: Wording) -> Markup:
    """A screw with all that it goes through, then what it bites into."""
    through, into = (
        listed([place.target for _, place in held if (place.how == "through hole") is way], wording)
        for way in (True, False)
    )
    key = "do_drive_one" if not through else "do_drive_on" if into else "do_drive_through"
    hole, past = wording.listed(into), wording.listed(through)
    return wording.say(key, piece=piece_of(joined, wording), through=past, hole=hole)


def _into_grooves(joining: Joining, glued: bool, wording: Wording, grooves: Markup) -> Markup:
    """A piece goes into its grooves at once, as a shelf between two sides does."""
    piece = piece_of(joining.joined, wording)
    if glued:
        words = glueing("do_seat_all", joining, joining.glue, wording, piece=piece, holes=grooves)
        return wording.say("sentence", words=words)
    return glued_or_dry(
        wording.say("do_slide_all", piece=piece, holes=grooves), joining, glued, wording
    )


def _into(
    joining: Joining,
    sides: tuple[str, ...],
    place: Place,
    past: Sequence[Target],
    wording: Wording,
) -> Iterator[Markup]:
    """A piece goes into a hole or a groove; in a groove it may be glued.

    `past`: the holes of other pieces that it goes through on its way; where that gets long, what
    it comes to in the end has a sentence of its own.
    """
    joined = joining.joined
    if place.how != "in groove" or not place.glued:
        words = held_words(joined, sides, place, past, wording)
        told = glued_or_dry(words, joining, place.glued, wording)
        if not past or place.how != "in hole" or words_in(told) <= MOST_WORDS:
            yield told
            return
        words = wording.say(
            "do_through_end" if sides else "do_through",
            piece=piece_of(joined, wording),
            side=_end(joined, sides, wording),
            hole=wording.listed(listed(past, wording)),
        )
        yield glued_or_dry(words, joining, place.glued, wording)
        key = "do_goes_on" if place.distance is None else "do_goes_on_deep"
        far = wording.said(place.distance)
        yield wording.say(key, hole=side_of(place.target, wording), far=far)
        return
    parts = {
        "piece": piece_of(joined, wording),
        "side": _end(joined, sides, wording),
        "hole": side_of(place.target, wording),
    }
    words = glueing("do_seat", joining, joining.glue, wording, **parts)
    yield wording.say("sentence", words=words)


def glued_or_dry(words: Markup, joining: Joining, glued: bool, wording: Wording) -> Markup:
    """A sentence with its glue, or that it takes none; screws are driven dry without a word."""
    if glued:
        words = with_glue(words, joining.glue, wording)
    elif not is_screw(wording.model.worked, joining.joined):
        words = wording.say("do_dry", words=words)
    return wording.say("sentence", words=words)


def held_words(
    joined: Joined,
    sides: tuple[str, ...],
    place: Place,
    past: Sequence[Target],
    wording: Wording,
) -> Markup:
    """Into a hole, through it, or into a groove without glue; first through the holes `past`."""
    part = wording.model.worked.part(joined.piece.value)
    bought = part is not None and part.form == "bought"
    hole = [place.target]
    if place.how == "in hole":
        key = "do_stick" if bought or not sides else "do_push"
        key += "_on" if past else ""
        key += "_deep" if place.distance is not None else ""
    else:
        key = "do_slide_in" if place.how == "in groove" else "do_through"
        hole = [*hole, *past] if key == "do_through" else hole
    return wording.say(
        key,
        piece=piece_of(joined, wording),
        side=_end(joined, sides, wording),
        hole=wording.listed(listed(hole, wording)),
        through=wording.listed(listed(past, wording)),
        far=wording.said(place.distance),
    )


def _end(joined: Joined, sides: tuple[str, ...], wording: Wording) -> Markup:
    """The side that goes in; of a strip or rod, which of its ends; nothing where none is said."""
    if not sides:
        return NOTHING
    part = wording.model.worked.part(joined.piece.value)
    shown = side_list(sides, wording)
    long = part is not None and part.form in ("strip", "rod") and joined.row is None
    if part is not None and long and AXES[SIDE_AXIS[sides[0]]] == part.along:
        return wording.say("end_of", side=shown)
    return shown


def piece_of(joined: Joined, wording: Wording) -> Markup:
    """“the shelf (D)”, or of a row “the first slat (G)”."""
    key = "the_first" if joined.row is not None and joined.kind == "part" else "the"
    return wording.say(key, thing=wording.thing(joined.piece.value))
