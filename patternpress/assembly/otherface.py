"""Corners that are cut off a strip as one looks at a face that its template does not show.

In: a `CutPart` and a solver.  Out: which of its corners those are; the wood that goes, as `Cut`s.
A leg that tapers on two faces from below its rails has one such corner on either.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from fractions import Fraction

from patternpress.assembly.blank import CutOff, Notch
from patternpress.assembly.broadface import on_other_face
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.outlines import polygon
from patternpress.assembly.shape import EDGES, Outline, Point
from patternpress.assembly.sizes import SIDE_AXIS, Solver
from patternpress.assembly.specs import spec_of
from patternpress.design.records.parts import Part


def corner_outlines(part: CutPart, axis: str, solver: Solver) -> Iterator[Outline]:
    """What is cut off a strip as one looks along an axis, other than that of its template."""
    said = tuple(
        (sides, trim)
        for sides, trim in part.part.corners
        if on_other_face(part, sides.value, trim.how)
        and axis not in (SIDE_AXIS[each] for each in sides.value)
    )
    bare = Part(name=part.part.name, span=part.part.span, stock=part.part.stock, corners=said)
    spec, _ = spec_of(replace(part, part=bare, thin=axis), solver, ())
    if not said or spec is None:
        return
    for (across, up), how in spec.corners.items():
        if isinstance(how, CutOff | Notch):
            low_x, _, low_y, _ = EDGES[spec.view]
            x, to_x = (Fraction(0), how.x) if across is low_x else (spec.width, -how.x)
            y, to_y = (Fraction(0), how.y) if up is low_y else (spec.height, -how.y)
            yield _outside(x, y, to_x, to_y, isinstance(how, CutOff))


def _outside(x: Fraction, y: Fraction, to_x: Fraction, to_y: Fraction, straight: bool) -> Outline:
    """A triangle or rectangle that takes a corner at x, y away, and reaches past the wood."""
    out = Point(x - to_x, y - to_y)
    if straight:
        ring = [out, Point(x + 2 * to_x, y - to_y), Point(x - to_x, y + 2 * to_y)]
    else:
        far = Point(x + to_x, y + to_y)
        ring = [out, Point(far.x, out.y), far, Point(out.x, far.y)]
    return polygon(*(ring if (to_x > 0) == (to_y > 0) else [ring[0], *ring[:0:-1]]))
