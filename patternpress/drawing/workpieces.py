"""What a step does to single pieces before they are joined: marks, holes, grooves, edges.

In: a `Model` and a step.  Out: `Workpiece`s: a face of a part as one sees it, with the names of
what this step draws on it or cuts into it, and the sides that distances are told from.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, field, replace
from fractions import Fraction

from patternpress.assembly.body import SIDE_AXIS
from patternpress.assembly.broadface import LOW_SIDES
from patternpress.assembly.calls import calls_of
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.facecount import Edges, counted_from, edges_off
from patternpress.assembly.faceoutline import with_face
from patternpress.assembly.handwork import as_drawn
from patternpress.assembly.marked import hole_axis, hole_side
from patternpress.assembly.marking import derived_lines, told_from
from patternpress.assembly.model import Model
from patternpress.assembly.outlines import circle
from patternpress.assembly.pose import ZERO
from patternpress.assembly.shape import Point, Shape
from patternpress.assembly.sizes import AXES
from patternpress.assembly.specs import NEAR_FACE, VIEW_OF_THIN, spec_of
from patternpress.assembly.trim import trim_all
from patternpress.assembly.turning import mirrored_shape
from patternpress.design.phrases import Target
from patternpress.design.records.parts import Groove, Hole, Mark, Part
from patternpress.design.records.work import Step, Treatment
from patternpress.measure.quantity import Kind, Quantity

_EDGE_WORK = ("round_over", "ease", "chamfer")


@dataclass(frozen=True, slots=True)
class EdgeWork:
    """What is done to an edge: `where` is a side, the name of a hole, or empty for all round."""

    how: str
    where: str
    by: Quantity | None


@dataclass(frozen=True)
class Workpiece:
    """One face of a part, seen from the side `face`.

    `shape` is as one sees it; `strong` names what the step makes, `said` tells for these the
    sides from which the author measures; what later steps make is left out.  `edges_at`: how far
    inside the blank's the edge of this face lies, by side, where an end slants.
    """

    part: str
    letter: str
    name: str
    face: str
    shape: Shape
    strong: frozenset[str]
    said: tuple[tuple[str, tuple[str, ...]], ...] = ()
    called: tuple[tuple[str, str], ...] = ()  # holes without a diameter, as they are printed
    edges: tuple[EdgeWork, ...] = ()
    edges_at: tuple[tuple[str, Fraction], ...] = ()


@dataclass
class _Face:
    """A face on its way to a workpiece."""

    names: list[str] = field(default_factory=list)
    strong: dict[str, tuple[str, ...] | None] = field(default_factory=dict)
    edges: list[EdgeWork] = field(default_factory=list)


def workpieces_of(model: Model, number: int, step: Step) -> tuple[Workpiece, ...]:
    """Return the faces that a step works on, in the order of its words; none for other steps."""
    faces: dict[tuple[str, str], _Face] = {}
    for mark in _marks(model, step):
        for part, side, name in _marked(model, mark):
            face = faces.setdefault((part, side), _Face())
            face.names.append(name)
            face.strong[mark.name.value] = _sides_of(mark, part, model)
    for treatment in _on_single_pieces(step):
        _treated(model, treatment, faces)
    later = _made_later(model, number)
    # All edges eased a little is nothing to see.
    seen = {k: face for k, face in faces.items() if face.strong or any(map(_shows, face.edges))}
    found = (_workpiece(model, part, side, face, later) for (part, side), face in seen.items())
    return tuple(each for each in found if each is not None)


def _on_single_pieces(step: Step) -> tuple[Treatment, ...]:
    """Return what a step does while its pieces are still single: where it joins none, all of it."""
    return step.treat if step.join else (*step.treat, *step.afterwards)


def _shows(edge: EdgeWork) -> bool:
    return bool(edge.where) or edge.how != "ease"


def _marks(model: Model, step: Step) -> list[Mark]:
    marks = {each.name.value: each for each in model.worked.book.marks}
    return [marks[said.value] for said in step.mark if said.value in marks]


def _marked(model: Model, mark: Mark) -> Iterator[tuple[str, str, str]]:
    """Yield the part, the side and the piece of each place of a mark; of alike pieces the first."""
    told: set[str] = set()
    for target in (each for group in mark.on for each in group):
        part = _owner(model, target.thing)
        if part not in told and target.sides:
            told.add(part)
            yield part, target.sides[0], target.thing


def _owner(model: Model, name: str) -> str:
    return model.worked.usage.part_of.get(name, name)


def _sides_of(mark: Mark, part: str, model: Model) -> tuple[str, ...]:
    """Return the sides that a mark is told from in words."""
    if mark.line is not None and mark.line.target is not None:
        lines = derived_lines(model.worked, model.assembly)
        mine = (each for each in lines if (each.mark, each.part) == (mark.name.value, part))
        return tuple(each.side for each in mine)[:1]
    if mark.line is not None:
        side = told_from(mark, part, model.worked).side
        return (side,) if side else ()
    position = mark.point or mark.dot
    return tuple(each.side for each in position.offsets) if position else ()


# ------------------------------------------------------------------ treatments


def _treated(model: Model, treatment: Treatment, faces: dict[tuple[str, str], _Face]) -> None:
    """Note what a treatment drills, grooves and does to edges."""
    for target in treatment.drill or ():
        for part, hole in _holes(model, target):
            face = faces.setdefault((part.name, hole_side(hole, part)), _Face())
            face.names.append(part.name)
            # A row is told by its first.
            face.strong |= dict.fromkeys(hole.names)
            face.strong[hole.name.value] = tuple(_hole_sides(hole, part))
    for target in treatment.groove or ():
        part_cut = model.worked.part(_owner(model, target.thing))
        for groove in part_cut.part.grooves if part_cut else ():
            face = faces.setdefault((_owner(model, target.thing), groove.on.value[0]), _Face())
            face.names.append(target.thing)
            face.strong[groove.name.value] = (groove.at.side,) if groove.at else ()
    for how in _EDGE_WORK:
        for target in getattr(treatment, how) or ():
            _edge(model, treatment, how, target, faces)


def _holes(model: Model, target: Target) -> Iterator[tuple[CutPart, Hole]]:
    part = model.worked.part(_owner(model, target.thing))
    for hole in part.part.holes if part else ():
        if part is not None and (target.kind != "hole" or hole.name.value == target.feature):
            yield part, hole


def _hole_sides(hole: Hole, part: CutPart) -> Iterator[str]:
    """Yield the sides that a hole is told from: where it is centred, one to begin from, but for the
    middle of an edge.
    """
    yield from (each.side for each in hole.at.offsets)
    told = {SIDE_AXIS[each.side] for each in hole.at.offsets} | {hole_axis(hole, part)}
    rest = (axis for axis in AXES if SIDE_AXIS[LOW_SIDES[axis]] not in told)
    yield from (LOW_SIDES[axis] for axis in rest if axis != part.thin)


def _edge(
    model: Model,
    treatment: Treatment,
    how: str,
    target: Target,
    faces: dict[tuple[str, str], _Face],
) -> None:
    part = model.worked.part(_owner(model, target.thing))
    if part is None or part.thin not in VIEW_OF_THIN:
        return
    near = NEAR_FACE[VIEW_OF_THIN[part.thin]]
    side = (target.sides or ("",))[0]
    # A mirrored piece is told of as it stands; the view is that of its part.
    where = target.feature if target.kind == "hole" else as_drawn(target.thing, side, part)
    if where in SIDE_AXIS and AXES[SIDE_AXIS[where]] == part.thin:
        return  # a face, not an edge of the view
    by = model.worked.solver.value(treatment.by, Kind.LENGTH) if treatment.by else None
    face = faces.setdefault((part.name, near), _Face())
    face.names.append(target.thing)
    work = EdgeWork(how.replace("_", " "), where, by)
    if work not in face.edges:
        face.edges.append(work)


def _made_later(model: Model, number: int) -> frozenset[tuple[str, str]]:
    """Return part and name of holes and grooves that only later steps make."""
    found: set[tuple[str, str]] = set()
    for step in model.worked.usage.steps[number:]:
        for treatment in (*step.treat, *step.afterwards):
            for target in treatment.drill or ():
                found |= {(part.name, hole.name.value) for part, hole in _holes(model, target)}
            for target in treatment.groove or ():
                part = model.worked.part(_owner(model, target.thing))
                grooves: Sequence[Groove] = part.part.grooves if part else ()
                found |= {(part.name, each.name.value) for each in grooves if part}
    return frozenset(found)


# ------------------------------------------------------------------ the face


def _workpiece(
    model: Model, name: str, side: str, face: _Face, later: frozenset[tuple[str, str]]
) -> Workpiece | None:
    part = model.worked.part(name)
    if part is None or part.thin not in VIEW_OF_THIN:
        return None
    shape = _face_shape(model, part, side)
    if shape is None:
        return None
    near = NEAR_FACE[shape.view] == side
    kept = replace(
        shape,
        holes=tuple(each for each in shape.holes if (name, each.name) not in later),
        grooves=tuple(
            each for each in shape.grooves if each.far != near and (name, each.name) not in later
        ),
        marks=tuple(each for each in shape.marks if each.name in face.strong),
    )
    named = dict.fromkeys(face.names)
    off = edges_off(part, shape, model.worked.solver, side)
    first = {name: hole.name.value for hole in part.part.holes for name in hole.names}
    calls = calls_of(model.worked.book, model.edition.language)
    return Workpiece(
        name,
        part.letter,
        calls.one(next(iter(named)) if len(named) == 1 else name),
        side,
        kept if near else mirrored_shape(kept),
        frozenset(face.strong),
        tuple(_told(part, off, face)),
        tuple(
            (each.name, calls.one(first.get(each.name, each.name)))
            for each in kept.holes
            if each.diameter is None
        ),
        tuple(face.edges),
        tuple(off.items()),
    )


def _told(part: CutPart, off: Edges, face: _Face) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Yield from which sides things are measured: not from an end that slants, if there is another
    edge.
    """
    for name, sides in face.strong.items():
        if sides is not None:
            found = ((each, counted_from(part, off, each, ZERO)) for each in sides)
            yield name, tuple(told[0] if told else side for side, told in found)


