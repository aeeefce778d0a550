"""From a part to the blank that its template shows.

In: a `CutPart`, its design and a solver.  Out: a `ShapeSpec` in the part's own frame, or
problems.  The template shows the broad face: wide × high from the front, deep × high from the
right (front edge at the left of the page), wide × deep from above.
"""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction

from patternpress.assembly import blank, broadface
from patternpress.assembly.broadface import (
    LOW_SIDES,
    NEAR_FACE,
    PAGE_AXES,
    VIEW_OF_THIN,
)
from patternpress.assembly.cutparts import GRAIN_AXIS, CutPart
from patternpress.assembly.levelends import level_ends
from patternpress.assembly.shape import Axis, Face, Mark, MarkLine, MarkPoint, Point
from patternpress.assembly.sizes import Solver
from patternpress.design import phrases
from patternpress.design.kinds import parts as kinds
from patternpress.design.phrases import OPPOSITE, EndCut, Offset, Position, Trim
from patternpress.design.problem import Problem
from patternpress.design.records.parts import Groove, Hole, Leg
from patternpress.design.records.parts import Mark as SaidMark
from patternpress.design.span import Said, Span
from patternpress.measure.formula import Formula
from patternpress.measure.quantity import Kind, Quantity


class Draft:
    """One part on its way to a blank: its page, its solver, and the problems so far."""

    def __init__(self, part: CutPart, solver: Solver) -> None:
        self.part = part
        self.solver = solver
        self.view = VIEW_OF_THIN[part.thin]
        self.axes = PAGE_AXES[self.view]
        self.size = tuple(part.extents[axis].value for axis in self.axes)
        self.problems: list[Problem] = []
        self.deep: list[Problem] = []  # what goes right through; it has a shape all the same

    def page_axis(self, side: str) -> int | None:
        """0 for a side across the page, 1 for one up it, None for a face of the part."""
        axis = next(a for a, low in LOW_SIDES.items() if side in (low, OPPOSITE[low]))
        return self.axes.index(axis) if axis in self.axes else None

    def length(self, said: Said[Formula] | None) -> Fraction | None:
        """A length above or at nothing."""
        found = self.solver.value(said) if said else None
        return found.value if found else None

    def angle(self, said: Said[Formula] | None) -> Fraction | None:
        """An angle in degrees."""
        found = self.solver.value(said, Kind.ANGLE) if said else None
        return found.value if found else None

    def not_here(self, side: str, span: Span) -> None:
        """Report a side that the broad face does not have."""
        edges = ", ".join(f for a in self.axes for f in (LOW_SIDES[a], OPPOSITE[LOW_SIDES[a]]))
        facts = {"part": f"“{self.part.name}”", "side": side, "edges": edges}
        facts["strip"] = broadface.ON_STRIPS if self.part.form == "strip" else ""
        self.problems.append(Problem(kinds.NotOnFace, span, facts))

    def along(self, offset: Offset, span: Span) -> tuple[int, Fraction] | None:
        """The page axis of an offset and the coordinate that it comes to."""
        axis = self.page_axis(offset.side)
        far = self.length(offset.distance)
        if axis is None:
            self.not_here(offset.side, span)
            return None
        if far is None:
            return None
        low = offset.side in LOW_SIDES.values()
        return axis, far if low else self.size[axis] - far

    def point(self, position: Position, span: Span) -> Point | None:
        """A point on the face; directions that are not said are centred."""
        at = [self.size[0] / 2, self.size[1] / 2]
        for offset in position.offsets:
            found = self.along(offset, offset.distance.span or span)
            if found is None:
                return None
            at[found[0]] = found[1]
        return Point(at[0], at[1])


def spec_of(
    part: CutPart, solver: Solver, marks: tuple[SaidMark, ...]
) -> tuple[blank.ShapeSpec | None, tuple[Problem, ...]]:
    """The blank of a part with all that is done to it, or None after reporting."""
    if part.thin not in VIEW_OF_THIN or len(part.extents) < len(LOW_SIDES):
        return None, ()
    draft = Draft(part, solver)
    holes = tuple(each for hole in part.part.holes for each in _hole(draft, hole))
    grooves = tuple(each for groove in part.part.grooves for each in _groove(draft, groove))
    spec = blank.ShapeSpec(
        draft.view,
        draft.size[0],
        draft.size[1],
        corners=dict(_corners(draft)),
        edges=dict(_edges(draft)),
        angled=dict(_ends(draft)),
        path=_path(draft),
        holes=holes,
        grooves=grooves,
        marks=tuple(each for mark in marks for each in _mark(draft, mark)),
    )
    return (None if draft.problems else spec), (*draft.problems, *draft.deep)


