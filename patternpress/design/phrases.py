"""The small grammars of the design language.

In: a piece of text and the names of the design.  Out: a frozen record of what it says, or
nothing and a problem with examples of how to say it.  Every grammar is plain words: a side
(*top edge of shelf*), a position (*5 mm from left and 8 mm from top*), a place for a joined
piece (*flush with seat*).
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from patternpress.design.amounts import report_measure
from patternpress.design.kinds import naming
from patternpress.design.names import IN_COPY, IN_FIRST, IN_ROW, Named, how_to_name, in_copy
from patternpress.design.problem import near_name
from patternpress.design.reads import Reader
from patternpress.design.source import Scalar
from patternpress.design.span import NOWHERE, Said, Span
from patternpress.measure.errors import MeasureError
from patternpress.measure.formula import Formula, parse

SIDES = ("left", "right", "front", "back", "bottom", "top")
OPPOSITE = {
    "left": "right",
    "right": "left",
    "front": "back",
    "back": "front",
    "bottom": "top",
    "top": "bottom",
}
SYNONYMS = {"underside": "bottom", "upper": "top", "lower": "bottom", "rear": "back"}
FEATURES = (
    "rounded", "curved", "straight", "shorter", "longer", "grooved", "rebated", "angled",
    "mitred", "notched", "drilled", "long", "short", "all", "outside", "inside",
)  # fmt: skip
NOUNS = ("side", "face", "edge", "end", "corner", "sides", "faces", "edges", "ends", "corners")
THINGS = ("piece", "part", "sub-assembly")
CUTS = ("hole", "groove", IN_ROW)


@dataclass(frozen=True, slots=True)
class Target:
    """Something a step works on: a thing, and which of its sides or edges.

    `sides` with two words is the edge or corner where they meet; `feature` tells an edge by
    what is special about it.  An empty `thing` means the whole work.
    """

    thing: str
    kind: str
    sides: tuple[str, ...] = ()
    feature: str = ""
    span: Span = NOWHERE
    owner: str = ""


@dataclass(frozen=True, slots=True)
class Place:
    """Where one side of a joined piece goes: one statement about one direction.

    `how` is one of PLACING; `distance` where the phrase has one; `side` where it names one.
    """

    how: str
    target: Target
    distance: Said[Formula] | None = None
    glued: bool = True


@dataclass(frozen=True, slots=True)
class Offset:
    """A distance from one side: ``5 mm from left``."""

    distance: Said[Formula]
    side: str


@dataclass(frozen=True, slots=True)
class Position:
    """A point on a face: offsets from sides; a direction without one is centred."""

    offsets: tuple[Offset, ...]


@dataclass(frozen=True, slots=True)
class Line:
    """A line on a face: at a distance along a side, on the centre, or along another piece."""

    how: str  # "from", "centre" or "along"
    offset: Offset | None = None
    direction: str = ""
    target: Target | None = None


@dataclass(frozen=True, slots=True)
class Lean:
    """A piece that does not stand or lie straight.

    Upright ones: `end` is "top" or "foot", each angle with the side that it goes out to.
    Flat ones: `end` is a side, its one angle with "raised" or "lowered".
    """

    end: str
    angles: tuple[tuple[Said[Formula], str], ...]


@dataclass(frozen=True, slots=True)
class Slide:
    """How far something moves straight on when it is opened, and to which side."""

    by: Said[Formula]
    toward: str


@dataclass(frozen=True, slots=True)
class Turn:
    """How far something turns when it is opened, and about what: an edge, a hole, a round piece.

    `toward` is the side that its middle goes to first.
    """

    by: Said[Formula]
    toward: str
    about: Target


@dataclass(frozen=True, slots=True)
class EndCut:
    """How an end is cut when not square: level, upright, or at angles from square."""

    how: str  # "level", "upright" or "angles"
    angles: tuple[tuple[Said[Formula], str], ...] = ()  # each with the side that stays longest


@dataclass(frozen=True, slots=True)
class Trim:
    """What is done to a corner or an edge: how, and one or two sizes."""

    how: str
    sizes: tuple[Said[Formula], ...]
    between: tuple[Offset, ...] = ()


def refuse(scalar: Scalar, reader: Reader, examples: str) -> None:
    """Report a phrase that cannot be followed, with ways to say it."""
    near: dict[str, str] = {}
    reader.report(
        naming.CannotFollow, scalar.span, text=scalar.text.strip(), examples=examples, **near
    )


def part_of(scalar: Scalar, text: str) -> Scalar:
    """A stretch of a scalar as a scalar with its own place."""
    text = text.strip()
    at = scalar.text.find(text)
    span = scalar.locate(at, at + len(text)) if at >= 0 and text else scalar.span
    return Scalar(text, span, scalar.quoted, scalar.lines)


def formula(scalar: Scalar, text: str, reader: Reader) -> Said[Formula] | None:
    """A formula inside a phrase."""
    part = part_of(scalar, text)
    try:
        return Said(parse(part.text), part.span, part.text)
    except MeasureError as error:
        report_measure(error, part, reader)
        return None


def side_words(text: str) -> tuple[str, ...] | None:
    """The sides named by words such as ``top front``, ``left and right``, ``the underside``."""
    words = [w for w in re.split(r"[\s,]+", text.strip()) if w not in ("the", "and", "")]
    words = [SYNONYMS.get(word, word) for word in words if word not in NOUNS]
    return tuple(words) if words and all(word in SIDES for word in words) else None


def sides(scalar: Scalar, reader: Reader) -> Said[tuple[str, ...]] | None:
    """One side or several, as the key of a join: ``left``, ``left and right``."""
    found = side_words(scalar.text)
    if not found:
        near = near_name(scalar.text, SIDES)
        reader.report(naming.UnknownFace, scalar.span, text=scalar.text, near=near)
        return None
    return Said(found, scalar.span, scalar.text)


def places_alone(scalar: Scalar) -> bool:
    """Whether the key of a join says how a piece is placed, without saying which side of it."""
    return any(re.fullmatch(pattern, f"{scalar.text} x of x") for _, pattern in PLACING)


TARGETS = "`shelf`, `top edge of lid`, `top front edge of lid`, `the rounded edge of rail`"


def target(scalar: Scalar, reader: Reader, kinds: tuple[str, ...] = THINGS) -> Target | None:
    """A thing and, before ``of``, which side, edge, end or feature of it."""
    text = " ".join(scalar.text.split())
    head, of, name = text.rpartition(" of ")
    bare = re.sub(r"^the ", "", text if not of else name)
    found = reader.names.find(bare, *kinds)
    if of and found is not None and IN_COPY in kinds:
        side, _, piece = head.rpartition(" of ")
        piece = piece.removeprefix("the ")
        inner = reader.names.find(in_copy(piece, found.name), IN_COPY, IN_FIRST)
        if inner is not None:
            name = inner.name if inner.kind == IN_COPY else piece
            if not side:
                return Target(name, "piece", span=scalar.span, owner=inner.owner)
            held = Named(name, "piece", scalar.span, inner.owner)
            return _sided(scalar, side, held, reader, row=IN_COPY in kinds)
    if found is None:
        if bare in ("work", "whole", "everything") and not of:
            return Target("", "work", span=scalar.span)
        part = part_of(scalar, bare)
        kind = " or ".join(each for each in kinds if each != IN_COPY)
        near = reader.near(bare, *kinds)
        reader.report(naming.UnknownName, part.span, name=bare, kind=kind, near=near)
        return None
    if not of:
        return Target(bare, found.kind, span=scalar.span, owner=found.owner)
    return _sided(scalar, head, found, reader, row=IN_COPY in kinds)


def _sided(scalar: Scalar, head: str, held: Named, reader: Reader, row: bool) -> Target | None:
    """A side, an edge, a hole or a groove of a thing; with `row`, one hole of a row as well."""
    thing, kind, owner = held.name, held.kind, held.owner
    words = head.removeprefix("the ").strip()
    for feature in CUTS if row else CUTS[:2]:
        if _has(thing, owner, words, feature, reader):
            cut = "hole" if feature == IN_ROW else feature
            return Target(thing, cut, (), words, scalar.span, owner)
    bare = " ".join(word for word in words.split() if word not in NOUNS)
    found = side_words(words)
    if found:
        return Target(thing, kind, found, "", scalar.span, owner)
    if bare in FEATURES:
        return Target(thing, kind, (), bare, scalar.span, owner)
    facts = {"text": words, "thing": thing, "how": how_to_name(words, held, reader.names)}
    reader.report(naming.NothingOfIt, part_of(scalar, head).span, **facts)
    return None


def _has(thing: str, owner: str, feature: str, kind: str, reader: Reader) -> bool:
    """Whether a part (or a piece of it) has a hole or groove of that name."""
    named = reader.names.of_kind(kind)
    return any(each.name == feature and each.owner in (thing, owner) for each in named)


def targets(scalar: Scalar, reader: Reader) -> tuple[Target, ...] | None:
    """Several targets, divided by commas or ``and`` outside a side's own words."""
    pieces = [p for p in re.split(r",\s*", scalar.text) if p.strip()]
    ones = _with_owner([one for piece in pieces for one in _split_and(piece, reader)], reader)
    found = [target(one, reader) for one in _scalars(scalar, ones)]
    return tuple(each for each in found if each) if all(found) else None


