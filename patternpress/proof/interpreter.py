"""Run the content of a page and write down what it paints.

In: a page of pikepdf.  Out: its lines and words in millimetres, each with the marked content it
stands in.  The operators are those of ISO 32000-1, annex A.  Of colours only white matters, for
white on white is not seen; shadings are passed over.  Forms drawn by the page run in their place.
"""

from __future__ import annotations

from copy import copy
from typing import Any

from pikepdf import Dictionary, Name, parse_content_stream

from patternpress.proof.marks import Tag
from patternpress.proof.paths import PATHS
from patternpress.proof.showing import TEXT
from patternpress.proof.state import Run, Work, as_matrix, times

DEEPEST = 12  # forms within forms


def run_content(content: Any, run: Run) -> None:
    """Run a page or a form; operators that paint nothing we judge are passed over."""
    for instruction in parse_content_stream(content, _ASKED):
        work = _WORK.get(str(instruction.operator))
        if work is not None:
            work(run, instruction.operands)


# ------------------------------------------------------------------ graphics state


def _keep(run: Run, _: Any) -> None:
    run.kept.append(copy(run.state))


def _bring_back(run: Run, _: Any) -> None:
    if run.kept:
        run.state = run.kept.pop()
    else:
        run.problems.append("Q without q")


def _transform(run: Run, given: Any) -> None:
    run.state.matrix = times(as_matrix(given), run.state.matrix)


def _width(run: Run, given: Any) -> None:
    run.state.width = float(given[0])


def _dash(run: Run, given: Any) -> None:
    run.state.dash = next((float(each) for each in given[0].as_list() if float(each) > 0), 0.0)


# ------------------------------------------------------------------ marked content, forms


def _colour(of: str, white: float) -> Work:
    def work(run: Run, given: Any) -> None:
        setattr(run.state, of, all(abs(float(each) - white) < 0.02 for each in given))

    return work


def _mark(run: Run, given: Any) -> None:
    facts: dict[str, str] = {}
    if len(given) > 1:
        found = given[1]
        if isinstance(found, Name):
            found = run.resources.get(Name.Properties, Dictionary()).get(found, Dictionary())
        facts = {str(key).lstrip("/"): str(value).lstrip("/") for key, value in found.items()}
    run.tags = (*run.tags, Tag(str(given[0]).lstrip("/"), facts))


def _unmark(run: Run, _: Any) -> None:
    if run.tags:
        run.tags = run.tags[:-1]
    else:
        run.problems.append("EMC without BMC")


def _form(run: Run, given: Any) -> None:
    found = run.resources.get(Name.XObject, Dictionary()).get(given[0])
    if found is None:
        run.problems.append(f"nothing called {given[0]} to draw")
        return
    if found.get(Name.Subtype) != Name.Form:
        run.images += 1
        return
    if run.depth >= DEEPEST:
        run.problems.append("forms within forms without end")
        return
    before, kept, resources = copy(run.state), run.kept, run.resources
    run.kept, run.depth = [], run.depth + 1
    run.resources = found.get(Name.Resources, resources)
    if Name.Matrix in found:
        _transform(run, found.Matrix.as_list())
    run_content(found, run)
    run.state, run.kept, run.resources, run.depth = before, kept, resources, run.depth - 1


def _inline_image(run: Run, _: Any) -> None:
    run.images += 1


_WORK: dict[str, Work] = {
    **PATHS, **TEXT,
    "q": _keep, "Q": _bring_back, "cm": _transform, "w": _width, "d": _dash,
    "G": _colour("white_line", 1), "RG": _colour("white_line", 1), "K": _colour("white_line", 0),
    "g": _colour("white_fill", 1), "rg": _colour("white_fill", 1), "k": _colour("white_fill", 0),
    "BMC": _mark, "BDC": _mark, "EMC": _unmark, "Do": _form, "INLINE IMAGE": _inline_image,
}  # fmt: skip
# An image within the content is handed over only if its three operators are asked for.
_ASKED = " ".join([*(name for name in _WORK if " " not in name), "BI", "ID", "EI"])
