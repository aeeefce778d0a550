"""Every figure that a design file gives, where it stands and what it comes to.

In: a `Model` and the name of a file.  Out: a row for each figure or sum: its place, its words, its
exact value, how it is printed; and what else moves when one of them is changed.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from patternpress.assembly.facts import facts
from patternpress.assembly.model import Model
from patternpress.design.span import NOWHERE, Said, Span
from patternpress.desk.preview.labels import Label, labelled
from patternpress.measure.figures import plain, show_measure
from patternpress.measure.formula import Formula, names
from patternpress.measure.quantity import Kind


@dataclass(frozen=True)
class FigureRow:
    """One figure.  `label` says where it is in the design; `given` is False for a sum of others.

    `name` is that of a named size, else empty; `of` the names that a sum is worked out from.
    """

    span: Span
    label: str
    text: str
    exact: str
    printed: str
    given: bool
    name: str = ""
    of: tuple[str, ...] = ()


def figure_rows(model: Model, file: str) -> tuple[FigureRow, ...]:
    """Return the figures of the file called `file`, in its order, each once."""
    rows = {}
    # In a closed model a third is a figure; as the author said it, it is a sum.
    sums: dict[Span, tuple[str, ...]] = {}
    for said, _ in _formulas(model.reading.book):
        if said.text:
            sums.setdefault(said.span, _of(said.value))
    for said, label in _formulas(model.worked.book):
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
        of = sums.get(said.span, _of(said.value))
        rows[said.span] = FigureRow(
            said.span,
            ", ".join(label[:-1] if label[-1] == "is" else label),
            said.text,
            exact + unit,
            plain(show_measure(measure, model.edition.display)),
            not of,
            label[1] if label[0] == "sizes" else "",
            of,
        )
    return tuple(rows[span] for span in sorted(rows))


def _of(formula: Formula) -> tuple[str, ...]:
    """What a formula is worked out from, as an author writes it."""
    told = (n if isinstance(n, str) else f"{n.what} of {n.of}" for n in names(formula))
    return tuple(sorted(told))


def _formulas(book: object) -> Iterator[tuple[Said[Formula], Label]]:
    for said, label in labelled(book):
        if isinstance(said, Said) and isinstance(said.value, Formula):
            yield said, label


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


def figure_record(row: FigureRow) -> dict[str, Any]:
    """A figure as the page reads it, ready for JSON."""
    return {
        "place": place_of(row.span),
        "line": row.span.line,
        "label": row.label,
        "text": row.text.strip(),
        "exact": row.exact,
        "printed": row.printed,
        "given": row.given,
    }


def place_of(span: Span) -> str:
    """A span as the page names it: ``12.9-12.14``; `span_from` reads it back."""
    return f"{span.line}.{span.column}-{span.end_line}.{span.end_column}"


def span_from(words: str, file: str) -> Span:
    """Return the span that `line.column-line.column` names; NOWHERE if it names none."""
    try:
        begin, _, end = words.partition("-")
        line, column = (int(each) for each in begin.split("."))
        end_line, end_column = (int(each) for each in end.split("."))
    except ValueError:
        return NOWHERE
    return Span(file, line, column, end_line, end_column)