def _with_owner(ones: list[str], reader: Reader) -> list[tuple[str, str]]:
    """Each thing as it is written and as it is meant: “left hole and right hole of seat”."""
    owner = ones[-1].rpartition(" of ")[2] if ones and " of " in ones[-1] else ""
    meant = []
    for one in ones:
        name = one.strip().removeprefix("the ")
        bare = " of " not in one and not reader.names.find(name, *THINGS)
        hole = bare and owner and reader.names.find(name, "hole", "groove")
        meant.append((one, f"{one.strip()} of {owner}" if hole else one))
    return meant


def _scalars(scalar: Scalar, ones: list[tuple[str, str]]) -> Iterator[Scalar]:
    for written, meant in ones:
        at = part_of(scalar, written)
        yield at if written == meant else Scalar(meant, at.span, at.quoted, at.lines)


def _split_and(text: str, reader: Reader) -> list[str]:
    """Split at ``and`` where what follows names a thing; ``left and right of lid`` stays."""
    pieces = text.split(" and ")
    joined: list[str] = []
    for piece in reversed(pieces):
        tail = piece.rpartition(" of ")[2].strip().removeprefix("the ")
        if joined and not reader.names.find(tail, *THINGS) and side_words(tail) is not None:
            joined[-1] = f"{piece} and {joined[-1]}"
        else:
            joined.append(piece)
    return list(reversed(joined))


