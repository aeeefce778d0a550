"""What the buyer does: steps with their joins, treatments, holds, checks and waits.

In: nothing.  Out: record classes; their fields are the tables of the reference.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any, ClassVar

from patternpress.design import phrases, trims
from patternpress.design.amounts import Count, Figure
from patternpress.design.kinds import naming
from patternpress.design.phrases import Place, Target
from patternpress.design.reads import (  # fmt: skip
    YES_NO,
    ListOf,
    NameOf,
    Phrase,
    Phrases,
    Prose,
    Reader,
    Reads,
    Text,
    Word,
    Words,
    wrong_shape,
)
from patternpress.design.records.goods import Length
from patternpress.design.records.parts import SIDE
from patternpress.design.source import Node, Pairs, Scalar
from patternpress.design.span import NOWHERE, Said, Span
from patternpress.design.table import Group, Map, Record, says
from patternpress.measure.formula import Formula

TARGETS = Phrases(phrases.targets, "top front edge of lid", "pieces, or sides and edges of them")
FACES = Phrases(phrases.targets, "top of shelf", "pieces, or sides of them")
HOLES = Phrases(phrases.targets, "knob hole of drawer front", "holes of pieces")
PIECES = Phrases(phrases.targets, "left side and right side", "pieces")
WORK = Phrases(phrases.targets, "work", "pieces, sides of them, or `work` for all of it")
JOINED = ("piece", "sub-assembly", "part")
FINISHES = ("dye", "paint", "oil", "varnish", "wax")  # verbs of what colours or seals the wood


@dataclass(frozen=True, kw_only=True)
class Row(Record):
    """Several equal pieces of one part, set in a row from the one that is placed."""

    title: ClassVar[str] = "a row"
    toward: Said[tuple[str, ...]] = says(SIDE, "the direction it runs in", needed=True)
    every: Length | None = says(Figure("length", "12 mm"), "from one to the same side of the next")
    up_to: Place | None = says(
        Phrase(phrases.place, "4 mm inside right side", "a place"),
        "where the last one ends; the gaps between are equal",
    )
    of: Said[int] | None = says(
        Count("3"), "how many pieces it takes, the first included; all that follow when left out"
    )


_TURN = Figure("angle", "90 deg")  # to the left, seen from above


@dataclass(frozen=True, slots=True)
class Joined:
    """One piece (or sub-assembly) that a step adds, and where each of its sides goes.

    A position is stated once for each direction; what follows from it is worked out.
    """

    piece: Said[str]
    kind: str
    places: tuple[tuple[Said[tuple[str, ...]], Place], ...]
    leans: phrases.Lean | None = None
    glue: Said[str] | None = None
    row: Row | None = None
    span: Span = NOWHERE
    turned: Said[Formula] | None = field(default=None, metadata={"reads": _TURN})
    opens: phrases.Slide | phrases.Turn | None = None
    turns_in: tuple[Target, ...] = ()  # holes that it turns or slides free in


@dataclass(frozen=True)
class Joins(Reads):
    """Pieces with, for each side that matters, where it goes."""

    says: str = "pieces, and where their sides go"
    example: str = "{shelf: {left: against left side, back: flush with left side}}"

    def read(self, node: Node, name: str, reader: Reader) -> tuple[Joined, ...] | None:
        """One record for each piece that could be read."""
        if not isinstance(node, Pairs):
            wrong_shape(node, name, "pieces with their sides", f"{name}: {self.example}", reader)
            return None
        read = [self._one(key, inner, reader) for key, inner in node.entries]
        return tuple(each for each in read if each)

    def _one(self, key: Scalar, node: Node, reader: Reader) -> Joined | None:
        said: Said[str] | None = NameOf(JOINED).typed(key, "join", reader)
        if not isinstance(node, Pairs):
            example = f"{key.text}: {{left: against left side, …}}"
            wrong_shape(node, key.text, "sides and where they go", example, reader)
            return None
        places, extras = [], {}
        for side, inner in node.entries:
            if side.text in _EXTRAS:
                extras[side.text] = _EXTRAS[side.text].read(inner, side.text, reader)
                continue
            if phrases.places_alone(side):
                value = inner.text if isinstance(inner, Scalar) else "…"
                example = f"bottom: {side.text} {value}"
                reader.report(naming.SideMissing, side.span, text=side.text, example=example)
                continue
            sides = phrases.sides(side, reader)
            scalar = Reads().scalar(inner, side.text, reader)
            found = phrases.places(scalar, reader) if scalar else ()
            if sides:
                places += [(sides, place) for place in found]
        if said is None:
            return None
        named = reader.names.find(said.value, *JOINED)
        kind = named.kind if named else "piece"
        leans, glue, row = extras.get("leans"), extras.get("glue"), extras.get("row")
        turned, opens, free = extras.get("turned"), extras.get("opens"), extras.get("turns in")
        rest = (leans, glue, row, key.span, turned, opens, free or ())
        return Joined(said, kind, tuple(places), *rest)

    def schema(self) -> dict[str, Any]:
        """An object of objects of phrases, beside the few fields that are none."""
        fields = {name: reads.schema() for name, reads in _EXTRAS.items()}
        inner = {
            "type": "object",
            "properties": fields,
            "additionalProperties": {"type": "string"},
        }
        return {"type": "object", "additionalProperties": inner}


_EXTRAS: dict[str, Reads] = {
    "leans": Phrase(trims.lean, "top 10 deg to the back", "which end goes out"),
    "glue": NameOf(("material",), "wood glue"),
    "row": Group(Row),
    "turned": _TURN,
    "opens": Phrase(trims.opens, "15 mm to the front", "how far it is shown opened"),
    "turns in": HOLES,
}


@dataclass(frozen=True, kw_only=True)
class Treatment(Record):
    """What is done to edges, faces, spots, pieces or the built thing.

    Exactly one verb, and what it is done to; then how much, and with what.
    """

    title: ClassVar[str] = "a treatment"
    one_of: ClassVar[tuple[str, ...]] = (
        "round over", "ease", "chamfer", "drill", "groove", "sand", "sand flush", "sand off",
        *FINISHES, "leave bare", "resist", "bend", "fill",
    )  # fmt: skip
    round_over: tuple[Target, ...] | None = says(TARGETS, "round an edge over")
    ease: tuple[Target, ...] | None = says(TARGETS, "just take the sharpness off")
    chamfer: tuple[Target, ...] | None = says(TARGETS, "cut an edge off at 45 degrees")
    drill: tuple[Target, ...] | None = says(HOLES, "drill a hole that the part describes")
    groove: tuple[Target, ...] | None = says(PIECES, "cut the grooves that the part describes")
    sand: tuple[Target, ...] | None = says(FACES, "sand smooth")
    sand_flush: tuple[Target, ...] | None = says(FACES, "sand level with its neighbour")
    sand_off: tuple[Target, ...] | None = says(FACES, "sand away, such as pencil lines")
    dye: tuple[Target, ...] | None = says(WORK, "colour the wood before or after gluing")
    paint: tuple[Target, ...] | None = says(WORK, "paint")
    oil: tuple[Target, ...] | None = says(WORK, "oil")
    varnish: tuple[Target, ...] | None = says(WORK, "varnish or lacquer")
    wax: tuple[Target, ...] | None = says(WORK, "wax")
    leave_bare: tuple[Target, ...] | None = says(FACES, "keep colour and finish off")
    resist: tuple[Target, ...] | None = says(
        FACES, "glue smeared on purpose, so that dye does not take there"
    )
    bend: tuple[Target, ...] | None = says(PIECES, "bend, wet or hot")
    fill: tuple[Target, ...] | None = says(FACES, "fill gaps")
    by: Length | None = says(Figure("length", "0.5 mm"), "how much: a radius, a width, a depth")
    with_: Said[str] | None = says(NameOf(("tool", "material"), "sanding block"), "with what")
    coats: Said[int] | None = says(Count("2"), "how many coats")
    only_if: Said[str] | None = says(
        NameOf(("answer",), "painted"), "only when the buyer picks this"
    )
    note: Prose | None = says(Words(), "anything to watch")

    @property
    def verb(self) -> str:
        """The one verb that is said."""
        return next(v for v in self.one_of if getattr(self, v.replace(" ", "_")) is not None)

    @property
    def targets(self) -> tuple[Target, ...]:
        """What the verb is done to."""
        found: tuple[Target, ...] = getattr(self, self.verb.replace(" ", "_"))
        return found


@dataclass(frozen=True, kw_only=True)
class Hold(Record):
    """How joined pieces are kept in place while glue sets."""

    title: ClassVar[str] = "a hold"
    short: ClassVar[str] = "with"
    with_: Said[str] = says(
        NameOf(("tool", "material"), "masking tape"),
        "tape, clamp, weight, spare strip",
        needed=True,
    )
    where: Prose | None = says(Words("across both sides", 300), "where it goes")
    note: Prose | None = says(Words(), "anything to watch")


@dataclass(frozen=True, kw_only=True)
class Check(Record):
    """Something to try or measure before going on, and what each outcome means."""

    title: ClassVar[str] = "a check"
    short: ClassVar[str] = "try"
    try_: Prose = says(Words("Slide the drawer in and out."), "what to try", needed=True)
    if_: tuple[tuple[Said[str], Prose], ...] = says(
        Map(Text("it sticks", 80), Words("Sand a little and try again.")),
        "outcomes, each with what to do then",
        many=True,
    )
    when: Said[str] | None = says(
        Word(("before gluing", "before waiting", "after waiting")),
        "when it is tried; before the wait when left out, while glue can still be moved",
    )


@dataclass(frozen=True, kw_only=True)
class Wait(Record):
    """A wait: for a glue or finish, or for a stated time."""

    title: ClassVar[str] = "a wait"
    short: ClassVar[str] = "time"
    for_: Said[str] | None = says(
        NameOf(("material",), "wood glue"), "the glue or finish that dries"
    )
    until: Said[str] | None = says(
        Word(("handle", "hard")), "until it can be handled, or until it is hard"
    )
    time: Length | None = says(Figure("time", "30 to 60 min"), "a stated time, least to most")


# Where one may stand at the bench to look at the work as it lies.
EYES = (
    "front right above",
    "front left above",
    "front, a little right",
    "front, a little left",
    "back right above",
    "back left above",
    "front right high",
    "front left high",
    "back right high",
    "back left high",
    "front right below",
    "front left below",
)


@dataclass(frozen=True, kw_only=True)
class Picture(Record):
    """A photograph of the author's own; the drawn pictures of a step come by themselves."""

    title: ClassVar[str] = "a picture"
    of: Prose = says(Words("the drawer half way in", 300), "what it shows", needed=True)
    file: Said[str] = says(Text("drawer.jpg"), "a photograph beside the design file", needed=True)


