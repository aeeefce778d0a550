"""The cutting layouts as plain text.

In: the layouts of a model.  Out: `cutting-layouts.txt`: what to buy, where every piece lies, and
the cuts in order, a line each, readable in any typeface.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence
from fractions import Fraction

from patternpress.assembly.model import Model
from patternpress.cutting.boardpicture import size_of, sold_size
from patternpress.cutting.layouts import LaidBoard, Layout
from patternpress.cutting.slicing import ALONG, Cut
from patternpress.measure.pieces import plain


def layouts_text(layouts: Sequence[Layout], model: Model) -> str:
    """All layouts of an edition, a paragraph each board."""
    lines = [f"{model.worked.book.design.main.value}: cutting layouts"]
    for layout in layouts:
        lines += ["", *_layout(layout, model)]
    return "\n".join(lines) + "\n"


def _layout(layout: Layout, model: Model) -> Iterator[str]:
    job, display = layout.job, model.edition.display
    bought = [f"{count} of {plain(sold_size(sheet, display))}" for sheet, count in layout.to_buy]
    short = f" (fewer than {layout.least} cannot be enough)" if not layout.proved else ""
    yield f"{job.stock.name.value}: buy {', '.join(bought) if bought else 'nothing'}{short}"
    if job.kerf:
        yield f"Width of the cut: {_length(job.kerf, model)}"
    if job.trim:
        yield f"Trim off each {'edge' if job.flat else 'end'} first: {_length(job.trim, model)}"
    if job.left_on:
        yield f"Left on each size for sanding: {_length(job.left_on, model)}"
    for item in layout.misfits:
        yield f"{item.letter} finds no room on it"
    number = 1
    for board in layout.boards:
        name = plain(sold_size(board.sheet, display))
        kind = f"{'Sheet' if job.flat else 'Length'} {number}"
        if board.copies > 1:
            kind = f"{'Sheets' if job.flat else 'Lengths'} {number} to {number + board.copies - 1}"
        number += board.copies
        at_hand = ", at hand" if board.sheet.count is not None else ""
        yield f"{kind} ({name}{at_hand})"
        yield from _board(board, layout, model)


def _board(board: LaidBoard, layout: Layout, model: Model) -> Iterator[str]:
    job = layout.job
    for number, cut in enumerate(board.cuts, 1):
        yield f"{number}. {_cut(cut, layout, model)}"
    held = Counter(spot.item for spot in board.spots)
    told = []
    for index, count in sorted(held.items()):
        item = job.items[index]
        size = plain(size_of(item.along, item.across, model.edition.display))
        aside = ", keep aside and cut after measuring" if item.fitted else ""
        told.append(f"{count} x {item.letter} {item.part.name}, {size}{aside}")
    yield "Pieces: " + "; ".join(told)


def _cut(cut: Cut, layout: Layout, model: Model) -> str:
    items = layout.job.items
    if not layout.job.flat:
        verb = "Cut"
    elif any(item.part.grain for item in items):
        verb = "Rip" if cut.runs == ALONG else "Crosscut"
    else:
        verb = "Cut along" if cut.runs == ALONG else "Cut across"
    text = f"{verb} at {_length(cut.setting, model)}"
    if len(cut.lines) > 1:
        text += f", {len(cut.lines)} times"
    if cut.frees:
        freed = Counter(items[index].letter for index in cut.frees)
        text += ": " + ", ".join(f"{n} x {letter}" for letter, n in freed.items())
    return text


def _length(value: Fraction, model: Model) -> str:
    return plain(size_of(value, Fraction(0), model.edition.display))
