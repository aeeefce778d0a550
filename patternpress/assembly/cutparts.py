"""The parts as they are cut.

In: a Book, its usage and two solvers (largest and smallest).  Out: a `CutPart` for each part
whose sizes could be worked out: letter, extents, length along the grain, quantity, and whether
it is cut only after measuring.
"""

from __future__ import annotations

from collections.abc import Container, Iterator
from dataclasses import dataclass, field
from fractions import Fraction

from patternpress.assembly.broadest import thin_of_square
from patternpress.assembly.sizes import AXES, AXIS_OF, SIDE_AXIS, Solver, shared
from patternpress.assembly.usage import Usage
from patternpress.design.kinds import parts as kinds
from patternpress.design.problem import Problem
from patternpress.design.records.book import Book
from patternpress.design.records.goods import Stock
from patternpress.design.records.parts import Part
from patternpress.measure.formula import names
from patternpress.measure.nodes import Property
from patternpress.measure.quantity import Kind, Quantity

GRAIN_AXIS = {"left to right": "wide", "front to back": "deep", "up and down": "high"}
RUNS = {"wide": "from left to right", "deep": "from front to back", "high": "up and down"}
NOTHING = Quantity(Fraction(0), Kind.LENGTH)


@dataclass(frozen=True)
class CutPart:
    """One part as it is cut.  Extents are its largest sizes, in mm by axis.

    `along` is the axis of its length (with the grain), `across` of its width, `thin` of its
    thickness; a bought fitting may have none.  `opening` is measured before it is cut, and
    `waits` are the axes whose sizes follow from it.  `tips`: how far an end that is cut level or
    upright stands out over a size, both ends together, mm by axis.  `planned`: for each size that
    follows from the opening, the opening's own, mm by axis.
    """

    part: Part
    letter: str
    stock: Stock
    form: str
    extents: dict[str, Quantity]
    smallest: dict[str, Quantity]
    along: str
    across: str
    thin: str
    quantity: int
    pieces: tuple[str, ...]
    grain: bool
    opening: str = ""
    waits: tuple[str, ...] = ()
    tips: dict[str, Fraction] = field(default_factory=dict)
    planned: dict[str, Fraction] = field(default_factory=dict)

    @property
    def name(self) -> str:
        """The part's name."""
        return self.part.name.value

    @property
    def size(self) -> tuple[Quantity, ...]:
        """Length, width and thickness, as far as it has them."""
        return tuple(self.blank(axis) for axis in (self.along, self.across, self.thin) if axis)

    def blank(self, axis: str) -> Quantity:
        """The size of what it is cut out of: from tip to tip where its ends are not square."""
        size = self.extents[axis]
        more = self.tips.get(axis)
        return Quantity(size.value + more, size.kind, size.error) if more else size


def form_of(stock: Stock) -> str:
    """The word for a stock's form."""
    return next(word for word in stock.one_of if getattr(stock, word) is not None)


def by_letter(letter: str) -> tuple[int, str]:
    """The order of letters: A to Z, then AA and on."""
    return len(letter), letter


def letters(book: Book) -> dict[str, str]:
    """Each part's letter: its own, or the next free one in order (A to Z, then AA)."""
    taken = {part.letter.value for part in book.parts if part.letter}
    free = (each for each in _alphabet() if each not in taken)
    return {p.name.value: p.letter.value if p.letter else next(free) for p in book.parts}


def _alphabet() -> Iterator[str]:
    # I and O are left out: on a grey print they are taken for one and nought.
    single = [chr(code) for code in range(ord("A"), ord("Z") + 1) if chr(code) not in "IO"]
    yield from single
    yield from (first + second for first in single for second in single)


