"""The pictures of a step: pieces on their way, and the work when they are joined.

In: a step's scene, the view chosen for it, a title.  Out: a `Picture`: SVG of a width that the
page gives, the scale it came to, and what of it a test may ask for.  Line widths and letters
stay as they are at every scale.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import shapely

from patternpress.assembly.lying import bench_way
from patternpress.assembly.moving import Motion
from patternpress.assembly.solid import Vec, dot
from patternpress.drawing.details import Detail
from patternpress.drawing.fittingsigns import SMALLER, Sign, sign_of, signs_apart
from patternpress.drawing.framing import BESIDE, Layout, Picture, Room, fitted
from patternpress.drawing.glue import glue_marks, pencil_marks
from patternpress.drawing.groups import STILL
from patternpress.drawing.guides import arrow_of, guides_of
from patternpress.drawing.ink import Ink, Solid, Stroke, Tone, straight
from patternpress.drawing.insets import inset, largest_beside, window_ink
from patternpress.drawing.labelplaces import Naming
from patternpress.drawing.leaders import Label, place_labels
from patternpress.drawing.lines import round_a_ring
from patternpress.drawing.orientation import sign, turned_sign
from patternpress.drawing.picturestyle import PictureStyle
from patternpress.drawing.rendering import (
    Render,
    lines,
    render,
    scaled,
    tones,
    tracks_of,
)
from patternpress.drawing.scenes import StepScene
from patternpress.drawing.sight import Screens
from patternpress.drawing.things import opened_scene
from patternpress.drawing.views import Choice, view_of

_DOT = 0.45
_THIN = 1.0  # mm on the paper: the least width of what is drawn dashed
_UNSEEN = 0.12  # of a piece's silhouette: what shows less is drawn dashed when it is in place
UP: Vec = (0.0, 0.0, 1.0)


@dataclass(frozen=True, eq=False)
class Staged:
    """How a step is shown: from where, with what detail, and how it looked in the steps before.

    `turned`: the work lies otherwise than in the step before, and the picture says so; `detail`:
    what is shown larger, or from elsewhere, in a window of its own; `most`: the scale of the steps
    before, which this one keeps if its letters find room.
    """

    choice: Choice
    turned: bool = False
    detail: Detail | None = None
    most: float | None = None


def step_picture(shown: Staged, title: str, style: PictureStyle, room: Room = BESIDE) -> Picture:
    """Return the action picture: the new pieces apart, with guides, arrows and letters."""
    choice, detail = shown.choice, shown.detail
    scene = choice.scene
    fixed = _Fixed(
        scene,
        choice,
        choice.drawn.screens,
        style,
        room,
        detail,
        window_ink(detail, style) if detail else (),
    )
    signs = _signs(scene, choice, shown.turned, style)
    bounds = choice.drawn.bounds
    limits = [shown.most] if shown.most is not None else []
    limits += [largest_beside(bounds, room)] if detail else []
    return fitted(
        lambda scale: _laid(fixed, scale),
        bounds,
        title,
        style,
        room,
        signs,
        min(limits, default=None),
    )


@dataclass(frozen=True, eq=False)
class _Fixed:
    """What is the same for a picture at every scale."""

    scene: StepScene
    choice: Choice
    screens: Screens
    style: PictureStyle
    room: Room
    detail: Detail | None
    content: tuple[Ink, ...]


def _laid(fixed: _Fixed, scale: float) -> Layout:
    """Return an action picture at a scale: pieces, guides, signs, arrows, detail, letters."""
    scene, drawn, style = fixed.scene, fixed.choice.drawn, fixed.style
    inks = [*_pieces(scene, drawn, scale, style)]
    dotted = any(isinstance(ink, Stroke) and ink.pen == style.glue for ink in inks)
    taken: list[Any] = []
    for group in scene.groups:
        for guide in guides_of(scene, group, drawn.view, fixed.screens, scale):
            parts = [[(x * scale, y * scale) for x, y in part] for part in guide.parts]
            inks.append(Stroke(tuple(straight(*part) for part in parts), style.guide))
            taken += [shapely.LineString(part) for part in parts]
    hung = [(each, scene.shift_of(each.on)) for each in scene.fittings]
    signs = signs_apart(hung, drawn, scale, style, fixed.screens)
    inks += [ink for each in signs for ink in each.inks]
    taken += [each.guide for each in signs]
    heads = [each.head for each in signs]
    counts = Counter(each.owner for each in scene.fittings)
    arrows: list[Any] = []
    for group in scene.groups:
        busy = [*taken, *heads, *arrows]
        shape = arrow_of(scene, group, drawn, fixed.screens, scale, busy)
        if shape is not None:
            arrows.append(shape)
            inks += _block_arrow(shape, style)
    taken += arrows
    whole, beside = scaled(drawn.whole, scale), ()
    if fixed.detail is not None:
        main, keep = (fixed.choice.eye, scale), [*taken, *heads]
        put = inset(fixed.detail, fixed.content, main, whole, keep, style, fixed.room[0] - 2)
        inks += put.inks
        beside = put.taken
        whole = shapely.union_all([whole, put.window])
    whole = shapely.union_all([whole, *heads]) if heads else whole
    names = [*_namings(scene, drawn, scale, style), *fitting_namings(signs, style, counts)]
    wide, ruled = fixed.room[0], ruled_lines(inks)
    labels = place_labels(names, whole, [*taken, *beside], style.clear, wide, ruled)
    inks += [ink for label in labels for ink in lettered(label, style)]
    complete = len(labels) == len(names)
    return Layout(tuple(inks), whole, labels, tuple(arrows), complete, tuple(beside), dotted)


def ruled_lines(inks: Iterable[Ink]) -> list[Any]:
    """Return all strokes of ink as lines."""
    runs = [
        [t.start, *((p.x, p.y) for p in t.pieces)]
        for ink in inks
        if isinstance(ink, Stroke)
        for t in ink.tracks
    ]
    return [shapely.LineString(run) for run in runs]


def _pieces(scene: StepScene, drawn: Render, scale: float, style: PictureStyle) -> Iterator[Ink]:
    """Yield the pieces, their glue faces and their pencil lines."""
    strong = {item.key for item in scene.new}
    yield from tones(drawn, scale, strong, bench_way(scene.lies, UP), style)
    yield from glue_marks(scene, drawn, scale, style)
    yield from pencil_marks(scene, drawn, scale, style)
    yield from lines(drawn, scale, strong, style)


def state_picture(
    scene: StepScene,
    choice: Choice,
    title: str,
    style: PictureStyle,
    room: Room = BESIDE,
    most: float | None = None,
    motions: Sequence[Motion] = (),
) -> Picture:
    """Return the work when the step is done, at a scale of at most `most`; what opens is open."""
    view = view_of(choice.eye, scene.lies)
    drawn = render(opened_scene(scene.items, motions), view)
    gone = {key for each in motions for key in each.keys}
    strong = dict.fromkeys(item.key for item in scene.new)
    up = bench_way(scene.lies, UP)
    things = [thing for group in scene.groups for thing in group.things]
    unseen = [shape for each in things if (shape := _unseen(drawn, each)) is not None]

    def laid(scale: float) -> Layout:
        inks = [*tones(drawn, scale, strong, up, style), *lines(drawn, scale, strong, style)]
        inks += _dashed([scaled(each, scale) for each in unseen], style)
        for fitting in scene.fittings:
            if fitting.on not in gone and dot(fitting.way, view.toward) > 0:
                inks += sign_of(fitting, STILL, view, scale, style, 0.0, SMALLER).inks
        return Layout(tuple(inks))

    return fitted(laid, drawn.bounds, title, style, room, (), most)


def _unseen(drawn: Render, thing: Sequence[str]) -> Any | None:
    """Return the outline of a thing of which nearly nothing is seen; None for others."""
    whole = drawn.outline(thing)
    seen = sum(drawn.areas.get(key, 0.0) for key in thing)
    return whole if seen < _UNSEEN * whole.area else None


def _dashed(unseen: Sequence[Any], style: PictureStyle) -> Iterator[Ink]:
    """Yield outlines of what is not seen; of what is so thin that both its sides fall together
    there is nothing to see.
    """
    for part in shapely.get_parts(unseen).tolist():
        for ring in (part.exterior, *part.interiors):
            within = shapely.Polygon(ring)
            if not within.buffer(-_THIN / 2).is_empty:
                pen = round_a_ring(style.unseen, ring.length)
                yield Stroke(tuple(tracks_of(within)), pen)


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
        printed = tuple(map(scene.printed, group.names))
        names = printed if not group.letter else (group.letter,) * len(regions)
        small = style.set_in(style.label, weight=600)
        look = lettering if group.letter else small
        if len(regions) <= 2:
            yield from (Naming(n, look, r) for n, r in zip(names, regions, strict=True))
            continue
        what = group.letter or scene.printed(group.owner)
        text = style.say("several", count=len(regions), what=what)
        largest, *alike = sorted(regions, key=lambda each: -round(each.area, 3))
        yield Naming(text, look, largest, alike=tuple(alike))


def fitting_namings(
    signs: Sequence[Sign], style: PictureStyle, counts: Mapping[str, int]
) -> Iterator[Naming]:
    """Yield a letter for each kind of fitting, with how many there are."""
    kinds: dict[str, list[Sign]] = {}
    for sign_put in signs:
        kinds.setdefault(sign_put.fitting.owner, []).append(sign_put)
    for owner, alike in kinds.items():
        text = alike[0].fitting.letter
        if counts[owner] > 1:
            text = style.say("several", count=counts[owner], what=text)
        heads = [each.head for each in alike]
        spots = tuple((each.centroid.x, each.centroid.y) for each in heads)
        lettering = style.set_in(style.letter, weight=600)
        yield Naming(text, lettering, shapely.union_all(heads), spots)


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
