"""One part's template.

In: a TemplatePart.  Out: one cell of ink for each hand: the outline, what lies on it, its
label, grain, edge names and dimensions, with everything arranged so that nothing overlaps.
What a page's room decides, the place of words outside, comes last, so that the rest is drawn
once however many places are tried.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction

from patternpress.assembly.flattening import flattened
from patternpress.assembly.polygons import Edge
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
from patternpress.drawing.dimensions import FIRST, across, upwards
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
from patternpress.drawing.surroundings import Draft, Setting, with_outside
from patternpress.drawing.tags import Tag, drawn, said, template

_MARGINS = (4.0, 2.5, 1.5, 1.2)  # mm round words inside, tried in this order
_FLAT_PART = 20.0  # mm high at most


@dataclass(frozen=True, slots=True)
class Cell:
    """One drawn template: its ink, the rectangle it takes, and its scale."""

    letter: str
    name: str
    ink: tuple[Ink, ...]
    extent: Extent
    scale: Fraction
    tag: Tag


@dataclass(frozen=True, slots=True)
class Drawn:
    """A template but for the words that found no room inside; these stand where they suit."""

    letter: str
    name: str
    draft: Draft
    scale: Fraction
    tag: Tag


def drawings(
    part: TemplatePart, style: DrawingStyle, scale: Fraction, dimensioned: bool
) -> tuple[Drawn, ...]:
    """Return a part's template, and for a handed part its twin's."""
    first = _drawn(part, part.quantity, style, scale, dimensioned)
    if part.hand is None:
        return (first,)
    twin = replace(part, shape=mirrored_shape(part.shape), hand=part.hand.other)
    return first, _drawn(twin, part.twins, style, scale, dimensioned)


def laid_out(drawn: Drawn, setting: Setting) -> Cell:
    """Return a template with all its words, those outside set as the page has room."""
    ink = with_outside(drawn.draft, setting)
    return Cell(drawn.letter, drawn.name, ink, extent(ink), drawn.scale, drawn.tag)


def _drawn(
    part: TemplatePart, count: int, style: DrawingStyle, scale: Fraction, dimensioned: bool
) -> Drawn:
    shape = scaled_shape(part.shape, scale)
    draft, left_over = _filled(part, count, shape, scale, style)
    names = edge_names(shape, style)
    drawn: tuple[Ink, ...] = (*draft.ink, *names)
    if dimensioned:
        drawn = (*drawn, *_dimensions(part, shape, names, style))
    beyond = _called_outside(left_over, extent(drawn), draft.surface.extent, style)
    kept = tuple(ink for ink in drawn if ink not in names)
    names = edge_names(shape, style, beyond.levels, beyond.columns)
    draft = replace(draft, ink=(*kept, *names, *beyond.ink))
    hand = part.hand.name.lower() if part.hand else ""
    tag = template(part.letter, part.name, hand, scale)
    return Drawn(part.letter, part.name, draft, scale, tag)


def _called_outside(
    left_over: tuple[Callout, ...], held: Extent, whole: Extent, style: DrawingStyle
) -> Outside:
    """Return the callouts that found no room inside: above a flat part, else beside it."""
    if not left_over:
        return Outside()
    if _is_flat(whole):
        return above(left_over, held.top + 2, style)
    return beside(left_over, held.right + 2, style)


def _is_flat(whole: Extent) -> bool:
    return whole.height < _FLAT_PART and whole.width > 2 * whole.height


def _bare(shape: Shape, found: tuple[Feature, ...], style: DrawingStyle) -> Draft:
    outline = Stroke((outline_track(shape.outline),), style.cut, drawn("outline"))
    ink = tuple(ink for feature in found for ink in feature.ink)
    blocked = tuple(box for feature in found for box in feature.blocked)
    lines = tuple(line for feature in found for line in feature.lines)
    return Draft((*ink, outline), Surface(flattened(shape.outline, FLAT), blocked, lines))


# ------------------------------------------------------------------ inside the outline


def _filled(
    part: TemplatePart, count: int, shape: Shape, scale: Fraction, style: DrawingStyle
) -> tuple[Draft, tuple[Callout, ...]]:
    """Return the part with its words, and the callouts that must go outside.

    If any must, the words are placed once more so that the leaders' ways stay free.
    """
    found = features(shape, style)
    wanted = callouts(found, part.callouts, style)
    bare = _bare(shape, found, style)
    draft, left_over = _worded(bare, part, count, wanted, scale, style)
    if not left_over:
        return draft, ()
    ways = tuple(_way_out(callout, bare.surface.extent) for callout in left_over)
    surface = replace(bare.surface, lines=(*bare.surface.lines, *ways))
    return _worded(replace(bare, surface=surface), part, count, wanted, scale, style)


def _way_out(callout: Callout, whole: Extent) -> Edge:
    x, y = callout.feature.points_to
    return ((x, y), (x, whole.top)) if _is_flat(whole) else ((x, y), (whole.right, y))


def _worded(
    bare: Draft,
    part: TemplatePart,
    count: int,
    wanted: tuple[Callout, ...],
    scale: Fraction,
    style: DrawingStyle,
) -> tuple[Draft, tuple[Callout, ...]]:
    draft = _labelled(bare, part, count, scale, style)
    draft, left_over = _called_out(draft, wanted, style)
    return _grained(draft, part, style), left_over


def _put_in(draft: Draft, blocks: tuple[Block, ...], height: float) -> Draft | None:
    """Return the draft with the first block that fits, near a height given as a share."""
    whole = draft.surface.extent
    prefer = ((whole.left + whole.right) / 2, whole.bottom + whole.height * height)
    for block in blocks:
        for margin in _MARGINS:
            spot = find_room(draft.surface, (block.width, block.height), prefer, margin)
            if spot is not None:
                ink = (*draft.ink, *shifted(block.ink, spot.left, spot.bottom))
                return replace(draft, ink=ink, surface=draft.surface.without(spot.grown(0.8)))
    return None


def _labelled(
    draft: Draft, part: TemplatePart, count: int, scale: Fraction, style: DrawingStyle
) -> Draft:
    """Return the draft with as much of the label inside as fits, the rest kept for outside."""
    whole = captions(part, count, scale, style)
    if (full := _put_in(draft, whole, 0.58)) is not None:
        return full
    if (brief := _put_in(draft, brief_captions(part, count, style), 0.58)) is not None:
        return replace(brief, outside=rest_captions(part, scale, style))
    if (lettered := _put_in(draft, letters_alone(part, style), 0.5)) is not None:
        return replace(lettered, outside=whole)
    # A leader starts under the letter, so nothing may stand there.
    return replace(draft, outside=whole[:2], needs_leader=True)


def _grained(draft: Draft, part: TemplatePart, style: DrawingStyle) -> Draft:
    if part.grain is None:
        return draft
    whole = draft.surface.extent
    room = whole.width if part.grain is Axis.X else whole.height
    placed = _put_in(draft, grain_arrows(part.grain, room, style), 0.25)
    return placed or replace(draft, loose=loose_arrow(part.grain, style))


def _called_out(
    draft: Draft, wanted: tuple[Callout, ...], style: DrawingStyle
) -> tuple[Draft, tuple[Callout, ...]]:
    left_over = []
    for callout in wanted:
        placed = inside(callout, draft.surface, style)
        if placed is None:
            left_over.append(callout)
        else:
            draft = replace(draft, ink=(*draft.ink, *placed[0]), surface=placed[1])
    return draft, tuple(left_over)


# ------------------------------------------------------------------ round the outline


def _dimensions(
    part: TemplatePart, shape: Shape, names: tuple[Words, ...], style: DrawingStyle
) -> list[Ink]:
    """Return the width below and the height at the left, clear of the edge names."""
    box = extent_of(shape.outline)
    leftmost = min((words_extent(name).left for name in names), default=box.left)
    away = max(FIRST, box.left - leftmost + 3)
    width = across((box.left, box.right), box.bottom, part.across, style)
    height = upwards((box.bottom, box.top), box.left, part.up, style, away)
    return [*_saying("across", width), *_saying("up", height)]


def _saying(of: str, dimension: list[Ink]) -> Iterator[Ink]:
    for ink in dimension:
        yield replace(ink, tag=said(of)) if isinstance(ink, Words) else ink
