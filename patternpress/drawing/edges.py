"""The names of a template's edges.

In: a shape, and where leaders and extension lines cross its edges.  Out: small words just
outside the edges, so that the maker knows which edge is which.
"""

from __future__ import annotations

from dataclasses import dataclass

from patternpress.assembly.shape import EDGES, Shape
from patternpress.drawing.features import reach_of
from patternpress.drawing.ink import Anchor, Extent, Words
from patternpress.drawing.lettering import Lettering, figure_width, words
from patternpress.drawing.style import DrawingStyle
from patternpress.measure.pieces import Figure

_OFF = 1.5  # mm from an edge to its name
# Along an edge, tried in this order.
_SHARES = (0.5, 0.42, 0.58, 0.34, 0.66, 0.25, 0.75, 0.17, 0.83, 0.1, 0.9)


@dataclass(frozen=True, slots=True)
class Crossed:
    """Where lines cross the edges: heights for left and right, places across for the others."""

    left: tuple[float, ...] = ()
    right: tuple[float, ...] = ()
    bottom: tuple[float, ...] = ()
    top: tuple[float, ...] = ()


def edge_names(
    shape: Shape,
    style: DrawingStyle,
    crossed: Crossed,
    window: Extent | None = None,
    ends: bool = True,
) -> tuple[Words, ...]:
    """Return the names of the edges, clear of the lines that cross them; left and right if `ends`.

    Of a half, whose box is `window`, the right-hand edge is no edge and has no name.

    Those at the left and at the bottom, where the dimensions are, are left out of a part too
    small to hold them between its extension lines; the other two say enough.
    """
    left, right, bottom, top = (words(style.say(face.value)) for face in EDGES[shape.view])
    lettering = style.set_in(style.label, italic=True)
    box = window or reach_of(shape)
    found: list[Words | None] = []
    if window is None:
        found.append(_right(right, box, lettering, crossed.right) if ends else None)
    found.append(
        _level(top, box, lettering, crossed.top, box.top + _OFF + lettering.descent)
        or _over_end(top, box, lettering)
    )
    if ends and box.height >= style.label + 2.5:
        found.append(_left(left, box, lettering, crossed.left))
    if box.width >= figure_width(bottom, lettering) + 1.5:
        low = box.bottom - _OFF - style.label
        found.append(_level(bottom, box, lettering, crossed.bottom, low))
    return tuple(name for name in found if name is not None)


def _level(
    figure: Figure, box: Extent, lettering: Lettering, crossed: tuple[float, ...], base: float
) -> Words | None:
    x = _clear((box.left, box.right), crossed, figure_width(figure, lettering) / 2)
    return None if x is None else Words(figure, (x, base), lettering, Anchor.MIDDLE)


def _over_end(figure: Figure, box: Extent, lettering: Lettering) -> Words:
    """Return the top name where it must cross something: at the left end of the edge."""
    return Words(figure, (box.left, box.top + _OFF + lettering.descent), lettering)


def _clear(span: tuple[float, float], crossed: tuple[float, ...], half: float) -> float | None:
    """Return a place along an edge, the middle if may be, for a name of 2·`half` mm."""
    places = [span[0] + share * (span[1] - span[0]) for share in _SHARES]
    # Where lines cross, a name keeps between the ends of its edge; the rest are lines as well.
    kept = [p for p in places if not crossed or (p - half >= span[0] and p + half <= span[1])]
    free = (p for p in kept if all(abs(p - other) > half + 0.8 for other in crossed))
    return next(free, None)


def _is_upright(figure: Figure, box: Extent, lettering: Lettering) -> bool:
    return box.height >= figure_width(figure, lettering) + 1


def _left(
    figure: Figure, box: Extent, lettering: Lettering, crossed: tuple[float, ...]
) -> Words | None:
    if _is_upright(figure, box, lettering):
        middle = _clear((box.bottom, box.top), crossed, figure_width(figure, lettering) / 2)
        at = (box.left - _OFF - lettering.descent, middle or 0.0)
        words = Words(figure, at, lettering, Anchor.MIDDLE, upright=True)
        return None if middle is None else words
    middle = _clear((box.bottom, box.top), crossed, lettering.height / 2)
    if middle is None:
        return None
    return Words(figure, (box.left - _OFF, middle - lettering.height / 2), lettering, Anchor.END)


def _right(
    figure: Figure, box: Extent, lettering: Lettering, crossed: tuple[float, ...]
) -> Words | None:
    """Return the right-hand name, beside its edge where no leader crosses it."""
    if not _is_upright(figure, box, lettering):
        at = (box.right + _OFF, (box.bottom + box.top - lettering.height) / 2)
        return Words(figure, at, lettering)
    y = _clear((box.bottom, box.top), crossed, figure_width(figure, lettering) / 2)
    if y is None:
        return None
    at = (box.right + _OFF + lettering.height, y)
    return Words(figure, at, lettering, Anchor.MIDDLE, upright=True)
