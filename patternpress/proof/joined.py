"""Whether the sheets of a template join true: seams, letters, points to measure, and their map.

In: a `Booklet`.  Out: how far each mark is out, sheet by sheet and between neighbours, and
findings.  Which sheets are neighbours follows from their windows alone.
"""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Iterator, Sequence

import numpy
import shapely

from patternpress.proof.amounts import amounts_of, plain, rounding_of
from patternpress.proof.findings import Judged, Measured, finding
from patternpress.proof.geometry import Points
from patternpress.proof.joins import Seam, Sheet, cross_at, point_at, templates_of
from patternpress.proof.marks import Box, Place, Words, tag_of
from patternpress.proof.placing import OUT, uncovered
from patternpress.proof.reading import Booklet
from patternpress.proof.rows import joined_words

_SAME = 0.01  # mm between edges of windows that lie in one row or column
_DIAMOND = 9.0  # mm, the base of half a diamond
_FAR = 1e6


def joined(booklet: Booklet) -> Iterator[Judged]:
    """Judge every template that is on several sheets."""
    for sheets in templates_of(booklet):
        for sheet in sheets:
            yield from _on_sheet(sheet)
        yield from _seams(sheets)
        yield from _numbers(sheets)
        yield from _diagonals(booklet, sheets)


# ------------------------------------------------------------------ one sheet by itself


def _on_sheet(sheet: Sheet) -> Iterator[Judged]:
    """Its crosses and points lie to each other as they say, within OUT."""
    worst = 0.0
    for what, drawn, wanted in _marks(sheet):
        out = max(uncovered(drawn, wanted)[0], uncovered(wanted, drawn)[0]) if drawn else _FAR
        worst = max(worst, out)
        if out > OUT:
            yield finding("seam-off", sheet.drawing.page, what=what, out=_told(out), **sheet.who)
    if sheet.seams:
        who = f"part {sheet.drawing.part}{sheet.drawing.called}, sheet {sheet.number}"
        yield Measured(f"crosses and points of {who}", sheet.drawing.page, worst, OUT)


def _marks(sheet: Sheet) -> Iterator[tuple[str, list[Points], list[Points]]]:
    for seam in sheet.seams.values():
        wanted = [line for place in seam.places for line in cross_at(sheet.placing, place)]
        yield f"crosses at seam {seam.letter}", seam.crosses, wanted
    for place, lines in sheet.corners.items():
        yield "point to measure from", lines, point_at(sheet.placing, place)


def _told(out: float) -> object:
    return out if out < _FAR else "more than can be measured: there are none"


# ------------------------------------------------------------------ neighbours


def _seams(sheets: Sequence[Sheet]) -> Iterator[Judged]:
    """Two sheets that meet share one letter, and no other two share it."""
    meeting = {
        (one.number, two.number): (one, two, line)
        for one, two in itertools.combinations(sheets, 2)
        if (line := _meet(one.window, two.window)) is not None
    }
    letters = {letter for sheet in sheets for letter in sheet.seams}
    served = set()
    for letter in sorted(letters):
        at = [sheet for sheet in sheets if letter in sheet.seams]
        pair = tuple(each.number for each in at)
        if pair not in meeting:
            why = f"it stands on sheets {', '.join(map(str, pair))}, which do not meet"
            yield _wrong(at[0], letter, why if len(at) > 1 else f"only sheet {pair[0]} bears it")
            continue
        served.add(pair)
        one, two, line = meeting[pair]
        yield from _seam((one, one.seams[letter]), (two, two.seams[letter]), line)
    for pair, (one, _, _) in meeting.items():
        if pair not in served:
            numbers = {"one": pair[0], "two": pair[1]}
            yield finding("seam-missing", one.drawing.page, **numbers, **one.who)


def _wrong(sheet: Sheet, letter: str, why: str) -> Judged:
    what = f"seam {letter}"
    return finding("seam-wrong", sheet.drawing.page, what=what, why=why, **sheet.who)


