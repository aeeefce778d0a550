"""A part as a laser or knife cutter wants it.

In: a part's Shape, and how wide the cutter's kerf is, mm.  Out: `CutLines`: what is cut through,
holes before the outline, what is only marked, and a name.  Lines are single and have no lead-in.
Without a kerf they are the exact outlines; with one they are moved by half of it into the waste.
What lies on the far face is given by itself, as one sees it once the part is turned over.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from fractions import Fraction

import shapely

from patternpress.assembly.flattening import flattened
from patternpress.assembly.onwood import on_wood
from patternpress.assembly.outlines import circle, legs, radius_of, turn_of
from patternpress.assembly.polygons import Edge, Polygon, clipped
from patternpress.assembly.shape import Arc, Hole, MarkLine, Outline, Point, Shape
from patternpress.assembly.turning import mirrored_shape
from patternpress.drawing.features import extent_of

FLAT = 0.002  # mm, of curves where a line has to be made of straight pieces
_MITRE = 10.0  # a sharp corner is moved out by at most so many half kerfs
_LETTER = 1.7  # mm, about the width of a letter as written
_CROSS = 1.5  # mm, half a cross

Line = Outline | Polygon  # a closed line: exact, or its corners


@dataclass(frozen=True, slots=True)
class CutLines:
    """What is cut in order, what is marked, what is written where, and the blank's size, mm.

    `lay`: lines that nothing is done along; a part that is cut already is laid to them.
    """

    title: str
    said: str
    size: tuple[float, float]
    cuts: tuple[Line, ...]
    marks: tuple[Line, ...]
    strokes: tuple[Edge, ...]
    at: tuple[float, float]
    lay: tuple[Line, ...] = ()


def cut_lines(shape: Shape, title: str, kerf: Fraction = Fraction(0)) -> CutLines:
    """Return a shape's lines for a cutter; for what is on the far face see `far_lines`.

    Raises ValueError if the kerf leaves nothing of the part.
    """
    through = [hole.outline for hole in shape.holes if _is_cut(hole)]
    blind = tuple(hole.outline for hole in shape.holes if not _is_cut(hole))
    half = kerf / 2
    cuts = [*_moved(through, -half), *_moved([shape.outline], half)]
    if not cuts:
        raise ValueError(f"a kerf of {float(kerf)} mm leaves nothing of {title}")
    strokes = (*_grooves(shape, far=False), *_marks(shape, far=False))
    return _titled(shape, title, cuts=tuple(cuts), marks=blind, strokes=strokes)


def far_lines(shape: Shape, title: str) -> CutLines | None:
    """Return what is marked on a shape's far face, with the cut part turned over left to right.

    Nothing is cut: outline and holes are there to lay the part to.  None for a far face that is
    left as it is.
    """
    turned = mirrored_shape(shape)
    strokes = (*_grooves(turned, far=True), *_marks(turned, far=True))
    if not strokes:
        return None
    through = (hole.outline for hole in turned.holes if _is_cut(hole))
    lay = (*through, turned.outline)
    return _titled(turned, title, strokes=strokes, lay=lay)


def _is_cut(hole: Hole) -> bool:
    """Whether a cutter makes a hole: one that goes through, and not at an angle."""
    drilled = hole.diameter is not None and whole_circle(hole.outline) is None
    return hole.depth is None and not drilled


def _titled(
    shape: Shape,
    title: str,
    *,
    cuts: tuple[Line, ...] = (),
    marks: tuple[Line, ...] = (),
    strokes: tuple[Edge, ...] = (),
    lay: tuple[Line, ...] = (),
) -> CutLines:
    """Lines with the title, or of a small part its letter, in the middle."""
    box = extent_of(shape.outline)
    middle = ((box.left + box.right) / 2, (box.bottom + box.top) / 2)
    fits = len(title) * _LETTER <= box.width * 0.9
    said = title if fits else title.split(" ", 1)[0]
    size = (float(shape.width), float(shape.height))
    return CutLines(title, said, size, cuts, marks, strokes, middle, lay)


def _moved(outlines: list[Outline], by: Fraction) -> Iterator[Line]:
    """Yield outlines grown by `by` mm on all sides; a hole narrower than the kerf vanishes."""
    for outline in outlines:
        if by == 0:
            yield outline
            continue
        if (found := whole_circle(outline)) is not None:
            if found[2] + by > 0:
                yield circle(Point(found[0], found[1]), found[2] + by)
            continue
        ring = shapely.Polygon(flattened(outline, FLAT))
        grown = ring.buffer(float(by), join_style="mitre", mitre_limit=_MITRE)
        for part in getattr(grown, "geoms", (grown,)):
            if not part.is_empty:
                anticlockwise = shapely.Polygon(part.exterior).normalize().exterior
                yield tuple((x, y) for x, y in reversed(anticlockwise.coords[:-1]))


def _grooves(shape: Shape, far: bool) -> Iterator[Edge]:
    """Yield the sides of the grooves on one face as single straight strokes inside the part."""
    ring = flattened(shape.outline, FLAT)
    for groove in shape.grooves:
        if groove.far is far:
            left, low = float(groove.low.x), float(groove.low.y)
            right, high = float(groove.high.x), float(groove.high.y)
            corners = ((left, low), (right, low), (right, high), (left, high))
            for start, to in zip(corners, (*corners[1:], corners[0]), strict=True):
                yield from clipped(ring, start, to)


def _marks(shape: Shape, far: bool) -> Iterator[Edge]:
    """Yield marked lines of one face as far as they lie on the part, and a cross at each point."""
    for mark in shape.marks:
        if mark.far is not far:
            continue
        if isinstance(mark, MarkLine):
            yield from on_wood(shape, mark, FLAT)
        else:
            x, y = float(mark.at.x), float(mark.at.y)
            yield (x - _CROSS, y), (x + _CROSS, y)
            yield (x, y - _CROSS), (x, y + _CROSS)


def whole_circle(line: Line) -> tuple[Fraction, Fraction, Fraction] | None:
    """Return centre and radius of an outline that is one whole circle."""
    if not isinstance(line, Outline):
        return None
    arcs = [(start, arc) for start, arc in legs(line) if isinstance(arc, Arc)]
    if len(arcs) < len(line.segments) or len({arc.centre for _, arc in arcs}) > 1:
        return None
    turned = abs(sum(turn_of(start, arc) for start, arc in arcs))
    if not math.isclose(turned, 2 * math.pi, abs_tol=1e-9):
        return None
    centre = arcs[0][1].centre
    return centre.x, centre.y, radius_of(*arcs[0])
