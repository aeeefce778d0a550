"""One part's template.

In: a TemplatePart.  Out: one cell of ink for each hand: the outline, what lies on it, its
label, grain, edge names and dimensions, with everything arranged so that nothing overlaps.
What a page's room decides, the place of words outside, comes last, so that the rest is drawn
once however many places are tried.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

import shapely

from patternpress.assembly.flattening import flattened
from patternpress.assembly.polygons import Edge, Polygon
from patternpress.assembly.shape import Axis, Shape
from patternpress.assembly.turning import mirrored_shape, scaled_shape
from patternpress.drawing.callouts import Callout, callouts, inside
from patternpress.drawing.captions import Block, captions, letters_alone
from patternpress.drawing.clipping import clipped_ink
from patternpress.drawing.dimensioned import Ticks, dimensions, extensions, ticks_of
from patternpress.drawing.edges import Crossed, edge_names
from patternpress.drawing.features import FLAT, Feature, behind, features, radii, reach_of
from patternpress.drawing.grain import bare_arrows, grain_arrows, loose_arrow
from patternpress.drawing.halves import fold_ink, half_window
from patternpress.drawing.ink import Extent, Ink, Stroke, extent, outline_track, shifted
from patternpress.drawing.outside import Outside, above, beside
from patternpress.drawing.part import TemplatePart
from patternpress.drawing.room import Surface, find_room
from patternpress.drawing.signs import Sign
from patternpress.drawing.style import DrawingStyle
from patternpress.drawing.surroundings import Draft, Setting, with_outside
from patternpress.drawing.tags import drawn
from patternpress.drawing.treated import signs_on_edges

_MARGINS = (4.0, 2.5, 1.5, 1.2)  # mm round words inside, tried in this order
_TIGHT = (*_MARGINS, 0.8, 0.4)  # round an arrow without words
_OFF_FOLD = 1.2  # mm from a centre line to the margin of words
_FLAT_PART = 20.0  # mm high at most
_ROUNDS = 3  # in which words inside make way for the leaders of those outside


@dataclass(frozen=True, slots=True)
class Cell:
    """One drawn template: its part, its ink, the rectangle it takes, and its scale.

    It `lies` if it was turned a quarter, to be read from the right.  `words_of`: it is no drawing,
    but words of a template on so many sheets.
    """

    part: TemplatePart
    ink: tuple[Ink, ...]
    extent: Extent
    scale: Fraction
    lies: bool = False
    words_of: int = 0


@dataclass(frozen=True, slots=True)
class Drawn:
    """A template but for the words that found no room inside; these stand where they suit."""

    part: TemplatePart
    draft: Draft
    scale: Fraction


@dataclass(frozen=True, slots=True)
class Way:
    """How a part is drawn: its scale, with or without dimensions and the names of its holes.

    Without `ends` a part as long as the page is drawn without the names of its left and right.
    `over`: names that find no room inside stand above it, as above a flat part, not beside it.
    """

    scale: Fraction
    dimensioned: bool
    bare: bool = False
    ends: bool = True
    over: bool = False


def hands(part: TemplatePart) -> tuple[tuple[TemplatePart, int], ...]:
    """Return a part with how many to make of it, and a handed part's twin with its number."""
    if part.hand is None:
        return ((part, part.quantity),)
    shape = part.twin_shape or mirrored_shape(part.shape)
    twin = replace(part, shape=shape, hand=part.hand.other, levels=part.twin_levels)
    if part.twin_treated is not None:
        twin = replace(twin, treated=part.twin_treated)
    if part.twin_notes is not None:
        twin = replace(twin, notes=part.twin_notes)
    return (part, part.quantity), (twin, part.twins)


def laid_out(drawn: Drawn, setting: Setting) -> Cell:
    """Return a template with all its words, those outside set as the page has room."""
    ink = with_outside(drawn.draft, setting)
    return Cell(drawn.part, ink, extent(ink), drawn.scale)


def drawn_once(part: TemplatePart, count: int, style: DrawingStyle, way: Way) -> Drawn:
    """Return one template of a part of which `count` are made, as far as no page is needed."""
    shape = scaled_shape(part.shape, way.scale)
    window = half_window(part, shape)
    ticks = ticks_of(part, shape, way.scale, window) if way.dimensioned else Ticks()
    bare, found = bare_draft(part, shape, style, window)
    lines = (*bare.surface.lines, *extensions(shape, ticks))
    bare = replace(bare, surface=replace(bare.surface, lines=lines))
    wanted = () if way.bare else wanted_callouts(part, found, shape, way.scale, style, window)
    box = bare.surface.extent
    over = way.over or _is_flat(box)
    draft, left_over = _filled(bare, part, count, (wanted, over), way.scale, style)
    beyond = _called_outside(left_over, box, style, over=over)
    at_right = (*beyond.levels, *ticks.beyond)
    crossed = Crossed(ticks.heights, at_right, ticks.places, beyond.columns)
    names = edge_names(shape, style, crossed, window, way.ends)
    around = dimensions(ticks, box, reach_of(shape), names, style)
    ink = (*draft.ink, *names, *around, *beyond.ink)
    return Drawn(part, replace(draft, ink=ink), way.scale)


