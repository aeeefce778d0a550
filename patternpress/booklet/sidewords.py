"""Things and their sides in words.

In: a `Target` or names of sides.  Out: markup such as “the top front edge of the lid (G)”.  A part
that is cut several times is “each leg (H)”; like sides of several things are told together.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

from markupsafe import Markup, escape

from patternpress.assembly.body import AXIS_INDEX
from patternpress.assembly.calls import plural
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.hands import same_as_it_stands
from patternpress.assembly.placing import STANDS
from patternpress.assembly.pose import DIRECTION
from patternpress.assembly.sizes import SIDE_AXIS
from patternpress.assembly.thing import middle_of
from patternpress.booklet.wording import Wording
from patternpress.design.phrases import Target

WAYS = {"right": "left", "back": "front", "top": "bottom"}
# The face of a left (or front) piece that its fellow's face looks at.
INNER = {"left": "right", "right": "left", "front": "back", "back": "front"}


class Hand(NamedTuple):
    """Pieces of a part that are told together: one by whose sides, and the names of all."""

    piece: str
    told: Markup


class Faces(NamedTuple):
    """A side that several things have: how it is told of a list of them, and the list."""

    key: str
    side: Markup
    things: tuple[Markup, ...]

    def told(self, things: Markup, wording: Wording) -> Markup:
        """The side of a list of things."""
        return wording.say(self.key, side=self.side, things=things) if self.key else things


def named(name: str, wording: Wording) -> Markup:
    """“the lid (G)”, and of a part that is cut several times “each leg (H)”.

    While a sub-assembly is built, what it has one of is one, however often it is made.
    """
    usage = wording.model.worked.usage
    part = wording.model.worked.part(name)
    several = False
    if part is not None and part.name == name and not wording.joining:
        use = usage.first_use(part.pieces[0]) if part.pieces else None
        own = use is not None and use.builds == wording.building and wording.building != ""
        spares = part.part.spares.value if part.part.spares else 0
        several = (len(part.pieces) if own else part.quantity - spares) > 1
    return wording.say("each" if several else "the", thing=wording.thing(name))


def pieces_named(name: str, count: int, wording: Wording) -> Markup:
    """Several pieces of one part: “8 end screws (E)”."""
    part = wording.model.worked.part(name)
    if part is None:
        return several_named(name, count, wording)
    return wording.lettered(several_named(part.name, count, wording), part)


def several_named(name: str, count: int, wording: Wording) -> Markup:
    """So many of a thing: “5 peg holes”; where its name has no plural “5 × peg hole”."""
    several = wording.several(name)
    key = "count_of_one" if several == wording.name(name) else "count_of"
    return wording.say(key, count=count, pieces=several)


def side_of(target: Target, wording: Wording) -> Markup:
    """A thing, with which of its sides where one is said."""
    face = _face(target, wording)
    return face.told(face.things[0], wording)


def _face(target: Target, wording: Wording) -> Faces:
    if not target.thing:
        return Faces("", Markup(), (wording.say("the_work"),))
    things = (named(target.thing, wording),)
    if target.kind in ("hole", "groove"):
        nth = target.feature.rpartition(" ")[2].isdecimal()
        return Faces("cut_nth_of" if nth else "cut_of", wording.name(target.feature), things)
    if target.feature:
        return Faces("feature_of", wording.say(f"feature_{target.feature}"), things)
    if not target.sides:
        return Faces("", Markup(), things)
    sides = Markup(" ").join(wording.say(f"side_{side}") for side in target.sides)
    return Faces("edge_of" if len(target.sides) > 1 else "side_of", sides, things)


def together(targets: Sequence[Target], wording: Wording) -> Iterator[Faces]:
    """Targets with like sides together: “the back of the shelf (A) and each bracket (C)”."""
    inside = _inside(targets, wording)
    if inside is not None:
        yield inside
        return
    groups: dict[tuple[str, Markup], list[Markup]] = {}
    for target in targets:
        face = _face(target, wording)
        groups.setdefault((face.key, face.side), []).extend(face.things)
    sides: dict[tuple[str, tuple[Markup, ...]], list[Markup]] = {}
    for (key, side), things in groups.items():
        sides.setdefault((key, tuple(dict.fromkeys(things))), []).append(side)
    for (key, alike), several in sides.items():
        joined = key == "side_of" and len(several) > 1
        for side in [wording.listed(several)] if joined else several:
            yield Faces(key, side, alike)


def _inside(targets: Sequence[Target], wording: Wording) -> Faces | None:
    """The faces with which both pieces of a part look at each other, or away from each other."""
    if len(targets) != 2 or any(len(each.sides) != 1 for each in targets):
        return None
    one, two = (each.sides[0] for each in targets)
    part = wording.model.worked.part(targets[0].thing)
    if part is None or INNER.get(one) != two:
        return None
    if {each.thing for each in targets} != set(part.pieces) or len(part.pieces) != 2:
        return None
    side = beside_fellow(part, targets[0].thing, one, wording)
    if one not in (side, INNER.get(side)):
        return None
    key = _looks(part, one, inner=one != side)
    things = (wording.say("each", thing=wording.part(part)),)
    return Faces("feature_of", wording.say(key), things)


def looks_of(part: CutPart, side: str, wording: Wording) -> str:
    """The key of a face as the inner or outer one of a left and a right piece that mirror each
    other; empty where it is neither.
    """
    first = beside_fellow(part, part.pieces[0], side, wording) if len(part.pieces) == 2 else ""
    stands = [each.stands.value for each in part.part.pieces if each.stands]
    handed = len(part.pieces) == 2 and any(not each.startswith("as ") for each in stands)
    if first and handed and side in (first, INNER[first]):
        return _looks(part, side, inner=side == INNER[first])
    return ""


def face_of_part(part: CutPart, side: str, hand: Hand, wording: Wording) -> Markup:
    """A face of pieces of a part; of a left and a right piece that mirror each other, the inner."""
    key = looks_of(part, side, wording)
    if key:
        return wording.say("feature_of", side=wording.say(key), things=hand.told)
    shown = side_as_it_stands(hand.piece, side, part)
    return wording.say("side_of", side=wording.say(f"side_{shown}"), things=hand.told)


def beside_fellow(part: CutPart, piece: str, side: str, wording: Wording) -> str:
    """On which side of the other piece of its part one lies, along the axis of a side.

    By where they are put; where no work has both, by the words of its name.
    """
    if side not in INNER:
        return ""
    axis, assembly = AXIS_INDEX[SIDE_AXIS[side]], wording.model.assembly
    low, high = ("left", "right") if axis == 0 else ("front", "back")
    for placed in assembly.works.values():
        at = {
            each.piece: middle_of(assembly.thing(each.piece, each))[axis]
            for each in placed
            if each.piece in part.pieces and not each.path and each.part in assembly.bodies
        }
        if len(at) == len(part.pieces) == 2 and len(set(at.values())) == 2:
            return low if at[piece] == min(at.values()) else high
    return next((word for word in (low, high) if word in piece.split()), "")


def _looks(part: CutPart, side: str, *, inner: bool) -> str:
    """The key of a face that looks inward or outward; the narrow one of a board is an edge.

    On a door “the outer face” would be its front.
    """
    turned = any(p.stands and p.stands.value.startswith("turned a") for p in part.part.pieces)
    narrow = part.form == "sheet" and not turned and SIDE_AXIS[side] != part.thin
    return f"feature_{'inner' if inner else 'outer'}{'_edge' if narrow else ''}"


def side_as_it_stands(thing: str, side: str, part: CutPart) -> str:
    """A side of a part as it is called on one of its pieces, which may be mirrored or turned."""
    piece = next((each for each in part.part.pieces if each.name.value == thing), None)
    if piece is None or piece.stands is None:
        return side
    matrix, way = STANDS[piece.stands.value], DIRECTION[side]
    turned = tuple(sum(row[i] * way[i] for i in range(3)) for row in matrix)
    return next(name for name, each in DIRECTION.items() if tuple(each) == turned)


def hands(thing: str, sides: Iterable[str], part: CutPart, wording: Wording) -> list[Hand]:
    """The pieces of a part in groups that call these sides alike, each to be told by its own sides.

    One group of all where all call them alike or, mirrored, are still cut as the part is drawn.
    """
    groups = _called_alike(thing, tuple(sides), part)
    if len(groups) < 2 or same_as_it_stands(part, wording.model.worked):
        return [Hand(thing, named(thing, wording))]
    return [
        Hand(pieces[0], wording.listed(named(each, wording) for each in pieces))
        for pieces in groups
    ]


def _called_alike(thing: str, sides: Sequence[str], part: CutPart) -> list[list[str]]:
    """The pieces of a part, those together that call some of its sides alike."""
    groups: dict[tuple[str, ...], list[str]] = {}
    for piece in part.pieces if thing == part.name else ():
        called = tuple(side_as_it_stands(piece, side, part) for side in sides)
        groups.setdefault(called, []).append(piece)
    return list(groups.values())


def apart(target: Target, sides: Sequence[str], wording: Wording) -> list[Target]:
    """A target, or where the pieces of its part call these sides otherwise, one of each piece."""
    part = wording.model.worked.part(target.thing)
    groups = _called_alike(target.thing, sides, part) if part is not None else []
    if part is None or len(groups) < 2:
        return [target]
    return [_of_piece(target, piece, part) for pieces in groups for piece in pieces]


def faces_apart(targets: Sequence[Target], wording: Wording) -> list[Target]:
    """Targets of work, apart for each piece unless the other hand's sides are among them too."""
    told = {(each.thing, frozenset(each.sides)) for each in targets}
    found: list[Target] = []
    for target in targets:
        pieces = apart(target, target.sides, wording)
        alike = all((target.thing, frozenset(each.sides)) in told for each in pieces)
        found += [target] if alike else pieces
    return found


