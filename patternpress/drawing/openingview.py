"""Where to measure: the work with arrows across each opening that a fitted part goes into.

In: a `Model`, an opening, the step that measures it.  Out: an `OpeningScene`, and a `Picture` of
it: arrows from side to side, each with the word for what is measured.  An opening is where its
fitted parts sit once they are in, so leaning sides and mirrored twins need no words of their own.
"""

from __future__ import annotations

from collections.abc import Collection, Hashable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import shapely

from patternpress.assembly.lying import bench_way
from patternpress.assembly.model import Model
from patternpress.assembly.placing import Placed
from patternpress.assembly.sizes import AXES
from patternpress.assembly.solid import UNTURNED, Vec, bounds, box, dot, moved
from patternpress.assembly.solid import Solid as Body
from patternpress.assembly.usage import MAIN
from patternpress.design.records.parts import Opening
from patternpress.drawing.dimensions import arrow
from patternpress.drawing.framing import BESIDE, Layout, Picture, Room, fitted
from patternpress.drawing.ink import Ink, Place, Solid, Stroke, straight
from patternpress.drawing.labelplaces import Naming
from patternpress.drawing.leaders import place_labels
from patternpress.drawing.orientation import sign
from patternpress.drawing.pictures import UP, lettered, ruled_lines
from patternpress.drawing.picturestyle import PictureStyle
from patternpress.drawing.projection import View, project
from patternpress.drawing.rendering import Render, lines, render, scaled, tones
from patternpress.drawing.things import Bulks, Item, items_of, span_of
from patternpress.drawing.views import EYES, view_of

_ACROSS = (0.35, 0.65, 0.5, 0.2, 0.8)  # where an arrow lies on a face of an opening
_SEEN = 0.9  # of an arrow: enough to look no further
_LEAST = 0.6  # of an arrow that is worth drawing
_GLIMPSE = 0.1  # of one that runs into the opening; the rest is drawn broken
_BETTER = 0.02  # by how much more an eye must see to be preferred to an earlier one

_NEAR = 1e-3  # mm on paper
_FLAT = 0.01  # of an opening's height: as good as none
_ROUND = 2.0  # mm of an arrow beside a leader's dot that the leader need not keep off

Corners = tuple[Vec, Vec]  # low x, y and z, then high


@dataclass(frozen=True, eq=False)
class OpeningScene:
    """The work as it is measured, in the frame of the finished piece: its pieces, how it lies,
    and the pieces that will go into each opening.
    """

    items: tuple[Item, ...]
    lies: str
    openings: tuple[tuple[Item, ...], ...]


@dataclass(frozen=True, eq=False)
class Arrow:
    """A measurement on the paper: its line from end to end, and what is seen of it."""

    line: Any
    seen: Any

    @property
    def share(self) -> float:
        """How much of it is seen, from 0 to 1."""
        return float(self.seen.length / self.line.length) if self.line.length else 0.0

    def at(self, scale: float) -> Arrow:
        """Return it at a scale."""
        return Arrow(scaled(self.line, scale), scaled(self.seen, scale))

    @property
    def middle(self) -> Place:
        """The place of its leader's dot: its middle, or that of what is seen of it."""
        parts = [part for part in shapely.get_parts(self.seen) if part.length > _NEAR]
        hidden = self.share < _LEAST and parts
        shown = max(parts, key=lambda each: round(each.length, 3)) if hidden else self.line
        middle = shown.interpolate(0.5, normalized=True)
        return middle.x, middle.y

    def inks(self, style: PictureStyle) -> Iterator[Ink]:
        """Yield its line and a head at each end; what wood lies over is broken, a head empty."""
        one, two = self.line.coords
        hidden = shapely.difference(self.line, shapely.buffer(self.seen, _NEAR))
        for shape, pen in ((self.seen, style.arrow), (hidden, style.guide)):
            parts = [part for part in shapely.get_parts(shape) if part.length > _NEAR]
            yield Stroke(tuple(straight(*part.coords) for part in parts), pen)
        for tip, other in ((one, two), (two, one)):
            head = (arrow(tip, (tip[0] - other[0], tip[1] - other[1])),)
            covered = shapely.distance(shapely.Point(tip), self.seen) > _NEAR
            yield Stroke(head, style.fine) if covered else Solid(head)


