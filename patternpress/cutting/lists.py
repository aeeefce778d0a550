"""The cutting list as text and CSV.

In: a model.  Out: `cutting-list.txt`, one labelled line a part, readable in any typeface and
ready to paste under a film; and RFC 4180 CSV that a spreadsheet opens and never runs.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator

from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.model import Model
from patternpress.assembly.shown import printed_size, shown_extent
from patternpress.measure.figures import plain, show_length

# A cell that begins with one of these is taken for a formula by spreadsheets.
FORMULA_SIGNS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
AXIS_WORDS = {"wide": "left to right", "deep": "front to back", "high": "up and down"}
HEADS = (
    "letter", "name", "quantity", "length", "width", "thickness", "stock", "grain", "note",
)  # fmt: skip


def parts_by_stock(model: Model) -> Iterator[tuple[str, tuple[CutPart, ...]]]:
    """Parts by stock in the design's order, largest first."""
    for stock in model.worked.book.stock:
        parts = [p for p in model.worked.parts if p.stock is stock]
        if parts:
            yield (
                stock.name.value,
                tuple(sorted(parts, key=lambda p: tuple(-q.value for q in p.size))),
            )


def as_text(model: Model) -> str:
    """The cutting list as plain text, one labelled line a part."""
    book = model.worked.book
    lines = [f"{book.design.main.value}: cutting list"]
    if book.version:
        lines[0] += f" (version {book.version.value})"
    for stock, parts in parts_by_stock(model):
        lines += ["", stock]
        lines += [_line(part, model) for part in parts]
    return "\n".join(lines) + "\n"


def _line(part: CutPart, model: Model) -> str:
    size = printed_size(part, model.edition)
    pieces = [f"{part.letter}  {part.name}: {part.quantity} off"]
    if size:
        pieces.append(size)
    if part.grain and part.form == "sheet":
        pieces.append(f"grain {_grain(part)}")
    if part.opening:
        pieces.append(f"cut after measuring the {part.opening}")
    if part.name in model.worked.templates:
        pieces.append("see template")
    return ", ".join(pieces)


def as_csv(model: Model) -> str:
    """The cutting list as CSV with CRLF line ends; no cell can act as a formula."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow(HEADS)
    for stock, parts in parts_by_stock(model):
        for part in parts:
            writer.writerow([_safe(cell) for cell in _cells(part, stock, model)])
    return out.getvalue()


def _cells(part: CutPart, stock: str, model: Model) -> list[str]:
    display = model.edition.display
    sizes = [
        plain(show_length(shown_extent(part, axis, model.edition), display)) if axis else ""
        for axis in (part.along, part.across, part.thin)
    ]
    note = f"cut after measuring the {part.opening}" if part.opening else ""
    return [part.letter, part.name, str(part.quantity), *sizes, stock, _grain(part), note]


def _grain(part: CutPart) -> str:
    """The way the grain runs; a strip or a rod has it along its length, however it stands."""
    if not part.grain:
        return ""
    return AXIS_WORDS[part.along] if part.form == "sheet" else "along the length"


def _safe(cell: str) -> str:
    return f"'{cell}" if cell.startswith(FORMULA_SIGNS) else cell