def _meet(one: Box, two: Box) -> tuple[Place, Place] | None:
    """Return the line on which two sheets are joined: in the middle of what they share."""
    for axis in (0, 1):
        other = 1 - axis
        level = (one[other], one[other + 2]), (two[other], two[other + 2])
        if max(abs(a - b) for a, b in zip(*level, strict=True)) > _SAME:
            continue
        first, second = sorted((one, two), key=lambda box: box[axis])
        if second[axis] < first[axis + 2] < second[axis + 2]:
            middle = (second[axis] + first[axis + 2]) / 2
            ends = [(middle, end) if axis == 0 else (end, middle) for end in level[0]]
            return ends[0], ends[1]
    return None


def _seam(
    one: tuple[Sheet, Seam], two: tuple[Sheet, Seam], line: tuple[Place, Place]
) -> Iterator[Judged]:
    """Both sheets show the same line, crosses, and halves of one diamond with the letter."""
    letter, page = one[1].letter, one[0].drawing.page
    worst, what = max(_out(one, two, line), key=lambda each: each[0])
    drawing = one[0].drawing
    who = f"part {drawing.part}{drawing.called}"
    yield Measured(f"seam {letter} of {who}, sheet to sheet", page, worst, OUT)
    if worst > OUT:
        named = f"{what} at seam {letter}"
        yield finding("seam-off", page, what=named, out=_told(worst), **one[0].who)
    if one[1].over == two[1].over:
        yield _wrong(one[0], letter, "one sheet must be cut there, and one laid under")
    cut, under = (one, two) if one[1].over else (two, one)
    if cut[1].line and under[1].line and not cut[1].dash > under[1].dash > 0:
        yield _wrong(cut[0], letter, "the line to cut has not the longer dashes")
    for sheet, seam in (one, two):
        said = plain(joined_words(seam.words))
        if said != letter:
            yield _wrong(sheet, letter, f"sheet {sheet.number} says “{said}”")
        elif not _within(sheet, seam):
            yield _wrong(sheet, letter, f"on sheet {sheet.number} it is not in its half diamond")


def _out(
    one: tuple[Sheet, Seam], two: tuple[Sheet, Seam], line: tuple[Place, Place]
) -> Iterator[tuple[float, str]]:
    """Yield how far each thing at a seam is out, and its name."""
    (first, a), (second, b) = one, two
    wanted = shapely.LineString(line)
    beyond = shapely.LineString(_longer(line))
    for sheet, seam in (one, two):
        yield (
            max((beyond.distance(shapely.Point(at)) for at in seam.places), default=_FAR),
            "crosses",
        )
        drawn = [sheet.placing.back(each) for each in seam.line]
        if len(drawn) != 1 or len(sheet.placing.back(seam.line[0])) != 2:
            yield _FAR, "line"
            return
        off = max(beyond.distance(shapely.Point(at)) for at in drawn[0])
        short = shapely.Point(line[0]).distance(shapely.LineString(drawn[0]))
        other = shapely.Point(line[1]).distance(shapely.LineString(drawn[0]))
        yield max(off, short, other), "line to trim" if seam.over else "line to lay to"
    for lines, name in (((a.line, b.line), "line"), ((a.crosses, b.crosses), "crosses")):
        here = [first.placing.back(each) for each in lines[0]]
        there = [second.placing.back(each) for each in lines[1]]
        out = max(uncovered(here, there)[0], uncovered(there, here)[0]) if here and there else _FAR
        yield out, name
    yield _halves_out(one, two, wanted), "diamond"


def _longer(line: tuple[Place, Place]) -> list[Place]:
    (a, b), (c, d) = line
    far = 50 / max(math.dist(*line), 1e-9)  # a seam may run on beyond a window, beside a half
    return [(a - (c - a) * far, b - (d - b) * far), (c + (c - a) * far, d + (d - b) * far)]


