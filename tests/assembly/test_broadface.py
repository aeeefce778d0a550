"""Which face of a part a mark is on: a template shows one, and a buyer traces what it shows."""

from __future__ import annotations

from pathlib import Path

import pytest

from patternpress.assembly.model import work_out
from patternpress.assembly.shape import MarkPoint, Shape
from patternpress.design.read import read_design
from patternpress.drawing.cutlines import cut_lines, far_lines
from tests.whole.small import BODY, STEP, TOP, model

DESIGNS = Path(__file__).parents[2] / "designs"
CROSS = "{on: [SIDE], point: 8 mm from front and 9 mm from bottom}"


def crossed(side: str) -> Shape:
    """The side of the small design, the right one its mirror image, with a cross on a face."""
    marks = f"marks:\n  cross: {CROSS.replace('SIDE', side)}\n"
    made = model(TOP + BODY.replace("marks:\n", marks) + STEP + "    mark: cross\n")
    return made.worked.shapes["side"]


@pytest.mark.parametrize(
    ("side", "far"),
    [
        ("right of left side", False),
        ("left of left side", True),
        ("left of right side", False),  # its sides are those of its place
        ("right of right side", True),
        ("right of left side, left of right side", False),
        ("side", False),
    ],
)
def test_a_mark_is_on_the_face_that_it_is_said_to_be_on(side: str, far: bool) -> None:
    shape = crossed(side)
    cross = next(each for each in shape.marks if each.name == "cross")
    assert isinstance(cross, MarkPoint)
    assert cross.far is far
    near, behind = cut_lines(shape, "A").strokes, far_lines(shape, "A")
    # A cutter's files: the shelf line is on the near face, and each cross is two strokes.
    assert len(near) == (1 if far else 3)
    assert len(behind.strokes if behind else ()) == (2 if far else 0)


def test_a_cross_for_the_hanger_is_on_the_back() -> None:
    shapes = work_out(read_design(DESIGNS / "signal-shelf.yaml"), "metric").worked.shapes
    found = {mark.name: mark.far for shape in shapes.values() for mark in shape.marks}
    assert [name for name, far in found.items() if far] == ["hanger cross"]
