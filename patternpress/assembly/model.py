"""The model: one design, worked out for one edition.

In: a `Reading` and the name of an edition.  Out: a `Model`, from which everything printed is
made; and, for a whole design, every problem that the checks find in one pass.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from patternpress.assembly import marking, mouths
from patternpress.assembly.checks import (
    besidemarks,
    carried,
    covered,
    cutting,
    endholes,
    endjoints,
    figures,
    finish,
    fit,
    freeholes,
    gaps,
    hands,
    idlemarks,
    leaningpegs,
    lists,
    movement,
    opening,
    order,
    pins,
    places,
    plan,
    prose,
    resting,
    screws,
    slack,
    standing,
    templates,
    thickness,
    treating,
    walls,
    waysin,
)
from patternpress.assembly.checks.endmoves import AT_END
from patternpress.assembly.editions import (
    Published,
    check_editions,
    edition_names,
    published,
)  # fmt: skip
from patternpress.assembly.extent import check_overall
from patternpress.assembly.measurefirst import OPENING, TAKEN, Waiting, measured_first
from patternpress.assembly.placing import Assembly, assemble
from patternpress.assembly.tolerance import check_tolerance
from patternpress.assembly.wordless import digest_of, remembered, wordless
from patternpress.assembly.worked import Worked, work
from patternpress.design.kinds.fit import (
    CannotGoIn,
    JointGapes,
    MovingPieceJams,
    OpensInto,
    PiecesClash,
)
from patternpress.design.kinds.parts import SizeUnused, StockUnused
from patternpress.design.kinds.placing import BesideItsHole, OpeningDiffers, TooThickForHole
from patternpress.design.kinds.thickness import ClashAtThickness, TooThickForHoleAtThickness
from patternpress.design.kinds.work import AnswerUnused, MaterialUnused, ToolUnused
from patternpress.design.problem import Kind, Problem, in_order
from patternpress.design.read import Reading
from patternpress.design.records.book import Book

Check = Callable[[Worked], Iterator[Problem]]
PlaceCheck = Callable[[Worked, Assembly], Iterator[Problem]]

# The checks, in the order of the booklet.
CHECKS: tuple[Check, ...] = (
    lists.check_letters,
    cutting.check_stock_figures,
    cutting.check_widths,
    cutting.check_sold,
    cutting.check_defects,
    cutting.check_bits,
    cutting.check_grooves,
    templates.check_halves,
    order.check_pieces,
    order.check_quantities,
    order.check_fitted,
    order.check_openings,
    order.check_marks,
    order.check_joins,
    order.check_sub_assemblies,
    pins.check_stems,
    pins.check_edge_holes,
    walls.check_walls,
    screws.check_lengths,
    treating.check_treatments,
    lists.check_holes,
    lists.check_waits,
    plan.check_plan,
    lists.check_tools,
    lists.check_stock,
    lists.check_answers,
    prose.check_prose,
    prose.check_translations,
    figures.check_figures,
    lists.check_sizes,  # the last: only now is it known which sizes are used
)

# What is listed and used nowhere; not told of a name that is misspelt where it is used.
LEFT_OVER = (SizeUnused, StockUnused, ToolUnused, MaterialUnused, AnswerUnused)

# The checks of where pieces sit; asked only once nothing before them is wrong.
PLACE_CHECKS: tuple[PlaceCheck, ...] = (
    check_overall,
    marking.check_openings,
    marking.check_derived,
    besidemarks.check_marks_met,
    idlemarks.check_marks_used,
    places.check_overhang,
    carried.check_carried,
    places.check_hands,
    finish.check_finish,
    places.check_pins,
    freeholes.check_turning,
    leaningpegs.check_leaning,
    leaningpegs.check_leans_alike,
    leaningpegs.check_leaning_holes,
    places.check_leans,
    check_tolerance,
    covered.check_marks_covered,
    covered.check_faces_covered,
    movement.check_movement,
    fit.check_fit,
    gaps.check_gaps,
    endholes.check_end_holes,
    thickness.check_thickness,
    endjoints.check_end_joints,
    slack.check_slack,
    opening.check_opening,
    resting.check_resting,
    standing.check_stands,
    standing.check_steps_stand,
    screws.check_screws,
    waysin.check_ways_in,
)


@dataclass(frozen=True)
class Checked:
    """What the checks found, and the places they found it in; those are None where no piece was
    placed, because something before was wrong.
    """

    problems: tuple[Problem, ...]
    worked: Worked | None = None
    assembly: Assembly | None = None


@dataclass(frozen=True)
class Model:
    """One design in one edition."""

    worked: Worked
    assembly: Assembly
    edition: Published
    reading: Reading
    design: Book  # as it is written, with the formulas that a real board's thickness enters

    @property
    def waiting(self) -> tuple[Waiting, ...]:
        """The sizes to cut once a board has been measured."""
        return tuple(each for each in self._waiting if each.feature not in (OPENING, TAKEN))

    @property
    def openings(self) -> tuple[Waiting, ...]:
        """Those of openings that the boards' thickness moves."""
        return tuple(each for each in self._waiting if each.feature == OPENING)

    @property
    def taken(self) -> tuple[Waiting, ...]:
        """What is taken off openings for parts, where the boards' thickness moves it."""
        return tuple(each for each in self._waiting if each.feature == TAKEN)

    @cached_property
    def _waiting(self) -> tuple[Waiting, ...]:
        # Late, for no problem depends on it: it takes a tenth of all that is done to find one.
        memory = self.reading.memory
        return remembered(
            memory,
            f"waiting:{digest_of(memory, self.design)}:{wordless(self.worked.book)}",
            lambda: measured_first(work(self.design, self.reading.names), self.worked),
        )


