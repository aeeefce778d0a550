"""The sentences that draw a mark: on which faces, how far from where, what to keep off, and why.

In: a `Mark`.  Out: one sentence for each action.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial

from markupsafe import Markup

from patternpress.assembly.marking import derived_lines
from patternpress.booklet.plain import short
from patternpress.booklet.sidewords import side_of
from patternpress.booklet.wording import Wording
from patternpress.design.phrases import Target
from patternpress.design.records.parts import Mark


def mark_words(mark: Mark, wording: Wording) -> Iterator[Markup]:
    """The sentences that draw one mark, in the order of drawing."""
    if mark.line is not None and mark.line.target is not None:
        yield from _mark_derived(mark, mark.line.target, wording)
        return
    faces = [side_of(each, wording) for group in mark.on for each in group]
    yield from short(faces, partial(_drawn, mark, wording), wording)
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
