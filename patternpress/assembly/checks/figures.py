"""Does every figure come to what is needed, and can it be printed?

In: a `Worked` design.  Out: problems of figures that print to one of two neighbours by chance.
Every figure of the design is worked out here, wherever it stands, so that a wrong name or unit
is told even where no drawing needs it; the solver keeps those problems.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Iterator
from fractions import Fraction
from functools import cache
from typing import Any

from patternpress.assembly.editions import Published, edition_names, published
from patternpress.assembly.sizes import AXES
from patternpress.assembly.worked import Worked
from patternpress.design.amounts import Figure
from patternpress.design.kinds.figures import UncertainFigure
from patternpress.design.phrases import EndCut, Lean, Turn
from patternpress.design.problem import Problem
from patternpress.design.reads import Prose
from patternpress.design.records.book import Edition
from patternpress.design.span import Said, Span
from patternpress.measure.errors import MeasureError
from patternpress.measure.figures import show_measure
from patternpress.measure.formula import Formula
from patternpress.measure.nodes import Measure
from patternpress.measure.quantity import Kind, Quantity

Wanted = Kind | None
Shown = tuple[Measure, Span, str]


def check_figures(worked: Worked) -> Iterator[Problem]:
    """Figures that no edition of the design can print for certain."""
    editions = [published(worked.book, name) for name in edition_names(worked.book)]
    seen: set[Measure] = set()  # told once, where it first stands
    for measure, span, text in _shown(worked):
        edition = _uncertain(measure, editions) if _inexact(measure) else ""
        if edition and measure not in seen:
            seen.add(measure)
            facts = {"text": text, "where": f", in the edition “{edition}”"}
            yield Problem(UncertainFigure, span, facts)


def all_figures(record: object, wanted: Wanted = Kind.LENGTH) -> Iterator[tuple[Said[Any], Wanted]]:
    """Every formula inside a record, with the kind that it must come to; editions keep theirs."""
    if isinstance(record, Said):
        if isinstance(record.value, Formula):
            yield record, wanted
    elif isinstance(record, tuple):
        for each in record:
            yield from all_figures(each, wanted)
    else:
        kind: object = type(record)  # hashable, which mypy denies of types
        for name, own in _fields(kind):
            yield from all_figures(getattr(record, name), own)


@cache
def _fields(kind: object) -> tuple[tuple[str, Wanted], ...]:
    """The fields of a kind of record with the kind that their figures must come to."""
    record = isinstance(kind, type) and dataclasses.is_dataclass(kind)
    if not isinstance(kind, type) or not record or kind in (Edition, Span, Prose):
        return ()
    return tuple((each.name, _kind_of(kind, each)) for each in dataclasses.fields(kind))


def _kind_of(record: type[Any], field: dataclasses.Field[Any]) -> Wanted:
    """The kind that a field's figures must come to: its own, or that of its phrase."""
    reads = field.metadata.get("reads")
    if isinstance(reads, Figure):
        return Kind(reads.kind) if reads.kind else None
    return Kind.ANGLE if issubclass(record, Lean | EndCut | Turn) else Kind.LENGTH


def _shown(worked: Worked) -> Iterator[Shown]:
    """Every measure that may be printed, with its place."""
    solver = worked.solver
    for said, wanted in all_figures(worked.book):
        measure = solver.measure(said)
        if measure is not None and solver.value(said, wanted) is not None:
            yield measure, said.span, said.text
    for part in worked.parts:
        for axis, quantity in part.extents.items():
            least = part.smallest.get(axis, quantity)
            yield Measure(quantity), part.part.name.span, f"{axis} of {part.name}"
            yield Measure(least), part.part.name.span, f"{axis} of {part.name}"
    yield from _full_size(worked)
    for opening in worked.book.openings:
        for axis in AXES:
            found = solver.opening(opening, axis)
            if found:
                yield Measure(found), opening.name.span, f"{axis} of {opening.name.value}"


def _full_size(worked: Worked) -> Iterator[Shown]:
    """The finished size at full scale, which the booklet prints beside that of the model."""
    times = 1 / worked.book.scale.value if worked.book.scale else Fraction(1)
    for said in worked.book.overall or ():
        found = worked.solver.value(said)
        if found:
            large = Quantity(found.value * times, found.kind, found.error * times)
            yield Measure(large), said.span, said.text


def _inexact(measure: Measure) -> bool:
    return not measure.low.exact or (measure.high is not None and not measure.high.exact)


def _uncertain(measure: Measure, editions: Iterable[Published]) -> str:
    """The first edition that cannot print a measure, or an empty string."""
    for each in editions:
        try:
            show_measure(measure, each.display)
        except MeasureError as error:
            if error.code == "uncertain-rounding":
                return each.name
    return ""


__all__ = ["all_figures", "check_figures"]
