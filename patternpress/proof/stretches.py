"""Templates of which a sheet shows only a stretch: tiles, and halves to be turned over.

In: the drawings of one part and hand, each with its window on the part, and the part.  Out: how far
every line inside each window is out, and findings; also where the windows leave something out.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy
import shapely

from patternpress.proof.design import Outline, Part
from patternpress.proof.drawings import Drawing
from patternpress.proof.findings import Finding, Judged, Measured, finding
from patternpress.proof.geometry import Points, box_of
from patternpress.proof.joins import sheet_from
from patternpress.proof.placing import (
    OUT,
    Placing,
    cross_at,
    cross_of,
    lines_in,
    sides_within,
    uncovered,
    wood_of,
)

LEAST_SHARED = 5.0  # mm that neighbouring sheets must have in common to be joined
_NEAR = 0.01
Lines = dict[tuple[str, str], list[Points]]


def stretches(drawings: Sequence[Drawing], part: Part, outline: Outline) -> Iterator[Judged]:
    """Judge every sheet of one template, and whether they show all of it."""
    first = drawings[0]
    whole = _lines(part.of_hand(first.hand), outline, first.hand == "right", float(first.scale))
    for drawing in drawings:
        yield from _one(drawing, whole)
        yield from _extras(drawing, whole)
    yield from _coverage(drawings, whole[("outline", "")])


def _lines(part: Part, outline: Outline, mirrored: bool, scale: float) -> Lines:
    """Return every line of a part by what it is, in the coordinates of the hand drawn.

    `scale`: at which the part is drawn.
    """
    face = wood_of(part, outline)
    found: Lines = {("outline", ""): [outline.points]}
    for hole in part.holes:
        found[("hole", hole.name)] = [hole.outline.points]
        if lines := cross_of(hole, scale):
            found[("centre", hole.name)] = lines
    for band in part.bands:
        found[("groove", band.name)] = sides_within(band, outline.points)
    for mark in part.marks:
        if mark.start != mark.to:
            line = face.intersection(shapely.LineString([mark.start, mark.to]))
            found[("mark", mark.name)] = list(lines_in(line))
        else:
            found[("point", mark.name)] = cross_at(mark, scale)
    if not mirrored:
        return found
    flip = numpy.array((-1.0, 1.0)), numpy.array((part.width, 0.0))
    return {key: [line * flip[0] + flip[1] for line in lines] for key, lines in found.items()}


def _one(drawing: Drawing, whole: Lines) -> Iterator[Judged]:
    assert drawing.window is not None
    window = shapely.box(*drawing.window)
    wanted = {key: _inside(lines, window) for key, lines in whole.items()}
    wanted = {key: lines for key, lines in wanted.items() if lines}
    drawn = {key: drawing.lines(*key) for key in wanted}
    everything = [line for lines in drawn.values() for line in lines]
    if not wanted or not everything:
        if wanted:
            yield finding("template-empty", drawing.page, part=drawing.part)
        return
    placing = Placing(False, drawing.turned, float(drawing.scale))
    expected = numpy.vstack([placing.put(line) for lines in wanted.values() for line in lines])
    (left, low, right, high), (a, b, c, d) = box_of(numpy.vstack(everything)), box_of(expected)
    placing = replace(placing, away=((left + right - a - c) / 2, (low + high - b - d) / 2))
    wrong = False
    for key, lines in wanted.items():
        placed, found = [placing.put(line) for line in lines], drawn[key]
        if key[0] == "centre":
            edge = placing.put(numpy.array(window.exterior.coords))
            placed, found = _off(placed, edge), _off(found, edge)
        for each in _compared(drawing, key, placed, found) if placed else ():
            wrong |= isinstance(each, Finding)
            yield each
    if not wrong:
        yield from _joins(drawing, placing)


def _off(lines: Sequence[Points], edge: Points) -> list[Points]:
    """Return the lines that do not run along the edge of a window: over the centre line of a half
    one line of a cross may be drawn or not.
    """
    along = shapely.LineString(edge).buffer(_NEAR)
    return [line for line in lines if not along.covers(shapely.LineString(line))]


def _joins(drawing: Drawing, placing: Placing) -> Iterator[Judged]:
    """What joins the sheet to others lies where its lines say."""
    sheet = sheet_from(drawing)
    if sheet is None or not sheet.seams:
        return
    out = math.dist(sheet.placing.away, placing.away)
    what = (
        f"joining marks of part {drawing.part}{drawing.called}, sheet {sheet.number}, to its lines"
    )
    yield Measured(what, drawing.page, out, OUT)
    if out > OUT:
        yield finding("sheet-off", drawing.page, out=out, sheet=sheet.number, **sheet.who)


def _inside(lines: Sequence[Points], window: object) -> list[Points]:
    cut = [shapely.LineString(line).intersection(window) for line in lines]
    return [line for each in cut for line in lines_in(each)]


def _compared(
    drawing: Drawing, key: tuple[str, str], wanted: Sequence[Points], drawn: Sequence[Points]
) -> Iterator[Judged]:
    kind, name = key
    name = f"cross in the {name}" if kind == "centre" else name
    who = {"part": drawing.part, "hand": drawing.called}
    if not drawn:
        code = "hole-missing" if kind == "hole" else "mark-missing"
        yield finding(code, drawing.page, **who, name=name or "outline")
        return
    worst, at = max(uncovered(drawn, wanted), uncovered(wanted, drawn))
    told = {"outline": "outline", "hole": f"edge of the {name}"}.get(kind, f"the {name}")
    what = f"{told} of part {drawing.part}{drawing.called}, on its sheet"
    yield Measured(what, drawing.page, worst, OUT, at=at)
    if worst > OUT:
        facts = {"out": worst, "x": round(at[0], 1), "y": round(at[1], 1)}
        if kind == "outline":
            yield finding("outline-off", drawing.page, **who, **facts)
        else:
            yield finding("mark-off", drawing.page, **who, name=name, out=worst)


def _extras(drawing: Drawing, whole: Lines) -> Iterator[Judged]:
    """Nothing is drawn that the part does not have anywhere."""
    who = {"part": drawing.part, "hand": drawing.called}
    for kind, name in drawing.tracks:
        if (kind, name) not in whole:
            yield finding("drawn-extra", drawing.page, **who, name=name or kind)


def _coverage(drawings: Sequence[Drawing], outline: Sequence[Points]) -> Iterator[Judged]:
    """The windows hold the whole outline, or one half of it, and neighbours overlap enough."""
    windows = [shapely.box(*each.window) for each in drawings if each.window is not None]
    left, low, right, high = box_of(numpy.vstack(outline))
    whole = shapely.box(left, low, right, high)
    half = shapely.box(left, low, (left + right) / 2, high)
    # Shrunk by half of what they must share, sheets that overlap enough still leave no gap.
    kept = [each.buffer(-LEAST_SHARED / 2, join_style="mitre") for each in windows]
    inner = shapely.union_all([*kept, *_rims(windows)])
    gap = min(float(part.buffer(-_NEAR).difference(inner).area) for part in (whole, half))
    if gap > 1:
        first = drawings[0]
        facts = {"part": first.part, "hand": first.called, "gap": round(gap)}
        yield finding("sheets-gap", first.page, **facts)


def _rims(windows: Sequence[object]) -> Iterator[object]:
    """Yield what lies along the rim of all windows together, which no neighbour need share."""
    everything = shapely.union_all(list(windows))
    yield everything.difference(everything.buffer(-LEAST_SHARED / 2, join_style="mitre"))
