"""The bars to check a print with: 100 mm and 4 in, tick by tick.

In: a `Booklet`.  Out: how far the worst tick of each bar is out, and findings.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

import numpy

from patternpress.proof.amounts import amounts_of
from patternpress.proof.drawings import Ruler, drawings_of, rulers_of
from patternpress.proof.findings import Judged, Measured, finding
from patternpress.proof.geometry import Points, flat
from patternpress.proof.reading import Booklet
from patternpress.proof.rows import rows_of
from patternpress.proof.unitnames import names_in

OUT = 0.01  # mm: a tenth of what can be seen on a steel rule
SIXTEENTH = 25.4 / 16
WORDS = {"across": "across", "up": "up"}


def bars_of_pages(booklet: Booklet) -> Iterator[Judged]:
    """Every bar is true, and every page with a template has one."""
    rulers = [each for each in rulers_of(booklet) if each.along in WORDS]
    for ruler in rulers:
        yield from _judged(ruler, booklet.language)
    wanted = {(each.page, "across") for each in drawings_of(booklet)}
    there = {(ruler.page, ruler.along) for ruler in rulers}
    for page, along in sorted(wanted - there):
        yield finding("bar-missing", page, along=along)


def bars(booklet: Booklet) -> Iterator[Judged]:
    """Every page with a template has a true bar, and the page before printing one each way."""
    yield from bars_of_pages(booklet)
    rulers = rulers_of(booklet)
    before = booklet.sections.get("print", range(0))
    for along in WORDS:
        if not any(ruler.page in before and ruler.along == along for ruler in rulers):
            yield finding("bar-missing", before.start, along=along)


def _judged(ruler: Ruler, language: str) -> Iterator[Judged]:
    lines = [ruler.printer.undone(flat(track)) for track in ruler.tracks]
    axis = 0 if ruler.along == "across" else 1
    base = _base(lines, axis)
    if base is None:
        yield finding("bar-wrong", ruler.page, along=ruler.along, out="?", what="it has no line")
        return
    sides = _sides(lines, base, axis)
    worst, what = 0.0, ""
    for step, length, name in ((1.0, 100.0, "millimetre"), (SIXTEENTH, 101.6, "sixteenth")):
        out, tick = min((_out(side, step, length) for side in sides), default=(length, 0))
        if out >= worst:
            worst, what = out, f"at the {name} mark {tick}"
    long = abs(float(base[-1, axis] - base[0, axis]))
    if abs(long - 101.6) > worst:
        worst, what = abs(long - 101.6), f"its line is {long:.3f} mm long"
    words = _words_out(ruler, base, axis, language)
    yield Measured(f"bar {WORDS[ruler.along]} the page", ruler.page, worst, OUT)
    if worst > OUT:
        yield finding("bar-wrong", ruler.page, along=ruler.along, out=worst, what=what)
    elif words:
        yield finding("bar-wrong", ruler.page, along=ruler.along, out=words[1], what=words[0])


def _base(lines: Sequence[Points], axis: int) -> Points | None:
    """Return the longest straight line along the bar, from its start."""
    along = [
        line
        for line in lines
        if len(line) == 2 and abs(line[0, 1 - axis] - line[1, 1 - axis]) < OUT
    ]
    if not along:
        return None
    base = max(along, key=lambda line: abs(float(line[1, axis] - line[0, axis])))
    return base if base[0, axis] <= base[1, axis] else base[::-1]


def _sides(lines: Sequence[Points], base: Points, axis: int) -> list[list[float]]:
    """Return where ticks stand on each side of the line, from its start."""
    sides: tuple[list[float], list[float]] = ([], [])
    zero, level = float(base[0, axis]), float(base[0, 1 - axis])
    for line in lines:
        if len(line) != 2 or abs(line[0, axis] - line[1, axis]) > OUT:
            continue
        off = [float(each) - level for each in line[:, 1 - axis]]
        if min(abs(each) for each in off) < OUT:
            sides[max(off, key=abs) > 0].append(float(line[0, axis]) - zero)
    return [sorted(side) for side in sides if side]


def _out(side: Sequence[float], step: float, length: float) -> tuple[float, int]:
    """Return how far the worst tick is from its place, and which; all must be there."""
    wanted = round(length / step) + 1
    if len(side) != wanted:
        return abs(len(side) - wanted) * step, len(side)
    off = numpy.abs(numpy.array(side) - numpy.arange(wanted) * step)
    worst = int(numpy.argmax(off))
    return float(off[worst]), worst


def _words_out(ruler: Ruler, base: Points, axis: int, language: str) -> tuple[str, float] | None:
    """Return the figure that does not stand at its tick, and how far it is away."""
    names = names_in(language)
    wanted = {f"100 {min(names.mm)}": 100.0, f"4 {min(names.inch)}": 101.6}
    zero = float(base[0, axis])
    for row in rows_of(ruler.words):
        figures = [each for each in amounts_of(row.text, language) if names.own(each.called)]
        at = {float(each.mm) for each in figures}
        said = next((text for text, place in wanted.items() if at == {place}), "")
        place = wanted.pop(said, None)
        if place is not None:
            box = ruler.printer.undone(numpy.array([row.box[:2], row.box[2:]]))
            middle = float(box[:, axis].mean()) - zero
            if abs(middle - place) > 3:
                return f"“{row.text}” stands at {middle:.1f} mm", math.fabs(middle - place)
    if wanted:
        return f"“{next(iter(wanted))}” does not stand at it", next(iter(wanted.values()))
    return None
