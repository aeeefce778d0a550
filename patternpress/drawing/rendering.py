"""A scene as lines and tones, before it is annotated.

In: keyed solids in mm, a View.  Out: a `Render` in mm at full size, and ink from it at a scale.
New pieces are drawn strong, what was there before quiet.
"""

from __future__ import annotations

from collections.abc import Collection, Hashable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Any

import numpy as np
import shapely

from patternpress.assembly.solid import Solid, Vec, dot
from patternpress.drawing.chains import chained
from patternpress.drawing.flatscene import Scene, with_edges
from patternpress.drawing.hidden import Stroke2d, lines_of
from patternpress.drawing.ink import Ink, Place, Stroke, Tone, Track, straight
from patternpress.drawing.lines import Pen
from patternpress.drawing.picturestyle import PictureStyle
from patternpress.drawing.projection import View, project
from patternpress.drawing.sight import Screens, screens_from
from patternpress.drawing.visibility import (
    Flattened,
    SeenFacet,
    covered,
    facets_seen,
    laid_flat,
)

# How far shapes are grown to close the hair between facets, mm at the scale drawn.
_HAIR = 0.01
HAIR = 1e-7  # mm on paper
_EDGE_ON = 1e-6


@dataclass(frozen=True, eq=False)
class Render:
    """What is to be seen of a scene; lengths on the paper as at full size.

    Worked out when it is asked for: of most views that are tried, only some solids are.
    """

    scene: Scene
    view: View

    @cached_property
    def _laid(self) -> Flattened:
        return laid_flat(self.scene, self.view)

    @cached_property
    def _known(self) -> dict[Hashable, dict[int, tuple[SeenFacet, Any]]]:
        """The facets seen of each solid that was asked for, each with its shape."""
        return {}

    def ask(self, keys: Iterable[Hashable]) -> None:
        """Work out what is seen of some solids: sooner than one after the other."""
        new = dict.fromkeys(key for key in keys if key not in self._known)
        if not new:
            return
        facets = facets_seen(self._laid, new)
        self._known.update({key: {} for key in new})
        shapes = _sound(shapely.normalize([each.shape for each in facets]))
        for facet, shape in zip(facets, shapes.tolist(), strict=True):
            self._known[facet.key][facet.number] = (facet, shape)

    def seen_of(self, key: Hashable) -> Mapping[int, Any]:
        """The visible part of each facet of a solid, by its number."""
        self.ask([key])
        return {number: shape for number, (_, shape) in self._known[key].items()}

    @cached_property
    def _all(self) -> tuple[tuple[SeenFacet, Any], ...]:
        """Every facet that is seen, with its shape, in the order of the scene."""
        self.ask(key for key, _ in self.scene)
        return tuple(pair for key, _ in self.scene for pair in self._known[key].values())

    @property
    def facets(self) -> tuple[SeenFacet, ...]:
        """The facets of which something is seen."""
        return tuple(facet for facet, _ in self._all)

    @cached_property
    def screens(self) -> Screens:
        """What can hide a line."""
        return screens_from(self._laid)

    @cached_property
    def strokes(self) -> tuple[Stroke2d, ...]:
        """The visible lines."""
        return chained(lines_of(with_edges(self.scene, self._laid.flat)))

    @cached_property
    def shapes(self) -> tuple[Any, ...]:
        """The visible part of each facet as one shape, in the order of the facets."""
        return tuple(shape for _, shape in self._all)

    @cached_property
    def areas(self) -> Mapping[Hashable, float]:
        """How much of every solid is seen, mm², without merging its region."""
        found: dict[Hashable, float] = {}
        for facet, shape in self._all:
            found[facet.key] = found.get(facet.key, 0.0) + shape.area
        return found

    @cached_property
    def bounds(self) -> tuple[float, float, float, float]:
        """Low x, low y, high x and high y of the silhouette."""
        (low_x, low_y), (high_x, high_y) = (
            of(self._laid.flat.spots, axis=0).tolist() for of in (np.min, np.max)
        )
        return low_x, low_y, high_x, high_y

    @cached_property
    def regions(self) -> Mapping[Hashable, Any]:
        """The visible region of every solid of which something is seen."""
        return {key: self.region([key]) for key in self.areas}

    @cached_property
    def whole(self) -> Any:
        """The silhouette of everything."""
        return covered(self._laid)

    @cached_property
    def _merged(self) -> dict[tuple[str, tuple[Hashable, ...]], Any]:
        """What was asked for before: pictures ask for the same things at every scale."""
        return {}

    def region(self, keys: Iterable[Hashable]) -> Any:
        """The visible region of some solids."""
        name = ("region", tuple(keys))
        if name not in self._merged:
            there = {key for key, _ in self.scene}
            wanted = [key for key in name[1] if key in there]
            self.ask(wanted)
            shapes = [shape for key in wanted for shape in self.seen_of(key).values()]
            self._merged[name] = shapely.union_all(shapes)
        return self._merged[name]

    def outline(self, keys: Iterable[Hashable]) -> Any:
        """What some solids would cover if nothing else stood in the way."""
        name = ("outline", tuple(keys))
        if name not in self._merged:
            self._merged[name] = covered(self._laid, name[1])
        return self._merged[name]


