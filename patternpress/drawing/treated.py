"""What is done to the edges and faces that a template shows.

In: what is done to a part, told as it is drawn.  Out: `Treated`s, and the signs of those that
run along a straight edge of the template.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from patternpress.assembly.flattening import flattened
from patternpress.assembly.handwork import Work
from patternpress.assembly.outlines import bounding_box, legs
from patternpress.assembly.shape import EDGES, Face, Outline, Point, Shape
from patternpress.drawing.features import FLAT
from patternpress.drawing.ink import Ink, Place
from patternpress.drawing.key import edge_sign
from patternpress.drawing.part import Treated
from patternpress.drawing.signs import Sign
from patternpress.drawing.style import DrawingStyle

VERBS = {
    "round over": Sign.ROUND,
    "chamfer": Sign.CHAMFER,
    "ease": Sign.EASE,
    "leave bare": Sign.BARE,
    "resist": Sign.RESIST,
}


def treated(work: Iterable[Work], shape: Shape) -> Iterator[Treated]:
    """Yield what is done to a part, or its mirror image, as the template of that hand shows it."""
    edges = tuple(edge.value for edge in EDGES[shape.view])
    for each in work:
        if each.verb:
            faces = tuple(Face(side) for side in each.target.sides if side in edges)
            yield Treated(each.verb, faces if len(faces) == 1 else (), each.target, each.pieces)


def signs_on_edges(shape: Shape, done: tuple[Treated, ...], style: DrawingStyle) -> tuple[Ink, ...]:
    """Return the signs along the edges of a shape as drawn; an edge has the first one's only."""
    found: list[Ink] = []
    signed: set[Face] = set()
    for each in done:
        for face in each.faces:
            paths = _edge(shape, EDGES[shape.view].index(face)) if face not in signed else ()
            for path in paths:
                found += edge_sign(VERBS[each.verb], path, style)
            signed.add(face)
    return tuple(found)


def _edge(shape: Shape, side: int) -> Iterator[tuple[Place, ...]]:
    """Yield the stretches of the outline that belong to one side of its box: their middles are
    nearest to it.
    """
    box = bounding_box(shape.outline)
    for start, segment in legs(shape.outline):
        path = (*flattened(Outline(start, (segment,)), FLAT), _pair(segment.to))
        middle = path[len(path) // 2]
        if len(path) == 2:
            middle = ((path[0][0] + path[1][0]) / 2, (path[0][1] + path[1][1]) / 2)
        away = (
            middle[0] - float(box.left),
            float(box.right) - middle[0],
            middle[1] - float(box.bottom),
            float(box.top) - middle[1],
        )
        if min(away) == away[side]:
            yield path


def _pair(point: Point) -> Place:
    return float(point.x), float(point.y)
