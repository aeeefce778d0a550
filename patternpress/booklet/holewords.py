"""The holes that a treatment makes, in words: like holes of one thing told together.

In: a `Treatment` that drills.  Out: sentences, each with whether it is the action itself (to which
the tool is added) or a figure beside it.  A hole that no template shows also says where it is.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from markupsafe import Markup

from patternpress.assembly.body import SIDE_AXIS
from patternpress.assembly.checks.prose import MOST_WORDS
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.facecount import HAIR, counted_from, edges_off
from patternpress.assembly.leaning import Ways, ways_of
from patternpress.assembly.marked import hole_axis, hole_centre, hole_side
from patternpress.assembly.mouths import far_mouths
from patternpress.assembly.pose import Vector
from patternpress.assembly.realedge import corner_is_cut, set_back
from patternpress.assembly.sizes import AXES
from patternpress.assembly.stepped import begins_in
from patternpress.booklet.plain import words_in
from patternpress.booklet.sidewords import (
    WAYS,
    hands,
    holes_named,
    named,
    several_named,
    side_as_it_stands,
    side_list,
)
from patternpress.booklet.wording import NOTHING, Wording
from patternpress.design.phrases import Target
from patternpress.design.records.parts import Hole
from patternpress.design.records.work import Treatment

_FIRST = ("left", "front", "bottom")  # a side across each axis
WITH_TOOL = 4  # words: “with the cordless drill”
Words = Iterator[tuple[Markup, bool]]
Wide = tuple[str, bool]  # the hole in whose floor one begins, and whether in its middle


def holes_words(treatment: Treatment, targets: Sequence[Target], wording: Wording) -> Words:
    """The sentences of all holes of a treatment."""
    leans = ways_of(wording.model.worked, wording.model.assembly)
    far = far_mouths(wording.model.worked, wording.model.assembly)
    groups: dict[tuple[str, str, Markup, Markup, Ways, str, str, Wide], list[Hole]] = {}
    plain: list[Target] = []
    for target in targets:
        holes = _holes(target, wording)
        plain += [] if holes else [target]
        for hole in holes:
            key = (
                target.thing,
                _verb(treatment, hole, wording),
                _size(hole, wording),
                _deep(treatment, hole, wording),
                leans.get((_part_name(target, wording), hole.name.value), ()),
                far.get((_part_name(target, wording), hole.name.value), ""),
                hole.name.value if hole.row is not None else "",
                _wide(target.thing, hole, wording),
            )
            groups.setdefault(key, []).append(hole)
    for target in plain:
        yield wording.say("do_drill", what=named(target.thing, wording)), True
    # A narrow hole comes after the wide one that it begins in, whose bit needs wood for its point.
    wide_first = sorted(groups.items(), key=lambda of: bool(of[0][-1][0]))
    for (thing, verb, size, deep, ways, start, *_), holes in wide_first:
        part = wording.model.worked.part(thing)
        if part is None:
            continue
        for hand in hands(thing, _told_sides(part, holes, (ways, start), wording), part, wording):
            made = _actions(hand.told, verb, (size, deep), holes, wording)
            yield from ((words, True) for words in made)
            beside = _beside(hand.piece, part, holes, (ways, start), wording)
            yield from ((words, False) for words in beside)


def _beside(
    thing: str, part: CutPart, holes: Sequence[Hole], held: tuple[Ways, str], wording: Wording
) -> Iterator[Markup]:
    """The figures of like holes: where they are, and how the drill is held."""
    if holes[0].slot is not None:
        yield wording.say("hole_ends", far=between_ends(holes[0], wording))
    yield from _steps(thing, holes[0], wording)
    yield from _leans(thing, part, held, wording)
    yield from _outermost(thing, part, holes, wording)
    for hole in _placed(part, holes, wording):
        yield from _place((thing, part), hole, len(holes) > 1, wording)


def _placed(part: CutPart, holes: Sequence[Hole], wording: Wording) -> list[Hole]:
    """The holes of which words tell where they are: those that no template shows, and rows."""
    return [each for each in holes if each.row is not None or not _shown(part, each, wording)]


def _told_sides(
    part: CutPart, holes: Sequence[Hole], held: tuple[Ways, str], wording: Wording
) -> list[str]:
    """The sides by which like holes are told, as their part is drawn."""
    ways, start = held
    placed = [side for hole in _placed(part, holes, wording) for side in _sides(hole)]
    leans = [*(side for _, side in ways), *([start] if ways and start else [])]
    return [*placed, *leans, *_set_back(part, holes, wording)]


def _part_name(target: Target, wording: Wording) -> str:
    part = wording.model.worked.part(target.thing)
    return part.name if part else ""


def _wide(thing: str, hole: Hole, wording: Wording) -> Wide:
    """The hole in whose floor a hole begins; no name where there is none."""
    part = wording.model.worked.part(thing)
    shape = wording.model.worked.shapes.get(part.name) if part else None
    wide = begins_in(shape, hole.name.value) if shape else None
    if part is None or shape is None or wide is None:
        return "", False
    own = next(each for each in shape.holes if each.name == hole.name.value)
    said = next(each for each in part.part.holes if wide.name in each.names)
    return said.name.value, own.centre == wide.centre


def _steps(thing: str, hole: Hole, wording: Wording) -> Iterator[Markup]:
    """That a narrow hole goes on from the floor of a wide one, and from where its depth counts."""
    name, middle = _wide(thing, hole, wording)
    if name:
        key = "hole_step_middle" if middle else "hole_step"
        yield wording.say(key, wide=holes_named([name], wording))
        if hole.deep is not None:
            yield wording.say("hole_step_deep")


def _leans(thing: str, part: CutPart, held: tuple[Ways, str], wording: Wording) -> Iterator[Markup]:
    """How the drill is held where what goes in leans: a bit that starts at an angle wanders.

    It starts where the piece comes out; that is said where the template shows the other face.
    """
    ways, start = held
    as_it_stands = tuple((angle, side_as_it_stands(thing, side, part)) for angle, side in ways)
    if ways and start:
        side = wording.say(f"side_{side_as_it_stands(thing, start, part)}")
        yield wording.say("hole_leans_on", side=side, ways=lean_words(as_it_stands, wording))
    elif ways:
        yield wording.say("hole_leans", ways=lean_words(as_it_stands, wording))


def lean_words(ways: Ways, wording: Wording) -> Markup:
    """How far something leans, and which way: “15° toward the top”."""
    return wording.listed(
        wording.say("lean_toward", angle=wording.degrees(angle), side=wording.say(f"side_{side}"))
        for angle, side in ways
    )


def _sides(hole: Hole) -> Iterator[str]:
    """The sides that its place is told by."""
    yield from (each.side for each in hole.at.offsets)
    yield from hole.on.value[:1] if hole.on else ()
    yield from hole.row.toward.value[:1] if hole.row else ()


def _holes(target: Target, wording: Wording) -> list[Hole]:
    part = wording.model.worked.part(target.thing)
    holes = part.part.holes if part else ()
    return [each for each in holes if target.kind != "hole" or each.name.value == target.feature]


def _verb(treatment: Treatment, hole: Hole, wording: Wording) -> str:
    if not is_cut_out(treatment, hole, wording):
        return "do_drill"
    with_other = treatment.with_ is not None and not _with_saw(treatment, wording)
    return "do_work_out" if with_other or not _goes_through(treatment, hole) else "do_cut_out"


def is_cut_out(treatment: Treatment, hole: Hole, wording: Wording) -> bool:
    """Whether a hole is not drilled: a slot, a window, and whatever goes through with a saw."""
    return hole.round is None or _is_sawn(treatment, hole, wording)


def _is_sawn(treatment: Treatment, hole: Hole, wording: Wording) -> bool:
    return _with_saw(treatment, wording) and _goes_through(treatment, hole)


def _goes_through(treatment: Treatment, hole: Hole) -> bool:
    return treatment.by is None and hole.deep is None


def starts_inside(treatment: Treatment, targets: Sequence[Target], wording: Wording) -> bool:
    """Whether a saw has to begin inside a piece, in a hole drilled for its blade."""
    holes = (hole for target in targets for hole in _holes(target, wording))
    return treatment.verb == "drill" and any(_is_sawn(treatment, each, wording) for each in holes)


def _with_saw(treatment: Treatment, wording: Wording) -> bool:
    tool = treatment.with_.value if treatment.with_ else ""
    return any(word in tool.lower() for word in wording.meant("tool_saw"))


def _size(hole: Hole, wording: Wording) -> Markup:
    if hole.round is not None:
        return wording.say("hole_across", size=wording.bore(hole.round))
    sizes = [wording.model.worked.solver.value(each) for each in hole.slot or hole.window or ()]
    return wording.size(*(each for each in sizes if each is not None))


def between_ends(slot: Hole, wording: Wording) -> Markup:
    """How far apart the centres of a slot's round ends are."""
    long, wide = (wording.model.worked.solver.value(each) for each in slot.slot or ())
    return wording.mm(long.value - wide.value) if long and wide else NOTHING


