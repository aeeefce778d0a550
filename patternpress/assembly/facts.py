"""The facts of a model, for other tools.

In: a `Model`.  Out: a dictionary ready for JSON, in format 1: everything worked out, lengths as
exact fractions of a millimetre beside the figure that is printed.  Later versions only add.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from patternpress.assembly.calls import calls_of
from patternpress.assembly.cutparts import CutPart
from patternpress.assembly.extent import overall
from patternpress.assembly.hands import (
    shapes_of_hands,
    shown_shape,
    turned_shape,
    twins_of,
)
from patternpress.assembly.marking import DerivedLine, derived_lines
from patternpress.assembly.measurefirst import Waiting, between
from patternpress.assembly.model import Model
from patternpress.assembly.moving import motions_of
from patternpress.assembly.placefacts import (
    by_size,
    joint_facts,
    leaning_facts,
    marks_facts,
    motion_facts,
    place_facts,
    works_facts,
)
from patternpress.assembly.plan import bench_plan, plan_facts
from patternpress.assembly.shape import (
    Arc,
    Curve,
    Groove,
    Mark,
    MarkLine,
    Outline,
    Point,
    Shape,
)
from patternpress.assembly.shown import printed_size
from patternpress.assembly.sizes import AXES
from patternpress.assembly.smallparts import small_pieces
from patternpress.design.records.work import Step
from patternpress.measure.figures import plain, show_measure, show_size
from patternpress.measure.quantity import Kind, Quantity

FORMAT = 1


def facts(model: Model) -> dict[str, Any]:
    """Everything worked out for one edition; equal designs give equal facts."""
    book, worked, edition = model.worked.book, model.worked, model.edition
    return {
        "format": FORMAT,
        "design": book.design.main.value,
        "version": book.version.value if book.version else "",
        "date": book.date.value.isoformat() if book.date else "",
        "scale": f"{edition.scale.numerator}:{edition.scale.denominator}",
        "edition": {
            "name": edition.name,
            "units": edition.units,
            "paper": edition.paper,
            "language": edition.language,
            "mm_step": exact(edition.mm_step),
            "inch_denominator": edition.denominator,
        },
        "sizes": {each.name.value: _size(model, each.name.value) for each in book.sizes},
        "parts": [_part(part, model) for part in worked.parts],
        "openings": {
            each.name.value: {
                axis: _opening(found, each.name.value, axis, model)
                for axis in ("wide", "deep", "high")
                if (found := worked.solver.opening(each, axis))
            }
            for each in book.openings
        },
        "overall": dict(zip(AXES, map(exact, overall(model.assembly)), strict=False)),
        "small_parts": small_pieces(worked),
        "derived_marks": [_mark(line, model) for line in derived_lines(worked, model.assembly)],
        "marks": marks_facts(worked, model.assembly),
        "joints": [joint_facts(contact) for contact in model.assembly.contacts],
        "measure_first": [_waiting(each, model) for each in model.waiting],
        "places": [place_facts(placed) for placed in model.assembly.placed],
        "places_in": works_facts(model.assembly),
        "leaning_holes": [*leaning_facts(worked, model.assembly)],
        "motions": [motion_facts(each) for each in motions_of(worked, model.assembly)],
        "by_size": by_size(worked, model.assembly),
        "left_free": {name: list(ways) for name, ways in model.assembly.loose.items()},
        "sub_assemblies": dict(sorted(worked.usage.made.items())),
        "steps": [_step(n, step, model) for n, step in enumerate(worked.usage.steps, 1)],
        "plan": plan_facts(bench_plan(worked)),
    }


def digest(model: Model) -> str:
    """A hash of the facts: the identity of what an edition says."""
    return digest_of(facts(model))


def digest_of(record: Mapping[str, Any]) -> str:
    """A hash of facts as they are."""
    text = json.dumps(record, sort_keys=True, ensure_ascii=False, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()


def exact(value: Fraction) -> str:
    """A fraction as text, such as 35/64 or 14."""
    return str(value)


def length(quantity: Quantity, model: Model) -> dict[str, str]:
    """A length in mm, exact, with the certain error where it has one, and as printed."""
    shown = {"mm": exact(quantity.value)}
    if quantity.error:
        shown["error"] = exact(quantity.error)
    if quantity.kind is Kind.LENGTH:
        shown["printed"] = plain(show_size((quantity,), model.edition.display))
    return shown


def _opening(planned: Quantity, name: str, axis: str, model: Model) -> dict[str, Any]:
    """The planned size of an opening, and between which two it lies with the boards as sold."""
    ends = between(model.openings, name, axis)
    told = [length(Quantity(each, Kind.LENGTH), model) for each in ends or ()]
    return {**length(planned, model), **({"between": told} if told else {})}


def _size(model: Model, name: str) -> dict[str, str]:
    size = next(each for each in model.worked.book.sizes if each.name.value == name)
    measure = model.worked.solver.measure(size.is_)
    if measure is None:
        return {}
    shown = {"kind": measure.low.kind.value, "value": exact(measure.low.value)}
    if measure.high is not None:
        shown["to"] = exact(measure.high.value)
    if measure.low.error:
        shown["error"] = exact(measure.low.error)
    shown["manner"] = measure.manner.value
    shown["printed"] = plain(show_measure(measure, model.edition.display))
    return shown


def _part(part: CutPart, model: Model) -> dict[str, Any]:
    shape = model.worked.shapes.get(part.name)
    fitted = {"measured_at": part.opening} if part.opening else {}
    called = calls_of(model.worked.book, model.edition.language).one(part.name)
    return {
        "letter": part.letter,
        "name": part.name,
        **({"called": called} if called != part.name else {}),
        "stock": part.stock.name.value,
        "form": part.form,
        "quantity": part.quantity,
        "pieces": list(part.pieces),
        "extents": {axis: length(each, model) for axis, each in part.extents.items()},
        "smallest": {
            axis: length(each, model)
            for axis, each in part.smallest.items()
            if each != part.extents[axis]
        },
        **({"tips": {axis: exact(each) for axis, each in part.tips.items()}} if part.tips else {}),
        "along": part.along,
        "across": part.across,
        "thin": part.thin,
        "grain": part.grain,
        "printed": printed_size(part, model.edition),
        **fitted,
        "template": part.name in model.worked.templates,
        "twins": twins_of(part, shape, model.worked) if shape else 0,
        **({"shape": _shape(part, shape, model)} if shape else {}),
    }


def _shape(part: CutPart, plain: Shape, model: Model) -> dict[str, Any]:
    """The shape as its template shows it, and which marks only one hand has."""
    shape = turned_shape(part, plain, model.worked)
    face = shown_shape(part, plain, model.worked).outline
    hands = shapes_of_hands(part, plain, model.worked)
    has = [{each.name for each in hand.marks} for hand in hands]
    return {
        "view": shape.view.value,
        "width": exact(shape.width),
        "height": exact(shape.height),
        "outline": _outline(shape.outline),
        **({"face": _outline(face)} if face != shape.outline else {}),
        "holes": [
            {
                "name": hole.name,
                "centre": _point(hole.centre),
                "diameter": exact(hole.diameter) if hole.diameter is not None else None,
                "depth": exact(hole.depth) if hole.depth is not None else None,
                "outline": _outline(hole.outline),
            }
            for hole in shape.holes
        ],
        "grooves": [_groove(groove) for groove in shape.grooves],
        "marks": [
            {**_drawn_mark(mark), **_hand([mark.name in each for each in has])}
            for mark in shape.marks
        ],
    }


def _hand(has: list[bool]) -> dict[str, str]:
    return {"hand": "left" if has[0] else "right"} if len(set(has)) > 1 else {}


def _groove(groove: Groove) -> dict[str, Any]:
    """A band between two corners; an end that is `open` runs out over the edge."""
    return {
        "name": groove.name,
        "along": groove.along.value,
        "low": _point(groove.low),
        "high": _point(groove.high),
        "depth": exact(groove.depth),
        "far": groove.far,
        "open": [groove.open_low, groove.open_high],
    }


def _drawn_mark(mark: Mark) -> dict[str, Any]:
    if isinstance(mark, MarkLine):
        return {"name": mark.name, "line": [_point(mark.start), _point(mark.to)]}
    return {"name": mark.name, "point": _point(mark.at)}


def _point(point: Point) -> list[str]:
    return [exact(point.x), exact(point.y)]


def _outline(outline: Outline) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = [{"start": _point(outline.start)}]
    for segment in outline.segments:
        if isinstance(segment, Arc):
            turn = "anticlockwise" if segment.anticlockwise else "clockwise"
            found.append(
                {"arc": _point(segment.to), "centre": _point(segment.centre), "turn": turn}
            )
        elif isinstance(segment, Curve):
            controls = [_point(segment.control1), _point(segment.control2)]
            found.append({"curve": _point(segment.to), "controls": controls})
        else:
            found.append({"line": _point(segment.to)})
    return found


def _mark(line: DerivedLine, model: Model) -> dict[str, Any]:
    """A line that follows from a join: on which piece, how far from which side."""
    far = length(Quantity(line.far, Kind.LENGTH), model)
    return {"mark": line.mark, "piece": line.piece, "side": line.side, "far": far}


def _waiting(waiting: Waiting, model: Model) -> dict[str, Any]:
    """A size to cut once the real board has been measured: what it is from each end's board."""
    return {
        "part": waiting.part,
        "axis": waiting.axis,
        **({"feature": waiting.feature} if waiting.feature else {}),
        "stock": waiting.stock,
        "planned": length(Quantity(waiting.planned, Kind.LENGTH), model),
        "ends": [
            {
                "thickness": length(Quantity(end.thickness, Kind.LENGTH), model),
                "size": length(Quantity(end.size, Kind.LENGTH), model),
            }
            for end in waiting.ends
        ],
    }


def _step(number: int, step: Step, model: Model) -> dict[str, Any]:
    uses = [use for use in model.worked.usage.uses if use.step == number]
    return {
        "number": number,
        "title": step.step.main.value,
        "builds": step.builds.value if step.builds else "",
        "brings": [use.name for use in uses],
        "cuts": [each.value for each in step.cut],
        "measures": [each.value for each in step.measure],
        "marks": [each.value for each in step.mark],
    }
