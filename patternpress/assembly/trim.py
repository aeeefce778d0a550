"""Cut a shape from its blank.

In: a ShapeSpec.  Out: the exact Shape, or every ShapeError that a saw and a drill would meet.
Lengths stay exact wherever the geometry is rational; the rest is settled once to 1e-12 mm.
"""

from dataclasses import replace
from fractions import Fraction

from patternpress.assembly.blank import Corner, GrooveRun, Round, ShapeSpec
from patternpress.assembly.bows import round_bow
from patternpress.assembly.corners import Cut, Meeting, cut_corner, distance
from patternpress.assembly.freehand import free_outline
from patternpress.assembly.openings import hole
from patternpress.assembly.outlines import without_stops
from patternpress.assembly.roots import settle
from patternpress.assembly.shape import (
    Arc,
    Axis,
    Face,
    Groove,
    Outline,
    Point,
    Segment,
    Shape,
    ShapeError,
)
from patternpress.assembly.sides import Side, sides
from patternpress.assembly.soundness import faults_of
from patternpress.assembly.turning import moved

ZERO = Fraction(0)


def trim(spec: ShapeSpec) -> Shape:
    """Return the shape cut from a blank.

    Raises the first ShapeError of `faults`.
    """
    shape, found = trim_all(spec)
    if shape is None or found:
        raise found[0]
    return shape


def faults(spec: ShapeSpec) -> tuple[ShapeError, ...]:
    """Return everything that cannot be cut, the outline's faults first."""
    return trim_all(spec)[1]


def trim_all(spec: ShapeSpec) -> tuple[Shape | None, tuple[ShapeError, ...]]:
    """Return the shape, or None if not even an outline could be made, and all faults."""
    try:
        outline = outline_of(spec)
    except ShapeError as error:
        return None, (error,)
    holes, found = [], []
    for opening in spec.holes:
        try:
            holes.append(hole(opening))
        except ShapeError as error:
            found.append(error)
    grooves = tuple(_groove(run, spec) for run in spec.grooves)
    shape = Shape(spec.view, spec.width, spec.height, outline, tuple(holes), grooves, spec.marks)
    beyond = any(each.middle for each in spec.angled.values())
    return shape, (*found, *faults_of(shape, beyond))


def outline_of(spec: ShapeSpec) -> Outline:
    """Return the outline alone, anticlockwise.

    Raises ShapeError: "blank-without-size", "path-and-corners", "corners-overlap",
    "corner-on-curve" and those of `sides`, `cut_corner` and `free_outline`.
    """
    if spec.width <= 0 or spec.height <= 0:
        raise ShapeError("blank-without-size", width=spec.width, height=spec.height)
    if spec.path is None:
        return _settled(_cornered(spec))
    if spec.corners or spec.edges or spec.angled:
        raise ShapeError("path-and-corners")
    return _settled(free_outline(spec.path, spec.width, spec.height))


def _settled(outline: Outline) -> Outline:
    return moved(outline, lambda point: Point(settle(point.x), settle(point.y)))


def _cornered(spec: ShapeSpec) -> Outline:
    four = sides(spec)
    cuts = tuple(_cut(spec, four, index) for index in range(4))
    segments: list[Segment] = []
    for index, side in enumerate(four):
        begin, end = cuts[index], cuts[(index + 1) % 4]
        _refuse_overlap(side, begin, end)
        *first, last = side.segments
        segments += [*first, replace(last, to=end.end), *end.across]
    return without_stops(Outline(cuts[0].begin, tuple(segments)))


def _refuse_overlap(side: Side, begin: Cut, end: Cut) -> None:
    """Refuse corner cuts that together use up more than the straight of a side."""
    places = (side.start, *(segment.to for segment in side.segments))
    straight = [not isinstance(segment, Arc) for segment in side.segments]
    if len(straight) == 1 and straight[0]:
        room = [(begin.after + end.before, distance(*places))]
    else:
        # With an arch between them each cut has its own piece; a whole arch has its own rule.
        room = [(begin.after, distance(*places[:2]))] if straight[0] else []
        room += [(end.before, distance(*places[-2:]))] if straight[-1] else []
    for needs, has in room:
        if needs > has:
            facts = {"needs": settle(needs), "has": settle(has), "over": settle(needs - has)}
            raise ShapeError("corners-overlap", edge=side.face, **facts)


def _cut(spec: ShapeSpec, four: tuple[Side, ...], index: int) -> Cut:
    """Return the cut at the corner where side `index` begins."""
    before, after = four[index - 1], four[index]
    how = _treatment(spec, before.face, after.face)
    corner = after.start
    if how is None:
        return Cut(corner, (), corner)
    if before.bow or after.bow:
        if isinstance(how, Round) and not (before.bow and after.bow):
            return round_bow(before, after, how.radius)
        raise ShapeError("corner-on-curve", corner=f"{before.face} {after.face}")
    last_start = (before.start, *(s.to for s in before.segments))[-2]
    first = after.segments[0]
    if isinstance(before.segments[-1], Arc) or isinstance(first, Arc):
        raise ShapeError("corner-on-curve", corner=f"{before.face} {after.face}")
    return cut_corner(Meeting(last_start, corner, first.to), how)


def _treatment(spec: ShapeSpec, one: Face, two: Face) -> Corner | None:
    return spec.corners.get((one, two)) or spec.corners.get((two, one))


def _groove(run: GrooveRun, spec: ShapeSpec) -> Groove:
    length = spec.width if run.along is Axis.X else spec.height
    start = ZERO if run.start is None else run.start
    stop = length if run.stop is None else run.stop
    low, high = Point(start, run.at), Point(stop, run.at + run.width)
    if run.along is Axis.Y:
        low, high = Point(low.y, low.x), Point(high.y, high.x)
    return Groove(
        run.name, run.along, low, high, run.depth, run.far, run.start is None, run.stop is None
    )