def _deep(treatment: Treatment, hole: Hole, wording: Wording) -> Markup:
    return wording.said(treatment.by or hole.deep)


def _actions(
    on: Markup, verb: str, figures: tuple[Markup, Markup], holes: Sequence[Hole], wording: Wording
) -> Iterator[Markup]:
    """One sentence for like holes of things; as many as it takes where the list is long."""
    names = list(dict.fromkeys(each.name.value for each in holes))
    row = holes[0].row
    if row is not None:
        count = int(row.quantity.value)
        what = wording.say("bit_hole", hole=several_named(names[0], count, wording), thing=on)
    else:
        what = wording.say("hole_of", hole=holes_named(names, wording), thing=on)
    key = "hole_size_deep" if figures[1] else "hole_size"
    action = wording.say(verb, what=what)
    sentence = wording.say(key, action=action, size=figures[0], deep=figures[1])
    if len(holes) < 2 or words_in(sentence) <= MOST_WORDS - WITH_TOOL:
        yield sentence
        return
    half = (len(holes) + 1) // 2
    yield from _actions(on, verb, figures, holes[:half], wording)
    yield from _actions(on, verb, figures, holes[half:], wording)


def _shown(part: CutPart, hole: Hole, wording: Wording) -> bool:
    """Whether the part's template shows a hole: those in its broad face."""
    broad = AXES[hole_axis(hole, part)] == part.thin
    return part.name in wording.model.worked.templates and broad