def merged(shapes: Sequence[Any]) -> Any:
    """Return shapes as one.

    Parts of facets may be slivers whose ring touches itself; they are mended first, and points
    nearer than a hair on paper fall together, so that later sums of areas never fail.
    """
    return shapely.union_all(_sound(shapes))


def _sound(shapes: Any) -> Any:
    return shapely.set_precision(shapely.make_valid(np.array(shapes, dtype=object)), HAIR)


def render(scene: Scene, view: View) -> Render:
    """Return the visible lines and facets of a scene."""
    return Render(scene, view)


def silhouette(solids: Iterable[Solid], view: View) -> Any:
    """Return what solids cover on the paper when nothing else stands in the way, mm."""
    shapes = []
    for solid in solids:
        places = [project(view, point) for point in solid.points]
        shapes += [
            [[places[n] for n in loop] for loop in facet.loops]
            for facet in solid.facets
            if dot(facet.normal, view.toward) > _EDGE_ON
        ]
    return merged(_as_polygons(shapes))


def _as_polygons(shapes: Sequence[Sequence[Sequence[Place]]]) -> Any:
    """Return polygons of rings, the outer one first: all made in one go."""
    counts = [len(ring) for rings in shapes for ring in rings]
    if not counts:
        return np.empty(0, dtype=object)
    places = np.array([place for rings in shapes for ring in rings for place in ring])
    rings = shapely.linearrings(places, indices=np.repeat(np.arange(len(counts)), counts))
    owners = np.repeat(np.arange(len(shapes)), [len(rings) for rings in shapes])
    return shapely.polygons(rings, indices=owners)


# ------------------------------------------------------------------ ink


def tones(
    drawn: Render,
    scale: float,
    strong: Collection[Hashable],
    up: Vec,
    style: PictureStyle,
    window: Any = None,
) -> Iterator[Ink]:
    """Yield the greys of the facets, lightest first; `up` is the bench's upright.

    Nothing outside a `window` is drawn.
    """
    shapes: dict[float, list[Any]] = {}
    for facet, shape in zip(drawn.facets, drawn.shapes, strict=True):
        greys = style.strong_tones if facet.key in strong else style.quiet_tones
        grey = greys[_shade(facet.normal, drawn.view, up)]
        if grey < 1.0:
            shapes.setdefault(grey, []).append(shape)
    for grey in sorted(shapes, reverse=True):
        # Facets of one grey mostly lie apart, which this way of uniting them makes use of.
        area = shapely.disjoint_subset_union_all(scaled(shapes[grey], scale))
        area = shapely.buffer(area, _HAIR, join_style="mitre")
        area = area if window is None else shapely.intersection(area, window)
        if not area.is_empty:
            yield Tone(tuple(tracks_of(area)), grey)


def _shade(normal: Vec, view: View, up: Vec) -> int:
    """Return 0 for what faces the light, 1 for the side towards it, 2 for the side away.

    The light comes from above and from the left.
    """
    level = 0.85 * dot(normal, up) - 0.45 * dot(normal, view.right) + 0.2 * dot(normal, view.toward)
    return 0 if level > 0.62 else 1 if level > 0.1 else 2


def lines(
    drawn: Render, scale: float, strong: Collection[Hashable], style: PictureStyle
) -> Iterator[Ink]:
    """Yield the visible lines: those of what was there first, then the strong ones on them."""
    found: dict[Pen, list[Track]] = {}
    for stroke in drawn.strokes:
        pens = style.strong_pens if any(k in strong for k in stroke.keys) else style.quiet_pens
        pen = pens[0] if stroke.kind == "contour" else pens[1]
        places = [(x * scale, y * scale) for x, y in stroke.points]
        found.setdefault(pen, []).append(straight(*places))
    for pen in sorted(found, key=lambda each: each.width):
        yield Stroke(tuple(found[pen]), pen)


def tracks_of(shape: Any) -> Iterator[Track]:
    """Yield the rings of a shape as closed tracks, outer ones anticlockwise, holes clockwise."""
    for part in shapely.get_parts(shapely.normalize(shape)):
        if part.geom_type != "Polygon" or part.is_empty:
            continue
        whole = shapely.orient_polygons(part)
        for ring in (whole.exterior, *whole.interiors):
            places: list[Place] = [(x, y) for x, y in shapely.get_coordinates(ring).tolist()[:-1]]
            yield straight(*places, closed=True)


def scaled(shape: Any, scale: float) -> Any:
    """Return a shape of a render, or several, at a scale about the origin."""
    return shapely.transform(shape, lambda places: places * scale)
