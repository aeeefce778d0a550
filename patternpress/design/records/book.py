"""The design as a whole: author, cover, choices, cautions, editions, and all sections.

In: nothing.  Out: record classes; their fields are the tables of the reference.
"""

from __future__ import annotations

import datetime
from dataclasses import dataclass
from fractions import Fraction
from typing import ClassVar

from patternpress.design.amounts import Count, Date, Figure, Ratio, Sizes
from patternpress.design.reads import YES_NO, ListOf, NameOf, Prose, Text, Word, Words  # fmt: skip
from patternpress.design.records.called import NAMES, GivenNames
from patternpress.design.records.goods import Length, Material, Stock, Tool
from patternpress.design.records.parts import Mark, Opening, Part, SubAssembly
from patternpress.design.records.work import Caution, Step, Treatment
from patternpress.design.span import Said
from patternpress.design.table import Group, Map, Named, Record, says


@dataclass(frozen=True, kw_only=True)
class Size(Record):
    """A named length, angle, count or time, given or worked out from others."""

    title: ClassVar[str] = "a size"
    short: ClassVar[str] = "is"
    is_: Length = says(Figure(None, "84 mm"), "the figure or the sum", needed=True)
    tolerance: Length | None = says(
        Figure("length", "0.2 mm"), "by how much another edition may change it"
    )
    step: Length | None = says(
        Figure("length", "1 mm"), "a step of its own, in editions that show the system of its unit"
    )
    scales: Said[str] | None = says(
        YES_NO, "whether another scale changes it: `no` for clearances, and what fits bought things"
    )
    note: Prose | None = says(Words(), "what it is")


@dataclass(frozen=True, kw_only=True)
class Author(Record):
    """Who publishes the design, and how buyers reach them."""

    title: ClassVar[str] = "the author"
    short: ClassVar[str] = "called"
    called: Said[str] = says(Text("Gull Steps Workshop"), "name or workshop", needed=True)
    contact: Said[str] | None = says(Text("post@example.org"), "how buyers reach the author")
    address: Said[str] | None = says(Text("1 Lamp Row, Quayside"), "postal address")


@dataclass(frozen=True, kw_only=True)
class Cover(Record):
    """Words for the cover."""

    title: ClassVar[str] = "the cover"
    short: ClassVar[str] = "words"
    subtitle: Prose | None = says(Words("with two drawers that run", 150), "under the title")
    words: Prose | None = says(Words("For the keeper's room.", 400), "a sentence or two")
    picture: Said[str] | None = says(Text("desk.jpg"), "a photograph beside the design file")
    shows: Prose | None = says(Words("the desk in a window", 300), "what the photograph shows")


@dataclass(frozen=True, kw_only=True)
class Answer(Record):
    """One answer to a choice."""

    title: ClassVar[str] = "an answer"
    short: ClassVar[str] = "means"
    means: Prose | None = says(Words("Two coats of thin oil.", 400), "what it means")


@dataclass(frozen=True, kw_only=True)
class Choice(Record):
    """Something that the buyer picks: a finish, a variant."""

    title: ClassVar[str] = "a choice"
    ask: Prose = says(Words("Oiled or painted?", 200), "the question", needed=True)
    answers: tuple[Answer, ...] = says(Named(Answer), "the answers, by name", needed=True)


@dataclass(frozen=True, kw_only=True)
class Term(Record):
    """A word that not every buyer knows, explained where the booklet first uses it."""

    title: ClassVar[str] = "a word explained"
    short: ClassVar[str] = "means"
    means: Prose = says(
        Words("a small crane that swings a boat out", 200), "what it means", needed=True
    )
    also: tuple[Said[str], ...] = says(
        ListOf(Text("davit arm", 80), in_one_line=True),
        "other forms of the word, by which it is found as well",
        many=True,
    )