def opening_scene(model: Model, bulks: Bulks, opening: Opening, number: int) -> OpeningScene | None:
    """Return what is there when step `number` measures an opening; None where nothing is placed."""
    parts = {part.name for part in model.worked.fitted_in(opening.name.value)}
    copies: dict[tuple[str, ...], list[Placed]] = {}
    for each in model.assembly.placed:
        if each.part in parts:
            copies.setdefault(each.path, []).append(each)
    there = items_of(model, bulks, _there(model, opening, parts, number))
    spans = [items_of(model, bulks, each) for each in copies.values()]
    if not there or not all(spans) or not spans:
        return None
    lies = _lies(model, number)
    return OpeningScene(there, lies, tuple(spans))


def _there(model: Model, opening: Opening, fitted_in: set[str], number: int) -> list[Placed]:
    """Return what is built by then of the piece, or of the sub-assembly that has the opening."""
    around = {each.thing for group in opening.between for each in group}
    usage = model.worked.usage
    started = [
        each
        for each in model.assembly.placed
        if each.part not in fitted_in
        and (first := usage.first_use(each.piece)) is not None
        and first.step <= number
    ]
    whole = [each for each in started if each.step <= number]
    if any(_is_one_of(each, around) for each in whole):
        return whole
    paths = {each.path[:1] for each in started if _is_one_of(each, around)}
    return [each for each in started if each.path[:1] in paths]


def _is_one_of(placed: Placed, around: set[str]) -> bool:
    return bool({placed.piece, *placed.path} & around)


def _lies(model: Model, number: int) -> str:
    """Return how the whole piece lies on the bench at a step."""
    lies = [each.lies for each in model.worked.usage.lying[:number] if each.work == MAIN]
    return lies[-1] if lies else "upright"


# ------------------------------------------------------------------ the picture


def opening_picture(
    scene: OpeningScene,
    words: Mapping[str, str],
    title: str,
    style: PictureStyle,
    room: Room = BESIDE,
) -> Picture | None:
    """Return the picture; `words` are those for the axes that are measured: wide, deep, high.

    None where no measurement can be seen from any side.
    """
    view, found = opening_arrows(scene, list(words))
    if not any(found):
        return None
    drawn = render(tuple((item.key, item.solid) for item in scene.items), view)
    up = bench_way(scene.lies, UP)

    def laid(scale: float) -> Layout:
        inks: list[Ink] = [*tones(drawn, scale, (), up, style)]
        inks += lines(drawn, scale, (), style.plain_lines())
        ruled = ruled_lines(inks)
        arrows = [{axis: each.at(scale) for axis, each in put.items()} for put in found]
        lined = [each for put in arrows for each in put.values()]
        inks += [ink for each in lined for ink in each.inks(style)]
        names = list(_namings(arrows, words, style))
        dots = shapely.MultiPoint([each.spots[0] for each in names]).buffer(_ROUND)
        shafts = [shapely.difference(each.line, dots) for each in lined]
        whole = scaled(drawn.whole, scale)
        labels = place_labels(names, whole, shafts, style.clear, room[0], ruled)
        inks += [ink for label in labels for ink in lettered(label, style)]
        return Layout(tuple(inks), whole, labels, (), len(labels) == len(names))

    signs = (sign(drawn.view, scene.lies == "upright", style),)
    return fitted(laid, drawn.bounds, title, style, room, signs)


def opening_arrows(
    scene: OpeningScene, axes: Sequence[str]
) -> tuple[View, tuple[dict[str, Arrow], ...]]:
    """Return the view, and for each opening the arrow along each axis that can be shown, mm at
    full size on the paper.
    """
    filled = _best(scene, [_corners(each, axes) for each in scene.openings])
    return filled.view, tuple(
        {axis: put for axis in axes if (put := _arrow(filled, number, axis, axes))}
        for number in range(len(scene.openings))
    )


