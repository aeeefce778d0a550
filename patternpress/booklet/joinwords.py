"""The sentences of a step's joins: what a piece is glued to, then where it sits, each place once.

In: a `Step`.  Out: one sentence for each action.  The glue is named in the first sentence and
where it changes; joins that are alike but for left and right share their sentences.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

from markupsafe import Markup, escape

from patternpress.assembly.body import SIDE_AXIS
from patternpress.assembly.gluing import HELD, TOUCHING, glue_of, is_screw, meets, takes_glue
from patternpress.assembly.sizes import AXES
from patternpress.assembly.usage import row_of
from patternpress.booklet.likewords import Alike, alike
from patternpress.booklet.plain import short
from patternpress.booklet.seatwords import Seat, leans, row, seats
from patternpress.booklet.sidewords import holes_named, pieces_named, side_list, side_of, together
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


def joins_words(step: Step, wording: Wording) -> Iterator[Markup]:
    """Every join of a step, like ones together."""
    wording = replace(wording, joining=True)
    worked = wording.model.worked
    number = next((n for n, each in enumerate(worked.usage.steps, 1) if each is step), 0)
    named = ""
    for group in alike(worked, step.join):
        glue = ""
        if takes_glue(worked, wording.model.assembly, number, group.first):
            material = glue_of(worked, step, group.first)
            glue = material.name.value if material else ""
        told = Markup(escape(glue)) if glue != named else NOTHING
        named = glue or named
        joining = Joining(step, number, group.first, Markup(escape(glue)), told)
        if group.holes:
            yield from _fittings(joining, group, wording)
            continue
        yield from _join(joining, wording)
        yield from _others(joining, group, wording)


def _with_glue(sentence: Markup, glue: Markup, wording: Wording) -> Markup:
    return wording.say("with_glue", words=sentence, glue=glue) if glue else sentence


def _sentence(sentence: Markup, joining: Joining, wording: Wording) -> Markup:
    return wording.say("sentence", words=_with_glue(sentence, joining.told, wording))


def _join(joining: Joining, wording: Wording) -> Iterator[Markup]:
    joined = joining.joined
    held = [each for each in joined.places if each[1].how in HELD]
    touching = [each for each in joined.places if each[1].how in TOUCHING]
    if _slides(joined, wording) and touching:
        yield from _slid(joined, touching, wording)
        return
    seated = [each for each in joined.places if each not in touching and each not in held]
    if takes_glue(wording.model.worked, wording.model.assembly, joining.number, joined):
        seated += [each for each in touching if not each[1].glued]
        yield from _glued(joining, touching, held, wording)
    elif touching or held:
        yield from _laid(joining, touching, held, wording)
    elif seated:
        yield wording.say("do_set", piece=_pieces(joined, wording))
    yield from seats(seated, wording)
    if not _rests(touching):
        yield from leans(joined, wording)
    if not held:
        yield from row(joined, wording)
    elif joined.row is not None:
        key = "do_row_drive" if is_screw(wording.model.worked, joined) else "do_row_push"
        pieces = row_of(joined, wording.model.worked.usage.pieces)
        yield wording.say(key, count=len(pieces) - 1)


def _rests(touching: Sequence[Seat]) -> bool:
    """Whether a piece only lies there: then what it lies on gives it its slope."""
    return bool(touching) and not any(place.glued for _, place in touching)


# ------------------------------------------------------------------ glued


def _glued(
    joining: Joining, touching: Sequence[Seat], held: Sequence[Seat], wording: Wording
) -> Iterator[Markup]:
    """What takes glue: holes and grooves first, then every face that the piece lies against."""
    for sides, place in held:
        words = _held(joining.joined, sides.value, place, wording)
        yield wording.say("sentence", words=_with_glue(words, joining.glue, wording))
        joining = replace(joining, told=NOTHING)
    piece = _pieces(joining.joined, wording)
    faces = _faces(joining, touching, held, wording)
    if faces:
        told = partial(_glue_to, joining, piece, wording)
        yield from short(faces, told, wording, partial(_glue_too, wording))


def _glue_to(joining: Joining, piece: Markup, wording: Wording, against: Markup) -> Markup:
    return _sentence(wording.say("do_glue", piece=piece, against=against), joining, wording)


def _glue_too(wording: Wording, against: Markup) -> Markup:
    return wording.say("do_glue_too", against=against)


def _faces(
    joining: Joining, touching: Sequence[Seat], held: Sequence[Seat], wording: Wording
) -> list[Markup]:
    """The faces that are named in the join, then the pieces that it meets beside them."""
    worked = wording.model.worked
    named = [place.target for _, place in touching if place.glued]
    said = {each.thing for each in named} | {place.target.thing for _, place in held}
    said |= {piece for each in said for piece in worked.usage.pieces.get(each, ())}
    loose = {place.target.thing for _, place in touching if not place.glued}
    whole = any(each in worked.usage.sub_of or not each for each in said)
    met = () if whole else meets(worked, wording.model.assembly, joining.number, joining.joined)
    further = [each for each in met if each not in said | loose]
    return _listed([*named, *(Target(each, "piece") for each in further)], wording)


def _listed(targets: Sequence[Target], wording: Wording) -> list[Markup]:
    """Targets for a sentence, like sides of several things told once."""
    found: list[Markup] = []
    for faces in together(targets, wording):
        plain = not faces.key
        found += faces.things if plain else [faces.told(wording.listed(faces.things), wording)]
    return found


def _held(joined: Joined, sides: tuple[str, ...], place: Place, wording: Wording) -> Markup:
    """Into a hole or a groove, or through it."""
    part = wording.model.worked.part(joined.piece.value)
    bought = part is not None and part.form == "bought"
    if is_screw(wording.model.worked, joined):
        key = "do_drive_one"
    elif place.how == "in hole":
        key = "do_stick" if bought else "do_push"
    else:
        key = "do_seat" if place.how == "in groove" else "do_through"
    if place.distance is not None and key in ("do_stick", "do_push"):
        key += "_deep"
    return wording.say(
        key,
        piece=_pieces(joined, wording),
        side=_end(joined, sides, wording),
        hole=side_of(place.target, wording),
        far=wording.said(place.distance),
    )


def _end(joined: Joined, sides: tuple[str, ...], wording: Wording) -> Markup:
    """The side that goes in; of a strip or rod, which of its ends."""
    part = wording.model.worked.part(joined.piece.value)
    shown = side_list(sides, wording)
    long = part is not None and part.form in ("strip", "rod") and joined.row is None
    if part is not None and long and AXES[SIDE_AXIS[sides[0]]] == part.along:
        return wording.say("end_of", side=shown)
    return shown


def _pieces(joined: Joined, wording: Wording) -> Markup:
    """“the shelf (D)”, or of a row “the first slat (G)”."""
    key = "the_first" if joined.row is not None and joined.kind == "part" else "the"
    return wording.say(key, thing=wording.thing(joined.piece.value))


# ------------------------------------------------------------------ not glued


def _laid(
    joining: Joining, touching: Sequence[Seat], held: Sequence[Seat], wording: Wording
) -> Iterator[Markup]:
    """What only lies there: on what it rests, or against what it is laid."""
    joined = joining.joined
    piece = _pieces(joined, wording)
    for sides, place in held:
        words = _held(joined, sides.value, place, wording)
        if not is_screw(wording.model.worked, joined):
            words = wording.say("do_dry", words=words)
        yield wording.say("sentence", words=words)
    rests = [place for sides, place in touching if sides.value == ("bottom",)]
    key = "do_rest" if rests else "do_lay"
    named = [place.target for _, place in touching]
    said = {each.thing for each in named}
    met = meets(wording.model.worked, wording.model.assembly, joining.number, joined)
    alike_parts = {wording.model.worked.usage.part_of.get(each) for each in said}
    if rests:
        first = rests[0].target
        named += [
            Target(name, "piece", first.sides, first.feature)
            for name in met
            if name not in said and wording.model.worked.usage.part_of.get(name) in alike_parts
        ]
    if named:
        yield from short(_listed(named, wording), partial(_lay_on, key, piece, wording), wording)


def _lay_on(key: str, piece: Markup, wording: Wording, against: Markup) -> Markup:
    return wording.say("sentence", words=wording.say(key, piece=piece, against=against))


def _slides(joined: Joined, wording: Wording) -> bool:
    worked = wording.model.worked
    sub = worked.usage.sub_of.get(joined.piece.value)
    subs = {each.name.value: each for each in worked.book.sub_assemblies}
    moves = subs[sub].moves if sub in subs else None
    return moves is not None and moves.value == "slides"


def _slid(joined: Joined, touching: Sequence[Seat], wording: Wording) -> Iterator[Markup]:
    """What slides is pushed home; how much play it has at its sides is not measured."""
    piece = wording.say("the", thing=wording.thing(joined.piece.value))
    flush = [side for sides, place in joined.places if place.how == "flush" for side in sides.value]
    on = wording.listed(_listed([place.target for _, place in touching], wording))
    key = "do_slide_flush" if flush else "do_slide"
    sides = side_list(tuple(dict.fromkeys(flush)), wording)
    yield wording.say(key, piece=piece, against=on, sides=sides)


# ------------------------------------------------------------------ several alike


def _others(joining: Joining, group: Alike, wording: Wording) -> Iterator[Markup]:
    """The joins that are like the first but for left and right, or front and back."""
    if not group.others:
        return
    worked, assembly = wording.model.worked, wording.model.assembly
    verb = "glue" if takes_glue(worked, assembly, joining.number, group.first) else "set"
    verb = "slide" if _slides(group.first, wording) else verb
    if len(group.others) == 3:
        yield wording.say(f"do_corners_{verb}")
        return
    things = wording.listed(
        wording.say("the", thing=wording.thing(each.piece.value)) for each in group.others
    )
    yield wording.say(f"do_alike_{verb}", things=things)


def _fittings(joining: Joining, group: Alike, wording: Wording) -> Iterator[Markup]:
    """Like fittings in like holes: how many into which pieces, then which holes."""
    worked = wording.model.worked
    joins = (group.first, *group.others)
    holes: dict[str, list[str]] = {}
    for each in joins:
        target = each.places[0][1].target
        holes.setdefault(target.thing, []).append(target.feature)
    part = worked.part(group.first.piece.value)
    place = group.first.places[0][1]
    if part is None:
        return
    screw = is_screw(worked, group.first)
    key = "do_drive" if screw else "do_peg" if place.distance is None else "do_peg_deep"
    words = wording.say(
        key,
        count=len(joins),
        pieces=pieces_named(group.first.piece.value, wording),
        things=wording.listed(wording.say("the", thing=wording.thing(each)) for each in holes),
        far=wording.said(place.distance),
    )
    yield _sentence(words, joining, wording)
    features = dict.fromkeys(name for names in holes.values() for name in names)
    if len(features) > 1 or not screw:
        named = holes_named(tuple(features), wording)
        yield wording.say("do_holes_each" if len(holes) > 1 else "do_holes", holes=named)