def needs_template(part: CutPart, spec: blank.ShapeSpec, usual: str = "") -> bool:
    """Plain rectangles, and what is cut only after measuring, stay in the list unless asked for.

    `usual`: what the design says of all its templates.
    """
    if part.part.template:
        return part.part.template.value not in ("no", "none")
    if part.opening or usual == "none":
        return False
    return any(
        (
            *(spec.corners, spec.edges, spec.angled, spec.path),
            *(spec.holes, spec.grooves, spec.marks),
        )
    )


def _corners(draft: Draft) -> Iterator[tuple[tuple[Face, Face], blank.Corner]]:
    for sides, trim in draft.part.part.corners:
        axes = [draft.page_axis(side) for side in sides.value]
        if None in axes:
            if not broadface.on_other_face(draft.part, sides.value, trim.how):
                draft.not_here(sides.value[axes.index(None)], sides.span)
            continue  # one at the end of a strip is told in words
        across_first = axes[0] == 0
        x, y = sides.value if across_first else reversed(sides.value)
        made = _corner(draft, trim, across_first)
        if made:
            yield (Face(x), Face(y)), made


def _corner(draft: Draft, trim: Trim, across_first: bool) -> blank.Corner | None:
    sizes = [draft.length(each) for each in trim.sizes]
    kept = [each for each in sizes if each is not None]
    if len(kept) < len(sizes):
        return None
    first, second = kept[0], kept[-1]
    if trim.how == "round":
        return blank.Round(first)
    if trim.how == "hollow":
        return blank.Hollow(first)
    # The first size runs along the side that is named first: along “top” it is the x size.
    x, y = (second, first) if across_first else (first, second)
    return blank.Notch(x, y) if trim.how == "notch" else blank.CutOff(x, y)


def _edges(draft: Draft) -> Iterator[tuple[Face, blank.Arched | blank.Hollowed]]:
    for sides, trim in draft.part.part.edges:
        side = sides.value[0]
        if draft.page_axis(side) is None:
            draft.not_here(side, sides.span)
            continue
        rise = draft.length(trim.sizes[0])
        ends = [draft.along(each, sides.span) for each in trim.between]
        if rise is None or None in ends:
            continue
        places = sorted(each[1] for each in ends if each)
        start, stop = (places[0], places[1]) if len(places) == 2 else (None, None)
        shape = blank.Arched if trim.how == "arched" else blank.Hollowed
        yield Face(side), shape(rise, start, stop)


def _ends(draft: Draft) -> Iterator[tuple[Face, blank.Angled]]:
    for sides, cut in draft.part.part.ends:
        side = sides.value[0]
        for degrees, longest in _in_plane(draft, cut):
            angle = draft.angle(degrees) if draft.page_axis(side) is not None else None
            if angle is not None:
                yield Face(side), blank.Angled(angle, Face(longest))
    for side, angle, longest in level_ends(draft.part, draft.solver):
        yield Face(side), blank.Angled(angle, Face(longest), middle=True)


def _in_plane(draft: Draft, cut: EndCut) -> Iterator[tuple[Said[Formula], str]]:
    """The angles that show in the outline; those through the thickness are told in words."""
    for degrees, longest in cut.angles:
        if draft.page_axis(longest) is not None:
            yield degrees, longest


def _path(draft: Draft) -> blank.Path | None:
    part = draft.part.part
    if part.disc and part.disc.value == "yes":
        return _disc(draft)
    if not part.outline:
        return None
    if part.outline[0].start is None or any(leg.start for leg in part.outline[1:]):
        facts = {"part": f"“{draft.part.name}”"}
        draft.problems.append(Problem(kinds.OutlineStart, part.outline[0].span, facts))
        return None
    start = _pair(draft, part.outline[0].start)
    steps = [_leg(draft, leg) for leg in part.outline[1:]]
    kept = tuple(each for each in steps if each)
    if start is None or len(kept) < len(steps):
        return None
    mirrored = None
    if part.symmetrical:
        axis = {"left to right": "wide", "front to back": "deep"}.get(
            part.symmetrical.value, "high"
        )
        if axis not in draft.axes:
            draft.not_here(LOW_SIDES[axis], part.symmetrical.span)
            return None
        mirrored = Axis.X if draft.axes.index(axis) == 0 else Axis.Y
    return blank.Path(start, kept, mirrored)


