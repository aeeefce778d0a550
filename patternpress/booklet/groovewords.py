"""The grooves and rebates that a treatment cuts, in words: width, depth, length, ends and place.

In: a `Treatment` that cuts grooves.  Out: sentences, each with whether it is the action itself (to
which the tool is added) or a figure beside it.  Like grooves share their figures.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from markupsafe import Markup

from patternpress.assembly.body import SIDE_AXIS
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.sizes import AXES
from patternpress.booklet.sidewords import (
    Hand,
    face_of_part,
    hands,
    holes_named,
    looks_of,
    named,
    side_as_it_stands,
)
from patternpress.booklet.wording import Wording
from patternpress.design.phrases import Target
from patternpress.design.records.parts import Groove
from patternpress.design.records.work import Treatment
from patternpress.measure.quantity import Kind, Quantity

Words = Iterator[tuple[Markup, bool]]


def grooves_words(treatment: Treatment, targets: Sequence[Target], wording: Wording) -> Words:
    """The sentences of all grooves of a treatment, part by part."""
    told: set[str] = set()
    for target in targets:
        part = wording.model.worked.part(target.thing)
        if part is None or part.name in told:
            continue
        told.add(part.name)
        groups: dict[tuple[str, bool, Markup, Markup, Markup], list[Groove]] = {}
        for groove in part.part.grooves:
            key = (
                groove.on.value[0],
                groove.along is not None,
                wording.groove(groove.wide),
                wording.said(groove.deep),
                _run(groove, part, part.name, wording),
            )
            groups.setdefault(key, []).append(groove)
        for (side, _, wide, deep, _), grooves in groups.items():
            on = () if looks_of(part, side, wording) else (side,)
            beside = (each for groove in grooves for each in _sides(groove))
            for hand in hands(part.name, (*on, *beside), part, wording):
                yield from _group(part, hand, (wide, deep), grooves, wording)
        if not part.part.grooves:
            yield wording.say("do_groove", what=named(target.thing, wording)), True


def _group(
    part: CutPart, hand: Hand, figures: tuple[Markup, Markup], grooves: list[Groove],
    wording: Wording,
) -> Words:  # fmt: skip
    wide, deep = figures
    run = _run(grooves[0], part, hand.piece, wording)
    what = holes_named([each.name.value for each in grooves], wording)
    face = face_of_part(part, grooves[0].on.value[0], hand, wording)
    yield wording.say("do_groove_in", grooves=what, face=face), True
    many = "s" if len(grooves) > 1 else ""
    size, ran = ("rebate_size", "rebate_run") if grooves[0].along else ("groove_size", "groove_run")
    yield wording.say(size + many, wide=wide, deep=deep), False
    if run:
        yield wording.say(ran + many, run=run), False
    for groove in grooves:
        yield _where(groove, part, hand, many != "", wording), False


def _sides(groove: Groove) -> Iterator[str]:
    """The sides that its place and its ends are told by."""
    if groove.at is not None:
        yield groove.at.side
    yield from groove.along.value[:1] if groove.along else ()
    yield from (stop.side for stop in groove.stopped)


def _where(groove: Groove, part: CutPart, hand: Hand, several: bool, wording: Wording) -> Markup:
    """Where its near edge lies, or along which edge of the face it runs."""
    name = wording.name(groove.name.value) if several else None
    key = "_of" if several else ""
    if groove.at is not None:
        side = wording.say(f"side_{side_as_it_stands(hand.piece, groove.at.side, part)}")
        far = wording.said(groove.at.distance)
        return wording.say(f"groove_at{key}", groove=name, far=far, side=side)
    edges = groove.along.value[:1] if groove.along else ()
    along = [wording.say(f"side_{side_as_it_stands(hand.piece, each, part)}") for each in edges]
    side = along[0] if along else Markup()
    stopped = "_stopped" if groove.stopped else ""
    return wording.say(f"groove_along{stopped}{key}", groove=name, side=side)


def _run(groove: Groove, part: CutPart, piece: str, wording: Wording) -> Markup:
    """How long it is and where it stops on a piece; or that it runs right through."""
    lies = groove.at.side if groove.at else groove.along.value[0] if groove.along else ""
    if not lies:
        return Markup()
    axis = ({0, 1, 2} - {SIDE_AXIS[groove.on.value[0]], SIDE_AXIS[lies]}).pop()
    if not groove.stopped and groove.along:
        return Markup()
    if not groove.stopped:
        sides = (("left", "right"), ("front", "back"), ("bottom", "top"))[axis]
        names = [wording.say(f"side_{each}") for each in sides]
        return wording.say("groove_through", first=names[0], last=names[1])
    solver = wording.model.worked.solver
    whole = part.extents[AXES[axis]].value
    stops: dict[Markup, list[Markup]] = {}
    for stop in groove.stopped:
        found = solver.value(stop.distance)
        whole -= found.value if found else 0
        called = side_as_it_stands(piece, stop.side, part)
        side = wording.say("the", thing=wording.say(f"side_{called}"))
        stops.setdefault(wording.said(stop.distance), []).append(side)
    ends = wording.listed(
        wording.say("groove_stop", far=far, side=wording.listed(sides))
        for far, sides in stops.items()
    )
    length = wording.size(Quantity(whole, Kind.LENGTH))
    return wording.say("groove_stopped", long=length, ends=ends)
