"""The state of the workshop as the page reads it.

In: a `Workshop`.  Out: a record ready for JSON.
"""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from patternpress.assembly.plan import bench_plan
from patternpress.booklet.fillplan import bench_page
from patternpress.booklet.laidtext import layouts_text
from patternpress.booklet.shoptext import plain_words
from patternpress.booklet.wording import wording_of
from patternpress.desk import rooms
from patternpress.desk.preview.rounds import Page
from patternpress.desk.preview.workshop import Workshop
from patternpress.desk.report import records


def state_record(workshop: Workshop) -> dict[str, Any]:
    """Everything that the page shows, but pictures, figures and the model."""
    state = workshop.state
    editions = rooms.edition_names(state.reading) if state.reading else ()
    return {
        "revision": state.revision,
        "mark": state.mark,
        "file": workshop.path.name,
        "busy": state.busy,
        "sound": state.sound,
        "fault": state.fault,
        "problems": records(state.problems),
        "editions": list(editions),
        "shown": list(workshop.editions),
        "pages": {name: [_page(each) for each in pages] for name, pages in state.pages.items()},
        "steps": _steps(workshop),
        "undoable": workshop.undoable,
        "built": list(state.built),
        "making": asdict(state.making) if state.making else None,
    }


def _page(page: Page) -> dict[str, Any]:
    return {
        "id": page.id,
        "section": page.section,
        "wide": round(page.width, 2),
        "high": round(page.height, 2),
        "old": page.old,
        "soon": page.soon,
    }


def _steps(workshop: Workshop) -> list[dict[str, Any]]:
    """Each step: its title, its line, the view kept for it, its page in the edition shown first."""
    model = workshop.model
    if model is None:
        return []
    numbers = workshop.numbers(workshop.leading)
    wording = wording_of(model)
    return [
        {
            "number": number,
            "title": plain_words(wording.prose(step.step)),
            "line": step.span.line,
            "from": step.seen_from.value if step.seen_from else "",
            "page": numbers.get(f"step-{number}", 0),
        }
        for number, step in enumerate(model.worked.usage.steps, 1)
    ]


def plan_lines(workshop: Workshop) -> list[str]:
    """The bench plan of the edition shown first, in plain words, a paragraph each."""
    model = workshop.model
    if model is None:
        return []
    plan = bench_page(bench_plan(model.worked), wording_of(model))
    words = [*plan.words, plan.finish, plan.chain]
    for row in plan.sittings:
        told = " ".join(each for each in (row.works, row.pause, row.meanwhile) if each)
        words.append(f"{plain_words(row.name)}: {plain_words(told)}")
    return [plain_words(each) for each in words if each]


def layout_lines(workshop: Workshop) -> list[str]:
    """The cutting layouts of the edition shown first, as text, a line each."""
    model = workshop.model
    if model is None:
        return []
    wording = wording_of(model)
    title = wording.prose(model.worked.book.design)
    return layouts_text(title, workshop.layouts(model), wording).splitlines()


def moved_figures(workshop: Workshop, edition: str) -> list[dict[str, Any]]:
    """The author's table of figures, for each system that the edition shows."""
    reading = workshop.state.reading
    if reading is None or edition not in workshop.state.models or not workshop.state.sound:
        return []
    return rooms.moves(reading, edition)


def proof_record(workshop: Workshop) -> list[dict[str, Any]]:
    """What the proof of each edition said when it was built last."""
    return [
        {"edition": each.edition, "sound": each.sound, "lines": each.told.splitlines()}
        for each in workshop.state.proved
    ]