def _disc(draft: Draft) -> blank.Path | None:
    width, height = draft.size
    if width != height:
        facts = {"part": f"“{draft.part.name}”", "fault": "a disc needs two equal sizes"}
        draft.problems.append(Problem(kinds.ShapeFault, draft.part.part.name.span, facts))
        return None
    half = width / 2
    right, left = Point(width, half), Point(Fraction(0), half)
    top, bottom = Point(half, height), Point(half, Fraction(0))
    return blank.Path(right, (blank.ArcThrough(top, left), blank.ArcThrough(bottom, right)))


def _pair(draft: Draft, pair: tuple[Said[Formula], ...]) -> Point | None:
    x, y = draft.length(pair[0]), draft.length(pair[1])
    return None if x is None or y is None else Point(x, y)


def _leg(draft: Draft, leg: Leg) -> blank.Step | None:
    to = _pair(draft, leg.line or leg.arc or leg.curve or ())
    passed = [_pair(draft, each) for each in leg.through]
    through = tuple(each for each in passed if each)
    if to is None or len(through) < len(passed):
        return None
    if leg.line:
        return blank.LineTo(to)
    if leg.curve:
        return blank.CurveThrough(
            (*through, to), draft.angle(leg.leaving), draft.angle(leg.arriving)
        )
    if through:
        return blank.ArcThrough(through[0], to)
    radius = draft.length(leg.radius)
    if radius is None:
        facts = {"part": f"“{draft.part.name}”", "fault": "an arc needs “through” or “radius”"}
        draft.problems.append(Problem(kinds.ShapeFault, leg.span, facts))
        return None
    outward = leg.bulging is None or leg.bulging.value == "outward"
    return blank.ArcOfRadius(to, radius, outward)


def _on_edge(draft: Draft, hole: Hole) -> bool:
    """Whether a hole is drilled into an edge, which the template does not show."""
    return hole.on is not None and draft.page_axis(hole.on.value[0]) is not None


def _hole(draft: Draft, hole: Hole) -> Iterator[blank.Opening]:
    if _on_edge(draft, hole):
        return
    centre = draft.point(hole.at, hole.span)
    deep = draft.length(hole.deep)
    sizes = [draft.length(each) for each in hole.slot or hole.window or (hole.round,) if each]
    kept = [each for each in sizes if each is not None]
    if centre is None or not kept or len(kept) < len(sizes):
        return
    _check_depth(draft, "hole", hole.deep)
    for name, at in _row(draft, hole, centre):
        yield _one_hole(draft, hole, name, at, kept, deep)


def _row(draft: Draft, hole: Hole, first: Point) -> Iterator[tuple[str, Point]]:
    """The names and centres of a hole and of those in a row with it."""
    yield hole.name.value, first
    if hole.row is None:
        return
    every, side = draft.length(hole.row.every), hole.row.toward.value[0]
    axis = draft.page_axis(side)
    if axis is None:
        draft.not_here(side, hole.row.toward.span)
        return
    step = (every or Fraction(0)) * (-1 if side in LOW_SIDES.values() else 1)
    for count, name in enumerate(hole.names[1:], 1):
        x, y = (count * step, Fraction(0)) if axis == 0 else (Fraction(0), count * step)
        yield name, Point(first.x + x, first.y + y)


def _one_hole(
    draft: Draft, hole: Hole, name: str, at: Point, sizes: list[Fraction], deep: Fraction | None
) -> blank.Opening:
    near = NEAR_FACE[draft.view]
    far = deep is not None and hole.on is not None and hole.on.value[0] == OPPOSITE[near]
    if hole.slot:
        way = GRAIN_AXIS[hole.runs.value] if hole.runs else draft.part.along
        if way not in draft.axes and hole.runs:
            draft.not_here(LOW_SIDES[way], hole.runs.span)
        along = Axis.X if way == draft.axes[0] else Axis.Y
        return blank.Slot(name, at, sizes[0], sizes[1], along, deep, far)
    if hole.window:
        corner = draft.length(hole.corners) or Fraction(0)
        return blank.Window(name, at, sizes[0], sizes[1], corner, deep, far)
    return blank.RoundHole(name, at, sizes[0], deep, far)


