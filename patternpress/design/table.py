"""Records that read themselves: one table for reading, reference and schema.

In: a node and a record class.  Out: an instance of the class, or nothing and problems.  A
record is a frozen dataclass whose fields carry, beside their type, how they are read, what
they mean and an example; nothing about a field is written twice.
"""

from __future__ import annotations

import dataclasses
from dataclasses import dataclass
from typing import Any, ClassVar, TypeVar, cast

from patternpress.design.kinds import form
from patternpress.design.names import listed
from patternpress.design.problem import near_name
from patternpress.design.reads import Reader, Reads, Schema, good_name, in_languages, wrong_shape
from patternpress.design.source import Items, Node, Pairs, Scalar
from patternpress.design.span import NOWHERE, Said, Span

R = TypeVar("R", bound="Record")
NO_NAME: Said[str] = Said("")


@dataclass(frozen=True, kw_only=True)
class Record:
    """The parent of every record: its place, and its name where it has one."""

    title: ClassVar[str] = ""
    one_of: ClassVar[tuple[str, ...]] = ()
    short: ClassVar[str] = ""  # the field that a plain text stands for
    span: Span = dataclasses.field(default=NOWHERE, compare=False)
    name: Said[str] = NO_NAME
    # Attributes that are said but could not be read, so that nobody calls them missing.
    unread: frozenset[str] = dataclasses.field(default=frozenset(), compare=False)


def says(
    reads: Reads, means: str, *, needed: bool = False, many: bool = False, label: str = ""
) -> Any:
    """A dataclass field: how it is read and what it means; `many` defaults to an empty tuple."""
    metadata = {"reads": reads, "means": means, "needed": needed, "label": label}
    if needed:
        return dataclasses.field(metadata=metadata)
    return dataclasses.field(default=() if many else None, metadata=metadata)


@dataclass(frozen=True, slots=True)
class Field:
    """One row of a record's table."""

    name: str
    attribute: str
    reads: Reads
    means: str
    needed: bool


def fields_of(record: type[Record]) -> tuple[Field, ...]:
    """The rows of a record's table, in the order of the class."""
    return tuple(
        Field(
            each.metadata["label"] or each.name.rstrip("_").replace("_", " "),
            each.name,
            each.metadata["reads"],
            each.metadata["means"],
            each.metadata["needed"],
        )
        for each in dataclasses.fields(record)
        if "reads" in each.metadata
    )


def read_record(record: type[R], node: Node, name: Said[str], reader: Reader) -> R | None:
    """An instance of the record, or None after reporting what is missing."""
    node = _spread(record, node, reader)
    if not isinstance(node, Pairs):
        wrong_shape(node, name.value or record.title, "a group of fields", _example(record), reader)
        return None
    table = {row.name: row for row in fields_of(record)}
    values: dict[str, Any] = {}
    unread: set[str] = set()
    for key, inner in node.entries:
        row = table.get(key.text)
        if row is None:
            _unknown(record, key, tuple(table), reader)
            continue
        value = row.reads.read(inner, key.text, reader)
        if value is None:
            unread.add(row.attribute)
        else:
            values[row.attribute] = value
    said = {key.text for key, _ in node.entries}
    complete = _check_needed(record, node, name, said, reader) & _check_one(
        record, node, name, said, reader
    )
    needed = {row.attribute for row in table.values() if row.needed}
    one_of = {table[word].attribute for word in record.one_of}
    if not complete or not needed <= set(values) or (one_of and not one_of & set(values)):
        return None
    return record(span=node.span, name=name, unread=frozenset(unread), **values)


def _spread(record: type[Record], node: Node, reader: Reader) -> Node:
    """A plain text (or list) where the record has a field that it may stand for."""
    if record.short and (not isinstance(node, Pairs) or in_languages(node, reader)):
        key = Scalar(record.short, node.span)
        return Pairs(((key, node),), node.span)
    return node


def _unknown(record: type[Record], key: Scalar, known: tuple[str, ...], reader: Reader) -> None:
    near = near_name(key.text, known)
    table = record.title
    fields = ", ".join(known)
    reader.report(form.UnknownField, key.span, name=key.text, table=table, fields=fields, near=near)


def _check_needed(
    record: type[Record], node: Pairs, name: Said[str], said: set[str], reader: Reader
) -> bool:
    complete = True
    for row in fields_of(record):
        if row.needed and row.name not in said:
            complete = False
            table = f"{record.title} “{name.value}”" if name.value else record.title
            span = name.span if name.value else _head(node)
            facts = {"table": table, "name": row.name, "example": row.reads.example}
            reader.report(form.FieldMissing, span, **facts)
    return complete


def _check_one(
    record: type[Record], node: Pairs, name: Said[str], said: set[str], reader: Reader
) -> bool:
    if not record.one_of:
        return True
    found = [each for each in record.one_of if each in said]
    if len(found) == 1:
        return True
    table = f"{record.title} “{name.value}”" if name.value else record.title
    words = " and ".join(f"“{each}”" for each in found) or "none of them is said"
    facts = {"table": table, "fields": ", ".join(record.one_of), "found": words}
    reader.report(form.OneOf, name.span if name.value else _head(node), **facts)
    return False


def _head(node: Pairs) -> Span:
    return node.entries[0][0].span if node.entries else node.span


