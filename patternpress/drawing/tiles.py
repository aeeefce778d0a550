"""A template larger than a page, on several sheets to be joined.

In: a part and the room that one sheet has, mm.  Out: the sheets, each with the stretch of the
template that it shows, and what joins it to its neighbours: letters that must match, crosses to
lay on each other, the line to cut and the line to lay the cut edge to.  The whole lies in the
part's own coordinates, so that a test can put it together again.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction

from patternpress.assembly.shape import Axis
from patternpress.drawing.callouts import Callout
from patternpress.drawing.captions import Block, said_alone
from patternpress.drawing.clipping import clipped_ink
from patternpress.drawing.edges import Crossed, edge_names
from patternpress.drawing.features import reach_of
from patternpress.drawing.grain import loose_arrow
from patternpress.drawing.halves import half_window
from patternpress.drawing.ink import Extent, Ink
from patternpress.drawing.key import target
from patternpress.drawing.part import TemplatePart
from patternpress.drawing.room import Surface
from patternpress.drawing.seamplaces import OVERLAP, busy_along, stretches
from patternpress.drawing.seams import Seam, seam_ink
from patternpress.drawing.style import DrawingStyle
from patternpress.drawing.surroundings import Draft
from patternpress.drawing.tags import corner as corner_tag
from patternpress.drawing.template import bare_draft, hands, worded
from patternpress.drawing.tilecallouts import distances, measured_callouts
from patternpress.measure.pieces import Figure

AROUND = 6.0  # mm round the outline, for the names of its edges
HEAD = 8.0  # mm, the line over each sheet
_ROWS = 24  # of words in one block
_INSET = 3.0  # mm from the corners of the whole to the points to measure between
FULL = Fraction(1)


@dataclass(frozen=True, slots=True)
class Tile:
    """One sheet of a tiled template: its window on the part, and its ink there.

    `row` and `column` count from the top left.
    """

    row: int
    column: int
    window: Extent
    ink: tuple[Ink, ...]


@dataclass(frozen=True, slots=True)
class Tiled:
    """A template on several sheets, in the order of reading.

    `lies`: each sheet is turned a quarter to be read from the right.  `diagonal` is what the two
    diagonals between the points to measure must be.  `beside` holds the words that found no room
    on the template, in blocks; several arrangements of them, of which one is used.  `named`: words
    for what a sheet shows, by its number.
    """

    part: TemplatePart
    rows: int
    columns: int
    tiles: tuple[Tile, ...]
    whole: Extent
    lies: bool
    diagonal: Figure
    beside: tuple[tuple[Block, ...], ...] = ()
    named: Mapping[int, tuple[Block, ...]] = field(default_factory=dict)


def tile_room(room: tuple[float, float]) -> tuple[float, float]:
    """Return the room that a sheet's head line leaves of a page's, mm."""
    return room[0], room[1] - HEAD


def sheets_needed(part: TemplatePart, room: tuple[float, float]) -> tuple[int, int, bool]:
    """Return how many rows and columns of sheets a part takes at full size, and if they lie."""
    whole = _whole(part)
    upright = (_count(whole.height, room[1]), _count(whole.width, room[0]), False)
    lying = (_count(whole.height, room[0]), _count(whole.width, room[1]), True)
    return min(upright, lying, key=lambda way: (way[0] * way[1], way[2]))


def tiled(part: TemplatePart, room: tuple[float, float], style: DrawingStyle) -> tuple[Tiled, ...]:
    """Return a part's template on sheets that fit the room; a handed part's for both hands."""
    return tuple(_tiled(each, count, room, style) for each, count in hands(part))


def _whole(part: TemplatePart) -> Extent:
    window = half_window(part, part.shape)
    if window is None:
        window = reach_of(part.shape)
    return window.grown(AROUND)


def _count(length: float, room: float) -> int:
    return 1 if length <= room else math.ceil((length - OVERLAP) / (room - OVERLAP) - 1e-9)


def _tiled(part: TemplatePart, count: int, room: tuple[float, float], style: DrawingStyle) -> Tiled:
    rows, columns, lies = sheets_needed(part, room)
    whole = _whole(part)
    wide, high = (room[1], room[0]) if lies else room
    busy = [busy_along(part.shape, axis) for axis in (Axis.X, Axis.Y)]
    across = stretches(whole.left, whole.right, columns, wide, busy[0])
    up = list(reversed(stretches(whole.bottom, whole.top, rows, high, busy[1])))
    windows = {
        (row, column): Extent(across[column][0], up[row][0], across[column][1], up[row][1])
        for row in range(rows)
        for column in range(columns)
    }
    seams = tuple(_seams(windows, rows, columns))
    strips = [seam.strip for seam in seams]
    ink, surface, outside, unplaced = _template(part, count, style, strips, lies)
    corners = whole.grown(-_INSET).corners
    points = tuple(
        replace(each, tag=corner_tag(corner))
        for corner in corners
        for each in target(corner, style)
    )
    tiles = []
    for (row, column), window in windows.items():
        shown = clipped_ink((*ink, *points), window)
        joins = tuple(
            each
            for seam in seams
            if (row, column) in seam.tiles
            for each in seam_ink(seam, (row, column), surface, style)
        )
        tiles.append(Tile(row, column, window, (*shown, *joins)))
    apart = math.dist(corners[0], corners[2])
    diagonal = part.show(Fraction(round(apart * 1000), 1000))
    named = _by_sheet(unplaced, list(windows.values()), style)
    return Tiled(part, rows, columns, tuple(tiles), whole, lies, diagonal, outside, named)


def _by_sheet(
    unplaced: Sequence[Callout], windows: Sequence[Extent], style: DrawingStyle
) -> dict[int, tuple[Block, ...]]:
    """Return what found no room on the wood, in blocks for the sheet that shows it."""
    found: dict[int, list[Figure]] = {}
    for each in unplaced:
        x, y = each.feature.points_to
        at = Extent(x, y, x, y).grown(1e-6)
        shown = (number for number, window in enumerate(windows, 1) if window.meets(at))
        found.setdefault(next(shown, 1), []).append(each.figure)
    return {
        number: tuple(said_alone(tuple(run), style) for run in _in_runs(figures))
        for number, figures in found.items()
    }


def _seams(windows: dict[tuple[int, int], Extent], rows: int, columns: int) -> Iterator[Seam]:
    """Yield the seams in the order of reading, each with a letter of its own.

    Every sheet is cut at its left and its top edge and laid over its neighbours there.
    """
    number = 0
    for row in range(rows):
        for column in range(columns):
            here = windows[row, column]
            for other, beside in (((row, column + 1), True), ((row + 1, column), False)):
                if other not in windows:
                    continue
                there = windows[other]
                strip = Extent(
                    max(here.left, there.left),
                    max(here.bottom, there.bottom),
                    min(here.right, there.right),
                    min(here.top, there.top),
                )
                yield Seam(_letter(number), strip, beside, (row, column), other)
                number += 1


def _letter(number: int) -> str:
    letters = "abcdefghijkmnpqrstuvwxyz"  # no l and no o, which look like figures
    return letters[number % len(letters)] * (number // len(letters) + 1)


def _template(
    part: TemplatePart, count: int, style: DrawingStyle, strips: list[Extent], lies: bool
) -> tuple[tuple[Ink, ...], Surface, tuple[tuple[Block, ...], ...], tuple[Callout, ...]]:
    """Return the whole template with all words clear of the seams, its face, its words beside it,
    and the callouts that found no room.
    """
    shape = part.shape
    window = half_window(part, shape)
    bare, found = bare_draft(part, shape, style, window)
    kept: Draft = replace(bare, surface=bare.surface.without(*strips))
    wanted = measured_callouts(part, found, style, window, (), strips)
    draft, left_over = worded(kept, part, count, wanted, FULL, style)
    unplaced = list(left_over)
    measured = dict(distances(part, style))
    if short := {each.feature.name for each in left_over} & measured.keys():
        # A name on the wood is worth more than its distance there: that is told beside it.
        brief = measured_callouts(part, found, style, window, short, strips)
        draft, out = worded(kept, part, count, brief, FULL, style)
        unplaced = [each for each in left_over if each.feature.name in short]
        unplaced += [each for each in out if each.feature.name not in short]
    further: list[Block] = []
    if part.grain is not None and draft.loose is not None:
        further.append(loose_arrow(_as_it_lies(part.grain, lies), style))
    heights = tuple(y for strip in strips for y in _across_strip(strip.bottom, strip.top))
    places = tuple(x for strip in strips for x in _across_strip(strip.left, strip.right))
    crossed = Crossed(heights, heights, places, places)
    names = edge_names(shape, style, crossed, window)
    said = tuple((label, *further) for label in draft.outside)
    if further and not said:
        said = (tuple(further),)
    return (*draft.ink, *names), bare.surface, said, tuple(unplaced)


def _in_runs(named: Sequence[Figure]) -> Iterator[Sequence[Figure]]:
    """Yield what is said alone in blocks, so that very much of it can go on over a page."""
    for start in range(0, len(named), _ROWS):
        yield named[start : start + _ROWS]


def _as_it_lies(along: Axis, lies: bool) -> Axis:
    """Return a direction as it is on the page, whose sheets may be turned a quarter."""
    return (Axis.Y if along is Axis.X else Axis.X) if lies else along


def _across_strip(low: float, high: float) -> tuple[float, ...]:
    """Return places that keep words out of a strip that is narrow in this direction."""
    return (low, (low + high) / 2, high) if high - low <= OVERLAP + 1e-6 else ()