PLACES = (
    "`against shelf`, `loose against shelf`, `flush with shelf`, `2 mm inside shelf`, "
    "`1 mm beyond shelf`, `centred on shelf`, `12 mm from left of base`, `on shelf line`, "
    "`in peg hole of side`"
)

# Each way of placing a side: a pattern whose `at` is what it is held against.
PLACING: tuple[tuple[str, str], ...] = (
    ("loose against", r"(?:laid |loose |loosely |resting )+(?:against|on) (?P<at>.+)"),
    ("against", r"(?:(?:glued )?against|glued to) (?P<at>.+)"),
    ("flush", r"(?:level|flush) with (?P<at>.+)"),
    ("inside", r"(?P<far>.+) (?:inside|in from) (?P<at>.+)"),
    ("inside", r"inset (?P<far>.+) from (?P<at>.+)"),
    ("beyond", r"(?P<far>.+) beyond (?P<at>.+)"),
    ("beyond", r"overhanging (?P<at>.+) by (?P<far>.+)"),
    ("centred", r"cent(?:re|er)d on (?P<at>.+)"),
    ("from", r"(?P<far>.+?) from (?P<at>(?:the )?(?:\w+ )*of .+)"),
    ("loose through hole", r"(?:loose |loosely )through (?P<at>.+ of .+)"),
    ("through hole", r"through (?P<at>.+ of .+)"),
    ("loose in hole", r"(?:loose |loosely )in (?P<at>.+ of .+?)(?:, (?P<far>.+) deep)?"),
    ("in hole", r"in (?P<at>.+ of .+?)(?:, (?P<far>.+) deep)?"),
    ("on mark", r"on (?P<at>.+)"),
    ("under mark", r"under (?P<at>.+)"),
    ("over mark", r"over (?P<at>.+)"),
    ("at mark", r"(?:at|along) (?P<at>.+)"),
)