def _corners(items: Sequence[Item], axes: Collection[str]) -> Corners:
    """Return an opening; if its height is not measured, only where it rests, for sides may lean."""
    low, high = span_of(items)
    if "high" in axes:
        return low, high
    level = low[2] + _FLAT * (high[2] - low[2])
    foot = [point for item in items for point in item.solid.points if point[2] <= level]
    (left, front), (right, back) = ([f(p[i] for p in foot) for i in (0, 1)] for f in (min, max))
    return (left, front, low[2]), (right, back, level)


def _best(scene: OpeningScene, openings: Sequence[Corners]) -> Render:
    """Return what the eye sees that sees most of the openings when they are filled."""
    filled: list[tuple[Hashable, Body]] = [(item.key, item.solid) for item in scene.items]
    for number, (low, high) in enumerate(openings):
        sizes = [b - a for a, b in zip(low, high, strict=True)]
        filled.append((number, moved(box(*sizes), UNTURNED, low)))
    found: tuple[float, Render] | None = None
    for eye, way in EYES.items():
        if way[2] < 0:
            continue  # nobody measures from under the bench
        drawn = render(filled, view_of(eye, scene.lies))
        drawn.ask(range(len(openings)))
        shapes = [s for number in range(len(openings)) for s in drawn.seen_of(number).values()]
        seen = sum(shape.area for shape in shapes)
        if found is None or seen > found[0] * (1 + _BETTER):
            found = (seen, drawn)
    assert found is not None
    return found[1]


def _arrow(filled: Render, number: int, axis: str, axes: Sequence[str]) -> Arrow | None:
    """Return an arrow along an axis of an opening where wood hides little of it, mm.

    What runs into the opening away from the eye, as the depth of a drawer does, lies on an inner
    face, and is seen as far as one looks in at the mouth.
    """
    along = AXES.index(axis)
    solid = dict(filled.scene)[number]
    shown = filled.seen_of(number)
    beside = [
        (face, each.normal)
        for face, each in enumerate(solid.facets)
        if abs(each.normal[along]) < 0.5
    ]
    outer = [(shown[face], normal) for face, normal in beside if face in shown]
    found = _on_faces(filled, number, axis, axes, outer)
    if found is not None and found.share >= _LEAST:
        return found
    mouth = shapely.union_all([shape for face, shape in shown.items() if shape.area])
    inner = [(mouth, n) for _, n in beside if dot(n, filled.view.toward) < 0]
    found = _on_faces(filled, number, axis, axes, inner)
    return found if found is not None and found.share >= _GLIMPSE else None


def _on_faces(
    filled: Render,
    number: int,
    axis: str,
    axes: Sequence[str],
    faces: Sequence[tuple[Any, Vec]],
) -> Arrow | None:
    """Return the arrow of which most is seen on faces, each given by where it can be seen."""
    along = AXES.index(axis)
    low, high = bounds(dict(filled.scene)[number])
    # Arrows that lie on one face cross beside the middle, where the first one's word points.
    shares = _ACROSS[axes.index(axis) % 2 :]
    tried = []
    for shape, normal in sorted(faces, key=lambda each: -round(each[0].area, 6)):
        out = max(range(3), key=lambda each: abs(normal[each]))
        other = 3 - out - along
        for share in shares:
            point = [0.0, 0.0, 0.0]
            point[out] = high[out] if normal[out] > 0 else low[out]
            point[other] = low[other] + share * (high[other] - low[other])
            ends = []
            for end in (low[along], high[along]):
                point[along] = end
                ends.append(project(filled.view, (point[0], point[1], point[2])))
            line = shapely.LineString(ends)
            seen = shapely.intersection(line, shapely.buffer(shape, _NEAR))
            tried.append(Arrow(line, seen))
    well = [each for each in tried if each.share >= _SEEN]
    return well[0] if well else max(tried, key=lambda each: round(each.share, 2), default=None)


def _namings(
    arrows: Sequence[Mapping[str, Arrow]], words: Mapping[str, str], style: PictureStyle
) -> Iterator[Naming]:
    """Yield the word of each measurement, at the first opening where it is seen."""
    lettering = style.set_in(style.label, weight=600)
    for axis, word in words.items():
        found = next((each[axis] for each in arrows if axis in each), None)
        if found is not None:
            yield Naming(word, lettering, found.line.buffer(_ROUND), (found.middle,))
