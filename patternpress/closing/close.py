"""Close an edition.

In: a sound `Reading` and the name of an edition.  Out: `Closed`: the model of the edition whose
printed figures add up, what each figure was and is, and what was kept and given up; or
`UnclosedError` with located problems.  Stock comes first, then all figures together; the choice
is checked in exact fractions, and the model is worked out again from it before anything is drawn.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from patternpress.assembly.editions import Published, published
from patternpress.assembly.model import Model, edition_names, modelled
from patternpress.assembly.placing import Assembly, assemble
from patternpress.assembly.wordless import Memory, digest_of
from patternpress.assembly.worked import Worked, work
from patternpress.closing.analysed import Analysed, analysed, waiting
from patternpress.closing.besides import apart_words, besides, bores_beside, farthest, ranges_beside
from patternpress.closing.choosing import Choice, choose
from patternpress.closing.clash import clash
from patternpress.closing.clearances import missed
from patternpress.closing.demands import Demand
from patternpress.closing.draft import Task
from patternpress.closing.fitting import named_stock, to_fit
from patternpress.closing.grid import Grid, grid_of
from patternpress.closing.lengths import rewritten
from patternpress.closing.loosened import loosened
from patternpress.closing.misfits import faults, misfit, step_words
from patternpress.closing.quoting import Key, Quoted, quoted
from patternpress.closing.scales import Scaled, at_fault, check_scaled, scaled
from patternpress.closing.scaling import ratio_of
from patternpress.closing.settled import with_rest
from patternpress.closing.stocking import Named, stocked, unsuitable
from patternpress.closing.task import NO_PINS, Pins, pins_of, task_of
from patternpress.closing.traced import Form, form_of, worth
from patternpress.closing.typed import parted_from
from patternpress.design.kinds.editions import EditionOpen, SecondRounded
from patternpress.design.names import Names
from patternpress.design.problem import Problem
from patternpress.design.read import Reading
from patternpress.design.records.book import Book
from patternpress.design.span import NOWHERE
from patternpress.measure.digits import System


class UnclosedError(Exception):
    """An edition whose figures cannot add up: the problems that say so."""

    def __init__(self, problems: tuple[Problem, ...]) -> None:
        super().__init__("; ".join(each.what for each in problems))
        self.problems = problems


@dataclass(frozen=True)
class Figures:
    """One system's figures, closed.

    `found` is the design as it was looked through, `task` and `choice` what was asked and chosen;
    `worked` and `assembly` are worked out again from the closed figures in `book`.
    """

    found: Analysed
    task: Task
    choice: Choice
    stock: tuple[Named, ...]
    book: Book
    worked: Worked
    assembly: Assembly
    after: Mapping[Key, Quoted]

    @property
    def grid(self) -> Grid:
        """The steps that figures fall on."""
        return self.task.grid

    @property
    def before(self) -> Mapping[Key, Quoted]:
        """The figures as the design has them."""
        return self.found.figures

    @property
    def kept(self) -> tuple[Demand, ...]:
        """The demands that hold exactly."""
        return tuple(each for each in self.task.demands if each not in self.choice.given_up)

    def form(self, key: Key) -> Form:
        """The lengths that a figure is a plain sum of; nothing for one that is curved."""
        if key not in self.found.plain or key not in self.after:
            return {}
        form = form_of(self.found.plain[key].mm)
        return form if worth(form, self.choice.values) == self.after[key].mm else {}


@dataclass(frozen=True)
class Closed:
    """A closed edition: its model, its figures, and those of the second system where it has one.

    `rounded`: why the second system's figures cannot add up, so that they are plain conversions;
    `scaled`: the design at the edition's scale.
    """

    model: Model
    figures: Figures
    second: Figures | None = None
    rounded: tuple[Problem, ...] = ()
    scaled: Scaled | None = None


def close(reading: Reading, edition: str) -> Closed:
    """The closed model of one edition.

    Raises KeyError for an unknown edition, ValueError when the design could not be read, and
    UnclosedError where its figures cannot add up.
    """
    if edition not in reading.kept:
        reading.kept[edition] = _closed(reading, edition)
    found: Closed = reading.kept[edition]
    return found


def _closed(reading: Reading, edition: str) -> Closed:
    if reading.book is None:
        raise ValueError("the design could not be read")
    shown = published(reading.book, edition)
    first = shown.display.first
    made = scaled(reading.book, reading.names, shown)
    far = made.problems or (() if made.other else tuple(unsuitable(made.book, shown)))
    if far:
        raise UnclosedError(far)
    if made.other:
        own = ratio_of(reading.book)
        shown = replace(shown, restock=made.stock, designed_at=own, as_bought=made.as_bought)
    pins = pins_of(reading.book, edition)
    figures = close_book(made.book, reading.names, shown, first, pins, reading.memory)
    other, rounded = _second(figures, reading.names, shown, reading.memory)
    model = modelled(
        reading,
        _both_to_fit(figures, other),
        figures.assembly,
        replace(_finest(shown, figures, other), second_rounded=bool(rounded)),
        made.book,  # what was rounded is written without its formulas
    )
    return Closed(model, figures, other, rounded, made)


def _second(
    figures: Figures, names: Names, shown: Published, memory: Memory
) -> tuple[Figures | None, tuple[Problem, ...]]:
    """The figures in brackets, closed from those of the first system.

    The piece is made by the first system, whose figures add up; so where those in brackets
    cannot, the edition is made with plain conversions, and author and buyer are told.  So it is
    where they would add up to another piece than the one that is drawn.
    """
    if shown.display.second is None:
        return None, ()
    try:
        other = close_book(figures.book, names, shown, shown.display.second, memory=memory)
    except UnclosedError as error:
        return None, tuple(replace(each, kind=SecondRounded) for each in error.problems)
    far = farthest(figures.after, other.after, other.grid)
    if far is None:
        return other, ()
    facts = {"edition": shown.name, "step": step_words(other.grid)}
    facts["demands"] = apart_words(*far, shown.display)
    return None, (Problem(SecondRounded, far[0].span, facts),)


def _both_to_fit(figures: Figures, other: Figures | None) -> Worked:
    """The design worked out, with what is cut to fit in either system."""
    if other is None:
        return figures.worked
    axes = {part.name.value: part.cut_to_fit for part in other.book.parts}
    parts = (
        replace(each, part=replace(each.part, cut_to_fit=axes[each.name]))
        for each in figures.worked.parts
    )
    return replace(figures.worked, parts=tuple(parts))


def _finest(shown: Published, figures: Figures, other: Figures | None) -> Published:
    """The edition with the steps that its figures really need, and the second system's figures."""
    finest = shown
    for system in (figures, other):
        if system is not None and system.grid.system == "in":
            finest = replace(finest, denominator=64)
            odd = tuple(each.sold for each in system.stock if not each.named)
            finest = replace(finest, unnamed=odd)
        elif system is not None:
            finest = replace(finest, mm_step=system.grid.unit)
    if other is None:
        return finest
    coarsest = max(other.grid.step, *(step for _, step in other.grid.coarser), other.grid.unit)
    return replace(
        finest,
        second_step=coarsest if coarsest > other.grid.unit else None,
        beside=besides(figures.after, other.after),
        ranges=ranges_beside(figures.after, other.after),
        bores=bores_beside(figures.after, other.after),
    )