def bare_draft(
    part: TemplatePart, shape: Shape, style: DrawingStyle, window: Extent | None
) -> tuple[Draft, tuple[Feature, ...]]:
    """Return the lines of a part without words, and what lies on it; of a half only that half."""
    found = features(shape, style)
    outline = Stroke((outline_track(shape.outline),), style.cut, drawn("outline"), Sign.CUT)
    signs = signs_on_edges(shape, part.treated, style)
    dashed, far = behind(shape, style)
    made = (ink for feature in found for ink in feature.ink)
    ink: tuple[Ink, ...] = (*made, *signs, *dashed, outline)
    blocked = (
        *(box for feature in found for box in feature.blocked),
        *(extent((sign,)) for sign in signs),
    )
    lines = (*(line for feature in found for line in feature.lines), *far)
    ring = flattened(shape.outline, FLAT)
    if window is not None:
        # Words keep clear of the centre line as of an edge that is cut.
        beside = window.right - _OFF_FOLD
        lines = (*lines, ((beside, window.bottom), (beside, window.top)))
        ring = _ring_inside(ring, window)
        ink = (*clipped_ink(ink, window), *fold_ink(window, style))
    return Draft(ink, Surface(ring, blocked, lines)), found


def _ring_inside(ring: Polygon, window: Extent) -> Polygon:
    box = shapely.box(window.left, window.bottom, window.right, window.top)
    half = shapely.intersection(shapely.Polygon(ring), box)
    return tuple((x, y) for x, y in half.exterior.coords[:-1])


def wanted_callouts(
    part: TemplatePart,
    found: tuple[Feature, ...],
    shape: Shape,
    scale: Fraction,
    style: DrawingStyle,
    window: Extent | None,
) -> tuple[Callout, ...]:
    """Return what is to be written of the features; a reduced drawing also names its radii."""
    named = found if scale == 1 else (*found, *radii(shape))
    return callouts(named, part.callouts, style, window)


# ------------------------------------------------------------------ inside the outline


def _filled(
    bare: Draft,
    part: TemplatePart,
    count: int,
    said: tuple[tuple[Callout, ...], bool],
    scale: Fraction,
    style: DrawingStyle,
) -> tuple[Draft, tuple[Callout, ...]]:
    """Return the part with its words, and the callouts that must go outside.

    If any must, the words are placed once more so that the leaders' ways stay free: to words over
    the part, if `said` tells so along with them, else to the right.  That can drive out more.
    """
    wanted, over = said
    whole = bare.surface.extent
    draft, left_over = worded(bare, part, count, wanted, scale, style)
    for _ in range(_ROUNDS if left_over else 0):
        if over:
            ways = _called_outside(left_over, whole, style, over=True).ways
        else:
            ways = tuple(_way_out(callout, whole) for callout in left_over)
        before, lines = left_over, (*bare.surface.lines, *ways)
        free = replace(bare, surface=replace(bare.surface, lines=lines))
        draft, left_over = worded(free, part, count, wanted, scale, style)
        if len(left_over) <= len(before):
            break
    return draft, left_over


def _way_out(callout: Callout, whole: Extent) -> Edge:
    x, y = callout.feature.points_to
    return (x, y), (whole.right, y)


def worded(
    bare: Draft,
    part: TemplatePart,
    count: int,
    wanted: tuple[Callout, ...],
    scale: Fraction,
    style: DrawingStyle,
) -> tuple[Draft, tuple[Callout, ...]]:
    """Return a draft with label, callouts and grain inside, and the callouts without a place."""
    draft = _labelled(bare, part, count, scale, style)
    draft, left_over = _called_out(draft, wanted, style)
    return _grained(draft, part, style), left_over


def _put_in(
    draft: Draft,
    blocks: tuple[Block, ...],
    height: float,
    margins: tuple[float, ...] = _MARGINS,
) -> Draft | None:
    """Return the draft with the first block that fits, near a height given as a share."""
    whole = draft.surface.extent
    prefer = ((whole.left + whole.right) / 2, whole.bottom + whole.height * height)
    for block in blocks:
        for margin in margins:
            spot = find_room(draft.surface, (block.width, block.height), prefer, margin)
            if spot is not None:
                ink = (*draft.ink, *shifted(block.ink, spot.left, spot.bottom))
                return replace(draft, ink=ink, surface=draft.surface.without(spot.grown(0.8)))
    return None


def _labelled(
    draft: Draft, part: TemplatePart, count: int, scale: Fraction, style: DrawingStyle
) -> Draft:
    """Return the draft with the whole label inside, or its letter with the label kept outside."""
    whole = captions(part, count, scale, style)
    if (full := _put_in(draft, whole, 0.58)) is not None:
        return full
    if (lettered := _put_in(draft, letters_alone(part, style), 0.5)) is not None:
        return replace(lettered, outside=whole)
    # A leader starts under the letter, so nothing may stand there.
    return replace(draft, outside=whole, needs_leader=True)


def _grained(draft: Draft, part: TemplatePart, style: DrawingStyle) -> Draft:
    if part.grain is None:
        return draft
    whole = draft.surface.extent
    room = whole.width if part.grain is Axis.X else whole.height
    placed = _put_in(draft, grain_arrows(part.grain, room, style), 0.25)
    placed = placed or _put_in(draft, bare_arrows(part.grain, room, style), 0.25, _TIGHT)
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


# ------------------------------------------------------------------ outside the outline


def _called_outside(
    left_over: tuple[Callout, ...], whole: Extent, style: DrawingStyle, *, over: bool
) -> Outside:
    """Return the callouts that found no room inside: `over` the part, else beside it."""
    if not left_over:
        return Outside()
    # Beyond the names of the edges.
    off = 1.5 + 1.7 * style.label + 1.5
    if over:
        return above(left_over, whole, whole.top + off, style)
    return beside(left_over, whole.right + off, style)


def _is_flat(whole: Extent) -> bool:
    return whole.height < _FLAT_PART and whole.width > 2 * whole.height
