"""A typed figure that stands for a board is told where an edition parts the two."""

from __future__ import annotations

from pathlib import Path

import pytest

from patternpress.closing.close import check_closing
from patternpress.design.problem import Problem
from patternpress.design.read import read_text
from tests.assembly.dressed import dressed

FAULT = Path(__file__).parents[1] / "assembly" / "faults" / "thickness-typed.yaml"
TYPED = "'in mortise of back, 18 mm deep'"


def told(text: str) -> list[Problem]:
    found = check_closing(read_text(text, "rail.yaml", Path()))
    return [each for each in found if each.code == "thickness-typed"]


def test_a_typed_thickness_is_told_where_it_is_typed() -> None:
    """The peg ended 3/64 in inside the board that it was flush with, and nothing said so."""
    text = FAULT.read_text("utf-8")
    (problem,) = told(text)
    assert problem.span.line == text[: text.index(TYPED)].count("\n") + 1
    assert (problem.facts["piece"], problem.facts["other"]) == ("peg", "back")
    assert (problem.facts["stock"], problem.facts["printed"]) == ("board", "45/64\u00a0in")


@pytest.mark.parametrize(
    ("before", "after"),
    [
        (TYPED, "'in mortise of back, 12 mm deep'"),  # stands for no board
        (f"{{back: {TYPED}}}", "{front: through mortise of back, back: flush with back}"),
        ("nearest: 3/4 in", "nearest: 45/64 in"),  # the board is sold as it is typed
        ("inch: {units: in}", "metric: {units: mm}"),
        ("inch: {units: in}", "inch: {units: in, stock: mm}"),
    ],
)
def test_nothing_is_told_where_nothing_parts(before: str, after: str) -> None:
    text = FAULT.read_text("utf-8")
    assert before in text
    assert told(text.replace(before, after)) == []


@pytest.mark.parametrize("number", [7, 123, 456])
def test_sound_cupboards_are_silent(number: int) -> None:
    text = f"{dressed(number)}\neditions: {{inch: {{units: in}}}}\n"
    assert told(text) == []