def close_book(
    book: Book,
    names: Names,
    edition: Published,
    system: System,
    pins: Pins = NO_PINS,
    memory: Memory | None = None,
) -> Figures:
    """The figures of a book in one system.  Raises UnclosedError.

    `memory`: what was chosen for equal figures; they are worked out again from it.
    """
    kept: Memory = {} if memory is None else memory
    alike = replace(edition, name="", paper="", letters="", ink="", theme="", labels=False)
    name = f"closed:{digest_of(kept, book)}:{alike!r}:{system}:{pins!r}"
    if (chosen := kept.get(name)) is not None:
        found, task, choice = chosen
        sold, stock = named_stock(book, edition, task.grid, found)
        return _figures(found, task, choice, (sold, names, stock))
    figures = _chosen(book, names, edition, system, pins)
    kept[name] = figures.found, figures.task, figures.choice
    return figures


def _chosen(book: Book, names: Names, edition: Published, system: System, pins: Pins) -> Figures:
    grid = grid_of(edition, system)
    found = analysed(book, names, grid)
    true, _ = stocked(book, edition, grid, frozenset(each.name.value for each in book.stock))
    sold, stock = named_stock(book, edition, grid, found)
    problems: tuple[Problem, ...] = ()
    for careful in (False, True):
        task = task_of(found, (true, sold), names, grid, pins, careful=careful)
        choice = choose(task)
        if choice is None and (rest := with_rest(task)) is not None:
            task, choice = rest, choose(rest)
        if choice is None and not problems:
            raise UnclosedError((_problem(edition, grid, task),))
        if choice is None:
            break  # with more care there is no answer; what went wrong without it is told
        figures = _figures(found, task, choice, (sold, names, stock))
        problems = faults(figures, (book, names), edition, grid)
        if not problems:
            return figures
    if edition.designed_at is not None:
        raise UnclosedError(tuple(at_fault(each, edition) for each in problems))
    raise UnclosedError(tuple(misfit(each, edition, grid) for each in problems))