SEVERAL = re.compile(r"((?:loose |glued )?against|flush with|(?:loose |loosely )?through) (.+)")


def places(scalar: Scalar, reader: Reader) -> tuple[Place, ...]:
    """Where one side goes; `against`, `flush with` and `through` may name several things."""
    found = SEVERAL.fullmatch(" ".join(scalar.text.split()))
    things = _split_and(found[2], reader) if found else []
    named = [re.sub(r"^the ", "", each.rpartition(" of ")[2]) for each in things]
    if found is None or len(things) < 2 or not all(reader.names.find(n, *THINGS) for n in named):
        one = place(scalar, reader)
        return (one,) if one else ()
    parts = [part_of(scalar, each) for each in things]
    said = [Scalar(f"{found[1]} {p.text}", p.span, p.quoted, p.lines) for p in parts]
    read = [place(each, reader) for each in said]
    return tuple(each for each in read if each)


def place(scalar: Scalar, reader: Reader) -> Place | None:
    """Where one side of a joined piece goes."""
    text = " ".join(scalar.text.split())
    for how, pattern in PLACING:
        found = re.fullmatch(pattern, text)
        if not found:
            continue
        groups = found.groupdict()
        held = _held(how, part_of(scalar, groups["at"]), reader)
        far = groups.get("far")
        distance = formula(scalar, far, reader) if far else None
        if held is None or (far and distance is None):
            return None
        name = how.removeprefix("loose ") if how.endswith("hole") else how
        if held.kind == "groove" and name == "in hole":
            name = "in groove"
        return Place(name, held, distance, not how.startswith("loose"))
    refuse(scalar, reader, PLACES)
    return None


def _held(how: str, scalar: Scalar, reader: Reader) -> Target | None:
    if how.endswith("mark"):
        if reader.names.find(scalar.text, *THINGS):
            # “on shelf” is said for a piece; only the author knows whether it is glued.
            examples = f"`against {scalar.text}` (glued) or `loose against {scalar.text}`"
            refuse(scalar, reader, examples)
            return None
        return target(scalar, reader, ("mark",))
    if how == "centred" and reader.names.find(scalar.text, "mark"):
        return target(scalar, reader, ("mark",))
    if how.endswith(("in hole", "through hole")):
        said = scalar.text.removeprefix("the ")
        name = said.rpartition(" of ")[0]
        if not reader.names.find(name, *CUTS):  # of a piece, or of a piece of a copy
            name = name.rpartition(" of ")[0] or name
        if not reader.names.find(name, *CUTS):
            near = reader.near(name, "hole", "groove")
            span = part_of(scalar, name).span
            reader.report(naming.UnknownName, span, name=name, kind="hole or groove", near=near)
            return None
    return target(scalar, reader, (*THINGS, IN_COPY))
