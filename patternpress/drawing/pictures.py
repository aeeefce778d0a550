"""The pictures of a step: pieces on their way, and the work when they are joined.

In: a step's scene, the view chosen for it, a title.  Out: a `Picture`: SVG of a width that the
page gives, the scale it came to, and what of it a test may ask for.  Line widths and letters
stay as they are at every scale.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

import shapely

from patternpress.assembly.solid import Vec
from patternpress.drawing.ink import Extent, Ink, Solid, Stroke, Tone, extent, shifted, straight
from patternpress.drawing.glue import glue_marks, pencil_marks
from patternpress.drawing.guides import arrow_of, guides_of
from patternpress.drawing.leaders import Label, Naming, place_labels, shape_of
from patternpress.drawing.motions import bench_way
from patternpress.drawing.orientation import sign, turned_sign
from patternpress.drawing.picturestyle import PictureStyle
from patternpress.drawing.rendering import Render, lines, render, scaled, tones, tracks_of
from patternpress.drawing.scenes import Group, StepScene
from patternpress.drawing.sight import screens_of
from patternpress.drawing.svg import svg_page
from patternpress.drawing.views import Choice, view_of

BESIDE = (64.0, 80.0)
WIDE = (137.0, 100.0)
_EDGE = 0.6  # air at the edge of the page, mm
_DOT = 0.45
UP: Vec = (0.0, 0.0, 1.0)


@dataclass(frozen=True, eq=False)
class Picture:
    """A drawn picture; sizes in mm, `scale` as drawn to true."""

    svg: str
    scale: float
    width: float
    height: float
    labels: tuple[Label, ...] = ()
    arrows: tuple[Any, ...] = ()


@dataclass(frozen=True, eq=False)
class Layout:
    """Ink at one scale, its labels and arrows, and the silhouette it stands round."""

    inks: tuple[Ink, ...]
    labels: tuple[Label, ...]
    arrows: tuple[Any, ...]
    whole: Any


# Scales are steps of a series, so that steps of like size come out alike (R20 of ISO 3).
def scale_steps(most: float) -> Iterator[float]:
    """Yield scales from the largest of the series that is not above `most`, downwards."""
    step = 0
    while 10 ** (step / 20) > most:
        step -= 1
    while 10 ** ((step + 1) / 20) <= most:
        step += 1
    for each in range(step, step - 60, -1):
        yield 10 ** (each / 20)


def step_picture(
    scene: StepScene,
    choice: Choice,
    title: str,
    style: PictureStyle,
    room: tuple[float, float] = BESIDE,
    turned: bool = False,
) -> Picture:
    """Return the action picture: the new pieces apart, with guides, arrows and letters.

    `turned`: the work lies otherwise than in the step before, and the picture says so.
    """
    view = view_of(choice.eye, scene.lies)
    drawn = render(scene.apart(), view)
    screens = screens_of(scene.apart(), view)

    def laid(scale: float) -> Layout:
        strong = {item.key for item in scene.new}
        up = bench_way(scene.lies, UP)
        inks: list[Ink] = [*tones(drawn, scale, strong, up, style)]
        inks += glue_marks(scene, drawn, scale, style)
        inks += pencil_marks(scene, drawn, scale, style)
        inks += lines(drawn, scale, strong, style)
        taken: list[Any] = []
        for group in scene.groups:
            for guide in guides_of(scene, group, view, screens, scale):
                parts = [[(x * scale, y * scale) for x, y in part] for part in guide.parts]
                inks.append(Stroke(tuple(straight(*part) for part in parts), style.guide))
                taken += [shapely.LineString(part) for part in parts]
        arrows = []
        for group in scene.groups:
            shape = arrow_of(scene, group, drawn, scale, [*taken, *arrows])
            if shape is not None:
                arrows.append(shape)
        labels = place_labels(
            list(_namings(scene, drawn, scale, style)),
            scaled(drawn.whole, scale),
            [*taken, *arrows],
            style.clear,
        )
        inks += [ink for shape in arrows for ink in _block_arrow(shape, style)]
        inks += [ink for label in labels for ink in _lettered(label, style)]
        return Layout(tuple(inks), labels, tuple(arrows), scaled(drawn.whole, scale))

    return _fitted(laid, drawn, title, style, room, _signs(scene, choice, turned, style))


def state_picture(
    scene: StepScene,
    choice: Choice,
    title: str,
    style: PictureStyle,
    room: tuple[float, float] = BESIDE,
    most: float | None = None,
) -> Picture:
    """Return the work when the step is done, at a scale of at most `most`."""
    view = view_of(choice.eye, scene.lies)
    drawn = render(scene.together(), view)
    strong = {item.key for item in scene.new}
    up = bench_way(scene.lies, UP)

    def laid(scale: float) -> Layout:
        inks = (*tones(drawn, scale, strong, up, style), *lines(drawn, scale, strong, style))
        return Layout(inks, (), (), scaled(drawn.whole, scale))

    return _fitted(laid, drawn, title, style, room, (), most)


# ------------------------------------------------------------------ names


def _namings(
    scene: StepScene, drawn: Render, scale: float, style: PictureStyle
) -> Iterator[Naming]:
    """Yield a letter for each new thing, or one for several alike, and for what lies there."""
    letters = {item.key: item.letter for item in scene.items}
    lettering = style.set_in(style.letter, weight=600)
    for key in scene.base:
        yield Naming(letters[key], lettering, scaled(drawn.region([key]), scale))
    for group in scene.groups:
        regions = [scaled(drawn.region(thing), scale) for thing in group.things]
        names = group.names if not group.letter else (group.letter,) * len(regions)
        small = style.set_in(style.label, weight=600)
        look = lettering if group.letter else small
        if len(regions) <= 2:
            yield from (Naming(n, look, r) for n, r in zip(names, regions, strict=True))
            continue
        what = group.letter or group.owner
        text = style.say("several", count=len(regions), what=what)
        yield Naming(text, look, max(regions, key=lambda each: round(each.area, 3)))


def _lettered(label: Label, style: PictureStyle) -> Iterator[Ink]:
    yield Stroke((straight(label.start, label.dot),), style.fine)
    dot = shapely.Point(label.dot).buffer(_DOT, quad_segs=4)
    yield Solid(tuple(tracks_of(dot)))
    yield label.words


def _block_arrow(shape: Any, style: PictureStyle) -> Iterator[Ink]:
    tracks = tuple(tracks_of(shape))
    yield Tone(tracks, 1.0)
    yield Stroke(tracks, style.arrow)


def _signs(
    scene: StepScene, choice: Choice, turned: bool, style: PictureStyle
) -> tuple[tuple[Ink, ...], ...]:
    found = [sign(view_of(choice.eye, scene.lies), style)]
    if turned:
        found.append(turned_sign(scene.lies, style))
    return tuple(found)


# ------------------------------------------------------------------ the page


def _fitted(
    laid: Any,
    drawn: Render,
    title: str,
    style: PictureStyle,
    room: tuple[float, float],
    signs: Sequence[tuple[Ink, ...]],
    most: float | None = None,
) -> Picture:
    """Lay the picture out at the largest scale of the series at which it fits its room."""
    low_x, low_y, high_x, high_y = drawn.whole.bounds
    limit = min(room[0] / (high_x - low_x), room[1] / (high_y - low_y))
    last: tuple[float, Layout, Extent, tuple[Ink, ...]] | None = None
    for scale in scale_steps(min(limit, most or limit)):
        layout = laid(scale)
        box = extent(layout.inks).grown(_EDGE)
        if box.width > room[0] or box.height > room[1]:
            continue
        corner, whole = _with_signs(layout, box, signs, room)
        last = (scale, layout, whole, corner)
        if whole.height <= room[1]:
            break
    assert last is not None
    scale, layout, box, corner = last
    inks = shifted((*layout.inks, *corner), -box.left, -box.bottom)
    size = (box.width, box.height)
    svg = svg_page(size, [inks], title, style.drawing.typeface, rounded=True)
    return Picture(svg, scale, *size, layout.labels, layout.arrows)


def _with_signs(
    layout: Layout, box: Extent, signs: Sequence[tuple[Ink, ...]], room: tuple[float, float]
) -> tuple[tuple[Ink, ...], Extent]:
    """Put the signs in free corners, or in a band below; return them and the page as wide as
    the room.
    """
    spare = (room[0] - box.width) / 2
    page = Extent(box.left - spare, box.bottom, box.right + spare, box.top)
    busy = [layout.whole.buffer(1.0), *(each.buffer(1.0) for each in layout.arrows)]
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
    across = (page.left, page.right - size.width)
    up = (page.bottom, page.top - size.height)
    for y in up:
        for x in across:
            shape = shapely.box(x, y, x + size.width, y + size.height)
            if not any(shape.intersects(each) for each in busy):
                return x, y
    return None


__all__ = ["BESIDE", "WIDE", "Group", "Picture", "state_picture", "step_picture"]
