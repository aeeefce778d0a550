"""Three views of the finished piece with its overall sizes.

In: keyed solids, the exact sizes as figures.  Out: a `Picture` in first-angle arrangement: the
view from the left stands to the right of the front, the view from above under it (ISO 5456-2);
each size is given once (ISO 129-1), and the scale is one of ISO 5455.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import shapely

from patternpress.drawing.dimensions import across, upwards
from patternpress.drawing.flatscene import Scene
from patternpress.drawing.framing import Picture, Room
from patternpress.drawing.ink import Anchor, Ink, Stroke, Words, extent, shifted, straight
from patternpress.drawing.lettering import words as as_figure
from patternpress.drawing.lines import round_a_ring
from patternpress.drawing.picturestyle import PictureStyle
from patternpress.drawing.projection import FACES
from patternpress.drawing.rendering import Render, lines, render, scaled
from patternpress.drawing.svg import svg_page
from patternpress.measure.pieces import Figure

VIEWS: Room = (170.0, 157.0)
# ISO 5455:1979, largest first, as paper to true.
SCALES = ((2, 1), (1, 1), (1, 2), (1, 5), (1, 10), (1, 20), (1, 50), (1, 100))
_APART = 9.0  # mm between views
_HIDDEN = 0.04  # of a piece: what shows less is drawn dashed
_BESIDE = 0.3  # mm: what lies so near to a line that is seen is left out
_CROSSING = 4 * _BESIDE  # mm: what is longer runs along a line, not across it
_SHORTEST = 1.2  # mm of a dashed line worth drawing
_RING = 3.0  # mm round a circle worth drawing: smaller ones are specks
_NAME = 2.2  # mm from a view up to its name


def three_views(
    scene: Scene,
    sizes: tuple[Figure, Figure, Figure],
    title: str,
    style: PictureStyle,
    room: Room = VIEWS,
) -> Picture:
    """Return front, left and plan at the largest scale of the standard that fits the room.

    `sizes`: width, depth and height as they are to be read.
    """
    drawn = [_Seen(render(scene, FACES[face])) for face in ("front", "left", "top")]
    (wide, high), (deep, _) = (_size(each.drawn) for each in drawn[:2])
    least = (wide + deep, high + deep)  # of paper that the views take by themselves
    for above, below in SCALES:
        too_large = any(e * above > r * below for e, r in zip(least, room, strict=True))
        if too_large and (above, below) != SCALES[-1]:
            continue
        inks = _laid(drawn, sizes, above / below, f"{above}:{below}", style)
        box = extent(inks).grown(0.5)
        if box.width <= room[0] and box.height <= room[1]:
            break
    inks = shifted(inks, -box.left, -box.bottom)
    size = (max(box.width, 0.0), box.height)
    svg = svg_page(size, [inks], title, style.drawing.typeface, rounded=True)
    return Picture(svg, above / below, *size)


def _size(drawn: Render) -> tuple[float, float]:
    low_x, low_y, high_x, high_y = drawn.bounds
    return high_x - low_x, high_y - low_y


@dataclass(frozen=True, eq=False)
class _Seen:
    """One view, and what is the same of it at every scale: outlines of what hides, seen lines."""

    drawn: Render

    @cached_property
    def hidden(self) -> tuple[Any, ...]:
        """The outlines of pieces of which the view shows nearly nothing, then those of holes."""
        outer, inner = [], []
        for key, _ in self.drawn.scene:
            whole = self.drawn.outline([key])
            if self.drawn.areas.get(key, 0.0) < _HIDDEN * whole.area:
                for part in shapely.get_parts(whole):
                    outer.append(part.exterior)
                    inner += part.interiors
        return (*outer, *inner)

    @cached_property
    def lines(self) -> Any:
        """All lines that are seen."""
        return shapely.union_all([shapely.LineString(each.points) for each in self.drawn.strokes])


def _unseen(view: _Seen, scale: float, style: PictureStyle) -> Iterator[Ink]:
    """Yield dashed outlines of pieces of which a view shows nearly nothing, each line once.

    One outline after the other is taken whole: what lies beside a line that is drawn already is
    left out.  A hole and the peg in it are not quite the same polygon, so they may cross at each
    corner, and together they would fall to pieces.
    """
    if not view.hidden:
        return
    taken = shapely.buffer(scaled(view.lines, scale), _BESIDE)
    for ring in view.hidden:
        parts = _off(scaled(ring, scale), taken)
        kept = [each for each in parts if each.length > (_RING if each.is_closed else _SHORTEST)]
        for each in kept:
            pen = round_a_ring(style.hidden, each.length) if each.is_closed else style.hidden
            yield Stroke((straight(*each.coords),), pen)
        if kept:
            taken = shapely.union(taken, shapely.buffer(shapely.union_all(kept), _BESIDE))


def _off(ring: Any, taken: Any) -> list[Any]:
    """Return the stretches of a ring that do not run beside what is drawn; it may cross it."""
    beside = shapely.get_parts(_merged(shapely.intersection(ring, taken)))
    along = shapely.union_all([each for each in beside if each.length > _CROSSING])
    # So that a circle is cut open where it was drawn, not where it happens to begin.
    rest = _merged(shapely.difference(shapely.LineString(ring.coords), along))
    return [each for each in shapely.get_parts(rest).tolist() if each.length]


def _merged(lines: Any) -> Any:
    """Return lines that meet end to end as one."""
    return shapely.line_merge(lines) if lines.geom_type == "MultiLineString" else lines


def _laid(
    drawn: Sequence[_Seen],
    sizes: tuple[Figure, Figure, Figure],
    scale: float,
    said: str,
    style: PictureStyle,
) -> tuple[Ink, ...]:
    front, left, plan = drawn
    look = style.plain_lines()
    low = [each.drawn.bounds for each in drawn]
    wide, high = ((low[0][i + 2] - low[0][i]) * scale for i in (0, 1))
    deep = (low[1][2] - low[1][0]) * scale
    name = style.label + _NAME + 1.5
    # The front's lower left corner is the origin.
    places = ((0.0, 0.0), (wide + _APART, 0.0), (0.0, -_APART - name - deep))
    names = ("view front", "view left", "view top")
    inks: list[Ink] = []
    for each, (x, y), box, key in zip((front, left, plan), places, low, names, strict=True):
        seen = [*lines(each.drawn, scale, (), look), *_unseen(each, scale, style)]
        inks += shifted(seen, x - box[0] * scale, y - box[1] * scale)
        top = y + (box[3] - box[1]) * scale
        lettering = style.set_in(style.label, italic=True)
        middle = x + (box[2] - box[0]) * scale / 2
        figure = as_figure(style.say(key))
        inks.append(Words(figure, (middle, top + _NAME), lettering, Anchor.MIDDLE))
    bottom = places[2][1]
    inks += upwards((0.0, high), 0.0, sizes[2], style.drawing)
    inks += upwards((bottom, bottom + deep), 0.0, sizes[1], style.drawing)
    inks += across((0.0, wide), bottom, sizes[0], style.drawing)
    words = as_figure(style.say("scale", scale=said))
    at = (wide + _APART, bottom)
    inks.append(Words(words, at, style.set_in(style.label)))
    return tuple(inks)
