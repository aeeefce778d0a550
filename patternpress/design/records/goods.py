"""What is bought or used: stock, materials, tools.

In: nothing.  Out: record classes; their fields are the tables of the reference.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from typing import ClassVar

from patternpress.design import trims
from patternpress.design.amounts import Count, Figure, Price, Ratio, Sizes
from patternpress.design.phrases import Position
from patternpress.design.reads import (
    YES_NO,
    ListOf,
    NameOf,
    Phrase,
    Prose,
    Text,
    Word,
    Words,
)  # fmt: skip
from patternpress.design.span import Said
from patternpress.design.table import Group, Record, says
from patternpress.measure.formula import Formula

Length = Said[Formula]


@dataclass(frozen=True, kw_only=True)
class Nearest(Record):
    """What stands for a stock where the buyer's shop sells by the other system."""

    title: ClassVar[str] = "the nearest equal"
    short: ClassVar[str] = "size"
    size: tuple[Length, ...] = says(
        Sizes(1, 2, "3/32 in"), "thickness, section or diameter in the other system", needed=True
    )
    sold: tuple[Length, ...] | None = says(Sizes(1, 2, "4 x 24 in"), "the size it is sold in")
    layers: Said[int] | None = says(
        Count("2"), "how many sheets of that size are glued on each other to make the thickness"
    )
    note: Prose | None = says(Words(), "what to do with it: sand it down, measure it first")


@dataclass(frozen=True, kw_only=True)
class Defect(Record):
    """A knot, a hole or a stain in a sheet or length, which no piece may touch."""

    title: ClassVar[str] = "a defect"
    size: tuple[Length, ...] = says(
        Sizes(1, 2, "20 x 30 mm"), "width x length, or the length alone on a strip", needed=True
    )
    at: Position = says(
        Phrase(
            trims.board_position,
            "50 mm from left and 80 mm from bottom",
            "a point: distances from left or right, bottom or top",
        ),
        "where its middle is, the board lying with its length from left to right",
        needed=True,
    )


@dataclass(frozen=True, kw_only=True)
class Lot(Record):
    """Sheets or lengths of one size, on sale or at hand."""

    title: ClassVar[str] = "a sheet or length"
    short: ClassVar[str] = "size"
    size: tuple[Length, ...] = says(
        Sizes(1, 2, "100 x 250 mm"), "width x length, or the length alone", needed=True
    )
    price: Said[tuple[Fraction, str]] | None = says(Price(), "the price of one")
    count: Said[int] | None = says(Count("2"), "how many there are (at hand: one unless said)")
    used: tuple[Length, ...] | None = says(
        Sizes(2, 2, "40 x 120 mm"), "a corner that is already cut out of it: width x length"
    )
    defects: tuple[Defect, ...] = says(
        ListOf(Group(Defect)), "knots, holes and stains that pieces keep clear of", many=True
    )


@dataclass(frozen=True, kw_only=True)
class AtScale(Record):
    """What stands for a stock where the piece is made at another scale."""

    title: ClassVar[str] = "stock at another scale"
    scale: Said[Fraction] = says(Ratio(), "the scale that it is for", needed=True)
    size: tuple[Length, ...] | None = says(
        Sizes(1, 2, "4 mm"), "thickness, section or diameter as sold"
    )
    layers: Said[int] | None = says(
        Count("2"), "how many sheets of that size are glued on each other to make the thickness"
    )
    bought: Prose | None = says(
        Words("a turned brass knob, shank 2 mm", 200), "a fitting: what to ask for instead"
    )
    wood: Said[str] | None = says(Text("birch plywood"), "the wood, if another is better there")
    pack: Said[int] | None = says(Count("10"), "how many come in a pack, for fittings")
    sold: tuple[Length, ...] | None = says(Sizes(1, 2, "150 x 900 mm"), "the size it is sold in")
    price: Said[tuple[Fraction, str]] | None = says(Price(), "the price of one sold size")
    nearest: Nearest | None = says(
        Group(Nearest), "what is used instead where shops sell by the other system"
    )
    note: Prose | None = says(Words(), "anything else that the buyer should know")