def _cut_away(part: CutPart, hole: Hole, wording: Wording) -> bool:
    """Whether the distances of a hole in an edge are from a corner that is cut away there."""
    shape = wording.model.worked.shapes.get(part.name)
    edge = hole_side(hole, part)
    return any(corner_is_cut(part, shape, edge, each.side) for each in hole.at.offsets)


def _outermost(
    thing: str, part: CutPart, holes: Sequence[Hole], wording: Wording
) -> Iterator[Markup]:
    """That distances in a broad face count from where a piece is widest, not from beside a hole."""
    far = [side_as_it_stands(thing, side, part) for side in _set_back(part, holes, wording)]
    if far:
        yield wording.say("hole_widest", sides=side_list(tuple(far), wording))


def _set_back(part: CutPart, holes: Sequence[Hole], wording: Wording) -> dict[str, None]:
    """The sides, as drawn, that lie further out elsewhere than beside a hole counted from them."""
    shape = wording.model.worked.shapes.get(part.name)
    return dict.fromkeys(
        side
        for hole in holes
        if _shown(part, hole, wording)
        for side, _ in _told(part, hole, wording)
        if set_back(part, shape, side, _centre(part, hole, wording)) > HAIR
    )


def _told(part: CutPart, hole: Hole, wording: Wording) -> Iterator[tuple[str, Markup]]:
    """The distances of a hole as a rule tells them on the face that it is drilled into."""
    worked = wording.model.worked
    shape = worked.shapes.get(part.name)
    off = edges_off(part, shape, worked.solver, hole_side(hole, part)) if shape else {}
    for each in hole.at.offsets:
        far = worked.solver.value(each.distance)
        told = counted_from(part, off, each.side, far.value) if far else None
        yield (told[0], wording.mm(told[1])) if told else (each.side, wording.said(each.distance))


def _centre(part: CutPart, hole: Hole, wording: Wording) -> Vector:
    return hole_centre(hole, part, hole_axis(hole, part), wording.model.worked)


def _place(
    told: tuple[str, CutPart], hole: Hole, several: bool, wording: Wording
) -> Iterator[Markup]:
    thing, part = told

    def side(name: str) -> Markup:
        return wording.say(f"side_{side_as_it_stands(thing, name, part)}")

    places = [
        wording.say("far_from", far=far, side=side(name))
        for name, far in _told(part, hole, wording)
    ]
    if places:
        said = {SIDE_AXIS[each.side] for each in hole.at.offsets}
        rest = {0, 1, 2} - said - {hole_axis(hole, part)}
        sides = (side_as_it_stands(thing, _FIRST[axis], part) for axis in rest)
        places += [wording.say(f"middle_{WAYS.get(each, each)}") for each in sides]
    where = wording.listed(places) if places else wording.say("in_the_middle")
    face = side(hole.on.value[0]) if hole.on else NOTHING
    which = "hole_place_first" if hole.row else "hole_place_of" if several else "hole_place"
    key = which + ("_on" if face else "")
    yield wording.say(key, where=where, face=face, hole=wording.name(hole.name.value))
    if face and _cut_away(part, hole, wording):
        yield wording.say("hole_outermost")
    if hole.row is not None:
        way = side(hole.row.toward.value[0])
        yield wording.say("hole_row", far=wording.said(hole.row.every), way=way)
