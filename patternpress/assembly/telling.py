"""Edges told by what is special about them: *the angled edge*, *the shorter edge*.

In: a part, its shape, its solid and the word.  Out: which facets of the solid are meant, and the
planes that they lie in.  `inside` and `outside` depend on where a piece goes and mean none here.
"""

from collections.abc import Callable, Mapping

from patternpress.assembly.blocks import dot
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.cuts import on_page
from patternpress.assembly.hugging import chords
from patternpress.assembly.shape import Shape
from patternpress.assembly.sizes import AXES, SIDE_AXIS
from patternpress.assembly.solid import Facet, Solid, Vec, bounds
from patternpress.assembly.specs import NEAR_FACE
from patternpress.design.phrases import OPPOSITE

_NEAR = 1e-6


def feature_facets(
    part: CutPart, shape: Shape | None, solid: Solid, feature: str
) -> tuple[int, ...]:
    """Return the numbers of the facets that a word of `FEATURES` means; none if there are none.

    Only facets of the outside count, and those of edges and ends rather than broad faces,
    but for grooves and holes, which tell the side that they are cut into.
    """
    outside = {n: each for n, each in enumerate(solid.facets) if each.side}
    broad = part.thin if part.form != "rod" else ""
    edges = {n: each for n, each in outside.items() if SIDE_AXIS[each.side] != broad}
    curved = _curved(shape, solid, edges)
    angled = {n for n, each in edges.items() if not each.smooth and _slants(each.normal)}
    tell: Mapping[str, Callable[[], set[int]]] = {
        "all": lambda: set(edges),
        "curved": lambda: curved,
        "rounded": lambda: curved,
        "straight": lambda: set(edges) - curved - angled,
        "angled": lambda: angled,
        "mitred": lambda: angled,
        "long": lambda: _along(part, edges, ends=False),
        "short": lambda: _along(part, edges, ends=True),
        "longer": lambda: _unequal(part, edges, solid, most=True),
        "shorter": lambda: _unequal(part, edges, solid, most=False),
        "grooved": lambda: _of_sides(outside, {g.on.value[0] for g in part.part.grooves if g.at}),
        "rebated": lambda: _of_sides(
            outside, {g.along.value[0] for g in part.part.grooves if g.along}
        ),
        "drilled": lambda: _of_sides(outside, _drilled(part, shape)),
        "notched": lambda: _of_sides(outside, _notched(part)),
    }
    return tuple(sorted(tell[feature]())) if feature in tell else ()


def feature_planes(
    part: CutPart, shape: Shape | None, solid: Solid, feature: str
) -> tuple[tuple[Vec, float], ...]:
    """Return the planes of a feature's facets, each once: outward normal and distance from 0."""
    found: list[tuple[Vec, float]] = []
    for number in feature_facets(part, shape, solid, feature):
        each = solid.facets[number]
        offset = dot(each.normal, solid.points[each.loops[0][0]])
        known = any(abs(offset - at) < _NEAR and dot(each.normal, n) > 1 - _NEAR for n, at in found)
        if not known:
            found.append((each.normal, offset))
    return tuple(found)


def _slants(normal: Vec) -> bool:
    return max(map(abs, normal)) < 1 - 1e-9


def _curved(shape: Shape | None, solid: Solid, edges: Mapping[int, Facet]) -> set[int]:
    """Return the facets that stand for a curve, and not for the flat that runs into it."""
    smooth = {number: each for number, each in edges.items() if each.smooth}
    if shape is None or not smooth:
        return set(smooth)
    _, sizes = bounds(solid)
    flats = [chord for chord in chords(shape.outline, 0.1) if not chord.curved]
    found = set()
    for number, each in smooth.items():
        places = [on_page(shape.view, sizes, solid.points[n]) for n in each.loops[0]]
        if not any(_on_line(places, chord.start, chord.to) for chord in flats):
            found.add(number)
    return found


def _on_line(
    places: list[tuple[float, float]], start: tuple[float, float], to: tuple[float, float]
) -> bool:
    dx, dy = to[0] - start[0], to[1] - start[1]
    long = (dx * dx + dy * dy) ** 0.5
    return all(abs((x - start[0]) * dy - (y - start[1]) * dx) < _NEAR * long for x, y in places)


def _along(part: CutPart, edges: Mapping[int, Facet], *, ends: bool) -> set[int]:
    return {n for n, each in edges.items() if (SIDE_AXIS[each.side] == part.along) == ends}


def _of_sides(facets: Mapping[int, Facet], sides: set[str]) -> set[int]:
    return {number for number, each in facets.items() if each.side in sides}


def _drilled(part: CutPart, shape: Shape | None) -> set[str]:
    broad = NEAR_FACE[shape.view] if shape is not None else ""
    return {hole.on.value[0] if hole.on else broad for hole in part.part.holes}


def _notched(part: CutPart) -> set[str]:
    corners = [said.value for said, trim in part.part.corners if trim.how == "notch"]
    return {side for sides in corners for side in sides}


def _unequal(part: CutPart, edges: Mapping[int, Facet], solid: Solid, *, most: bool) -> set[int]:
    """Return the longer or shorter of two opposite edges that are unlike.

    Without such a pair: the edges along the longer or the shorter size.
    """
    reach: dict[str, float] = {}
    for each in edges.values():
        if not _slants(each.normal):
            reach[each.side] = reach.get(each.side, 0.0) + _length(part, solid, each)
    found = set()
    for side, long in reach.items():
        other = reach.get(OPPOSITE[side], long)
        if abs(long - other) > _NEAR and (long > other) == most:
            found.add(side)
    if found:
        return _of_sides(edges, found)
    return _along(part, edges, ends=not most)


def _length(part: CutPart, solid: Solid, each: Facet) -> float:
    """Return how long an edge's facet is, across the thickness left out."""
    thin = AXES.index(part.thin)
    points = [solid.points[number] for number in each.loops[0]]
    spans = [max(p[a] for p in points) - min(p[a] for p in points) for a in range(3) if a != thin]
    return float((spans[0] ** 2 + spans[1] ** 2) ** 0.5)
