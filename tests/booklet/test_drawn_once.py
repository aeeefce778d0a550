"""The same picture is never drawn twice: in one edition, and in two that are drawn alike.

What is counted is real drawing: every page of SVG that any room makes, wherever it is asked for.
"""

from __future__ import annotations

import re
import sys
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from patternpress.assembly.model import Model
from patternpress.booklet.fill import content_of
from patternpress.closing.close import close
from patternpress.design.read import read_design
from patternpress.drawing import svg

DESIGNS = Path(__file__).parents[2] / "designs"
# Kinds of pictures by words that only their titles have, English.
KINDS = {
    "a step on the way": r"Step \d+: .* on the way to ",
    "a step that is done": r"Step \d+, done: ",
    "pieces face on": r"Step \d+: .* with what is marked",
    "an opening": r"Step \d+: where to measure ",
    "the cover": "The finished ",
    "all pieces apart": "All pieces of ",
    "three views": ".* seen from the front, from the left and from above",
    "a bench plan": "Bench plan, ",
    "a board": r"[A-Z, ]+ on \d+",
    "a template": "Template ",
}
# The bar to measure belongs to each sheet of templates, and is made with it.
BAR = "An upright bar of "


class Counted:
    """Everything that was drawn: how often each page of SVG was made."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.pages: Counter[str] = Counter()
        made = svg.svg_page

        def page(*args: Any, **more: Any) -> str:
            found = made(*args, **more)
            self.pages[found] += 1
            return found

        everywhere(monkeypatch, "svg_page", made, page)

    @property
    def twice(self) -> list[str]:
        """The titles of what was drawn more than once."""
        every = [(title(page), count) for page, count in self.pages.items()]
        return [said for said, count in every if count > 1 and not said.startswith(BAR)]


def everywhere(
    monkeypatch: pytest.MonkeyPatch, name: str, was: object, now: Callable[..., Any]
) -> None:
    """Put a function in the place of another in every module that has it by name."""
    for module in [*sys.modules.values()]:
        if module.__name__.startswith("patternpress.") and getattr(module, name, None) is was:
            monkeypatch.setattr(module, name, now)


def title(page: str) -> str:
    found = re.search("<title>(.*?)</title>", page)
    return found[1] if found else ""


@pytest.fixture
def counted(monkeypatch: pytest.MonkeyPatch) -> Counted:
    return Counted(monkeypatch)


def desk() -> Model:
    """It has every kind of picture."""
    return close(read_design(DESIGNS / "keepers-desk.yaml"), "metric").model


def alike(model: Model) -> Model:
    """Another edition in the same language and units, on other paper and in another theme."""
    return replace(model, edition=replace(model.edition, name="rod", paper="Letter", theme="rod"))


def test_editions_that_are_drawn_alike_are_drawn_once(counted: Counted) -> None:
    kept: dict[str, Any] = {}
    content_of(desk(), kept)
    assert counted.twice == []
    titles = [title(page) for page in counted.pages]
    for kind, words in KINDS.items():
        assert any(re.match(words, each) for each in titles), kind
    drawn = sum(counted.pages.values())
    content_of(alike(desk()), kept)
    assert counted.twice == []
    assert sum(counted.pages.values()) == drawn


def test_the_counting_finds_what_is_drawn_again(counted: Counted) -> None:
    content_of(desk(), {})
    once = Counter(counted.pages)
    content_of(alike(desk()), {})
    assert counted.pages == once + once
    assert len(counted.twice) > 30
