"""Every field of the language is used in a demo design or in an example of the reference."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterator
from pathlib import Path

from patternpress.design.read import read_design, read_text
from patternpress.design.reference import RECORDS
from patternpress.design.table import Record, fields_of
from tests.desk.test_readme import DESIGNS, EXAMPLES, laid_over_the_first


def used(record: object) -> Iterator[tuple[str, str]]:
    """The fields of a record that are said, and those of the records inside it."""
    if isinstance(record, tuple):
        for each in record:
            yield from used(each)
    elif dataclasses.is_dataclass(record) and not isinstance(record, type):
        for field in dataclasses.fields(record):
            value = getattr(record, field.name)
            if isinstance(record, Record) and value not in (None, ()):
                yield type(record).__name__, field.name
            yield from used(value)


def test_every_field_is_used_somewhere() -> None:
    found: set[tuple[str, str]] = set()
    for path in sorted(Path(DESIGNS).glob("*.yaml")):
        found |= set(used(read_design(path).book))
    for example in EXAMPLES:
        found |= set(used(read_text(laid_over_the_first(example), "example.yaml", DESIGNS).book))
    fields = {(r.__name__, row.attribute) for r in RECORDS for row in fields_of(r)}
    shared = {each for each in fields if each[0] == "Shared"}  # merged into the book when read
    assert fields - found - shared == set()
