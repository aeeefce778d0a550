"""A board with places that cannot be used, parted into rectangles that can.

In: a sheet, its trim and kerf, which way the first cuts run.  Out: the rectangles, and the cuts
that part them, in order.  What cannot be used is a corner that is gone, or defects.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from patternpress.cutting.jobs import ZERO, Job, Sheet
from patternpress.cutting.slicing import (
    ACROSS,
    ALONG,
    Area,
    Cut,
    Line,
    other_way,
    swap_area,
    swap_line,
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Gone:
    """What cannot be used: wood with a defect, or no wood at all where it is `missing`."""

    area: Area
    missing: bool


Parted = tuple[list[Area], list[Cut]]


def gone_from(sheet: Sheet) -> tuple[Gone, ...]:
    """The corner that is used, farthest along and across, and the defects."""
    found = [Gone(area, missing=False) for area in sheet.defects]
    if sheet.used is not None:
        along, across = sheet.used
        corner = Area(sheet.along - along, sheet.across - across, along, across)
        found.insert(0, Gone(corner, missing=True))
    return tuple(found)


def usable(sheet: Sheet, job: Job) -> Area:
    """A sheet or length without its trimmed edges."""
    off = 2 * job.trim
    if not job.flat:
        return Area(job.trim, ZERO, sheet.along - off, ZERO)
    return Area(job.trim, job.trim, sheet.along - off, sheet.across - off)


def parted(sheet: Sheet, job: Job, split: str) -> Parted:
    """The rectangles to lay pieces on, and the cuts between them; `split`: how the first run."""
    area, gone = usable(sheet, job), gone_from(sheet)
    if area.along <= 0 or (job.flat and area.across <= 0):
        return [], []
    if split == ALONG or not job.flat:
        return _part(area, gone, job.kerf)
    swapped = [Gone(swap_area(each.area), each.missing) for each in gone]
    areas, cuts = _part(swap_area(area), swapped, job.kerf)
    return [swap_area(each) for each in areas], [_swap_cut(cut) for cut in cuts]


def _swap_cut(cut: Cut) -> Cut:
    lines = tuple(swap_line(line) for line in cut.lines)
    return Cut(cut.stage, other_way(cut.runs), cut.setting, lines, cut.frees)


def _part(area: Area, gone: Sequence[Gone], kerf: Fraction) -> Parted:
    """Cut round the first thing in the way, then round the others in each of the rectangles."""
    here = next((each for each in gone if _meet(area, each.area)), None)
    if here is None:
        return [area], []
    areas, cuts = _round(area, here, kerf)
    found: list[Area] = []
    for each in areas:
        inner, more = _part(each, gone, kerf)
        found += inner
        cuts += more
    return found, cuts


def _meet(area: Area, gone: Area) -> bool:
    """Whether a place lies in an area; one beside it was cut off, or is trimmed off."""
    if _apart(area.x, area.along, gone.x, gone.along):
        return False
    # A length has no width to lie beside each other in.
    return not area.across or not _apart(area.y, area.across, gone.y, gone.across)


def _apart(one: Fraction, size: Fraction, two: Fraction, other: Fraction) -> bool:
    return one + size <= two or two + other <= one


def _round(area: Area, here: Gone, kerf: Fraction) -> Parted:
    """What lies below, above, left and right of a place, and the cuts that free it."""
    gone = here.area
    right, top = area.x + area.along, area.y + area.across
    low, high = gone.y - kerf - area.y, top - (gone.y + gone.across + kerf)
    left, far = gone.x - kerf - area.x, right - (gone.x + gone.along + kerf)
    areas: list[Area] = []
    cuts: list[Cut] = []
    start, end = area.y, top
    needless = here.missing and left <= 0 and far <= 0
    if low > 0:
        areas.append(Area(area.x, area.y, area.along, low))
        start = gone.y
        if not needless:
            cuts.append(_level(area.x, right, area.y + low, low))
    if high > 0:
        end = gone.y + gone.across
        areas.append(Area(area.x, end + kerf, area.along, high))
        if not needless:
            cuts.append(_level(area.x, right, end, end - start))
    begin = area.x
    if left > 0:
        areas.append(Area(area.x, start, left, end - start))
        begin = gone.x
        if not (here.missing and far <= 0):
            cuts.append(_upright(start, end, area.x + left, left))
    if far > 0:
        at = gone.x + gone.along
        areas.append(Area(at + kerf, start, far, end - start))
        cuts.append(_upright(start, end, at, at - begin))
    return areas, cuts


def _level(x: Fraction, to_x: Fraction, y: Fraction, setting: Fraction) -> Cut:
    return Cut(0, ALONG, setting, (Line(x, y, to_x, y),), ())


def _upright(y: Fraction, to_y: Fraction, x: Fraction, setting: Fraction) -> Cut:
    return Cut(0, ACROSS, setting, (Line(x, y, x, to_y),), ())


def needed(cuts: Sequence[Cut], areas: Sequence[Area], whole: Area, kerf: Fraction) -> list[Cut]:
    """The cuts that free these rectangles of a board, set anew where others are left out."""
    kept = {n for n, cut in enumerate(cuts) if any(_beside(cut, each, kerf) for each in areas)}
    while True:
        # Each cut ends at the edge of the board, or at cuts that were made before.
        more = {
            n
            for n, cut in enumerate(cuts)
            if any(n < k and _ends_at(cuts[k], cut, kerf) for k in kept)
        }
        if more <= kept:
            break
        kept |= more
    found: list[Cut] = []
    for number in sorted(kept):
        cut = cuts[number]
        at, start, end = _where(cut)
        lows = [whole.y if cut.runs == ALONG else whole.x]
        for before in found:
            other, begin, last = _where(before)
            if before.runs == cut.runs and other < at and begin <= start and end <= last:
                lows.append(other + kerf)
        found.append(replace(cut, setting=at - max(lows)))
    return found


def _where(cut: Cut) -> tuple[Fraction, Fraction, Fraction]:
    """How far off the one line of a cut is, and from where to where it runs."""
    (line,) = cut.lines
    return (line.y, line.x, line.to_x) if cut.runs == ALONG else (line.x, line.y, line.to_y)


def _beside(cut: Cut, area: Area, kerf: Fraction) -> bool:
    """Whether a cut runs along a whole edge of a rectangle."""
    at, start, end = _where(cut)
    if cut.runs == ALONG:
        edges, low, size = (area.y - kerf, area.y + area.across), area.x, area.along
    else:
        edges, low, size = (area.x - kerf, area.x + area.along), area.y, area.across
    return at in edges and start <= low and low + size <= end


def _ends_at(cut: Cut, other: Cut, kerf: Fraction) -> bool:
    """Whether one cut begins or ends at the line of another that crosses it."""
    at, start, end = _where(cut)
    line, begin, last = _where(other)
    return cut.runs != other.runs and begin <= at <= last and line in (start - kerf, end)


def cut_beside(area: Area, cuts: Sequence[Cut], kerf: Fraction) -> int | None:
    """Which of the cuts that part a board frees one of its rectangles: the last along its edge."""
    found = [number for number, cut in enumerate(cuts) if _beside(cut, area, kerf)]
    return found[-1] if found else None
