"""The rooms behind the desk, one function for each thing that a command asks of them.

In: a reading of a design, and an edition.  Out: problems, names of editions, facts, files.
"""

from __future__ import annotations

import importlib
from pathlib import Path
from typing import Any

from patternpress.design.problem import Problem
from patternpress.design.read import Reading


def check(reading: Reading) -> tuple[Problem, ...]:
    """Every problem of the design, those of its reading included."""
    found: tuple[Problem, ...] = _room("assembly.model").check(reading)
    return found


def edition_names(reading: Reading) -> tuple[str, ...]:
    """The editions of a sound design, in the order written."""
    found: tuple[str, ...] = _room("assembly.model").edition_names(reading.book)
    return found


def facts(reading: Reading, edition: str) -> dict[str, Any]:
    """What is worked out for one edition of a sound design, ready for JSON."""
    model = _room("assembly.model").work_out(reading, edition)
    found: dict[str, Any] = _room("assembly.facts").facts(model)
    return found


def build(reading: Reading, edition: str, out: Path) -> tuple[Path, ...]:
    """Make the files of one edition of a sound design; their paths."""
    made: tuple[Path, ...] = _room("booklet.build").build_edition(reading, edition, out)
    return made


def _room(name: str) -> Any:
    return importlib.import_module(f"patternpress.{name}")
