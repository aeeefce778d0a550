"""The lengths that a closing may move, and the design with them moved.

In: a `Book` and a solver for it.  Out: a `Survey`: each length that the author gave, each figure
that is worked out by halves, thirds or angles, and each thickness of stock, with a number of its
own; lengths that are alike have one number.  And `rewritten`: the book with other values.

A whole sum (`width - 2 * board`) stays a sum, so it holds by itself.  A share (`bay: rest / 3`)
or an angle cannot always fall on the step: such a figure gets a value of its own.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Literal as Word

from patternpress.assembly.sizes import Solver
from patternpress.closing.filled import PLACES, bores
from patternpress.closing.sums import is_whole, length_of, literals, sum_of
from patternpress.closing.walking import Saying, Spot, Way, exchanged, spots
from patternpress.design.records.book import Book
from patternpress.design.span import NOWHERE, Said, Span
from patternpress.measure.nodes import (
    Call,
    Chain,
    Formula,
    Literal,
    Manner,
    Negative,
    Node,
    Share,
)
from patternpress.measure.quantity import Kind, Quantity

Sort = Word["given", "limit", "target", "stock", "drawn"]
LIMITS = (Manner.RANGE, Manner.AT_LEAST, Manner.AT_MOST)
Valued = Callable[[int], Fraction]


@dataclass(frozen=True)
class Length:
    """One length, in mm.  `least` and `most` where it is the end of a range, a limit.

    Given by the author, a limit (the end of a range), the target of a sum with shares or angles,
    a thickness of stock, or a figure that is only drawn.
    """

    number: int
    sort: Sort
    mm: Fraction
    words: str
    span: Span = NOWHERE
    least: Fraction | None = None
    most: Fraction | None = None


@dataclass
class Survey:
    """The lengths of a book, and at which spots they stand.

    `inside`: by the way to a formula, the number of each typed length in it.  `instead`: by the
    way, the numbers of the figures that stand for the whole formula (both ends of a range).
    `bores`: by the way to the width of a hole, the stock of the rod or fitting that goes in it;
    `widths`: the numbers of such widths; `follow`: by that of a hole with play, that of its rod.
    """

    lengths: list[Length] = field(default_factory=list)
    spots: dict[Way, Spot] = field(default_factory=dict)
    inside: dict[Way, dict[Literal, int]] = field(default_factory=dict)
    instead: dict[Way, tuple[int, ...]] = field(default_factory=dict)
    bores: dict[Way, str] = field(default_factory=dict)
    widths: set[int] = field(default_factory=set)
    follow: dict[int, int] = field(default_factory=dict)
    _known: dict[tuple[Sort, Fraction, str], int] = field(default_factory=dict)

    @property
    def values(self) -> dict[int, Fraction]:
        """What each length is in the design, in mm."""
        return {each.number: each.mm for each in self.lengths}

    def has(self, sort: Sort, mm: Fraction) -> bool:
        """Whether a length of this value was met before."""
        return (sort, mm, "") in self._known

    def stock_of(self, mm: Fraction) -> int | None:
        """The number of the first stock of this thickness."""
        return next((e.number for e in self.lengths if e.sort == "stock" and e.mm == mm), None)

    def diameter_at(self, way: Way, mm: Fraction) -> int | None:
        """The number of the rod that goes in the hole at `way`, if it is just as wide."""
        return self._known.get(("stock", mm, self.bores[way])) if way in self.bores else None

    def rod_at(self, way: Way) -> int | None:
        """The number of the rod that goes in the hole at `way`; none for a fitting."""
        stock = self.bores.get(way)
        known = (n for (sort, _, of), n in self._known.items() if sort == "stock" and of == stock)
        return next(known, None) if stock is not None else None

    def number(self, sort: Sort, mm: Fraction, words: str, span: Span, of: str = "") -> int:
        """The number of a length; a new one for a value not met before (`of` one stock)."""
        if (sort, mm, of) not in self._known:
            self._known[sort, mm, of] = len(self.lengths)
            self.lengths.append(Length(len(self.lengths), sort, mm, words, span))
        return self._known[sort, mm, of]

    def limit(self, number: int, least: Fraction | None, most: Fraction | None) -> None:
        """Hold a length within limits."""
        old = self.lengths[number]
        low = max((each for each in (old.least, least) if each is not None), default=None)
        high = min((each for each in (old.most, most) if each is not None), default=None)
        self.lengths[number] = Length(old.number, old.sort, old.mm, old.words, old.span, low, high)


def survey(book: Book, solver: Solver, kept: Iterable[Way] = ()) -> Survey:
    """The lengths of a book; figures at the ways `kept` stay sums, whatever they are."""
    found = Survey(bores=dict(bores(book)))
    every = list(spots(book))
    stays = frozenset(kept)
    for spot in every:
        if spot.section == "stock":
            _stock(spot, solver, found)
    for drawn in (False, True):  # what is drawn follows what is printed
        for spot in every:
            if spot.section != "stock" and spot.drawn == drawn:
                # A place stays its sum: a piece that is mitred would gape by any difference.
                _take(spot, solver, found, spot.way in stays or spot.section in PLACES)
    return found


def _stock(spot: Spot, solver: Solver, found: Survey) -> None:
    quantity = solver.value(spot.said)
    if quantity is not None:
        words = f"thickness of {spot.owner}"
        number = found.number("stock", quantity.value, words, spot.said.span, spot.owner)
        found.instead[spot.way] = (number,)
        found.spots[spot.way] = spot


def _take(spot: Spot, solver: Solver, found: Survey, stays: bool) -> None:
    measure = solver.measure(spot.said)
    if measure is None or measure.low.kind is not Kind.LENGTH:
        return
    found.spots[spot.way] = spot
    formula = spot.said.value
    trees = [formula.low] if formula.high is None else [formula.low, formula.high]
    sums = [sum_of(tree, solver.lookup) for tree in trees]
    values = [measure.low] if measure.high is None else [measure.low, measure.high]
    whole = all(each is not None and is_whole(each) for each in sums)
    if not (spot.drawn or stays or whole):
        found.instead[spot.way] = tuple(_target(spot, each, found) for each in values)
    if spot.drawn or stays or all(each is not None for each in sums):
        found.inside[spot.way] = {
            each: number
            for tree in trees
            for each in literals(tree)
            if (number := _typed(each, spot, found)) is not None
        }
    _limits(spot, measure.manner, trees, found)


def _target(spot: Spot, quantity: Quantity, found: Survey) -> int:
    """The number of a figure that stands for its formula; angles leave it off by 1e-40 at most."""
    return found.number("target", quantity.value, spot.words, spot.said.span)


def _typed(literal: Literal, spot: Spot, found: Survey) -> int | None:
    mm = length_of(literal)
    if not mm:
        return None
    stock = found.stock_of(mm) if "corners" in spot.way else None
    stock = found.diameter_at(spot.way, mm) if stock is None else stock
    if stock is not None:
        return stock  # a notch is as deep as what lies in it, a hole as wide as its rod
    text = spot.said.value.text[literal.start : literal.end]
    alone = isinstance(spot.said.value.low, Literal)
    words = spot.words if alone else f"{text} in {spot.words}"
    sort: Sort = "given"
    if spot.said.value.manner in LIMITS:
        sort = "limit"
    elif spot.drawn and not found.has("given", mm):
        sort = "drawn"
    if sort == "given" and alone and spot.way in found.bores:
        return _bore(mm, spot, found)
    # Ranges of clearance share an end only where they share both: one of them may have no step
    # between its ends, and moves then.
    of = spot.said.text if sort == "limit" and "less" in spot.way else ""
    return found.number(sort, mm, words, spot.said.span, of)


def _bore(mm: Fraction, spot: Spot, found: Survey) -> int:
    """The width of a hole: a length of its own, since it moves with what goes in it."""
    number = found.number("given", mm, spot.words, spot.said.span, found.bores[spot.way])
    found.widths.add(number)
    rod = found.rod_at(spot.way)
    if rod is not None and mm > found.lengths[rod].mm:
        found.follow[number] = rod
    return number


def _limits(spot: Spot, manner: Manner, trees: list[Node], found: Survey) -> None:
    """Ends of ranges, and limits, move inwards only."""
    if manner not in LIMITS:
        return
    numbers = found.instead.get(spot.way)
    if numbers is None:
        typed = found.inside.get(spot.way, {})
        if not all(isinstance(tree, Literal) and tree in typed for tree in trees):
            return
        numbers = tuple(typed[tree] for tree in trees if isinstance(tree, Literal))
    if manner is not Manner.AT_MOST:
        found.limit(numbers[0], found.lengths[numbers[0]].mm, None)
    if manner is not Manner.AT_LEAST:
        found.limit(numbers[-1], None, found.lengths[numbers[-1]].mm)


def rewritten(book: Book, found: Survey, valued: Valued) -> Book:
    """The book with every length of a survey at the value that `valued` gives, in mm."""
    new = {way: _valued(found, way, spot.said, valued) for way, spot in found.spots.items()}
    return exchanged(book, new)


def traced_sum(found: Survey, way: Way, valued: Valued) -> Saying:
    """A formula for which a target stands, with the lengths in it at other values."""
    spot = found.spots[way]
    return _with_literals(spot.said, found.inside.get(way, {}), valued)


def _valued(found: Survey, way: Way, said: Saying, valued: Valued) -> Saying:
    numbers = found.instead.get(way)
    if numbers is None:
        return _with_literals(said, found.inside.get(way, {}), valued)
    ends: list[Node] = [Literal(0, 0, valued(number), "mm") for number in numbers]
    old = said.value
    formula = Formula(old.text, old.manner, ends[0], ends[1] if len(ends) > 1 else None)
    return Said(formula, said.span, said.text)


def _with_literals(said: Saying, typed: Mapping[Literal, int], valued: Valued) -> Saying:
    if not typed:
        return said
    new = {each: Literal(each.start, each.end, valued(n), "mm") for each, n in typed.items()}
    old = said.value
    high = _changed(old.high, new) if old.high is not None else None
    return Said(Formula(old.text, old.manner, _changed(old.low, new), high), said.span, said.text)


def _changed(node: Node, new: Mapping[Literal, Literal]) -> Node:
    match node:
        case Literal():
            return new.get(node, node)
        case Negative(start=start, end=end, of=of):
            return Negative(start, end, _changed(of, new))
        case Share(start=start, end=end, share=share, of=of):
            return Share(start, end, share, _changed(of, new))
        case Chain(start=start, end=end, items=items):
            changed = tuple((sign, _changed(operand, new)) for sign, operand in items)
            return Chain(start, end, changed)
        case Call(start=start, end=end, function=function, arguments=arguments):
            return Call(start, end, function, tuple(_changed(each, new) for each in arguments))
    return node
