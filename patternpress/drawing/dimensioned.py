"""The dimensions round one template.

In: a TemplatePart and its shape as drawn.  Out: which places are dimensioned, the extension lines
over the part, which words must keep clear of, and the ink below the part and at its left.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from patternpress.assembly.outlines import bounding_box
from patternpress.assembly.polygons import Edge
from patternpress.assembly.shape import Shape
from patternpress.drawing.dimensions import FIRST, Tick, across, running, upwards
from patternpress.drawing.features import extent_of
from patternpress.drawing.ink import Extent, Ink, Words, words_extent
from patternpress.drawing.part import Level, TemplatePart
from patternpress.drawing.style import DrawingStyle
from patternpress.drawing.tags import said
from patternpress.measure.pieces import Figure

_FEW = 3  # corners along one side that a full-size drawing still dimensions


@dataclass(frozen=True, slots=True)
class Ticks:
    """The places that are dimensioned, as drawn: first the edge measured from."""

    across: tuple[Tick, ...] = ()
    up: tuple[Tick, ...] = ()

    @property
    def places(self) -> tuple[float, ...]:
        """Where extension lines cross the bottom edge, but for the two at its ends."""
        return tuple(tick.at for tick in self.across[1:-1])

    @property
    def heights(self) -> tuple[float, ...]:
        """Where extension lines cross the left edge, but for the two at its ends."""
        return tuple(tick.at for tick in self.up[1:-1])

    @property
    def beyond(self) -> tuple[float, ...]:
        """Where extension lines begin again beyond the right edge."""
        return tuple(tick.at for tick in self.up if tick.outside is not None)


def ticks_of(
    part: TemplatePart, shape: Shape, scale: Fraction, window: Extent | None = None
) -> Ticks:
    """Return what is dimensioned on a part whose shape is drawn at `scale`; of a half its half."""
    box = extent_of(shape.outline)
    if window is None:
        right, width, kept = box.right, part.across, part.levels.across
    else:
        right, middle = window.right, bounding_box(part.shape.outline)
        half = (middle.right - middle.left) / 2
        width = part.show(half)
        kept = tuple(level for level in part.levels.across if level.at < half)
        kept = (*kept, Level(half, middle.bottom, width, corner=True))
    up = _ticked(part.levels.up, part.up, (box.bottom, box.top), box.left, scale)
    if scale == 1:
        up = tuple(_kept_off(tick, box) for tick in up)
    return Ticks(_ticked(kept, width, (box.left, right), box.bottom, scale), up)


def _kept_off(tick: Tick, box: Extent) -> Tick:
    """A tick of what is at the right, as of a handed part's mirror image, kept off the wood."""
    far = tick.start > (box.left + box.right) / 2
    return replace(tick, outside=(box.left, box.right)) if far else tick


def _ticked(
    levels: Sequence[Level],
    whole: Figure,
    span: tuple[float, float],
    start: float,
    scale: Fraction,
) -> tuple[Tick, ...]:
    """Return the ticks of one side: at full size only a few corners, reduced everything."""
    between = [each for each in levels[:-1] if scale != 1 or (each.corner and each.near)]
    if scale == 1 and len(between) > _FEW:
        between = []
    ticks = [
        Tick(span[0] + float(each.at * scale), float(each.start * scale), each.figure)
        for each in between
    ]
    return (Tick(span[0], start, whole), *ticks, Tick(span[1], start, whole))


def extensions(shape: Shape, ticks: Ticks) -> Iterator[Edge]:
    """Yield the extension lines that run over the part."""
    box = extent_of(shape.outline)
    for tick in ticks.across[1:-1]:
        yield (tick.at, tick.start), (tick.at, box.bottom)
    for tick in ticks.up[1:-1]:
        if tick.outside is None:
            yield (tick.start, tick.at), (box.left, tick.at)


def dimensions(
    ticks: Ticks, box: Extent, reach: Extent, names: tuple[Words, ...], style: DrawingStyle
) -> list[Ink]:
    """Return the width below and the height at the left, clear of the edge names.

    `box` is what is dimensioned, `reach` that with what stands out behind it.
    """
    if not ticks.across:
        return []
    leftmost = min((words_extent(name).left for name in names), default=reach.left)
    away = max(FIRST, reach.left - leftmost + 3)
    width, height = ticks.across[-1].figure, ticks.up[-1].figure
    below = (
        running(ticks.across, reach.bottom, style, upright=False)
        if len(ticks.across) > 2
        else across((box.left, box.right), reach.bottom, width, style)
    )
    at_left = (
        running(ticks.up, reach.left, style, upright=True, away=away)
        if len(ticks.up) > 2
        else upwards((box.bottom, box.top), reach.left, height, style, away)
    )
    return [*_saying("across", below, width), *_saying("up", at_left, height)]


def _saying(of: str, dimension: Sequence[Ink], whole: Figure) -> Iterator[Ink]:
    """Yield a dimension; the figure of the whole, which comes last, says what it is."""
    last = [ink for ink in dimension if isinstance(ink, Words) and ink.figure == whole][-1:]
    for ink in dimension:
        yield replace(ink, tag=said(of)) if isinstance(ink, Words) and ink in last else ink
