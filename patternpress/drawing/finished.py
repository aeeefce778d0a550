"""Pictures of the finished piece: for the cover, and all apart for the parts page.

In: a `Model`, its step scenes and solids.  Out: `Picture`s.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

import shapely

from patternpress.assembly.model import Model
from patternpress.assembly.moving import motions_in
from patternpress.assembly.solid import Vec, centre, volume
from patternpress.drawing.exploded import exploded
from patternpress.drawing.fittings import Fitting, in_the_finished
from patternpress.drawing.fittingsigns import one_of_each, signs_apart
from patternpress.drawing.flatscene import Scene
from patternpress.drawing.framing import Layout, Picture, Room, fitted
from patternpress.drawing.ink import Ink, Stroke, Tone
from patternpress.drawing.labelplaces import Naming
from patternpress.drawing.leaders import place_labels
from patternpress.drawing.pictures import UP, fitting_namings, lettered, ruled_lines
from patternpress.drawing.picturestyle import PictureStyle
from patternpress.drawing.projection import View, project
from patternpress.drawing.rendering import (
    Render,
    lines,
    render,
    scaled,
    tones,
    tracks_of,
)
from patternpress.drawing.scenes import StepScene
from patternpress.drawing.things import Bulks, Item, items_of, opened_scene, shifted, span_of
from patternpress.drawing.views import view_of

COVER: Room = (137.0, 106.0)
PARTS: Room = (137.0, 150.0)
_EYES = ("front right above", "front left above")
_OUT = 0.45  # how far a sliding sub-assembly stands out, as a share of its length
_SHADOW = (0.24, 0.16)  # how a shadow runs along the ground, for each mm of height
_SLIT = 0.005  # mm
_ASIDE = 0.25  # pieces that show less of themselves when apart are pulled further apart


def finished_items(model: Model, bulks: Bulks) -> tuple[Item, ...]:
    """Return the pieces of the finished work."""
    return items_of(model, bulks, model.assembly.placed)


def best_eye(scene: Scene) -> tuple[str, Render]:
    """Return the eye that sees most of the pieces, the usual one where equal, and what it sees."""
    tries = [(eye, render(scene, view_of(eye, "upright"))) for eye in _EYES]

    def seen(drawn: Render) -> int:
        least = 0.02 * sum(drawn.areas.values())
        return sum(area > least for area in drawn.areas.values())

    return max(tries, key=lambda tried: seen(tried[1]))


# ------------------------------------------------------------------ the cover


def cover_scene(model: Model, scenes: Sequence[StepScene], bulks: Bulks) -> Scene:
    """Return the finished piece with what opens opened as the author said; where nothing is said
    of it, with the first of what slides half out.
    """
    items = finished_items(model, bulks)
    motions = motions_in(model.worked, model.assembly)
    if motions:
        return opened_scene(items, motions)
    shifts = _half_out(model, scenes)
    return [
        (item.key, shifted(item.bulk, shifts.get(item.key, (0.0, 0.0, 0.0))).solid)
        for item in items
    ]


def _half_out(model: Model, scenes: Sequence[StepScene]) -> Mapping[str, Vec]:
    sliding = {
        each.name.value
        for each in model.worked.book.sub_assemblies
        if each.moves and each.moves.value == "slides"
    }
    shifts: dict[str, Vec] = {}
    for scene in scenes:
        items = {item.key: item for item in scene.items}
        for group in scene.groups:
            if group.owner in sliding and not scene.work:
                thing = group.things[-1]
                low, high = span_of(items[key] for key in thing)
                way = group.motion.way
                long = sum(abs(w) * (b - a) for w, a, b in zip(way, low, high, strict=True))
                x, y, z = (_OUT * long * w for w in way)
                shifts |= dict.fromkeys(thing, (x, y, z))
    return shifts


def cover_picture(drawn: Render, title: str, style: PictureStyle, room: Room = COVER) -> Picture:
    """Return the finished piece, with a strong outline and, if it stands, a shadow."""
    scene = drawn.scene
    shadow = _shadow(scene, drawn.view) if _stands(scene) else shapely.Polygon()
    around = shapely.union_all([drawn.whole, shadow])
    # Slits of no width between facets are no part of the outline.
    rim = shapely.buffer(drawn.whole, _SLIT, join_style="mitre")
    rim = shapely.buffer(rim, -_SLIT, join_style="mitre")

    def laid(scale: float) -> Layout:
        inks: list[Ink] = []
        if not shadow.is_empty:
            inks.append(Tone(tuple(tracks_of(scaled(shadow, scale))), style.shadow))
        whole = scaled(drawn.whole, scale)
        inks.append(Tone(tuple(tracks_of(whole)), 1.0))
        inks += tones(drawn, scale, drawn.areas, UP, style)
        inks += lines(drawn, scale, (), style.plain_lines())
        inks.append(Stroke(tuple(tracks_of(scaled(rim, scale))), style.outline))
        return Layout(tuple(inks), scaled(around, scale))

    return fitted(laid, around.bounds, title, style, room)


def _shadow(scene: Scene, view: View) -> Any:
    """Return the shadow on the ground, as seen on the paper."""
    ground = min(point[2] for _, solid in scene for point in solid.points)
    east, north = _SHADOW
    parts = []
    for _, solid in scene:
        cast = [
            project(view, (x + east * (z - ground), y + north * (z - ground), ground))
            for x, y, z in solid.points
        ]
        parts += [
            shapely.Polygon([cast[n] for n in facet.loops[0]], _holes(facet.loops[1:], cast))
            for facet in solid.facets
        ]
    return shapely.union_all([each.buffer(1e-6) for each in parts if each.area > 1e-9])


def _holes(loops: Sequence[tuple[int, ...]], cast: Sequence[tuple[float, float]]) -> list[Any]:
    return [[cast[n] for n in loop] for loop in loops]


def _stands(scene: Scene) -> bool:
    """Say whether the weight of the piece, all of one wood, lies over what it stands on."""
    ground = min(point[2] for _, solid in scene for point in solid.points)
    foot = [p[:2] for _, solid in scene for p in solid.points if p[2] < ground + 1e-6]
    weights = [(volume(solid), centre(solid)) for _, solid in scene]
    total = sum(each for each, _ in weights)
    x, y = (sum(w * at[axis] for w, at in weights) / total for axis in (0, 1))
    return bool(shapely.MultiPoint(foot).convex_hull.buffer(-1e-6).contains(shapely.Point(x, y)))


# ------------------------------------------------------------------ all apart


def exploded_scene(model: Model, scenes: Sequence[StepScene], bulks: Bulks, eye: str) -> Render:
    """Return all pieces apart, as far as it takes for most of them to show, seen by an eye."""
    items = finished_items(model, bulks)
    view = view_of(eye, "upright")
    found = Render((), view)
    for share in (0.1, 0.17):
        shifts = exploded(model, scenes, share)
        scene = [
            (each.key, shifted(each.bulk, shifts.get(each.key, (0.0, 0.0, 0.0))).solid)
            for each in items
        ]
        found = render(scene, view)
        if _all_shown(found):
            break
    return found


def _all_shown(drawn: Render) -> bool:
    """Say whether every piece shows enough of itself."""
    seen = drawn.areas
    return all(seen.get(key, 0.0) >= _ASIDE * drawn.outline([key]).area for key, _ in drawn.scene)


def fittings_apart(
    model: Model, scenes: Sequence[StepScene], bulks: Bulks, drawn: Render
) -> tuple[tuple[Fitting, Vec], ...]:
    """Return the fittings of the finished work, each with the shift of what bears it."""
    told = ((scene.work, each) for scene in scenes for each in scene.fittings)
    still = {item.key: item.solid.points[0] for item in finished_items(model, bulks)}
    there = {key: solid.points[0] for key, solid in drawn.scene}
    found = []
    for each in in_the_finished(model, told):
        if each.on in still:
            x, y, z = (a - b for a, b in zip(there[each.on], still[each.on], strict=True))
            found.append((each, (x, y, z)))
    return tuple(found)


def exploded_picture(
    model: Model,
    drawn: Render,
    fittings: Sequence[tuple[Fitting, Vec]],
    title: str,
    style: PictureStyle,
    room: Room = PARTS,
) -> Picture:
    """Return all pieces apart with the letters of their parts, fittings beside their places."""
    screens = drawn.screens
    counts = Counter(each.owner for each, _ in fittings)

    def laid(scale: float) -> Layout:
        whole = scaled(drawn.whole, scale)
        signs = one_of_each(signs_apart(fittings, drawn, scale, style, screens))
        names = [*_namings(model, drawn, scale, style), *fitting_namings(signs, style, counts)]
        guides = [each.guide for each in signs]
        around = shapely.union_all([whole, *(each.head for each in signs)])
        inks: list[Ink] = [*tones(drawn, scale, drawn.areas, UP, style)]
        inks += lines(drawn, scale, (), style.plain_lines())
        ruled = ruled_lines(inks)
        labels = place_labels(names, around, guides, style.clear, room[0], ruled)
        inks += [ink for each in signs for ink in each.inks]
        inks += [ink for label in labels for ink in lettered(label, style)]
        return Layout(tuple(inks), whole, labels, (), len(labels) == len(names))

    return fitted(laid, drawn.bounds, title, style, room)


def _namings(model: Model, drawn: Render, scale: float, style: PictureStyle) -> Iterator[Naming]:
    """Yield one letter for each part, with how many pieces of it there are."""
    parts: dict[str, list[str]] = {}
    for each in model.assembly.placed:
        parts.setdefault(each.part, []).append(each.key)
    letters = {part.name: part.letter for part in model.worked.parts}
    for part, keys in parts.items():
        shown = [key for key in keys if key in drawn.areas]
        if not shown:
            continue
        largest = max(shown, key=lambda key: round(drawn.areas[key], 3))
        text = letters[part]
        if len(keys) > 1:
            text = style.say("several", count=len(keys), what=text)
        lettering = style.set_in(style.letter, weight=600)
        regions = {key: scaled(drawn.region([key]), scale) for key in (largest, *shown)}
        yield Naming(text, lettering, regions.pop(largest), alike=tuple(regions.values()))
