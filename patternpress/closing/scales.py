"""An edition at another scale than its design's.

In: a `Book` and an edition.  Out: `Scaled`: the book at that scale, the stock that is sold for it,
what was left alone; or what keeps it from being made.  And, once its figures are closed, every
problem that the scale brings.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from patternpress.assembly.checks.cutting import check_sold
from patternpress.assembly.editions import Published
from patternpress.assembly.model import LEFT_OVER, examine
from patternpress.assembly.worked import work
from patternpress.closing.grid import grid_of
from patternpress.closing.misfits import step_words
from patternpress.closing.scaledstock import stock_at
from patternpress.closing.scaling import Left, at_scale, ratio_of, ratio_words
from patternpress.design.kinds import editions as kinds
from patternpress.design.names import Names
from patternpress.design.problem import Problem
from patternpress.design.read import Reading
from patternpress.design.records.book import Book
from patternpress.design.records.goods import Stock

# What is left alone without the author's word.  That clearances stay goes without saying.
GUESSED = ("fitting", "limit")
WHY = {
    "clearance": "a clearance",
    "limit": "a limit",
    "fitting": "for the {of}",
    "author": "`scales: no`",
}


@dataclass(frozen=True)
class Scaled:
    """A design at an edition's scale.

    `book` has the thicknesses that would be exact, `ratio` is the design's own; `stock` is what
    is sold for them, `left` what was left alone, `problems` what keeps it from being made.
    """

    book: Book
    ratio: str
    stock: tuple[Stock, ...] = ()
    left: tuple[Left, ...] = ()
    problems: tuple[Problem, ...] = ()

    @property
    def as_bought(self) -> tuple[str, ...]:
        """The parts that are bought ready made, and the same at both scales."""
        same = {
            each.name.value
            for each in self.book.stock
            if each.bought is not None
            and not any(at.bought and at.scale == self.book.scale for at in each.at_scales)
        }
        return tuple(each.name.value for each in self.book.parts if each.stock.value in same)

    @property
    def other(self) -> bool:
        """Whether the scale is another than the design's."""
        return bool(self.stock or self.problems)


def scaled(book: Book, names: Names, edition: Published) -> Scaled:
    """A book at an edition's scale; the book itself where that is its own."""
    own = ratio_words(ratio_of(book))
    if edition.scale == ratio_of(book):
        return Scaled(book, own)
    made, left = at_scale(book, edition.scale)
    stock, problems = stock_at(made, edition)
    if problems:
        return Scaled(made, own, (), left, problems)
    return Scaled(made, own, _large_enough(made, stock, names), left)


def _large_enough(book: Book, stock: tuple[Stock, ...], names: Names) -> tuple[Stock, ...]:
    """The stock; the size it is sold in is left out where pieces have become larger than that.

    Larger sheets of it are sold as well; in which size, only the author can say.
    """
    named = {e.name.value for e in book.stock for at in e.at_scales if at.scale == book.scale}
    found = check_sold(work(replace(book, stock=stock), names))
    small = {each.facts["stock"] for each in found} - named
    return tuple(replace(e, sold=None) if e.name.value in small else e for e in stock)


def check_scaled(
    reading: Reading, edition: Published, made: Scaled, closed: Book
) -> Iterator[Problem]:
    """What the scale of an edition brings that its design does not, and what it leaves alone."""
    facts = _facts(edition)
    editions = reading.book.editions if reading.book else ()
    spans = [each.name.span for each in editions if each.name.value == edition.name]
    guessed = [each for each in made.left if each.why in GUESSED]
    if guessed:
        yield Problem(kinds.LeftAtScale, spans[0], facts | {"left": left_words(guessed)})
    there = _told(examine(reading).problems)
    afresh = replace(reading, problems=(), kept={})
    found = [
        each
        for each in examine(replace(afresh, book=closed)).problems
        if (each.code, each.span) not in there and each.kind not in LEFT_OVER
    ]
    exact: set[tuple[str, object]] = set()
    if any(each.is_error for each in found):
        exact = _told(examine(replace(afresh, book=replace(made.book, stock=made.stock))).problems)
    for each in found:
        rounded = each.is_error and (each.code, each.span) not in exact
        yield at_fault(each, edition, rounded=rounded)


def at_fault(problem: Problem, edition: Published, *, rounded: bool = False) -> Problem:
    """A problem of the design at an edition's scale, told as one of that.

    `rounded`: with figures that are not rounded to the edition's step there would be none.
    """
    kind = kinds.FaultAtScale if problem.is_error else kinds.DoubtAtScale
    told = {"what": problem.what, "mend": problem.mend}
    if rounded:
        grid = grid_of(edition, edition.display.first)
        finer = "mm step" if grid.system == "mm" else "fraction"
        told["what"] += f"; only as rounded to {step_words(grid)}, for unrounded it goes together"
        otherwise = f"{problem.mend[:1].lower()}{problem.mend[1:]}"
        told["mend"] = f"Give the edition a finer step (`{finer}`). Or {otherwise}"
    return Problem(kind, problem.span, _facts(edition) | told)


def _facts(edition: Published) -> dict[str, str]:
    return {"edition": edition.name, "scale": ratio_words(edition.scale)}


def _told(problems: Sequence[Problem]) -> set[tuple[str, object]]:
    return {(each.code, each.span) for each in problems}


def left_words(left: Sequence[Left]) -> str:
    """What was left alone, and why."""
    told = dict.fromkeys(f"{each.spot.words} ({_why(each)})" for each in left)
    return "; ".join(told)


def _why(left: Left) -> str:
    return WHY[left.why].format(of=left.of)
