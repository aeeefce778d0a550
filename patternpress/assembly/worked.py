"""A design with its figures worked out.

In: a Book and its names.  Out: `Worked`: usage, sizes, parts and shapes, and the problems met
on the way.  The checks and the model both start from it.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property

from patternpress.assembly.blank import CutOff, Notch, ShapeSpec
from patternpress.assembly.bores import Bores
from patternpress.assembly.cutparts import CutPart, cut_parts
from patternpress.assembly.faultwords import fault_words
from patternpress.assembly.fitted import with_openings
from patternpress.assembly.shape import Shape
from patternpress.assembly.sizes import Solver
from patternpress.assembly.specs import needs_template, spec_of
from patternpress.assembly.tips import with_tips
from patternpress.assembly.trim import trim_all
from patternpress.assembly.usage import Usage, usage
from patternpress.design.kinds import parts as kinds
from patternpress.design.names import Names
from patternpress.design.problem import Problem
from patternpress.design.records.book import Book
from patternpress.design.span import Span


@dataclass(frozen=True)
class Worked:
    """Everything that follows from a design without an edition."""

    book: Book
    names: Names
    usage: Usage
    solver: Solver
    parts: tuple[CutPart, ...]
    shapes: dict[str, Shape]  # by part name; sound ones only
    templates: frozenset[str]  # names of the parts that get a template
    problems: tuple[Problem, ...]
    bores: Mapping[str, Bores] = field(default_factory=dict)  # of a model: by part, holes that lean

    def part(self, name: str) -> CutPart | None:
        """The part of that name, or the one that a piece of that name is of."""
        owner = self.usage.part_of.get(name, name)
        return self._by_name.get(name) or self._by_name.get(owner)

    def fitted_in(self, opening: str) -> list[CutPart]:
        """The parts that are cut to an opening, in the order of the design."""
        return [part for part in self.parts if part.opening == opening]

    @cached_property
    def _by_name(self) -> dict[str, CutPart]:
        return {each.name: each for each in reversed(self.parts)}


def work(book: Book, names: Names) -> Worked:
    """Work out all that follows from a book.  Never raises for what the book says."""
    used = usage(book, names)
    largest, smallest = Solver(book, names), Solver(book, names, most=False)
    for size in book.sizes:
        largest.size(size)
        smallest.size(size)
    found_parts, problems = cut_parts(book, used, largest, smallest)
    parts = with_openings([with_tips(each, largest) for each in found_parts], largest)
    shapes: dict[str, Shape] = {}
    templates = set()
    found = list(problems)
    marked = {each.name.value: each.name.span for each in book.marks}
    for part in parts:
        spec, faults = spec_of(part, largest, book.marks)
        found += faults
        if spec is None:
            continue
        shape, wrong = _shaped(part, spec, marked)
        found += wrong
        if shape is not None:
            shapes[part.name] = shape
        if needs_template(part, spec, book.templates.value if book.templates else ""):
            templates.add(part.name)
    found += [*largest.problems, *smallest.problems]
    return Worked(book, names, used, largest, parts, shapes, frozenset(templates), tuple(found))


def _figures_swapped(spec: ShapeSpec) -> ShapeSpec:
    """The same with the two figures of each corner that is cut off or notched changed over."""
    return replace(
        spec,
        corners={
            sides: replace(each, x=each.y, y=each.x) if isinstance(each, CutOff | Notch) else each
            for sides, each in spec.corners.items()
        },
    )


def _shaped(
    part: CutPart, spec: ShapeSpec, marked: dict[str, Span]
) -> tuple[Shape | None, list[Problem]]:
    shape, faults = trim_all(spec)
    problems = []
    for fault in faults:
        holes = {hole.name.value: hole.name.span for hole in part.part.holes}
        span = holes.get(str(fault.facts.get("hole", "")), part.part.name.span)
        span = marked.get(str(fault.facts.get("mark", "")), span)
        facts = {"part": f"“{part.name}”", "fault": fault_words(fault)}
        if fault.code == "corners-overlap" and not trim_all(_figures_swapped(spec))[1]:
            span = part.part.corners[0][0].span
            facts["fault"] += (
                "; of two figures the first runs along the side that is named first, and the other "
                "way about they fit"
            )
        problems.append(Problem(kinds.ShapeFault, span, facts))
    return shape, problems
