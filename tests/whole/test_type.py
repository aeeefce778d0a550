"""Sizes of letters and leading in both themes are those of the table in themes/README.md."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path

import pikepdf
import pytest

from tests.whole import pagetags as tags
from tests.whole.demos import Built, Demo, demos, thin_demos
from tests.whole.pagechecks import MM, lines
from tests.whole.plumbed import plumbed

STANDARD = (Path(__file__).parents[2] / "themes/README.md").read_text("utf-8")
ROWS = ("prose", "heading of a part", "heading of a step", "head and foot", "from line to line")
DESK: list[Demo] = [
    each for each in [*demos(), *thin_demos()] if str(each).startswith("keepers-desk-metric")
]


def said(theme: str) -> dict[str, float]:
    """What the standard says of a theme, in points."""
    column = ("quay", "rod").index(theme)
    found = re.findall(r"^\| ([a-z ]+) \| ([\d.]+) \| ([\d.]+) \|$", STANDARD, re.MULTILINE)
    return {name: float(figures[column]) for name, *figures in found}


def measured(booklet: Built) -> dict[str, float]:
    """The commonest size of each kind of letters, and the commonest leading of prose."""
    pages = plumbed(booklet.pdf)
    marks = tags.marks_of(pages)
    with pikepdf.open(booklet.pdf) as pdf:
        told = tags.elements(pdf)

    def usual(kind: str) -> float:
        sizes = (m["size"] for e in told if e.kind == kind for p in e.marks for m in marks[p]
                 if m.get("text", " ").strip())  # fmt: skip
        return commonest(sizes)

    foot = (c["size"] for p in pages for c in p.chars if c["tag"] == "Artifact")
    down = [
        lower.bottom - upper.bottom
        for each in told
        if each.kind == "P"
        for upper, lower in pairwise(
            lines([m for p in each.marks for m in marks[p] if "text" in m])
        )
    ]
    found = (usual("P"), usual("H1"), usual("H2"), commonest(foot), commonest(d / MM for d in down))
    return dict(zip(ROWS, found, strict=True))


def commonest(sizes: Iterator[float]) -> float:
    """The size that most letters have, in points."""
    return Counter(round(each, 2) for each in sizes).most_common(1)[0][0]


@pytest.mark.parametrize("looked", DESK, indirect=True, ids=str)
def test_letters_have_the_sizes_of_the_standard(looked: Built) -> None:
    wanted, found = said(looked.theme.name), measured(looked)
    leading = (wanted.pop(ROWS[-1]), wanted.pop("where tight"))
    assert found.pop(ROWS[-1]) in [pytest.approx(each, abs=0.05) for each in leading]
    assert len(wanted) == 4
    assert found == pytest.approx(wanted, abs=0.05)
