"""What several designs are cut from together.

In: a model of each design.  Out: `Shared`s: the stock that is one and the same thing to buy, with
the pieces of every design that uses it as a job of its own.  Letters get the number of their
design in front, so that part A of the second design is 2A; those of one design alone stay.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.model import Model
from patternpress.cutting.jobs import Item, Job, Sheet, jobs
from patternpress.design.records.goods import Stock
from patternpress.design.span import Said
from patternpress.measure.formula import Formula


@dataclass(frozen=True, slots=True)
class Shared:
    """A stock of the first design that has it; all parts made of it; what is cut of them."""

    stock: Stock
    parts: tuple[CutPart, ...]
    job: Job | None


@dataclass(frozen=True, slots=True)
class _Use:
    """One design's use of a stock."""

    stock: Stock
    parts: tuple[CutPart, ...]
    job: Job | None


def shared(models: Sequence[Model]) -> tuple[Shared, ...]:
    """The stock of all designs, in the order in which they name it first."""
    found: dict[Hashable, list[_Use]] = {}
    for number, model in enumerate(models, 1):
        for key, use in _uses(str(number) if len(models) > 1 else "", model):
            found.setdefault(key, []).append(use)
    return tuple(_joined(uses) for uses in found.values())


def _uses(number: str, model: Model) -> Iterator[tuple[Hashable, _Use]]:
    made = {job.stock.name.value: job for job in jobs(model, workshop=True)}
    for stock in model.worked.book.stock:
        parts = [p for p in model.worked.parts if p.stock is stock and p.quantity]
        if not parts:
            continue
        lettered = {p.letter: replace(p, letter=f"{number}{p.letter}") for p in parts}
        job = made.get(stock.name.value)
        if job is not None:
            items = tuple(
                replace(item, part=lettered[item.letter], board=_board(number, item))
                for item in job.items
            )
            job = replace(job, items=items)
        yield _key(stock, job, model), _Use(stock, tuple(lettered.values()), job)


def _board(number: str, item: Item) -> str:
    return f"{number} {item.board}" if item.board else ""


def _key(stock: Stock, job: Job | None, model: Model) -> Hashable:
    """What makes two stocks the same to a buyer and at the blade."""
    if stock.bought is not None:
        return "bought", " ".join(stock.bought.main.value.casefold().split())
    named = (stock.wood or stock.name).value.casefold()
    sizes = [_mm(said, model) for said in (*(stock.strip or ()), stock.sheet, stock.rod) if said]
    form = "sheet" if stock.sheet else "rod" if stock.rod else "strip"
    cut = (job.tool, job.kerf, job.trim, job.left_on) if job else None
    return form, named, tuple(sizes), stock.glued, cut


def _mm(said: Said[Formula], model: Model) -> Fraction | None:
    found = model.worked.solver.value(said)
    return found.value if found else None


def _joined(uses: Sequence[_Use]) -> Shared:
    first = uses[0]
    parts = tuple(part for use in uses for part in use.parts)
    cut = [use.job for use in uses if use.job is not None]
    if not cut:
        return Shared(first.stock, parts, None)
    items = tuple(item for job in cut for item in job.items)
    job = replace(cut[0], stock=first.stock, items=items, sheets=_sheets(cut))
    return Shared(first.stock, parts, job)


def _sheets(cut: Sequence[Job]) -> tuple[Sheet, ...]:
    """Every size once, at hand first.

    The same sheet at hand in two designs is one sheet: the designer listed what lies there.
    """
    found: dict[Hashable, Sheet] = {}
    for sheet in (sheet for job in cut for sheet in job.sheets):
        key = (sheet.along, sheet.across, sheet.used, sheet.defects, sheet.count is None)
        known = found.get(key)
        if known is None or (sheet.count or 0) > (known.count or 0):
            found[key] = sheet
    return tuple(sorted(found.values(), key=lambda sheet: sheet.count is None))