@dataclass(frozen=True, kw_only=True)
class Stock(Record):
    """What is bought and cut: a sheet, a strip, a rod, or a bought-in fitting."""

    title: ClassVar[str] = "stock"
    one_of: ClassVar[tuple[str, ...]] = ("sheet", "strip", "rod", "bought")
    sheet: Length | None = says(Figure("length", "2 mm"), "a board or sheet: its thickness as sold")
    strip: tuple[Length, ...] | None = says(
        Sizes(1, 2, "4 x 6 mm"), "a strip: its section as sold (one figure when square)"
    )
    rod: Length | None = says(
        Figure("length", "3 mm"), "a round rod or dowel: its diameter as sold"
    )
    bought: Prose | None = says(
        Words("a brass pin with a round head", 200), "a fitting bought ready made: what to ask for"
    )
    wood: Said[str] | None = says(Text("basswood"), "the wood, as the shop calls it")
    really: Length | None = says(
        Figure("length", "1.9 to 2.1 mm"), "the range that the thickness really comes in"
    )
    sold: tuple[Length, ...] | None = says(
        Sizes(1, 2, "100 x 900 mm"), "the size it is sold in: width x length, or the length alone"
    )
    also_sold: tuple[Lot, ...] = says(
        ListOf(Group(Lot)), "other sizes that it is sold in, with their prices", many=True
    )
    at_hand: tuple[Lot, ...] = says(
        ListOf(Group(Lot)), "sheets, lengths and offcuts that are there already", many=True
    )
    grain: Said[str] | None = says(
        Word(("along", "none")), "whether grain runs along the sold length (`along`) or not at all"
    )
    price: Said[tuple[Fraction, str]] | None = says(Price(), "the price of one sold size")
    pack: Said[int] | None = says(Count("10"), "how many come in a pack, for fittings")
    nearest: Nearest | None = says(
        Group(Nearest), "what is used instead where shops sell by the other system"
    )
    at_scales: tuple[AtScale, ...] = says(
        ListOf(Group(AtScale)), "what is used instead at other scales", many=True
    )
    thinnest: Length | None = says(
        Figure("length", "0.8 mm"),
        "the thinnest board or wall that you would work, at any scale (0.5 mm)",
    )
    may_differ: Length | None = says(
        Figure("length", "0.5 mm"),
        "how far the stock of another scale or system may be from the exact size (a quarter of it)",
    )
    alternatives: tuple[Prose, ...] = says(
        ListOf(Words("limewood", 300)), "other stock that does as well", many=True
    )
    kerf: Length | None = says(
        Figure("length", "0.3 mm"), "what the cut takes away: nothing for a knife"
    )
    trim: Length | None = says(
        Figure("length", "2 mm"), "what is cut off each edge or end before the first piece"
    )
    cuts: Said[str] | None = says(
        Word(("edge to edge", "anywhere")),
        "how its cuts run: a saw cuts `edge to edge` unless said otherwise, a knife `anywhere`",
    )
    cut_with: Said[str] | None = says(NameOf(("tool",), "craft knife"), "the tool that cuts it")
    allowance: Length | None = says(
        Figure("length", "0.2 mm"), "what is left on for sanding and cleaning up"
    )
    smallest_offcut: tuple[Length, ...] | None = says(
        Sizes(1, 2, "40 x 120 mm"),
        "the smallest offcut worth keeping: width x length, or the length alone",
    )
    laminated: Said[str] | None = says(
        YES_NO, "whether another scale may have it glued up from thinner sheets, where none is sold"
    )
    note: Prose | None = says(Words(), "anything else that the buyer should know")
    glued: int = 1  # sheets on each other in the stock of an edition; worked out, never read


@dataclass(frozen=True, kw_only=True)
class Material(Record):
    """What is used up: glue, finish, sandpaper, tape."""

    title: ClassVar[str] = "a material"
    short: ClassVar[str] = "note"
    kind: Said[str] | None = says(
        Word(("glue", "finish", "abrasive", "other")), "what sort of material it is"
    )
    quantity: Prose | None = says(Words("a few drops", 120), "how much is needed, in words")
    workable: Length | None = says(
        Figure("time", "5 to 10 min"), "glue: how long the pieces can still be moved"
    )
    handle: Length | None = says(
        Figure("time", "30 to 60 min"), "glue or finish: when the work can be handled"
    )
    hard: Length | None = says(Figure("time", "24 h"), "glue or finish: when it is fully hard")
    price: Said[tuple[Fraction, str]] | None = says(Price(), "what it costs")
    only_if: Said[str] | None = says(
        NameOf(("answer",), "painted"), "needed only when the buyer picks this"
    )
    note: Prose | None = says(Words(), "which kind to get, or what else will do")


@dataclass(frozen=True, kw_only=True)
class Tool(Record):
    """What is used and kept."""

    title: ClassVar[str] = "a tool"
    short: ClassVar[str] = "note"
    note: Prose | None = says(Words("with a fresh blade", 300), "which kind, or what to look for")
    instead: Prose | None = says(Words("a razor saw", 200), "what else will do")
    optional: Said[str] | None = says(YES_NO, "whether the piece can be made without it")
    only_if: Said[str] | None = says(
        NameOf(("answer",), "painted"), "needed only when the buyer picks this"
    )
