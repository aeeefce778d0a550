"""One part's template.

In: a TemplatePart.  Out: one cell of ink for each hand: the outline, what lies on it, its
label, grain, edge names and dimensions, with everything arranged so that nothing overlaps.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from patternpress.assembly.flattening import flattened
from patternpress.assembly.shape import Axis, Shape
from patternpress.assembly.turning import mirrored_shape, scaled_shape
from patternpress.drawing.callouts import Callout, Outside, above, beside, callouts, inside
from patternpress.drawing.captions import (
    Block,
    brief_captions,
    captions,
    letters_alone,
    rest_captions,
)
from patternpress.drawing.dimensions import FIRST, across, leader, upwards
from patternpress.drawing.edges import edge_names
from patternpress.drawing.features import FLAT, Feature, extent_of, features
from patternpress.drawing.grain import grain_arrows, loose_arrow
from patternpress.drawing.ink import (
    Extent,
    Ink,
    Stroke,
    Words,
    extent,
    outline_track,
    shifted,
    words_extent,
)
from patternpress.drawing.part import TemplatePart
from patternpress.drawing.room import Surface, find_room
from patternpress.drawing.style import DrawingStyle

_APART = 4.0  # mm between a part with its dimensions and words outside it
_MARGINS = (4.0, 2.5, 1.5, 1.2)  # mm round words inside, tried in this order
_FLAT_PART = 20.0  # mm high at most
FULL = Fraction(1)


@dataclass(frozen=True, slots=True)
class Setting:
    """How to draw a template: its scale, and the room in mm that it should keep to.

    Without dimensions it takes less paper; its size still stands in the label.
    """

    style: DrawingStyle
    room: tuple[float, float]
    scale: Fraction = FULL
    dimensioned: bool = True


@dataclass(frozen=True, slots=True)
class Cell:
    """One drawn template: its ink, the rectangle it takes, and its scale."""

    letter: str
    name: str
    ink: tuple[Ink, ...]
    extent: Extent
    scale: Fraction


def cells(part: TemplatePart, setting: Setting) -> tuple[Cell, ...]:
    """Return a part's template, and for a handed part its twin's."""
    first = _cell(part, part.quantity, setting)
    if part.hand is None:
        return (first,)
    twin = replace(part, shape=mirrored_shape(part.shape), hand=part.hand.other)
    return first, _cell(twin, part.twins, setting)


@dataclass(frozen=True, slots=True)
class _Sheet:
    """What has been drawn, what is still free, and what must still go outside.

    `outside` holds arrangements of the same words, of which one is used.
    """

    ink: tuple[Ink, ...]
    surface: Surface
    outside: tuple[Block, ...] = ()
    loose: Block | None = None
    needs_leader: bool = False


def _cell(part: TemplatePart, count: int, setting: Setting) -> Cell:
    style, scale = setting.style, setting.scale
    shape = scaled_shape(part.shape, scale)
    found = features(shape, style)
    sheet = _labelled(_bare(shape, found, style), part, count, scale, style)
    sheet, left_over = _called_out(sheet, callouts(found, part.callouts, style), style)
    sheet = _grained(sheet, part, style)
    names = edge_names(shape, style)
    drawn: tuple[Ink, ...] = (*sheet.ink, *names)
    if setting.dimensioned:
        drawn = (*drawn, *_dimensions(part, shape, names, style))
    beyond = _called_outside(left_over, extent(drawn), sheet.surface.extent, style)
    kept = tuple(ink for ink in drawn if ink not in names)
    names = edge_names(shape, style, beyond.levels, beyond.columns)
    ink = _with_outside(replace(sheet, ink=(*kept, *names, *beyond.ink)), setting)
    return Cell(part.letter, part.name, ink, extent(ink), scale)


def _called_outside(
    left_over: tuple[Callout, ...], held: Extent, whole: Extent, style: DrawingStyle
) -> Outside:
    """Return the callouts that found no room inside: above a flat part, else beside it."""
    if not left_over:
        return Outside()
    if whole.height < _FLAT_PART and whole.width > 2 * whole.height:
        return above(left_over, held.top + 2, style)
    return beside(left_over, held.right + 2, style)


def _bare(shape: Shape, found: tuple[Feature, ...], style: DrawingStyle) -> _Sheet:
    outline = Stroke((outline_track(shape.outline),), style.cut)
    ink = tuple(ink for feature in found for ink in feature.ink)
    blocked = tuple(box for feature in found for box in feature.blocked)
    lines = tuple(line for feature in found for line in feature.lines)
    return _Sheet((*ink, outline), Surface(flattened(shape.outline, FLAT), blocked, lines))


# ------------------------------------------------------------------ inside the outline


def _put_in(sheet: _Sheet, blocks: tuple[Block, ...], height: float) -> _Sheet | None:
    """Return the sheet with the first block that fits, near a height given as a share."""
    whole = sheet.surface.extent
    prefer = ((whole.left + whole.right) / 2, whole.bottom + whole.height * height)
    for block in blocks:
        for margin in _MARGINS:
            spot = find_room(sheet.surface, (block.width, block.height), prefer, margin)
            if spot is not None:
                ink = (*sheet.ink, *shifted(block.ink, spot.left, spot.bottom))
                return replace(sheet, ink=ink, surface=sheet.surface.without(spot.grown(0.8)))
    return None


def _labelled(
    sheet: _Sheet, part: TemplatePart, count: int, scale: Fraction, style: DrawingStyle
) -> _Sheet:
    """Return the sheet with as much of the label inside as fits, the rest kept for outside."""
    whole = captions(part, count, scale, style)
    if (full := _put_in(sheet, whole, 0.58)) is not None:
        return full
    if (brief := _put_in(sheet, brief_captions(part, count, style), 0.58)) is not None:
        return replace(brief, outside=rest_captions(part, scale, style))
    if (lettered := _put_in(sheet, letters_alone(part, style), 0.5)) is not None:
        return replace(lettered, outside=whole)
    return replace(sheet, outside=whole, needs_leader=True)


def _grained(sheet: _Sheet, part: TemplatePart, style: DrawingStyle) -> _Sheet:
    if part.grain is None:
        return sheet
    whole = sheet.surface.extent
    room = whole.width if part.grain is Axis.X else whole.height
    placed = _put_in(sheet, grain_arrows(part.grain, room, style), 0.25)
    return placed or replace(sheet, loose=loose_arrow(part.grain, style))


def _called_out(
    sheet: _Sheet, wanted: tuple[Callout, ...], style: DrawingStyle
) -> tuple[_Sheet, tuple[Callout, ...]]:
    left_over = []
    for callout in wanted:
        placed = inside(callout, sheet.surface, style)
        if placed is None:
            left_over.append(callout)
        else:
            sheet = replace(sheet, ink=(*sheet.ink, *placed[0]), surface=placed[1])
    return sheet, tuple(left_over)


# ------------------------------------------------------------------ round the outline


def _dimensions(
    part: TemplatePart, shape: Shape, names: tuple[Words, ...], style: DrawingStyle
) -> list[Ink]:
    """Return the width below and the height at the left, clear of the edge names."""
    box = extent_of(shape.outline)
    leftmost = min((words_extent(name).left for name in names), default=box.left)
    away = max(FIRST, box.left - leftmost + 3)
    return [
        *across((box.left, box.right), box.bottom, part.across, style),
        *upwards((box.bottom, box.top), box.left, part.up, style, away),
    ]


def _with_outside(sheet: _Sheet, setting: Setting) -> tuple[Ink, ...]:
    """Return the ink with the words left over, where the whole takes least paper.

    Places that keep to the room come first, then those that make the drawing longer in one
    direction only.
    """
    style = setting.style
    blocks = _with_loose(sheet.outside, sheet.loose, under=not sheet.needs_leader)
    if not blocks:
        return sheet.ink
    held, whole = extent(sheet.ink), sheet.surface.extent
    tries = []
    for block in blocks:
        for left, low in _places(block, held, whole, sheet.needs_leader, style):
            spot = Extent(left, low, left + block.width, low + block.height)
            both = _around(held, spot)
            over = both.width > setting.room[0] or both.height > setting.room[1]
            grows = both.width > held.width + 1 and both.height > held.height + 1
            cost = (over, grows, both.width * both.height)
            tries.append((cost, shifted(block.ink, left, low), spot))
    _, ink, spot = min(tries, key=lambda tried: tried[0])
    if not sheet.needs_leader:
        return (*sheet.ink, *ink)
    return (*sheet.ink, *ink, *_leader_to(whole, spot, style))


def _places(
    block: Block, held: Extent, whole: Extent, needs_leader: bool, style: DrawingStyle
) -> list[tuple[float, float]]:
    """Return where outside words may stand: to the right of everything, or above it."""
    middle = (whole.bottom + whole.top - block.height) / 2
    above = (whole.left, held.top + _APART * 0.7)
    if not needs_leader:
        return [(held.right + _APART, max(middle, held.bottom)), above]
    # The leader comes down from beside the letter and passes over the edge's name.
    lifted = whole.top + 5 - (block.height - style.letter / 2)
    beside = (held.right + _APART, max(lifted, held.bottom))
    return [beside, above] if whole.width >= 40 else [beside]


def _around(one: Extent, two: Extent) -> Extent:
    return Extent(
        min(one.left, two.left),
        min(one.bottom, two.bottom),
        max(one.right, two.right),
        max(one.top, two.top),
    )


def _with_loose(blocks: tuple[Block, ...], loose: Block | None, under: bool) -> tuple[Block, ...]:
    """Return the blocks with the loose grain arrow to the right of each, or also under each."""
    if loose is None:
        return blocks
    if not blocks:
        return (loose,)
    return tuple(
        both
        for block in blocks
        for both in (_side_by_side(block, loose), *((_stacked(block, loose),) if under else ()))
    )


def _side_by_side(block: Block, loose: Block) -> Block:
    high = max(block.height, loose.height)
    ink = (
        *shifted(block.ink, 0, high - block.height),
        *shifted(loose.ink, block.width + 5, (high - loose.height) / 2),
    )
    return Block(ink, block.width + 5 + loose.width, high)


def _stacked(block: Block, loose: Block) -> Block:
    ink = (*shifted(block.ink, 0, loose.height + 2), *loose.ink)
    return Block(ink, max(block.width, loose.width), block.height + loose.height + 2)


def _leader_to(whole: Extent, spot: Extent, style: DrawingStyle) -> list[Ink]:
    """Return a leader from outside words to a part that holds not even its letter."""
    middle = (whole.bottom + whole.top) / 2
    if spot.left > whole.right:
        start = (spot.left - 0.8, spot.top - style.letter / 2)
        tip = (whole.right - min(whole.width / 3, 3.0), (middle + whole.top) / 2)
    else:
        start = (spot.left + style.letter / 3, spot.top - style.letter - 1.0)
        tip = (whole.left + min(whole.width / 3, 5.0), middle)
    return leader(start, tip, style, on_face=True)
