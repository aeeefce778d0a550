"""What cannot be laid out as an edition's buyer needs it.

In: a model.  Out: warnings: parts that no board has room for, with the size that would do; boards
at hand that are too few; pieces that should come from one board and do not fit on one.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, MutableMapping, Sequence
from dataclasses import replace
from fractions import Fraction
from typing import Any

from patternpress.assembly.model import Model
from patternpress.cutting.byshape import shaped
from patternpress.cutting.jobs import ZERO, Item, Job, Sheet, jobs
from patternpress.cutting.laid import extent_of
from patternpress.cutting.layouts import lay_out, layout_of, misfits
from patternpress.design.kinds import parts as kinds
from patternpress.design.problem import Problem
from patternpress.measure.figures import plain, show_size
from patternpress.measure.quantity import Kind, Quantity


def check_laid(model: Model, kept: MutableMapping[str, Any]) -> Iterator[Problem]:
    """What one edition's layouts cannot do; layouts are made only where that can be in doubt."""
    for job in jobs(model):
        alone = misfits(job)
        if alone and shaped(job):  # an outline may fit where its box does not
            alone = layout_of(job, kept).misfits
        for item in alone:
            yield Problem(kinds.FitsNoBoard, item.part.part.name.span, _no_room(item, job, model))
        bounded = all(sheet.count is not None for sheet in job.sheets)
        grouped = [item for item in job.items if item.board]
        if not bounded and not grouped:
            continue
        layout = layout_of(job, kept)
        if bounded and len(layout.misfits) > len(alone):
            facts = _facts(job, model) | {"parts": _listed(job.items)} | _more(job, model)
            yield Problem(kinds.TooLittleAtHand, job.stock.at_hand[0].size[0].span, facts)
        elif layout.apart:
            yield from _apart(grouped, job, model)


def _no_room(item: Item, job: Job, model: Model) -> dict[str, str]:
    off = 2 * job.trim
    least = _size(item.along + off, item.across + off if job.flat else Fraction(0), model)
    facts = {"part": f"“{item.part.name}”", "size": _size(item.along, item.across, model)}
    return _facts(job, model) | facts | {"least": least}


def _apart(grouped: Sequence[Item], job: Job, model: Model) -> Iterator[Problem]:
    """A warning for each group that even the largest board may be too small for."""
    groups = {
        item.board: [each for each in grouped if each.board == item.board] for item in grouped
    }
    largest = _largest(job.sheets)
    for name, items in groups.items():
        said = items[0].part.part.same_board
        if said is not None and not _on_one(items, job):
            facts = _facts(job, model) | {"group": name, "parts": _listed(items)}
            facts |= {"largest": _sold(largest, model), "least": _least(items, largest, job, model)}
            yield Problem(kinds.GroupFitsNoBoard, said.span, facts)


def _largest(sheets: Sequence[Sheet]) -> Sheet:
    return max(sheets, key=extent_of)


def _more(job: Job, model: Model) -> dict[str, str]:
    """How many boards more would do, each as the largest at hand that is whole."""
    whole = [each for each in job.sheets if not each.used and not each.defects] or job.sheets
    more = replace(_largest(whole), count=None, used=None, defects=())
    count = sum(n for _, n in lay_out(replace(job, sheets=(*job.sheets, more))).to_buy)
    return {"more": str(count), "size": _sold(more, model)}


def _least(items: Sequence[Item], largest: Sheet, job: Job, model: Model) -> str:
    """The shortest board, as wide as the largest or as the widest piece, that holds a group.

    In whole millimetres, or eighths of an inch; found by halving, since a longer board holds all
    that a shorter one does.
    """
    off = 2 * job.trim
    across = max(largest.across, *(item.across + off for item in items)) if job.flat else ZERO
    step = Fraction(1) if model.edition.units == "mm" else Fraction(254, 80)
    room = sum(((item.along + job.kerf) * item.count for item in items), off)
    too_short, long = 0, math.ceil(room / step)
    while long - too_short > 1:
        middle = (too_short + long) // 2
        sheet = Sheet(middle * step, across)
        if _on_one(items, replace(job, sheets=(sheet,))):
            long = middle
        else:
            too_short = middle
    return _size(long * step, across, model)


def _on_one(items: Sequence[Item], job: Job) -> bool:
    """Whether these pieces alone come out of one board."""
    return any(
        not found.misfits and not found.apart and sum(b.copies for b in found.boards) == 1
        for sheet in job.sheets
        for found in [lay_out(replace(job, items=tuple(items), sheets=(sheet,)))]
    )


def _facts(job: Job, model: Model) -> dict[str, str]:
    return {"edition": model.edition.name, "stock": job.stock.name.value}


def _listed(items: Sequence[Item]) -> str:
    return ", ".join(f"{item.count} × {item.part.name}" for item in items)


def _sold(sheet: Sheet, model: Model) -> str:
    return _size(sheet.along, sheet.across, model)


def _size(along: Fraction, across: Fraction, model: Model) -> str:
    """A size as shops name it: width and length, or the length alone."""
    sizes = [across, along] if across else [along]
    shown = show_size([Quantity(each, Kind.LENGTH) for each in sizes], model.edition.display)
    return plain(shown)
