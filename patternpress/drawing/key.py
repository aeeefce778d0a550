"""What lines and signs mean: the key at the foot of a page of templates.

In: the ink of a page.  Out: the signs it shows, and rows of samples, each with its words.  Every
sign differs by its form, never by colour or grey alone.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from itertools import pairwise

from patternpress.assembly.shape import Axis
from patternpress.drawing.dimensions import origin_ring
from patternpress.drawing.grain import bare_arrows
from patternpress.drawing.ink import Extent, Ink, Place, Stroke, Words, shifted, straight
from patternpress.drawing.lettering import figure_width, words
from patternpress.drawing.lines import Pen
from patternpress.drawing.signs import Sign
from patternpress.drawing.style import DrawingStyle

SAMPLE = 7.0  # mm, length of a sample
ROW = 4.4  # mm from row to row
_GAP, _APART = 1.4, 4.0
_EVERY = 2.4  # mm from sign to sign along an edge

Rows = tuple[tuple[Sign, ...], ...]


def signs_in(inks: Iterable[Ink]) -> frozenset[Sign]:
    """Return the signs that some ink shows."""
    return frozenset(ink.sign for ink in inks if isinstance(ink, Stroke) and ink.sign)


def key_rows(signs: Iterable[Sign], widths: Sequence[float], style: DrawingStyle) -> Rows | None:
    """Return signs in rows of such widths in mm, from the top; None if they do not all fit."""
    rows: list[tuple[Sign, ...]] = [() for _ in widths]
    row, x = 0, 0.0
    for sign in sorted(set(signs), key=list(Sign).index):
        long = _length(sign, style)
        while row < len(rows) and x + long > widths[row]:
            row, x = row + 1, 0.0
        if row == len(rows):
            return None
        rows[row] += (sign,)
        x += long + _APART
    return tuple(rows)


def key_ink(rows: Rows, style: DrawingStyle) -> tuple[Ink, ...]:
    """Return the key, the first row on top; its lower left corner is the origin."""
    lettering = style.set_in(style.label)
    found: list[Ink] = []
    for number, row in enumerate(reversed(rows)):
        x, base = 0.0, number * ROW
        for sign in row:
            figure = words(style.say(f"key {sign.value}"))
            found += shifted(sample(sign, style), x, base + style.label / 2)
            found.append(Words(figure, (x + SAMPLE + _GAP, base), lettering))
            x += _length(sign, style) + _APART
    return tuple(found)


def _length(sign: Sign, style: DrawingStyle) -> float:
    figure = words(style.say(f"key {sign.value}"))
    return SAMPLE + _GAP + figure_width(figure, style.set_in(style.label))


def sample(sign: Sign, style: DrawingStyle) -> tuple[Ink, ...]:
    """Return a sample of a sign, `SAMPLE` mm long, its middle line on y = 0."""
    line = straight((0.0, 0.0), (SAMPLE, 0.0))
    pens = {
        Sign.CUT: style.cut,
        Sign.MARK: style.mark,
        Sign.FAR: style.hidden,
        Sign.FOLD: style.centre,
        Sign.OPENING: style.opening,
        Sign.TRIM: style.trim,
        Sign.LAP: style.lap,
    }
    if sign in pens:
        return (Stroke((line,), pens[sign]),)
    if sign in _SHAPES:
        return edge_sign(sign, ((0.0, -1.0), (SAMPLE, -1.0)), style)
    return _SAMPLES[sign](style)


def _cross(reach: float, pen: Pen) -> tuple[Ink, ...]:
    middle = SAMPLE / 2
    level = straight((middle - reach, 0.0), (middle + reach, 0.0))
    return (Stroke((level, straight((middle, -reach), (middle, reach))), pen),)


def _groove(style: DrawingStyle) -> tuple[Ink, ...]:
    box = Extent(0.0, -1.0, SAMPLE, 1.0)
    sides = [straight((0, y), (SAMPLE, y)) for y in (box.bottom, box.top)]
    hatch = [straight((x, -1.0), (x + 2.0, 1.0)) for x in (0.5, 2.5, 4.5)]
    return Stroke(tuple(sides), style.mark), Stroke(tuple(hatch), style.fine)


def _match(style: DrawingStyle) -> tuple[Ink, ...]:
    """Half of a seam's diamond beside one of its crosses."""
    half = straight((0.2, -0.8), (1.9, 0.9), (3.6, -0.8))
    cross = (straight((4.2, 0), (6.8, 0)), straight((5.5, -1.3), (5.5, 1.3)))
    return (Stroke((half, *cross), style.fine),)


def target(middle: tuple[float, float], style: DrawingStyle) -> tuple[Stroke, ...]:
    """Return a cross in a square: a point to measure from."""
    x, y = middle
    lines = (straight((x - 2, y), (x + 2, y)), straight((x, y - 2), (x, y + 2)))
    square = straight((x - 1, y - 1), (x + 1, y - 1), (x + 1, y + 1), (x - 1, y + 1), closed=True)
    return (Stroke((*lines, square), style.fine, sign=Sign.CORNER),)


def edge_sign(sign: Sign, path: Sequence[Place], style: DrawingStyle) -> tuple[Ink, ...]:
    """Return the sign of what is done to an edge: small shapes just to the left of its path.

    Round over: arcs; chamfer: slanted strokes; ease: short strokes; leave bare: crosses; glue
    smeared on: rings.  An outline runs anticlockwise, so that its left is the part.
    """
    points = [complex(*place) for place in path]
    lengths = [abs(to - start) for start, to in pairwise(points)]
    count = max(1, int(sum(lengths) / _EVERY))
    tracks = []
    for index in range(count):
        far = (index + 0.5) * sum(lengths) / count
        leg = 0
        while leg < len(lengths) - 1 and far > lengths[leg]:
            far -= lengths[leg]
            leg += 1
        along = (points[leg + 1] - points[leg]) / lengths[leg]
        middle = points[leg] + along * far
        for shape in _SHAPES[sign]:
            placed = [middle + along * complex(*place) for place in shape]
            tracks.append(straight(*((place.real, place.imag) for place in placed)))
    return (Stroke(tuple(tracks), style.fine, sign=sign),)


# Each in mm along the edge and into the part.
_SHAPES: dict[Sign, tuple[tuple[tuple[float, float], ...], ...]] = {
    Sign.ROUND: (((-0.9, 0.6), (-0.6, 1.1), (0.0, 1.4), (0.6, 1.1), (0.9, 0.6)),),
    Sign.CHAMFER: (((-0.7, 0.6), (0.7, 1.6)),),
    Sign.EASE: (((0.0, 0.6), (0.0, 1.4)),),
    Sign.BARE: (((-0.5, 0.6), (0.5, 1.6)), ((-0.5, 1.6), (0.5, 0.6))),
    Sign.RESIST: (((-0.5, 1.1), (0.0, 0.6), (0.5, 1.1), (0.0, 1.6), (-0.5, 1.1)),),
}

_SAMPLES: dict[Sign, Callable[[DrawingStyle], tuple[Ink, ...]]] = {
    Sign.GROOVE: _groove,
    Sign.GRAIN: lambda style: shifted(bare_arrows(Axis.X, 30.0, style)[1].ink, -0.5, -0.5),
    Sign.CENTRE: lambda style: _cross(1.6, style.fine),
    Sign.POINT: lambda style: _cross(1.0, style.mark),
    Sign.CORNER: lambda style: target((SAMPLE / 2, 0.0), style),
    Sign.MATCH: _match,
    Sign.ORIGIN: lambda style: (origin_ring((SAMPLE / 2, 0.0), style),),
}
