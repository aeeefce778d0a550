"""What lines and signs mean: the key at the foot of a page of templates.

In: the signs that a page uses.  Out: rows of samples, each with its words.  Every sign differs by
its form, never by colour or grey alone.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from enum import StrEnum
from itertools import pairwise

from patternpress.assembly.shape import Axis
from patternpress.drawing.grain import bare_arrows
from patternpress.drawing.ink import Extent, Ink, Place, Stroke, Words, shifted, straight
from patternpress.drawing.lettering import figure_width, words
from patternpress.drawing.style import DrawingStyle

SAMPLE = 7.0  # mm, length of a sample
_GAP, _APART, _ROW = 1.4, 4.0, 4.4
_EVERY = 2.4  # mm from sign to sign along an edge


class Sign(StrEnum):
    """A line or sign on a template, in the order of the key."""

    CUT = "cut"
    OPENING = "opening"
    TRIM = "trim"
    LAP = "lap"
    POINT = "point"
    FOLD = "fold"
    MARK = "mark"
    GROOVE = "groove"
    FAR = "far"
    CENTRE = "centre"
    ROUND = "round over"
    CHAMFER = "chamfer"
    EASE = "ease"
    BARE = "leave bare"
    RESIST = "resist"
    GRAIN = "grain"


def key_ink(signs: Iterable[Sign], width: float, most: int, style: DrawingStyle) -> tuple[Ink, ...]:
    """Return the key of the signs in at most `most` rows of `width` mm, the first row on top.

    The ink's lower left corner is the origin; signs that find no room are left out from the end.
    """
    lettering = style.set_in(style.label)
    found: list[Ink] = []
    x, row = 0.0, 0
    for sign in sorted(set(signs), key=list(Sign).index):
        figure = words(style.say(f"key {sign.value}"))
        long = SAMPLE + _GAP + figure_width(figure, lettering)
        if x and x + long > width:
            x, row = 0.0, row + 1
        if row == most:
            break
        base = (most - 1 - row) * _ROW
        found += shifted(sample(sign, style), x, base + style.label / 2)
        found.append(Words(figure, (x + SAMPLE + _GAP, base), lettering))
        x += long + _APART
    return tuple(found)


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
    middle = SAMPLE / 2
    if sign is Sign.GROOVE:
        return _groove(style)
    if sign is Sign.GRAIN:
        return shifted(bare_arrows(Axis.X, 30.0, style)[1].ink, -0.5, -0.5)
    if sign is Sign.CENTRE:
        cross = (straight((middle - 1.6, 0), (middle + 1.6, 0)),)
        return (Stroke((*cross, straight((middle, -1.6), (middle, 1.6))), style.fine),)
    if sign is Sign.POINT:
        return target((middle, 0.0), style)
    return edge_sign(sign, ((0.0, -1.0), (SAMPLE, -1.0)), style)


def _groove(style: DrawingStyle) -> tuple[Ink, ...]:
    box = Extent(0.0, -1.0, SAMPLE, 1.0)
    sides = [straight((0, y), (SAMPLE, y)) for y in (box.bottom, box.top)]
    hatch = [straight((x, -1.0), (x + 2.0, 1.0)) for x in (0.5, 2.5, 4.5)]
    return Stroke(tuple(sides), style.mark), Stroke(tuple(hatch), style.fine)


def target(middle: tuple[float, float], style: DrawingStyle) -> tuple[Stroke, ...]:
    """Return a cross in a square: a point to measure from."""
    x, y = middle
    lines = (straight((x - 2, y), (x + 2, y)), straight((x, y - 2), (x, y + 2)))
    square = straight((x - 1, y - 1), (x + 1, y - 1), (x + 1, y + 1), (x - 1, y + 1), closed=True)
    return (Stroke((*lines, square), style.fine),)


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
    return (Stroke(tuple(tracks), style.fine),)


# Each in mm along the edge and into the part.
_SHAPES: dict[Sign, tuple[tuple[tuple[float, float], ...], ...]] = {
    Sign.ROUND: (((-0.9, 0.6), (-0.6, 1.1), (0.0, 1.4), (0.6, 1.1), (0.9, 0.6)),),
    Sign.CHAMFER: (((-0.7, 0.6), (0.7, 1.6)),),
    Sign.EASE: (((0.0, 0.6), (0.0, 1.4)),),
    Sign.BARE: (((-0.5, 0.6), (0.5, 1.6)), ((-0.5, 1.6), (0.5, 0.6))),
    Sign.RESIST: (((-0.5, 1.1), (0.0, 0.6), (0.5, 1.1), (0.0, 1.6), (-0.5, 1.1)),),
}
