"""The model as the page's script turns it: the same solids as in the printed pictures.

In: a `Model`.  Out: plain numbers for JSON: for each piece its triangles and edges, the step that
brings it, and how far it moves when everything is drawn apart.  Millimetres; x to the right, y to
the back, z up.
"""

from __future__ import annotations

from typing import Any

import shapely

from patternpress.assembly.blocks import across
from patternpress.assembly.lying import bench_way
from patternpress.assembly.model import Model
from patternpress.assembly.solid import Facet, Solid, dot, edges
from patternpress.drawing.exploded import exploded
from patternpress.drawing.finished import finished_items
from patternpress.drawing.scenes import step_scenes
from patternpress.drawing.things import bulks_of
from patternpress.drawing.views import EYES

APART = 0.14  # of the piece's size, between neighbours
DIGITS = 3


def turning_model(model: Model) -> dict[str, Any]:
    """Return every placed piece with sizes, ready for JSON."""
    bulks = bulks_of(model.worked)
    scenes = step_scenes(model, bulks)
    shifts = exploded(model, scenes, APART)
    pieces = []
    for item in finished_items(model, bulks):
        shift = shifts.get(item.key, (0.0, 0.0, 0.0))
        pieces.append(
            {
                "key": item.key,
                "piece": item.piece,
                "letter": item.letter,
                "step": item.step,
                "apart": [round(each, DIGITS) for each in shift],
                **_drawn(item.solid),
            }
        )
    lies = {scene.number: scene.lies for scene in scenes}
    count = len(model.worked.usage.steps)
    # Where one stands is told of the work as it lies on the bench in that step.
    eyes = [
        [[name, list(bench_way(lies.get(number, "upright"), way))] for name, way in EYES.items()]
        for number in range(1, count + 1)
    ]
    return {"pieces": pieces, "steps": count, "eyes": eyes}


def _drawn(solid: Solid) -> dict[str, Any]:
    """A solid as points, triangles with the direction they look in, and the edges that show."""
    triangles: list[list[int]] = []
    looks: list[list[float]] = []
    for facet in solid.facets:
        for found in _triangles(solid, facet):
            triangles.append(found)
            looks.append([round(each, 4) for each in facet.normal])
    return {
        "points": [[round(each, DIGITS) for each in point] for point in solid.points],
        "triangles": triangles,
        "looks": looks,
        "edges": [[e.start, e.end] for e in edges(solid) if e.kind == "crease"],
    }


def _triangles(solid: Solid, facet: Facet) -> list[list[int]]:
    """A facet cut into triangles of its own corners."""
    outer = facet.loops[0]
    if len(facet.loops) == 1 and len(outer) == 3:
        return [list(outer)]
    right, up = across(facet.normal)
    numbers: dict[tuple[float, float], int] = {}
    rings = []
    for loop in facet.loops:
        ring = [(dot(right, solid.points[n]), dot(up, solid.points[n])) for n in loop]
        numbers.update(zip(ring, loop, strict=True))
        rings.append(ring)
    cut = shapely.constrained_delaunay_triangles(shapely.Polygon(rings[0], rings[1:]))
    return [[numbers[spot] for spot in each.exterior.coords[:3]] for each in cut.geoms]