def _of_piece(target: Target, piece: str, part: CutPart) -> Target:
    sides = tuple(side_as_it_stands(piece, each, part) for each in target.sides)
    return replace(target, thing=piece, kind="piece", sides=sides)


def side_list(sides: tuple[str, ...], wording: Wording) -> Markup:
    """Sides as a list: “left and front”."""
    return wording.listed(wording.say(f"side_{side}") for side in sides)


def way_list(sides: tuple[str, ...], wording: Wording) -> Markup:
    """The directions of sides, each once: “from left to right and from front to back”."""
    ways = dict.fromkeys(WAYS.get(side, side) for side in sides)
    return wording.listed(wording.say(f"way_{way}") for way in ways)


def holes_named(names: Sequence[str], wording: Wording) -> Markup:
    """Names of holes, the word that all end in said once: “upper left and lower left holes”."""
    heads, tail = list(names), ""
    while (
        wording.plurals
        and len({head.rpartition(" ")[2] for head in heads}) == 1
        and all(" " in h for h in heads)
    ):
        tail = f"{heads[0].rpartition(' ')[2]} {tail}".strip()
        heads = [head.rpartition(" ")[0] for head in heads]
    if len(names) < 2:
        return wording.say("named", thing=wording.name(names[0]))
    if not tail:
        return wording.listed(wording.say("named", thing=wording.name(each)) for each in names)
    listed = wording.listed(Markup(escape(head)) for head in heads)
    return wording.say("several_of", heads=listed, noun=plural(tail))
