"""The names of a template's edges.

In: a shape, and where leaders cross its right edge and its top edge.  Out: small words just
outside the edges, so that the maker knows which edge is which.
"""

from patternpress.assembly.shape import EDGES, Shape
from patternpress.drawing.features import extent_of
from patternpress.drawing.ink import Anchor, Extent, Words
from patternpress.drawing.lettering import Lettering, figure_width, words
from patternpress.drawing.style import DrawingStyle
from patternpress.measure.pieces import Figure

_OFF = 1.5  # mm from an edge to its name
_SHARES = (0.5, 0.25, 0.75, 0.12, 0.88)  # along an edge, tried in this order


def edge_names(
    shape: Shape,
    style: DrawingStyle,
    levels: tuple[float, ...] = (),
    columns: tuple[float, ...] = (),
) -> tuple[Words, ...]:
    """Return the names of the edges, clear of leaders at `levels` and `columns`.

    Those at the left and at the bottom, where the dimensions are, are left out of a part too
    small to hold them between its extension lines; the other two say enough.
    """
    left, right, bottom, top = (words(style.say(face.value)) for face in EDGES[shape.view])
    lettering = style.set_in(style.label, italic=True)
    box = extent_of(shape.outline)
    middle = (box.left + box.right) / 2
    found = [_right(right, box, lettering, levels), _top(top, box, lettering, columns)]
    if box.height >= style.label + 2.5:
        found.append(_left(left, box, lettering))
    if box.width >= figure_width(bottom, lettering) + 1.5:
        at = (middle, box.bottom - _OFF - style.label)
        found.append(Words(bottom, at, lettering, Anchor.MIDDLE))
    return tuple(found)


def _top(figure: Figure, box: Extent, lettering: Lettering, columns: tuple[float, ...]) -> Words:
    x = _clear((box.left, box.right), columns, figure_width(figure, lettering) / 2)
    return Words(figure, (x, box.top + _OFF + lettering.descent), lettering, Anchor.MIDDLE)


def _clear(span: tuple[float, float], crossed: tuple[float, ...], half: float) -> float:
    """Return a place along an edge, the middle if may be, for a name of 2·`half` mm."""
    places = [span[0] + share * (span[1] - span[0]) for share in _SHARES]
    free = [p for p in places if all(abs(p - other) > half + 1 for other in crossed)]
    return (free or places)[0]


def _is_upright(figure: Figure, box: Extent, lettering: Lettering) -> bool:
    return box.height >= figure_width(figure, lettering) + 1


def _left(figure: Figure, box: Extent, lettering: Lettering) -> Words:
    middle = (box.bottom + box.top) / 2
    if _is_upright(figure, box, lettering):
        at = (box.left - _OFF - lettering.descent, middle)
        return Words(figure, at, lettering, Anchor.MIDDLE, upright=True)
    at = (box.left - _OFF, middle - lettering.height / 2)
    return Words(figure, at, lettering, Anchor.END)


def _right(figure: Figure, box: Extent, lettering: Lettering, levels: tuple[float, ...]) -> Words:
    """Return the right-hand name, beside its edge where no leader crosses it."""
    if not _is_upright(figure, box, lettering):
        at = (box.right + _OFF, (box.bottom + box.top - lettering.height) / 2)
        return Words(figure, at, lettering)
    y = _clear((box.bottom, box.top), levels, figure_width(figure, lettering) / 2)
    at = (box.right + _OFF + lettering.height, y)
    return Words(figure, at, lettering, Anchor.MIDDLE, upright=True)
