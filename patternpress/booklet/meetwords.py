"""What a joined thing meets as it comes: what it is glued to, and which holes and grooves take it
or go over what is there, whether the join names them or not.

In: a `Joining`.  Out: targets and seats for the sentences of joins, and the sentences of holes and
grooves that go over something.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from functools import partial

from markupsafe import Markup

from patternpress.assembly.entering import Entering, entered
from patternpress.assembly.gluing import HELD, meetings, takes_glue
from patternpress.assembly.marked import hole_of
from patternpress.assembly.moving import moving_things
from patternpress.assembly.placing import Placed
from patternpress.assembly.usage import row_of
from patternpress.booklet.joinparts import Joining, glued_or_dry, glueing, listed
from patternpress.booklet.plain import lower, short
from patternpress.booklet.seatwords import Seat
from patternpress.booklet.sidewords import holes_named, pieces_named
from patternpress.booklet.wording import NOTHING, Wording
from patternpress.design.phrases import Place, Target
from patternpress.design.records.work import Joined
from patternpress.design.span import Said

FEW = 2  # pieces of one part that are still called by their names


def entering(
    number: int, joined: Joined, wording: Wording
) -> tuple[list[Entering], tuple[Entering, ...]]:
    """What the thing goes into that its join does not name, and what of it goes over what is there.

    Each hole and groove once.
    """
    model = wording.model
    into, over = entered(model.worked, model.assembly, number, joined)
    held = [place.target for _, place in joined.places if place.how in HELD]
    told = {(each.thing, _row(each, wording)) for each in (*held, *joined.turns_in)}
    fresh = []
    for each in into:
        if not {(name, each.hollow.name) for name in each.holder.called} & told:
            told.add((each.holder.told, each.hollow.name))
            fresh.append(each)
    return fresh, over


def _row(target: Target, wording: Wording) -> str:
    """The name of a hole or a groove, of one in a row the row's."""
    hole = hole_of(wording.model.worked.part(target.thing), target.feature)
    return hole.name.value if hole is not None else target.feature


def passes(number: int, joined: Joined, wording: Wording) -> tuple[tuple[str, bool], ...]:
    """What kinds of holes and grooves a thing passes unsaid; its own, that go over others, too."""
    into, over = entering(number, joined, wording)
    return tuple((each.hollow.kind, each in over) for each in (*into, *over))


def held_seats(joining: Joining, into: Sequence[Entering], wording: Wording) -> list[Seat]:
    """The holes and grooves that a join names, then the others that the thing goes into.

    Those have no side: which end goes in is plain, or both do.
    """
    joined, model = joining.joined, wording.model
    held = [each for each in joined.places if each[1].how in HELD]
    glued = any(place.glued for _, place in held) or (
        not held and takes_glue(model.worked, model.assembly, joining.number, joined)
    )
    for each in into:
        through = each.hollow.kind == "hole" and each.hollow.through
        how = "through hole" if through else f"in {each.hollow.kind}"
        target = Target(each.holder.told, each.hollow.kind, feature=each.hollow.name)
        held.append((Said(()), Place(how, target, glued=glued and not each.loose)))
    return held


def faces(
    joining: Joining,
    touching: Sequence[Seat],
    held: Sequence[Seat],
    over: Sequence[Entering],
    wording: Wording,
) -> list[Markup]:
    """The faces that are named in the join, then the pieces that it meets beside them.

    What goes into its holes is told with those.  Of a row, what the first piece meets.
    """
    named = [place.target for _, place in touching if place.glued]
    pegs = {each.guest.told for each in over if each.hollow.kind == "hole"}
    met = [other for name, other in _met(joining, touching, held, wording)
           if name == _first(joining, wording)]  # fmt: skip
    further = dict.fromkeys(each.told for each in met if each.told not in pegs)
    return listed([*named, *(Target(each, "piece") for each in further)], wording)


def _first(joining: Joining, wording: Wording) -> str:
    return row_of(joining.joined, wording.model.worked.usage.pieces)[0]


