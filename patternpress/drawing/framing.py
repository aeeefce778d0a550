"""Lay a picture out on a page that is as wide as its room.

In: a function that lays ink out at a scale.  Out: a `Picture` at the largest scale of a series
at which everything fits, with small signs in corners that are free.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import shapely

from patternpress.drawing.ink import Extent, Ink, extent, shifted
from patternpress.drawing.leaders import Label, shape_of
from patternpress.drawing.picturestyle import PictureStyle
from patternpress.drawing.svg import svg_page

Room = tuple[float, float]  # mm: as wide as the page, at most as high
BESIDE: Room = (64.0, 80.0)
LARGE: Room = (112.0, 72.0)  # for large letters, where nothing stands beside it
AIR = 2.0  # mm that a picture leaves of its room, at least
_EDGE = 0.6  # air at the edge of the page, mm
_TRIES = 4


@dataclass(frozen=True, eq=False)
class Picture:
    """A drawn picture; sizes in mm, `scale` as drawn to true.

    Labels, arrows, the silhouette and what else is `busy` (window, ring and tie of a detail) lie
    as they did before the page was cut round them.  `dotted`: glue faces are marked in it.
    `letters`: of pieces that it shows face on.
    """

    svg: str
    scale: float
    width: float
    height: float
    labels: tuple[Label, ...] = ()
    arrows: tuple[Any, ...] = ()
    silhouette: Any = None
    busy: tuple[Any, ...] = ()
    dotted: bool = False
    letters: tuple[str, ...] = ()


@dataclass(frozen=True, eq=False)
class Layout:
    """Ink at one scale, its labels and arrows, and the silhouette that signs must keep off.

    `busy`: what else signs must keep off.  `complete` says whether everything that should be
    named found room for its name.
    """

    inks: tuple[Ink, ...]
    silhouette: Any = None
    labels: tuple[Label, ...] = ()
    arrows: tuple[Any, ...] = ()
    complete: bool = True
    busy: tuple[Any, ...] = ()
    dotted: bool = False


# Scales are steps of a series, so that steps of like size come out alike (R20 of ISO 3).
def scale_steps(most: float) -> Iterator[float]:
    """Yield scales from the largest of the series that is not above `most`, downwards."""
    step = 0
    while 10 ** (step / 20) > most:
        step -= 1
    while 10 ** ((step + 1) / 20) <= most:
        step += 1
    for each in range(step, step - 60, -1):
        yield 10.0 ** (each / 20)


def fitted(
    laid: Callable[[float], Layout],
    bounds: tuple[float, float, float, float],
    title: str,
    style: PictureStyle,
    room: Room,
    signs: Sequence[tuple[Ink, ...]] = (),
    most: float | None = None,
) -> Picture:
    """Lay the picture out at the largest scale of the series at which it fits its room.

    `bounds`: low x, low y, high x and high y of what is drawn, at full size.
    """
    low_x, low_y, high_x, high_y = bounds
    limit = min((room[0] - AIR) / (high_x - low_x), (room[1] - AIR) / (high_y - low_y))
    found: _Laid | None = None
    for tried, scale in enumerate(scale_steps(min(limit, most or limit))):
        layout = laid(scale)
        box = extent(layout.inks).grown(_EDGE)
        if box.width > room[0] or box.height > room[1]:
            continue
        corner, page = _with_signs(layout, box, signs, room)
        if found is None or layout.complete:
            found = _Laid(scale, layout, page, corner)
        # Names that find no room get a few smaller scales to find it in.
        if (layout.complete and page.height <= room[1]) or tried > _TRIES:
            break
    assert found is not None
    inks = shifted((*found.layout.inks, *found.signs), -found.page.left, -found.page.bottom)
    size = (found.page.width, found.page.height)
    svg = svg_page(size, [inks], title, style.drawing.typeface, rounded=True)
    layout = found.layout
    return Picture(
        svg,
        found.scale,
        *size,
        layout.labels,
        layout.arrows,
        layout.silhouette,
        layout.busy,
        layout.dotted,
    )


@dataclass(frozen=True, eq=False)
class _Laid:
    """A layout that fits: its scale, its page and the signs put in."""

    scale: float
    layout: Layout
    page: Extent
    signs: tuple[Ink, ...]


def _with_signs(
    layout: Layout, box: Extent, signs: Sequence[tuple[Ink, ...]], room: Room
) -> tuple[tuple[Ink, ...], Extent]:
    """Put the signs in free corners, or in a band below; return them and the page as wide as
    the room.
    """
    spare = (room[0] - box.width) / 2
    page = Extent(box.left - spare, box.bottom, box.right + spare, box.top)
    if not signs:
        return (), page
    busy = [each.buffer(1.0) for each in (layout.silhouette, *layout.arrows, *layout.busy)]
    for label in layout.labels:
        busy += [shape_of(label.box.grown(1.0)), label.line.buffer(1.0)]
    found: list[Ink] = []
    for inks in signs:
        size = extent(inks)
        spot = _corner(size, page, busy)
        if spot is None:
            spot = (page.left, page.bottom - size.height - 1.0)
            page = Extent(page.left, spot[1], page.right, page.top)
        placed = shifted(inks, spot[0] - size.left, spot[1] - size.bottom)
        found += placed
        busy.append(shape_of(extent(placed).grown(1.0)))
    return tuple(found), page


def _corner(size: Extent, page: Extent, busy: Sequence[Any]) -> tuple[float, float] | None:
    """Return the lower left corner of a free place at the foot or the head of the page."""
    free = page.width - size.width
    for y in (page.bottom, page.top - size.height):
        for share in (0.0, 1.0, 0.15, 0.85, 0.3, 0.7, 0.5):
            x = page.left + share * free
            shape = shapely.box(x, y, x + size.width, y + size.height)
            if not any(shape.intersects(each) for each in busy):
                return x, y
    return None