def _example(record: type[Record]) -> str:
    row = next((each for each in fields_of(record) if each.needed), fields_of(record)[0])
    return f"{row.name}: {row.reads.example}"


@dataclass(frozen=True)
class Group(Reads):
    """Fields of one record."""

    record: type[Record] = Record

    @property
    def says(self) -> str:  # type: ignore[override]
        """Worded for the reference."""
        return f"fields of {self.record.title}"

    @property
    def example(self) -> str:  # type: ignore[override]
        """The record's short form, or its first needed field."""
        if self.record.short:
            row = next(f for f in fields_of(self.record) if f.name == self.record.short)
            return row.reads.example
        return f"{{{_example(self.record)}}}"

    def read(self, node: Node, name: str, reader: Reader) -> Any:
        """The record, unnamed."""
        return read_record(self.record, node, NO_NAME, reader)

    def schema(self) -> Schema:
        """A reference to the record's own schema; its short form where it has one."""
        whole = {"$ref": f"#/$defs/{self.record.__name__}"}
        if not self.record.short:
            return whole
        row = next(f for f in fields_of(self.record) if f.name == self.record.short)
        return {"anyOf": [whole, row.reads.schema()]}


@dataclass(frozen=True)
class Named(Reads):
    """Named entries, each with the fields of a record; a list of bare names will do where the
    record needs nothing more.
    """

    record: type[Record] = Record
    free_names: bool = False  # keys are phrases or references, not new names

    @property
    def says(self) -> str:  # type: ignore[override]
        """Worded for the reference."""
        return f"names, each with fields of {self.record.title}"

    @property
    def example(self) -> str:  # type: ignore[override]
        """One entry."""
        return f"{{name: {{{_example(self.record)}}}}}"

    def read(self, node: Node, name: str, reader: Reader) -> tuple[Any, ...] | None:
        """A tuple of records, each with its name."""
        entries: list[tuple[Scalar, Node]] = []
        if isinstance(node, Pairs):
            entries = list(node.entries)
        elif isinstance(node, Items):
            entries = [pair for each in node.nodes for pair in _bare(each)]
        elif isinstance(node, Scalar) and node.text.strip():
            entries = [pair for each in listed(node) for pair in _bare(each)]
        else:
            wrong_shape(node, name, "names with their fields", f"{name}: {self.example}", reader)
            return None
        records = []
        for key, inner in entries:
            if not self.free_names and not good_name(key, reader):
                continue
            read = read_record(self.record, _or_empty(inner), Said(key.text, key.span), reader)
            if read is not None:
                records.append(read)
        return tuple(records)

    def schema(self) -> Schema:
        """An object of records (empty ones too), an array of names, or names in one line."""
        one = {"anyOf": [Group(self.record).schema(), {"enum": [None, ""]}]}
        fields = {"type": "object", "additionalProperties": one}
        names = {"type": "array", "items": {"anyOf": [fields, {"type": "string"}]}}
        return {"anyOf": [fields, names, {"type": "string"}]}


def _bare(node: Node) -> list[tuple[Scalar, Node]]:
    if isinstance(node, Pairs):
        return list(node.entries)
    if isinstance(node, Scalar):
        return [(node, Scalar("", node.span))]
    return []


def _or_empty(node: Node) -> Node:
    if isinstance(node, Scalar) and not node.text.strip():
        return Pairs((), node.span)
    return node


@dataclass(frozen=True)
class Map(Reads):
    """Keys of a known kind, each with one value: corners, ends, outcomes."""

    keys: Reads = dataclasses.field(default_factory=Reads)
    values: Reads = dataclasses.field(default_factory=Reads)

    @property
    def says(self) -> str:  # type: ignore[override]
        """Worded for the reference."""
        return f"{self.keys.says}, each with {self.values.says}"

    @property
    def example(self) -> str:  # type: ignore[override]
        """One entry."""
        value = self.values.example
        quoted = f'"{value}"' if ", " in value else value  # a comma would divide the braces
        return f"{{{self.keys.example}: {quoted}}}"

    def read(self, node: Node, name: str, reader: Reader) -> tuple[tuple[Any, Any], ...] | None:
        """Pairs of what keys and values read as."""
        if not isinstance(node, Pairs):
            wrong_shape(node, name, "a group of fields", f"{name}: {self.example}", reader)
            return None
        found = []
        for key, inner in node.entries:
            k = self.keys.typed(key, name, reader)
            v = self.values.read(inner, f"{name}, {key.text}", reader)
            if k is not None and v is not None:
                found.append((k, v))
        return tuple(found)

    def schema(self) -> Schema:
        """An object with values of one kind."""
        return {"type": "object", "additionalProperties": self.values.schema()}


def record_schema(record: type[Record]) -> Schema:
    """One record's entry under $defs."""
    rows = fields_of(record)
    schema: Schema = {
        "type": "object",
        "description": cast(str, record.__doc__).split("\n")[0],
        "properties": {row.name: {**row.reads.schema(), "description": row.means} for row in rows},
        "additionalProperties": False,
    }
    needed = [row.name for row in rows if row.needed]
    if record.one_of:
        schema["oneOf"] = [{"required": [name]} for name in record.one_of]
    return {**schema, "required": needed} if needed else schema
