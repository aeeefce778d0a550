"""The rooms behind the desk, one function for each thing that a command asks of them.

In: a reading of a design, and an edition.  Out: problems, names of editions, facts.
"""

from __future__ import annotations

import importlib
from dataclasses import replace
from typing import Any

from patternpress.assembly import facts as worked_facts
from patternpress.assembly import model
from patternpress.booklet.ready import check_ready
from patternpress.design.problem import Problem, in_order
from patternpress.design.read import Reading
from patternpress.desk.report import Draw


def check(reading: Reading) -> tuple[Problem, ...]:
    """Every problem of the design, those of its reading included."""
    return examine(reading).problems


def examine(reading: Reading) -> model.Checked:
    """The same, with the pieces where they were placed."""
    found = model.examine(reading)
    if reading.book is None:
        return found
    problems = in_order([*found.problems, *check_ready(reading)])
    return replace(found, problems=problems)


def drawer(checked: model.Checked) -> Draw:
    """What draws the problems of a design; it draws nothing where no piece was placed."""
    if checked.worked is None or checked.assembly is None:
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
    return worked_facts.facts(model.work_out(reading, edition))
