"""Every figure that a design file gives, where it stands and what it comes to.

In: a `Model` and the name of a file.  Out: a row for each figure or sum: its place, its words, its
exact value, how it is printed; and what else moves when one of them is changed.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from patternpress.assembly.facts import facts
from patternpress.assembly.model import Model
from patternpress.design.span import NOWHERE, Said, Span
from patternpress.design.table import Record, fields_of
from patternpress.measure.figures import plain, show_measure
from patternpress.measure.formula import Formula, names
from patternpress.measure.quantity import Kind


@dataclass(frozen=True)
class FigureRow:
    """One figure.  `label` says where it is in the design; `given` is False for a sum of others."""

    span: Span
    label: str
    text: str
    exact: str
    printed: str
    given: bool


def figure_rows(model: Model, file: str) -> tuple[FigureRow, ...]:
    """Return the figures of the file called `file`, in its order, each once."""
    rows = {}
    # In a closed model a third is a figure; as the author said it, it is a sum.
    sums: dict[Span, bool] = {}
    for said, _ in _said(model.reading.book, ()):
        if said.text:
            sums.setdefault(said.span, bool(names(said.value)))
    for said, label in _said(model.worked.book, ()):
        if said.span.file != file or not said.text or said.span in rows:
            continue
        measure = model.worked.solver.measure(said)
        if measure is None:
            continue
        exact = str(measure.low.value)
        if measure.high is not None:
            exact += f" to {measure.high.value}"
        kind = measure.low.kind
        unit = " mm" if kind is Kind.LENGTH else ""
        rows[said.span] = FigureRow(
            said.span,
            ", ".join(label[:-1] if label[-1] == "is" else label),
            said.text,
            exact + unit,
            plain(show_measure(measure, model.edition.display)),
            not sums.get(said.span, bool(names(said.value))),
        )
    return tuple(rows[span] for span in sorted(rows))


def _said(value: object, label: tuple[str, ...]) -> Iterator[tuple[Said[Formula], tuple[str, ...]]]:
    """Each formula of a record and of the records in it, with the names on the way to it."""
    if isinstance(value, Said):
        if isinstance(value.value, Formula):
            yield value, label
        return
    if isinstance(value, Record):
        here = (*label, value.name.value) if value.name.value else label
        for row in fields_of(type(value)):
            yield from _said(getattr(value, row.attribute), (*here, row.name))
    elif isinstance(value, tuple):
        for each in value:
            yield from _said(each, label)
    elif dataclasses.is_dataclass(value) and not isinstance(value, type):
        for field in dataclasses.fields(value):
            yield from _said(getattr(value, field.name), label)


def moved(before: Model, after: Model) -> list[dict[str, str]]:
    """Return what is printed otherwise after a change: what it is, the old figure, the new one."""
    old, new = (dict(_figures(facts(each))) for each in (before, after))
    return [
        {"what": name, "was": old.get(name, ""), "is": new.get(name, "")}
        for name in dict.fromkeys([*old, *new])
        if old.get(name) != new.get(name)
    ]


def _figures(found: Mapping[str, Any]) -> Iterator[tuple[str, str]]:
    for name, size in found["sizes"].items():
        yield f"size {name}", size.get("printed", "")
    for part in found["parts"]:
        for axis, each in part["extents"].items():
            yield f"{part['letter']}, {part['name']}, {axis}", each.get("printed", "")
    for name, opening in found["openings"].items():
        for axis, each in opening.items():
            yield f"opening {name}, {axis}", each.get("printed", "")
    for mark in found["derived_marks"]:
        printed = mark.get("distance", {})
        shown = printed.get("printed", "") if isinstance(printed, dict) else str(printed)
        yield f"line on {mark.get('piece', '')} for {mark.get('for', '')}", shown


def span_from(words: str, file: str) -> Span:
    """Return the span that `line.column-line.column` names; NOWHERE if it names none."""
    try:
        begin, _, end = words.partition("-")
        line, column = (int(each) for each in begin.split("."))
        end_line, end_column = (int(each) for each in end.split("."))
    except ValueError:
        return NOWHERE
    return Span(file, line, column, end_line, end_column)
