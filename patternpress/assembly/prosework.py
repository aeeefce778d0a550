"""All prose of a design.

In: a Book.  Out: every `Prose` in it, found by walking its records, so that a new field of
prose is never forgotten by a check.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator

from patternpress.design.reads import Prose


def all_prose(record: object) -> Iterator[Prose]:
    """Every Prose inside a record, in the order of its fields."""
    if isinstance(record, Prose):
        yield record
    elif isinstance(record, tuple):
        for each in record:
            yield from all_prose(each)
    elif dataclasses.is_dataclass(record) and not isinstance(record, type):
        for field in dataclasses.fields(record):
            yield from all_prose(getattr(record, field.name))
