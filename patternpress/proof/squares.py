"""The square beside each bar, and the map of a template's sheets.

In: a `Booklet`.  Out: how far each square is out, and findings about squares and maps.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

import numpy

from patternpress.proof.amounts import amounts_of, plain
from patternpress.proof.drawings import drawings_of, printer_of, sheet_of
from patternpress.proof.findings import Judged, Measured, finding
from patternpress.proof.geometry import Points, box_of, flat
from patternpress.proof.joins import Sheet, templates_of
from patternpress.proof.marks import Box, Line, Page, Tag, Words, tag_of
from patternpress.proof.placing import OUT, Placing
from patternpress.proof.reading import Booklet
from patternpress.proof.rows import joined_words, rows_of


@dataclass
class _Tagged:
    """The lines and words of one tag on a page."""

    tag: Tag
    lines: list[Line] = field(default_factory=list)
    words: list[Words] = field(default_factory=list)


def _tagged(page: Page, name: str) -> list[_Tagged]:
    found: dict[int, _Tagged] = {}
    for line in page.lines:
        if (tag := tag_of(line.tags, name)) is not None and not line.unseen:
            found.setdefault(id(tag), _Tagged(tag)).lines.append(line)
    for words in page.words:
        if (tag := tag_of(words.tags, name)) is not None:
            found.setdefault(id(tag), _Tagged(tag)).words.append(words)
    return list(found.values())


# ------------------------------------------------------------------ squares


def squares(booklet: Booklet) -> Iterator[Judged]:
    """Every page with a template has a true square as large as it says."""
    printer = printer_of(booklet)
    for number in sorted({each.page for each in drawings_of(booklet)}):
        found = _tagged(booklet.pages[number - 1], "Square")
        if not found:
            yield finding("square-missing", number)
        for each in found:
            lines = [printer.undone(flat(track)) for line in each.lines for track in line.tracks]
            yield from _square(number, lines, joined_words(each.words), booklet.language)


def _square(page: int, lines: Sequence[Points], words: str, language: str) -> Iterator[Judged]:
    if len(lines) != 1 or len(lines[0]) != 5:
        yield finding("square-wrong", page, out="?", what="it is no square")
        return
    said = [float(each.mm) for each in amounts_of(words, language)]
    if len(said) != 1:
        yield finding("square-wrong", page, out="?", what=f"it says “{plain(words)}”")
        return
    corners = lines[0]
    sides = numpy.hypot(*numpy.diff(corners, axis=0).T)
    side = float(max(sides, key=lambda each: abs(each - said[0])))
    out = abs(side - said[0])
    askew = abs(math.dist(corners[0], corners[2]) - math.dist(corners[1], corners[3]))
    yield Measured("square to check the print with", page, max(out, askew), OUT)
    if out > OUT:
        what = f"a side is {side:.3f} mm long, and it says {plain(words)}"
        yield finding("square-wrong", page, out=out, what=what)
    elif askew > OUT:
        yield finding("square-wrong", page, out=askew, what="its diagonals differ by so much")


# ------------------------------------------------------------------ maps


def maps(booklet: Booklet) -> Iterator[Judged]:
    """On every sheet a map shows all sheets where their windows say, and this one grey."""
    for sheets in templates_of(booklet):
        for sheet in sheets:
            drawing = sheet.drawing
            found = [
                each
                for each in _tagged(booklet.pages[drawing.page - 1], "Map")
                if each.tag.facts.get("Part") == drawing.part
                and each.tag.facts.get("Hand", "") == drawing.hand
                and sheet_of(each.tag) == drawing.sheet
            ]
            why = _map_wrong(found[0], sheet, sheets) if found else "it is not there"
            if why:
                yield finding("map-wrong", drawing.page, why=why, **sheet.who)


def _map_wrong(found: _Tagged, sheet: Sheet, sheets: Sequence[Sheet]) -> str:
    """Return what is wrong with a map, or nothing."""
    boxes = [box_of(flat(t)) for line in found.lines if not line.filled for t in line.tracks]
    greys = [box_of(flat(t)) for line in found.lines if line.filled for t in line.tracks]
    if len(boxes) != len(sheets):
        return f"it shows {len(boxes)} sheets, and there are {len(sheets)}"
    places: dict[int, Box] = {}
    for row in rows_of(found.words, apart=0.3):
        left, low, right, high = row.box
        here = _holding(boxes, ((left + right) / 2, (low + high) / 2))
        if here is not None and row.text.isdigit():
            places[int(row.text)] = here
    if sorted(places) != sorted(each.number for each in sheets):
        return f"it numbers {', '.join(map(str, sorted(places)))}"
    grey = [_holding(boxes, ((b[0] + b[2]) / 2, (b[1] + b[3]) / 2)) for b in greys]
    if grey != [places[sheet.number]]:
        return f"sheet {sheet.number} is not the grey one"
    drawn = _ranks([places[each.number] for each in sheets])
    turn = Placing(False, sheet.drawing.turned, 1.0)
    wanted = _ranks([box_of(turn.put(numpy.array([w.window[:2], w.window[2:]]))) for w in sheets])
    return "" if drawn == wanted else "the sheets lie otherwise"


def _holding(boxes: Sequence[Box], at: tuple[float, float]) -> Box | None:
    return next(
        (b for b in boxes if b[0] < at[0] < b[2] and b[1] < at[1] < b[3]),
        None,
    )


def _ranks(boxes: Sequence[Box]) -> list[tuple[int, int]]:
    """Return for each box its column and its row, counted from the lower left."""
    lefts, lows = ([round(box[axis], 1) for box in boxes] for axis in (0, 1))
    across, up = sorted(set(lefts)), sorted(set(lows))
    return [(across.index(x), up.index(y)) for x, y in zip(lefts, lows, strict=True)]
