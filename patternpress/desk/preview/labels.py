"""What an author said, each saying with the names on the way to it.

In: a record, such as a whole `Book`.  Out: its sayings and its prose, labelled as a maker finds
them in the file: parts, lid, wide.
"""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from typing import Any

from patternpress.design.reads import Prose
from patternpress.design.span import Said
from patternpress.design.table import Record, fields_of

Label = tuple[str, ...]


def labelled(value: object, label: Label = ()) -> Iterator[tuple[Said[Any] | Prose, Label]]:
    """Every saying and every prose of a record and of the records in it, in their order."""
    if isinstance(value, Said | Prose):
        yield value, label
    elif isinstance(value, Record):
        here = (*label, value.name.value) if value.name.value else label
        for row in fields_of(type(value)):
            yield from labelled(getattr(value, row.attribute), (*here, row.name))
    elif isinstance(value, tuple):
        for each in value:
            yield from labelled(each, label)
    elif dataclasses.is_dataclass(value) and not isinstance(value, type):
        for field in dataclasses.fields(value):
            yield from labelled(getattr(value, field.name), label)
