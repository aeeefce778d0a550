"""What the page may ask, and the answers.

In: a `Workshop` and what the page sent, as JSON.  Out: what it is told, ready for JSON; or a
refusal in a maker's words.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from patternpress.design.records.work import EYES
from patternpress.design.source import Items, Node, Pairs, read_tree
from patternpress.desk.preview.figures import span_from
from patternpress.desk.preview.showing import (
    layout_lines,
    moved_figures,
    plan_lines,
    proof_record,
)
from patternpress.desk.preview.splice import SpliceError, field_set, figure_changed, words_changed
from patternpress.desk.preview.turning import turning_model
from patternpress.desk.preview.workshop import Workshop


class AskedWronglyError(ValueError):
    """The page asked for something that cannot be; `str` says why."""


@dataclass(frozen=True)
class Asked:
    """The fields of a question."""

    fields: Mapping[str, Any]

    @staticmethod
    def read(body: bytes) -> Asked:
        """Read what was sent; raises AskedWronglyError for anything but a JSON object."""
        try:
            found = json.loads(body.decode() or "{}")
        except (ValueError, RecursionError):
            raise AskedWronglyError("this is no question") from None
        if not isinstance(found, dict):
            raise AskedWronglyError("this is no question")
        return Asked(found)

    def text(self, name: str) -> str:
        """A field that is text; raises AskedWronglyError for another or none."""
        found = self.fields.get(name)
        if not isinstance(found, str):
            raise AskedWronglyError(f"“{name}” is missing")
        return found


Answer = Callable[[Workshop, Asked], Any]


def spots(workshop: Workshop, asked: Asked) -> Any:
    """What of a page comes from the design: where it stands there, and in the file."""
    page = workshop.page(asked.text("page"))
    found = workshop.spots(page, asked.text("edition")) if page is not None else None
    if found is None:
        raise AskedWronglyError("this page is not shown any more")
    return found


def _changed(workshop: Workshop, asked: Asked) -> str:
    text = workshop.text(asked.text("mark"))
    span = span_from(asked.text("place"), workshop.path.name)
    lines = text.splitlines()
    if not 1 <= span.line <= span.end_line <= len(lines) + 1:
        raise AskedWronglyError("there is no such place in the file")
    change = figure_changed if asked.text("kind") == "figure" else words_changed
    try:
        return change(text, span, asked.text("new"))
    except SpliceError as error:
        raise AskedWronglyError(str(error)) from None


def attempt(workshop: Workshop, asked: Asked) -> Any:
    """What a change would bring; nothing is written."""
    return workshop.tried(_changed(workshop, asked))


def change(workshop: Workshop, asked: Asked) -> Any:
    """Write a change into the file."""
    workshop.change(_changed(workshop, asked), asked.text("mark"))
    return {"undoable": workshop.undoable}


def undo(workshop: Workshop, asked: Asked) -> Any:
    """Take the last change back."""
    workshop.undo()
    return {"undoable": workshop.undoable}


def keep(workshop: Workshop, asked: Asked) -> Any:
    """Keep a view for a step: write where its picture is seen from into the file."""
    mark = asked.text("mark")
    text = workshop.text(mark)
    number, seen = asked.fields.get("step"), asked.text("from")
    tree, _ = read_tree(text, workshop.path.name)
    steps = _steps(tree)
    if not isinstance(number, int) or not 1 <= number <= len(steps):
        raise AskedWronglyError("there is no such step in the file")
    if seen not in EYES:
        raise AskedWronglyError("a picture is not drawn from there; turn the model a little")
    try:
        made = field_set(text, steps[number - 1], "seen from", seen)
    except SpliceError as error:
        raise AskedWronglyError(str(error)) from None
    workshop.change(made, mark)
    return {"from": seen}


def _steps(tree: Node | None) -> list[Pairs]:
    """The steps of a design file, the finishing ones after the others."""
    found: list[Pairs] = []
    for name in ("steps", "finishing"):
        node = tree.get(name) if isinstance(tree, Pairs) else None
        each = node.nodes if isinstance(node, Items) else (node,)
        found += [step for step in each if isinstance(step, Pairs)]
    return found


def show(workshop: Workshop, asked: Asked) -> Any:
    """Show one edition, or two beside each other."""
    named = asked.fields.get("editions")
    if not isinstance(named, list) or not all(isinstance(each, str) for each in named):
        raise AskedWronglyError("“editions” is missing")
    workshop.show(named)
    return {"shown": list(workshop.editions)}


def build(workshop: Workshop, asked: Asked) -> Any:
    """Make every edition, with what its proof says."""
    return {"made": list(workshop.build()), "proved": proof_record(workshop)}


def turn(workshop: Workshop, asked: Asked) -> Any:
    """The model, for turning it by hand."""
    model = workshop.state.models.get(asked.text("edition"))
    if model is None:
        raise AskedWronglyError("there is nothing to turn yet")
    return turning_model(model)


def figures(workshop: Workshop, asked: Asked) -> Any:
    """The table of figures."""
    return {"figures": workshop.figures(asked.text("edition"))}


def moves(workshop: Workshop, asked: Asked) -> Any:
    """What each printed figure is in the design, and by how much and why it moved."""
    return {"systems": moved_figures(workshop, asked.text("edition"))}


def layouts(workshop: Workshop, asked: Asked) -> Any:
    """The cutting layouts in words."""
    return {"lines": layout_lines(workshop)}


def proof(workshop: Workshop, asked: Asked) -> Any:
    """What the proofs said of the editions that were built last."""
    return {"proved": proof_record(workshop)}


def plan(workshop: Workshop, asked: Asked) -> Any:
    """The bench plan in words."""
    return {"lines": plan_lines(workshop)}


def source(workshop: Workshop, asked: Asked) -> Any:
    """The design file's text."""
    return {"text": workshop.text(asked.text("mark"))}


def answers() -> Mapping[str, Answer]:
    """Every question that may be asked, by its name."""
    return {
        "spots": spots,
        "try": attempt,
        "change": change,
        "undo": undo,
        "keep": keep,
        "show": show,
        "build": build,
        "turn": turn,
        "figures": figures,
        "source": source,
        "plan": plan,
        "moves": moves,
        "layouts": layouts,
        "proof": proof,
    }
