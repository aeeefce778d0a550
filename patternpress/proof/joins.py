"""What serves to join the sheets of one template, gathered from what it says it is.

In: a `Booklet`.  Out: a `Sheet` for each that is to be joined: its seams, with the
line to cut or to lay to, crosses, half a diamond and letter, and its points to measure from.
Places are on the part; lines on the printed sheet.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

import numpy

from patternpress.proof.drawings import Drawing, drawings_of
from patternpress.proof.geometry import Points, flat
from patternpress.proof.marks import Box, Place, Tag, Words, tag_of
from patternpress.proof.placing import Placing
from patternpress.proof.reading import Booklet

CROSS = 3.0  # mm, half the length of a cross's lines
POINT = (2.0, 1.0)  # mm, half a point's cross and half its square
_PAIR = re.compile(r"(-?[\d.]+) (-?[\d.]+)")


@dataclass
class Seam:
    """What one sheet shows of a seam; `places` says where on the part its crosses are.

    `over`: it is cut there and laid over its neighbour; `dash`: of its line, mm.
    """

    letter: str
    over: bool
    places: tuple[Place, ...]
    line: list[Points] = field(default_factory=list)
    dash: float = 0.0
    crosses: list[Points] = field(default_factory=list)
    half: list[Points] = field(default_factory=list)
    words: list[Words] = field(default_factory=list)


@dataclass(frozen=True)
class Sheet:
    """One sheet of a template in several; `corners`: places on the part and their lines.

    `placing` lays the part's own places where most of the crosses and points say.
    """

    drawing: Drawing
    number: int
    count: int
    window: Box
    seams: dict[str, Seam]
    corners: dict[Place, list[Points]]
    placing: Placing

    @property
    def who(self) -> dict[str, str]:
        """Part and hand, for findings."""
        return {"part": self.drawing.part, "hand": self.drawing.called}


def templates_of(booklet: Booklet) -> Iterator[list[Sheet]]:
    """Yield the sheets of each template that is on several, in the order of the file."""
    found: dict[tuple[str, str], list[Sheet]] = {}
    for drawing in drawings_of(booklet):
        if (sheet := sheet_from(drawing)) is not None:
            found.setdefault((drawing.part, drawing.hand), []).append(sheet)
    yield from found.values()


def sheet_from(drawing: Drawing) -> Sheet | None:
    """Return what joins a drawing to others, or None for one that is whole, or a half."""
    if drawing.sheet is None or drawing.window is None:
        return None
    seams: dict[str, Seam] = {}
    corners: dict[Place, list[Points]] = {}
    for line in drawing.joins:
        lines = [drawing.printer.undone(flat(track)) for track in line.tracks]
        if (tag := tag_of(line.tags, "Corner")) is not None:
            for place in _places(tag):
                corners.setdefault(place, []).extend(lines)
        elif (tag := tag_of(line.tags, "Seam")) is not None:
            _add(_seam(seams, tag), tag.facts.get("Of", ""), lines, line.dash)
    for words in drawing.words:
        if (tag := tag_of(words.tags, "Seam")) is not None:
            _seam(seams, tag).words.append(words)
    number, count = drawing.sheet
    placing = Placing(False, drawing.turned, 1.0)
    sheet = Sheet(drawing, number, count, drawing.window, seams, corners, placing)
    return replace(sheet, placing=replace(placing, away=_away(sheet)))


def _seam(seams: dict[str, Seam], tag: Tag) -> Seam:
    letter = tag.facts.get("Letter", "")
    return seams.setdefault(letter, Seam(letter, tag.facts.get("Over") == "yes", _places(tag)))


def _add(seam: Seam, of: str, lines: Sequence[Points], dash: float) -> None:
    kept = {"line": seam.line, "crosses": seam.crosses, "half": seam.half}
    kept.get(of, []).extend(lines)
    if of == "line":
        seam.dash = dash


def _places(tag: Tag) -> tuple[Place, ...]:
    return tuple((float(x), float(y)) for x, y in _PAIR.findall(tag.facts.get("At", "")))


def _away(sheet: Sheet) -> Place:
    """Return how far the sheet lies from the part's own places: what most marks agree on."""
    found = []
    for places, lines in _marked(sheet):
        if lines and places:
            wanted = sheet.placing.put(numpy.array(places)).mean(axis=0)
            found.append(numpy.vstack([line.mean(axis=0) for line in lines]).mean(axis=0) - wanted)
    if not found:
        return (0.0, 0.0)
    x, y = numpy.median(numpy.vstack(found), axis=0)
    return (float(x), float(y))


def _marked(sheet: Sheet) -> Iterator[tuple[tuple[Place, ...], list[Points]]]:
    for seam in sheet.seams.values():
        yield seam.places, seam.crosses
    for place, lines in sheet.corners.items():
        # Of a point the cross only: the corners of a closed square count its first twice.
        yield (place,), [line for line in lines if len(line) == 2]


def cross_at(placing: Placing, place: Place, arm: float = CROSS) -> list[Points]:
    """Return the two lines of a cross about a place of the part, on the sheet."""
    x, y = place
    lines = ([(x - arm, y), (x + arm, y)], [(x, y - arm), (x, y + arm)])
    return [placing.put(numpy.array(line)) for line in lines]


def point_at(placing: Placing, place: Place) -> list[Points]:
    """Return the lines of a point to measure from: a cross in a square."""
    (x, y), (arm, half) = place, POINT
    corners = [
        (x - half, y - half),
        (x + half, y - half),
        (x + half, y + half),
        (x - half, y + half),
    ]
    ring = numpy.array([*corners, corners[0]])
    return [*cross_at(placing, place, arm), placing.put(ring)]
