"""Free outlines: lines, arcs and smooth curves through an author's points.

In: a Path in the blank of a ShapeSpec.  Out: an Outline, anticlockwise, mirrored if asked.
"""

from collections.abc import Iterator
from fractions import Fraction
from itertools import pairwise

from patternpress.assembly.blank import ArcOfRadius, ArcThrough, CurveThrough, LineTo, Path, Step
from patternpress.assembly.outlines import area, polygon
from patternpress.assembly.roots import root, settle
from patternpress.assembly.shape import Arc, Axis, Line, Outline, Point, Segment, ShapeError
from patternpress.assembly.splines import smooth
from patternpress.assembly.turning import mirrored, reversed_outline


def free_outline(path: Path, width: Fraction, height: Fraction) -> Outline:
    """Return the closed outline of a path in a blank of `width` by `height` mm.

    Raises ShapeError: "path-too-short", "step-goes-nowhere", "radius-too-small",
    "arc-points-in-line", "no-area".
    """
    if not path.steps:
        raise ShapeError("path-too-short")
    middle = (width if path.mirrored is Axis.X else height) / 2
    path = _off_fold(path, middle)
    half = Outline(path.start, tuple(_segments(path, _walks_anticlockwise(path, middle))))
    outline = _closed(half if path.mirrored is None else _doubled(half, middle, path.mirrored))
    enclosed = area(outline)
    if enclosed == 0:
        raise ShapeError("no-area")
    return outline if enclosed > 0 else reversed_outline(outline)


def _off_fold(path: Path, middle: Fraction) -> Path:
    """A half without the lines along the middle that its author drew round it: they are no edge."""
    start, steps = path.start, list(path.steps)

    def folds(here: Point, step: Step) -> bool:
        ends = (here, _end(step))
        on = all((p.x if path.mirrored is Axis.X else p.y) == middle for p in ends)
        return isinstance(step, LineTo) and on and len(steps) > 1

    while path.mirrored is not None and folds(start, steps[0]):
        start = _end(steps.pop(0))
    while path.mirrored is not None and folds(_end(steps[-2]) if steps[1:] else start, steps[-1]):
        steps.pop()
    return Path(start, tuple(steps), path.mirrored)


def _end(step: Step) -> Point:
    return step.points[-1] if isinstance(step, CurveThrough) else step.to


def _closed(line: Outline) -> Outline:
    if line.segments[-1].to == line.start:
        return line
    return Outline(line.start, (*line.segments, Line(line.start)))


def _doubled(half: Outline, middle: Fraction, across: Axis) -> Outline:
    """Return the half and then its mirror image walked back, joined by a straight line."""
    image = mirrored(half, middle, across)
    bridge = () if image.start == half.segments[-1].to else (Line(image.start),)
    return Outline(half.start, (*half.segments, *bridge, *image.segments))


def _corner_points(path: Path) -> Iterator[Point]:
    yield path.start
    for step in path.steps:
        if isinstance(step, CurveThrough):
            yield from step.points
        elif isinstance(step, ArcThrough):
            yield step.through
            yield step.to
        else:
            yield step.to


def _walks_anticlockwise(path: Path, middle: Fraction) -> bool:
    """Say which way round the path goes, judged by its points; a straight one counts as yes."""
    half = polygon(*_corner_points(path))
    open_half = Outline(half.start, half.segments[:-1])
    if path.mirrored is not None and open_half.segments:
        open_half = _doubled(open_half, middle, path.mirrored)
    return area(_closed(open_half)) >= 0


def _segments(path: Path, anticlockwise: bool) -> Iterator[Segment]:
    here = path.start
    for step in path.steps:
        found = tuple(_step_segments(here, step, anticlockwise))
        yield from found
        here = found[-1].to


def _step_segments(here: Point, step: Step, anticlockwise: bool) -> tuple[Segment, ...]:
    if isinstance(step, CurveThrough):
        if not step.points or any(one == two for one, two in pairwise((here, *step.points))):
            raise ShapeError("step-goes-nowhere", x=here.x, y=here.y)
        return smooth((here, *step.points), step.leaving, step.arriving)
    if step.to == here:
        raise ShapeError("step-goes-nowhere", x=here.x, y=here.y)
    if isinstance(step, LineTo):
        return (Line(step.to),)
    if isinstance(step, ArcThrough):
        return (_through(here, step),)
    return (_of_radius(here, step, anticlockwise),)


def _through(here: Point, step: ArcThrough) -> Arc:
    """Return the arc through three points: its centre is rational, from two bisectors."""
    ax, ay = step.through.x - here.x, step.through.y - here.y
    bx, by = step.to.x - here.x, step.to.y - here.y
    twice_area = ax * by - ay * bx
    if twice_area == 0:
        raise ShapeError("arc-points-in-line", x=step.through.x, y=step.through.y)
    a, b = ax * ax + ay * ay, bx * bx + by * by
    centre = Point(
        here.x + (by * a - ay * b) / (2 * twice_area),
        here.y + (ax * b - bx * a) / (2 * twice_area),
    )
    return Arc(step.to, centre, anticlockwise=twice_area > 0)


def _of_radius(here: Point, step: ArcOfRadius, anticlockwise: bool) -> Arc:
    """Return the shorter arc of a radius; its centre lies root(r²/c² - 1/4)·c off the chord."""
    across, up = step.to.x - here.x, step.to.y - here.y
    chord = across * across + up * up
    if step.radius <= 0 or 4 * step.radius**2 < chord:
        raise ShapeError("radius-too-small", radius=step.radius, least=settle(root(chord) / 2))
    off = root(step.radius**2 / chord - Fraction(1, 4))
    # An anticlockwise arc shorter than a half turn has its centre to the left of its chord.
    left = anticlockwise if step.outward else not anticlockwise
    side = off if left else -off
    middle = Point((here.x + step.to.x) / 2, (here.y + step.to.y) / 2)
    centre = Point(settle(middle.x - up * side), settle(middle.y + across * side))
    return Arc(step.to, centre, anticlockwise=left)
