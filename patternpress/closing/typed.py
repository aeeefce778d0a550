"""Typed figures that stand for a board, and no longer do in an edition.

In: a design whose figures are `Traced`, its pieces placed; later what was chosen for an edition.
Out: faces of two pieces that are flush only because a typed `18 mm` is what a board is thick; and
warnings where the board that is sold by the other system parts them.  Faces that touch need none:
there the typed figure follows the board (`settled`).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations, product

from patternpress.assembly.placing import Assembly
from patternpress.closing.boxes import TOUCH, Box, boxes
from patternpress.closing.draft import Task
from patternpress.closing.grid import Grid
from patternpress.closing.lengths import Survey
from patternpress.closing.traced import Form, explained, form_of
from patternpress.design.kinds.editions import ThicknessTyped
from patternpress.design.problem import Problem
from patternpress.design.span import Span
from patternpress.measure.digits import Display
from patternpress.measure.figures import plain, show_length
from patternpress.measure.quantity import Kind, Quantity


@dataclass(frozen=True)
class Typed:
    """Two pieces that are flush while a typed length is what a stock is thick; their numbers."""

    piece: str
    other: str
    length: int
    stock: int
    span: Span


def typed(assembly: Assembly, survey: Survey) -> Iterator[Typed]:
    """Each typed length that stands for a board, told once, where it is typed."""
    thick = {each.mm for each in survey.lengths if each.sort == "stock"}
    if not any(each.sort == "given" and each.mm in thick for each in survey.lengths):
        return
    told: set[tuple[int, int]] = set()
    for placed in dict.fromkeys((assembly.placed, *assembly.works.values())):
        for first, second, form in _flush(boxes(placed, assembly.bodies), survey):
            pair = _stands(form, survey)
            if pair is not None and pair not in told:
                told.add(pair)
                span = _said(pair[0], (first.name, second.name), survey)
                yield Typed(second.name, first.name, *pair, span)


def _flush(found: Sequence[Box], survey: Survey) -> Iterator[tuple[Box, Box, Form]]:
    """Faces of pieces that meet which look the same way and lie in one plane, by their figures."""
    near = ((a, b) for a, b in combinations(found, 2) if _meet(a, b))
    for (first, second), axis, side in product(near, range(3), (0, 1)):
        if abs(first.near[axis][side] - second.near[axis][side]) < TOUCH:
            one, other = ((each.low, each.high)[side] for each in (first, second))
            over = one[axis] - other[axis]
            if explained(over, form_of(over), survey.values):
                yield first, second, form_of(over)


def _meet(first: Box, second: Box) -> bool:
    return all(
        one[0] <= two[1] + TOUCH and two[0] <= one[1] + TOUCH
        for one, two in zip(first.near, second.near, strict=True)
    )


def _stands(form: Form, survey: Survey) -> tuple[int, int] | None:
    """The typed length and the stock that alone make a difference, and are alike."""
    shares = {n: share for n, share in form.items() if share}
    sorts = {survey.lengths[n].sort: n for n in shares if n in survey.values}
    if len(shares) != 2 or sorts.keys() != {"given", "stock"} or sum(shares.values(), Fraction(0)):
        return None
    return sorts["given"], sorts["stock"]


def _said(number: int, pieces: tuple[str, str], survey: Survey) -> Span:
    """Where the length is typed for one of the pieces; where it is typed first, if for neither."""
    said = [survey.spots[way] for way, each in survey.inside.items() if number in each.values()]
    own = (spot.said.span for spot in said if spot.owner in pieces)
    return next(own, survey.lengths[number].span)


def parted_from(
    found: Sequence[Typed], task: Task, values: dict[int, Fraction], edition: str
) -> Iterator[Problem]:
    """Warnings of typed lengths that an edition makes other than the board they stand for."""
    grid: Grid = task.grid
    display = Display(grid.system, None, grid.unit)

    def shown(mm: Fraction) -> str:
        return plain(show_length(Quantity(mm, Kind.LENGTH), display))

    for each in found:
        mm, thick = values[each.length], values[each.stock]
        if abs(mm - thick) > grid.unit / 2:
            stock = task.lengths[each.stock].words.removeprefix("thickness of ")
            facts = {"edition": edition, "piece": each.piece, "other": each.other, "stock": stock}
            facts |= {"printed": shown(mm), "thick": shown(thick)}
            yield Problem(ThicknessTyped, each.span, facts)