@dataclass(frozen=True, kw_only=True)
class Coarser(Record):
    """A coarser step for the larger figures of an edition."""

    title: ClassVar[str] = "a coarser step"
    over: Length = says(Figure("length", "300 mm"), "figures from this on", needed=True)
    step: Length = says(Figure("length", "1 mm"), "come to multiples of this", needed=True)


@dataclass(frozen=True, kw_only=True)
class Edition(Record):
    """One way of publishing the design; says only what differs from the design's own."""

    title: ClassVar[str] = "an edition"
    like: Said[str] | None = says(Text("metric"), "the edition that it starts from")
    units: Said[str] | None = says(Word(("mm", "in", "both")), "the units shown")
    stock: Said[str] | None = says(Word(("mm", "in")), "the system that stock is sold by")
    paper: Said[str] | None = says(Word(("A4", "Letter", "A4 and Letter")), "the paper")
    scale: Said[Fraction] | None = says(
        Ratio(), "the scale that it is made at, if not the design's"
    )
    language: Said[str] | None = says(Text("en", 8), "the language")
    letters: Said[str] | None = says(Word(("normal", "large")), "the size of the letters")
    ink: Said[str] | None = says(Word(("normal", "saving")), "normal, or saving ink")
    theme: Said[str] | None = says(Text("quay"), "the look")
    labels: Said[str] | None = says(YES_NO, "whether it has a label to cut out for every piece")
    mm_step: Length | None = says(Figure("length", "0.1 mm"), "millimetres are shown to this step")
    fraction: Length | None = says(Figure("length", "1/64 in"), "inches are shown to this fraction")
    coarser: tuple[Coarser, ...] = says(
        ListOf(Group(Coarser)), "coarser steps for larger figures", many=True
    )
    pins: tuple[tuple[Said[str], Length], ...] = says(
        Map(NameOf(("size",), "width"), Figure("length", "3 5/16 in")),
        "sizes that come to just this in the edition, whatever the others do",
        many=True,
    )


@dataclass(frozen=True, kw_only=True)
class Change(Record):
    """What changed in a version."""

    title: ClassVar[str] = "a change"
    short: ClassVar[str] = "what"
    what: Prose = says(Words("The shelf is 2 mm deeper.", 600), "what changed", needed=True)