def _face_shape(model: Model, part: CutPart, side: str) -> Shape | None:
    """Return the broad face's shape, or that of an edge with what lies on it."""
    axis = AXES[SIDE_AXIS[side]]
    if part.form == "rod" and axis == part.along:
        return _end_of_rod(_bare_shape(model, part, axis, side))
    if axis == part.thin:
        shape = model.worked.shapes.get(part.name)
        if shape is None:
            return _bare_shape(model, part, part.thin, side)
        return with_face(part, shape, model.worked.solver, near=NEAR_FACE[shape.view] == side)
    return _bare_shape(model, part, axis, side)


def _end_of_rod(bare: Shape | None) -> Shape | None:
    """Return the end of a rod: its blank is a square, its wood is round."""
    if bare is None:
        return None
    half = bare.width / 2
    return replace(bare, outline=circle(Point(half, half), half))


def _bare_shape(model: Model, part: CutPart, axis: str, side: str) -> Shape | None:
    said = part.part
    holes = tuple(h for h in said.holes if h.on and AXES[hole_axis(h, part)] == axis)
    grooves = tuple(g for g in said.grooves if AXES[SIDE_AXIS[g.on.value[0]]] == axis)
    bare = Part(name=said.name, span=said.span, stock=said.stock, holes=holes, grooves=grooves)
    marks = tuple(each for each in model.worked.book.marks if _is_on(model, each, part.name, side))
    spec, _ = spec_of(replace(part, part=bare, thin=axis), model.worked.solver, marks)
    return trim_all(spec)[0] if spec is not None else None


def _is_on(model: Model, mark: Mark, part: str, side: str) -> bool:
    targets: Iterable[Target] = (each for group in mark.on for each in group)
    return any(_owner(model, t.thing) == part and side in t.sides for t in targets)
