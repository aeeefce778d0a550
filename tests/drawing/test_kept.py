"""What is kept answers for the same content only, and never makes a booklet another one."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from patternpress.assembly.model import Model
from patternpress.booklet.fill import content_of
from patternpress.closing.close import close
from patternpress.design.read import read_text
from patternpress.drawing.kept import once

DESIGN = Path(__file__).parents[2] / "designs" / "keepers-desk.yaml"


def test_the_same_content_is_worked_out_once() -> None:
    kept: dict[str, Any] = {}
    made: list[int] = []
    for content in (("a", 1), ("a", 1), ("a", 2)):
        once(kept, "sum", content, lambda: made.append(1))
    assert len(made) == 2
    assert once(kept, "other", ("a", 1), lambda: "made anew") == "made anew"


def test_without_a_place_to_keep_it_all_is_worked_out() -> None:
    assert [once(None, "sum", 1, lambda each=each: each) for each in (1, 2)] == [1, 2]  # type: ignore[misc]


@pytest.fixture(scope="module")
def before() -> dict[str, Any]:
    """What is kept once the desk has been filled in as it is."""
    kept: dict[str, Any] = {}
    content_of(model_of(DESIGN.read_text("utf-8")), kept)
    return kept


def model_of(text: str) -> Model:
    return close(read_text(text, DESIGN.name, DESIGN.parent), "metric").model


@pytest.mark.parametrize(
    ("old", "new"),
    [
        ("  width: 84 mm", "  width: 88 mm"),
        ("so that the lines meet across them", "so that both lines meet"),
        ("    work lies: upright\n    seen from: front left above\n", "    work lies: upright\n"),
        ("  depth: 42 mm", "  depth: 44 mm"),
    ],
)
def test_after_a_change_the_content_is_that_of_a_fresh_start(
    old: str, new: str, before: dict[str, Any]
) -> None:
    text = DESIGN.read_text("utf-8")
    assert old in text
    model = model_of(text.replace(old, new))
    assert content_of(model, dict(before)) == content_of(model, {})