def _halves_out(
    one: tuple[Sheet, Seam], two: tuple[Sheet, Seam], line: shapely.LineString
) -> float:
    """Return how far the two halves of the diamond are from having one base on the line."""
    bases, tips = [], []
    for sheet, seam in (one, two):
        if len(seam.half) != 1 or len(seam.half[0]) != 3:
            return _FAR
        start, tip, end = sheet.placing.back(seam.half[0])
        bases.append(numpy.array(sorted([tuple(start), tuple(end)])))
        tips.append(tip)
    off = max(float(line.distance(shapely.Point(at))) for base in bases for at in base)
    long = max(abs(math.dist(*base) - _DIAMOND) for base in bases)
    twin = float(numpy.abs(bases[0] - bases[1]).max())
    middle = bases[0].mean(axis=0)
    return max(off, long, twin, float(numpy.abs((tips[0] + tips[1]) / 2 - middle).max()))


def _within(sheet: Sheet, seam: Seam) -> bool:
    half = shapely.Polygon(seam.half[0]) if seam.half and len(seam.half[0]) > 2 else None
    return half is not None and all(half.contains(_middle(sheet, each)) for each in seam.words)


def _middle(sheet: Sheet, words: Words) -> shapely.Point:
    left, low, right, high = words.box
    middle = numpy.array([[(left + right) / 2, (low + high) / 2]])
    return shapely.Point(sheet.drawing.printer.undone(middle)[0])


# ------------------------------------------------------------------ the whole template


def _numbers(sheets: Sequence[Sheet]) -> Iterator[Judged]:
    """Every sheet is there once and says which it is."""
    for place, sheet in enumerate(sheets, 1):
        part, wanted = sheet.drawing.part, f"{place} of {len(sheets)}"
        said = [f"{sheet.number} of {sheet.count}"]
        for each in sheet.drawing.said("sheet"):
            found = re.search(rf"{part}(\d+)\D+{part}(\d+)", plain(each))
            said.append(f"{found[1]} of {found[2]}" if found else plain(each))
        for each in dict.fromkeys(said):
            if each != wanted:
                facts = {"said": each, "wanted": wanted}
                yield finding("sheet-differs", sheet.drawing.page, **facts, **sheet.who)


def _diagonals(booklet: Booklet, sheets: Sequence[Sheet]) -> Iterator[Judged]:
    """Four points, their two diagonals alike, and as long as every sheet says."""
    first = sheets[0]
    # That they are drawn where they say is judged sheet by sheet.
    points = [place for sheet in sheets for place in sheet.corners]
    if len(points) != 4:
        yield finding("corner-missing", first.drawing.page, found=len(points), **first.who)
        return
    low, one, two, high = sorted(points)
    lengths = math.dist(low, high), math.dist(one, two)
    worst = abs(lengths[0] - lengths[1])
    what = f"diagonals of part {first.drawing.part}{first.drawing.called}, one to the other"
    yield Measured(what, first.drawing.page, worst, OUT)
    rounding = rounding_of(booklet.info.get("PatternRounding", ""))
    for sheet in sheets:
        said = _said_diagonal(booklet, sheet)
        amounts = list(amounts_of(said, booklet.language))
        if not amounts or any(
            abs(float(each.mm) - long) > float(rounding.step(each.unit)) / 2 + OUT
            for each in amounts
            for long in lengths
        ):
            facts = {"said": said or "nothing", "measured": lengths[0]}
            yield finding("diagonal-differs", sheet.drawing.page, **facts, **sheet.who)


def _said_diagonal(booklet: Booklet, sheet: Sheet) -> str:
    drawing = sheet.drawing
    kept = []
    for words in booklet.pages[drawing.page - 1].words:
        tag = tag_of(words.tags, "Said")
        facts = tag.facts if tag else {}
        wanted = ("diagonal", drawing.part, drawing.hand)
        if (facts.get("Of"), facts.get("Part"), facts.get("Hand", "")) == wanted:
            kept.append(words)
    return joined_words(kept)
