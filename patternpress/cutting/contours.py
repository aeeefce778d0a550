"""The outline of a piece as it lies on a board, for stock that is cut anywhere.

In: a part, its shape, and the box that it is cut out of.  Out: a `Contour` in mm within that box,
x along it, as the piece lies with its best face up (else as its template shows it); nothing
where the box says as much.  Places are floats: no figure is ever printed from them.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from shapely import Polygon, box
from shapely.affinity import translate

from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.flattening import flattened
from patternpress.assembly.hands import handed, mirrored_pieces
from patternpress.assembly.shape import Shape
from patternpress.assembly.specs import NEAR_FACE, PAGE_AXES
from patternpress.design.phrases import OPPOSITE

ERROR = 0.01  # mm by which rings may stray from the true outline
LEAST_GAIN = 0.99  # a piece that fills so much of its box is laid out by the box
# Larger openings are cut out whole and leave a piece behind; smaller ones are drilled away:
# common practice, no source.
LARGEST_BIT = Fraction(13)
LEAST_DRAWN = Fraction(5)  # mm: smaller holes say nothing in the picture of a board

Ring = tuple[tuple[float, float], ...]


@dataclass(frozen=True, slots=True)
class Contour:
    """A piece's outline and the openings that leave wood behind, in mm within its box.

    `drilled` are other large holes, which are only drawn.  `mirrored` of its pieces are cut as its
    mirror image.
    """

    outline: Ring
    openings: tuple[Ring, ...] = ()
    drilled: tuple[Ring, ...] = ()
    mirrored: int = 0

    @property
    def polygon(self) -> Polygon:
        """The same for Shapely."""
        return Polygon(self.outline, self.openings)

    @property
    def drawn(self) -> Polygon:
        """The same with every large hole."""
        return Polygon(self.outline, (*self.openings, *self.drilled))


def contour_of(
    part: CutPart, shape: Shape | None, axis: str, size: tuple[Fraction, Fraction]
) -> Contour | None:
    """The contour of a part in a box of `size`, of which the first runs along `axis` of the part.

    What the box has more than the part is left on all round.
    """
    if shape is None or part.opening or axis not in PAGE_AXES[shape.view]:
        return None
    wide, high = shape.width, shape.height
    upright = axis == PAGE_AXES[shape.view][1]
    more = [a - b for a, b in zip(size, (high, wide) if upright else (wide, high), strict=True)]
    middle = float(more[0]) / 2, float(more[1]) / 2

    def laid(whole: Polygon) -> Polygon:
        over = mirrored(whole, float(wide)) if _far_face_up(part, shape) else whole
        lies = turned(over, 270, (float(wide), float(high))) if upright else over
        return translate(lies, *middle)

    left, drilled = _through(shape)
    grown = laid(Polygon(flattened(shape.outline, ERROR), left))
    if max(more) > 0:
        grown = grown.buffer(max(middle), join_style="mitre")
    cut = grown.intersection(box(0, 0, float(size[0]), float(size[1])))
    if not isinstance(cut, Polygon) or cut.area > LEAST_GAIN * float(size[0] * size[1]):
        return None
    return Contour(
        _ring(cut.exterior.coords),
        tuple(_ring(each.coords) for each in cut.interiors),
        tuple(_ring(laid(Polygon(each)).exterior.coords) for each in drilled),
        _mirrored(part, shape),
    )


def faces_up(part: CutPart) -> str:
    """The broad face that an author wants to be seen and laid up; nothing if none is named."""
    best = part.part.best_face.value[0] if part.part.best_face else ""
    faces = {"wide": ("left", "right"), "deep": ("front", "back"), "high": ("bottom", "top")}
    return best if part.form == "sheet" and best in faces.get(part.thin, ()) else ""


def _far_face_up(part: CutPart, shape: Shape) -> bool:
    return faces_up(part) == OPPOSITE[NEAR_FACE[shape.view]]


def _mirrored(part: CutPart, shape: Shape) -> int:
    """How many pieces are cut as the mirror image: others may simply be turned over."""
    if not (faces_up(part) or handed(shape)):
        return 0
    return part.quantity * mirrored_pieces(part) // max(1, len(part.pieces))


def _through(shape: Shape) -> tuple[list[Ring], list[Ring]]:
    """The openings that leave a piece of wood behind, and the large ones that do not."""
    left, drilled = [], []
    for hole in shape.holes:
        if hole.depth is not None:
            continue
        if hole.diameter is None or hole.diameter > LARGEST_BIT:
            left.append(flattened(hole.outline, ERROR))
        elif hole.diameter >= LEAST_DRAWN:
            drilled.append(flattened(hole.outline, ERROR))
    return left, drilled


def _ring(places: Sequence[tuple[float, ...]]) -> Ring:
    return tuple((float(place[0]), float(place[1])) for place in places[:-1])


def mirrored(whole: Polygon, wide: float) -> Polygon:
    """A polygon turned over from left to right, within its box."""
    return _mapped(whole, lambda x, y: (wide - x, y))


def turned(whole: Polygon, turn: int, size: tuple[float, float]) -> Polygon:
    """A polygon turned to the left by 0, 90, 180 or 270 degrees, within its box of `size`."""
    wide, high = size
    if turn == 90:
        return _mapped(whole, lambda x, y: (high - y, x))
    if turn == 180:
        return _mapped(whole, lambda x, y: (wide - x, high - y))
    if turn == 270:
        return _mapped(whole, lambda x, y: (y, wide - x))
    return whole


def _mapped(whole: Polygon, move: Callable[[float, float], tuple[float, float]]) -> Polygon:
    rings = [[move(x, y) for x, y, *_ in ring.coords] for ring in whole.interiors]
    return Polygon([move(x, y) for x, y, *_ in whole.exterior.coords], rings)
