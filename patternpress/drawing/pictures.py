"""The pictures of a step: pieces on their way, and the work when they are joined.

In: a step's scene, the view chosen for it, a title.  Out: a `Picture`: SVG of a width that the
page gives, the scale it came to, and what of it a test may ask for.  Line widths and letters
stay as they are at every scale.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import shapely

from patternpress.assembly.lying import bench_way
from patternpress.assembly.solid import Vec
from patternpress.drawing.framing import BESIDE, Layout, Picture, Room, fitted
from patternpress.drawing.glue import glue_marks, pencil_marks
from patternpress.drawing.guides import arrow_of, guides_of
from patternpress.drawing.ink import Ink, Solid, Stroke, Tone, straight
from patternpress.drawing.leaders import Label, Naming, place_labels
from patternpress.drawing.orientation import sign, turned_sign
from patternpress.drawing.picturestyle import PictureStyle
from patternpress.drawing.rendering import Render, lines, render, scaled, tones, tracks_of
from patternpress.drawing.scenes import StepScene
from patternpress.drawing.sight import screens_of
from patternpress.drawing.views import Choice, view_of

_DOT = 0.45
UP: Vec = (0.0, 0.0, 1.0)


def step_picture(
    scene: StepScene,
    choice: Choice,
    title: str,
    style: PictureStyle,
    room: Room = BESIDE,
    turned: bool = False,
) -> Picture:
    """Return the action picture: the new pieces apart, with guides, arrows and letters.

    `turned`: the work lies otherwise than in the step before, and the picture says so.
    """
    drawn = choice.drawn
    view = drawn.view
    screens = screens_of(drawn.scene, view)

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
        arrows: list[Any] = []
        for group in scene.groups:
            shape = arrow_of(scene, group, drawn, screens, scale, [*taken, *arrows])
            if shape is not None:
                arrows.append(shape)
        names = list(_namings(scene, drawn, scale, style))
        whole = scaled(drawn.whole, scale)
        labels = place_labels(names, whole, [*taken, *arrows], style.clear, room[0])
        inks += [ink for shape in arrows for ink in _block_arrow(shape, style)]
        inks += [ink for label in labels for ink in lettered(label, style)]
        return Layout(
            tuple(inks),
            scaled(drawn.whole, scale),
            labels,
            tuple(arrows),
            len(labels) == len(names),
        )

    return fitted(laid, drawn.bounds, title, style, room, _signs(scene, choice, turned, style))


def state_picture(
    scene: StepScene,
    choice: Choice,
    title: str,
    style: PictureStyle,
    room: Room = BESIDE,
    most: float | None = None,
) -> Picture:
    """Return the work when the step is done, at a scale of at most `most`."""
    view = view_of(choice.eye, scene.lies)
    drawn = render(scene.together(), view)
    strong = {item.key for item in scene.new}
    up = bench_way(scene.lies, UP)

    def laid(scale: float) -> Layout:
        inks = (*tones(drawn, scale, strong, up, style), *lines(drawn, scale, strong, style))
        return Layout(inks)

    return fitted(laid, drawn.bounds, title, style, room, (), most)


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


def lettered(label: Label, style: PictureStyle) -> Iterator[Ink]:
    """Yield a leader, its dot and its words."""
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
    found = [sign(view_of(choice.eye, scene.lies), scene.lies == "upright", style)]
    if turned:
        found.append(turned_sign(scene.lies, style))
    return tuple(found)