def _check_depth(draft: Draft, thing: str, said: Said[Formula] | None) -> None:
    deep = draft.length(said)
    thick = draft.part.extents[draft.part.thin].value
    if said is not None and deep is not None and deep >= thick:
        facts = {"thing": thing, "part": f"“{draft.part.name}”", "thick": _mm(thick)}
        # A figure as it was typed; of a sum, what it comes to.
        facts["deep"] = said.text if said.text[:1].isdigit() else f"{_mm(deep)} ({said.text})"
        draft.deep.append(Problem(kinds.GrooveTooDeep, said.span, facts))


def _mm(value: Fraction) -> str:
    return f"{round(float(value), 2):g} mm"


def _groove(draft: Draft, groove: Groove) -> Iterator[blank.GrooveRun]:
    face = groove.on.value[0]
    wide, deep = draft.length(groove.wide), draft.length(groove.deep)
    if draft.page_axis(face) is not None or wide is None or deep is None:
        return
    _check_depth(draft, "groove", groove.deep)
    side = groove.at.side if groove.at else (groove.along.value[0] if groove.along else "")
    axis = draft.page_axis(side) if side else None
    if axis is None:
        facts = {"part": f"“{draft.part.name}”"}
        draft.problems.append(Problem(kinds.GrooveAlong, groove.span, facts))
        return
    gap = draft.length(groove.at.distance) if groove.at else Fraction(0)
    if gap is None:
        return
    at = gap if side in LOW_SIDES.values() else draft.size[axis] - gap - wide
    stops = [draft.along(each, groove.span) for each in groove.stopped]
    for each, stop in zip(groove.stopped, stops, strict=True):
        if stop and stop[0] == axis:
            facts = {"part": f"“{draft.part.name}”", "side": each.side, "from": side}
            draft.problems.append(Problem(kinds.GrooveStop, each.distance.span, facts))
    ends = {
        each.side in LOW_SIDES.values(): s[1]
        for each, s in zip(groove.stopped, stops, strict=True)
        if s
    }
    run = Axis.Y if axis == 0 else Axis.X
    far = face != NEAR_FACE[draft.view]
    name = groove.name.value
    yield blank.GrooveRun(name, run, at, wide, deep, ends.get(True), ends.get(False), far)


def _mark(draft: Draft, mark: SaidMark) -> Iterator[Mark]:
    """A mark on the broad face of this part or of one of its pieces."""
    targets = [each for group in mark.on for each in group]
    mine = [t for t in targets if t.thing in (draft.part.name, *draft.part.pieces)]
    broad = [t for t in mine if not t.sides or draft.page_axis(t.sides[0]) is None]
    if not broad:
        return
    far = all(broadface.on_far_face(draft.part, target) for target in broad)
    if mark.line is not None:
        yield from _mark_line(draft, mark, mark.line, far)
    position = mark.point or mark.dot
    at = draft.point(position, mark.span) if position else None
    if at:
        yield MarkPoint(mark.name.value, at, far)


def _mark_line(draft: Draft, mark: SaidMark, line: phrases.Line, far: bool) -> Iterator[Mark]:
    if line.how == "along":
        return  # derived from the joins by the placing
    if line.offset is not None:
        found = draft.along(line.offset, mark.span)
    else:
        run = draft.page_axis(line.direction)
        if run is None:
            draft.not_here(line.direction, mark.span)
            return
        found = (1 - run, draft.size[1 - run] / 2)
    if found is None:
        return
    axis, at = found
    low, high = Fraction(0), draft.size[1 - axis]
    for offset in mark.keep_off:
        kept = draft.along(offset, mark.span)
        if kept and kept[0] != axis:
            low, high = (kept[1], high) if offset.side in LOW_SIDES.values() else (low, kept[1])
    ends = (Point(at, low), Point(at, high)) if axis == 0 else (Point(low, at), Point(high, at))
    yield MarkLine(mark.name.value, *ends, far)


__all__ = ["NEAR_FACE", "PAGE_AXES", "VIEW_OF_THIN", "Quantity", "needs_template", "spec_of"]
