"""Where the glue goes, and pencil lines to go by, on faces that can be seen.

In: a step's scene, rendered apart, and a scale.  Out: ink.  A face that takes glue is dotted:
short dashes on slanting lines, each clipped to what is seen of the face.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

import shapely

from patternpress.assembly.solid import dot
from patternpress.drawing.ink import Ink, Stroke, Track, straight
from patternpress.drawing.picturestyle import PictureStyle
from patternpress.drawing.projection import project
from patternpress.drawing.rendering import Render, scaled
from patternpress.drawing.scenes import StepScene
from patternpress.drawing.views import patch_shape

_SPACING = 0.9  # mm between the lines of dots (ISO 128 asks for 0.7 at least)
_SLANT = math.radians(45)
_SMALL = 0.15  # mm² that are not worth a dot
# How squarely a pencil line's face must look at the eye.
_FACING = 1e-3


def glue_marks(scene: StepScene, drawn: Render, scale: float, style: PictureStyle) -> Iterator[Ink]:
    """Yield the dots on all faces that take glue in this step."""
    shapes = []
    for patch in scene.patches:
        seen = drawn.seen_of(patch.on).get(patch.facet)
        if seen is not None and patch.glued:
            shape = shapely.intersection(patch_shape(scene, patch, drawn.view), seen)
            shapes.append(scaled(shape, scale))
    whole = shapely.buffer(shapely.union_all(shapes), -0.12)
    if whole.area > _SMALL:
        tracks = tuple(_hatched(whole))
        if tracks:
            yield Stroke(tracks, style.glue)


def _hatched(shape: Any) -> Iterator[Track]:
    """Yield slanting lines across a shape."""
    low_x, low_y, high_x, high_y = shape.bounds
    x, y = math.cos(_SLANT), math.sin(_SLANT)
    # Lines lie at whole steps from the origin, so that neighbouring faces run on.
    offs = [-y * px + x * py for px in (low_x, high_x) for py in (low_y, high_y)]
    reach = math.hypot(high_x - low_x, high_y - low_y)
    middle = x * (low_x + high_x) / 2 + y * (low_y + high_y) / 2
    for step in range(math.floor(min(offs) / _SPACING), math.ceil(max(offs) / _SPACING) + 1):
        off = step * _SPACING
        ends = [(-y * off + x * (middle + s), x * off + y * (middle + s)) for s in (-reach, reach)]
        for part in shapely.get_parts(shapely.intersection(shapely.LineString(ends), shape)):
            if part.geom_type == "LineString" and part.length > 0.2:
                first, last = part.coords[0], part.coords[-1]
                yield straight((first[0], first[1]), (last[0], last[1]))


def pencil_marks(
    scene: StepScene, drawn: Render, scale: float, style: PictureStyle
) -> Iterator[Ink]:
    """Yield the seen parts of the pencil lines that the step goes by."""
    tracks: list[Track] = []
    for mark in scene.marks:
        if dot(mark.normal, drawn.view.toward) < _FACING:
            continue
        x, y, z = scene.shift_of(mark.on)
        ends = [project(drawn.view, (p[0] + x, p[1] + y, p[2] + z)) for p in (mark.start, mark.end)]
        line = shapely.LineString(ends)
        for facet, shape in zip(drawn.facets, drawn.shapes, strict=True):
            if facet.key != mark.on or dot(facet.normal, mark.normal) < 0.999:
                continue
            for part in shapely.get_parts(shapely.intersection(line, shape)):
                if part.geom_type == "LineString" and part.length * scale > 0.3:
                    places = [(px * scale, py * scale) for px, py in part.coords]
                    tracks.append(straight(*places))
    if tracks:
        yield Stroke(tuple(tracks), style.pencil)
