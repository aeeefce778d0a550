"""What pieces may lie on: the usable rectangles of every sheet of a job, and what each costs.

In: a job.  Out: `Panel`s in whole units, trimmed, a kerf added; a sheet with a corner gone is two.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from patternpress.cutting.jobs import ZERO, Job, Sheet
from patternpress.cutting.packing.records import Board
from patternpress.cutting.slicing import ALONG, Area

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
    figures += [f for s in job.sheets for f in (s.along, s.across, *(s.used or ()))]
    return math.lcm(FINE, *(figure.denominator for figure in figures))


def panels_of(job: Job, scale: int, split: str) -> list[Panel]:
    """The usable rectangles of every sheet; one with a corner gone is split `split` the grain."""
    prices = prices_of(job)
    found = []
    for number, sheet in enumerate(job.sheets):
        for area in _areas(sheet, job, split):
            along, across = (int(each * scale) for each in (area.along, area.across))
            kerf = int(job.kerf * scale)
            board = (
                Board(along + kerf, across + kerf, prices[number], sheet.count)
                if job.flat
                else Board(1, along + kerf, prices[number], sheet.count)
            )
            found.append(Panel(number, area, board))
    return found


def _areas(sheet: Sheet, job: Job, split: str) -> Iterator[Area]:
    trim = job.trim
    along, across = sheet.along - 2 * trim, sheet.across - 2 * trim
    if not job.flat:
        if along > 0:
            yield Area(trim, ZERO, along, ZERO)
        return
    if along <= 0 or across <= 0:
        return
    if sheet.used is None:
        yield Area(trim, trim, along, across)
        return
    # The corner that is gone is the one farthest along and across.
    gone_along = max(ZERO, sheet.used[0] + job.kerf - trim)
    gone_across = max(ZERO, sheet.used[1] + job.kerf - trim)
    if split == ALONG:
        pieces = (
            Area(trim, trim, along, across - gone_across),
            Area(trim, trim + across - gone_across + job.kerf, along - gone_along,
                 gone_across - job.kerf),
        )  # fmt: skip
    else:
        pieces = (
            Area(trim, trim, along - gone_along, across),
            Area(trim + along - gone_along + job.kerf, trim, gone_along - job.kerf,
                 across - gone_across),
        )  # fmt: skip
    yield from (area for area in pieces if area.along > 0 and area.across > 0)


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
            found.append(math.ceil(sheet.along * (sheet.across or 1)))
    return found