def cut_parts(
    book: Book, used: Usage, largest: Solver, smallest: Solver
) -> tuple[tuple[CutPart, ...], tuple[Problem, ...]]:
    """Every part whose sizes could be worked out, and the problems of the others."""
    stock = {each.name.value: each for each in book.stock}
    lettered = letters(book)
    problems: list[Problem] = []
    found = []
    for part in book.parts:
        if part.stock.value not in stock:
            continue
        made = _cut_part(part, stock[part.stock.value], used, (largest, smallest), problems)
        if made:
            found.append(_lettered(made, lettered[part.name.value]))
    return tuple(found), tuple(problems)


def _lettered(part: CutPart, letter: str) -> CutPart:
    return CutPart(
        **{**{f: getattr(part, f) for f in CutPart.__dataclass_fields__}, "letter": letter}
    )


def _cut_part(
    part: Part, stock: Stock, used: Usage, solvers: tuple[Solver, Solver], problems: list[Problem]
) -> CutPart | None:
    form = form_of(stock)
    largest, smallest = solvers
    if not _complete(part, form, largest, problems):
        return None
    extents = _extents(part, form, largest)
    least = _extents(part, form, smallest)
    if extents is None or least is None:
        return None
    along, across, thin = _directions(part, form, extents, largest)
    quantity = used.used(part.name.value) or (part.quantity.value if part.quantity else 0)
    opening = _opening_behind(part, largest.book, used) if part.fitted or extents != least else ""
    pieces = used.pieces[part.name.value]
    spares = part.spares.value if part.spares else 0
    return CutPart(
        part, "", stock, form, extents, least, along, across, thin,
        (quantity or len(pieces)) + spares, pieces, _has_grain(part, stock, form), opening,
        tuple(a for a in extents if extents[a] != least[a] or a in largest.less(part)),
    )  # fmt: skip


def _complete(part: Part, form: str, solver: Solver, problems: list[Problem]) -> bool:
    """Whether the part says just as many sizes as its stock leaves open."""
    if form == "bought":
        return True
    if part.unread & {*AXES, "fitted", "less", "broad_side"}:
        return False  # told where it could not be read
    told = len(solver.problems)
    less = solver.less(part)
    if len(solver.problems) > told:
        return False  # what it takes off its opening is missing or wrong
    said = [axis for axis in AXES if getattr(part, axis) is not None]
    facts = {"part": f"“{part.name.value}”", "form": form}
    for axis in [axis for axis in said if axis in less and part.less and getattr(part.less, axis)]:
        problems.append(
            Problem(kinds.FittedTwice, getattr(part, axis).span, {**facts, "field": axis})
        )
        return False
    unfit = _unfit(part, form, less, solver)
    if unfit is not None:
        problems.append(unfit)
        return False
    count = len(set(said) | set(less))
    wanted = 2 if form == "sheet" else 1
    if count < wanted:
        words = {0: "none", 1: "one"}[count]
        needs = {**facts, "wanted": "two" if wanted == 2 else "one", "found": words}
        problems.append(Problem(kinds.SizeMissing, part.name.span, needs))
    elif count > wanted:
        fixed = "one of them" if form == "sheet" else "two of them"
        found = {2: "two", 3: "three"}[count]
        problems.append(
            Problem(kinds.SizeTwice, part.name.span, {**facts, "found": found, "fixed": fixed})
        )
    elif form == "strip":
        return _stands(part, said[0] if said else next(iter(less)), solver, problems)
    return count == wanted


def _unfit(part: Part, form: str, less: Container[str], solver: Solver) -> Problem | None:
    """What keeps a part from being fitted: a share of nothing, or an opening without a size."""
    facts = {"part": f"“{part.name.value}”", "form": form}
    for axis in AXES:
        if part.share is not None and shared(part, axis) > 1 and axis not in less:
            span = getattr(part.share, axis).span
            return Problem(kinds.SharedNotFitted, span, {**facts, "field": axis})
        if axis in less and getattr(part, axis) is None and not _planned(part, axis, solver):
            opening = f"“{part.fitted.value}”" if part.fitted else ""
            facts |= {"opening": opening, "field": axis}
            return Problem(kinds.OpeningSizeMissing, part.name.span, facts)
    return None


