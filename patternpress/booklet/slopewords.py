"""How ends that slant through the thickness are cut by a template, which shows one face.

In: a part and a `Wording`.  Out: a note for the ends whose far edge lies outside the outline, and
one for those where it lies inside: sawn square along the outline, the former lose their slope.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from fractions import Fraction

from markupsafe import Markup

from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.faceoutline import SEEN, SlantedEnd, slanted_ends
from patternpress.assembly.hands import mirror_images, shown_shape
from patternpress.assembly.shape import Shape
from patternpress.booklet.sidewords import side_as_it_stands, side_list
from patternpress.booklet.wording import Wording

MILLION = 10**6


def slope_notes(
    part: CutPart, plain: Shape, wording: Wording, *, twin: bool = False
) -> Iterator[Markup]:
    """Where to saw square first, and how far off the thick line the other face ends."""
    worked = wording.model.worked
    behind = shown_shape(part, plain, worked).view is not plain.view
    thing = next(iter(mirror_images(part, worked)), "") if twin else ""
    found: dict[Fraction, list[str]] = {}
    for end in slanted_ends(part, plain, worked.solver):
        if end.apart > SEEN:
            out = _outward(end) * (-1 if behind else 1)
            found.setdefault(out, []).append(side_as_it_stands(thing, end.side, part))
    for out, sides in sorted(found.items(), reverse=True):
        key = "template_slope_out" if out > 0 else "template_slope_in"
        said = {"sides": side_list(tuple(sides), wording), "far": wording.mm(abs(out))}
        yield wording.say(key, **said)


def _outward(end: SlantedEnd) -> Fraction:
    """How far the far face reaches past the near one, mm square to the edge, to a millionth."""
    apart = float(end.far.at - end.near.at) / math.hypot(end.near.x, end.near.y)
    return Fraction(round(apart * MILLION), MILLION)


__all__ = ["slope_notes"]
