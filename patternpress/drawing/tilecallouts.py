"""What a tiled template says of its features besides their names and sizes.

In: a part as one hand has it.  Out: callouts with distances from an edge and radii: joined sheets
are too large to be sure of by looking, and a rule held to the joined template tells.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence
from fractions import Fraction

from patternpress.assembly.outlines import bounding_box
from patternpress.assembly.shape import EDGES, Axis, MarkPoint
from patternpress.drawing.callouts import Callout, callouts
from patternpress.drawing.features import Feature, radii
from patternpress.drawing.ink import Extent
from patternpress.drawing.part import TemplatePart
from patternpress.drawing.style import DrawingStyle
from patternpress.measure.pieces import Figure, joined

_STRAIGHT = Fraction(1, 10**6)


def measured_callouts(
    part: TemplatePart,
    found: tuple[Feature, ...],
    style: DrawingStyle,
    window: Extent | None,
    short: Collection[str] = (),
    strips: Sequence[Extent] = (),
) -> tuple[Callout, ...]:
    """Return what is to be written of the features, with the radii of the outline.

    `short`: features without their distances, which have no room on the wood; `strips`: what
    sheets share.
    """
    said = dict(part.callouts)
    for name, far in distances(part, style):
        if name in said and said[name].pieces and name not in short:
            said[name] = joined(said[name], ", ", far)
    arcs = (each for each in radii(part.shape, strips) if each.name in said)
    return callouts((*found, *arcs), said, style, window)


def distances(part: TemplatePart, style: DrawingStyle) -> Iterator[tuple[str, Figure]]:
    """Yield how far grooves and pencil lines lie from the edge that is nearer to them.

    Only of those that run along an edge; one in the middle is measured from the left or below.
    """
    shape = part.shape
    box = bounding_box(shape.outline)
    spans = {Axis.X: (box.left, box.right), Axis.Y: (box.bottom, box.top)}
    sides = dict(zip((Axis.X, Axis.Y), (EDGES[shape.view][:2], EDGES[shape.view][2:]), strict=True))
    runs = [
        (groove.name, Axis.Y if groove.along is Axis.X else Axis.X, groove.low, groove.high)
        for groove in shape.grooves
    ]
    for mark in shape.marks:
        if not isinstance(mark, MarkPoint):
            level = abs(mark.start.y - mark.to.y) < _STRAIGHT
            if level or abs(mark.start.x - mark.to.x) < _STRAIGHT:
                runs.append((mark.name, Axis.Y if level else Axis.X, mark.start, mark.to))
    for name, axis, low, high in runs:
        ends = (low.x, high.x) if axis is Axis.X else (low.y, high.y)
        first, last = spans[axis]
        near, far = min(ends) - first, last - max(ends)
        side, away = (sides[axis][0], near) if near <= far else (sides[axis][1], far)
        if away > 0:
            shown = part.show(away)
            words = style.say("away", side=style.say(side.value), far="\0")
            before, _, after = words.partition("\0")
            yield name, joined(before, shown, after)
