"""Pieces on the slopes of an outline, and leaning things that miss what they are laid against."""

from __future__ import annotations

import pytest

from patternpress.assembly.gluing import meets
from tests.whole.small import TOP, errors, model, read

GABLE = (
    TOP
    + """\
sizes: {pitch: 30 deg}
stock: {board: {sheet: 2 mm, sold: 100 x 600 mm}}
parts:
  gable:
    stock: board
    wide: 40 mm
    high: 20 mm + 20 mm * tan(pitch)
    outline:
      - start: 40 mm, 0 mm
      - line: 40 mm, 20 mm
      - line: 20 mm, 20 mm + 20 mm * tan(pitch)
      - line: 0 mm, 20 mm
      - line: 0 mm, 0 mm
  side:
    stock: board
    deep: 30 mm
    high: 20 mm + 2 mm * tan(pitch)
    ends: {top: "pitch, longest at right"}
  roof: {stock: board, wide: 25 mm, deep: 32 mm, leans: right raised by pitch}
materials: {glue: {kind: glue, handle: 30 min, hard: 24 h}}
steps:
  - step: Do it
    start: gable
    join:
      side: {back: against gable, left: flush with gable, bottom: flush with gable}
      roof: {bottom: against ON, right: 20 mm inside gable, back: flush with gable}
    glue: glue
"""
)


@pytest.mark.parametrize("on", ["side", "side and gable", "gable"])
def test_a_roof_lies_on_the_slope_of_a_gable(on: str) -> None:
    """The gable's height is rounded, so its slope is 30 degrees but for a hair."""
    text = GABLE.replace("ON", on)
    assert [each.kind.__name__ for each in errors(read(text))] == []
    made = model(text)
    (step,) = made.worked.usage.steps
    assert set(meets(made.worked, made.assembly, 1, step.join[1])) == {"gable", "side"}


LADDER = (
    TOP
    + """\
stock:
  board: {sheet: 2 mm, sold: 100 x 600 mm}
  strip: {strip: 4 x 4 mm, sold: 600 mm}
parts:
  wall: {stock: board, wide: 40 mm, high: HIGH mm}
  floor: {stock: board, wide: 40 mm, deep: 40 mm}
  string:
    stock: strip
    high: 50 mm
    leans: foot 12 deg to the front
    ends: {bottom: level}
    pieces: [one, two]
sub-assemblies: {ladder: {}}
steps:
  - step: Make the ladder
    builds: ladder
    start: one
    join:
      two: {left: against one, bottom: flush with one, front: flush with one}
  - step: Lean it
    start: floor
    join:
      wall: {bottom: against floor, left: flush with floor, back: flush with floor}
      ladder: {back: loose against wall, bottom: loose against floor, left: 4 mm inside wall}
"""
)


@pytest.mark.parametrize(("high", "said"), [("60", []), ("40", ["JointGapes"])])
def test_a_leaning_thing_touches_what_it_is_laid_against(high: str, said: list[str]) -> None:
    """It is placed by its outermost point, which may lie above the wall's edge."""
    found = [each.kind.__name__ for each in errors(read(LADDER.replace("HIGH", high)))]
    assert found == said