def _met(
    joining: Joining, touching: Sequence[Seat], held: Sequence[Seat], wording: Wording
) -> list[tuple[str, Placed]]:
    """What it lies against that its join does not name, nor a whole that has it."""
    worked = wording.model.worked
    named = [place.target for _, place in touching if place.glued]
    said = {each.thing for each in named} | {place.target.thing for _, place in held}
    said |= {piece for each in said for piece in worked.usage.pieces.get(each, ())}
    if "" in said:
        return []
    said |= {place.target.thing for _, place in touching if not place.glued}
    met = meetings(worked, wording.model.assembly, joining.number, joining.joined)
    return [
        (name, other)
        for name, other in met
        if not {other.told, other.brought, *other.path[:1]} & said
    ]


def row_faces(
    joining: Joining, touching: Sequence[Seat], held: Sequence[Seat], wording: Wording
) -> Iterator[Markup]:
    """What the others of a row are glued to and the first is not: the last of them, or some."""
    if joining.joined.row is None:
        return
    met = _met(joining, touching, held, wording)
    names = row_of(joining.joined, wording.model.worked.usage.pieces)
    first = {other.told for name, other in met if name == names[0]}
    later = [(name, other.told) for name, other in met if other.told not in first]
    some = {told for name, told in later if name != names[-1]}
    last = dict.fromkeys(told for _, told in later if told not in some)
    more = dict.fromkeys(told for _, told in later if told in some)
    if more:
        yield glueing("do_row_some", joining, NOTHING, wording, against=_all(more, wording))
    if last:
        action = glueing("do_glue_too", joining, NOTHING, wording, against=_all(last, wording))
        yield wording.say("do_row_last", action=lower(action, wording))


def _all(names: Iterable[str], wording: Wording) -> Markup:
    return wording.listed(listed([Target(each, "piece") for each in names], wording))


def over_words(joining: Joining, over: Sequence[Entering], wording: Wording) -> Iterator[Markup]:
    """The holes and grooves of the thing that go over what is there, like ones together."""
    groups: dict[_Told, list[Entering]] = {}
    for each in over:
        key = (each.holder.told, each.hollow.kind, each.guest.part, each.loose)
        groups.setdefault(key, []).append(each)
    wet = takes_glue(wording.model.worked, wording.model.assembly, joining.number, joining.joined)
    for (holder, kind, _, loose), found in _told_apart(groups):
        names = list(dict.fromkeys(each.hollow.name for each in found))
        guests = list(dict.fromkeys(each.guest.told for each in found))
        several = len(names) == 1 and len(found) > 1 and kind == "hole"
        hollow = wording.several(names[0]) if several else holes_named(names, wording)
        on = wording.say("the", thing=wording.thing(holder))
        words = partial(_over, joining, kind, wording.say("cut_of", side=hollow, things=on),
                        wet and not loose, wording)  # fmt: skip
        yield from short(_guests(guests, wording), words, wording)


def steadied(
    joined: Joined, into: Sequence[Entering], over: Sequence[Entering], wording: Wording
) -> Iterator[Markup]:
    """What turns on pins stands on one of them alone until the board with the other is on."""
    turning = moving_things(wording.model.worked)
    if {joined.piece.value, *(each.thing for each in joined.turns_in)} & turning:
        return
    there = (*(each.holder for each in into), *(each.guest for each in over))
    loose = dict.fromkeys(each.brought for each in there if each.brought in turning)
    if loose:
        things = wording.listed(listed([Target(each, "piece") for each in loose], wording))
        yield wording.say("do_steady", things=things)


_Told = tuple[str, str, str, bool]


def _told_apart(
    groups: dict[_Told, list[Entering]],
) -> Iterator[tuple[_Told, list[Entering]]]:
    """A few pieces in several holes or grooves are told one by one: which goes into which."""
    for key, found in groups.items():
        names = dict.fromkeys(each.hollow.name for each in found)
        if len({each.guest.told for each in found}) > FEW:
            yield key, found
            continue
        for name in names:
            yield key, [each for each in found if each.hollow.name == name]


def _guests(guests: Sequence[str], wording: Wording) -> list[Markup]:
    if len(guests) > FEW and wording.model.worked.part(guests[0]) is not None:
        return [pieces_named(guests[0], len(guests), wording)]
    return listed([Target(each, "piece") for each in guests], wording)


def _over(
    joining: Joining, kind: str, hollow: Markup, glued: bool, wording: Wording, things: Markup
) -> Markup:
    words = wording.say(f"do_{kind}_over", hollow=hollow, things=things)
    if kind == "groove" and glued:  # the faces beside it took their glue in the same breath
        return wording.say("sentence", words=words)
    return glued_or_dry(words, joining, glued, wording)
