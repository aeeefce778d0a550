"""The sentences that draw marks: on which faces, how far from where, what to keep off, and why.

In: the marks that a step draws.  Out: one sentence for each action.  A mark that is the mirror
image of the one before is told by it; lines that stop short alike are told to together.  Distances
are an author's, on the part as drawn; a mirrored piece has them from the sides that it has there.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import partial

from markupsafe import Markup

from patternpress.assembly.body import SIDE_AXIS
from patternpress.assembly.marking import Told, derived_lines, told_from
from patternpress.booklet.plain import short
from patternpress.booklet.sidewords import Faces, apart, named, side_as_it_stands, side_of, together
from patternpress.booklet.wording import NOTHING, Wording
from patternpress.design.phrases import OPPOSITE, Offset, Position, Target
from patternpress.design.records.parts import Mark

MIDDLES = ("middle_left", "middle_front", "middle_bottom")


def marks_words(marks: Sequence[Mark], wording: Wording) -> Iterator[Markup]:
    """The sentences that draw some marks, in the order of drawing."""
    kept: list[Mark] = []
    for index, mark in enumerate(marks):
        if kept and _first_ends(kept[0], wording) != _first_ends(mark, wording):
            yield from _keep_off(kept, wording)
            kept = []
        turned = _twin(marks[index - 1], mark, wording) if index else ""
        if turned:
            side = _side_on(_bearers(mark, wording)[0].thing, turned, wording)
            yield wording.say("do_mark_twin", mark=wording.name(mark.name.value), side=side)
        else:
            yield from _mark(mark, wording)
        if mark.keep_off:
            kept.append(mark)
    yield from _keep_off(kept, wording)


def _mark(mark: Mark, wording: Wording) -> Iterator[Markup]:
    if mark.line is not None and mark.line.target is not None:
        yield from _derived(mark, mark.line.target, wording)
        return
    groups: dict[tuple[Told, Markup], list[Target]] = {}
    for target in _bearers(mark, wording):
        told = told_from(mark, target.thing, wording.model.worked)
        told = replace(told, side=_standing(target.thing, told.side, wording))
        where = _where(mark, target, wording) if mark.line is None else NOTHING
        groups.setdefault((told, where), []).append(target)
    for (told, where), targets in groups.items():
        for faces in together(targets, wording):
            yield from short(faces.things, partial(_drawn, mark, told, faces, wording), wording)
        if not told.there and _traced(targets, wording):
            yield wording.say("do_mark_trace")
        if where:
            yield wording.say("do_mark_at", where=where)


def _bearers(mark: Mark, wording: Wording) -> list[Target]:
    """What bears a mark; of a part that some pieces mirror, each piece by itself."""
    beside = tuple(_counted_from(mark))
    targets = [each for group in mark.on for each in group]
    return [each for on in targets for each in apart(on, (*on.sides, *beside), wording)]


def _counted_from(mark: Mark) -> Iterator[str]:
    """The sides that a mark's place and ends are counted from, as its part is drawn."""
    line, position = mark.line, _position(mark)
    yield from (line.offset.side,) if line is not None and line.offset is not None else ()
    yield from (each.side for each in (position.offsets if position else ()))
    yield from (each.side for each in mark.keep_off)


def _standing(thing: str, side: str, wording: Wording) -> str:
    """A side of a part as drawn, as it is called on one of its pieces."""
    part = wording.model.worked.part(thing)
    return side_as_it_stands(thing, side, part) if part is not None and side else side


def _side_on(thing: str, side: str, wording: Wording) -> Markup:
    return wording.say(f"side_{_standing(thing, side, wording)}")


def _traced(targets: Sequence[Target], wording: Wording) -> bool:
    """Whether every one of some parts has a template."""
    parts = [wording.model.worked.part(each.thing) for each in targets]
    return all(each is not None and each.name in wording.model.worked.templates for each in parts)


def _derived(mark: Mark, along: Target, wording: Wording) -> Iterator[Markup]:
    """A line that follows from the joins: where it lies on each piece, like distances together,
    and beside the last of these, why.
    """
    *first, last = _derived_places(mark, wording) or (NOTHING,)
    yield from first
    if last:
        why = wording.say("do_mark_why", along=side_of(along, wording))
        yield Markup(" ").join((last, why))


def _derived_places(mark: Mark, wording: Wording) -> list[Markup]:
    model, found = wording.model, []
    lines = [
        line for line in derived_lines(model.worked, model.assembly) if line.mark == mark.name.value
    ]
    places = [(_standing(each.piece, each.side, wording), each.far, each.there) for each in lines]
    for side, far, there in dict.fromkeys(places):
        alike = [line for line, at in zip(lines, places, strict=True) if at == (side, far, there)]
        bearers = {line.piece for line in alike}
        bearers |= {model.worked.usage.part_of.get(each, each) for each in bearers}
        targets = [each for each in _bearers(mark, wording) if each.thing in bearers]
        for faces in together(targets, wording):
            told = faces.told(wording.listed(faces.things), wording)
            found.append(
                wording.say(
                    "do_mark_line",
                    mark=wording.name(mark.name.value),
                    faces=told,
                    far=wording.mm(far),
                    side=wording.say(f"side_{side}"),
                )
            )
        if not there:
            found.append(wording.say("do_mark_trace"))
    return found