def _figures(
    found: Analysed, task: Task, choice: Choice, of: tuple[Book, Names, tuple[Named, ...]]
) -> Figures:
    """The design worked out again from what was chosen."""
    sold, names, stock = of
    for each in task.demands:
        if each not in choice.given_up and not each.holds(choice.values, task.grid.unit):
            raise AssertionError(f"not kept: {each.words}")
    closed = rewritten(sold, found.survey, lambda number: choice.values[number])
    closed = to_fit(closed, found, choice.values, task)
    worked = waiting(work(closed, names), found.waits)
    assembly = assemble(worked)
    after = quoted(worked, assembly, found.survey)
    return Figures(found, task, choice, stock, closed, worked, assembly, after)


def check_closing(reading: Reading, editions: Sequence[str] = ()) -> Iterator[Problem]:
    """What keeps editions of a sound design from adding up; all of them where none is named.

    Where only the figures in brackets do not add up, that is a warning.
    """
    known = edition_names(reading.book) if reading.book is not None else ()
    design = None
    for edition in [each for each in known if not editions or each in editions]:
        try:
            closed = close(reading, edition)
            yield from closed.rounded
            if closed.scaled is None or not closed.scaled.other:
                design = design or _as_written(reading)
                yield from loosened(design, closed.figures, edition, closed.figures.grid)
                yield from _stand_for(closed, edition)
                yield from missed(design.worked, closed.model.worked, closed.model.edition)
            if closed.scaled is not None and closed.scaled.other:
                yield from check_scaled(
                    reading, closed.model.edition, closed.scaled, closed.figures.book
                )
        except UnclosedError as error:
            yield from (_located(each, edition, reading) for each in error.problems)


def _stand_for(closed: Closed, edition: str) -> Iterator[Problem]:
    """Typed figures that stand for a board and part from it in either system."""
    for figures in (closed.figures, closed.second):
        if figures is not None:
            yield from parted_from(
                figures.found.typed, figures.task, figures.choice.values, edition
            )


@dataclass(frozen=True)
class _Written:
    """A design with its pieces placed by the figures that its author wrote."""

    worked: Worked
    assembly: Assembly


def _as_written(reading: Reading) -> _Written:
    assert reading.book is not None
    worked = work(reading.book, reading.names)
    return _Written(worked, assemble(worked))


def _located(problem: Problem, edition: str, reading: Reading) -> Problem:
    """A problem of no place in the design, at its edition, or at the head of the design."""
    if problem.span != NOWHERE or reading.book is None:
        return problem
    said = (each.name for each in reading.book.editions if each.name.value == edition)
    at = next((each.span for each in said), reading.book.design.main.span)
    return replace(problem, span=at)


def _shares(found: tuple[Demand, ...], task: Task, grid: Grid) -> Iterator[str]:
    """What of clashing demands is a sum with a half in it, or an angle, and falls on no step."""
    for number in dict.fromkeys(number for each in found for number in each.form):
        length = task.lengths[number]
        if length.sort == "target" and not grid.on(length.mm):
            yield f"{length.words} is a sum with a share or an angle in it, between two steps"


def _problem(edition: Published, grid: Grid, task: Task) -> Problem:
    found = clash(task)
    # Pins and limits come last, and they are what an author can change most easily.
    span = next((each.span for each in reversed(found) if each.span != NOWHERE), NOWHERE)
    words = "; ".join((*(each.words for each in found), *_shares(found, task, grid)))
    facts = {"edition": edition.name, "step": step_words(grid), "demands": words}
    return Problem(EditionOpen, span, facts)
