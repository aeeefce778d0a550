"""Round the corner between an arched edge and a straight one.

In: the two sides and a radius.  Out: the same `Cut` as for any other corner.
"""

from fractions import Fraction

from patternpress.assembly.corners import Cut
from patternpress.assembly.roots import root
from patternpress.assembly.shape import Arc, Face, Point, ShapeError
from patternpress.assembly.sides import Side

ZERO = Fraction(0)


def round_bow(before: Side, after: Side, radius: Fraction) -> Cut:
    """Return the fillet between an arch and the straight side beside it.

    Its centre lies `radius` from the straight side and (arch radius - radius) from the
    arch's centre; it touches the arch on the line through both centres.
    Raises ShapeError "corners-overlap" if it would pass the arch's crown.
    """
    bowed = after if after.bow else before
    arc = bowed.segments[0]
    if not isinstance(arc, Arc) or bowed.bow is None:
        raise ValueError("neither side is an arch from end to end")
    along, base = _in_frame(bowed, after.start)
    middle, level = _in_frame(bowed, arc.centre)
    half = abs(middle - along)
    if radius > half or radius >= bowed.bow:
        raise ShapeError("corners-overlap", edge=bowed.face, over=radius - half)
    inner = along + (radius if middle > along else -radius)
    off = root((bowed.bow - radius) ** 2 - (middle - inner) ** 2)
    height = level + (off if bowed.face in (Face.TOP, Face.BACK, Face.RIGHT) else -off)
    grown = bowed.bow / (bowed.bow - radius)
    touch = _in_frame(
        bowed, Point(middle + (inner - middle) * grown, level + (height - level) * grown)
    )
    on_side = Point(*_in_frame(bowed, Point(along, height)))
    centre = Point(*_in_frame(bowed, Point(inner, height)))
    used = abs(height - base)
    if bowed is after:
        return Cut(on_side, (Arc(Point(*touch), centre, True),), Point(*touch), used, ZERO)
    return Cut(Point(*touch), (Arc(on_side, centre, True),), on_side, ZERO, used)


def _in_frame(side: Side, point: Point) -> tuple[Fraction, Fraction]:
    """Return a point as (along the side, beyond it), or back again."""
    return (point.x, point.y) if side.across else (point.y, point.x)
