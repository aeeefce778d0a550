"""The tables of the makers' reference.

In: the text of designs/README.md, with markers such as ``<!-- table: Part -->``.  Out: the
same text with every table written anew from the records, so that page and program agree.

``python -m patternpress.design.reference designs/README.md`` rewrites the file in place.
"""

from __future__ import annotations

import re
import sys
from pathlib import Path

from patternpress.design.records import book, called, goods, parts, work
from patternpress.design.table import Field, Record, fields_of

# Every record of the language, in the order in which the reference shows them.
RECORDS: tuple[type[Record], ...] = (
    book.Book,
    book.Size,
    goods.Stock,
    goods.Nearest,
    goods.AtScale,
    goods.Lot,
    goods.Defect,
    parts.Part,
    parts.Piece,
    parts.Hole,
    parts.HoleRow,
    parts.Groove,
    parts.Leg,
    parts.Less,
    parts.Share,
    parts.SubAssembly,
    parts.Opening,
    parts.Mark,
    goods.Tool,
    goods.Material,
    work.Step,
    work.Row,
    work.Treatment,
    work.Hold,
    work.Check,
    work.Wait,
    work.Picture,
    book.Choice,
    book.Answer,
    book.Edition,
    book.Coarser,
    called.Called,
    book.Author,
    book.Cover,
    book.Term,
    work.Caution,
    book.Change,
    book.Shared,
)
HEAD = "| field | takes | meaning | example |\n| --- | --- | --- | --- |"
_MARKED = re.compile(r"(<!-- table: (\w+) -->\n).*?(<!-- end -->)", re.DOTALL)


def table(record: type[Record]) -> str:
    """The fields of a record as a table in Markdown, with what holds for the whole below it."""
    rows = [_row(each) for each in fields_of(record)]
    return "\n".join([HEAD, *rows, *_notes(record)])


def rewritten(text: str) -> str:
    """The text with every marked table written anew; KeyError for a record that is not there."""
    known = {each.__name__: each for each in RECORDS}

    def fresh(found: re.Match[str]) -> str:
        return f"{found[1]}{table(known[found[2]])}\n{found[3]}"

    return _MARKED.sub(fresh, text)


def _row(field: Field) -> str:
    name = f"**`{field.name}`** (needed)" if field.needed else f"`{field.name}`"
    example = f"{field.name}: {field.reads.example}" if field.reads.example else ""
    cells = (name, _linked(field.reads.says), field.means, f"`{example}`" if example else "")
    escaped = (each.replace("|", r"\|") for each in cells)
    return f"| {' | '.join(escaped)} |"


def _linked(says: str) -> str:
    """The words with a link to the table that they speak of."""
    for record in RECORDS:
        words = f"fields of {record.title}"
        if says.endswith(words):
            anchor = record.title.replace(" ", "-")
            return says.replace(words, f"fields of [{record.title}](#{anchor})")
    return says


def _notes(record: type[Record]) -> list[str]:
    notes = []
    if record.one_of:
        fields = ", ".join(f"`{each}`" for each in record.one_of)
        notes.append(f"Exactly one of {fields} is said.")
    if record.short:
        notes.append(f"A plain text in place of the fields stands for `{record.short}`.")
    return ["", " ".join(notes)] if notes else []


if __name__ == "__main__":
    for _name in sys.argv[1:]:
        _path = Path(_name)
        _path.write_text(rewritten(_path.read_text("utf-8")), encoding="utf-8", newline="\n")