def _first_ends(mark: Mark, wording: Wording) -> tuple[tuple[str, Markup], ...]:
    return _ends(mark, _bearers(mark, wording)[0], wording)


def _ends(mark: Mark, on: Target, wording: Wording) -> tuple[tuple[str, Markup], ...]:
    """Where a line stops on what bears it, across the face that it lies on."""
    across = [SIDE_AXIS[each] for each in on.sides]
    return tuple(
        (_standing(on.thing, each.side, wording), wording.said(each.distance))
        for each in mark.keep_off
        if SIDE_AXIS[each.side] not in across
    )


def _keep_off(marks: Sequence[Mark], wording: Wording) -> Iterator[Markup]:
    """What lines stop short of; ends at like distances share a sentence, pieces of either hand
    have their own.
    """
    hands: dict[frozenset[tuple[str, Markup]], list[Target]] = {}
    for mark in marks:
        for on in _bearers(mark, wording):
            if stops := _ends(mark, on, wording):
                hands.setdefault(frozenset(stops), []).append(on)
    key = "do_keep_off" if len(marks) == 1 else "do_keep_off_all"
    for bearers in hands.values():
        ends: dict[Markup, list[Markup]] = {}
        for name, far in _ends(marks[0], bearers[0], wording):
            side = wording.say("the", thing=wording.say(f"side_{name}"))
            ends.setdefault(far, []).append(side)
        things = wording.listed(dict.fromkeys(named(each.thing, wording) for each in bearers))
        for far, sides in ends.items():
            told = {"far": far, "side": wording.listed(sides), "things": things}
            yield wording.say(key if len(hands) == 1 else "do_keep_off_on", **told)


def _drawn(mark: Mark, told: Told, on: Faces, wording: Wording, things: Markup) -> Markup:
    faces = on.told(things, wording)
    if mark.line is not None and mark.line.offset is not None:
        offset = mark.line.offset
        return wording.say(
            "do_mark_line", mark=wording.name(mark.name.value), faces=faces,
            far=wording.said(offset.distance) if told.far is None else wording.mm(told.far),
            side=wording.say(f"side_{told.side}"),
        )  # fmt: skip
    if mark.line is not None and mark.line.how == "centre":
        way = wording.say(f"way_{mark.line.direction}")
        return wording.say(
            "do_mark_centre", mark=wording.name(mark.name.value), faces=faces, way=way
        )
    key = "do_mark_point" if mark.point else "do_mark_dot"
    return wording.say(key, mark=wording.name(mark.name.value), faces=faces)


def _position(mark: Mark) -> Position | None:
    return mark.point or mark.dot


def _where(mark: Mark, on: Target, wording: Wording) -> Markup:
    """How far from which sides, and along which way in the middle."""
    position = _position(mark)
    offsets = position.offsets if position else ()
    if not offsets:
        return wording.say("in_the_middle")
    places = [
        wording.say(
            "far_from", far=wording.said(o.distance), side=_side_on(on.thing, o.side, wording)
        )
        for o in offsets
    ]
    free = {0, 1, 2} - {SIDE_AXIS[each] for each in (*on.sides, *(o.side for o in offsets))}
    if on.sides:
        places += [wording.say(MIDDLES[axis]) for axis in sorted(free)]
    return wording.listed(places)


def _twin(first: Mark, mark: Mark, wording: Wording) -> str:
    """The side that a mark is counted from, where it mirrors the one before on the same face."""
    one, two = _position(first), _position(mark)
    if one is None or two is None or (first.on != mark.on and _faces(first) != _faces(mark)):
        return ""
    if bool(first.point) != bool(mark.point) or len(one.offsets) != len(two.offsets):
        return ""
    swapped = ""
    for a, b in zip(one.offsets, two.offsets, strict=True):
        if _far(a, wording) != _far(b, wording):
            return ""
        if a.side != b.side:
            if OPPOSITE[a.side] != b.side or swapped:
                return ""
            swapped = b.side
    return swapped


def _faces(mark: Mark) -> list[tuple[str, tuple[str, ...], str]]:
    return [(t.thing, t.sides, t.feature) for group in mark.on for t in group]


def _far(offset: Offset, wording: Wording) -> object:
    found = wording.model.worked.solver.value(offset.distance)
    return found.value if found else offset.distance.text
