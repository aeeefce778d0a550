"""The rooms behind the desk, one function for each thing that a command asks of them.

In: a reading of a design, and an edition.  Out: problems, names of editions, facts, tables.
"""

from __future__ import annotations

import importlib
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from typing import Any

from patternpress.assembly import model
from patternpress.booklet.boardwords import board_notes
from patternpress.booklet.phrases import read_phrases
from patternpress.booklet.ready import check_ready
from patternpress.booklet.shoptext import plain_words
from patternpress.booklet.wording import Wording
from patternpress.closing.close import check_closing, close
from patternpress.closing.facts import closed_facts
from patternpress.closing.table import Row, rows, systems_of, table
from patternpress.cutting.laidcheck import check_laid
from patternpress.design.problem import Problem, in_order
from patternpress.design.read import Reading
from patternpress.desk.report import Draw
from patternpress.measure.figures import plain, show_length
from patternpress.measure.quantity import Kind, Quantity


def check(reading: Reading, editions: Sequence[str] = ()) -> tuple[Problem, ...]:
    """Every problem of the design, those of its reading and of these editions (or all) included."""
    return examine(reading, editions).problems


def examine(
    reading: Reading,
    editions: Sequence[str] = (),
    closing: Callable[[], Sequence[Problem] | None] | None = None,
) -> model.Checked:
    """The same, with the pieces where they were placed.

    `closing` answers what `closing_problems` would, where somebody else finds that out meanwhile;
    None where nothing came of it.
    """
    found = model.examine(reading)
    if reading.book is None:
        return found
    problems = in_order([*found.problems, *check_ready(reading)])
    if not any(each.is_error for each in problems):
        told = closing() if closing is not None else None
        more = closing_problems(reading, editions) if told is None else told
        problems = in_order([*problems, *more])
    return replace(found, problems=problems)


def closing_problems(reading: Reading, editions: Sequence[str]) -> tuple[Problem, ...]:
    """What keeps editions of a design that is sound so far from adding up, or being laid out."""
    found = tuple(check_closing(reading, editions))
    if any(each.is_error for each in found):
        return found
    return (*found, *_laid(reading, editions))


def _laid(reading: Reading, editions: Sequence[str]) -> Iterator[Problem]:
    """What cannot be laid out, told for the first edition that it holds in."""
    told = set()
    for edition in edition_names(reading):
        if editions and edition not in editions:
            continue
        for each in check_laid(close(reading, edition).model, reading.kept):
            if (each.code, each.span) not in told:
                told.add((each.code, each.span))
                yield each


def drawer(checked: model.Checked) -> Draw:
    """What draws the problems of a design; it draws nothing of one that could not be read."""
    if checked.worked is None:
        return lambda _: None
    # Loaded only now: the drawing room would make every command start later.
    room = importlib.import_module("patternpress.drawing.faultpictures")
    draw: Draw = room.FaultPictures(checked.worked, checked.assembly).draw
    return draw


def edition_names(reading: Reading) -> tuple[str, ...]:
    """The editions of a design that could be read, in the order written; none otherwise."""
    return model.edition_names(reading.book) if reading.book is not None else ()


def facts(reading: Reading, edition: str) -> dict[str, Any]:
    """What is worked out for one edition of a sound design, ready for JSON."""
    return closed_facts(close(reading, edition))


def edition_model(reading: Reading, edition: str) -> model.Model:
    """One edition of a sound design, its figures closed."""
    return close(reading, edition).model


def measured_first(reading: Reading) -> tuple[str, ...]:
    """What is cut only once the real board has been measured, a line a part, as a buyer reads it.

    Of the first edition of a sound design, in English.
    """
    editions = edition_names(reading)
    if not editions:
        return ()
    wording = Wording(edition_model(reading, editions[0]), read_phrases("en"))
    return tuple(
        f"{part.letter}  {part.name}: {plain_words(note)}"
        for part in wording.model.worked.parts
        for note in board_notes(part, wording)
    )


def figures(reading: Reading, edition: str) -> str:
    """The author's table of the figures of one edition, as text."""
    return table(close(reading, edition))


def moves(reading: Reading, edition: str) -> list[dict[str, Any]]:
    """The same for each system that the edition shows, ready for JSON."""
    return [
        {
            "step": plain(show_length(Quantity(found.grid.unit, Kind.LENGTH), display)),
            "rows": [_move(row) for row in rows(found, display)],
        }
        for found, display in systems_of(close(reading, edition))
    ]


def _move(row: Row) -> dict[str, str]:
    exact = f"{float(row.mm):.4f}".rstrip("0").rstrip(".")
    return {
        "what": row.words,
        "exact": f"{exact} mm",
        "printed": row.printed,
        "moved": row.moved,
        "why": row.why,
    }
