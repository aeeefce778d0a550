"""A detail drawn beside a step's picture: a round window, and a ring where it belongs.

In: a `Detail`, and what the picture has already at its scale, mm.  Out: an `Inset`: ink, and the
shapes that letters and signs must keep off.  Lines and arrows are as wide as in the picture.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import product
from typing import Any

import numpy as np
import shapely

from patternpress.assembly.lying import bench_way
from patternpress.assembly.solid import Vec
from patternpress.drawing.details import RADIUS, Detail
from patternpress.drawing.glue import glue_marks, pencil_marks
from patternpress.drawing.guides import arrow_of, guides_of
from patternpress.drawing.ink import (
    Anchor,
    Ink,
    Place,
    Stroke,
    Tone,
    Track,
    Words,
    shifted,
    straight,
)
from patternpress.drawing.lettering import figure_width
from patternpress.drawing.lettering import words as as_figure
from patternpress.drawing.picturestyle import PictureStyle
from patternpress.drawing.rendering import lines, tones, tracks_of

UP: Vec = (0.0, 0.0, 1.0)
_APART = 2.0  # mm between a detail and the picture
_UNDER = 1.2  # mm from a window to the words under it
NESTED = 1.25  # a window may reach into a corner that the picture leaves free
_LEAST = 2.2  # the radius of the ring in the picture
_MOST = 4.5  # and at most where it only tells a place
_TURNS = 48
_STEP = 1.0
_FARTHEST = 90.0
_CORNERS = 64  # of a circle that clips


@dataclass(frozen=True, eq=False)
class Inset:
    """A detail in its place: its ink, and the shapes of window, ring and words."""

    inks: tuple[Ink, ...]
    window: Any
    taken: tuple[Any, ...]


def inset(
    detail: Detail,
    content: Sequence[Ink],
    main: tuple[str, float],
    whole: Any,
    taken: Sequence[Any],
    style: PictureStyle,
    wide: float,
) -> Inset:
    """Return a detail beside the silhouette `whole`, where the picture grows least.

    `content`: what `window_ink` made of it; `main`: the picture's eye and scale; `taken`: what a
    window may not lie on; `wide`: the width that the whole may take.
    """
    eye, scale = main
    at = (detail.place[0] * scale, detail.place[1] * scale)
    ring = max(_LEAST, detail.radius * scale)
    # A hidden face is not to be seen in the picture, so there is nothing there to ring about.
    ring = min(ring, _MOST) if detail.shares else ring
    words = "" if detail.eye == eye else style.say(f"detail {_told(eye, detail.eye)}")
    lettering = style.set_in(style.label, italic=True)
    figure = as_figure(words)
    half = figure_width(figure, lettering) / 2 if words else 0.0
    middle = _spot(at, shapely.union_all([whole, *taken]), wide, (half, style.label))
    window = shapely.Point(middle).buffer(RADIUS, quad_segs=_CORNERS // 4)
    mark = shapely.Point(at).buffer(ring, quad_segs=16)
    tie = _tie(at, ring, middle)
    inks: list[Ink] = [
        Stroke((*tracks_of(mark), straight(*tie.coords)), style.fine),
        Tone(tuple(tracks_of(window)), 1.0),
        *shifted(content, *middle),
        Stroke(tuple(tracks_of(window)), style.frame),
    ]
    shapes = [window, mark.exterior, tie]
    if words:
        low = middle[1] - RADIUS - style.label - _UNDER
        inks.append(Words(figure, (middle[0], low), lettering, Anchor.MIDDLE))
        shapes.append(shapely.box(middle[0] - half, low, middle[0] + half, low + style.label))
    return Inset(tuple(inks), window, tuple(shapes))


def largest_beside(bounds: tuple[float, float, float, float], room: tuple[float, float]) -> float:
    """Return about the largest scale at which a picture may have a window beside or over it."""
    wide, high = bounds[2] - bounds[0], bounds[3] - bounds[1]
    window = 2 * RADIUS + _APART
    beside = min((room[0] - window) / wide, room[1] / high)
    over = min(room[0] / wide, (room[1] - window) / high)
    return max(beside, over) * NESTED


def _told(eye: str, other: str) -> str:
    """Return the word for where a detail is seen from that the picture is not."""
    for word in ("below", "back", "front", "high", "left", "right"):
        if word in other and word not in eye:
            return word
    return "otherwise"


def _spot(at: Place, busy: Any, wide: float, words: tuple[float, float]) -> Place:
    """Return the middle of a window beside the picture, as near to its place as can be.

    `words`: half the length and the height of what stands under it; no length, no words.
    """
    turns, away = np.arange(_TURNS) * (2 * math.pi / _TURNS), np.arange(RADIUS, _FARTHEST, _STEP)
    pairs = np.array(list(product(turns.tolist(), away.tolist())))
    places = np.column_stack(
        (at[0] + pairs[:, 1] * np.cos(pairs[:, 0]), at[1] + pairs[:, 1] * np.sin(pairs[:, 0]))
    )
    shapely.prepare(busy)
    free = ~shapely.dwithin(busy, shapely.points(places), RADIUS + _APART)
    low_x, low_y, high_x, high_y = busy.bounds
    x, y = places[:, 0], places[:, 1]
    half, tall = words
    if half:
        top = y - RADIUS - _UNDER
        free &= ~shapely.intersects(busy, shapely.box(x - half, top - tall, x + half, top))
    width = np.maximum(high_x, x + RADIUS) - np.minimum(low_x, x - RADIUS)
    height = np.maximum(high_y, y + RADIUS) - np.minimum(low_y, y - RADIUS)
    grown = width * height - (high_x - low_x) * (high_y - low_y)
    over = np.maximum(0.0, width - wide)
    cost = np.where(free, 100 * over + 0.02 * grown + pairs[:, 1], np.inf)
    best = int(np.argmin(np.round(cost, 3)))
    return float(x[best]), float(y[best])


def _tie(at: Place, ring: float, middle: Place) -> Any:
    """Return the line from the ring to the window."""
    long = math.dist(at, middle)
    x, y = (middle[0] - at[0]) / long, (middle[1] - at[1]) / long
    start = (at[0] + x * ring, at[1] + y * ring)
    return shapely.LineString([start, (middle[0] - x * RADIUS, middle[1] - y * RADIUS)])


# ------------------------------------------------------------------ what is in the window


def window_ink(detail: Detail, style: PictureStyle) -> tuple[Ink, ...]:
    """Return what the window shows, clipped by it, with its middle in the origin."""
    scene, drawn, scale = detail.scene, detail.drawn, detail.scale
    x, y = detail.middle[0] * scale, detail.middle[1] * scale
    round_off = shapely.Point(x, y).buffer(RADIUS, quad_segs=_CORNERS // 4)
    strong = {item.key for item in scene.new}
    up = bench_way(scene.lies, UP)
    inks: list[Ink] = [*tones(drawn, scale, strong, up, style, round_off)]
    rest: list[Ink] = [
        *glue_marks(scene, drawn, scale, style),
        *pencil_marks(scene, drawn, scale, style),
        *lines(drawn, scale, strong, style),
    ]
    screens = drawn.screens
    guides: list[Any] = []
    for group in scene.groups:
        for guide in guides_of(scene, group, drawn.view, screens, scale):
            parts = [[(x * scale, y * scale) for x, y in part] for part in guide.parts]
            rest.append(Stroke(tuple(straight(*part) for part in parts), style.guide))
            guides += [shapely.LineString(part) for part in parts]
    inks += _clipped(rest, round_off)
    for group in scene.groups:
        arrow = arrow_of(scene, group, drawn, screens, scale, guides, round_off)
        if arrow is not None:
            tracks = tuple(tracks_of(arrow))
            inks += [Tone(tracks, 1.0), Stroke(tracks, style.arrow)]
    return shifted(inks, -x, -y)


def _clipped(inks: Iterable[Ink], window: Any) -> Iterator[Ink]:
    """Yield the strokes within a window."""
    for ink in inks:
        if isinstance(ink, Stroke):
            tracks = tuple(_inside(ink.tracks, window))
            if tracks:
                yield Stroke(tracks, ink.pen)


def _inside(tracks: Iterable[Track], window: Any) -> Iterator[Track]:
    runs = [[t.start, *((piece.x, piece.y) for piece in t.pieces)] for t in tracks]
    whole = shapely.intersection([shapely.LineString(run) for run in runs], window)
    for part in shapely.get_parts(whole):
        if part.geom_type == "LineString" and not part.is_empty:
            yield straight(*((x, y) for x, y in part.coords))