@dataclass(frozen=True, kw_only=True)
class Book(Record):
    """A whole design file."""

    title: ClassVar[str] = "a design"
    design: Prose = says(Words("Keeper's desk", 80), "what the piece is called", needed=True)
    version: Said[str] | None = says(Text("1.0", 20), "the version of the design")
    date: Said[datetime.date] | None = says(Date(), "the day of this version")
    units: Said[str] | None = says(Word(("mm", "in")), "the design's own system; mm when left out")
    scale: Said[Fraction] | None = says(Ratio(), "the model ratio; 1:1 when left out")
    series: Prose | None = says(Words("The Lighthouse Quay", 80), "the series it belongs to")
    level: Said[str] | None = says(
        Word(("first piece", "easy", "some practice", "experienced")), "who can make it"
    )
    author: Author | None = says(Group(Author), "who publishes it")
    licence: Prose | None = says(
        Words("You may make and sell pieces, not the pattern.", 600), "what the buyer may do"
    )
    imprint: Prose | None = says(
        Words("Thanks to all who tried this pattern.", 800), "further words for the last page"
    )
    changes: tuple[Change, ...] = says(Named(Change, True), "what changed, by version", many=True)
    cover: Cover | None = says(Group(Cover), "words for the cover")
    about: Prose | None = says(Words("A desk with a sloping lid."), "what you will make")
    workspace: Prose | None = says(
        Words("A table by a window.", 300), "where it can be made, beside what follows by itself"
    )
    not_for: Prose | None = says(
        Words("It is too small to sit on.", 300), "who or what it is not for", label="not for"
    )
    overall: tuple[Length, ...] | None = says(
        Sizes(3, 3, "width x depth x height"), "the finished size: width x depth x height"
    )
    hangs: Said[str] | None = says(
        YES_NO, "whether it hangs on a wall, so that it need not stand by itself"
    )
    templates: Said[str] | None = says(
        Word(("tiled", "reduced", "none")),
        "what is done with templates larger than a page: joined from sheets, or drawn smaller; "
        "or no templates at all",
    )
    languages: tuple[Said[str], ...] = says(
        ListOf(Text("en", 8), in_one_line=True),
        "languages of the texts, the main one first",
        many=True,
    )
    names: GivenNames = says(
        NAMES,
        "what things are called in the other languages: the names that are printed",
        many=True,
    )
    shares: Said[str] | None = says(
        Text("quay-stock.yaml"), "a file of stock, tools and words shared by a series"
    )
    sizes: tuple[Size, ...] = says(Named(Size), "named sizes", many=True)
    stock: tuple[Stock, ...] = says(Named(Stock), "what the parts are cut from", many=True)
    parts: tuple[Part, ...] = says(Named(Part), "what is cut", needed=True)
    sub_assemblies: tuple[SubAssembly, ...] = says(
        Named(SubAssembly), "pieces handled as one", many=True, label="sub-assemblies"
    )
    openings: tuple[Opening, ...] = says(Named(Opening), "spaces that are measured", many=True)
    marks: tuple[Mark, ...] = says(Named(Mark), "pencil lines and points", many=True)
    choices: tuple[Choice, ...] = says(Named(Choice), "what the buyer picks", many=True)
    tools: tuple[Tool, ...] = says(Named(Tool), "what is used and kept", many=True)
    materials: tuple[Material, ...] = says(Named(Material), "what is used up", many=True)
    cautions: tuple[Caution, ...] = says(
        ListOf(Group(Caution)), "the author's own cautions", many=True
    )
    terms: tuple[Term, ...] = says(
        Named(Term), "words explained where they are first used, before our own", many=True
    )
    steps: tuple[Step, ...] = says(ListOf(Group(Step)), "the order of work", needed=True)
    finishing: tuple[Step, ...] = says(
        ListOf(Group(Step)), "steps after the piece is built", many=True
    )
    editions: tuple[Edition, ...] = says(Named(Edition), "how it is published", many=True)
    keep: tuple[Said[str], ...] = says(
        ListOf(NameOf(("size", "opening"), "width"), in_one_line=True),
        "sizes to be kept when the stock changes",
        many=True,
    )
    keep_words: tuple[Said[str], ...] = says(
        ListOf(Text("2H pencil"), in_one_line=True),
        "words with figures in them that are names, such as a pencil's grade",
        many=True,
    )


@dataclass(frozen=True, kw_only=True)
class Shared(Record):
    """A file of what several designs share."""

    title: ClassVar[str] = "a shared file"
    names: GivenNames = says(NAMES, "what its things are called in other languages", many=True)
    sizes: tuple[Size, ...] = says(Named(Size), "named sizes", many=True)
    stock: tuple[Stock, ...] = says(Named(Stock), "what the parts are cut from", many=True)
    tools: tuple[Tool, ...] = says(Named(Tool), "what is used and kept", many=True)
    materials: tuple[Material, ...] = says(Named(Material), "what is used up", many=True)
    cautions: tuple[Caution, ...] = says(ListOf(Group(Caution)), "cautions", many=True)
    terms: tuple[Term, ...] = says(Named(Term), "words explained where first used", many=True)
    author: Author | None = says(Group(Author), "who publishes the series")
    licence: Prose | None = says(
        Words("You may make and sell pieces, not the pattern.", 600), "what the buyer may do"
    )
    imprint: Prose | None = says(
        Words("Thanks to all who tried this pattern.", 800), "further words for the last page"
    )
    series: Prose | None = says(Words("The Lighthouse Quay", 80), "the series")


__all__ = ["Author", "Book", "Count", "Edition", "Shared", "Treatment"]
