"""The facts of places: where pieces sit, what lies on what, where marks are, what is left free.

In: a `Worked` design and its `Assembly`.  Out: lists and dictionaries ready for JSON; lengths as
exact fractions of a millimetre, as text.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from patternpress.assembly.body import SIDE_AXIS
from patternpress.assembly.leaning import ways_of
from patternpress.assembly.marked import mark_coordinates
from patternpress.assembly.moving import Motion
from patternpress.assembly.placing import WAYS, Assembly, Contact, Placed
from patternpress.assembly.pose import Pose
from patternpress.assembly.thing import Thing
from patternpress.assembly.usage import MAIN
from patternpress.assembly.worked import Worked
from patternpress.design.phrases import Target
from patternpress.design.records.parts import Mark

LOW = ("left", "front", "bottom")


def place_facts(placed: Placed) -> dict[str, Any]:
    """A piece: its corner (left, front, bottom of its blank) and the directions of its axes."""
    columns = zip(*placed.pose.matrix, strict=True)
    return {
        "piece": placed.key,
        "part": placed.part,
        "step": placed.step,
        "corner": [str(each) for each in placed.pose.offset],
        "axes": [[str(each) for each in column] for column in columns],
    }


def joint_facts(contact: Contact) -> dict[str, Any]:
    """Two things laid on each other by a join."""
    return {
        "thing": contact.thing,
        "side": contact.side,
        "other": contact.other,
        "how": contact.how,
        "glued": contact.glued,
        "step": contact.step,
    }


def motion_facts(motion: Motion) -> dict[str, Any]:
    """Something that opens: by mm along a direction, or by degrees about a line."""
    through = {"through": [str(each) for each in motion.through]} if motion.through else {}
    return {
        "thing": motion.thing,
        "work": motion.work,
        "step": motion.step,
        "toward": motion.toward,
        "degrees" if motion.turns else "mm": str(motion.by.value),
        "way": [str(each) for each in motion.way],
        **through,
        "pieces": list(motion.keys),
    }


def works_facts(assembly: Assembly) -> dict[str, Any]:
    """The pieces of each sub-assembly, where they sit in it."""
    works = {name: pieces for name, pieces in assembly.works.items() if name != MAIN}
    return {name: [place_facts(each) for each in pieces] for name, pieces in works.items()}


def marks_facts(worked: Worked, assembly: Assembly) -> list[dict[str, Any]]:
    """Each mark on each face that bears it, and how far it is from sides of the part as drawn.

    Lines that follow from a join are not among them.
    """
    return [
        fact
        for mark in worked.book.marks
        for group in mark.on
        for target in group
        if (fact := _mark(mark, target, worked, assembly)) is not None
    ]


def _mark(mark: Mark, target: Target, worked: Worked, assembly: Assembly) -> dict[str, Any] | None:
    part = worked.part(target.thing)
    body = assembly.bodies.get(part.name) if part is not None else None
    if part is None or body is None:
        return None
    thing = Thing(target.thing, ((body, Pose()),), part.name)
    at = {LOW[axis]: str(far) for axis, far in mark_coordinates(mark, part, thing, worked)}
    kept = ((each.side, worked.solver.value(each.distance)) for each in mark.keep_off)
    return {
        "mark": mark.name.value,
        "kind": "line" if mark.line else "point" if mark.point else "dot",
        "on": target.thing,
        "side": target.sides[0] if target.sides else "",
        "from": at,
        "keep_off": {side: str(far.value) for side, far in kept if far is not None},
    } if at else None  # fmt: skip


def by_size(worked: Worked, assembly: Assembly) -> dict[str, list[str]]:
    """Pieces with the directions in which no join says where both of their ends go.

    There a piece ends where its size puts it, so a wrong size contradicts no join.
    """
    found: dict[str, list[str]] = {}
    for pieces in assembly.works.values():
        for placed in pieces:
            ways = [WAYS[axis] for axis in _unnamed(placed.piece, worked)]
            if ways:
                found.setdefault(placed.piece, ways)
    return found


def _unnamed(piece: str, worked: Worked) -> Iterator[int]:
    use = worked.usage.first_use(piece)
    places = use.joined.places if use is not None and use.joined is not None else ()
    named = {side for sides, place in places if place.how != "centred" for side in sides.value}
    for axis in range(3):
        if sum(SIDE_AXIS[side] == axis for side in named) < 2:
            yield axis


def leaning_facts(worked: Worked, assembly: Assembly) -> Iterator[dict[str, Any]]:
    """The holes that are not drilled square: how far the drill leans, toward which sides."""
    for (part, hole), ways in ways_of(worked, assembly).items():
        leans = [{"degrees": str(angle), "toward": side} for angle, side in ways]
        yield {"part": part, "hole": hole, "leans": leans}
