"""What is cut: parts with their outlines, ends, holes and grooves; sub-assemblies; openings.

In: nothing.  Out: record classes; their fields are the tables of the reference.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import ClassVar

from patternpress.design import phrases, trims
from patternpress.design.amounts import Count, Figure, Sizes
from patternpress.design.phrases import EndCut, Lean, Offset, Position, Target, Trim
from patternpress.design.reads import (  # fmt: skip
    YES_NO,
    ListOf,
    NameOf,
    Phrase,
    Prose,
    Text,
    Word,
    Words,
)
from patternpress.design.records.goods import Length
from patternpress.design.span import Said
from patternpress.design.table import Group, Map, Named, Record, says

SIDE = Phrase(phrases.sides, "top", "a side: left, right, front, back, top, bottom")
TURNS = Word(
    (
        "as drawn",
        "mirrored left to right",
        "mirrored front to back",
        "mirrored both ways",
        "turned a quarter to the left",
        "turned a quarter to the right",
        "turned half round",
    )
)


@dataclass(frozen=True, kw_only=True)
class Piece(Record):
    """One physical copy of a part, and how it differs from the part as described."""

    title: ClassVar[str] = "a piece"
    short: ClassVar[str] = "stands"
    stands: Said[str] | None = says(TURNS, "mirrored or turned, seen from above")
    turned: Length | None = says(
        Figure("angle", "60 deg"), "turned by an angle to the left, seen from above"
    )


@dataclass(frozen=True, kw_only=True)
class HoleRow(Record):
    """Several equal holes in a row, told once."""

    title: ClassVar[str] = "a row of holes"
    toward: Said[tuple[str, ...]] = says(SIDE, "the direction it runs in", needed=True)
    every: Length = says(Figure("length", "5.5 mm"), "from one centre to the next", needed=True)
    quantity: Said[int] = says(Count("12"), "how many holes there are in all", needed=True)


@dataclass(frozen=True, kw_only=True)
class Hole(Record):
    """A hole, a slot or a window through a part or into it."""

    title: ClassVar[str] = "a hole"
    one_of: ClassVar[tuple[str, ...]] = ("round", "slot", "window")
    round: Length | None = says(Figure("length", "1.5 mm"), "a round hole: its diameter")
    slot: tuple[Length, ...] | None = says(
        Sizes(2, 2, "12 x 2 mm"), "a slot with round ends: length x width"
    )
    runs: Said[str] | None = says(
        Word(("left to right", "front to back", "up and down")),
        "the way that a slot is long; along the part's length when left out",
    )
    window: tuple[Length, ...] | None = says(
        Sizes(2, 2, "20 x 15 mm"), "a square-cornered hole, in the order of the part's two sizes"
    )
    at: Position = says(
        Phrase(trims.position, "5 mm from left and 8 mm from top", "a point: distances from sides"),
        "where its centre is",
        needed=True,
    )
    on: Said[tuple[str, ...]] | None = says(
        SIDE, "the side it is drilled from, when not the part's broad face"
    )
    deep: Length | None = says(
        Figure("length", "3 mm"), "how deep; through and through when left out"
    )
    corners: Length | None = says(Figure("length", "1 mm"), "a window's corners rounded by this")
    for_: Prose | None = says(Words("the knob's pin", 100), "what goes into it")
    row: HoleRow | None = says(Group(HoleRow), "more holes like it, in a row from this one")
    scales: Said[str] | None = says(
        YES_NO, "whether another scale changes it; holes for bought things stay as they are anyway"
    )

    @property
    def names(self) -> tuple[str, ...]:
        """Its name, and those of the holes in a row with it: “peg hole”, “peg hole 2”."""
        name, count = self.name.value, self.row.quantity.value if self.row is not None else 1
        return (name, *(f"{name} {number}" for number in range(2, count + 1)))


@dataclass(frozen=True, kw_only=True)
class Groove(Record):
    """A groove along a face, or a rebate along an edge of it."""

    title: ClassVar[str] = "a groove"
    on: Said[tuple[str, ...]] = says(SIDE, "the face it is cut into", needed=True)
    wide: Length = says(Figure("length", "2 mm"), "how wide", needed=True)
    deep: Length = says(Figure("length", "1 mm"), "how deep into the face", needed=True)
    at: Offset | None = says(
        Phrase(trims.offset_only, "4 mm from bottom", "a distance from a side"),
        "a groove: how far its near edge is from a side, which it runs along",
    )
    along: Said[tuple[str, ...]] | None = says(SIDE, "a rebate: the edge it runs along")
    scales: Said[str] | None = says(YES_NO, "whether another scale changes it")
    stopped: tuple[Offset, ...] = says(
        ListOf(Phrase(trims.offset_only, "3 mm from front", "a distance from a side")),
        "where it stops short of an end",
        many=True,
    )


@dataclass(frozen=True, kw_only=True)
class Leg(Record):
    """One stretch of a free outline: straight, an arc, or a smooth curve."""

    title: ClassVar[str] = "a stretch of an outline"
    one_of: ClassVar[tuple[str, ...]] = ("start", "line", "arc", "curve")
    start: tuple[Length, ...] | None = says(
        Phrase(trims.point, "0 mm, 0 mm", "two distances"), "where the outline begins"
    )
    line: tuple[Length, ...] | None = says(
        Phrase(trims.point, "40 mm, 0 mm", "two distances"), "a straight line to this point"
    )
    arc: tuple[Length, ...] | None = says(
        Phrase(trims.point, "40 mm, 20 mm", "two distances"), "part of a circle to this point"
    )
    curve: tuple[Length, ...] | None = says(
        Phrase(trims.point, "30 mm, 32 mm", "two distances"), "a smooth curve to this point"
    )
    through: tuple[tuple[Length, ...], ...] = says(
        ListOf(Phrase(trims.point, "44 mm, 10 mm", "two distances")),
        "arc: a point it passes; curve: the points it passes",
        many=True,
    )
    radius: Length | None = says(Figure("length", "25 mm"), "arc: its radius")
    bulging: Said[str] | None = says(
        Word(("outward", "inward")), "arc: away from the piece or into it"
    )
    leaving: Length | None = says(
        Figure("angle", "90 deg"), "curve: its direction at the start (0 is right, 90 is up)"
    )
    arriving: Length | None = says(Figure("angle", "180 deg"), "curve: its direction at the end")


@dataclass(frozen=True, kw_only=True)
class Less(Record):
    """What is taken off a measured opening so that the part goes in: least and most."""

    title: ClassVar[str] = "the clearance"
    wide: Length | None = says(Figure("length", "0.25 to 0.5 mm"), "off its width")
    deep: Length | None = says(Figure("length", "0.5 to 1 mm"), "off its depth")
    high: Length | None = says(Figure("length", "0.25 to 0.5 mm"), "off its height")


@dataclass(frozen=True, kw_only=True)
class Share(Record):
    """How many pieces share a measured opening side by side, such as a pair of doors."""

    title: ClassVar[str] = "the share"
    wide: Said[int] | None = says(Count("2"), "how many share its width")
    deep: Said[int] | None = says(Count("2"), "how many share its depth")
    high: Said[int] | None = says(Count("3"), "how many share its height")


@dataclass(frozen=True, kw_only=True)
class Part(Record):
    """A shape cut from one stock, described as it stands in the finished piece.

    `wide` runs left to right, `deep` front to back, `high` bottom to top.  A sheet needs two
    of them (its thickness is the third), a strip or rod needs one (its length).
    """

    title: ClassVar[str] = "a part"
    stock: Said[str] = says(NameOf(("stock",), "lime board"), "what it is cut from", needed=True)
    wide: Length | None = says(Figure("length", "width - 2 * board"), "its size from left to right")
    deep: Length | None = says(Figure("length", "depth"), "its size from front to back")
    high: Length | None = says(Figure("length", "60 mm"), "its size from bottom to top")
    letter: Said[str] | None = says(
        Text("A", 3), "its letter on templates and lists; given in order when left out"
    )
    quantity: Said[int] | None = says(
        Count("2"), "how many to cut in all; worked out from the pieces when left out"
    )
    pieces: tuple[Piece, ...] = says(
        Named(Piece), "the names of its copies, each with how it is mirrored or turned", many=True
    )
    grain: Said[str] | None = says(
        Word(("left to right", "front to back", "up and down", "any")),
        "the way the grain runs; along the longest size when left out",
    )
    broad_side: Said[tuple[str, ...]] | None = says(
        SIDE, "an oblong strip: the side that its broader face looks to"
    )
    leans: Lean | None = says(
        Phrase(trims.lean, "foot 8 deg to the left and 6 deg to the front", "which end goes out"),
        "when it does not stand straight; its sides keep the names they had upright",
    )
    ends: tuple[tuple[Said[tuple[str, ...]], EndCut], ...] = says(
        Map(SIDE, Phrase(trims.end_cut, "45 deg, longest at front", "how it is cut")),
        "ends and edges that are not cut square",
        many=True,
    )
    corners: tuple[tuple[Said[tuple[str, ...]], Trim], ...] = says(
        Map(
            Phrase(trims.corner, "top front", "two sides that meet"),
            Phrase(trims.corner_trim, "round 6 mm", "round, hollow, cut off or notch"),
        ),
        "corners that are not square",
        many=True,
    )
    edges: tuple[tuple[Said[tuple[str, ...]], Trim], ...] = says(
        Map(SIDE, Phrase(trims.edge_trim, "hollowed 4 mm", "arched or hollowed")),
        "edges that are not straight",
        many=True,
    )
    outline: tuple[Leg, ...] = says(
        ListOf(Group(Leg), all_or_none=True),
        "a free outline within its two sizes: a start and the stretches after it",
        many=True,
    )
    disc: Said[str] | None = says(YES_NO, "a round part: the circle within its two equal sizes")
    symmetrical: Said[str] | None = says(
        Word(("left to right", "front to back", "bottom to top")),
        "the outline describes one half; the other half mirrors it",
    )
    holes: tuple[Hole, ...] = says(Named(Hole), "holes, slots and windows, by name", many=True)
    grooves: tuple[Groove, ...] = says(Named(Groove), "grooves and rebates, by name", many=True)
    fitted: Said[str] | None = says(
        NameOf(("opening",), "drawer opening"), "cut only after this opening has been measured"
    )
    less: Less | None = says(Group(Less), "fitted: the clearance, least to most")
    share: Share | None = says(
        Group(Share), "fitted: how many of it share the opening; `less` is taken off once for all"
    )
    template: Said[str] | None = says(
        Word(("yes", "no", "none", "half", "tiled", "reduced")),
        "whether it gets a template, and how; plain rectangles and fitted parts do not",
    )
    spares: Said[int] | None = says(Count("1"), "spare copies, for pieces that break easily")
    same_board: Said[str] | None = says(
        Text("fronts"),
        "a name of your own: all pieces of all parts that say the same are cut from one board",
    )
    best_face: Said[tuple[str, ...]] | None = says(SIDE, "the side that shows")
    tolerance: Length | None = says(
        Figure("length", "0.2 mm"), "by how much its sizes may change in another edition"
    )
    step: Length | None = says(
        Figure("length", "0.5 mm"), "a step of its own for its sizes, as sizes have"
    )
    cut_to_fit: tuple[Said[str], ...] = says(
        ListOf(Word(("wide", "deep", "high")), in_one_line=True),
        "sizes that take up what is left over beside stock that no fraction fits",
        many=True,
    )
    only_if: Said[str] | None = says(
        NameOf(("answer",), "with doors"), "needed only when the buyer picks this"
    )
    note: Prose | None = says(Words(), "a note for the cutting list")


@dataclass(frozen=True, kw_only=True)
class SubAssembly(Record):
    """Pieces joined to each other and handled as one in later steps."""

    title: ClassVar[str] = "a sub-assembly"
    short: ClassVar[str] = "copies"
    copies: tuple[Said[str], ...] = says(
        ListOf(Text("left drawer"), in_one_line=True),
        "its names when it is made several times",
        many=True,
    )
    mirror_of: Said[str] | None = says(
        NameOf(("sub-assembly",), "left door"), "the twin that it mirrors, made by the same steps"
    )
    same_as: Said[str] | None = says(
        NameOf(("sub-assembly",), "left drawer"), "the one that it repeats, made by the same steps"
    )
    moves: Said[str] | None = says(
        Word(("slides", "swings", "lifts off", "loose")), "how it moves in the finished piece"
    )


@dataclass(frozen=True, kw_only=True)
class Opening(Record):
    """A space between pieces that is measured once it exists."""

    title: ClassVar[str] = "an opening"
    where: Prose | None = says(
        Words("level with the runners", 200), "where it is measured; at the front when left out"
    )
    between: tuple[tuple[Target, ...], ...] = says(
        ListOf(Phrase(phrases.targets, "left side and right side", "pieces")),
        "the pieces around it",
        many=True,
    )
    wide: Length | None = says(Figure("length", "inside width"), "its planned width")
    deep: Length | None = says(Figure("length", "depth - board"), "its planned depth")
    high: Length | None = says(Figure("length", "14 mm"), "its planned height")


@dataclass(frozen=True, kw_only=True)
class Mark(Record):
    """A line or point drawn on pieces before they are used."""

    title: ClassVar[str] = "a mark"
    one_of: ClassVar[tuple[str, ...]] = ("line", "point", "dot")
    on: tuple[tuple[Target, ...], ...] = says(
        ListOf(Phrase(phrases.targets, "right of left side", "sides of pieces")),
        "which side of which piece",
        needed=True,
    )
    line: phrases.Line | None = says(
        Phrase(trims.line, "22 mm from top", "a line on the side"), "a pencil line"
    )
    point: Position | None = says(
        Phrase(trims.position, "centre", "a point on the side"), "a point, marked with a cross"
    )
    dot: Position | None = says(
        Phrase(trims.position, "centre", "a point on the side"), "a small pencil dot"
    )
    keep_off: tuple[Offset, ...] = says(
        ListOf(Phrase(trims.offset_only, "2 mm from front", "a distance from a side")),
        "what the line stops short of, where it would show",
        many=True,
    )


__all__ = [
    "YES_NO", "Groove", "Hole", "Leg", "Less", "Mark", "Opening", "Part", "Piece", "Share",
    "SubAssembly",
]  # fmt: skip
