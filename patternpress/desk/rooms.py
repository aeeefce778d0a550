"""The rooms behind the desk, one function for each thing that a command asks of them.

In: a reading of a design, and an edition.  Out: problems, names of editions, facts.
"""

from __future__ import annotations

from typing import Any

from patternpress.assembly import facts as worked_facts
from patternpress.assembly import model
from patternpress.booklet.ready import check_ready
from patternpress.design.problem import Problem, in_order
from patternpress.design.read import Reading


def check(reading: Reading) -> tuple[Problem, ...]:
    """Every problem of the design, those of its reading included."""
    found = model.check(reading)
    if reading.book is None:
        return found
    return in_order([*found, *check_ready(reading)])


def edition_names(reading: Reading) -> tuple[str, ...]:
    """The editions of a design that could be read, in the order written; none otherwise."""
    return model.edition_names(reading.book) if reading.book is not None else ()


def facts(reading: Reading, edition: str) -> dict[str, Any]:
    """What is worked out for one edition of a sound design, ready for JSON."""
    return worked_facts.facts(model.work_out(reading, edition))
