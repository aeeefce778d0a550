"""Which joins of a step are alike, so that one sentence serves several.

In: the joins of a step.  Out: groups: the first join, told in full, and those that are the same
but for left and right, or front and back; or several like fittings that go into like holes.
"""

from __future__ import annotations

from collections.abc import Callable, Hashable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import partial

from patternpress.assembly.leaning import lean_of
from patternpress.assembly.screwed import is_screw
from patternpress.assembly.worked import Worked
from patternpress.design.phrases import Place, Target
from patternpress.design.records.work import Joined
from patternpress.measure.quantity import Kind

MIRRORS: tuple[dict[str, str], ...] = (
    {"left": "right", "right": "left"},
    {"front": "back", "back": "front"},
    {"left": "right", "right": "left", "front": "back", "back": "front"},
)


@dataclass(frozen=True)
class Alike:
    """One join and the ones that are like it; `holes` says that they go into holes side by side."""

    first: Joined
    others: tuple[Joined, ...] = ()
    holes: bool = False


def alike(worked: Worked, joins: Sequence[Joined]) -> Iterator[Alike]:
    """The groups of a step's joins, in the order of the joins."""
    left = list(joins)
    while left:
        first = left.pop(0)
        fittings = _run(left, partial(_like_fitting, worked, first))
        if fittings:
            yield Alike(first, tuple(fittings), holes=True)
        else:
            twins = _run(left, partial(_like, worked, first))
            yield Alike(first, tuple(twins))


def _run(left: list[Joined], like: Callable[[Joined], bool]) -> list[Joined]:
    """Take the joins that are like the first off the head of the list."""
    taken = []
    while left and like(left[0]):
        taken.append(left.pop(0))
    return taken


def _owner(worked: Worked, joined: Joined) -> str:
    usage, name = worked.usage, joined.piece.value
    return usage.part_of.get(name, usage.sub_of.get(name, name))


def _like_fitting(worked: Worked, first: Joined, other: Joined) -> bool:
    """Whether two fittings of one part go into holes of pieces of one part, equally deep."""
    ones, twos = _only_holes(worked, first), _only_holes(worked, other)
    if not ones or len(ones) != len(twos) or _owner(worked, first) != _owner(worked, other):
        return False
    part_of = worked.usage.part_of
    return all(
        part_of.get(one.target.thing) == part_of.get(two.target.thing)
        and _far(worked, one) == _far(worked, two)
        and one.glued == two.glued
        for one, two in zip(ones, twos, strict=True)
    )


def _only_holes(worked: Worked, joined: Joined) -> tuple[Place, ...]:
    """The hole of a fitting that says nothing else; a screw may go through another one first."""
    told = (joined.row, joined.leans, joined.turned, *joined.turns_in)
    places = driven(joined) if is_screw(worked, joined) else tuple(p for _, p in joined.places)
    if any(each is not None for each in told) or len(joined.places) > 2 or not places:
        return ()
    hows = tuple(place.how for place in places)
    return places if hows in (("in hole",), ("through hole", "in hole")) else ()


def driven(joined: Joined) -> tuple[Place, ...]:
    """The places of a screw as it comes to them: through one piece, then into another."""
    places = (place for _, place in joined.places)
    return tuple(sorted(places, key=lambda place: place.how != "through hole"))


def _like(worked: Worked, first: Joined, other: Joined) -> bool:
    told = (first.row, first.turned, other.row, other.turned)
    if _owner(worked, first) != _owner(worked, other) or any(told):
        return False
    said = _said(worked, other, {})
    return any(_said(worked, first, mirror) == said for mirror in MIRRORS)


def _said(worked: Worked, joined: Joined, mirror: dict[str, str]) -> Hashable:
    """What a join says, told in a mirror."""
    places = frozenset(
        (
            tuple(sorted(_turned(side, mirror) for side in sides.value)),
            *(place.how, place.glued),
            *_target(worked, place.target, mirror),
            _far(worked, place),
        )
        for sides, place in joined.places
    )
    lean = lean_of(worked, joined)
    angles = (
        tuple((worked.solver.value(angle), _turned(to, mirror)) for angle, to in lean.angles)
        if lean
        else ()
    )
    glue = joined.glue.value if joined.glue else ""
    end = _turned(lean.end, mirror) if lean else ""
    turns = tuple(_target(worked, each, mirror) for each in joined.turns_in)
    return places, end, angles, glue, turns, _turn(worked, joined, mirror)


def _turn(worked: Worked, joined: Joined, mirror: dict[str, str]) -> Fraction:
    """The angle by which a piece is turned; one mirror turns it the other way."""
    pieces = (each for part in worked.book.parts for each in part.pieces)
    piece = next((each for each in pieces if each.name.value == joined.piece.value), None)
    angle = worked.solver.value(piece.turned, Kind.ANGLE) if piece and piece.turned else None
    if angle is None:
        return Fraction(0)
    return -angle.value if len(mirror) == 2 else angle.value


def _target(worked: Worked, target: Target, mirror: dict[str, str]) -> tuple[Hashable, ...]:
    """A target in a mirror: the twin's name where there is a twin, its sides swapped."""
    twin = " ".join(mirror.get(word, word) for word in target.thing.split())
    known = worked.names.find(twin) is not None
    sides = tuple(sorted(_turned(side, mirror) for side in target.sides))
    feature = " ".join(mirror.get(word, word) for word in target.feature.split())
    owner = worked.usage.part_of.get(target.thing, target.thing)
    part = worked.part(owner)
    holes = {each.name.value for each in part.part.holes} if part else set()
    return (
        twin if known else target.thing,
        target.kind,
        sides,
        feature if feature in holes else target.feature,
    )


def _turned(side: str, mirror: dict[str, str]) -> str:
    return mirror.get(side, side)


def _far(worked: Worked, place: Place) -> Hashable:
    found = worked.solver.value(place.distance) if place.distance else None
    return found.value if found else place.distance and place.distance.text
