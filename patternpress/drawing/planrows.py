"""The lines of a bench plan's picture: one for each step that is worked on in it.

In: a `Plan` and the part of time that a picture shows.  Out: `Row`s from the top down, with the
titles broken to fit.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from patternpress.assembly.plan import Plan, PlanStep
from patternpress.drawing.lettering import Lettering, broken, figure_width, words
from patternpress.drawing.plantime import TimeScale
from patternpress.drawing.style import DrawingStyle

TITLE = 7.0  # mm from the left, where titles begin
FEED = 4.2  # mm from one line of words to the next
TALLEST = 190.0  # mm of rows in one picture
_ROOM = 0.8  # mm of a row beside its lines
_LINES = 2  # of a title; what is longer ends in dots


@dataclass(frozen=True, slots=True)
class Row:
    """A step's line: its title, and its top and bottom in mm from the top of all rows."""

    step: PlanStep
    lines: tuple[str, ...]
    top: float
    bottom: float

    @property
    def middle(self) -> float:
        """The height of its bars' middle, mm."""
        return (self.top + self.bottom) / 2


def rows(
    plan: Plan, scale: TimeScale, titles: Mapping[int, str], names: float, style: DrawingStyle
) -> tuple[tuple[Row, ...], ...]:
    """The rows of some sittings, in as many pictures as they need to stay on a page.

    Titles stand in the first `names` mm.
    """
    pictures: list[list[Row]] = []
    for row in _rows(plan, scale, titles, names, style):
        if not pictures or pictures[-1][0].top - row.bottom > TALLEST:
            pictures.append([])
        pictures[-1].append(row)
    return tuple(_from_the_top(each) for each in pictures)


def _from_the_top(found: Sequence[Row]) -> tuple[Row, ...]:
    drop = found[0].top
    return tuple(replace(row, top=row.top - drop, bottom=row.bottom - drop) for row in found)


def _rows(
    plan: Plan, scale: TimeScale, titles: Mapping[int, str], names: float, style: DrawingStyle
) -> Iterator[Row]:
    lettering = style.set_in(style.label)
    top = 0.0
    for step in plan.steps:
        if not _shows(step, scale):
            continue
        title = titles.get(step.number, step.title)
        lines = _fitted(title, lettering, names - TITLE - 2.0)
        bottom = top - _ROOM - FEED * len(lines)
        yield Row(step, lines, top, bottom)
        top = bottom


def _shows(step: PlanStep, scale: TimeScale) -> bool:
    shown = {panel.sitting.number for panel in scale.panels}
    return any(work.sitting in shown for work in step.works)


def _fitted(title: str, lettering: Lettering, longest: float) -> tuple[str, ...]:
    lines = broken(title, lettering, longest)
    if len(lines) <= _LINES and all(_width(line, lettering) <= longest for line in lines):
        return lines
    kept = [_cut(line, lettering, longest) for line in lines[:_LINES]]
    if len(lines) > _LINES and not kept[-1].endswith("…"):
        kept[-1] = _cut(f"{kept[-1]} …", lettering, longest)
    return tuple(kept)


def _cut(line: str, lettering: Lettering, longest: float) -> str:
    """A line that ends in dots where it is too long."""
    while _width(line, lettering) > longest and len(line) > 1:
        line = line.removesuffix("…").rstrip()[:-1].rstrip() + "…"
    return line


def _width(line: str, lettering: Lettering) -> float:
    return figure_width(words(line), lettering)
