"""What pieces may lie on: the usable rectangles of every sheet of a job, and what each costs.

In: a job.  Out: `Panel`s in whole units, trimmed, a kerf added; a sheet with a corner gone or with
defects is several.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from patternpress.cutting.jobs import Job
from patternpress.cutting.laid import extent_of
from patternpress.cutting.packing.records import Board
from patternpress.cutting.parting import gone_from, parted
from patternpress.cutting.slicing import Area

FINE = 320  # parts of a mm that every figure of a metric or inch design lies on


@dataclass(frozen=True, slots=True)
class Panel:
    """A rectangle of a sheet that pieces may lie on: of which sheet, and where in it."""

    sheet: int
    area: Area
    board: Board


def scale_of(job: Job) -> int:
    """Whole parts of a mm in which boards and kerfs are exact; pieces are rounded up to them."""
    figures = [job.kerf, job.trim]
    for sheet in job.sheets:
        figures += [sheet.along, sheet.across]
        areas = [each.area for each in gone_from(sheet)]
        figures += [f for a in areas for f in (a.x, a.y, a.along, a.across)]
    return math.lcm(FINE, *(figure.denominator for figure in figures))


def panels_of(job: Job, scale: int, split: str) -> list[Panel]:
    """The usable rectangles of every sheet; what cannot be used is cut round, `split` first."""
    prices = prices_of(job)
    found = []
    for number, sheet in enumerate(job.sheets):
        for area in parted(sheet, job, split)[0]:
            along, across = (int(each * scale) for each in (area.along, area.across))
            kerf = int(job.kerf * scale)
            board = (
                Board(along + kerf, across + kerf, prices[number], sheet.count)
                if job.flat
                else Board(1, along + kerf, prices[number], sheet.count)
            )
            found.append(Panel(number, area, board))
    return found


def prices_of(job: Job) -> list[int]:
    """What each sheet counts: nothing at hand; else its price, or its area where none is given."""
    bought = [s for s in job.sheets if s.count is None or s.price]
    currencies = {s.price[1] for s in bought if s.price}
    priced = all(s.price for s in bought) and len(currencies) == 1
    alike = len({(s.along, s.across) for s in bought}) == 1
    found = []
    for sheet in job.sheets:
        if sheet.count is not None and not sheet.price:
            found.append(0)
        elif priced and sheet.price is not None:
            found.append(int(sheet.price[0] * 100))
        elif alike:
            found.append(1)
        else:
            found.append(math.ceil(extent_of(sheet)))
    return found
