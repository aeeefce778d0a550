"""The sentences that draw marks: on which faces, how far from where, what to keep off, and why.

In: the marks that a step draws.  Out: one sentence for each action.  A mark that is the mirror
image of the one before is told by it; lines that stop short alike are told to together.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from functools import partial

from markupsafe import Markup

from patternpress.assembly.body import SIDE_AXIS
from patternpress.assembly.marking import Told, derived_lines, told_from
from patternpress.booklet.plain import short
from patternpress.booklet.sidewords import Faces, side_of, together
from patternpress.booklet.wording import Wording
from patternpress.design.phrases import OPPOSITE, Offset, Position, Target
from patternpress.design.records.parts import Mark

MIDDLES = ("middle_left", "middle_front", "middle_bottom")


def marks_words(marks: Sequence[Mark], wording: Wording) -> Iterator[Markup]:
    """The sentences that draw some marks, in the order of drawing."""
    kept: list[Mark] = []
    for index, mark in enumerate(marks):
        if kept and _ends(kept[0], wording) != _ends(mark, wording):
            yield from _keep_off(kept, wording)
            kept = []
        turned = _twin(marks[index - 1], mark, wording) if index else ""
        if turned:
            side = wording.say(f"side_{turned}")
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
    groups: dict[Told, list[Target]] = {}
    for target in (each for group in mark.on for each in group):
        told = told_from(mark, target.thing, wording.model.worked)
        groups.setdefault(told, []).append(target)
    for told, targets in groups.items():
        for faces in together(targets, wording):
            yield from short(faces.things, partial(_drawn, mark, told, faces, wording), wording)
        if not told.there and _traced(targets, wording):
            yield wording.say("do_mark_trace")
    if mark.line is None:
        yield wording.say("do_mark_at", where=_where(mark, wording))


def _traced(targets: Sequence[Target], wording: Wording) -> bool:
    """Whether every one of some parts has a template."""
    parts = [wording.model.worked.part(each.thing) for each in targets]
    return all(each is not None and each.name in wording.model.worked.templates for each in parts)


def _derived(mark: Mark, along: Target, wording: Wording) -> Iterator[Markup]:
    """A line that follows from the joins: where it lies on each piece, like distances together."""
    model = wording.model
    lines = [
        line for line in derived_lines(model.worked, model.assembly) if line.mark == mark.name.value
    ]
    for side, far, there in dict.fromkeys((line.side, line.far, line.there) for line in lines):
        alike = [e for e in lines if (e.side, e.far, e.there) == (side, far, there)]
        bearers = {line.piece for line in alike}
        bearers |= {model.worked.usage.part_of.get(each, each) for each in bearers}
        targets = [t for group in mark.on for t in group if t.thing in bearers]
        for faces in together(targets, wording):
            yield wording.say(
                "do_mark_line",
                mark=wording.name(mark.name.value),
                faces=faces.told(wording.listed(faces.things), wording),
                far=wording.mm(far),
                side=wording.say(f"side_{side}"),
            )
        if not there:
            yield wording.say("do_mark_trace")
    if lines:
        yield wording.say("do_mark_why", along=side_of(along, wording))


def _ends(mark: Mark, wording: Wording) -> tuple[tuple[str, Markup], ...]:
    return tuple((each.side, wording.said(each.distance)) for each in mark.keep_off)


def _keep_off(marks: Sequence[Mark], wording: Wording) -> Iterator[Markup]:
    """What lines stop short of; ends at like distances share a sentence."""
    if not marks:
        return
    ends: dict[Markup, list[Markup]] = {}
    for name, far in _ends(marks[0], wording):
        side = wording.say("the", thing=wording.say(f"side_{name}"))
        ends.setdefault(far, []).append(side)
    key = "do_keep_off" if len(marks) == 1 else "do_keep_off_all"
    for far, sides in ends.items():
        yield wording.say(key, far=far, side=wording.listed(sides))


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


def _where(mark: Mark, wording: Wording) -> Markup:
    """How far from which sides, and along which way in the middle."""
    position = _position(mark)
    offsets = position.offsets if position else ()
    if not offsets:
        return wording.say("in_the_middle")
    places = [
        wording.say("far_from", far=wording.said(o.distance), side=wording.say(f"side_{o.side}"))
        for o in offsets
    ]
    sides = mark.on[0][0].sides if mark.on and mark.on[0] else ()
    free = {0, 1, 2} - {SIDE_AXIS[each] for each in (*sides, *(o.side for o in offsets))}
    if sides:
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