@dataclass(frozen=True, kw_only=True)
class Caution(Record):
    """A caution of the author's own, beside the usual ones that are printed anyway."""

    title: ClassVar[str] = "a caution"
    short: ClassVar[str] = "hazard"
    word: Said[str] | None = says(
        Word(("warning", "caution", "notice")), "how grave: injury, minor injury, damage"
    )
    hazard: Prose = says(Words("The mitre trap is sharp", 300), "what is dangerous", needed=True)
    result: Prose | None = says(Words("It can cut fingers.", 300), "what may happen")
    avoid: Prose | None = says(Words("Keep fingers behind the stop.", 300), "how to avoid it")


@dataclass(frozen=True, kw_only=True)
class Step(Record):
    """One thing that the buyer does, with the pieces it joins."""

    title: ClassVar[str] = "a step"
    step: Prose = says(Words("Glue the shelf between the sides", 120), "its heading", needed=True)
    builds: Said[str] | None = says(
        NameOf(("sub-assembly",), "drawer"), "the sub-assembly that its pieces belong to"
    )
    start: Said[str] | None = says(
        NameOf(("piece", "sub-assembly"), "base"),
        "the piece on the bench that others are joined to",
    )
    work_lies: Said[str] | None = says(
        Word(
            ("upright", "on its back", "on its front", "on its left", "on its right", "on its top")
        ),
        "how the work rests on the bench",
    )
    seen_from: Said[str] | None = says(
        Word(EYES),
        "where its drawn picture is seen from, in place of the view that is chosen by itself",
    )
    uses: tuple[Said[str], ...] = says(
        ListOf(NameOf(("tool", "material"), "craft knife"), in_one_line=True),
        "tools and materials used",
        many=True,
    )
    measure: tuple[Said[str], ...] = says(
        ListOf(NameOf(("opening",), "drawer opening"), in_one_line=True),
        "openings that are measured now",
        many=True,
    )
    cut: tuple[Said[str], ...] = says(
        ListOf(NameOf(("part",), "drawer front"), in_one_line=True),
        "parts that are cut now",
        many=True,
    )
    mark: tuple[Said[str], ...] = says(
        ListOf(NameOf(("mark",), "shelf line"), in_one_line=True),
        "marks that are drawn now",
        many=True,
    )
    rub_out: tuple[Said[str], ...] = says(
        ListOf(NameOf(("mark",), "shelf line"), in_one_line=True),
        "marks that are rubbed out again",
        many=True,
    )
    treat: tuple[Treatment, ...] = says(
        ListOf(Group(Treatment)), "treatments before joining", many=True
    )
    join: tuple[Joined, ...] = says(
        Joins(), "the pieces that are joined, and where they go", many=True
    )
    glue: Said[str] | None = says(
        NameOf(("material",), "wood glue"), "the glue, when there is more than one"
    )
    hold: tuple[Hold, ...] = says(ListOf(Group(Hold)), "how the pieces are held", many=True)
    afterwards: tuple[Treatment, ...] = says(
        ListOf(Group(Treatment)), "treatments after joining", many=True
    )
    check: tuple[Check, ...] = says(ListOf(Group(Check)), "what to try before going on", many=True)
    wait: Wait | None = says(Group(Wait), "how long to wait")
    meanwhile: tuple[Prose, ...] = says(
        ListOf(Words("Sand <drawer front>.")), "what to do while it dries", many=True
    )
    say: tuple[Prose, ...] = says(
        ListOf(Words()),
        "the author's own sentences for joining and cutting; marks, treatments, holds and checks "
        "are told all the same",
        many=True,
    )
    also_say: tuple[Prose, ...] = says(
        ListOf(Words("Drive three <nails> through <left side>.")),
        "sentences to follow those for joining, which stay",
        many=True,
    )
    tip: tuple[Prose, ...] = says(ListOf(Words()), "tips", many=True)
    caution: tuple[Caution, ...] = says(
        ListOf(Group(Caution)),
        "cautions for this step; a notice where none says its word",
        many=True,
    )
    picture: tuple[Picture, ...] = says(ListOf(Group(Picture)), "photographs", many=True)
    takes: Length | None = says(Figure("time", "10 min"), "how long the hands are busy")
    only_if: Said[str] | None = says(
        NameOf(("answer",), "painted"), "only when the buyer picks this"
    )


__all__ = [
    "YES_NO",
    "Caution",
    "Check",
    "Hold",
    "Joined",
    "Picture",
    "Row",
    "Step",
    "Treatment",
    "Wait",
]
