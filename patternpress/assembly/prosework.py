"""All prose of a design.

In: a Book.  Out: every `Prose` in it, found by walking its records, so that a new field of
prose is never forgotten by a check.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from functools import cache

from patternpress.design.reads import Prose
from patternpress.design.span import Span
from patternpress.measure.formula import Formula


def all_prose(record: object) -> Iterator[Prose]:
    """Every Prose inside a record, in the order of its fields."""
    found: list[Prose] = []
    _gather(record, found)
    return iter(found)


def _gather(record: object, found: list[Prose]) -> None:
    # Not a chain of generators: each piece of prose would be handed up through all of them.
    if isinstance(record, Prose):
        found.append(record)
    elif isinstance(record, tuple):
        for each in record:
            _gather(each, found)
    else:
        kind: object = type(record)  # hashable, which mypy denies of types
        for name in record_fields(kind):
            _gather(getattr(record, name), found)


@cache
def record_fields(kind: object) -> tuple[str, ...]:
    """Return a record's fields; none of what cannot hold prose, and is met very often."""
    if not (isinstance(kind, type) and dataclasses.is_dataclass(kind)) or kind in (Span, Formula):
        return ()
    return tuple(field.name for field in dataclasses.fields(kind))
