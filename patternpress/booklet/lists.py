"""The cutting list as text and CSV.

In: a `Wording`.  Out: `cutting-list.txt`, one labelled line a part, readable in any typeface and
ready to paste under a film; the same in columns, for typefaces whose letters are all as wide; and
RFC 4180 CSV that a spreadsheet opens and never runs.
"""

from __future__ import annotations

import csv
import io
from collections.abc import Iterator, Sequence

from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.shown import printed_size, shown_extent
from patternpress.booklet.fillcutting import grain_words, notes_of
from patternpress.booklet.shoptext import count_words, plain_words
from patternpress.booklet.wording import Wording
from patternpress.measure.figures import plain, show_length

# A cell that begins with one of these is taken for a formula by spreadsheets.
FORMULA_SIGNS = ("=", "+", "-", "@", "\t", "\r", "\n", "＝", "＋", "－", "＠")
SIZED = ("length", "width", "thickness")
HEADS = ("letter", "name", "quantity", *SIZED, "stock", "grain", "note")
RIGHT = ("quantity",)
GAP = "  "


def parts_by_stock(wording: Wording) -> Iterator[tuple[str, tuple[CutPart, ...]]]:
    """Parts by stock in the design's order, largest first."""
    worked = wording.model.worked
    for stock in worked.book.stock:
        parts = [p for p in worked.parts if p.stock is stock]
        if parts:
            yield (
                wording.calls.one(stock.name.value),
                tuple(sorted(parts, key=lambda p: tuple(-q.value for q in p.size))),
            )


def as_text(wording: Wording) -> str:
    """The cutting list as plain text, one labelled line a part."""
    lines = [_title(wording)]
    for stock, parts in parts_by_stock(wording):
        lines += ["", stock]
        lines += [_line(part, wording) for part in parts]
    return "\n".join(lines) + "\n"


def as_columns(wording: Wording) -> str:
    """The same in columns that stand under each other where all letters are as wide."""
    heads = [plain_words(wording.say(f"list_{head}")) for head in HEADS if head != "stock"]
    groups = [
        (stock, [_without_stock(_cells(part, stock, wording)) for part in parts])
        for stock, parts in parts_by_stock(wording)
    ]
    rows = [heads, *(row for _, group in groups for row in group)]
    widths = [max(len(row[n]) for row in rows) for n in range(len(heads))]
    lines = [_title(wording), "", _columns(heads, widths)]
    lines.append(GAP.join("-" * width for width in widths[:-1]) + GAP + "-" * len(heads[-1]))
    for stock, group in groups:
        lines += ["", stock, *(_columns(row, widths) for row in group)]
    return "\n".join(lines) + "\n"


def as_csv(wording: Wording) -> str:
    """The cutting list as CSV with CRLF line ends; no cell can act as a formula."""
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\r\n")
    writer.writerow([plain_words(wording.say(f"list_{head}")) for head in HEADS])
    for stock, parts in parts_by_stock(wording):
        for part in parts:
            writer.writerow([_safe(cell) for cell in _cells(part, stock, wording)])
    return out.getvalue()


def _title(wording: Wording) -> str:
    book = wording.model.worked.book
    title = plain_words(f"{wording.prose(book.design)}: {wording.say('cutting')}")
    if not book.version:
        return title
    return f"{title} ({plain_words(wording.say('foot_version', version=book.version.value))})"


def _line(part: CutPart, wording: Wording) -> str:
    count = count_words(part.quantity, wording.phrases)
    pieces = [f"{part.letter}  {wording.calls.one(part.name)}: {count}"]
    size = printed_size(part, wording.model.edition)
    if size:
        pieces.append(plain_words(size))
    if part.grain and part.form == "sheet":
        pieces.append(plain_words(wording.say("list_grain_runs", way=grain_words(part, wording))))
    line = ", ".join(pieces)
    note = _note(part, wording)
    return f"{line}. {note}" if note else line


def _note(part: CutPart, wording: Wording) -> str:
    return " ".join(plain_words(each) for each in notes_of(part, wording))


def _cells(part: CutPart, stock: str, wording: Wording) -> list[str]:
    edition = wording.model.edition
    sizes = [
        plain(show_length(shown_extent(part, axis, edition), edition.display)) if axis else ""
        for axis in (part.along, part.across, part.thin)
    ]
    grain = plain_words(grain_words(part, wording)) if part.grain else ""
    note = _note(part, wording)
    return [
        part.letter,
        wording.calls.one(part.name),
        str(part.quantity),
        *sizes,
        stock,
        grain,
        note,
    ]


def _without_stock(cells: list[str]) -> list[str]:
    place = HEADS.index("stock")
    return [*cells[:place], *cells[place + 1 :]]


def _columns(cells: Sequence[str], widths: Sequence[int]) -> str:
    heads = [head for head in HEADS if head != "stock"]
    told = [
        cell.rjust(width) if head in RIGHT else cell.ljust(width)
        for cell, width, head in zip(cells, widths, heads, strict=True)
    ]
    return GAP.join(told).rstrip()


def _safe(cell: str) -> str:
    return f"'{cell}" if cell.startswith(FORMULA_SIGNS) else cell