def check(reading: Reading, *, places: bool = True) -> tuple[Problem, ...]:
    """Every problem of a design, those of its reading included, in the order of the file.

    Where pieces go takes longest to find; `places` false leaves it out.
    """
    return examine(reading, places=places).problems


def examine(reading: Reading, *, places: bool = True) -> Checked:
    """The same, with the pieces where they were placed, so that problems can be shown."""
    if reading.book is None:
        return Checked(reading.problems)
    worked = work(reading.book, reading.names)
    found = list(reading.problems)
    for each in CHECKS:
        found += each(worked)
    found += check_editions(reading.book)
    # Checks work sizes out as well, so the solver's own problems come last.
    found += [*worked.problems, *worked.solver.problems]
    assembly: Assembly | None = None
    if places and not any(each.is_error for each in found):
        # Where pieces go is only asked once all of them are known: no problem is told twice.
        assembly = assemble(worked)
        found += _places_told(reading, worked, assembly)
    near = {name for each in found for name in each.facts.get("near", "").split(", ")}
    told = (
        each for each in found if each.kind not in LEFT_OVER or not near & {*each.facts.values()}
    )
    return Checked(in_order(told), worked, assembly)


def is_known(reading: Reading, book: Book) -> bool:
    """Whether the problems of a book's places are remembered, so that a check takes no time."""
    return _places_name(reading, book) in reading.memory


def _places_name(reading: Reading, book: Book) -> str:
    return f"places:{digest_of(reading.memory, book)}"


def _places_told(reading: Reading, worked: Worked, assembly: Assembly) -> tuple[Problem, ...]:
    """The problems of places; found once for all texts that differ in nothing but sentences."""
    return remembered(
        reading.memory,
        _places_name(reading, worked.book),
        lambda: tuple(hands.with_hands(worked, _misfits(worked, assembly), _fits)),
    )


def _misfits(worked: Worked, assembly: Assembly) -> tuple[Problem, ...]:
    """The problems of places; whether pieces fit is not asked before each has its place."""
    if any(each.is_error for each in assembly.problems):
        return tuple(with_step(each, worked) for each in assembly.problems)
    found = [each for check_places in PLACE_CHECKS for each in check_places(worked, assembly)]
    # What is too thick for its hole, or beside it, runs into the wood around it: told once.
    thick = {each.facts["piece"] for each in found if each.kind in (TooThickForHole, BesideItsHole)}
    # What does not even go in, or does not come out, opens no further: told once.
    shut = {each.facts["piece"] for each in found if each.kind in (CannotGoIn, MovingPieceJams)}
    ends = {each.facts["piece"] for each in found if each.kind is TooThickForHoleAtThickness}
    instead: dict[type[Kind], set[str]] = {PiecesClash: thick, OpensInto: shut, **_at_label(found)}
    instead[ClashAtThickness] = ends
    told = [p for p in found if p.facts.get("piece") not in instead.get(p.kind, ())]
    if any(each.kind is JointGapes for each in told):
        # Where a piece stays away from its joint, an opening is not as it will be.
        told = [each for each in told if each.kind is not OpeningDiffers]
    return tuple(with_step(each, worked) for each in (*assembly.problems, *told))


def _at_label(found: Sequence[Problem]) -> dict[type[Kind], set[str]]:
    """Pieces of which is told already, at the label, what is asked of thinner and thicker boards;
    all of them where pieces clash or stay apart, which leaves nothing to be asked.
    """
    clash = any(each.kind in (PiecesClash, JointGapes) for each in found)
    return {
        at_end: {
            p.facts["piece"] for p in found if "piece" in p.facts and (clash or p.kind is plain)
        }
        for plain, at_end in AT_END.items()
    }


def _fits(worked: Worked) -> Iterator[Problem]:
    """What alone is asked when a piece is tried the other way about."""
    assembly = assemble(worked)
    yield from assembly.problems
    if not assembly.problems:
        yield from fit.check_fit(worked, assembly)


def with_step(problem: Problem, worked: Worked) -> Problem:
    """The problem with the step that brings its piece, where it does not say one."""
    piece = problem.facts.get("piece", "")
    names = (piece, *piece.split("/"))
    uses = (worked.usage.first_use(each) for each in names)
    use = next((each for each in uses if each is not None), None)
    if use is None or "step" in problem.facts:
        return problem
    return replace(problem, facts={**problem.facts, "step": str(use.step)})


def work_out(reading: Reading, edition: str) -> Model:
    """A sound design in one edition.

    Raises KeyError for an unknown edition, ValueError when the design could not be read.
    """
    if reading.book is None:
        raise ValueError("the design could not be read")
    worked = work(reading.book, reading.names)
    shown = published(reading.book, edition)
    return modelled(reading, worked, assemble(worked), shown, reading.book)


def modelled(
    reading: Reading,
    plain: Worked,
    assembly: Assembly,
    edition: Published,
    design: Book,
) -> Model:
    """The model of a `design` that has been worked out and put together."""
    # Lines that follow from the joins are drawn on the templates like any other mark.
    shapes = marking.marked_shapes(plain, assembly)
    derived = {line.part for line in marking.derived_lines(plain, assembly)}
    worked = replace(
        plain,
        shapes=shapes,
        templates=plain.templates | derived,
        bores=mouths.bores_of(plain, assembly),
    )
    return Model(worked, assembly, edition, reading, design)


__all__ = [
    "CHECKS", "Checked", "Model", "check", "edition_names", "examine", "modelled", "work_out",
]  # fmt: skip
