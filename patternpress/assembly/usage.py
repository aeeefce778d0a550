"""Who uses what, when.

In: a Book and its names.  Out: a `Usage`: in which step each piece is brought, how often a
sub-assembly is made, and when things are cut, measured, marked and rubbed out.  Only lookups;
what is wrong with the order is found by the checks.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple

from patternpress.design.names import IN_COPY, Names
from patternpress.design.records.book import Book
from patternpress.design.records.parts import Part
from patternpress.design.records.work import Joined, Step
from patternpress.design.span import Said, Span

MAIN = ""  # the name of the work that is no sub-assembly


@dataclass(frozen=True, slots=True)
class Use:
    """A piece or sub-assembly brought to the bench: in which step, for which work."""

    name: str
    kind: str  # "piece", "sub-assembly", or "part" when a row brings several of its pieces
    step: int  # counted from 1 over steps and finishing
    builds: str
    span: Span
    joined: Joined | None = None
    brings: tuple[str, ...] = ()  # what comes: itself, or the pieces of a row in their order


class Lying(NamedTuple):
    """A step, its number from 1, the work that it builds, and how that lies on the bench."""

    number: int
    step: Step
    work: str
    lies: str

    @property
    def down(self) -> str:
        """The side of the work that lies on the bench."""
        return "bottom" if self.lies == "upright" else self.lies.removeprefix("on its ")


@dataclass(frozen=True)
class Usage:
    """All uses of a design, and the tables that answer questions about them."""

    steps: tuple[Step, ...]
    uses: tuple[Use, ...]
    pieces: dict[str, tuple[str, ...]]  # part -> its pieces
    part_of: dict[str, str]  # piece -> its part
    made: dict[str, int]  # sub-assembly -> how many copies of it are made
    sub_of: dict[str, str]  # a copy's name -> its sub-assembly
    in_copies: dict[str, tuple[str, str]]  # “rail of left frame” -> its piece, its copy

    @cached_property
    def lying(self) -> tuple[Lying, ...]:
        """Every step with the work that it builds, and how that lies: as it was left before."""
        lies: dict[str, str] = {}
        found = []
        for number, step in enumerate(self.steps, 1):
            work = step.builds.value if step.builds else MAIN
            lies[work] = step.work_lies.value if step.work_lies else lies.get(work, "upright")
            found.append(Lying(number, step, work, lies[work]))
        return tuple(found)

    def first_use(self, piece: str) -> Use | None:
        """The first use of a piece, itself or as one of a row."""
        return self._first.get(piece)

    @cached_property
    def _first(self) -> dict[str, Use]:
        found: dict[str, Use] = {}
        for use in self.uses:
            for name in (use.name, *use.brings):
                found.setdefault(name, use)
        return found

    def used(self, part: str) -> int:
        """How many pieces of a part the steps use, copies of sub-assemblies counted."""
        return sum(self.times(use) for use in self.uses if self._counts(use, part))

    def times(self, use: Use) -> int:
        """How many pieces one use stands for."""
        return len(use.brings) * self.made.get(use.builds, 1)

    def _counts(self, use: Use, part: str) -> bool:
        if use.kind == "part":
            return part in (use.name, self.part_of.get(use.name))
        return use.kind == "piece" and self.part_of.get(use.name) == part

    def step_where(self, attribute: str, name: str) -> int | None:
        """The first step whose list (cut, measure, mark, rub_out) holds a name."""
        for number, step in enumerate(self.steps, 1):
            said: tuple[Said[str], ...] = getattr(step, attribute)
            if any(each.value == name for each in said):
                return number
        return None


def usage(book: Book, names: Names) -> Usage:
    """Everything that the steps of a book use."""
    steps = (*book.steps, *book.finishing)
    pieces = {part.name.value: pieces_of(part, names) for part in book.parts}
    part_of = {piece: part for part, each in pieces.items() for piece in each}
    made, sub_of = _subs(book)
    in_copies = {
        each.name: (each.name.removesuffix(f" of {copy}"), copy)
        for each in names.of_kind(IN_COPY)
        for copy in sub_of
        if each.name.endswith(f" of {copy}")
    }
    part_of |= {each.name: each.owner for each in names.of_kind(IN_COPY)}
    found = _once(
        use for number, step in enumerate(steps, 1) for use in _brought(step, number, pieces)
    )
    inside = {sub_of.get(u.name, u.name): u.builds for u in found if u.kind == "sub-assembly"}
    total = {sub: _made(sub, made, inside) for sub in made}
    return Usage(steps, tuple(found), pieces, part_of, total, sub_of, in_copies)


def _once(uses: Iterable[Use]) -> list[Use]:
    """The uses, without a `start` that names what is in that work already: it is only fetched."""
    found: list[Use] = []
    there: set[tuple[str, str]] = set()
    for use in uses:
        if use.joined is not None or (use.builds, use.name) not in there:
            found.append(use)
        there.add((use.builds, use.name))
    return found


def pieces_of(part: Part, names: Names) -> tuple[str, ...]:
    """The names of a part's pieces: as said, numbered, or the part's own."""
    owned = [n.name for n in names.of_kind("piece") if n.owner == part.name.value]
    return tuple(dict.fromkeys(owned)) or (part.name.value,)


def _subs(book: Book) -> tuple[dict[str, int], dict[str, str]]:
    made: dict[str, int] = {}
    sub_of: dict[str, str] = {}
    for sub in book.sub_assemblies:
        name = sub.name.value
        twin = sub.mirror_of or sub.same_as
        made[name] = max(1, len(sub.copies))
        sub_of[name] = name
        for copy in sub.copies:
            sub_of[copy.value] = name
        if twin is not None:
            made[twin.value] = made.get(twin.value, 1) + made[name]
            sub_of[name] = twin.value
    return made, sub_of


def _made(sub: str, made: dict[str, int], inside: dict[str, str], depth: int = 0) -> int:
    """Copies of a sub-assembly, multiplied when it goes into one that is made several times."""
    outer = inside.get(sub, MAIN)
    times = made.get(sub, 1)
    if not outer or outer == sub or depth > len(made):
        return times
    return times * _made(outer, made, inside, depth + 1)


def _brought(step: Step, number: int, pieces: dict[str, tuple[str, ...]]) -> Iterator[Use]:
    builds = step.builds.value if step.builds else MAIN
    if step.start:
        kind = "piece" if _is_piece(step.start.value, pieces.values()) else "sub-assembly"
        name = step.start.value
        yield Use(name, kind, number, builds, step.start.span, None, (name,))
    for joined in step.join:
        kind, span = _kind(joined, pieces), joined.piece.span
        brings = row_of(joined, pieces) if kind == "part" else (joined.piece.value,)
        yield Use(joined.piece.value, kind, number, builds, span, joined, brings)


def row_of(joined: Joined, pieces: Mapping[str, tuple[str, ...]]) -> tuple[str, ...]:
    """The pieces that one entry of a join brings: those of a row from the named one on, as many
    as it says; all pieces of a part that is named; else the named thing alone.
    """
    name = joined.piece.value
    if name in pieces and (joined.row is not None or joined.kind == "part"):
        own = pieces[name]
    elif joined.row is not None:
        every = next((each for each in pieces.values() if name in each), (name,))
        own = every[every.index(name) :]
    else:
        return (name,)
    most = joined.row.of.value if joined.row is not None and joined.row.of else len(own)
    return own[:most]


def _kind(joined: Joined, pieces: dict[str, tuple[str, ...]]) -> str:
    name = joined.piece.value
    if joined.row is not None and (name in pieces or _is_piece(name, pieces.values())):
        return "part"
    if _is_piece(name, pieces.values()):
        return "piece"
    return "part" if name in pieces else "sub-assembly"


def _is_piece(name: str, pieces: Iterable[tuple[str, ...]]) -> bool:
    return any(name in each for each in pieces)
