"""The JSON Schema of design files, for editors.

In: the records of the design language.  Out: a schema in draft 2020-12 which knows every field,
its meaning and the few values that some take.  It is lenient where only our own reader can
judge, such as sums and phrases: a file without problems always fits it.

``python -m patternpress.design.schema`` writes it anew beside this module.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from patternpress.design.reads import Schema
from patternpress.design.records.book import Book, Shared
from patternpress.design.table import Record, fields_of, record_schema

DRAFT = "https://json-schema.org/draft/2020-12/schema"
STORED = Path(__file__).parent / "schema" / "design.schema.json"


def json_schema() -> dict[str, Any]:
    """The schema of a design file, or of a shared file where none of a design's fields is said."""
    known = {each.__name__: each for each in _descendants(Record)}
    needed = [row.name for row in fields_of(Book) if row.needed]
    definitions: dict[str, Schema] = {}
    waiting = [Book.__name__, Shared.__name__]
    while waiting:
        name = waiting.pop(0)
        if name not in definitions:
            definitions[name] = record_schema(known[name])
            waiting += _referred(definitions[name])
    return {
        "$schema": DRAFT,
        "title": "A patternpress design",
        "if": {"anyOf": [{"required": [name]} for name in needed]},
        "then": {"$ref": f"#/$defs/{Book.__name__}"},
        "else": {"$ref": f"#/$defs/{Shared.__name__}"},
        "$defs": dict(sorted(definitions.items())),
    }


def as_text() -> str:
    """The schema as it is stored and printed."""
    return json.dumps(json_schema(), indent=2, ensure_ascii=False) + "\n"


def _descendants(record: type[Record]) -> Iterator[type[Record]]:
    for each in record.__subclasses__():
        yield each
        yield from _descendants(each)


def _referred(schema: Schema) -> list[str]:
    """The names of the records that a schema refers to, in order."""
    return re.findall(r'"\$ref": "#/\$defs/(\w+)"', json.dumps(schema))


if __name__ == "__main__":
    STORED.write_text(as_text(), encoding="utf-8", newline="\n")