def _planned(part: Part, axis: str, solver: Solver) -> bool:
    opening = next(
        (o for o in solver.book.openings if part.fitted and o.name.value == part.fitted.value), None
    )
    return opening is not None and getattr(opening, axis) is not None


def _stands(part: Part, length: str, solver: Solver, problems: list[Problem]) -> bool:
    """Whether an oblong strip says how it stands."""
    stock = next(s for s in solver.book.stock if s.name.value == part.stock.value)
    section = solver.section(stock)
    if len(section) < 2 or section[0] == section[1]:
        return True
    facts = {"part": f"“{part.name.value}”"}
    if part.broad_side is None:
        problems.append(Problem(kinds.BroadSideMissing, part.name.span, facts))
        return False
    side = part.broad_side.value[0]
    if SIDE_AXIS[side] == length:
        facts |= {"axis": RUNS[length], "side": side}
        problems.append(Problem(kinds.BroadSideWrong, part.broad_side.span, facts))
        return False
    return True


def _extents(part: Part, form: str, solver: Solver) -> dict[str, Quantity] | None:
    if form == "bought":
        said = {axis: solver.extent(part, axis) for axis in AXES if getattr(part, axis)}
        return {axis: each for axis, each in said.items() if each}
    found = {axis: solver.extent(part, axis) for axis in AXES}
    kept = {axis: each for axis, each in found.items() if each}
    return kept if len(kept) == len(AXES) else None


def _directions(
    part: Part, form: str, extents: dict[str, Quantity], solver: Solver
) -> tuple[str, str, str]:
    """The axes of length, width and thickness."""
    axes = [axis for axis in AXES if axis in extents]
    said = [axis for axis in AXES if getattr(part, axis) is not None]
    order = sorted(axes, key=lambda axis: -extents[axis].value)
    if form == "sheet":
        thin = solver.thin(part) or order[-1]
        rest = [axis for axis in order if axis != thin]
        along = GRAIN_AXIS.get(part.grain.value, rest[0]) if part.grain else rest[0]
        along = along if along in rest else rest[0]
        return along, next(axis for axis in rest if axis != along), thin
    if form in ("strip", "rod"):
        along = said[0] if said else order[0]
        rest = sorted((a for a in axes if a != along), key=lambda axis: -extents[axis].value)
        if form == "rod":
            return along, "", rest[0]
        square = extents[rest[0]].value == extents[rest[1]].value
        if square and thin_of_square(part, rest[0], solver.book) == rest[0]:
            rest.reverse()
        return along, rest[0], rest[1]
    padded = [*order, "", "", ""]
    return padded[0], padded[1], padded[2]


def _has_grain(part: Part, stock: Stock, form: str) -> bool:
    if form == "bought" or (stock.grain and stock.grain.value == "none"):
        return False
    return not (part.grain and part.grain.value == "any")


def _opening_behind(part: Part, book: Book, used: Usage) -> str:
    """The opening that a part waits for: its own, or the one behind the parts it is sized by."""
    by_name = {each.name.value: each for each in book.parts}
    sizes = {each.name.value: each for each in book.sizes}
    seen: set[str] = set()
    waiting = [part.name.value]
    while waiting:
        name = waiting.pop(0)
        name = used.part_of.get(name, name)
        if name in seen:
            continue
        seen.add(name)
        other = by_name.get(name)
        if other is not None and other.fitted:
            return other.fitted.value
        said = [getattr(other, axis) for axis in AXES] if other else []
        said += [sizes[name].is_] if name in sizes else []
        for each in (s for s in said if s is not None):
            asked = [n.of if isinstance(n, Property) else n for n in names(each.value)]
            waiting += sorted(asked)
    return ""


__all__ = ["AXIS_OF", "NOTHING", "CutPart", "cut_parts", "form_of", "letters"]
